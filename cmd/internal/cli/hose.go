package cli

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"elbowroom/clearance"
	"elbowroom/clearance/report"
	"elbowroom/cmd/internal/job"
	"elbowroom/survey/length"
	"elbowroom/survey/table"
)

const hoseUsage = "elbowroom hose JOB [NAME] [--json] [-o FILE] [--inches 32|64|decimal] [--without FILE:LINE]"

// hoseOptions is what hose can be asked.
type hoseOptions struct {
	json    bool
	output  output
	inches  inches
	without without
}

func newHoseCmd(a *app) *cobra.Command {
	var o hoseOptions
	cmd := &cobra.Command{
		Use: "hose",
		RunE: func(_ *cobra.Command, args []string) error {
			var wanted []string
			if len(args) > 1 {
				// A name with blanks that was not put in quotes comes in pieces.
				args, wanted = args[:1], []string{strings.Join(args[1:], " ")}
			}
			path, err := oneJob(args, "hose", hoseUsage)
			if err != nil {
				return err
			}
			return a.runHose(path, wanted, o)
		},
	}
	cmd.Args = cobra.ArbitraryArgs // RunE counts them
	cmd.Flags().BoolVar(&o.json, "json", false, "")
	cmd.Flags().VarP(&o.output, "output", "o", "")
	cmd.Flags().Var(&o.inches, "inches", "")
	cmd.Flags().Var(&o.without, "without", "")
	cmd.SetFlagErrorFunc(func(c *cobra.Command, err error) error { return flagMistake(c, hoseUsage, err) })
	return cmd
}

func (a *app) runHose(path string, wanted []string, o hoseOptions) error {
	j, err := load(path)
	if err != nil {
		return err
	}
	if err := knownHose(j, wanted); err != nil {
		return err
	}
	if err := o.without.apply(j, hoseUsage); err != nil {
		return err
	}
	style := o.inches.style(j.Unit)
	space, assembly, err := build(j, style)
	if err != nil {
		return err
	}
	rep, err := clearance.Check(context.Background(), space, assembly, j.Rules)
	if err != nil {
		return err
	}
	a.code = exitNo
	if report.HosesSound(rep, wanted) {
		a.code = exitYes
	}
	return a.deliverHose(j, rep, wanted, style, o)
}

// knownHose says whether the job has the hose that is asked for, or any.
func knownHose(j *job.Job, wanted []string) error {
	var names []string
	for _, h := range j.Rules.Hoses {
		names = append(names, h.Name)
	}
	switch {
	case len(names) == 0:
		return &mistake{says: "the job has no hoses; add them under hoses:"}
	case len(wanted) == 0 || slices.Contains(names, wanted[0]):
		return nil
	}
	says := "the job has no hose " + table.Quote(wanted[0])
	if near, ok := table.Nearest(wanted[0], names); ok {
		return &mistake{says: says + "; did you mean " + near + "?"}
	}
	return &mistake{says: says + "; its hoses are " + strings.Join(names, ", ")}
}

// deliverHose writes the answer to where it is wanted, all at once.
func (a *app) deliverHose(j *job.Job, rep *clearance.Report, wanted []string, style length.Style, o hoseOptions) error {
	var text bytes.Buffer
	var err error
	if o.json {
		err = report.HoseJSON(&text, rep, wanted)
	} else {
		err = report.HoseText(&text, rep, wanted, report.Options{Style: style, Up: j.Up})
	}
	if err != nil {
		return err
	}
	if o.output.given {
		if err := o.output.write(text.Bytes(), inputs(j)); err != nil {
			return err
		}
		fmt.Fprintf(a.stderr, "The answer is in %s.\n", clean(o.output.path))
		return nil
	}
	if _, err := a.stdout.Write(text.Bytes()); err != nil {
		return &mistake{says: "the answer could not be written: " + plainError(err)}
	}
	return nil
}
