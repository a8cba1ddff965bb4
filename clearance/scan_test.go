package clearance_test

import (
	"bufio"
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/clearance"
	"elbowroom/solid"
	"elbowroom/survey"
	"elbowroom/survey/length"
)

// tablePlane is 3,283 real points of a depth camera on a table (test data of
// the Point Cloud Library, sac_plane_test; BSD-3), where it lies beside the
// project; it is not part of it.
var tablePlane = filepath.Join("..", "..", "shared", "data", "scans", "table_plane.xyz")

// theirs is the plane that the library's own test expects: n/d of n·p + d = 0,
// to 1e-2. It is found there from the points within 30 mm of it; the others
// stand on the table or beside it.
var theirs = r3.Vector{X: -0.8964, Y: -0.5868, Z: -1.208}

// tableCSV writes the scan as a points file: the points of the plane as a
// face, the others as clutter, two of the face's marks with names, and the
// camera's own place.
func tableCSV(t *testing.T) (csv string, table, clutter int) {
	t.Helper()
	file, err := os.Open(tablePlane)
	if err != nil {
		t.Skip("the scan of a table is not here: ", tablePlane)
	}
	defer file.Close()
	var b strings.Builder
	b.WriteString("feature,mark,x,y,z,within\n")
	lines := bufio.NewScanner(file)
	for lines.Scan() {
		var p r3.Vector
		_, err := fmt.Sscan(lines.Text(), &p.X, &p.Y, &p.Z)
		require.NoError(t, err)
		feature, name := "clutter", ""
		if math.Abs(p.Dot(theirs)+1)/theirs.Norm() <= 0.03 {
			feature = "table"
			table++
			name = map[int]string{1: "O", 2000: "X"}[table]
		} else {
			clutter++
		}
		fmt.Fprintf(&b, "%s,%s,%s,\n", feature, name, strings.Join(strings.Fields(lines.Text()), ","))
	}
	b.WriteString(",camera,0,0,0,0\n")
	return b.String(), table, clutter
}

func tableSpace(t *testing.T, csv string, frame *survey.Frame) *survey.Space {
	t.Helper()
	r, err := survey.Read(survey.File{Name: "table.csv", Data: []byte(csv), Unit: length.Metre, Within: length.Limit{Plus: 10, Minus: 10}})
	require.NoError(t, err)
	r.Features = []survey.FeatureSpec{{Name: "table", Shape: survey.Face, Mount: true}, {Name: "clutter", Shape: survey.Dots}}
	r.Frame = frame
	s, err := survey.Adjust(r)
	require.NoError(t, err)
	return s
}

func TestPlaneOfARealScan(t *testing.T) {
	csv, table, clutter := tableCSV(t)
	require.Equal(t, 3283, table+clutter)
	s := tableSpace(t, csv, nil)
	plane := s.Features[s.Mount].Plane
	d := -plane.Centre.Dot(plane.Normal) / 1000 // metres
	got := plane.Normal.Mul(1 / d)
	t.Logf("%d points on the table, %d clutter; plane %.4f %.4f %.4f, flat within %.1f mm", table, clutter, got.X, got.Y, got.Z, plane.Flatness())
	assert.InDelta(t, theirs.X, got.X, 1e-2)
	assert.InDelta(t, theirs.Y, got.Y, 1e-2)
	assert.InDelta(t, theirs.Z, got.Z, 1e-2)
}

// A box on the table, which is tilted every way to the camera: the clearance to
// the clutter is that of the nearest of its points, found by trying them all.
func TestBoxOnARealScan(t *testing.T) {
	if testing.Short() {
		t.Skip("it reckons long, one thing after the other")
	}
	csv, _, _ := tableCSV(t)
	s := tableSpace(t, csv, &survey.Frame{Origin: "O", XToward: "X", OutToward: "camera"})
	tank := solid.Tank{Size: solid.Size{Width: 200, Height: 120, Depth: 90}, Place: solid.Place{At: r2.Point{X: 20, Y: 10}, StandOff: 30}}
	a, err := solid.Build(tank)
	require.NoError(t, err)
	rep, err := clearance.Check(context.Background(), s, a, clearance.Rules{})
	require.NoError(t, err)
	corner := rep.Box.Corner
	assert.InDelta(t, 30, s.Features[s.Mount].Plane.Height(corner), 1e-9, "off the face by the stand-off")
	off := func(x, lo, size float64) float64 { return math.Max(0, math.Max(lo-x, x-lo-size)) }
	f, _ := s.Feature("clutter")
	least := math.Inf(1)
	for _, n := range f.Nodes {
		out := r3.Vector{X: off(n.At.X, corner.X, 200), Y: off(n.At.Y, corner.Y, 120), Z: off(n.At.Z, corner.Z, 90)}
		least = math.Min(least, out.Norm())
	}
	for _, l := range rep.Lines {
		t.Logf("%s against %s: %.3f mm, u %.3f, %s", l.Part, l.Feature, l.Clearance, l.U, l.Verdict)
		if l.Feature == "clutter" {
			assert.InDelta(t, least, l.Clearance, 1e-6)
		}
	}
}
