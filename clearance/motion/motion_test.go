package motion_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/clearance/motion"
	"elbowroom/solid/shape"
)

func v(x, y, z float64) r3.Vector { return r3.Vector{X: x, Y: y, Z: z} }

const degree = math.Pi / 180

func turn(t *testing.T, from, toward r3.Vector, least, most float64) motion.Joint {
	t.Helper()
	j, ok := motion.Turn(from, toward, least, most)
	require.True(t, ok)
	return j
}

func box(corner, size r3.Vector) shape.Box {
	return shape.Box{Corner: corner, Edges: [3]r3.Vector{v(size.X, 0, 0), v(0, size.Y, 0), v(0, 0, size.Z)}}
}

// block is a box as a hull of its corners.
func block(corner, size r3.Vector) shape.Hull {
	var h shape.Hull
	for k := range 8 {
		h.Points = append(h.Points, corner.Add(v(size.X*float64(k&1), size.Y*float64(k>>1&1), size.Z*float64(k>>2&1))))
	}
	return h
}

func point(at r3.Vector) shape.Hull { return shape.Hull{Points: []r3.Vector{at}} }

// least asks and holds the bound against what was found.
func least(t *testing.T, still shape.Convex, piece shape.Convex, joints ...motion.Joint) motion.Found {
	t.Helper()
	f, ok := motion.Least([]motion.Still{motion.Solid(still)}, []shape.Convex{piece}, joints, motion.Options{})
	require.True(t, ok)
	assert.LessOrEqual(t, f.Lower, f.Nearest.Signed)
	assert.GreaterOrEqual(t, f.Lower, f.Nearest.Signed-0.01)
	at := shape.Distance(still, motion.Moved(piece, motion.Chain(joints).At(f.At)))
	assert.InDelta(t, at.Signed, f.Nearest.Signed, 1e-9, "what was found is at that position")
	for i, j := range joints {
		assert.True(t, f.At[i] >= j.From-1e-12 && f.At[i] <= j.To+1e-12)
	}
	return f
}

// A point on a circle of radius 100 about z, against a slab whose near face is the
// plane x = 150: 150 - 100 cos(60 deg - t).
func TestPointOnACircleAgainstAPlane(t *testing.T) {
	slab := box(v(150, -500, -500), v(50, 1000, 1000))
	p := point(v(50, 50*math.Sqrt(3), 7))
	for _, test := range []struct{ from, to, want, at float64 }{
		{0, 0, 100, 0},
		{-10, 10, 150 - 100*math.Cos(50*degree), -10},
		{-50, 3, 150 - 100*math.Cos(10*degree), -50},
		{-90, 40, 50, -60},
		{0, 200, 100, 0},                                     // away, and not yet round
		{0, 280, 150 - 100*math.Cos(20*degree), 280},         // more than half way round
		{0, 360, 50, 300},                                    // all round
		{-1000, 1000, 50, math.NaN()},                        // several times round
		{-170, -160, 150 - 100*math.Cos(100*degree), -160.0}, // never mind that it leaves rest out
	} {
		f := least(t, slab, p, turn(t, v(0, 0, -3), v(0, 0, 20), test.from*degree, test.to*degree))
		assert.InDelta(t, test.want, f.Nearest.Signed, 2e-6, "%v", test)
		if !math.IsNaN(test.at) {
			assert.InDelta(t, test.at, f.At[0]/degree, 2e-2, "%v", test)
		}
	}
}

// A block beside a wall, turned about an edge square to the wall's normal: its far
// corner sweeps an arc of the diagonal's radius.
func TestBoxCornerSweeps(t *testing.T) {
	const wide, high = 30.0, 40.0 // diagonal 50
	b := block(v(0, 0, 0), v(wide, high, 25))
	wall := box(v(60, -300, -300), v(10, 600, 600))
	hinge := func(from, to float64) motion.Joint {
		return turn(t, v(0, 0, 0), v(0, 0, 1), from*degree, to*degree)
	}
	at := math.Atan2(high, wide) / degree
	// Turned clockwise by the diagonal's own angle, the corner is at x = 50.
	f := least(t, wall, b, hinge(-90, 0))
	assert.InDelta(t, 10, f.Nearest.Signed, 2e-6)
	assert.InDelta(t, -at, f.At[0]/degree, 0.02)
	// Not so far: the corner is still on its way.
	f = least(t, wall, b, hinge(-20, 0))
	assert.InDelta(t, 60-50*math.Cos((at-20)*degree), f.Nearest.Signed, 2e-6)
	// Grown by a radius, it comes so much nearer everywhere.
	b.Grow = 4
	assert.InDelta(t, 6, least(t, wall, b, hinge(-90, 0)).Nearest.Signed, 2e-6)
	// A wall nearer than the diagonal: the corner dips in by as much.
	near := box(v(40, -300, -300), v(100, 600, 600))
	assert.InDelta(t, -14, least(t, near, b, hinge(-90, 0)).Nearest.Signed, 2e-6)
}

