package level

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func v(x, y, z float64) r3.Vector { return r3.Vector{X: x, Y: y, Z: z} }

var upright = v(0, 1, 0)

func degrees(a float64) float64 { return a * math.Pi / 180 }

func TestPrismsInClosedForm(t *testing.T) {
	s := Box(v(0, 0, 0), v(200, 120, 90))
	assert.InDelta(t, 200*120*90, s.Volume(), 1e-6)
	// Level: a prism.
	assert.InDelta(t, 200*30*90, s.Below(upright, 30).Volume(), 1e-6)
	assert.InDelta(t, 30, s.Level(upright, 200*30*90), 1e-9)
	// Leaned toward +x by 30 degrees with the surface through the middle of the
	// space: half of it, whatever the lean.
	up := Lean(upright, v(1, 0, 0), degrees(30))
	middle := v(100, 60, 45)
	assert.InDelta(t, s.Volume()/2, s.Below(up, middle.Dot(up)).Volume(), 1e-6)
	// A wedge along the right lower edge: a triangle of depth 40 at the right wall.
	run := 40 / math.Tan(degrees(30))
	assert.InDelta(t, 40*run/2*90, s.Below(up, v(200, 40, 0).Dot(up)).Volume(), 1e-6)
	// A corner: a surface square to (1, 1, 1), t from the corner along each edge.
	diagonal := v(1, 1, 1).Normalize()
	assert.InDelta(t, 50.*50*50/6, s.Below(diagonal, v(50, 0, 0).Dot(diagonal)).Volume(), 1e-6)
	// All of it, nothing of it.
	assert.InDelta(t, s.Volume(), s.Below(up, 1e6).Volume(), 1e-6)
	assert.Zero(t, s.Below(up, -1e6).Volume())
}

func TestZeroValues(t *testing.T) {
	var s Space
	assert.Zero(t, s.Volume())
	assert.Zero(t, s.Level(upright, 1))
	assert.Zero(t, s.Below(upright, 5).Volume())
	_, ok := s.Middle()
	assert.False(t, ok)
	assert.Equal(t, Space{}, Box(v(0, 0, 0), v(1, 0, 1)))
	filled, air := Box(v(0, 0, 0), v(1, 1, 1)).Filled(upright)
	assert.Zero(t, filled)
	assert.InDelta(t, 1, air, 1e-12)
	low, high := Opening{Middle: v(1, 2, 3)}.Extent(upright)
	assert.Equal(t, [2]float64{2, 2}, [2]float64{low, high})
}

