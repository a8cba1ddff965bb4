package cli

import (
	"errors"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"elbowroom/survey/length"
	"elbowroom/survey/table"
)

// inches is the flag that says how inches print. The zero value is the usual
// way, to 1/32.
type inches struct{ text string }

// Set takes 32, 64 or decimal.
func (f *inches) Set(text string) error {
	switch text {
	case "32", "64", "decimal":
		f.text = text
		return nil
	}
	return errors.New("write 32, 64 or decimal")
}

func (f *inches) String() string { return f.text }

// Type is the word for the value.
func (f *inches) Type() string { return "32, 64 or decimal" }

// style is how lengths of a job in that unit print.
func (f inches) style(unit length.Unit) length.Style {
	s := length.Style{Unit: unit}
	switch f.text {
	case "64":
		s.Parts = 64
	case "decimal":
		s.Decimal = true
	}
	return s
}

// flagMistake words what is wrong with a flag.
func flagMistake(cmd *cobra.Command, usage string, err error) error {
	var unknown *pflag.NotExistError
	var missing *pflag.ValueRequiredError
	var wrong *pflag.InvalidValueError
	var shape *pflag.InvalidSyntaxError
	says := "the flags cannot be read"
	switch {
	case errors.As(err, &unknown):
		says = unknownFlag(cmd, unknown)
	case errors.As(err, &missing):
		says = dashed(missing.GetFlag()) + " needs a value: " + kindOf(missing.GetFlag())
	case errors.As(err, &wrong) && wrong.GetFlag().Value.Type() == "bool":
		says = dashed(wrong.GetFlag()) + " takes no value; leave out =" + wrong.GetValue()
	case errors.As(err, &wrong):
		says = dashed(wrong.GetFlag()) + " cannot be " + table.Quote(wrong.GetValue()) + "; write " + kindOf(wrong.GetFlag())
	case errors.As(err, &shape):
		says = table.Quote(shape.GetSpecifiedFlag()) + " is not a flag"
	}
	return &mistake{says, usage}
}

// kindOf is the word for a flag's value.
func kindOf(f *pflag.Flag) string {
	switch kind := f.Value.Type(); kind {
	case "int":
		return "a whole number"
	case "float64":
		return "a number"
	case "string", "stringArray":
		return "what it is to be, as the usage below shows"
	default:
		return kind
	}
}

// unknownFlag words a flag that the command does not have.
func unknownFlag(cmd *cobra.Command, err *pflag.NotExistError) string {
	if letters := err.GetSpecifiedShortnames(); letters != "" {
		return "-" + letters + " is not a flag of " + cmd.Name()
	}
	name := err.GetSpecifiedName()
	says := "--" + name + " is not a flag of " + cmd.Name()
	var known []string
	cmd.Flags().VisitAll(func(f *pflag.Flag) { known = append(known, f.Name) })
	if near, ok := table.Nearest(name, known); ok {
		says += "; did you mean " + dashed(cmd.Flags().Lookup(near)) + "?"
	}
	return says
}

// dashed is a flag as it is typed: by its letter, if it has one.
func dashed(f *pflag.Flag) string {
	if f.Shorthand != "" {
		return "-" + f.Shorthand
	}
	return "--" + f.Name
}

// oneJob is the only argument of a command that takes a job.
func oneJob(args []string, command, usage string) (string, error) {
	switch len(args) {
	case 0:
		return "", &mistake{command + " needs a job: name a job.yaml or its folder, as in elbowroom " + command + " mytank", usage}
	case 1:
		if args[0] != "" {
			return args[0], nil
		}
		return "", &mistake{"the job's name is empty", usage}
	}
	quoted := make([]string, len(args))
	for i, a := range args {
		quoted[i] = table.Quote(a)
	}
	return "", &mistake{command + " takes one job, but here are " + strings.Join(quoted, " and ") + "; put a name with blanks in quotes", usage}
}
