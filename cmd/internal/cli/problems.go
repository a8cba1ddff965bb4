package cli

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"runtime"
	"sort"
	"strings"
	"syscall"

	"elbowroom/survey/table"
)

// sortProblems puts problems in the order of their places, those of the job
// file first.
func sortProblems(list table.Problems, jobFile string) {
	sort.SliceStable(list, func(i, k int) bool {
		a, b := list[i].Pos, list[k].Pos
		if a.File != b.File {
			return a.File == jobFile || b.File != jobFile && a.File < b.File
		}
		if a.Line != b.Line {
			return a.Line < b.Line
		}
		return a.Column < b.Column
	})
}

// printProblems prints one line a problem, and how many there are.
func printProblems(w io.Writer, list table.Problems) {
	for _, p := range list {
		fmt.Fprintln(w, clean(p.Error()))
	}
	things := "things"
	if len(list) == 1 {
		things = "thing"
	}
	fmt.Fprintf(w, "%d %s to mend; nothing was written.\n", len(list), things)
}

// plainError says in plain words why a file cannot be read or written.
func plainError(err error) string {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "its folder is not there"
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		return "that is not permitted"
	case errors.Is(err, syscall.ENOSPC):
		return "the disk is full"
	case errors.Is(err, syscall.EISDIR):
		return "it is a folder"
	}
	return "the disk or the pipe does not take part"
}

// faultText is the one line that a fault of the program prints. at is where in
// the program it happened, or blank.
func faultText(what, at string) string {
	text := "a fault of the program, not of your job: " + clean(strings.ReplaceAll(what, "\n", " "))
	if at != "" {
		text += " (" + at + ")"
	}
	return text + "; nothing was written. To report it, send this line and the job's folder to whoever gave you the program"
}

// culprit is the innermost of our own functions that was running when the panic
// that is being recovered from started.
func culprit() string {
	callers := make([]uintptr, 64) // deeper than any of our calls nest
	frames := runtime.CallersFrames(callers[:runtime.Callers(0, callers)])
	panicked := false
	for {
		f, more := frames.Next()
		switch {
		case f.Function == "runtime.gopanic":
			panicked = true
		case panicked && strings.HasPrefix(f.Function, "elbowroom/"):
			return fmt.Sprintf("%s, line %d", path.Base(f.Function), f.Line)
		}
		if !more {
			return ""
		}
	}
}
