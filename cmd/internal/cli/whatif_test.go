package cli

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/clearance"
	"elbowroom/survey"
)

func TestWhatifPicture(t *testing.T) {
	dir := copyJob(t)
	file := filepath.Join(dir, "plot.svg")
	args := []string{"whatif", dir, "--width", "7..9:1/2", "--height", "4,5"}
	_, table, _ := run(Env{}, args...)
	_, out, errs := run(Env{}, append(args, "-o", file)...)
	assert.Equal(t, table, out, "the table goes to the screen all the same")
	assert.Equal(t, "The picture is in "+file+".\n", errs)
	first, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.True(t, strings.HasPrefix(string(first), "<svg "))
	run(Env{}, append(args, "-o", file)...)
	second, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, string(first), string(second), "the same bytes")
	code, out, errs := run(Env{}, append(args, "-o", filepath.Join(dir, "none", "plot.svg"))...)
	assert.Equal(t, exitMend, code)
	assert.Empty(t, out)
	assert.Contains(t, errs, "its folder is not there")
	assert.Equal(t, []string{"job.yaml", "plot.svg", "points.csv"}, listed(t, dir))
}

// The exit code says whether one of the sizes clears.
func TestWhatifExit(t *testing.T) {
	t.Chdir(root)
	code, _, _ := run(Env{}, "whatif", "testdata/header-tank", "--height", "4 7/8, 6")
	assert.Equal(t, exitYes, code)
	code, _, _ = run(Env{}, "whatif", "testdata/header-tank", "--height", "5,6")
	assert.Equal(t, exitNo, code)
}

// A run that was stopped keeps what it has, says so, and answers no.
func TestWhatifStopped(t *testing.T) {
	t.Chdir(root)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	code, out, errs := run(Env{Context: ctx}, "whatif", "testdata/header-tank", "--height", "4..5:1/4")
	assert.Equal(t, exitNo, code)
	assert.Contains(t, out, "Stopped after 0 of 5 sizes")
	assert.Equal(t, "Stopped: 0 of 5 sizes are checked; the rest is left out.\n", errs)
}

func TestBar(t *testing.T) {
	var screen bytes.Buffer
	early := newBar(&screen, true, 100)
	early.done(50)
	early.end()
	assert.Empty(t, screen.String(), "nothing in the first second")

	b := newBar(&screen, true, 100)
	b.began = time.Now().Add(-10 * time.Second)
	b.done(50)
	assert.Equal(t, "[###############...............] 50 of 100 sizes, 10 s left", screen.String())
	b.done(60)
	assert.NotContains(t, screen.String(), "60 of", "not more than ten times a second")
	b.end()
	assert.True(t, strings.HasSuffix(screen.String(), "\r"+strings.Repeat(" ", 59)+"\r"), "it is wiped off")

	screen.Reset()
	pipe := newBar(&screen, false, 100)
	pipe.began = b.began
	pipe.done(50)
	assert.Empty(t, screen.String(), "no bar in a pipe")

	long := newBar(&screen, false, 200_000)
	long.began = time.Now().Add(-2 * time.Second)
	long.done(1000)
	assert.Equal(t, "200000 sizes: about 7 min; Ctrl-C stops and keeps what is done.\n", screen.String())
	assert.Equal(t, "5 h", spoken(5*time.Hour))
}

// Ten thousand sizes of the demo, in process. They are to take two seconds on two cores.
func BenchmarkWhatif(b *testing.B) {
	b.Chdir(root)
	j, err := load("testdata/header-tank")
	require.NoError(b, err)
	space, err := survey.Adjust(j.Readings)
	require.NoError(b, err)
	o := whatifOptions{
		width:  texts{list: []string{"7..10:1/8"}},
		height: texts{list: []string{"4..5 7/8:1/8"}},
		depth:  texts{list: []string{"3..5:1/12"}},
	}
	list, err := o.candidates(j)
	require.NoError(b, err)
	require.Len(b, list, 10_000)
	for b.Loop() {
		out := clearance.CheckSizes(context.Background(), space, j.Tank, j.Rules, list, nil)
		require.Len(b, out.All, len(list))
	}
}
