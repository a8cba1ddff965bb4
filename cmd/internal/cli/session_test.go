package cli

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "rewrite the sessions")

// root is the top of the source tree, where the sessions are run.
const root = "../../.."

// A session is what stands on a terminal: a line "$ elbowroom ...", then what
// comes on standard output, then each line of standard error after "! ", then
// "exit N" where N is not 0. What stands above the first command is a comment.
type session struct {
	comment string
	steps   []step
}

type step struct{ command, want string }

func parseSession(text string) (s session) {
	for i, chunk := range strings.Split("\n"+text, "\n$ ") {
		if i == 0 {
			s.comment = strings.TrimPrefix(chunk, "\n")
			continue
		}
		command, want, _ := strings.Cut(chunk, "\n")
		s.steps = append(s.steps, step{command, strings.TrimRight(want, "\n")})
	}
	return s
}

// play runs a command line and gives what stands on the terminal after it.
func play(t *testing.T, command string) string {
	t.Helper()
	words := split(command)
	require.Equal(t, "elbowroom", words[0], command)
	var stdout, stderr bytes.Buffer
	code := Run(words[1:], strings.NewReader(""), &stdout, &stderr, Env{})
	text := stdout.String()
	if slices.Contains(words, "--json") || slices.Contains(words, "--csv") {
		text = manyDigits.ReplaceAllStringFunc(text, threeDecimals)
	}
	if text != "" {
		assert.True(t, strings.HasSuffix(text, "\n") && !strings.HasSuffix(text, "\n\n"), "ends in one newline")
	}
	for _, line := range strings.Split(strings.TrimSuffix(stderr.String(), "\n"), "\n") {
		if line != "" {
			text += "! " + line + "\n"
		}
	}
	if code != 0 {
		text += fmt.Sprintf("exit %d\n", code)
	}
	return strings.TrimRight(text, "\n")
}

// manyDigits are figures of which the last digits may differ from one kind of
// processor to another, as one that multiplies and adds in one step rounds
// once instead of twice, and as the search for the nearest points stops within
// a millionth. In a session they stand to a thousandth.
var manyDigits = regexp.MustCompile(`-?\d+(\.\d{4,}(e[-+]?\d+)?|e[-+]?\d+)`)

func threeDecimals(figure string) string {
	x, err := strconv.ParseFloat(figure, 64)
	if err != nil {
		return figure
	}
	return strconv.FormatFloat(math.Round(x*1e3)/1e3+0, 'f', -1, 64) // +0 makes -0 a 0
}

// split cuts a command line at blanks; what is in double quotes stays together.
func split(command string) (words []string) {
	for i, piece := range strings.Split(command, `"`) {
		if i%2 == 1 {
			words = append(words, piece)
		} else {
			words = append(words, strings.Fields(piece)...)
		}
	}
	return words
}

func TestSessions(t *testing.T) {
	t.Chdir(root)
	files, err := filepath.Glob("testdata/cli/*.session")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			data, err := os.ReadFile(file)
			require.NoError(t, err)
			s := parseSession(string(data))
			require.NotEmpty(t, s.steps)
			got := s.comment
			for _, step := range s.steps {
				text := play(t, step.command)
				got += "\n$ " + step.command + "\n" + text + "\n"
				if !*update {
					assert.Equal(t, step.want, text, step.command)
				}
			}
			if *update {
				require.NoError(t, os.WriteFile(file, []byte(strings.TrimPrefix(got, "\n")), 0o644))
			} else if t.Failed() {
				require.NoError(t, os.WriteFile(file+".got", []byte(got), 0o644))
			}
		})
	}
}

// What the README shows is what the program says. A line "..." stands for any
// lines that are left out.
func TestReadme(t *testing.T) {
	t.Chdir(root)
	data, err := os.ReadFile("README.md")
	if os.IsNotExist(err) {
		t.Skip("there is no README.md yet")
	}
	require.NoError(t, err)
	for _, block := range blocks(string(data)) {
		for _, step := range parseSession(block).steps {
			if strings.HasPrefix(step.command, "elbowroom") {
				got := play(t, step.command)
				assert.True(t, shows(step.want, got), "%s\nin the README:\n%s\nthe program says:\n%s", step.command, step.want, got)
			}
		}
	}
}

// blocks are the texts between fences, and those that are indented by four.
func blocks(markdown string) (out []string) {
	for i, piece := range strings.Split("\n"+markdown, "\n```") {
		if i%2 == 1 {
			_, text, _ := strings.Cut(piece, "\n")
			out = append(out, text)
			continue
		}
		var indented []string
		for _, line := range strings.Split(piece+"\nend", "\n") {
			if strings.HasPrefix(line, "    ") || line == "" && indented != nil {
				indented = append(indented, strings.TrimPrefix(line, "    "))
				continue
			}
			if indented != nil {
				out = append(out, strings.Join(indented, "\n"))
			}
			indented = nil
		}
	}
	return out
}

// shows says whether want is got, with "..." for lines that are left out.
func shows(want, got string) bool {
	pieces := strings.Split("\n"+want+"\n", "\n...\n")
	got = "\n" + got + "\n"
	if len(pieces) == 1 {
		return pieces[0] == got
	}
	last := len(pieces) - 1
	if !strings.HasPrefix(got, pieces[0]) || !strings.HasSuffix(got, pieces[last]) {
		return false
	}
	for _, p := range pieces[:last] {
		i := strings.Index(got, p)
		if i < 0 {
			return false
		}
		got = got[i+len(p):]
	}
	return strings.HasSuffix("\n"+got, pieces[last])
}

func TestShows(t *testing.T) {
	for _, c := range []struct {
		want, got string
		ok        bool
	}{
		{"a\nb", "a\nb", true},
		{"a\nb", "a\nc", false},
		{"a\n...", "a\nb\nc", true},
		{"a\n...\nc", "a\nb\nc", true},
		{"a\n...\nd", "a\nb\nc", false},
		{"b\n...", "a\nb\nc", false},
	} {
		assert.Equal(t, c.ok, shows(c.want, c.got), "%q %q", c.want, c.got)
	}
	assert.Equal(t, []string{"$ elbowroom x\nout", "$ elbowroom y\n\nout", ""}, append(blocks("t\n```sh\n$ elbowroom x\nout\n```\n\ntext\n    $ elbowroom y\n\n    out\nend"), ""))
}
