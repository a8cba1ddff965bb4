package shape

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/require"
)

// The true gap goes through zero for every pair of kinds. Apart, b is moved in along
// the witness until the gap is what is wanted. Overlapping, b is moved out along
// the normal: the ball around the origin that just fits into the set of differences
// shrinks toward the place where it touches the surface, so the depth left is what
// is wanted, and beyond it the gap is.
func TestGapThroughZero(t *testing.T) {
	kinds := map[string]func(m maker) Convex{
		"box":      func(m maker) Convex { return m.box(150) },
		"cylinder": func(m maker) Convex { return m.cylinder(150) },
		"point":    func(m maker) Convex { return m.hull(1, 150) },
		"segment":  func(m maker) Convex { return m.hull(2, 150) },
		"triangle": func(m maker) Convex { return m.hull(3, 150) },
		"block":    func(m maker) Convex { return m.hull(8, 150) },
		"capsule":  func(m maker) Convex { h := m.hull(2, 150); h.Grow = 12; return h },
		"wall":     func(m maker) Convex { h := m.hull(3, 150); h.Behind = m.within(1); return h },
	}
	names := []string{"box", "cylinder", "point", "segment", "triangle", "block", "capsule", "wall"}
	for i, first := range names {
		for _, second := range names[i:] {
			t.Run(first+" and "+second, func(t *testing.T) {
				m := newMaker(21)
				for range 5 {
					a, b := kinds[first](m), kinds[second](m)
					sweep(t, a, b)
					middle, _ := a.Bounds()
					other, _ := b.Bounds()
					sweep(t, a, moved(b, middle.Sub(other)))
				}
			})
		}
	}
}

var gaps = []float64{-1, -1e-1, -1e-2, -1e-3, -1e-4, -1e-5, -2e-6, -1e-7, -1e-8, -1e-9, 0, 1e-9, 1e-8, 1e-7, 2e-6, 1e-5, 1e-4, 1e-3, 1e-2, 1e-1, 1}

func sweep(t *testing.T, a, b Convex) {
	t.Helper()
	start := Distance(a, b)
	for _, g := range gaps {
		if g < 0 && g < start.Signed || start.Within > 1e-9 {
			continue
		}
		c := moved(b, start.Normal.Mul(g-start.Signed))
		n := Distance(a, c)
		require.Empty(t, faults(a, c, n, proofOf(a, c)), "gap %v\n%s", g, literal(a, c))
		if g >= 0 || start.Signed < 0 {
			require.InDelta(t, g, n.Signed, 1e-9, literal(a, c))
		} else {
			require.LessOrEqual(t, math.Abs(n.Signed), 1e-9-g, "it moved by no more")
		}
		if math.Abs(g) > 1e-6 && (g > 0 || start.Signed < 0) || math.Abs(g) > 1e-11 && exactPair(a, c) && start.Signed < 0 {
			require.Equal(t, sign(g), sign(n.Signed), "gap %v\n%s", g, literal(a, c))
		}
	}
}

// proofOf is how well an answer proves itself. Where two rims meet, the distance is
// the square of how far the search is from the place, so the place and the normal
// are known to its root.
func proofOf(a, b Convex) float64 {
	_, first := a.(Cylinder)
	_, second := b.(Cylinder)
	if first && second {
		return 1e-5
	}
	return 1e-8
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
