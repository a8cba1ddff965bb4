package cli

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/solid"
)

// changed is a copy of the demo job with one text of its job.yaml changed.
func changed(t *testing.T, from, to string) string {
	t.Helper()
	dir := t.TempDir()
	for _, name := range []string{"job.yaml", "points.csv", "tape.csv", "depth.csv"} {
		data, err := os.ReadFile(filepath.Join("testdata", "header-tank", name))
		require.NoError(t, err)
		if name == "job.yaml" {
			require.Equal(t, 1, strings.Count(string(data), from), "%q stands once in the job", from)
			data = []byte(strings.Replace(string(data), from, to, 1))
		}
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), data, 0o644))
	}
	return dir
}

// The README says that one number changed makes the demo clear.
func TestOneNumberMakesTheDemoClear(t *testing.T) {
	t.Chdir(root)
	code, out, _ := run(Env{}, "check", "testdata/header-tank")
	assert.Equal(t, exitNo, code)
	assert.Contains(t, out, "unproven - do not cut yet")
	code, out, _ = run(Env{}, "check", changed(t, "height: 5\n", "height: 4 7/8\n"))
	assert.Equal(t, exitYes, code, out)
	assert.True(t, strings.HasPrefix(out, "clears - "), out)
}

// The best move that the demo is told must make it clear.
func TestBestMoveOfTheDemo(t *testing.T) {
	t.Chdir(root)
	_, out, _ := run(Env{}, "check", "testdata/header-tank")
	require.Contains(t, out, "Best move: 1/8 in down; with it every measured place clears.")
	code, _, _ := run(Env{}, "check", changed(t, "at: [2, 1 1/4]", "at: [2, 1 1/8]"))
	assert.Equal(t, exitYes, code)
}

// The demo has each kind of check once: a room of each kind among them.
func TestDemoHasRoomOfEachKind(t *testing.T) {
	t.Chdir(root)
	j, err := load("testdata/header-tank")
	require.NoError(t, err)
	seen := map[solid.KeepOpenKind]int{}
	for _, f := range j.Tank.Fittings {
		for _, k := range f.KeepOpen {
			seen[k.Kind]++
		}
	}
	assert.Equal(t, map[solid.KeepOpenKind]int{solid.PlainRoom: 1, solid.BoxRoom: 1, solid.CapRoom: 1, solid.Driver: 1, solid.Spanner: 1}, seen)
	assert.NotEmpty(t, j.Rules.Motions)
	assert.NotEmpty(t, j.Rules.Hoses)
	assert.True(t, j.Rules.Levels.Asked && j.Rules.WayIn.Asked)
}

// The way that is found, written into the job with the box turned a little where it
// starts, is judged as the job's own.
func TestOwnWayIntoTheDemo(t *testing.T) {
	t.Chdir(root)
	const own = "way_in: {path: [[14 1/2, 0, 1/32, 0, 0, 3deg], [10, 0, 1/32], [0, 0, 0]], aside: [hatch]}"
	_, out, _ := run(Env{}, "check", "--explain", changed(t, "way_in: {path: find, aside: [hatch]}", own))
	_, out, found := strings.Cut(out, "The way in - clears")
	require.True(t, found)
	assert.Contains(t, out, "1. Hold it 14 1/2 in to the right, counted from its place, turned with its\n    right side up by 3 degrees.")
	assert.Contains(t, out, "Least clearance on the way: ")
}
