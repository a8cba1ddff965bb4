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

// world moves a whole scene by a pose.
func world(c motion.Chain, p motion.Pose) motion.Chain {
	out := append(motion.Chain(nil), c...)
	for i, j := range c {
		if j.Turns() {
			out[i].On, out[i].Axis = p.Move(j.On), p.Turn(j.Axis)
		} else {
			out[i].Along = p.Turn(j.Along)
		}
	}
	return out
}

func somePose(r *rand.Rand) motion.Pose {
	x := someWay(r)
	z := x.Cross(someWay(r)).Normalize()
	return motion.NewPose(x, z.Cross(x), z, someWay(r).Mul(500))
}

func TestRigidMotionChangesNothing(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	for n := range 60 {
		still, piece, c := someShape(random), someHull(random), someChain(random, 1+n%2)
		p := somePose(random)
		a := least(t, still, piece, c...)
		b := least(t, motion.Moved(still, p), motion.Moved(piece, p), world(c, p)...)
		// Of an overlap the depth against a cylinder is a bound, which may depend on how it lies.
		if a.Nearest.Signed > 0 {
			assert.InDelta(t, a.Nearest.Signed, b.Nearest.Signed, 1e-5, "scene %d", n)
		}
	}
}

// What moves past a thing that stands still comes as near as the thing moved the other
// way past it.
func TestMovingTheOtherWayRound(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 8))
	for n := range 60 {
		still, piece, c := someShape(random), someHull(random), someChain(random, 1+n%3)
		var back motion.Chain
		for i := len(c) - 1; i >= 0; i-- {
			j := c[i]
			j.From, j.To = -j.To, -j.From
			back = append(back, j)
		}
		a, b := least(t, still, piece, c...), least(t, piece, still, back...)
		if a.Nearest.Signed > 0 {
			assert.InDelta(t, a.Nearest.Signed, b.Nearest.Signed, 0.01, "scene %d", n)
		}
	}
}

func TestWiderRangeIsNeverFartherOff(t *testing.T) {
	random := rand.New(rand.NewPCG(9, 10))
	for n := range 60 {
		still, piece, c := someShape(random), someHull(random), someChain(random, 1+n%2)
		before := math.Inf(1)
		for _, share := range []float64{0, 0.1, 0.5, 0.9, 1, 1.5} {
			wider := append(motion.Chain(nil), c...)
			for i := range wider {
				wider[i].From *= share
				wider[i].To *= share
			}
			f := least(t, still, piece, wider...)
			assert.LessOrEqual(t, f.Lower, before+1e-9, "scene %d, %v of the range", n, share)
			if share == 0 {
				rest := shape.Distance(still, piece)
				assert.InDelta(t, rest.Signed, f.Nearest.Signed, 1e-9, "no range is at rest")
				assert.InDelta(t, rest.Signed, f.Lower, 1e-6)
			}
			before = f.Nearest.Signed
		}
	}
}

// A turn of more than a whole one is a whole one.
func TestAllTheWayRound(t *testing.T) {
	random := rand.New(rand.NewPCG(11, 12))
	for range 20 {
		still, piece := someShape(random), someHull(random)
		on := someWay(random).Mul(100)
		axis := someWay(random)
		var values []float64
		for _, to := range []float64{2 * math.Pi, 3 * math.Pi, 100} {
			j, _ := motion.Turn(on, on.Add(axis), 0, to)
			values = append(values, least(t, still, piece, j).Nearest.Signed)
		}
		assert.InDelta(t, values[0], values[1], 0.01)
		assert.InDelta(t, values[0], values[2], 0.01)
	}
}

