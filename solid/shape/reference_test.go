package shape_test

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/solid/shape"
)

// The answers of other programs, with their recipe and forms, are in
// testdata/reference at the root; its README.md says what they are.
const referenceDir = "../../testdata/reference"

const (
	// referenceOff is the greatest difference from the reference, mm: within it
	// of a limit counts as reaching it. The bounds of the reference are at most
	// 1e-10 mm wide and 4e-12 mm off.
	referenceOff = 1e-6

	// referenceSlack is what the reference itself may be off by, mm: width and
	// error of its bounds, for comparisons with the error that Distance states.
	referenceSlack = 1.1e-10
)

func referenceRows(t *testing.T, name string, columns ...string) [][]string {
	t.Helper()
	f, err := os.Open(filepath.Join(referenceDir, name))
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	require.NotEmpty(t, rows)
	require.Equal(t, columns, rows[0])
	return rows[1:]
}

func referenceNumber(t *testing.T, cell string) float64 {
	t.Helper()
	f, err := strconv.ParseFloat(cell, 64)
	require.NoError(t, err)
	return f
}

// referenceShape reads the text form of a shape: its kind and its numbers.
func referenceShape(t *testing.T, cell string) shape.Convex {
	t.Helper()
	words := strings.Fields(cell)
	n := make([]float64, 0, len(words))
	for _, w := range words[1:] {
		n = append(n, referenceNumber(t, w))
	}
	points := func(n []float64) (out []r3.Vector) {
		for ; len(n) >= 3; n = n[3:] {
			out = append(out, r3.Vector{X: n[0], Y: n[1], Z: n[2]})
		}
		return out
	}
	switch words[0] {
	case "box":
		p := points(n)
		return shape.Box{Corner: p[0], Edges: [3]r3.Vector(p[1:])}
	case "cylinder":
		p := points(n)
		return shape.Cylinder{Foot: p[0], Axis: p[1], Across: n[6]}
	case "hull":
		p := points(n[1:])
		return shape.Hull{Grow: n[0], Behind: p[0], Points: p[1:]}
	}
	require.Fail(t, "no such shape", words[0])
	return nil
}

// referencePair is one row of boxes.csv or cylinders.csv: low <= signed
// distance <= high.
type referencePair struct {
	name      string
	a, b      shape.Convex
	low, high float64
}

func referenceDistances(t *testing.T, name string) []referencePair {
	t.Helper()
	var out []referencePair
	for i, row := range referenceRows(t, name, "family", "a", "b", "low", "high", "own", "ccd") {
		out = append(out, referencePair{
			name: fmt.Sprintf("%s:%d (%s)", name, i+2, row[0]),
			a:    referenceShape(t, row[1]), b: referenceShape(t, row[2]),
			low: referenceNumber(t, row[3]), high: referenceNumber(t, row[4]),
		})
	}
	return out
}

func TestDistanceAgainstReference(t *testing.T) {
	for _, file := range []string{"boxes.csv", "cylinders.csv"} {
		t.Run(file, func(t *testing.T) {
			pairs := referenceDistances(t, file)
			assert.Len(t, pairs, 1500)
			for _, p := range pairs {
				compareWithReference(t, p, shape.Distance(p.a, p.b))
				compareWithReference(t, p, shape.Distance(p.b, p.a))
			}
		})
	}
}

// TestCylinderDepthIsOfUse: the depth of an overlap with a cylinder is promised
// to be no deeper than the truth; 0 would be, too. low is minus the least depth
// found along some thousand directions, and Distance should come near it.
func TestCylinderDepthIsOfUse(t *testing.T) {
	const share = 0.99
	for _, p := range referenceDistances(t, "cylinders.csv") {
		if got := shape.Distance(p.a, p.b); p.low < 0 {
			assert.LessOrEqual(t, got.Signed, share*p.low, "%s", p.name)
		}
	}
}

func compareWithReference(t *testing.T, p referencePair, got shape.Nearest) {
	t.Helper()
	said := fmt.Sprintf("%s: Signed %v, Within %v; should be %v to %v", p.name, got.Signed, got.Within, p.low, p.high)
	switch {
	case math.IsNaN(got.Signed), math.IsNaN(got.Within):
		assert.Fail(t, "not a number", said)
	case (got.Signed > 0) != (p.low > 0):
		assert.Fail(t, "overlap or apart", said)
	case got.Signed < p.low-referenceOff, got.Signed > p.high+referenceOff:
		assert.Fail(t, "too far off", said)
	case got.Signed+got.Within < p.low-referenceSlack, got.Signed-got.Within > p.high+referenceSlack:
		assert.Fail(t, "off by more than stated", said)
	}
}

// referenceDiffers are the rows in which the collision library's own solver
// differs from the exact bounds. In each its other solver, libccd, agrees with
// the bounds: the own one stops before it has reached the nearest points. All
// other rows agree, so that agreeing with the bounds is agreeing with the
// library.
var referenceDiffers = map[string]string{
	"boxes.csv:867":     "own solver says 4.8e-3 mm apart where a triangle dips 9e-4 mm into a plate of 0.5 mm",
	"boxes.csv:922":     "own solver is 0.36 mm too far from a hull of 17 points at 13 mm",
	"boxes.csv:1065":    "own solver is 0.58 mm too far from a triangle at 0.5 mm",
	"boxes.csv:1459":    "own solver says 0.15 mm apart where a hull dips 0.11 mm into a rod",
	"cylinders.csv:993": "own solver is 1.08e-6 mm too far from a triangle at 2e-3 mm",
}

func TestReferenceDifferencesAreListed(t *testing.T) {
	for _, file := range []string{"boxes.csv", "cylinders.csv"} {
		for i, row := range referenceRows(t, file, "family", "a", "b", "low", "high", "own", "ccd") {
			differs := row[5] != "" || row[6] != ""
			name := fmt.Sprintf("%s:%d", file, i+2)
			assert.Equal(t, differs, referenceDiffers[name] != "", "%s: own %q, ccd %q", name, row[5], row[6])
			assert.Empty(t, row[6], "%s: libccd differs", name)
		}
	}
}

// TestSignsAgainstExact holds the sign of planar pairs, where separating axes
// in plain float64 get every one wrong, against exact whole-number arithmetic.
func TestSignsAgainstExact(t *testing.T) {
	rows := referenceRows(t, "signs.csv", "family", "a", "b", "sign", "depth")
	assert.Greater(t, len(rows), 300)
	for i, row := range rows {
		a, b := referenceShape(t, row[1]), referenceShape(t, row[2])
		sign, depth := referenceNumber(t, row[3]), referenceNumber(t, row[4])
		for _, got := range []shape.Nearest{shape.Distance(a, b), shape.Distance(b, a)} {
			said := fmt.Sprintf("signs.csv:%d (%s): Signed %v, Within %v", i+2, row[0], got.Signed, got.Within)
			switch {
			case math.IsNaN(got.Signed), sign < 0 != (got.Signed < 0), sign > 0 != (got.Signed > 0):
				assert.Fail(t, "wrong sign", "%s; should have sign %v", said, sign)
			case sign < 0:
				assert.InDelta(t, -depth, got.Signed, referenceOff, said)
			}
		}
	}
}
