package job

import (
	"errors"
	"io"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/solid"
	"elbowroom/survey"
	"elbowroom/survey/length"
)

const in = 25.4

// The smallest job takes every default.
func TestSmallestJob(t *testing.T) {
	j, err := Load("testdata/small")
	require.NoError(t, err)
	byFile, err := Load("testdata/small/job.yaml")
	require.NoError(t, err)
	assert.Equal(t, j, byFile)

	assert.Equal(t, "small", j.Title)
	assert.Equal(t, "+y", j.Up)
	assert.Equal(t, length.Inch, j.Unit)
	assert.Equal(t, solid.Tank{
		Size:   solid.Size{Width: 8.5 * in, Height: 5 * in, Depth: 3.75 * in},
		Place:  solid.Place{At: r2.Point{X: 2 * in, Y: 1.25 * in}, Within: in / 16},
		Within: in / 16,
	}, j.Tank)
	rules := j.Rules
	assert.Equal(t, 0.975, rules.Sure)
	assert.Equal(t, 2*in, rules.SeenWithin)
	assert.Equal(t, 2*in, rules.HiddenAtMost)
	assert.Equal(t, "moving", rules.Asks["engine"].Name)
	assert.NotContains(t, rules.Asks, "wall")
	assert.Empty(t, rules.Unchecked)

	require.Len(t, j.Readings.Features, 4)
	lip := j.Readings.Features[1]
	assert.Equal(t, "lip", lip.Name)
	assert.Equal(t, survey.Edge, lip.Shape)
	assert.Equal(t, r3.Vector{Y: 1}, lip.Behind)
	require.Len(t, j.Readings.Points, 12)
	l2 := j.Readings.Points[4]
	assert.Equal(t, 8.5*in, l2.At[1].Value)
	assert.Equal(t, length.Limit{Minus: in / 8}, l2.Limit)
	assert.Equal(t, length.Limit{Plus: in / 16, Minus: in / 16}, j.Readings.Points[0].Limit)
	assert.Equal(t, "E1", j.Readings.Points[8].Base)
}

// Every key is taken, and what is not checked yet is named.
func TestEveryKey(t *testing.T) {
	j, err := Load("testdata/full")
	require.NoError(t, err)
	assert.Equal(t, "Header tank on the forward bulkhead", j.Title)
	tank := j.Tank
	assert.Equal(t, in/8, tank.Place.Within)
	assert.Equal(t, 0.375*in, tank.Place.StandOff)
	assert.InDelta(t, 0.080*in, tank.Sheet, 1e-12)
	assert.Equal(t, solid.Coolant, tank.Holds)
	assert.Equal(t, solid.Bracket{Name: "left tab", Min: r3.Vector{X: -0.75 * in, Y: in}, Max: r3.Vector{Y: 2 * in, Z: in / 8}}, tank.Brackets[0])

	fill, outlet := tank.Fittings[0], tank.Fittings[1]
	assert.Equal(t, solid.Spot{{From: solid.Left, By: 3 * in}, {From: solid.Back, By: 1.875 * in}}, fill.At)
	assert.Equal(t, solid.Back, fill.Tilt.Toward)
	assert.InDelta(t, 5, fill.Tilt.By.Degrees(), 1e-12)
	assert.True(t, fill.Stack[1].After)
	assert.Equal(t, []string{"hatch"}, fill.KeepOpen[0].Aside)
	// From the back first, then from the bottom; kept as y before z.
	assert.Equal(t, solid.Spot{{From: solid.Bottom, By: in}, {From: solid.Back, By: 1.5 * in}}, outlet.At)
	assert.Equal(t, in/16, outlet.Within)
	assert.Equal(t, solid.Driver, outlet.KeepOpen[0].Kind)
	assert.False(t, outlet.KeepOpen[0].ClockFixed)
	assert.Equal(t, 6*in, outlet.KeepOpen[1].Handle)

	rules := j.Rules
	assert.Equal(t, []solid.Side{solid.Front, solid.Right}, rules.LookedAt)
	assert.Equal(t, map[string]float64{"fixed": in / 2, "moving": 0.75 * in}, rules.Gaps)
	assert.Equal(t, 0.375*in, rules.Asks["tray"].Gap)
	// 1 psi = 6.894757 kPa: NIST Special Publication 811, appendix B.8.
	assert.InDelta(t, 16*6.894757, rules.Triggers.CapPressure, 1e-4)
	require.Len(t, rules.Motions, 3)
	assert.InDelta(t, -3*math.Pi/180, rules.Motions[0].From, 1e-15)
	assert.Equal(t, [2]string{"crank-front", "crank-rear"}, rules.Motions[0].About)
	assert.Equal(t, r3.Vector{X: 1}, rules.Motions[2].Along)
	assert.Equal(t, 4*in, rules.Motions[2].To)
	require.Len(t, rules.Hoses, 1)
	hose := rules.Hoses[0]
	assert.Equal(t, r3.Vector{Y: -1}, hose.Arrives)
	assert.Equal(t, 0.05, hose.Slack)
	assert.Equal(t, "hose run", hose.Along)
	assert.False(t, hose.ToCentre)

	var unchecked []string
	for _, u := range rules.Unchecked {
		unchecked = append(unchecked, strings.TrimSpace(u.Part+" "+u.What))
	}
	assert.ElementsMatch(t, []string{
		"testdata/full/bay.ply",
	}, unchecked)

	later := j.Later
	assert.Equal(t, survey.TapeFacts{Class: "II", Zero: in / 32}, j.Readings.TapeFacts)
	require.Len(t, j.Readings.Tapes, 2)
	assert.Equal(t, 13.25*in, j.Readings.Tapes[0].Length.Value)
	assert.Equal(t, [][2]float64{{12 * in, 24 * in}, {12 * in, 9.5 * in}}, later.Stock)
	assert.Equal(t, "half-hard", later.Bend.Rule)
	assert.Equal(t, 0.85, rules.Levels.Fill)
	assert.True(t, rules.Levels.Asked)
	assert.Equal(t, r3.Vector{X: 300}, later.Scans[0].Match["B2"], "a scan's marks are in the scan's unit")
	assert.Equal(t, Span{-in, 14 * in, true}, later.Room[0])
	assert.Equal(t, "E1", j.Readings.Frame.OutToward)
}

