package cli

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"elbowroom/clearance/report"
	"elbowroom/cmd/internal/job"
	"elbowroom/survey/table"
)

// surveyOptions is what survey can be asked.
type surveyOptions struct{ asked }

func newSurveyCmd(a *app) *cobra.Command {
	var o surveyOptions
	cmd := &cobra.Command{
		Use: "survey",
		RunE: func(_ *cobra.Command, args []string) error {
			path, err := oneJob(args, "survey", surveyUsage)
			if err != nil {
				return err
			}
			return a.runSurvey(path, o)
		},
	}
	o.asked.flags(cmd, surveyUsage)
	return cmd
}

func (a *app) runSurvey(path string, o surveyOptions) error {
	j, style, err := o.open(path, surveyUsage)
	if err != nil {
		return err
	}
	space, _, err := build(j, style)
	if err != nil {
		return err
	}
	said := report.Survey{Title: j.Title, Unit: j.Unit, Space: space, Without: j.Readings.Without, Within: usualTape(j)}
	for _, u := range j.Readings.Unread {
		said.Unread = append(said.Unread, u.File)
	}
	a.code = exitNo
	if said.Sound() {
		a.code = exitYes
	}
	return a.deliver(j, o.asked, said.Headline(), func(w io.Writer) error {
		if o.json {
			return report.SurveyJSON(w, said)
		}
		return report.SurveyText(w, said, report.Options{Style: style, Bold: a.bold() && !o.output.given})
	})
}

// usualTape is the half limit that most of the job's tapes have, mm; 0 with no tape.
func usualTape(j *job.Job) float64 {
	times := map[float64]int{}
	usual := 0.0
	for _, t := range j.Readings.Tapes {
		half := t.Limit.Half()
		if times[half]++; times[half] > times[usual] || usual == 0 {
			usual = half
		}
	}
	return usual
}

// without is the flag that leaves readings out; it may stand several times.
type without struct{ rows []string }

// Set takes one FILE:LINE.
func (f *without) Set(text string) error {
	if _, _, ok := fileAndLine(text); !ok {
		return errors.New("no file and line")
	}
	f.rows = append(f.rows, text)
	return nil
}

func (f *without) String() string { return strings.Join(f.rows, " ") }

// Type is the word for the value.
func (f *without) Type() string { return "a reading's FILE:LINE, as in tape.csv:7" }

// fileAndLine takes a place apart.
func fileAndLine(text string) (file string, line int, ok bool) {
	i := strings.LastIndex(text, ":")
	if i < 1 {
		return "", 0, false
	}
	line, err := strconv.Atoi(text[i+1:])
	return text[:i], line, err == nil && line > 0
}

// apply leaves the readings out of the job. What is no reading of it is the
// caller's mistake.
func (f *without) apply(j *job.Job, usage string) error {
	readings := readingsAt(j)
	for _, text := range f.rows {
		file, line, _ := fileAndLine(text)
		name, err := readingsFile(j, file)
		if err != nil {
			return &mistake{"--without " + text + ": " + err.Error(), usage}
		}
		at := table.Pos{File: name, Line: line}
		if !slices.Contains(readings, at) {
			return &mistake{fmt.Sprintf("--without %s: line %d of %s is no reading that counts; name the line of a row with figures", text, line, filepath.Base(name)), usage}
		}
		j.Readings.Without = append(j.Readings.Without, at)
	}
	return nil
}

// readingsAt lists the file and line of each reading.
func readingsAt(j *job.Job) []table.Pos {
	var out []table.Pos
	add := func(p table.Pos) { out = append(out, table.Pos{File: p.File, Line: p.Line}) }
	for _, p := range j.Readings.Points {
		if p.At[0].Given || p.At[1].Given || p.At[2].Given {
			add(p.Pos)
		}
	}
	for _, t := range j.Readings.Tapes {
		add(t.Pos)
	}
	for _, d := range j.Readings.Depths {
		add(d.Pos)
	}
	return out
}

// readingsFile finds the file of the job that is meant by a name: its whole
// path, as in complaints, or what stands of it in the job, or its last part.
func readingsFile(j *job.Job, name string) (string, error) {
	var files, short []string
	for _, f := range inputs(j)[1:] {
		if !slices.Contains(files, f) {
			files, short = append(files, f), append(short, filepath.Base(f))
		}
	}
	clean := filepath.Clean(name)
	for _, same := range []func(f string) bool{
		func(f string) bool { return f == clean },
		func(f string) bool { return f == filepath.Join(j.Folder, clean) },
		func(f string) bool { return filepath.Base(f) == clean },
	} {
		var found []string
		for _, f := range files {
			if same(f) {
				found = append(found, f)
			}
		}
		switch len(found) {
		case 1:
			return found[0], nil
		case 0:
			continue
		}
		return "", fmt.Errorf("the job has %d files of that name; write its folder too", len(found))
	}
	says := "the job has no readings file " + table.Quote(name)
	if near, ok := table.Nearest(filepath.Base(name), short); ok {
		says += "; did you mean " + near + "?"
	}
	return "", errors.New(says)
}
