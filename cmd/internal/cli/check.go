package cli

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"elbowroom/clearance"
	"elbowroom/clearance/report"
	"elbowroom/cmd/internal/job"
	"elbowroom/solid"
	"elbowroom/survey"
	"elbowroom/survey/length"
	"elbowroom/survey/table"
)

// checkOptions is what check can be asked.
type checkOptions struct {
	asked
	explain bool
}

func newCheckCmd(a *app) *cobra.Command {
	var o checkOptions
	cmd := &cobra.Command{
		Use: "check",
		RunE: func(_ *cobra.Command, args []string) error {
			path, err := oneJob(args, "check", checkUsage)
			if err != nil {
				return err
			}
			return a.runCheck(path, o)
		},
	}
	o.asked.flags(cmd, checkUsage)
	cmd.Flags().BoolVar(&o.explain, "explain", false, "")
	return cmd
}

func (a *app) runCheck(path string, o checkOptions) error {
	j, style, err := o.open(path, checkUsage)
	if err != nil {
		return err
	}
	space, assembly, err := build(j, style)
	if err != nil {
		return err
	}
	rep, err := clearance.Check(context.Background(), space, assembly, j.Rules)
	if err != nil {
		return err
	}
	a.code = exitNo
	if rep.Verdict == clearance.Clears {
		a.code = exitYes
	}
	return a.deliver(j, o.asked, report.Headline(rep.Verdict), func(w io.Writer) error {
		if o.json {
			return report.JSON(w, rep)
		}
		return report.Text(w, rep, report.Options{Style: style, Explain: o.explain, Up: j.Up, Bold: a.bold() && !o.output.given})
	})
}

// bold says whether a word may stand out.
func (a *app) bold() bool {
	get := a.env.Getenv
	return a.env.Terminal && (get == nil || get("NO_COLOR") == "" && get("TERM") != "dumb")
}

// load reads the job; a job file that is not there is the caller's mistake.
func load(path string) (*job.Job, error) {
	j, err := job.Load(path)
	var problems table.Problems
	switch {
	case err == nil:
		return j, nil
	case errors.As(err, &problems):
		return nil, err
	case errors.Is(err, fs.ErrNotExist) && isFolder(path):
		return nil, &mistake{says: "there is no " + job.Name + " in " + table.Quote(path) + "; write one, or name the folder that holds it"}
	case errors.Is(err, fs.ErrNotExist):
		return nil, &mistake{says: "there is no job at " + table.Quote(path) + "; name a " + job.Name + " or its folder"}
	}
	return nil, &mistake{says: "the job at " + table.Quote(path) + " cannot be read: " + plainError(err)}
}

func isFolder(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}

// build makes the space and the assembly. The error is table.Problems: those of
// both.
func build(j *job.Job, style length.Style) (*survey.Space, *solid.Assembly, error) {
	j.Readings.Style = style
	var all table.Problems
	space, err := survey.Adjust(j.Readings)
	if err != nil && !errors.As(err, &all) {
		return nil, nil, err
	}
	assembly, err := solid.Build(j.Tank)
	var wrong solid.Problems
	switch {
	case errors.As(err, &wrong):
		all = append(all, placed(wrong, j, style)...)
	case err != nil:
		return nil, nil, err
	}
	if len(all) > 0 {
		sortProblems(all, j.File)
		return nil, nil, all
	}
	return space, assembly, nil
}

// placed gives what is wrong with the box its place in the job file.
func placed(wrong solid.Problems, j *job.Job, style length.Style) table.Problems {
	print := func(mm float64) string { return style.Print(length.Needed(mm)) }
	var out table.Problems
	for _, p := range wrong {
		out.Add(&table.Problem{Pos: j.Place(p.Key), Field: p.Key, What: p.Text(print), Mend: p.Mend})
	}
	return out
}

// inputs lists the files that the job is made of.
func inputs(j *job.Job) []string {
	files := []string{j.File}
	for _, p := range j.Readings.Points {
		files = append(files, p.Pos.File)
	}
	for _, t := range j.Readings.Tapes {
		files = append(files, t.Pos.File)
	}
	for _, d := range j.Readings.Depths {
		files = append(files, d.Pos.File)
	}
	for _, u := range j.Readings.Unread {
		files = append(files, u.File)
	}
	for i := range files {
		files[i] = filepath.Clean(files[i])
	}
	return files
}