// A points file may have been taken with a ball tip, in its own unit.
func TestTipOfAPointsFile(t *testing.T) {
	j, err := small(t, "[points.csv]", "{file: points.csv, units: in, tip: 1/8}")
	require.NoError(t, err)
	for _, p := range j.Readings.Points {
		assert.Equal(t, in/8, p.Tip)
	}
	assert.Empty(t, j.Later.Scans)
	j, err = small(t, "units", "units")
	require.NoError(t, err)
	assert.Zero(t, j.Readings.Points[0].Tip)
}

func TestPlace(t *testing.T) {
	j, err := Load("testdata/full")
	require.NoError(t, err)
	for path, want := range map[string]string{
		"box.width":                   "job.yaml:30:10",
		"box":                         "job.yaml:29:1",
		"fittings[0].stack[1].length": "job.yaml:58:92",
		"fittings[1].tilt":            "job.yaml:60:3",
		"features.fuel line.gap":      "job.yaml:22:62",
		"nowhere.at.all":              "job.yaml",
	} {
		assert.Equal(t, filepath.Join("testdata/full", want), j.Place(path).String(), path)
	}
}

// memory opens files from a map.
func memory(files map[string]string) opener {
	return func(name string) (io.ReadCloser, error) {
		text, ok := files[name]
		if !ok {
			return nil, fs.ErrNotExist
		}
		return io.NopCloser(strings.NewReader(text)), nil
	}
}

// small is the smallest job, with a change.
func small(t *testing.T, was, is string) (*Job, error) {
	job, err := os.ReadFile("testdata/small/job.yaml")
	require.NoError(t, err)
	points, err := os.ReadFile("testdata/small/points.csv")
	require.NoError(t, err)
	require.Contains(t, string(job), was)
	text := strings.Replace(string(job), was, is, 1)
	j, problems := decode("job.yaml", []byte(text), memory(map[string]string{"points.csv": string(points)}))
	return j, problems.Err()
}

func TestLengthsKeepTheirText(t *testing.T) {
	for text, want := range map[string]float64{
		`7 1/4"`: 7.25, `"7 1/4"`: 7.25, `'7 1/4"'`: 7.25, "7¼ # outside": 7.25, "08": 8, "8.50": 8.5, ".5": 0.5, "184.15mm": 7.25, "+7": 7, "1' 3 1/2\"": 15.5,
	} {
		j, err := small(t, "8 1/2", strings.Split(text, " #")[0])
		require.NoError(t, err, text)
		assert.InDelta(t, want*in, j.Tank.Size.Width, 1e-9, text)
	}
}

// The order of keys, flow or block style, a byte-order mark and line ends of
// other systems make no difference.
func TestStyleMakesNoDifference(t *testing.T) {
	want, err := small(t, "units", "units")
	require.NoError(t, err)
	for name, change := range map[string][2]string{
		"block style":     {"box: {width: 8 1/2, height: 5, depth: 3 3/4, at: [2, 1 1/4]}", "box:\n  at:\n    - 2\n    - 1 1/4\n  depth: 3 3/4\n  width: 8 1/2\n  height: 5"},
		"quoted keys":     {"width:", "'width':"},
		"byte-order mark": {"units", "\ufeffunits"},
		"single name":     {"[points.csv]", "points.csv"},
		"start mark":      {"units", "---\nunits"},
		"other unit":      {"width: 8 1/2", "width: 215.9mm"},
	} {
		got, err := small(t, change[0], change[1])
		require.NoError(t, err, name)
		assert.Equal(t, want.Tank, got.Tank, name)
	}
}

