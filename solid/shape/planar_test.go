package shape

import (
	"fmt"
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Plain pairs against the oracle.
func TestPlanarAgainstOracle(t *testing.T) {
	m := newMaker(2)
	shapes := map[string]func() Convex{
		"box":      func() Convex { return m.box(300) },
		"point":    func() Convex { return m.hull(1, 300) },
		"segment":  func() Convex { return m.hull(2, 300) },
		"triangle": func() Convex { return m.hull(3, 300) },
		"quad":     func() Convex { return m.hull(4, 300) },
		"six":      func() Convex { return m.hull(6, 300) },
	}
	for _, names := range [][2]string{
		{"point", "segment"}, {"point", "triangle"}, {"point", "six"}, {"segment", "segment"}, {"segment", "triangle"},
		{"segment", "six"}, {"triangle", "triangle"}, {"triangle", "six"}, {"quad", "quad"},
		{"box", "point"}, {"box", "segment"}, {"box", "triangle"}, {"box", "quad"}, {"box", "box"},
	} {
		t.Run(names[0]+" and "+names[1], func(t *testing.T) {
			for i := 0; i < 40; i++ {
				a, b := shapes[names[0]](), shapes[names[1]]()
				n := Distance(a, b)
				sign, depth := exactDepth(a, b, 1)
				if sign > 0 {
					assert.InDelta(t, distanceToHull(rounded(differences(a, b, 1))), n.Signed, 1e-11)
				} else {
					assert.InDelta(t, -depth, n.Signed, 1e-11)
				}
				assert.Empty(t, faults(a, b, n, 1e-10))
			}
		})
	}
}

// Awkward pairs: the sign must be right without exception, and the depth too.
func TestPlanarSignIsExact(t *testing.T) {
	checkPlanar(t, newMaker(5), 300)
}

// checkPlanar draws pairs and holds the kernel against exact arithmetic and the
// answer's own proof. It prints what it saw.
func checkPlanar(t *testing.T, m maker, pairs int) {
	counts := map[int]int{}
	wrong, worst, worstDepth, worstWithin := 0, 0.0, 0.0, 0.0
	for i := 0; i < pairs; i++ {
		a, b := m.planarPair()
		n := Distance(a, b)
		if list := faults(a, b, n, 1e-9); len(list) > 0 {
			require.Fail(t, "fault", "pair %d: %v\n%s", i, list, literal(a, b))
		}
		if back := Distance(b, a); math.Abs(back.Signed-n.Signed) > 1e-9 {
			require.Fail(t, "not symmetric", "pair %d: %v and %v\n%s", i, n.Signed, back.Signed, literal(a, b))
		}
		worstWithin = math.Max(worstWithin, n.Within)
		if n.Signed > 1e-6 { // proved by the planes
			counts[1]++
			worst = math.Max(worst, math.Abs(planesApart(a, b, n.Normal)-n.Signed))
			continue
		}
		sign, depth := exactDepth(a, b, 1<<30)
		counts[sign]++
		if sign != signOf(n.Signed) {
			wrong++
			assert.Fail(t, "wrong sign", "pair %d: want %d, got %v\n%s", i, sign, n.Signed, literal(a, b))
		}
		if sign < 0 {
			worstDepth = math.Max(worstDepth, math.Abs(depth+n.Signed))
		}
	}
	assert.Less(t, worst, 1e-9)
	assert.Less(t, worstDepth, 1e-9)
	t.Logf("%d pairs: %d apart, %d touch, %d overlap; %d wrong signs, distance off by %.1e, depth by %.1e, within says %.1e",
		pairs, counts[1], counts[0], counts[-1], wrong, worst, worstDepth, worstWithin)
}

func signOf(x float64) int { return sign(x) }

func literal(a, b Convex) string { return fmt.Sprintf("%#v\n%#v", a, b) }

// Boxes whose shared plane is exactly representable touch with exactly 0, and one
// rounding step either way shows.
func TestTouchingIsExactlyZero(t *testing.T) {
	a := Box{Edges: axisEdges(2, 3, 4)}
	for name, c := range map[string]struct {
		at   [3]float64
		want float64
	}{
		"face on face":     {[3]float64{2, 0, 0}, 0},
		"part of a face":   {[3]float64{2, 1, -1}, 0},
		"edge on edge":     {[3]float64{2, 3, 0}, 0},
		"corner on corner": {[3]float64{2, 3, 4}, 0},
		"below":            {[3]float64{0.5, -3, 1}, 0},
		"one step apart":   {[3]float64{math.Nextafter(2, 3), 1, 1}, math.Nextafter(2, 3) - 2},
		"one step in":      {[3]float64{math.Nextafter(2, 1), 1, 1}, math.Nextafter(2, 1) - 2},
		"aligned, depth 1": {[3]float64{1, 0, 0}, -1},
	} {
		b := Box{Corner: vector(c.at), Edges: a.Edges}
		n := Distance(a, b)
		assert.Equal(t, c.want, n.Signed, name)
		assert.InDelta(t, 1, n.Normal.Norm(), 1e-15, name)
		assert.Empty(t, faults(a, b, n, 1e-12), name)
	}
}

// In one plane, on one line or in one place there is no inside: shapes touch, or are
// apart, be it by one rounding step.
func TestFlatPairsInOnePlane(t *testing.T) {
	step := math.Nextafter(1, 2)
	square := func(x float64) Hull {
		return hullOf(r3.Vector{X: x}, r3.Vector{X: x + 1}, r3.Vector{X: x + 1, Y: 1}, r3.Vector{X: x, Y: 1})
	}
	slope := hullOf(r3.Vector{}, r3.Vector{X: 6, Y: 2})
	for name, c := range map[string]struct {
		a, b  Hull
		apart bool
	}{
		"squares that share an edge":     {square(0), square(1), false},
		"squares that overlap":           {square(0), square(.5), false},
		"squares a step apart":           {square(0), square(step), true},
		"point on a segment":             {slope, hullOf(r3.Vector{X: 3, Y: 1}), false},
		"point a step above it":          {slope, hullOf(r3.Vector{X: 3, Y: step}), true},
		"segments that cross":            {slope, hullOf(r3.Vector{X: 3}, r3.Vector{X: 3, Y: 2}), false},
		"segment that ends on it":        {slope, hullOf(r3.Vector{X: 3, Y: 1}, r3.Vector{X: 3, Y: 2}), false},
		"segment that ends a step short": {slope, hullOf(r3.Vector{X: 3, Y: step}, r3.Vector{X: 3, Y: 2}), true},
		"segments end to end":            {slope, hullOf(r3.Vector{X: 6, Y: 2}, r3.Vector{X: 9, Y: 3}), false},
		"segments in line":               {hullOf(r3.Vector{}, r3.Vector{X: 1}), hullOf(r3.Vector{X: step}, r3.Vector{X: 2}), true},
		"parallel segments":              {hullOf(r3.Vector{Y: 1}, r3.Vector{X: 1, Y: 1}), hullOf(r3.Vector{Y: step}, r3.Vector{X: 2, Y: step}), true},
		"points":                         {hullOf(r3.Vector{X: 1}), hullOf(r3.Vector{X: step}), true},
		"a step above the plane":         {square(0), hullOf(r3.Vector{X: .5, Y: .5, Z: math.SmallestNonzeroFloat64}), true},
	} {
		n := Distance(c.a, c.b)
		if c.apart {
			assert.Positive(t, n.Signed, name)
			assert.Less(t, n.Signed, 1e-15, name)
		} else {
			assert.Zero(t, n.Signed, name)
		}
		assert.Equal(t, exactSign(c.a, c.b), sign(n.Signed), name)
		assert.Empty(t, faults(c.a, c.b, n, 1e-14), name)
	}
}

// A corner of a turned box is the sum of four rounded vectors, no float64: the
// exact plane through a face decides.
func TestSignOfTurnedBoxIsExact(t *testing.T) {
	m := newMaker(8)
	counts := map[int]int{}
	for i := 0; i < 120; i++ {
		b := m.box(300)
		c := b.corners()
		face := []int{0, 1, 3, 2}
		h := Hull{}
		for range 3 { // points on the face, but for rounding
			u, v := m.Float64(), m.Float64()
			h.Points = append(h.Points, c[face[0]].Add(b.Edges[0].Mul(u)).Add(b.Edges[1].Mul(v)))
		}
		h.Points = append(h.Points, h.Points[0].Sub(b.Edges[2]))
		want := exactSign(b, h)
		counts[want]++
		n := Distance(b, h)
		require.Equal(t, want, sign(n.Signed), literal(b, h))
		require.Less(t, math.Abs(n.Signed), 1e-12)
	}
	assert.Greater(t, counts[1], 12)
	assert.Greater(t, counts[-1], 12)
}

// The slow way through all pairs of pieces finds what the search finds.
func TestFinishAgreesWithTheSearch(t *testing.T) {
	m := newMaker(9)
	for range 150 {
		a, b := open(m.planarShape(200)), open(m.planarShape(200))
		found := draw(&a, &b)
		if !found.sure() {
			continue
		}
		var slow approach
		slow.slack = found.slack
		v := difference(&a, &b, r3.Vector{X: 1})
		require.True(t, slow.simplex.add(&v))
		slow.finish(&a, &b)
		require.InDelta(t, found.upper, slow.upper, 1e-10)
	}
}

// Far from the origin, as large as coordinates may be, or nearly as small.
func TestSizesBeyondMeasure(t *testing.T) {
	for _, size := range []float64{1e-150, 1e-60, 1e-20, 1e20, 1e50} {
		a := Box{Edges: axisEdges(size, size, size)}
		for _, c := range []struct{ at, want float64 }{{3, 2}, {1, 0}, {.5, -.5}} {
			b := Box{Corner: r3.Vector{X: c.at * size}, Edges: a.Edges}
			assert.InDelta(t, c.want, Distance(a, b).Signed/size, 1e-12, "%v", size)
		}
	}
}

// A segment and a triangle of points on it, but for rounding: every axis is square to
// edges that are parallel but for rounding. A million drawn pairs had one such.
func TestNeedleAlongASegment(t *testing.T) {
	a := hullOf(
		r3.Vector{X: -180.16402005132855, Y: -64.5420734177981, Z: 189.25286677557295},
		r3.Vector{X: 88.64112370605969, Y: 293.0332519532128, Z: 39.200581988157815})
	b := hullOf(
		r3.Vector{X: 21.43983776671263, Y: 203.63942061046006, Z: 76.7136531850116},
		r3.Vector{X: -112.96273411198149, Y: 24.851757924954626, Z: 151.73979557871917},
		r3.Vector{X: -180.16402005132855, Y: -64.54207341779806, Z: 189.25286677557295})
	n := Distance(a, b)
	assert.Equal(t, 1, exactSign(a, b))
	assert.Positive(t, n.Signed)
	assert.Less(t, n.Signed, 1e-12)
	m := newMaker(10)
	for range 400 {
		s := m.hull(2, 300)
		along := s.Points[1].Sub(s.Points[0])
		var h Hull
		for range 2 + m.Intn(3) {
			h.Points = append(h.Points, s.Points[0].Add(along.Mul(m.Float64()*1.5)))
		}
		n := Distance(s, h)
		require.Equal(t, exactSign(s, h), sign(n.Signed), literal(s, h))
	}
}