// The least of many is the least of each; what is bounded below what there is finds
// nothing, and says that there is nothing below.
func TestManyStillsAndPieces(t *testing.T) {
	random := rand.New(rand.NewPCG(13, 14))
	for range 20 {
		c := someChain(random, 1)
		stills := []motion.Still{
			motion.Solid(someShape(random)),
			motion.Bend(shape.Arc{From: v(-60, 0, 0), Corner: v(0, 0, 0), To: v(0, 60, 0)}, 12),
		}
		pieces := []shape.Convex{someHull(random), shape.Hull{}, someHull(random)}
		all, ok := motion.Least(stills, pieces, c, motion.Options{})
		require.True(t, ok)
		one := math.Inf(1)
		for _, s := range stills {
			for _, p := range pieces {
				if f, ok := motion.Least([]motion.Still{s}, []shape.Convex{p}, c, motion.Options{}); ok {
					one = min(one, f.Nearest.Signed)
				}
			}
		}
		assert.InDelta(t, one, all.Nearest.Signed, 1e-5)
		assert.NotEqual(t, 1, all.Piece)
		at := stills[all.Still].Distance(motion.Moved(pieces[all.Piece], c.At(all.At)))
		assert.InDelta(t, all.Nearest.Signed, at.Signed, 1e-9)

		none, ok := motion.Least(stills, pieces, c, motion.Options{Below: all.Lower - 1, Bounded: true})
		assert.False(t, ok)
		assert.InDelta(t, all.Lower-1, none.Lower, 1e-5)
		some, ok := motion.Least(stills, pieces, c, motion.Options{Below: all.Nearest.Signed + 1, Bounded: true})
		assert.True(t, ok)
		assert.InDelta(t, all.Nearest.Signed, some.Nearest.Signed, 1e-5)
	}
}

// A hose's bend beside a turning rod, against dense sampling.
func TestBendAgainstSampling(t *testing.T) {
	if testing.Short() {
		t.Skip("it reckons long, one thing after the other")
	}
	random := rand.New(rand.NewPCG(15, 16))
	for n := range 30 {
		bend := motion.Bend(shape.Arc{From: someWay(random).Mul(60), Corner: v(0, 0, 0), To: someWay(random).Mul(60)}, 5+10*random.Float64())
		piece, c := someHull(random), someChain(random, 1)
		f, ok := motion.Least([]motion.Still{bend}, []shape.Convex{piece}, c, motion.Options{})
		require.True(t, ok)
		sampled := math.Inf(1)
		for i := range 2001 {
			at := []float64{c[0].From + (c[0].To-c[0].From)*float64(i)/2000}
			sampled = min(sampled, bend.Distance(motion.Moved(piece, c.At(at))).Signed)
		}
		assert.GreaterOrEqual(t, sampled, f.Lower-1e-7, "scene %d", n)
		assert.LessOrEqual(t, f.Nearest.Signed, sampled+0.01, "scene %d", n)
	}
}

// A ring turned about its own axis comes no nearer anywhere: the hard case, since no half of
// the range can be put aside before it is small.
func TestPlateau(t *testing.T) {
	disc := shape.Cylinder{Foot: v(0, 0, 0), Axis: v(0, 0, 20), Across: 300}
	post := box(v(310, -5, -50), v(10, 10, 200))
	f := least(t, post, disc, turn(t, v(0, 0, -1), v(0, 0, 1), -math.Pi, math.Pi))
	assert.InDelta(t, 10, f.Nearest.Signed, 1e-6)
	assert.Less(t, f.Distances, 5000)
	assert.Equal(t, 0.0, f.At[0], "of positions that are alike, rest")
}

func TestSearchThatIsCutOffSaysWhatIsProven(t *testing.T) {
	random := rand.New(rand.NewPCG(17, 18))
	for range 30 {
		still, piece, c := someShape(random), someHull(random), someChain(random, 3)
		short, ok := motion.Least([]motion.Still{motion.Solid(still)}, []shape.Convex{piece}, c, motion.Options{Most: 20})
		require.True(t, ok)
		long := least(t, still, piece, c...)
		assert.LessOrEqual(t, short.Distances, 22)
		assert.LessOrEqual(t, short.Lower, long.Nearest.Signed+1e-9)
		assert.GreaterOrEqual(t, short.Nearest.Signed, long.Lower-1e-9)
	}
}