// A place on a side, however it is written.
func TestSpots(t *testing.T) {
	three := solid.Offset{From: solid.Left, By: 76.2}
	for _, c := range []struct {
		side, at string
		want     solid.Spot
	}{
		{"top", "middle", solid.Spot{}},
		{"top", "[3, 1 7/8]", solid.Spot{three, {From: solid.Back, By: 1.875 * in}}},
		{"front", "[3, 1]", solid.Spot{three, {From: solid.Bottom, By: in}}},
		{"left", "[3, 1]", solid.Spot{{From: solid.Bottom, By: in}, {From: solid.Back, By: 76.2}}},
		{"bottom", "{front: 1, left: 3}", solid.Spot{three, {From: solid.Front, By: in}}},
		{"top", "{right: 2, back: middle}", solid.Spot{{From: solid.Right, By: 2 * in}, {}}},
		{"front", "[middle, 1]", solid.Spot{{}, {From: solid.Bottom, By: in}}},
	} {
		j, err := small(t, "box:", "fittings: [{name: fill, side: "+c.side+", at: "+c.at+", hole: 1}]\nbox:")
		require.NoError(t, err, c.at)
		assert.Equal(t, c.want, j.Tank.Fittings[0].At, c.side+" "+c.at)
	}
}

// The box's own limit is that of its place and of its fittings' places, unless
// they have their own. 0 means exact.
func TestWithinCarriesOver(t *testing.T) {
	fill := "fittings: [{name: fill, side: top, at: middle, hole: 1}]\nbox: {"
	j, err := small(t, "box: {", fill+"within: 1/8, ")
	require.NoError(t, err)
	assert.Equal(t, [3]float64{in / 8, in / 8, in / 8}, [3]float64{j.Tank.Within, j.Tank.Place.Within, j.Tank.Fittings[0].Within})
	j, err = small(t, "box: {", fill+"within: 1/8, placed_within: 0, ")
	require.NoError(t, err)
	assert.Equal(t, [2]float64{in / 8, 0}, [2]float64{j.Tank.Within, j.Tank.Place.Within})
}

func TestUp(t *testing.T) {
	j, err := small(t, "units", "up: {level: +z, pitch: 10deg, roll: 15°}\nunits")
	require.NoError(t, err)
	assert.Equal(t, "+z", j.Up)
	assert.InDelta(t, 15, j.Rules.Levels.Roll.Degrees(), 1e-12)
	assert.Equal(t, s1.Angle(10)*s1.Degree, j.Rules.Levels.Pitch)
	assert.Equal(t, r3.Vector{Z: 1}, j.Rules.Levels.Up)
	assert.Zero(t, j.Rules.Levels.Forward)
	j, err = small(t, "units", "up: {forward: -x, pitch: 10deg}\nunits")
	require.NoError(t, err)
	assert.Equal(t, r3.Vector{X: -1}, j.Rules.Levels.Forward)
	assert.Equal(t, r3.Vector{Y: 1}, j.Rules.Levels.Up)
}

// A scan is recognised without being read.
func TestScanIsNotRead(t *testing.T) {
	job, err := os.ReadFile("testdata/small/job.yaml")
	require.NoError(t, err)
	points, err := os.ReadFile("testdata/small/points.csv")
	require.NoError(t, err)
	text := strings.Replace(string(job), "[points.csv]", "[points.csv, {file: scan.csv, feature: hatch}]", 1)
	read := 0
	_, problems := decode("job.yaml", []byte(text), func(name string) (io.ReadCloser, error) {
		if name == "points.csv" {
			return io.NopCloser(strings.NewReader(string(points))), nil
		}
		return io.NopCloser(&endless{head: "x,y,z\n", read: &read}), nil
	})
	require.NoError(t, problems.Err())
	assert.LessOrEqual(t, read, headBytes)
}

// endless is a file without end.
type endless struct {
	head string
	read *int
}

func (e *endless) Read(p []byte) (int, error) {
	n := copy(p, e.head+strings.Repeat("1,2,3\n", len(p)/6+1))
	e.head = ""
	*e.read += n
	return n, nil
}

func TestLoadWithoutAFile(t *testing.T) {
	_, err := Load(filepath.Join(t.TempDir(), "none"))
	assert.True(t, errors.Is(err, fs.ErrNotExist))
	_, err = Load(t.TempDir())
	assert.True(t, errors.Is(err, fs.ErrNotExist))
}
