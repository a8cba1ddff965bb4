package cli

import (
	"bytes"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"elbowroom/cmd/internal/job"
	"elbowroom/survey/length"
)

// asked is what every command that answers for a job can be asked.
type asked struct {
	json    bool
	output  output
	inches  inches
	without without
}

// flags gives the command its flags, and the words for what is wrong with one.
func (o *asked) flags(cmd *cobra.Command, usage string) {
	cmd.Args = cobra.ArbitraryArgs // RunE counts them
	cmd.Flags().BoolVar(&o.json, "json", false, "")
	cmd.Flags().VarP(&o.output, "output", "o", "")
	cmd.Flags().Var(&o.inches, "inches", "")
	cmd.Flags().Var(&o.without, "without", "")
	cmd.SetFlagErrorFunc(func(c *cobra.Command, err error) error { return flagMistake(c, usage, err) })
}

// open reads the job without the readings that are to be left out.
func (o *asked) open(path, usage string) (*job.Job, length.Style, error) {
	j, err := load(path)
	if err != nil {
		return nil, length.Style{}, err
	}
	if err := o.without.apply(j, usage); err != nil {
		return nil, length.Style{}, err
	}
	return j, o.inches.style(j.Unit), nil
}

// deliver writes an answer to where it is wanted, all at once. headline is what the
// caller is told beside where it is, blank for nothing.
func (a *app) deliver(j *job.Job, o asked, headline string, write func(io.Writer) error) error {
	var text bytes.Buffer
	if err := write(&text); err != nil {
		return err
	}
	if !o.output.given {
		if _, err := a.stdout.Write(text.Bytes()); err != nil {
			return &mistake{says: "the report could not be written: " + plainError(err)}
		}
		return nil
	}
	if err := o.output.write(text.Bytes(), inputs(j)); err != nil {
		return err
	}
	if headline != "" {
		headline += "\n"
	}
	fmt.Fprintf(a.stderr, "%sThe report is in %s.\n", headline, clean(o.output.path))
	return nil
}
