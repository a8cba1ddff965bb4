package cli

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The slip that is planted in the misread demo is the only difference, and what
// is suggested for it is what was meant.
func TestPlantedSlipIsFoundAndPutRight(t *testing.T) {
	t.Chdir(root)
	right, err := os.ReadFile("testdata/header-tank/tape.csv")
	require.NoError(t, err)
	wrong, err := os.ReadFile("testdata/misread/tape.csv")
	require.NoError(t, err)
	a, b := strings.Split(string(right), "\n"), strings.Split(string(wrong), "\n")
	require.Len(t, b, len(a))
	line := 0
	for i := range a {
		if a[i] != b[i] {
			require.Zero(t, line, "one line differs")
			line = i + 1
		}
	}
	code, out, errs := run(Env{}, "survey", "testdata/misread", "--json")
	require.Equal(t, exitNo, code, errs)
	var d struct {
		Doubts []struct {
			File, Suggests, Says string
			Line                 int
		}
	}
	require.NoError(t, json.Unmarshal([]byte(out), &d))
	require.Len(t, d.Doubts, 2)
	assert.Contains(t, d.Doubts[1].Says, "little or nothing checks where", "last what is only remarked on")
	assert.Equal(t, filepath.Join("testdata", "misread", "tape.csv"), d.Doubts[0].File)
	assert.Equal(t, line, d.Doubts[0].Line)
	assert.Equal(t, strings.Split(a[line-1], ",")[2], d.Doubts[0].Suggests)
	code, _, _ = run(Env{}, "survey", "testdata/misread", "--without", "tape.csv:5")
	assert.Equal(t, exitYes, code)
	code, _, _ = run(Env{}, "survey", "testdata/header-tank")
	assert.Equal(t, exitYes, code)
}

// A reading that is left out is named by the file as the job has it, by its
// path, or by its last part.
func TestWithoutNames(t *testing.T) {
	t.Chdir(root)
	for _, name := range []string{"tape.csv", "./tape.csv", "testdata/misread/tape.csv", "./testdata/misread/tape.csv"} {
		code, out, errs := run(Env{}, "survey", "testdata/misread", "--without", name+":5")
		assert.Equal(t, exitYes, code, "%s: %s", name, errs)
		assert.Contains(t, out, "Left out, as you asked: tape.csv line 5.")
	}
	code, out, _ := run(Env{}, "survey", "testdata/misread", "--without", "tape.csv:5", "--without", "../header-tank/depth.csv:3")
	assert.Equal(t, exitYes, code)
	assert.Contains(t, out, "Left out, as you asked: tape.csv line 5 and depth.csv line 3.")
	for name, want := range map[string]string{
		"points.csv:0": "cannot be", ":5": "cannot be", "tape.csv:": "cannot be", "tape.csv:x": "cannot be",
		"tape.csv:2": "no reading", "tape.csv:900": "no reading", "points.csv:28": "no reading", // a blank row
		"job.yaml:5": "no readings file",
	} {
		code, out, errs := run(Env{}, "survey", "testdata/misread", "--without", name)
		assert.Equal(t, exitMend, code, name)
		assert.Empty(t, out)
		assert.Contains(t, errs, want, name)
		assert.Contains(t, errs, "Usage: elbowroom survey")
	}
}

// Two files of one name are told apart by their folders.
func TestWithoutAsksWhichFile(t *testing.T) {
	dir := copyJob(t)
	data, err := os.ReadFile(filepath.Join(dir, "points.csv"))
	require.NoError(t, err)
	require.NoError(t, os.Mkdir(filepath.Join(dir, "more"), 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "more", "points.csv"), data, 0o644))
	text, err := os.ReadFile(filepath.Join(dir, "job.yaml"))
	require.NoError(t, err)
	text = []byte(strings.Replace(string(text), "readings: [points.csv]", "readings: [points.csv, more/points.csv]", 1))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "job.yaml"), text, 0o644))
	code, _, errs := run(Env{}, "survey", dir, "--without", "more/points.csv:3")
	assert.NotEqual(t, exitMend, code, errs)
	code, out, errs := run(Env{}, "survey", dir, "--without", "points.csv:3")
	assert.NotEqual(t, exitMend, code, errs)
	assert.Contains(t, out, "Left out, as you asked: points.csv line 3.", "the one in the job's own folder")
}

// check leaves out what survey does.
func TestCheckWithout(t *testing.T) {
	t.Chdir(root)
	_, out, _ := run(Env{}, "check", "testdata/misread")
	assert.Contains(t, out, "tape.csv line 5")
	_, out, _ = run(Env{}, "check", "testdata/misread", "--without", "tape.csv:5")
	assert.NotContains(t, out, "tape.csv line 5")
}

// Nothing that the job is made of is written over.
func TestSurveyLeavesTheJobAlone(t *testing.T) {
	t.Chdir(root)
	dir := t.TempDir()
	for _, file := range []string{"tape.csv", "depth.csv", "points.csv", "job.yaml"} {
		data, err := os.ReadFile(filepath.Join("testdata/header-tank", file))
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(dir, file), data, 0o644))
	}
	for _, file := range []string{"tape.csv", "depth.csv", "points.csv", "job.yaml"} {
		path := filepath.Join(dir, file)
		before, err := os.ReadFile(path)
		require.NoError(t, err)
		code, _, errs := run(Env{}, "survey", dir, "-o", path)
		assert.Equal(t, exitMend, code)
		assert.Contains(t, errs, "is part of the job")
		after, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.Equal(t, before, after)
	}
	file := filepath.Join(t.TempDir(), "said.txt")
	code, out, errs := run(Env{}, "survey", "testdata/header-tank", "-o", file)
	assert.Equal(t, exitYes, code)
	assert.Empty(t, out)
	assert.Equal(t, "agrees - no reading is in doubt\nThe report is in "+file+".\n", errs)
	_, want, _ := run(Env{}, "survey", "testdata/header-tank")
	got, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, want, string(got))
}
