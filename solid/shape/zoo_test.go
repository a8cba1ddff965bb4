package shape

import (
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func hullOf(points ...r3.Vector) Hull { return Hull{Points: points} }

// Shapes that break distance libraries: every one of them against every other.
func zoo() map[string]Convex {
	o, x, y, z := r3.Vector{}, r3.Vector{X: 1}, r3.Vector{Y: 1}, r3.Vector{Z: 1}
	return map[string]Convex{
		"point":                       hullOf(o),
		"point three times":           hullOf(o, o, o),
		"segment of no length":        hullOf(x, x),
		"segment":                     hullOf(o, x),
		"segment of 5 points":         hullOf(x.Mul(.5), o, x, x.Mul(.25), x),
		"nearly a point":              hullOf(o, r3.Vector{X: 1e-300}),
		"nearly a segment":            hullOf(o, x, r3.Vector{X: .5, Y: 1e-300}),
		"triangle":                    hullOf(o, x, y),
		"triangle again, turned over": hullOf(o, y, x),
		"needle":                      hullOf(o, r3.Vector{X: 1000}, r3.Vector{X: 500, Y: 1e-10}),
		"square of 9 points":          hullOf(o, x, y, x.Add(y), x.Mul(.5), y.Mul(.5), x.Add(y.Mul(.5)), y.Add(x.Mul(.5)), x.Add(y).Mul(.5)),
		"square but for a trifle":     hullOf(o, x, y, r3.Vector{X: 1, Y: 1, Z: 1e-15}),
		"cube of 27 points":           Hull{Points: lattice(3)},
		"unit box":                    Box{Edges: axisEdges(1, 1, 1)},
		"the same box":                Box{Edges: axisEdges(1, 1, 1)},
		"box from the far corner":     Box{Corner: r3.Vector{X: 1, Y: 1, Z: 1}, Edges: axisEdges(-1, -1, -1)},
		"box within":                  Box{Corner: r3.Vector{X: .25, Y: .25, Z: .25}, Edges: axisEdges(.5, .5, .5)},
		"box a thousandth":            Box{Corner: r3.Vector{X: 1}, Edges: axisEdges(1e-3, 1e-3, 1e-3)},
		"box a thousandfold":          Box{Corner: r3.Vector{X: -500, Y: -500, Z: -1000}, Edges: axisEdges(1000, 1000, 1000)},
		"plate":                       Box{Edges: axisEdges(1, 1, 0)},
		"rod":                         Box{Edges: axisEdges(0, 1, 0)},
		"box of no size":              Box{Corner: x},
		"box by its neighbour's edge": Box{Corner: r3.Vector{X: 1, Y: 1}, Edges: axisEdges(1, 1, 1)},
		"cylinder":                    Cylinder{Axis: z, Across: 1},
		"cylinder beside":             Cylinder{Foot: r3.Vector{X: 2}, Axis: z, Across: 1},
		"cylinder on top":             Cylinder{Foot: z, Axis: z, Across: 1},
		"cylinder upside down":        Cylinder{Foot: z, Axis: z.Mul(-1), Across: 1},
		"coin":                        Cylinder{Axis: r3.Vector{Z: 1e-9}, Across: 10},
		"wire":                        Cylinder{Axis: r3.Vector{X: 1000}, Across: 1e-9},
		"cylinder without across":     Cylinder{Axis: z},
		"cylinder without axis":       Cylinder{Across: 1},
		"cylinder of nothing":         Cylinder{},
		"ball":                        Hull{Points: []r3.Vector{o}, Grow: 1},
		"ball beside":                 Hull{Points: []r3.Vector{{X: 2}}, Grow: 1},
		"half space":                  Hull{Points: []r3.Vector{{X: -1e4, Y: -1e4}, {X: 1e4, Y: -1e4}, {Y: 1e4}}, Behind: z.Mul(-1)},
		"ray":                         Hull{Points: []r3.Vector{o}, Behind: x},
		"opposite ray":                Hull{Points: []r3.Vector{o}, Behind: x.Mul(-1)},
		"strip":                       Hull{Points: []r3.Vector{o, y}, Behind: x},
		"swept along itself":          Hull{Points: []r3.Vector{o, x}, Behind: x},
		"prism without end":           Hull{Points: []r3.Vector{o, y, z}, Behind: x},
		"hair's breadth of a ray":     Hull{Points: []r3.Vector{o}, Behind: r3.Vector{X: 1e-200}},
		"far out":                     Box{Corner: r3.Vector{X: 1e4, Y: 1e4, Z: 1e4}, Edges: axisEdges(1, 1, 1)},
	}
}

// lattice are n x n x n points in the unit cube.
func lattice(n int) []r3.Vector {
	var points []r3.Vector
	for i := range n * n * n {
		points = append(points, r3.Vector{X: float64(i % n), Y: float64(i / n % n), Z: float64(i / n / n)}.Mul(1/float64(n-1)))
	}
	return points
}

func TestZoo(t *testing.T) {
	animals := zoo()
	m := newMaker(31)
	f, at := m.frame(), m.within(100)
	for first, a := range animals {
		for second, b := range animals {
			n := Distance(a, b)
			require.Empty(t, faults(a, b, n, 1e-7), "%s and %s: %+v", first, second, n)
			back := Distance(b, a)
			require.InDelta(t, n.Signed, back.Signed, exactness(n, back), "%s and %s", first, second)
			if exactPair(a, b) && len(differences(a, b, 1)) <= 16 {
				if !strings.Contains(first+second, "hair") { // too short for the oracle's sweep
					require.Equal(t, exactSign(a, b), sign(n.Signed), "%s and %s: %v", first, second, n.Signed)
				}
			}
			turned := Distance(placed(a, 1, f, at), placed(b, 1, f, at))
			require.InDelta(t, n.Signed, turned.Signed, 2*exactness(n, turned), "%s and %s, turned", first, second)
		}
	}
}

func TestZooKnownAnswers(t *testing.T) {
	z := zoo()
	for _, c := range []struct {
		a, b string
		want float64
	}{
		{"point", "point three times", 0},
		{"segment of no length", "segment", 0},
		{"segment", "segment of 5 points", 0},
		{"triangle", "triangle again, turned over", 0},
		{"unit box", "the same box", -1},
		{"unit box", "box from the far corner", -1},
		{"unit box", "box within", -.75},
		{"unit box", "box a thousandth", 0},
		{"unit box", "box a thousandfold", 0},
		{"unit box", "plate", 0},
		{"unit box", "box by its neighbour's edge", 0},
		{"unit box", "cube of 27 points", -1},
		{"unit box", "half space", 0},
		{"box within", "half space", .25},
		{"cylinder", "cylinder beside", 0},
		{"cylinder", "cylinder on top", 0},
		{"cylinder", "cylinder upside down", -1},
		{"ball", "ball beside", 0},
		{"ray", "opposite ray", 0},
		{"ray", "far out", math.Hypot(1e4, 1e4)},
		{"cylinder without axis", "ball", -2},
		{"unit box", "far out", (1e4 - 1) * math.Sqrt(3)},
	} {
		assert.InDelta(t, c.want, Distance(z[c.a], z[c.b]).Signed, 1e-9, "%s and %s", c.a, c.b)
	}
}

func TestEmptyHull(t *testing.T) {
	for _, b := range []Convex{Hull{}, Box{}, Cylinder{Across: 1}, hullOf(r3.Vector{}), Hull{Points: []r3.Vector{{}}, Behind: r3.Vector{X: 1}}} {
		n := Distance(Hull{Grow: 1, Behind: r3.Vector{Z: 1}}, b)
		assert.True(t, math.IsInf(n.Signed, 1))
		assert.True(t, math.IsInf(Distance(b, Hull{}).Signed, 1))
		assert.True(t, math.IsInf(Gap(b, Hull{}), 1))
		assert.Equal(t, Mix{}, n.MixA)
		n = DistanceArc(Arc{To: r3.Vector{X: 1}}, 1, Hull{})
		assert.True(t, math.IsInf(n.Signed, 1))
	}
	assert.Nil(t, Faces(nil))
	Prepare(Hull{})
}

// What is no number comes back as none, and nothing hangs or panics.
func TestNoNumbers(t *testing.T) {
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), math.MaxFloat64} {
		v := r3.Vector{X: bad, Y: 1}
		shapes := []Convex{hullOf(v), hullOf(v, r3.Vector{}, r3.Vector{Z: 1}, r3.Vector{Y: 1}, r3.Vector{X: 1}),
			Box{Corner: v, Edges: axisEdges(1, 1, 1)}, Box{Edges: axisEdges(bad, 1, 1)}, Cylinder{Foot: v, Axis: r3.Vector{Z: 1}, Across: 1},
			Cylinder{Axis: v, Across: 1}, Cylinder{Axis: r3.Vector{Z: 1}, Across: bad}, Hull{Points: []r3.Vector{{}}, Behind: v}}
		for _, a := range shapes {
			for _, b := range zoo() {
				Distance(a, b)
				Distance(b, Prepare(a))
				Gap(a, b)
			}
			DistanceArc(Arc{From: v, Corner: r3.Vector{X: 1}, To: r3.Vector{X: 1, Y: 1}}, 1, a)
		}
		Faces([]r3.Vector{v, {}, {X: 1}, {Y: 1}, {Z: 1}})
	}
	assert.True(t, math.IsNaN(Distance(hullOf(r3.Vector{X: math.NaN()}), Box{Edges: axisEdges(1, 1, 1)}).Signed))
}

