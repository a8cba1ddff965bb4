package shape

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func (m maker) arc(size float64) Arc {
	c, f, leg := m.within(size), m.frame(), size*m.Float64()
	sin, cos := math.Sincos(m.Float64() * math.Pi * 0.99)
	return Arc{c.Sub(f[0].Mul(leg)), c, c.Add(f[0].Mul(leg * cos)).Add(f[1].Mul(leg * sin))}
}

func TestArcIsTangentToItsLegs(t *testing.T) {
	m := newMaker(41)
	for range 500 {
		a := m.arc(100)
		b := a.open()
		near(t, a.From, b.at(0), 1e-11)
		near(t, a.To, b.at(1), 1e-10)
		in := a.Corner.Sub(a.From).Normalize()
		out := a.To.Sub(a.Corner).Normalize()
		near(t, in, b.at(1e-7).Sub(b.at(0)).Normalize(), 1e-5)
		near(t, out, b.at(1).Sub(b.at(1-1e-7)).Normalize(), 1e-5)
	}
}

func TestArcAgainstManyPoints(t *testing.T) {
	m := newMaker(42)
	for i := range 300 {
		a, b := m.arc(100), m.anyShape(150)
		n := DistanceArc(a, 5, b)
		bow := a.open()
		sampled := math.Inf(1)
		for k := 0; k <= 200; k++ {
			sampled = math.Min(sampled, Distance(hullOf(bow.at(float64(k)/200)), b).Signed-5)
		}
		require.LessOrEqual(t, n.Signed, sampled+1e-7, "%d %#v %#v", i, a, b)
		require.GreaterOrEqual(t, n.Signed, sampled-bow.length/400-1e-7, "%d %#v %#v", i, a, b)
		require.LessOrEqual(t, n.Within, 1e-7)
		require.InDelta(t, 5, n.OnA.Distance(bow.at(n.Along)), 1e-9)
		require.InDelta(t, math.Abs(n.Signed), n.OnA.Distance(n.OnB), 1e-9)
		require.Equal(t, Mix{}, n.MixA)
		require.Less(t, offMix(b, n.MixB, n.OnB, n.Normal.Mul(-1)), 1e-8)
	}
}

// A quarter of radius 10 about the origin, from (10, 0, 0) to (0, 10, 0).
func TestArcKnownAnswers(t *testing.T) {
	quarter := Arc{From: r3.Vector{X: 10}, Corner: r3.Vector{X: 10, Y: 10}, To: r3.Vector{Y: 10}}
	half := math.Sqrt(.5)
	for name, c := range map[string]struct {
		b     Convex
		want  float64
		along float64
	}{
		"point outside":        {hullOf(r3.Vector{X: 20 * half, Y: 20 * half}), 9, .5},
		"point inside":         {hullOf(r3.Vector{X: 4 * half, Y: 4 * half}), 5, .5},
		"point beyond the end": {hullOf(r3.Vector{X: 10, Y: -7}), 6, 0},
		"point behind":         {hullOf(r3.Vector{X: -3, Y: 10}), 2, 1},
		"the corner":           {hullOf(r3.Vector{X: 10, Y: 10}), 10*math.Sqrt2 - 11, .5},
		"wall":                 {Hull{Points: []r3.Vector{{X: 13, Y: -99, Z: -99}, {X: 13, Y: 99}, {X: 13, Z: 99}}, Behind: r3.Vector{X: 1}}, 2, 0},
		"plane above":          {Box{Corner: r3.Vector{X: -50, Y: -50, Z: 3}, Edges: axisEdges(100, 100, 1)}, 2, math.NaN()},
		"through a ball":       {Hull{Points: []r3.Vector{{X: 10 * half, Y: 10 * half}}, Grow: 2}, -3, .5},
		"rod along the axis":   {hullOf(r3.Vector{Z: -50}, r3.Vector{Z: 50}), 9, math.NaN()},
		"deep in a box":        {Box{Corner: r3.Vector{X: -50, Y: -50, Z: -4}, Edges: axisEdges(100, 100, 10)}, -5, math.NaN()},
	} {
		n := DistanceArc(quarter, 1, c.b)
		assert.InDelta(t, c.want, n.Signed, 1e-7+n.Within, name)
		assert.Less(t, n.Within, 1e-5, name)
		if !math.IsNaN(c.along) {
			assert.InDelta(t, c.along, n.Along, 1e-3, name)
		}
	}
}

func TestStraightAndDegenerateArcs(t *testing.T) {
	p := hullOf(r3.Vector{X: 3, Y: 4})
	b := Box{Corner: r3.Vector{X: 2, Y: 4}, Edges: axisEdges(2, 2, 2)}
	for name, a := range map[string]Arc{
		"straight":       {r3.Vector{}, r3.Vector{X: 5}, r3.Vector{X: 10}},
		"hardly bent":    {r3.Vector{}, r3.Vector{X: 5}, r3.Vector{X: 10, Y: 1e-15}},
		"corner at from": {r3.Vector{}, r3.Vector{}, r3.Vector{X: 10}},
		"corner at to":   {r3.Vector{}, r3.Vector{X: 10}, r3.Vector{X: 10}},
		"slightly bent":  {r3.Vector{}, r3.Vector{X: 5}, r3.Vector{X: 10, Y: 1e-9}},
	} {
		for _, shape := range []Convex{p, b} {
			n := DistanceArc(a, 0, shape)
			assert.InDelta(t, 4, n.Signed, 1e-7, name)
		}
		n := DistanceArc(a, 0, p)
		assert.InDelta(t, .3, n.Along, 1e-6, name)
	}
	n := DistanceArc(Arc{}, 1, p)
	assert.InDelta(t, 4, n.Signed, 1e-12, "all in one place")
	n = DistanceArc(Arc{From: r3.Vector{}, Corner: r3.Vector{X: 5}, To: r3.Vector{}}, 1, p)
	assert.False(t, math.IsNaN(n.Signed), "there and back")
}

func BenchmarkArcBox(b *testing.B) {
	m := newMaker(43)
	a, c := m.arc(100), Convex(m.box(150))
	b.ReportAllocs()
	for range b.N {
		DistanceArc(a, 5, c)
	}
}