// A lid on its hinge, solid above without end, over a cap: a flat through the hinge at
// an angle below the level. The cap's far top corner is the one it comes down on.
func TestLidWithAllBehindIt(t *testing.T) {
	lid := shape.Hull{Points: []r3.Vector{v(0, 0, -200), v(0, 0, 200), v(300, 0, -200), v(300, 0, 200)}, Behind: v(0, 1, 0)}
	cap := box(v(100, -80, -50), v(100, 30, 100)) // top at y = -50
	hinge := func(from, to float64) motion.Joint { return turn(t, v(0, 0, 0), v(0, 0, 1), from*degree, to*degree) }
	for _, down := range []float64{1, 5, 10, 14, 20} {
		f := least(t, cap, lid, hinge(-down, 0))
		// The corner (200, -50) from the line at -down degrees through the hinge.
		want := 50*math.Cos(down*degree) - 200*math.Sin(down*degree)
		assert.InDelta(t, want, f.Nearest.Signed, 2e-6, "%v degrees", down)
		assert.InDelta(t, -down, f.At[0]/degree, 1e-3)
	}
	// Opened by 90 degrees all behind it is to the left, x <= 0; past that it comes
	// down over what is under the hinge.
	f := least(t, cap, lid, hinge(0, 90))
	assert.InDelta(t, 50, f.Nearest.Signed, 2e-6)
	f = least(t, cap, lid, hinge(0, 178))
	want := 0.0 // the lid's edge at 178 degrees, its far side down: cap is beside the ray from the hinge
	for k := range 100_001 {
		p := motion.Chain{hinge(0, 178)}.At([]float64{178 * degree * float64(k) / 100_000})
		if d := shape.Distance(cap, motion.Moved(lid, p)).Signed; k == 0 || d < want {
			want = d
		}
	}
	assert.InDelta(t, want, f.Nearest.Signed, 1e-3)
}

// Slides have closed forms: the least over a slide is that to the room swept.
func TestSlideIsTheSweptHull(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		still, piece := someShape(random), someHull(random)
		along := someWay(random)
		from, to := -100*random.Float64(), 100*random.Float64()
		swept := shape.Hull{Grow: piece.Grow}
		for _, p := range piece.Points {
			swept.Points = append(swept.Points, p.Add(along.Mul(from)), p.Add(along.Mul(to)))
		}
		want := shape.Distance(still, swept).Signed
		got := least(t, still, piece, motion.Slide(along, from, to))
		if want > 0 {
			assert.InDelta(t, want, got.Nearest.Signed, 2e-6)
		} else {
			assert.LessOrEqual(t, got.Lower, reach)
		}
		assert.Less(t, got.Distances, 300)
	}
}

// reach is how near a limit counts as reaching it, mm.
const reach = 1e-6

func someWay(r *rand.Rand) r3.Vector {
	return v(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Normalize()
}

func someHull(r *rand.Rand) shape.Hull {
	middle := someWay(r).Mul(60 + 200*r.Float64())
	var h shape.Hull
	for range 1 + r.IntN(6) {
		h.Points = append(h.Points, middle.Add(someWay(r).Mul(80*r.Float64())))
	}
	if r.IntN(2) == 0 {
		h.Grow = 10 * r.Float64()
	}
	return h
}

func someShape(r *rand.Rand) shape.Convex {
	x := someWay(r)
	z := x.Cross(someWay(r)).Normalize()
	y := z.Cross(x)
	size := v(20+80*r.Float64(), 20+80*r.Float64(), 20+80*r.Float64())
	if r.IntN(2) == 0 {
		return shape.Cylinder{Foot: z.Mul(-size.Z / 2), Axis: z.Mul(size.Z), Across: size.X / 2}
	}
	corner := x.Mul(-size.X / 2).Add(y.Mul(-size.Y / 2)).Add(z.Mul(-size.Z / 2))
	return shape.Box{Corner: corner, Edges: [3]r3.Vector{x.Mul(size.X), y.Mul(size.Y), z.Mul(size.Z)}}
}

// someChain has one to three joints, turns up to more than half way round.
func someChain(r *rand.Rand, joints int) motion.Chain {
	var c motion.Chain
	for range joints {
		from, to := -r.Float64(), r.Float64()
		if r.IntN(3) == 0 {
			c = append(c, motion.Slide(someWay(r), from*60, to*60))
			continue
		}
		on := someWay(r).Mul(150 * r.Float64())
		wide := math.Pow(r.Float64(), 2) * 2 * math.Pi / float64(joints)
		j, _ := motion.Turn(on, on.Add(someWay(r).Mul(40)), from*wide, to*wide)
		c = append(c, j)
	}
	return c
}

// Dense sampling as an oracle: nothing that is sampled is ever below the bound, and
// what was found is no higher than the samples.
func TestLeastAgainstSampling(t *testing.T) {
	if testing.Short() {
		t.Skip("it reckons long, one thing after the other")
	}
	random := rand.New(rand.NewPCG(3, 4))
	for n := range 120 {
		joints := 1 + n%3
		still, c := someShape(random), someChain(random, joints)
		piece := someHull(random)
		if n%4 == 3 {
			piece.Behind = someWay(random)
		}
		f := least(t, still, piece, c...)
		sampled := sample(still, piece, c, [...]int{0, 2000, 45, 13}[joints])
		assert.GreaterOrEqual(t, sampled, f.Lower-1e-9, "scene %d: a sample is below the bound", n)
		assert.LessOrEqual(t, f.Nearest.Signed, sampled+0.01, "scene %d: a sample is below what was found", n)
	}
}

func sample(still, piece shape.Convex, c motion.Chain, steps int) float64 {
	least := math.Inf(1)
	at := make([]float64, len(c))
	var all func(k int)
	all = func(k int) {
		if k == len(c) {
			least = math.Min(least, shape.Distance(still, motion.Moved(piece, c.At(at))).Signed)
			return
		}
		for i := range steps + 1 {
			at[k] = c[k].From + (c[k].To-c[k].From)*float64(i)/float64(steps)
			all(k + 1)
		}
	}
	all(0)
	return least
}
