package cli

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A remark is told, and leaves the answer at yes; a suspect reading does not.
func TestRemarksAloneAreNoDoubt(t *testing.T) {
	t.Chdir(root)
	dir := t.TempDir()
	for _, file := range []string{"tape.csv", "depth.csv", "points.csv", "job.yaml"} {
		data, err := os.ReadFile(filepath.Join("testdata/header-tank", file))
		require.NoError(t, err)
		if file == "tape.csv" { // a column that nobody asked for
			data = []byte(strings.Replace(string(data), "from,to,", "from,photo,to,", 1))
			lines := strings.Split(string(data), "\n")
			for i, line := range lines {
				if line != "" && line[0] != '#' && !strings.HasPrefix(line, "from,") {
					lines[i] = strings.Replace(line, ",", ",,", 1)
				}
			}
			data = []byte(strings.Join(lines, "\n"))
		}
		require.NoError(t, os.WriteFile(filepath.Join(dir, file), data, 0o644))
	}
	code, out, errs := run(Env{}, "survey", dir)
	assert.Equal(t, exitYes, code, errs)
	first, rest, _ := strings.Cut(out, "\n\n")
	assert.True(t, strings.HasPrefix(first, "agrees - no reading is in doubt\n"), first)
	assert.Contains(t, first, `the column "photo" is not used`)
	assert.Contains(t, rest, "Worth knowing, though no reading is in doubt for it\n")
	assert.NotContains(t, out, "In doubt, worst first")
	_, out, _ = run(Env{}, "survey", dir, "--json")
	assert.Contains(t, out, `is not used`)
	code, out, _ = run(Env{}, "survey", "testdata/misread")
	assert.Equal(t, exitNo, code)
	assert.Contains(t, out, "In doubt, worst first")
}
