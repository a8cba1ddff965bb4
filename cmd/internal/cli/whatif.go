package cli

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"elbowroom/clearance"
	"elbowroom/clearance/report"
	"elbowroom/cmd/internal/job"
	"elbowroom/solid"
	"elbowroom/survey"
	"elbowroom/survey/length"
	"elbowroom/survey/table"
)

// whatifOptions is what whatif can be asked.
type whatifOptions struct {
	asked
	width, height, depth, at texts
	csv                      bool
}

// texts is a flag that may be given more than once.
type texts struct {
	list []string
	kind string // the word for the value
}

// Set keeps the text; what is wrong with it is said once the job's unit is known.
func (f *texts) Set(text string) error {
	f.list = append(f.list, text)
	return nil
}

func (f *texts) String() string { return strings.Join(f.list, " ") }

// Type is the word for the value.
func (f *texts) Type() string { return f.kind }

func newWhatifCmd(a *app) *cobra.Command {
	const sizes = "a length, or several as in 7..10:1/4"
	o := whatifOptions{
		width: texts{kind: sizes}, height: texts{kind: sizes}, depth: texts{kind: sizes},
		at: texts{kind: `right and up, as in "2..3:1/4, 1 1/4"`},
	}
	cmd := &cobra.Command{
		Use: "whatif",
		RunE: func(_ *cobra.Command, args []string) error {
			path, err := oneJob(args, "whatif", whatifUsage)
			if err != nil {
				return err
			}
			return a.runWhatif(path, o)
		},
	}
	o.asked.flags(cmd, whatifUsage)
	cmd.Flags().Var(&o.width, "width", "")
	cmd.Flags().Var(&o.height, "height", "")
	cmd.Flags().Var(&o.depth, "depth", "")
	cmd.Flags().Var(&o.at, "at", "")
	cmd.Flags().BoolVar(&o.csv, "csv", false, "")
	return cmd
}

func (a *app) runWhatif(path string, o whatifOptions) error {
	if err := o.call(); err != nil {
		return err
	}
	j, style, err := o.open(path, whatifUsage)
	if err != nil {
		return err
	}
	list, err := o.candidates(j)
	if err != nil {
		return err
	}
	j.Readings.Style = style
	space, err := survey.Adjust(j.Readings)
	if err != nil {
		return err
	}
	sizes := a.try(space, j, list)
	if err := unmakeable(sizes, j, style); err != nil {
		return err
	}
	a.code = exitNo
	if sizes.Count(clearance.Clears) > 0 && len(sizes.All) == sizes.Asked {
		a.code = exitYes
	}
	return a.deliverSizes(j, sizes, style, o)
}

// call says what is wrong with how the command was called.
func (o *whatifOptions) call() error {
	switch {
	case len(o.width.list)+len(o.height.list)+len(o.depth.list)+len(o.at.list) == 0:
		return &mistake{"whatif needs something to try, as in --width 7..10:1/4 (from 7 to 10 in steps of 1/4); --height, --depth and --at take the same", whatifUsage}
	case o.csv && o.json:
		return &mistake{"--csv and --json do not go together; leave one out", whatifUsage}
	case o.output.given && !strings.EqualFold(filepath.Ext(o.output.path), ".svg"):
		return &mistake{"-o takes the picture, and " + table.Quote(o.output.path) + " does not end in .svg; the table goes to the screen, or after > into a file", whatifUsage}
	}
	return nil
}

// try checks all candidates, with a bar that tells how far it is; stopped from the
// keyboard, it keeps what is done.
func (a *app) try(space *survey.Space, j *job.Job, list []clearance.Candidate) *clearance.Sizes {
	ctx := a.env.Context
	if ctx == nil {
		ctx = context.Background()
	}
	ctx, stop := signal.NotifyContext(ctx, os.Interrupt)
	defer stop()
	context.AfterFunc(ctx, stop) // a second one ends the program at once
	b := newBar(a.stderr, a.env.Progress, len(list))
	defer b.end()
	return clearance.CheckSizes(ctx, space, j.Tank, j.Rules, list, b.done)
}

// unmakeable is what is wrong where no box of any of the sizes can be made.
func unmakeable(sizes *clearance.Sizes, j *job.Job, style length.Style) error {
	var why solid.Problems
	for _, s := range sizes.All {
		if s.NoBox == nil {
			return nil
		}
		why = append(why, *s.NoBox)
	}
	if len(why) == 0 {
		return nil
	}
	return placed(why[:1], j, style)
}

// deliverSizes writes the table to the screen, and the picture where it is wanted.
func (a *app) deliverSizes(j *job.Job, sizes *clearance.Sizes, style length.Style, o whatifOptions) error {
	var text bytes.Buffer
	var err error
	switch {
	case o.csv:
		err = report.SizesCSV(&text, sizes)
	case o.json:
		err = report.SizesJSON(&text, sizes)
	default:
		err = report.SizesText(&text, sizes, report.Options{Style: style})
	}
	if err != nil {
		return err
	}
	if o.output.given {
		var picture bytes.Buffer
		if err := report.SizesSVG(&picture, sizes, style); err != nil {
			return err
		}
		if err := o.output.write(picture.Bytes(), inputs(j)); err != nil {
			return err
		}
	}
	if _, err := a.stdout.Write(text.Bytes()); err != nil {
		return &mistake{says: "the table could not be written: " + plainError(err)}
	}
	if o.output.given {
		fmt.Fprintf(a.stderr, "The picture is in %s.\n", clean(o.output.path))
	}
	if n := len(sizes.All); n < sizes.Asked {
		fmt.Fprintf(a.stderr, "Stopped: %d of %d sizes are checked; the rest is left out.\n", n, sizes.Asked)
	}
	return nil
}
