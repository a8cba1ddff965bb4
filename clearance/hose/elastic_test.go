package hose

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A rod of half a circle's length between ends half a circle apart is a half circle.
// The error of its least radius falls by four with each doubling of the parts.
func TestRodRestsInAHalfCircle(t *testing.T) {
	if testing.Short() {
		t.Skip("it reckons long, one thing after the other")
	}
	e := Ends{v(0, 0, 0), v(1, 0, 0), v(0, 160, 0), v(-1, 0, 0)}
	var off []float64
	for i, parts := range []int{32, 64, 128, 256} {
		shapes := Rest(e, 80*math.Pi, parts)
		require.NotEmpty(t, shapes)
		off = append(off, 80-shapes[0].Radius)
		if i > 0 {
			order := math.Log2(off[i-1] / off[i])
			assert.InDelta(t, 2, order, 0.15, "order of convergence")
		}
	}
	assert.Less(t, math.Abs(off[3]), 0.01)
}

// Two ends that face each other on one line, with some slack between.
func TestRodWithSlack(t *testing.T) {
	for _, c := range []struct{ slack, length, tolerance float64 }{
		{0.001, 200, 0.005}, {0.005, 200, 0.006}, {0.02, 200, 0.01}, {0.05, 200, 0.02}, {0.1, 200, 0.025},
	} {
		e := Ends{v(0, 0, 0), v(1, 0, 0), v(c.length*(1-c.slack), 0, 0), v(1, 0, 0)}
		shapes := Rest(e, c.length, 64)
		require.NotEmpty(t, shapes)
		assert.InEpsilon(t, SlackRadius(c.length, c.slack), shapes[0].Radius, c.tolerance, "slack %v: %v", c.slack, shapes[0].Radius/c.length)
	}
}

// What a rod of half the part size says, the coarse one says to the second order, for
// ends any way round; a rest is at its ends, of its length, and leaves them their way.
func TestRodsInSpace(t *testing.T) {
	if testing.Short() {
		t.Skip("it reckons long, one thing after the other")
	}
	rng := rand.New(rand.NewPCG(51, 52))
	for range 20 {
		e := Ends{v(0, 0, 0), unitVector(rng), unitVector(rng).Mul(200), unitVector(rng)}
		length := 200 * (1.2 + rng.Float64())
		coarse, fine := Rest(e, length, 32), Rest(e, length, 64)
		require.NotEmpty(t, coarse)
		require.NotEmpty(t, fine)
		assert.InEpsilon(t, fine[0].Energy, coarse[0].Energy, 0.04)
		assert.InEpsilon(t, fine[0].Radius, coarse[0].Radius, 0.06)
		for _, s := range fine {
			assert.Equal(t, e.From, s.Points[0])
			sum := 0.0
			for i := 1; i < len(s.Points); i++ {
				part := s.Points[i].Sub(s.Points[i-1]).Norm()
				assert.InEpsilon(t, length/64, part, 1e-6)
				sum += part
			}
			assert.InDelta(t, length, sum, 1e-5)
		}
		// The shortest run of all that bends no tighter is no longer than the rod.
		if runs := Shortest(e, Limits{Radius: fine[0].Radius * 0.98}); len(runs) > 0 && !loops(runs[0]) {
			assert.Less(t, runs[0].Length(), length)
		}
	}
}

func TestTooShortAHoseHasNoRest(t *testing.T) {
	e := Ends{v(0, 0, 0), v(1, 0, 0), v(100, 0, 0), v(1, 0, 0)}
	assert.Empty(t, Rest(e, 99, 32))
	assert.Empty(t, Rest(e, 200, 2))
}

// Mirrored, moved or seen from the other end, a rod rests in the same shape.
func TestLawsOfRods(t *testing.T) {
	e := Ends{v(1, 2, 3), v(1, 0, 0.3).Normalize(), v(120, 90, 40), v(0, -0.4, 1).Normalize()}
	want := Rest(e, 260, 32)
	require.NotEmpty(t, want)
	mirror := func(p r3.Vector) r3.Vector { p.X = -p.X; return p }
	turn := func(p r3.Vector) r3.Vector { return v(p.Y, p.Z, p.X) }
	for name, o := range map[string]Ends{
		"the other way": e.reversed(),
		"mirrored":      {mirror(e.From), mirror(e.Leave), mirror(e.To), mirror(e.Arrive)},
		"turned":        {turn(e.From), turn(e.Leave), turn(e.To), turn(e.Arrive)},
	} {
		got := Rest(o, 260, 32)
		require.NotEmpty(t, got, name)
		assert.InEpsilon(t, want[0].Energy, got[0].Energy, 1e-6, name)
		assert.InEpsilon(t, want[0].Radius, got[0].Radius, 1e-5, name)
	}
}

func BenchmarkRest(b *testing.B) {
	e := Ends{v(0, 0, 0), v(1, 0, 0), v(200, 150, 80), v(0, 0, 1)}
	for b.Loop() {
		Rest(e, 340, 32)
	}
}
