package cli

import (
	"context"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"elbowroom/clearance"
	"elbowroom/clearance/report"
	"elbowroom/cmd/internal/job"
	"elbowroom/survey/table"
)

const hoseUsage = "elbowroom hose JOB [NAME] [--json] [-o FILE] [--inches 32|64|decimal] [--without FILE:LINE]"

// hoseOptions is what hose can be asked.
type hoseOptions struct{ asked }

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
	o.asked.flags(cmd, hoseUsage)
	return cmd
}

func (a *app) runHose(path string, wanted []string, o hoseOptions) error {
	j, style, err := o.open(path, hoseUsage)
	if err != nil {
		return err
	}
	if err := knownHose(j, wanted); err != nil {
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
	if report.HosesSound(rep, wanted) {
		a.code = exitYes
	}
	return a.deliver(j, o.asked, "", func(w io.Writer) error {
		if o.json {
			return report.HoseJSON(w, rep, wanted)
		}
		return report.HoseText(w, rep, wanted, report.Options{Style: style, Up: j.Up})
	})
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