// turn is a random rotation, as three unit vectors.
func turn(r *rand.Rand) [3]r3.Vector {
	a := v(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Normalize()
	b := a.Ortho()
	return [3]r3.Vector{a, b, a.Cross(b)}
}

func apply(m [3]r3.Vector, p r3.Vector) r3.Vector {
	return m[0].Mul(p.X).Add(m[1].Mul(p.Y)).Add(m[2].Mul(p.Z))
}

// The volume under a surface and the level of a volume do not hang on how the
// space and up are turned together.
func TestTurningAllChangesNothing(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	for range 200 {
		s := Box(v(0, 0, 0), v(50+100*r.Float64(), 50+100*r.Float64(), 50+100*r.Float64()))
		m := turn(r)
		up := v(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Normalize()
		turned := Space{}
		for _, f := range s.faces {
			var g []r3.Vector
			for _, p := range f {
				g = append(g, apply(m, p))
			}
			turned.faces = append(turned.faces, g)
		}
		want := r.Float64() * s.Volume()
		assert.InDelta(t, s.Level(up, want), turned.Level(apply(m, up), want), 1e-8)
		assert.InDelta(t, want, s.Below(up, s.Level(up, want)).Volume(), 1e-9*s.Volume())
	}
}

// What lies below a surface and what lies above it are the whole.
func TestBelowAndAboveAreAll(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 1))
	s := Box(v(-10, 5, 7), v(90, 85, 127))
	for range 500 {
		up := v(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Normalize()
		lo, hi := s.Extent(up)
		h := lo + (hi-lo)*r.Float64()
		below, above := s.Below(up, h).Volume(), s.Below(up.Mul(-1), -h).Volume()
		require.InDelta(t, s.Volume(), below+above, 1e-9*s.Volume())
		require.InDelta(t, below, s.Under(up, h), 1e-9*s.Volume())
	}
}

// The oracle counts points.
func TestVolumesAgainstCounting(t *testing.T) {
	const points = 200000
	r := rand.New(rand.NewPCG(5, 1))
	size := v(180, 110, 85)
	s := Box(v(0, 0, 0), size)
	for _, lean := range []float64{0, 7, 33, 71} {
		up := Lean(upright, v(0.6, 0, 0.8), degrees(lean))
		h := s.Level(up, 0.37*s.Volume())
		n := 0
		for range points {
			if v(r.Float64()*size.X, r.Float64()*size.Y, r.Float64()*size.Z).Dot(up) < h {
				n++
			}
		}
		// Five standard errors of the count.
		assert.InDelta(t, 0.37, float64(n)/points, 5*math.Sqrt(0.37*0.63/points), "lean %g", lean)
	}
}

func TestMiddle(t *testing.T) {
	s := Box(v(0, 0, 0), v(200, 120, 90))
	got, ok := s.Middle()
	require.True(t, ok)
	assert.InDelta(t, 0, got.Sub(v(100, 60, 45)).Norm(), 1e-9)
	// A tetrahedron's is a quarter of the way up from its base.
	diagonal := v(1, 1, 1).Normalize()
	got, _ = s.Below(diagonal, v(40, 0, 0).Dot(diagonal)).Middle()
	assert.InDelta(t, 0, got.Sub(v(10, 10, 10)).Norm(), 1e-9)
}

// round is an opening in the top or a side of a box, square to n.
func round(middle, n r3.Vector, radius float64) Opening {
	e := n.Ortho()
	return Opening{Middle: middle, Half: [2]r3.Vector{e.Mul(radius), n.Cross(e).Mul(radius)}}
}

func TestAirThatANeckCannotLetOut(t *testing.T) {
	s := Box(v(0, 0, 0), v(200, 100, 80))
	neck := round(v(50, 100, 40), upright, 20)
	// Level: the neck is in the top, which is level, so nothing is trapped.
	_, air := s.Filled(upright, neck)
	assert.InDelta(t, 0, air, 1e-6)
	assert.InDelta(t, 0, s.Over(upright, neck), 1e-9)
	// Leaned 10 degrees toward +x, the left end goes up: air stays in a wedge over
	// the rim's highest point, at x = 30.
	a := degrees(10)
	up := Lean(upright, v(1, 0, 0), a)
	_, air = s.Filled(up, neck)
	assert.InDelta(t, 30*30*math.Tan(a)/2*80, air, 1e-6)
	assert.InDelta(t, 30*math.Sin(a), s.Over(up, neck), 1e-9)
	// The other way the right end goes up: over x = 70, to where it meets the
	// bottom or not: 130 tan 10 = 22.9 of 100, a wedge.
	up = Lean(upright, v(-1, 0, 0), a)
	_, air = s.Filled(up, neck)
	assert.InDelta(t, 130*130*math.Tan(a)/2*80, air, 1e-6)
	// A vent at the right end lets most of it out.
	_, less := s.Filled(up, neck, round(v(195, 100, 40), upright, 3))
	assert.InDelta(t, 2*2*math.Tan(a)/2*80, less, 1e-6)
	// A neck in the right side, its rim up to 90: ten millimetres stay, level.
	_, air = s.Filled(upright, round(v(200, 75, 40), v(1, 0, 0), 15))
	assert.InDelta(t, 10*200*80, air, 1e-6)
}

func TestWhatAnOutletLeaves(t *testing.T) {
	s := Box(v(0, 0, 0), v(200, 100, 80))
	outlet := round(v(200, 20, 40), v(1, 0, 0), 8)
	assert.InDelta(t, 12*200*80, s.Left(upright, outlet), 1e-6)
	assert.InDelta(t, 0, s.Left(upright, round(v(100, 0, 40), upright, 8)), 1e-9)
	// The surface of 85 % stands at 85, the outlet's top at 28.
	assert.InDelta(t, 57, s.Depth(upright, 0.85*s.Volume(), outlet), 1e-9)
}

// In a two-dimensional lean with the surface on both end walls it turns about the
// middle of the box: 100 tan(lean) down at the right wall.
func TestLeanThatUncoversAnOutlet(t *testing.T) {
	s := Box(v(0, 0, 0), v(200, 100, 80))
	half := 0.5 * s.Volume()
	outlet := round(v(200, 20, 40), v(1, 0, 0), 8)
	got, ok := s.Uncovered(upright, v(-1, 0, 0), half, outlet)
	require.True(t, ok)
	// tan = (50 - 28) / 100.
	assert.InDelta(t, 0, s.Depth(Lean(upright, v(-1, 0, 0), got), half, outlet), leanWithin*s.from(outlet))
	assert.InDelta(t, math.Atan(0.22), got, 2*leanWithin)
	assert.LessOrEqual(t, got, math.Atan(0.22))
	// Toward the outlet it goes under deeper, and comes up at no lean.
	_, ok = s.Uncovered(upright, v(1, 0, 0), half, outlet)
	assert.False(t, ok)
	// One that is uncovered level says so.
	got, ok = s.Uncovered(upright, v(1, 0, 0), 0.1*s.Volume(), outlet)
	require.True(t, ok)
	assert.Zero(t, got)
}

// The law that Uncovered and Least rest on.
func TestBoundsOverALean(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 1))
	s := Box(v(0, 0, 0), v(200, 100, 80))
	outlet := round(v(200, 20, 40), v(1, 0, 0), 8)
	for range 3000 {
		up := v(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Normalize()
		other := up.Add(v(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Mul(0.03)).Normalize()
		angle := float64(up.Angle(other))
		volume := (0.05 + 0.9*r.Float64()) * s.Volume()
		a, b := s.Depth(up, volume, outlet), s.Depth(other, volume, outlet)
		require.LessOrEqual(t, s.DepthAtLeast(up, angle, volume, outlet), b+1e-9)
		require.InDelta(t, a, s.DepthAtLeast(up, 0, volume, outlet), 1e-12)
		_, air := s.Filled(other, outlet)
		require.LessOrEqual(t, air, s.AirAtMost(up, angle, outlet)+1e-6)
		require.LessOrEqual(t, s.Left(other, outlet), s.LeftAtMost(up, angle, outlet)+1e-6)
	}
}

func TestLeastOverALean(t *testing.T) {
	// by is a function that changes by no more than rate for each radian.
	by := func(rate float64, f func(a, b float64) float64) Leaning {
		return Leaning{f, func(a, b, turn float64) float64 { return f(a, b) - rate*turn }}
	}
	f := func(a, b float64) float64 { return 3*math.Hypot(a-0.1, b+0.05) - 1 }
	atLeast, found, a, b := Least(Range{0.3, 0.2}, 1e-3, by(3, f))
	assert.InDelta(t, -1, found, 1e-3)
	assert.LessOrEqual(t, atLeast, -1.0)
	assert.InDelta(t, 0.1, a, 2e-3)
	assert.InDelta(t, -0.05, b, 2e-3)
	// Corners are reached but for the tolerance; a range of nothing is its middle.
	atLeast, found, _, _ = Least(Range{0.3, 0.2}, 1e-3, by(2, func(a, b float64) float64 { return a + b }))
	assert.InDelta(t, -0.5, found, 1e-3)
	assert.LessOrEqual(t, atLeast, -0.5+1e-12)
	atLeast, found, _, _ = Least(Range{}, 1e-3, by(1, f))
	assert.Equal(t, f(0, 0), found)
	assert.Equal(t, f(0, 0), atLeast)
}

// The most air, and the most that is left, over leans about both axes: no less than at
// any of a fine grid, and not much more.
func TestWorstLeanAgainstAGrid(t *testing.T) {
	s := Box(v(2, 2, 2), v(218, 148, 93))
	whole := s.Volume()
	neck, outlet := round(v(60, 148, 48), upright, 19), round(v(218, 32, 45), v(1, 0, 0), 8)
	leaned := func(a, b float64) r3.Vector { return Lean(Lean(upright, v(0, 0, 1), a), v(1, 0, 0), b) }
	for name, q := range map[string]Leaning{
		"air": {
			func(a, b float64) float64 { _, air := s.Filled(leaned(a, b), neck); return -air / whole },
			func(a, b, turn float64) float64 { return -s.AirAtMost(leaned(a, b), turn, neck) / whole },
		},
		"left": {
			func(a, b float64) float64 { return -s.Left(leaned(a, b), outlet) / whole },
			func(a, b, turn float64) float64 { return -s.LeftAtMost(leaned(a, b), turn, outlet) / whole },
		},
	} {
		r := Range{degrees(10), degrees(20)}
		atLeast, found, _, _ := Least(r, 0.002, q)
		grid := 0.0
		for i := -20.0; i <= 20; i++ {
			for k := -20.0; k <= 20; k++ {
				grid = math.Min(grid, q.At(r[0]*i/20, r[1]*k/20))
			}
		}
		assert.LessOrEqual(t, atLeast, grid+1e-9, name)
		assert.InDelta(t, grid, atLeast, 0.0025, name)
		assert.InDelta(t, atLeast, found, 0.002+1e-12, name)
	}
}

// A tank with its filler in the top, leaned ten degrees: how much air stays?
func ExampleSpace_Filled() {
	tank := Box(r3.Vector{}, r3.Vector{X: 200, Y: 100, Z: 80})
	neck := Opening{Middle: r3.Vector{X: 50, Y: 100, Z: 40}, Half: [2]r3.Vector{{X: 20}, {Z: 20}}}
	up := Lean(r3.Vector{Y: 1}, r3.Vector{X: 1}, 10*math.Pi/180)
	_, air := tank.Filled(up, neck)
	fmt.Printf("%.1f ml\n", air/1000)
	// Output:
	// 6.3 ml
}

func BenchmarkDepth(b *testing.B) {
	s := Box(v(0, 0, 0), v(200, 100, 80))
	outlet := round(v(200, 20, 40), v(1, 0, 0), 8)
	up := Lean(upright, v(0.6, 0, 0.8), 0.3)
	for b.Loop() {
		s.Depth(up, 1e6, outlet)
	}
}
