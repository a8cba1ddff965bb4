package clearance

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"

	"elbowroom/solid/shape"
)

func dot(at r3.Vector) sight { return hullSight([]r3.Vector{at}, 0) }

func hiddenAmong(lo, hi r3.Vector, evidence []sight) (float64, r3.Vector) {
	var all []int32
	for i := range evidence {
		all = append(all, int32(i))
	}
	return hidden(lo, hi, evidence, all, hiddenShare)
}

// The farthest place of a square from its corners is its middle; from one
// corner, the opposite one.
func TestHiddenAmongKnownPoints(t *testing.T) {
	lo, hi := v(0, 0, 0), v(100, 100, 0)
	corners := []sight{dot(v(0, 0, 0)), dot(v(100, 0, 0)), dot(v(0, 100, 0)), dot(v(100, 100, 0))}
	d, at := hiddenAmong(lo, hi, corners)
	assert.InDelta(t, 100*math.Sqrt2, d, hiddenShare*100*math.Sqrt2)
	assert.InDelta(t, 0, at.Sub(v(50, 50, 0)).Norm(), 5)
	d, _ = hiddenAmong(lo, hi, corners[:1])
	assert.InDelta(t, 200*math.Sqrt2, d, hiddenShare*200*math.Sqrt2)
	d, _ = hiddenAmong(lo, hi, nil)
	assert.True(t, math.IsInf(d, 1))
}

// A taut line across the middle halves what can hide; a slab over all leaves nothing.
func TestHiddenBesideALine(t *testing.T) {
	lo, hi := v(0, 0, 0), v(100, 60, 0)
	line := hullSight([]r3.Vector{v(-50, 30, 0), v(150, 30, 0)}, 2)
	d, _ := hiddenAmong(lo, hi, []sight{line})
	assert.InDelta(t, 2*(30-2), d, hiddenShare*2*(30-2))
	tried := shape.Box{Corner: v(-1, -1, -1), Edges: [3]r3.Vector{{X: 102}, {Y: 62}, {Z: 2}}}
	all := sight{solid: tried}
	all.middle, all.radius = tried.Bounds()
	d, _ = hiddenAmong(lo, hi, []sight{line, all})
	assert.Zero(t, d)
}

// Against a fine grid of middles: never smaller than what the grid finds, and
// larger by no more than the grid's spacing and the stated bound.
func TestHiddenAgainstAGrid(t *testing.T) {
	rng := rand.New(rand.NewPCG(41, 42))
	for trial := 0; trial < 20; trial++ {
		lo, hi := v(0, 0, 0), v(150, 80, 6)
		var points []r3.Vector
		var evidence []sight
		for i := 0; i < 1+trial*2; i++ {
			points = append(points, v(200*rng.Float64()-25, 130*rng.Float64()-25, 40*rng.Float64()-17))
			evidence = append(evidence, dot(points[i]))
		}
		got, at := hiddenAmong(lo, hi, evidence)
		most := 0.0
		for x := 0.0; x <= 150; x += 2 {
			for y := 0.0; y <= 80; y += 2 {
				for z := 0.0; z <= 6; z += 2 {
					most = math.Max(most, nearestOf(points, v(x, y, z)))
				}
			}
		}
		assert.GreaterOrEqual(t, got, 2*most)
		within := math.Max(hiddenWithin, hiddenShare*got)
		assert.LessOrEqual(t, got, 2*(most+math.Sqrt(3))+within)
		assert.InDelta(t, got, 2*nearestOf(points, at), within+1e-9, "the place that is named has the ball")
	}
}

func nearestOf(points []r3.Vector, at r3.Vector) float64 {
	nearest := math.Inf(1)
	for _, p := range points {
		nearest = math.Min(nearest, p.Sub(at).Norm())
	}
	return nearest
}

// The closed forms against the kernel, degenerate pieces among them.
func TestOffAgainstTheKernel(t *testing.T) {
	rng := rand.New(rand.NewPCG(43, 44))
	random := func() r3.Vector { return v(rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()).Mul(50) }
	for trial := 0; trial < 3000; trial++ {
		var points []r3.Vector
		for range 1 + trial%4 {
			points = append(points, random())
		}
		if trial%7 == 0 {
			points[len(points)-1] = points[0] // a needle, or a point twice
		}
		s := hullSight(points, float64(trial%3))
		at := random()
		want := shape.Distance(shape.Hull{Points: []r3.Vector{at}}, s.solid).Signed
		assert.InDelta(t, want, s.off(at), 1e-9)
	}
}
