package report

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// golden compares with a file; a failing test leaves what it got beside it.
func golden(t *testing.T, file, got string) {
	t.Helper()
	path := filepath.Join("testdata", file)
	if *update {
		require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
		return
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	if !assert.Equal(t, string(want), got) {
		require.NoError(t, os.WriteFile(path+".got", []byte(got), 0o644))
	}
}

func text(t *testing.T, s situation) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, Text(&b, s.report, s.o))
	return b.String()
}

func TestText(t *testing.T) {
	for _, s := range situations() {
		t.Run(s.name, func(t *testing.T) { golden(t, s.name+".txt", text(t, s)) })
	}
}

// The first screen ends at the first empty line.
func TestFirstScreenIsShortAndNothingSteersTheTerminal(t *testing.T) {
	for _, s := range situations() {
		t.Run(s.name, func(t *testing.T) {
			got := text(t, s)
			first, _, _ := strings.Cut(got, "\n\n")
			lines := strings.Split(first, "\n")
			assert.LessOrEqual(t, len(lines), screenLines)
			assert.True(t, strings.HasPrefix(got, s.report.Verdict.String()+" - "), lines[0])
			for _, line := range strings.Split(got, "\n") {
				assert.LessOrEqual(t, width(line), usualWidth, line)
				assert.Equal(t, strings.TrimRight(line, " "), line)
			}
			for _, r := range got {
				assert.True(t, r == '\n' || unicode.IsPrint(r), "%U", r)
			}
		})
	}
}

func TestNarrowAndWidePages(t *testing.T) {
	for _, s := range situations() {
		for _, columns := range []int{1, 60, 72, 200} {
			s.o.Width = columns
			for _, line := range strings.Split(text(t, s), "\n") {
				assert.LessOrEqual(t, width(line), max(columns, leastWidth), "%s: %s", s.name, line)
			}
		}
	}
}

func TestBoldIsTheVerdictAlone(t *testing.T) {
	s := situation{report: plain(), o: Options{}}
	without := text(t, s)
	s.o.Bold = true
	assert.Equal(t, strings.Replace(without, "clears", "\x1b[1mclears\x1b[0m", 1), text(t, s))
}
