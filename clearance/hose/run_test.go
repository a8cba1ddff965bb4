package hose

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
)

func v(x, y, z float64) r3.Vector { return r3.Vector{X: x, Y: y, Z: z} }

// A bend length on a published hose page: outside diameter 70 mm, radius to the
// inside of the bend 450 mm, 90 degrees: 762 mm.
func TestBendLengthOfAHoseTable(t *testing.T) {
	const radius = 450 + 35
	r := Round([]r3.Vector{v(0, 0, 0), v(radius, 0, 0), v(radius, radius, 0)}, 0)
	assert.InDelta(t, 762, r.Length(), 0.5)
	least, at, ok := r.Least()
	assert.True(t, ok)
	assert.Equal(t, 1, at)
	assert.InDelta(t, radius, least, 1e-9)
}

// A hose maker's length page: radius to the centre line 334 mm, 90 degrees,
// legs of 400 and 600 mm to the end faces: bent 525, total 857 mm.
func TestLengthOfABentHose(t *testing.T) {
	r := Round([]r3.Vector{v(0, 0, 0), v(400, 0, 0), v(400, 600, 0)}, 400-334)
	least, _, _ := r.Least()
	assert.InDelta(t, 334, least, 1e-9)
	assert.InDelta(t, 525, least*r.Bends[1].Turn, 0.5)
	assert.InDelta(t, 857, r.Length(), 0.5)
}

func TestStraightRunHasNoBend(t *testing.T) {
	for _, points := range [][]r3.Vector{
		nil, {v(1, 2, 3)}, {v(0, 0, 0), v(10, 0, 0)}, {v(0, 0, 0), v(10, 0, 0), v(30, 0, 0)},
	} {
		r := Round(points, 0)
		_, _, ok := r.Least()
		assert.False(t, ok)
	}
	assert.InDelta(t, 30, Round([]r3.Vector{v(0, 0, 0), v(10, 0, 0), v(30, 0, 0)}, 0).Length(), 1e-12)
}

func TestDoublingBackHasNoRadius(t *testing.T) {
	least, _, ok := Round([]r3.Vector{v(0, 0, 0), v(10, 0, 0), v(0, 0, 0)}, 0).Least()
	assert.True(t, ok)
	assert.InDelta(t, 0, least, 1e-9)
}

func TestNoRoomBeforeTheFirstBend(t *testing.T) {
	least, _, ok := Round([]r3.Vector{v(0, 0, 0), v(10, 0, 0), v(10, 50, 0)}, 20).Least()
	assert.True(t, ok)
	assert.Zero(t, least)
}

// random is a run through n points.
func random(rng *rand.Rand, n int) []r3.Vector {
	points := []r3.Vector{{}}
	for len(points) < n {
		step := v(rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()).Mul(60)
		points = append(points, points[len(points)-1].Add(step))
	}
	return points
}

// The bends use up no more of a leg than it has, every bend that could be wider
// is held by a leg that is used up, and no common radius over the least fits.
func TestBendsAreAsWideAsTheLegsAllow(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for trial := 0; trial < 2000; trial++ {
		points := random(rng, 3+trial%6)
		straight := 5 * rng.Float64()
		r := Round(points, straight)
		n := len(points)
		slack := make([]float64, n-1)
		for k := range slack {
			slack[k] = points[k+1].Sub(points[k]).Norm() - r.Bends[k].Back - r.Bends[k+1].Back
			if k == 0 {
				slack[k] -= straight
			}
			if k == n-2 {
				slack[k] -= straight
			}
			if r.Bends[k].Back+r.Bends[k+1].Back > 0 {
				assert.Greater(t, slack[k], -1e-9)
			}
		}
		for i := 1; i+1 < n; i++ {
			held := math.Min(slack[i-1], slack[i])
			assert.Less(t, held, 1e-9, "bend %d could be wider", i)
		}
	}
}

// The traced centre line is smooth, ends where the run ends, and has the
// length that Length says.
func TestTraceFollowsTheRun(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for trial := 0; trial < 50; trial++ {
		points := random(rng, 5)
		r := Round(points, 1)
		line := r.Trace(1e-6)
		length := 0.0
		for i := 1; i < len(line); i++ {
			length += line[i].Sub(line[i-1]).Norm()
		}
		assert.InDelta(t, r.Length(), length, 1e-3)
		assert.Equal(t, points[0], line[0])
		assert.Equal(t, points[4], line[len(line)-1])
	}
}

func TestNoiseOfThreeEvenMarks(t *testing.T) {
	assert.InDelta(t, math.Sqrt(6)*1.5/(40*40), Noise(1.5, 40, 40), 1e-15)
	h := Spacing(1, 100)
	assert.InDelta(t, 40.4, h, 0.05) // R 100, sigma 1: about 40 mm (own calculation)
	assert.False(t, TooNoisy(1, h*1.001, h*1.001, 100))
	assert.True(t, TooNoisy(1, h*0.999, h*0.999, 100))
}

// Marks on a circle of 100 mm, each off by 1 mm at random: the least radius of
// several marks comes out low. At the spacing that is asked for it must be low
// by less than a fifth in the middle of 400 trials; at half of it by a third or
// more, which is why closer marks are refused.
func TestCloserMarksMakeAFalseAlarm(t *testing.T) {
	const radius, sigma = 100.0, 1.0
	median := func(h float64) float64 {
		rng := rand.New(rand.NewPCG(5, 6))
		var least []float64
		for trial := 0; trial < 400; trial++ {
			var points []r3.Vector
			for s := 0.0; s <= radius*math.Pi/2; s += h {
				sin, cos := math.Sincos(s / radius)
				points = append(points, v(radius*sin, radius*cos, 0).Add(v(rng.NormFloat64(), rng.NormFloat64(), 0).Mul(sigma)))
			}
			curvature := 0.0
			for i := 1; i+1 < len(points); i++ {
				a, b := points[i].Sub(points[i-1]), points[i+1].Sub(points[i])
				curvature = math.Max(curvature, a.Angle(b).Radians()*2/(a.Norm()+b.Norm()))
			}
			least = append(least, 1/curvature)
		}
		return quantile(least, 0.5)
	}
	asked := Spacing(sigma, radius)
	assert.Greater(t, median(asked), 0.8*radius)
	assert.Less(t, median(asked/2), 0.67*radius)
}

func quantile(list []float64, q float64) float64 {
	sorted := append([]float64(nil), list...)
	for i := range sorted {
		for j := i + 1; j < len(sorted); j++ {
			if sorted[j] < sorted[i] {
				sorted[i], sorted[j] = sorted[j], sorted[i]
			}
		}
	}
	return sorted[int(q*float64(len(sorted)))]
}