// egg is a shape of another make: an ellipsoid about the origin.
type egg struct{ half r3.Vector }

func (e egg) Support(d r3.Vector) r3.Vector {
	s := r3.Vector{X: e.half.X * e.half.X * d.X, Y: e.half.Y * e.half.Y * d.Y, Z: e.half.Z * e.half.Z * d.Z}
	n := math.Sqrt(d.Dot(s))
	if n == 0 {
		return r3.Vector{X: e.half.X}
	}
	return s.Mul(1 / n)
}
func (e egg) Radius() float64              { return 0 }
func (e egg) Bounds() (r3.Vector, float64) { return r3.Vector{}, max(e.half.X, e.half.Y, e.half.Z) }

func TestShapeOfAnotherMake(t *testing.T) {
	e := egg{r3.Vector{X: 3, Y: 2, Z: 1}}
	for _, c := range []struct {
		b    Convex
		want float64
	}{
		{hullOf(r3.Vector{X: 5}), 2},
		{hullOf(r3.Vector{Z: -4}), 3},
		{hullOf(r3.Vector{}), -1},
		{hullOf(r3.Vector{X: -9, Z: .5}, r3.Vector{X: 9, Z: .5}), -.5},
		{Box{Corner: r3.Vector{X: -9, Y: -9, Z: .25}, Edges: axisEdges(18, 18, 18)}, -.75},
		{Cylinder{Foot: r3.Vector{Z: 2}, Axis: r3.Vector{Z: 1}, Across: 1}, 1},
		{egg{r3.Vector{X: 1, Y: 1, Z: 1}}, -2},
	} {
		n := Distance(e, c.b)
		assert.InDelta(t, c.want, n.Signed, 1e-6+n.Within)
		assert.Less(t, n.Within, 1e-3)
	}
}
