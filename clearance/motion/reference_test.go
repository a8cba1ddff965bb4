package motion_test

import (
	"encoding/csv"
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/clearance/motion"
	"elbowroom/solid/shape"
)

// numbers reads the words of a text form but the first.
func numbers(t *testing.T, text string) (kind string, n []float64) {
	t.Helper()
	words := strings.Fields(text)
	for _, w := range words[1:] {
		f, err := strconv.ParseFloat(w, 64)
		require.NoError(t, err)
		n = append(n, f)
	}
	return words[0], n
}

func places(n []float64) (out []r3.Vector) {
	for ; len(n) >= 3; n = n[3:] {
		out = append(out, v(n[0], n[1], n[2]))
	}
	return out
}

func readShape(t *testing.T, text string) shape.Convex {
	t.Helper()
	switch kind, n := numbers(t, text); kind {
	case "box":
		p := places(n)
		return shape.Box{Corner: p[0], Edges: [3]r3.Vector(p[1:])}
	case "cylinder":
		p := places(n)
		return shape.Cylinder{Foot: p[0], Axis: p[1], Across: n[6]}
	default:
		require.Equal(t, "hull", kind)
		p := places(n[1:])
		return shape.Hull{Grow: n[0], Behind: p[0], Points: p[1:]}
	}
}

func readChain(t *testing.T, text string) (c motion.Chain) {
	t.Helper()
	for _, part := range strings.Split(text, ";") {
		switch kind, n := numbers(t, part); kind {
		case "turn":
			p := places(n[:6])
			c = append(c, turn(t, p[0], p[1], n[6], n[7]))
		default:
			require.Equal(t, "slide", kind)
			c = append(c, motion.Slide(places(n[:3])[0], n[3], n[4]))
		}
	}
	return c
}

// The least distances of 200 scenes over their whole motion, sampled densely by a general-purpose
// collision library; testdata/reference/README.md has the recipe. Its own error is under 1e-6 mm,
// and where it has missed the deepest of several dips it is too high.
func TestSweepsAgainstReference(t *testing.T) {
	if testing.Short() {
		t.Skip("it reckons long, one thing after the other")
	}
	const off = 1e-6
	f, err := os.Open("../../testdata/reference/sweeps.csv")
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	require.Equal(t, []string{"family", "a", "b", "joints", "least"}, rows[0])
	require.Len(t, rows, 201)
	overlap, worst, widest, distances := 0, 0.0, 0.0, 0
	for i, row := range rows[1:] {
		still, piece, c := readShape(t, row[1]), readShape(t, row[2]), readChain(t, row[3])
		got, ok := motion.Least([]motion.Still{motion.Solid(still)}, []shape.Convex{piece}, c, motion.Options{})
		require.True(t, ok)
		said := fmt.Sprintf("sweeps.csv:%d (%s): %v, proven %v; sampled %s", i+2, row[0], got.Nearest.Signed, got.Lower, row[4])
		bound := got.Nearest.Signed - got.Lower
		assert.LessOrEqual(t, bound, 0.01, said)
		distances = max(distances, got.Distances)
		if row[4] == "-" {
			overlap++
			assert.Less(t, got.Nearest.Signed, off, said)
			continue
		}
		sampled, err := strconv.ParseFloat(row[4], 64)
		require.NoError(t, err)
		assert.LessOrEqual(t, got.Nearest.Signed, sampled+bound+off, said)
		assert.GreaterOrEqual(t, got.Nearest.Signed, sampled-bound-off, said)
		worst = max(worst, got.Nearest.Signed-sampled, sampled-got.Nearest.Signed)
		widest = max(widest, bound)
	}
	assert.Equal(t, 40, overlap)
	t.Logf("farthest from the samples %.2g mm, bound at most %.2g mm, at most %d distances", worst, widest, distances)
}
