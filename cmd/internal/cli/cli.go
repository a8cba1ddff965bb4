// Package cli is the command line: one file a command. It reads a job, hands it
// on, and hands the answer to the writers; it holds no geometry and words no
// answer. Results go to standard output, whole or not at all; complaints go to
// standard error.
package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"

	"elbowroom/clearance/report"
	"elbowroom/survey/table"
)

// The exit codes.
const (
	exitYes   = 0 // the answer is yes
	exitNo    = 1 // the answer is no, or not sure
	exitMend  = 2 // something to mend: the input, or how the command was called
	exitFault = 3 // a fault of the program
)

// Env is what of the surroundings counts. The zero Env is a pipe with no
// environment.
type Env struct {
	Terminal bool // standard output is a terminal
	Progress bool // standard error is one
	Getenv   func(name string) string
	// Context ends long work early, with what is done by then; so does an
	// interrupt from the keyboard [context.Background].
	Context context.Context
}

// Main runs the program as the shell called it and gives its exit code.
func Main() int {
	// A command that is over in hundredths of a second need not tidy its memory
	// five times on the way: the heap of a hand survey is a few MB.
	debug.SetGCPercent(800)
	env := Env{Terminal: isTerminal(os.Stdout), Progress: isTerminal(os.Stderr), Getenv: os.Getenv}
	return Run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr, env)
}

// isTerminal says whether a file is a device that takes characters, as a
// terminal is and a pipe or a file is not.
func isTerminal(f *os.File) bool {
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}

// Run runs one command and gives the exit code. It uses nothing but what it is
// handed, and the files that the command names.
func Run(args []string, stdin io.Reader, stdout, stderr io.Writer, env Env) int {
	a := &app{stdin: stdin, stdout: stdout, stderr: stderr, env: env}
	return a.run(newRoot(a), args)
}

// app is what the commands share.
type app struct {
	stdin          io.Reader
	stdout, stderr io.Writer
	env            Env
	code           int // of a command that did its work
}

func (a *app) run(root *cobra.Command, args []string) (code int) {
	defer func() {
		if what := recover(); what != nil {
			fmt.Fprintln(a.stderr, faultText(fmt.Sprint(what), culprit()))
			code = exitFault
		}
	}()
	if len(args) > 0 && strings.HasPrefix(args[0], cobra.ShellCompRequestCmd) {
		return a.complain(a.noCommand(args)) // the library would answer it
	}
	root.SetArgs(append([]string{}, args...)) // never nil: that would mean the shell's own
	root.SetIn(a.stdin)
	root.SetOut(a.stdout)
	root.SetErr(a.stderr)
	err := root.Execute()
	if err == nil {
		return a.code
	}
	return a.complain(err)
}

// complain prints an error and gives its exit code.
func (a *app) complain(err error) int {
	var slip *mistake
	var problems table.Problems
	switch {
	case errors.As(err, &slip):
		fmt.Fprintln(a.stderr, clean(slip.Error()))
		if slip.usage != "" {
			fmt.Fprintln(a.stderr, "Usage: "+slip.usage)
		}
		return exitMend
	case errors.As(err, &problems):
		printProblems(a.stderr, problems)
		return exitMend
	}
	fmt.Fprintln(a.stderr, faultText(err.Error(), ""))
	return exitFault
}

// mistake is a command called wrongly, or a file that cannot be used: what is
// wrong and how to mend it. usage is shown only where the call was wrong.
type mistake struct{ says, usage string }

func (m *mistake) Error() string { return m.says }

// newRoot makes the command that all others hang on.
func newRoot(a *app) *cobra.Command {
	root := &cobra.Command{
		Use:                "elbowroom",
		SilenceErrors:      true,
		SilenceUsage:       true,
		Args:               cobra.ArbitraryArgs, // noCommand answers them
		DisableFlagParsing: true,                // a mistyped command is named before its flags
		RunE:               func(_ *cobra.Command, args []string) error { return a.noCommand(args) },
	}
	root.CompletionOptions.DisableDefaultCmd = true
	root.SetHelpCommand(newHelpCmd(a))
	root.SetHelpFunc(func(*cobra.Command, []string) { fmt.Fprint(a.stdout, helpText()) })
	root.AddCommand(newCheckCmd(a), newSurveyCmd(a), newHoseCmd(a), newLargestCmd(a), newWhatifCmd(a))
	for _, name := range notThere() {
		root.AddCommand(newLaterCmd(name))
	}
	return root
}

// noCommand answers a call that names no command.
func (a *app) noCommand(args []string) error {
	if len(args) == 0 {
		return &mistake{"a command is missing; to check a job, type elbowroom check JOB", rootUsage()}
	}
	if args[0] == "--help" || args[0] == "-h" {
		fmt.Fprint(a.stdout, helpText())
		return nil
	}
	word := args[0]
	if strings.HasPrefix(word, "-") {
		return &mistake{"a command comes first, then " + table.Quote(word), rootUsage()}
	}
	says := table.Quote(word) + " is not a command"
	if near, ok := table.Nearest(word, append(notThere(), "survey", "check", "hose", "largest", "whatif", "help")); ok {
		return &mistake{says + "; did you mean " + near + "?", ""}
	}
	return &mistake{says, rootUsage()}
}

// clean takes out of a line what could steer a terminal.
func clean(line string) string { return report.Clean(line) }
