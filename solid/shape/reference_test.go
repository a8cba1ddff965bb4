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

// The rows in which a solver of the collision library differs from the exact
// bounds, and why the bounds are right there. All other rows agree, so that
// agreeing with the bounds is agreeing with the library.
var referenceDiffers = map[string]map[int]string{}

func TestReferenceDifferencesAreListed(t *testing.T) {
	for _, file := range []string{"boxes.csv", "cylinders.csv"} {
		for i, row := range referenceRows(t, file, "family", "a", "b", "low", "high", "own", "ccd") {
			differs := row[5] != "" || row[6] != ""
			assert.Equal(t, differs, referenceDiffers[file][i+2] != "", "%s:%d: own %q, ccd %q", file, i+2, row[5], row[6])
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
