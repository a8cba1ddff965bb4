package cli

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/survey/table"
)

const smallest = "testdata/cli/jobs/smallest"

func run(env Env, args ...string) (code int, stdout, stderr string) {
	var o, e bytes.Buffer
	code = Run(args, strings.NewReader(""), &o, &e, env)
	return code, o.String(), e.String()
}

func TestFaultIsOneLineAndItsOwnCode(t *testing.T) {
	var out, errs bytes.Buffer
	a := &app{stdout: &out, stderr: &errs}
	top := newRoot(a)
	top.AddCommand(&cobra.Command{Use: "break", RunE: func(*cobra.Command, []string) error { panic("two\nlines\x1b[31m") }})
	assert.Equal(t, exitFault, a.run(top, []string{"break"}))
	assert.Empty(t, out.String())
	got := errs.String()
	assert.Equal(t, 1, strings.Count(got, "\n"), got)
	assert.True(t, strings.HasPrefix(got, "a fault of the program, not of your job: two lines\ufffd[31m (cli.TestFaultIsOneLineAndItsOwnCode.func1, line "), got)
	assert.NotContains(t, got, "goroutine")
}

func TestErrorThatIsNobodysMistakeIsAFault(t *testing.T) {
	var errs bytes.Buffer
	a := &app{stderr: &errs}
	assert.Equal(t, exitFault, a.complain(errors.New("odd")))
	assert.Contains(t, errs.String(), "a fault of the program")
}

// Every problem is on its own line, with nothing in it that steers a terminal.
func TestProblemsAreCleanedSortedAndCounted(t *testing.T) {
	at := func(file string, line, column int) table.Pos {
		return table.Pos{File: file, Line: line, Column: column}
	}
	list := table.Problems{
		{Pos: at("b.csv", 2, 1), What: "four"}, {Pos: at("a.csv", 9, 1), What: "three"},
		{Pos: at("job.yaml", 3, 7), What: "two"}, {Pos: at("job.yaml", 3, 2), What: "one \x1b[2J\nhere", Mend: "mend it"},
	}
	sortProblems(list, "job.yaml")
	var b bytes.Buffer
	printProblems(&b, list)
	assert.Equal(t, "job.yaml:3:2: one \ufffd[2J here; mend it\njob.yaml:3:7: two\na.csv:9:1: three\nb.csv:2:1: four\n4 things to mend; nothing was written.\n", b.String())
	b.Reset()
	printProblems(&b, list[:1])
	assert.Contains(t, b.String(), "\n1 thing to mend; nothing was written.\n")
}

// Bold stands only where a terminal shows it and nobody said no.
func TestColour(t *testing.T) {
	t.Chdir(root)
	env := func(pairs ...string) func(string) string {
		return func(name string) string {
			for i := 0; i < len(pairs); i += 2 {
				if pairs[i] == name {
					return pairs[i+1]
				}
			}
			return ""
		}
	}
	_, plain, _ := run(Env{}, "check", smallest)
	for _, c := range []struct {
		env  Env
		args []string
		bold bool
	}{
		{Env{Terminal: true}, nil, true},
		{Env{Terminal: true, Getenv: env()}, nil, true},
		{Env{Terminal: true, Getenv: env("NO_COLOR", "1")}, nil, false},
		{Env{Terminal: true, Getenv: env("TERM", "dumb")}, nil, false},
		{Env{Terminal: true}, []string{"--json"}, false},
		{Env{}, nil, false},
	} {
		_, out, _ := run(c.env, append([]string{"check", smallest}, c.args...)...)
		assert.Equal(t, c.bold, strings.Contains(out, "\x1b"), "%v %v", c.env.Terminal, c.args)
		if c.bold {
			assert.Equal(t, plain, strings.NewReplacer("\x1b[1m", "", "\x1b[0m", "").Replace(out))
		}
	}
}

func TestJSONIsJSON(t *testing.T) {
	t.Chdir(root)
	code, out, errs := run(Env{}, "check", smallest, "--json")
	assert.Equal(t, exitNo, code)
	assert.Empty(t, errs)
	var d map[string]any
	require.NoError(t, json.Unmarshal([]byte(out), &d))
	assert.Equal(t, 1.0, d["schema"])
}

// The same input gives the same output.
func TestSameAgain(t *testing.T) {
	t.Chdir(root)
	_, first, _ := run(Env{}, "check", "testdata/cli/jobs/header", "--explain")
	_, again, _ := run(Env{}, "check", "testdata/cli/jobs/header", "--explain")
	assert.Equal(t, first, again)
}

// fullDisk takes nothing.
type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errors.New("full") }

func TestOutputThatCannotBeWritten(t *testing.T) {
	t.Chdir(root)
	var errs bytes.Buffer
	code := Run([]string{"check", smallest}, strings.NewReader(""), fullDisk{}, &errs, Env{})
	assert.Equal(t, exitMend, code)
	assert.Contains(t, errs.String(), "the report could not be written")
}

// What is shipped is what is run: no command but ours.
func TestCommands(t *testing.T) {
	var names []string
	top := newRoot(&app{})
	top.InitDefaultHelpCmd()
	for _, c := range top.Commands() {
		names = append(names, c.Name())
	}
	assert.ElementsMatch(t, append(notThere(), "survey", "check", "hose", "largest", "whatif", "help"), names)
	for _, word := range []string{"__complete", "__completeNoDesc", "completion"} {
		code, out, errs := run(Env{}, word, "check", "")
		assert.Equal(t, exitMend, code, word)
		assert.Empty(t, out)
		assert.Contains(t, errs, "is not a command")
	}
}

func copyJob(t *testing.T) (dir string) {
	t.Helper()
	dir = t.TempDir()
	for _, file := range []string{"job.yaml", "points.csv"} {
		data, err := os.ReadFile(filepath.Join(root, smallest, file))
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(dir, file), data, 0o644))
	}
	return dir
}
