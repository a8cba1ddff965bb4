package job

import (
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// slipsOfTheHand are what people do to a line of a job.
var slipsOfTheHand = map[string]func(string) string{
	"no colon":           func(l string) string { return strings.Replace(l, ": ", " ", 1) },
	"no blank":           func(l string) string { return strings.Replace(l, ": ", ":", 1) },
	"a tab":              func(l string) string { return "\t" + l },
	"one blank too many": func(l string) string { return " " + l },
	"one blank too few":  func(l string) string { return strings.TrimPrefix(l, " ") },
	"a quote too many":   func(l string) string { return strings.Replace(l, ": ", `: "`, 1) },
	"closed too early":   func(l string) string { return regexp.MustCompile(`: (\d+) (\d)`).ReplaceAllString(l, `: "$1" $2`) },
	"bracket lost":       func(l string) string { return regexp.MustCompile(`[\]}]([^\]}]*)$`).ReplaceAllString(l, `$1`) },
	"bracket too many":   func(l string) string { return regexp.MustCompile(`([\]}])([^\]}]*)$`).ReplaceAllString(l, `$1$1$2`) },
	"bracket wrong":      func(l string) string { return strings.Replace(l, "]", "}", 1) },
	"no blank, bracket":  func(l string) string { return regexp.MustCompile(`: +([\[{])`).ReplaceAllString(l, `:$1`) },
	"closed in brackets": func(l string) string { return strings.Replace(l, "1/8", `"1"/8`, 1) },
	"a colon too many":   func(l string) string { return regexp.MustCompile(`: (\w+) (\w+)`).ReplaceAllString(l, `: $1: $2`) },
	"an odd sign":        func(l string) string { return strings.Replace(l, ": ", ": @", 1) },
}

// Whatever slip is made in whatever line of a job, a problem points to that line
// or to a neighbour of it.
func TestSlipsAreFoundWhereTheyAre(t *testing.T) {
	data, err := os.ReadFile("testdata/full/job.yaml")
	require.NoError(t, err)
	lines := strings.Split(strings.TrimSpace(string(data)), "\n")
	open := inFolder("testdata/full")
	made := 0
	for name, slip := range slipsOfTheHand {
		for i, l := range lines {
			changed := slip(l)
			if changed == l {
				continue
			}
			with := append(append(append([]string(nil), lines[:i]...), changed), lines[i+1:]...)
			_, problems := decode("job.yaml", []byte(strings.Join(with, "\n")), open)
			if len(problems) == 0 {
				continue // still a job, if another one: a deeper block, say
			}
			made++
			near := false
			assert.NotContains(t, problems.Error(), "as it stands", "no slip is left without its name: %s", changed)
			for _, p := range problems {
				near = near || p.Pos.File == "job.yaml" && p.Pos.Line >= i && p.Pos.Line <= i+2
			}
			assert.True(t, near, "%s in line %d: %s\n%v", name, i+1, changed, problems)
		}
	}
	assert.Greater(t, made, 200)
}

func inFolder(folder string) opener {
	return func(name string) (io.ReadCloser, error) { return os.Open(filepath.Join(folder, name)) }
}
