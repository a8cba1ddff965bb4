package shape

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The true gap goes through zero for every pair of kinds: b is moved along the
// witness until the gap is what is wanted. With g >= 0 the signed distance is g;
// below, it is negative, and no deeper than that (another way out may be shorter).
func TestGapThroughZero(t *testing.T) {
	kinds := map[string]func(m maker) Convex{
		"box":      func(m maker) Convex { return m.box(150) },
		"cylinder": func(m maker) Convex { return m.cylinder(150) },
		"point":    func(m maker) Convex { return m.hull(1, 150) },
		"segment":  func(m maker) Convex { return m.hull(2, 150) },
		"triangle": func(m maker) Convex { return m.hull(3, 150) },
		"block":    func(m maker) Convex { return m.hull(8, 150) },
		"capsule":  func(m maker) Convex { h := m.hull(2, 150); h.Grow = 12; return h },
		"wall": func(m maker) Convex {
			h := m.hull(3, 150)
			h.Behind = r3.Vector{Z: -1}
			return h
		},
	}
	thin := map[string]int{"point": 0, "segment": 1, "triangle": 2}
	names := []string{"box", "cylinder", "point", "segment", "triangle", "block", "capsule", "wall"}
	for i, first := range names {
		for _, second := range names[i:] {
			t.Run(first+" and "+second, func(t *testing.T) {
				m := newMaker(21)
				da, flatA := thin[first]
				db, flatB := thin[second]
				for range 12 {
					sweep(t, kinds[first](m), kinds[second](m), flatA && flatB && da+db < 3)
				}
			})
		}
	}
}

var gaps = []float64{-1, -1e-1, -1e-2, -1e-3, -1e-4, -1e-5, -2e-6, -1e-7, -1e-8, -1e-9, 0, 1e-9, 1e-8, 1e-7, 2e-6, 1e-5, 1e-4, 1e-3, 1e-2, 1e-1, 1}

// sweep tries all gaps. Two flat shapes whose differences have no inside cannot
// overlap: they pass through each other and are apart again.
func sweep(t *testing.T, a, b Convex, passes bool) {
	t.Helper()
	start := Distance(a, b)
	if start.Signed <= 0 {
		return
	}
	_, ballA := a.(Hull)
	_, ballB := b.(Hull)
	for _, g := range gaps {
		c := moved(b, start.Normal.Mul(g-start.Signed))
		n := Distance(a, c)
		require.Empty(t, faults(a, c, n, 1e-8), "gap %v\n%s", g, literal(a, c))
		switch {
		case g >= 0:
			assert.InDelta(t, g, n.Signed, 1e-9, literal(a, c))
		case passes && ballA && ballB:
			assert.GreaterOrEqual(t, n.Signed, g)
		default:
			assert.GreaterOrEqual(t, n.Signed, g-1e-9, "deeper than it was moved in, gap %v\n%s", g, literal(a, c))
			if g <= -1e-9 && exactPair(a, c) || g < -1e-6 {
				assert.Negative(t, n.Signed, "gap %v\n%s", g, literal(a, c))
			}
		}
	}
}

// exactPair says that signs between the two are promised to be exact.
func exactPair(a, b Convex) bool {
	for _, c := range []Convex{a, b} {
		if _, ok := c.(Cylinder); ok || c.Radius() > 0 {
			return false
		}
	}
	return true
}

// Aligned boxes pushed through each other, where every axis ties with another.
func TestAlignedBoxesAtEveryOffset(t *testing.T) {
	a := Box{Edges: axisEdges(4, 4, 4)}
	for x := -5.0; x <= 5; x++ {
		for y := -5.0; y <= 5; y++ {
			for z := -5.0; z <= 5; z++ {
				b := Box{Corner: r3.Vector{X: x, Y: y, Z: z}, Edges: axisEdges(4, 4, 4)}
				over := [3]float64{4 - math.Abs(x), 4 - math.Abs(y), 4 - math.Abs(z)}
				least := min(over[0], over[1], over[2])
				want := -least
				if least < 0 {
					want = r3.Vector{X: min(over[0], 0), Y: min(over[1], 0), Z: min(over[2], 0)}.Norm()
				}
				n := Distance(a, b)
				require.InDelta(t, want, n.Signed, 1e-14, "%v %v %v", x, y, z)
				require.Equal(t, sign(want), sign(n.Signed))
			}
		}
	}
}
