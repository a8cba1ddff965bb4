package hose

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func heading(deg float64) r3.Vector {
	sin, cos := math.Sincos(deg * math.Pi / 180)
	return v(cos, sin, 0)
}

// Lengths of an own calculation that was held against the textbook planar words.
func TestShortestRuns(t *testing.T) {
	x := v(1, 0, 0)
	for _, c := range []struct {
		name   string
		ends   Ends
		length float64
	}{
		{"straight on", Ends{v(0, 0, 0), x, v(10, 0, 0), x}, 10},
		{"return bend with a straight", Ends{v(0, 0, 0), x, v(0, 4, 0), v(-1, 0, 0)}, 5.141592654},
		{"half circle", Ends{v(0, 0, 0), x, v(0, 2, 0), v(-1, 0, 0)}, math.Pi},
		{"half circle, then straight back", Ends{v(0, 0, 0), x, v(-5, 2, 0), v(-1, 0, 0)}, math.Pi + 5},
		{"out of the plane", Ends{v(0, 0, 0), x, v(6, 4, 3), v(0, 0, 1)}, 8.139832136},
		{"up and down", Ends{v(0, 0, 0), v(0, 0, 1), v(5, 5, 0), v(0, 0, -1)}, 8.212660465},
		{"back on itself", Ends{v(0, 0, 0), x, v(3, 3, 3), v(-1, 0, 0)}, 6.887181693},
		// github.com/kaarthiksundar/Dubins.jl, test/test1.jl: 8.2725
		{"published", Ends{v(0, 0, 0), x, v(5, 0, 0), heading(3 * 180 / math.Pi)}, 8.272519},
	} {
		runs := Shortest(c.ends, Limits{Radius: 1})
		require.NotEmpty(t, runs, c.name)
		assert.InDelta(t, c.length, runs[0].Length(), 2e-6, c.name)
		holds(t, runs, c.ends, Limits{Radius: 1})
	}
	runs := Shortest(Ends{v(0, 0, 0), x, v(6, 4, 3), v(0, 0, 1)}, Limits{Radius: 1})
	assert.InDelta(t, 0.684088468, runs[0].Bends[1].Turn, 1e-8)
	assert.InDelta(t, 1.252899715, runs[0].Bends[2].Turn, 1e-8)
	assert.InDelta(t, 6.202843952, runs[0].Bends[2].From.Sub(runs[0].Bends[1].To).Norm(), 1e-8)
}

// holds checks runs by going along them.
func holds(t *testing.T, runs []Run, e Ends, l Limits) {
	t.Helper()
	for i, r := range runs {
		if i > 0 {
			assert.GreaterOrEqual(t, r.Length(), runs[i-1].Length())
		}
		walk := forward(e.From, e.Leave, r)
		assert.Less(t, walk.at.Sub(e.To).Norm(), 1e-7*(1+e.To.Norm()), "it ends at its end")
		assert.Less(t, walk.way.Sub(e.Arrive).Norm(), 1e-7, "it arrives in its direction")
		assert.InDelta(t, r.Length(), walk.length, 1e-7*(1+r.Length()))
		assert.GreaterOrEqual(t, walk.first, l.Straight-1e-7)
		assert.GreaterOrEqual(t, walk.last, l.Straight-1e-7)
		for _, b := range r.Bends[1 : len(r.Bends)-1] {
			assert.InEpsilon(t, l.Radius, b.Radius, 1e-12)
		}
	}
}

// walker goes along a run by its own figures alone: straight, then an arc of the
// bend's radius and angle in the plane of its legs.
type walker struct {
	at, way             r3.Vector
	length, first, last float64
}

func forward(at, way r3.Vector, r Run) walker {
	w := walker{at: at, way: way}
	for i := 1; i < len(r.Points); i++ {
		b := r.Bends[i]
		ahead := b.From.Sub(w.at).Dot(w.way)
		w.at, w.length, w.last = w.at.Add(w.way.Mul(ahead)), w.length+ahead, ahead
		if i == 1 {
			w.first = ahead
		}
		if b.Turn == 0 {
			continue
		}
		out := b.To.Sub(r.Points[i])
		side := out.Sub(w.way.Mul(out.Dot(w.way))).Normalize()
		sin, cos := math.Sincos(b.Turn)
		w.at = w.at.Add(w.way.Mul(b.Radius * sin)).Add(side.Mul(b.Radius * (1 - cos)))
		w.way = w.way.Mul(cos).Add(side.Mul(sin))
		w.length += b.Radius * b.Turn
	}
	return w
}

func unitVector(rng *rand.Rand) r3.Vector {
	return v(rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()).Normalize()
}

// What starts ten times as many find, the few find too.
func TestStartsMissNoRun(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	many := spiral(240)
	trials := 500
	if testing.Short() {
		trials = 100
	}
	for range trials {
		e := Ends{v(0, 0, 0), unitVector(rng), unitVector(rng).Mul(1 + 6*rng.Float64()), unitVector(rng)}
		l := Limits{Radius: 1}
		got := Shortest(e, l)
		holds(t, got, e, l)
		p := link{from: newPort(e.From, e.Leave, 1), to: newPort(e.To, e.Arrive.Mul(-1), 1), radius: 1}
		for _, way := range many {
			if j, ok := p.solve(p.start(way), math.Pi); ok {
				assert.True(t, has(got, j.first.angle()+j.last.angle()+j.straight), "%v", e)
			}
		}
	}
}

func BenchmarkShortest(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 1))
	for b.Loop() {
		e := Ends{v(0, 0, 0), unitVector(rng), unitVector(rng).Mul(200), unitVector(rng)}
		Shortest(e, Limits{Radius: 60, Straight: 10})
	}
}