// Both without end: nothing turned can be bounded, and nothing is claimed.
func TestBothWithoutEnd(t *testing.T) {
	floor := shape.Hull{Points: []r3.Vector{v(0, 0, 0)}, Behind: v(0, -1, 0), Grow: 10}
	roof := shape.Hull{Points: []r3.Vector{v(0, 70, 0)}, Behind: v(0, 1, 0), Grow: 10}
	slide, ok := motion.Least([]motion.Still{motion.Solid(floor)}, []shape.Convex{roof}, motion.Chain{motion.Slide(v(0, 1, 0), -20, 0)}, motion.Options{})
	require.True(t, ok)
	assert.InDelta(t, 30, slide.Nearest.Signed, 1e-6)
	assert.InDelta(t, 30, slide.Lower, 1e-5)
	about, _ := motion.Turn(v(0, 0, 0), v(0, 0, 1), -math.Pi, 0)
	turned, _ := motion.Least([]motion.Still{motion.Solid(floor)}, []shape.Convex{roof}, motion.Chain{about}, motion.Options{Most: 500})
	assert.LessOrEqual(t, turned.Lower, -20.0, "the one lies in the other")
}

func TestPoses(t *testing.T) {
	random := rand.New(rand.NewPCG(19, 20))
	near := func(a, b r3.Vector) { t.Helper(); assert.InDelta(t, 0, a.Distance(b), 1e-10) }
	for range 50 {
		p, q := somePose(random), somePose(random)
		x := someWay(random).Mul(100)
		near(p.Move(q.Move(x)), p.After(q).Move(x))
		near(x, p.Back(p.Move(x)))
		near(p.TurnBack(p.Turn(x)), x)
		near(motion.Rest().Move(x), x)
		j, _ := motion.Turn(x, x.Add(someWay(random)), -1, 1)
		near(j.At(0.7).Move(x), x)
		near(j.At(0.7).Move(j.At(-0.7).Move(v(1, 2, 3))), v(1, 2, 3))
	}
	// Right-handed, looking along the axis from the first place to the second: clockwise.
	j, ok := motion.Turn(v(0, 0, 0), v(0, 0, 5), 0, math.Pi/2)
	assert.True(t, ok)
	near(j.At(math.Pi/2).Move(v(1, 0, 0)), v(0, 1, 0))
	// The innermost joint is first: slid along x, then carried round.
	c := motion.Chain{motion.Slide(v(2, 0, 0), 0, 10), j}
	near(c.At([]float64{10, math.Pi / 2}).Move(v(1, 0, 0)), v(0, 11, 0))
	_, ok = motion.Turn(v(1, 2, 3), v(1, 2, 3), 0, 1)
	assert.False(t, ok, "one place is no axis")
}

func TestZeroValues(t *testing.T) {
	_, ok := motion.Least(nil, nil, nil, motion.Options{})
	assert.False(t, ok)
	f, ok := motion.Least([]motion.Still{motion.Solid(box(v(0, 0, 0), v(1, 1, 1)))}, []shape.Convex{point(v(3, 0, 0))}, nil, motion.Options{})
	assert.True(t, ok)
	assert.InDelta(t, 2, f.Nearest.Signed, 1e-9, "without joints: at rest")
	f, ok = motion.Least([]motion.Still{motion.Solid(box(v(0, 0, 0), v(1, 1, 1)))}, []shape.Convex{point(v(3, 0, 0))}, motion.Chain{{}}, motion.Options{})
	assert.True(t, ok)
	assert.InDelta(t, 2, f.Nearest.Signed, 1e-9, "the zero joint does not move")
	assert.Equal(t, r3.Vector{}, motion.Pose{}.Move(v(1, 2, 3)))
}

// Moved shapes of every kind, one of another make among them, have the same distances.
func TestMovedShapes(t *testing.T) {
	random := rand.New(rand.NewPCG(21, 22))
	for range 40 {
		a, b, p := someShape(random), someHull(random), somePose(random)
		want := shape.Distance(a, b)
		got := shape.Distance(motion.Moved(foreign{a}, p), motion.Moved(b, p))
		if want.Signed > 0 {
			assert.InDelta(t, want.Signed, got.Signed, 1e-6)
		}
		f := least(t, b, foreign{a}, someChain(random, 1)...)
		assert.False(t, math.IsNaN(f.Lower))
	}
}

// foreign is a shape of another make.
type foreign struct{ shape.Convex }
