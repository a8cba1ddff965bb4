package hose

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/solid/shape"
)

// cluttered is a hose between two ends in the middle of boxes, rods and balls, with a
// wall behind: what a bay is like.
func cluttered(seed uint64) Wish {
	rng := rand.New(rand.NewPCG(seed, 41))
	w := Wish{
		Ends:    Ends{v(0, 0, 60), unitVector(rng), v(150+200*rng.Float64(), 100*rng.NormFloat64(), 60+100*rng.Float64()), unitVector(rng)},
		Limits:  Limits{Radius: 50 + 40*rng.Float64(), Straight: 25 * rng.Float64()},
		Outside: 18 + 15*rng.Float64(),
	}
	w.Obstacles = append(w.Obstacles, Obstacle{Gap: 10, Solid: shape.Hull{
		Points: []r3.Vector{{X: -500, Y: -500, Z: -20}, {X: 900, Y: -500, Z: -20}, {X: -500, Y: 900, Z: -20}, {X: 900, Y: 900, Z: -20}}, Behind: v(0, 0, -1)}})
	clear := func(s shape.Convex) bool { // the ends are where a hose can end
		for _, e := range [2][2]r3.Vector{{w.Ends.From, w.Ends.Leave}, {w.Ends.To, w.Ends.Arrive.Mul(-1)}} {
			out := shape.Hull{Points: []r3.Vector{e[0], e[0].Add(e[1].Mul(w.Limits.Straight + 30))}}
			if shape.Distance(out, s).Signed < w.Outside/2+12 {
				return false
			}
		}
		return true
	}
	for len(w.Obstacles) < 14 {
		at := v(400*rng.Float64()-40, 300*rng.Float64()-150, 250*rng.Float64())
		var s shape.Convex
		switch rng.IntN(3) {
		case 0:
			s = shape.Hull{Points: []r3.Vector{at}, Grow: 5 + 20*rng.Float64()}
		case 1:
			s = shape.Hull{Points: []r3.Vector{at, at.Add(unitVector(rng).Mul(250))}, Grow: 4}
		default:
			s = shape.Box{Corner: at, Edges: [3]r3.Vector{{X: 20 + 60*rng.Float64()}, {Y: 20 + 60*rng.Float64()}, {Z: 20 + 60*rng.Float64()}}}
		}
		if clear(s) {
			w.Obstacles = append(w.Obstacles, Obstacle{Solid: s, Gap: 6 + 6*rng.Float64()})
		}
	}
	return w
}

// sound goes along a run in tiny steps, by its figures alone, and holds every place
// against every obstacle and the curve against the limits.
func sound(t *testing.T, w Wish, f Found) {
	t.Helper()
	l := w.Limits
	walk := forward(w.Ends.From, w.Ends.Leave, f.Run)
	require.Less(t, walk.at.Sub(w.Ends.To).Norm(), 1e-6)
	require.Less(t, walk.way.Sub(w.Ends.Arrive).Norm(), 1e-6)
	require.GreaterOrEqual(t, walk.first, l.Straight-1e-6)
	require.GreaterOrEqual(t, walk.last, l.Straight-1e-6)
	const step = 0.5
	var line, ways []r3.Vector
	for _, p := range f.Run.Tube(w.Outside).Pieces {
		n := int(math.Ceil(p.Length / step))
		for k := range n {
			at, way := p.At(p.Length * float64(k) / float64(n))
			line, ways = append(line, at), append(ways, way)
		}
	}
	for i := 1; i < len(line); i++ {
		chord := line[i].Sub(line[i-1]).Norm()
		turn, lean := ways[i].Angle(ways[i-1]).Radians(), line[i].Sub(line[i-1]).Angle(ways[i]).Radians()
		if chord > step+1e-6 || turn > chord/l.Radius*(1+1e-4)+1e-6 || lean > chord/l.Radius+1e-6 {
			require.Fail(t, "a leap, a bend tighter than its radius, or a kink")
		}
	}
	for i, o := range w.Obstacles {
		for _, at := range line {
			d := shape.Distance(shape.Hull{Points: []r3.Vector{at}}, o.Solid).Signed
			if d-w.Outside/2-o.Gap < -1e-6 {
				require.Fail(t, "it comes too near", "obstacle %d", i)
			}
		}
	}
	for i := range line {
		for j := i + int(math.Pi*l.Radius/step); j < len(line); j++ {
			if line[j].Sub(line[i]).Norm() < w.Outside-2*step {
				require.Fail(t, "it runs through itself")
			}
		}
	}
}

func TestWhatClearsClears(t *testing.T) {
	clears, led, scenes, wanted := 0, 0, 0, 100
	if testing.Short() {
		wanted = 20
	}
	for seed := uint64(0); clears < wanted; seed++ {
		w := cluttered(seed)
		scenes++
		f := Find(w)
		if !f.Clears {
			continue
		}
		clears++
		if !f.Direct {
			led++
		}
		sound(t, w, f)
	}
	t.Logf("%d scenes, %d clear, %d of them led round", scenes, clears, led)
	assert.Greater(t, led, wanted/5, "the search has something to do")
}

func BenchmarkFindCluttered(b *testing.B) {
	for i := 0; b.Loop(); i++ {
		Find(cluttered(uint64(i % 100)))
	}
}
