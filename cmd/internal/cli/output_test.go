package cli

import (
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// listed are the names in a folder.
func listed(t *testing.T, dir string) (names []string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

func TestOutputIsWhatWouldBeOnTheScreen(t *testing.T) {
	dir := copyJob(t)
	file := filepath.Join(dir, "report.txt")
	for _, flags := range [][]string{nil, {"--json"}, {"--explain"}} {
		args := append([]string{"check", dir}, flags...)
		_, want, _ := run(Env{}, args...)
		code, out, errs := run(Env{Terminal: true}, append(args, "-o", file)...)
		assert.Equal(t, exitNo, code)
		assert.Empty(t, out)
		assert.Equal(t, "unproven - do not cut yet\nThe report is in "+file+".\n", errs)
		got, err := os.ReadFile(file)
		require.NoError(t, err)
		assert.Equal(t, want, string(got))
	}
	assert.Equal(t, []string{"job.yaml", "points.csv", "report.txt"}, listed(t, dir), "nothing is left lying about")
}

func TestOutputKeepsTheModeAndTheLink(t *testing.T) {
	dir := copyJob(t)
	file, link := filepath.Join(dir, "a.txt"), filepath.Join(dir, "link.txt")
	require.NoError(t, os.WriteFile(file, []byte("old"), 0o600))
	require.NoError(t, os.Chmod(file, 0o640))
	require.NoError(t, os.Symlink("a.txt", link))
	code, _, errs := run(Env{}, "check", dir, "-o", link)
	require.Equal(t, exitNo, code, errs)
	info, err := os.Lstat(file)
	require.NoError(t, err)
	assert.Equal(t, fs.FileMode(0o640), info.Mode())
	assert.Greater(t, info.Size(), int64(100))
	info, err = os.Lstat(link)
	require.NoError(t, err)
	assert.NotZero(t, info.Mode()&fs.ModeSymlink, "the link stays a link")
}

func TestOutputLeavesAlone(t *testing.T) {
	dir := copyJob(t)
	points := filepath.Join(dir, "points.csv")
	before, err := os.ReadFile(points)
	require.NoError(t, err)
	alias, loose := filepath.Join(dir, "alias"), filepath.Join(dir, "loose")
	require.NoError(t, os.Link(points, alias))
	require.NoError(t, os.Symlink("nowhere", loose))
	for file, says := range map[string]string{
		points:                         "is part of the job",
		alias:                          "is part of the job",
		filepath.Join(dir, "job.yaml"): "is part of the job",
		dir:                            "is a folder",
		loose:                          "is a link to a file that is not there",
		os.DevNull:                     "is no ordinary file",
		filepath.Join(dir, "no", "x"):  "its folder is not there",
		"":                             "-o cannot be",
		"-":                            "-o cannot be",
	} {
		code, out, errs := run(Env{}, "check", dir, "-o", file)
		assert.Equal(t, exitMend, code, file)
		assert.Empty(t, out)
		assert.Contains(t, errs, says)
	}
	after, err := os.ReadFile(points)
	require.NoError(t, err)
	assert.Equal(t, before, after)
	assert.Equal(t, []string{"alias", "job.yaml", "loose", "points.csv"}, listed(t, dir))
}

// A job with something to mend leaves the old report as it was.
func TestOutputStaysOnBadInput(t *testing.T) {
	dir := copyJob(t)
	file := filepath.Join(dir, "report.txt")
	require.NoError(t, os.WriteFile(file, []byte("old"), 0o644))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "points.csv"), []byte("feature,mark,x,y,z\nwall,W1,what,0,0\n"), 0o644))
	code, _, errs := run(Env{}, "check", dir, "-o", file)
	assert.Equal(t, exitMend, code)
	assert.Contains(t, errs, "nothing was written")
	got, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, "old", string(got))
}

// A rename that cannot be done leaves no part behind.
func TestReplaceCleansUp(t *testing.T) {
	dir := t.TempDir()
	busy := filepath.Join(dir, "busy")
	require.NoError(t, os.MkdirAll(filepath.Join(busy, "in"), 0o755))
	assert.Error(t, replace(busy, []byte("x"), 0))
	assert.Equal(t, []string{"busy"}, listed(t, dir))
}
