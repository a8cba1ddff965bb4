package hose

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/clearance/motion"
)

// wander goes along a line made of arcs no tighter than radius 1, each in a plane of its
// own, and shows each of its places.
func wander(rng *rand.Rand, at, ahead r3.Vector, most float64, show func(at r3.Vector, gone float64)) {
	for gone := 0.0; gone < most; {
		radius := 1.0
		if rng.IntN(3) == 0 {
			radius += rng.ExpFloat64()
		}
		side := ahead.Cross(unitVector(rng)).Normalize()
		for angle := 4 * rng.Float64(); angle > 0 && gone < most; angle -= 0.05 / radius {
			sin, cos := math.Sincos(0.05 / radius)
			at = at.Add(ahead.Mul(radius * sin)).Add(side.Mul(radius * (1 - cos)))
			ahead, side = ahead.Mul(cos).Add(side.Mul(sin)), side.Mul(cos).Sub(ahead.Mul(sin))
			gone += 0.05
			show(at, gone)
		}
	}
}

// No line of bounded bend is anywhere before the bound says that it can be.
func TestReachIsNoLongerThanAnyWay(t *testing.T) {
	rng := rand.New(rand.NewPCG(41, 42))
	trials := 300
	if testing.Short() {
		trials = 100
	}
	for range trials {
		ahead := unitVector(rng)
		wander(rng, r3.Vector{}, ahead, 8, func(at r3.Vector, gone float64) {
			off := rng.Float64()
			by := unitVector(rng).Mul(off * rng.Float64())
			require.LessOrEqual(t, reach(at, ahead, 1, 0), gone+1e-9, "%v ahead %v", at, ahead)
			require.LessOrEqual(t, reach(at.Add(by), ahead, 1, off), gone+1e-9, "%v ahead %v, off %v", at, ahead, off)
		})
	}
}

// Where it ends on or outside the circles, it is the length of the arc and the tangent.
func TestReachIsTheShortestWay(t *testing.T) {
	x := v(1, 0, 0)
	assert.InDelta(t, 5, reach(v(5, 0, 0), x, 1, 0), 1e-12)
	assert.InDelta(t, math.Pi/2+3, reach(v(1, 4, 0), x, 1, 0), 1e-12)
	assert.InDelta(t, math.Pi+3, reach(v(-3, 0, 2), x, 1, 0), 1e-12)
	assert.InDelta(t, math.Pi, reach(v(0.1, 0, 1), x, 1, 0), 1e-12, "inside: half a circle at least")
	assert.InDelta(t, 2*math.Pi-2*math.Acos(1/math.Sqrt(5))+2, reach(v(-2, 0, 0), x, 1, 0), 1e-12, "straight behind")
	assert.InDelta(t, 4, reach(v(0, 4, 0), r3.Vector{}, 1, 0), 1e-12)
	assert.InDelta(t, 3, reach(v(4, 0, 0), x, 1, 1), 1e-12)
}

// A stretch from a wall to something that rocks, and slides on that.
func swinging(rng *rand.Rand) Swing {
	rocks, _ := motion.Turn(v(300, -100, 0), v(300, -100, 10).Add(unitVector(rng)), -0.1*rng.Float64(), 0.1*rng.Float64())
	slides := motion.Slide(unitVector(rng), -10*rng.Float64(), 10*rng.Float64())
	s := Swing{Joints: motion.Chain{slides, rocks}, Radius: 40 + 30*rng.Float64()}
	s.From = Hold{At: v(0, 0, 0), Way: v(1, 0, 0)}
	s.To = Hold{At: v(150+100*rng.Float64(), -150+100*rng.Float64(), 100*rng.Float64()-50), Way: v(0.3, -1, 0.2).Normalize()}
	s.To.Joints = [][]int{{0, 1}, {1}, {0}}[rng.IntN(3)]
	return s
}

// moved is a swing's ends at a position, at rest for what stands still.
func (s *Swing) moved(at []float64) Ends {
	pose := s.pose(s.To.Joints, at)
	return Ends{From: s.From.At, Leave: s.From.Way, To: pose.Move(s.To.At), Arrive: pose.Turn(s.To.Way)}
}

func (s *Swing) pose(joints []int, at []float64) motion.Pose {
	var c motion.Chain
	var where []float64
	for _, k := range joints {
		c, where = append(c, s.Joints[k]), append(where, at[k])
	}
	return c.At(where)
}

// However a stretch of its length lies at any position, as a free rod or led in any way
// that bends no tighter, its middle keeps what the sweep proves to a place, seen from what
// stands still and from what moves.
func TestSweepHoldsEveryWayThatAHoseCanLie(t *testing.T) {
	rng := rand.New(rand.NewPCG(43, 44))
	trials, shapes := 8, 0
	if testing.Short() {
		trials = 5
	}
	for range trials {
		s := swinging(rng)
		var rests []Elastic
		var ats [][]float64
		for range 12 {
			at := make([]float64, 2)
			for i, j := range s.Joints {
				at[i] = j.From + (j.To-j.From)*rng.Float64()
			}
			runs := Shortest(s.moved(at), Limits{Radius: s.Radius})
			if len(runs) == 0 || runs[0].Loops() {
				continue
			}
			s.Length = math.Max(s.Length, runs[0].Length()*1.02)
			ats = append(ats, at)
			rests = append(rests, Elastic{Points: runs[0].Trace(0.1), Radius: s.Radius}) // shorter, but led so it can be
		}
		if len(ats) == 0 {
			continue
		}
		for _, at := range ats {
			for _, r := range Rest(s.moved(at), s.Length, 24) {
				rests, ats = append(rests, r), append(ats, at)
			}
		}
		for _, frame := range [][]int{nil, {0, 1}, {1}} {
			w := NewSweep(s, frame)
			spots := make([]r3.Vector, 5)
			for i := range spots {
				spots[i] = v(300*rng.Float64()-50, 250*rng.Float64()-200, 200*rng.Float64()-100)
			}
			to := Toward{Pieces: len(spots), Enough: math.Inf(1), Wanted: 40 * rng.Float64(), Distance: func(k int, from r3.Vector) float64 { return spots[k].Sub(from).Norm() }}
			got := w.Least(to)
			for i, r := range rests {
				if r.Radius < s.Radius {
					continue
				}
				shapes++
				pose := s.pose(frame, ats[i%len(ats)])
				for _, p := range r.Points {
					for _, spot := range spots {
						require.GreaterOrEqual(t, pose.Back(p).Sub(spot).Norm(), got.Bound-1e-6)
					}
				}
			}
		}
	}
	assert.Greater(t, shapes, 20*trials)
}

// A stretch just as long as the shortest run at a position has all of that run in its room,
// and no less: each of its places is as far along from both holds as there is hose.
func TestSweepHoldsTheShortestRun(t *testing.T) {
	if testing.Short() {
		t.Skip("it reckons long, one thing after the other")
	}
	rng := rand.New(rand.NewPCG(45, 46))
	runs := 0
	for range 200 {
		s := swinging(rng)
		at := make([]float64, 2)
		for i, j := range s.Joints {
			at[i] = j.From + (j.To-j.From)*rng.Float64()
		}
		found := Shortest(s.moved(at), Limits{Radius: s.Radius})
		if len(found) == 0 || found[0].Loops() {
			continue
		}
		runs++
		s.Length = found[0].Length()
		for _, frame := range [][]int{nil, {0, 1}, {1}} {
			w, pose := NewSweep(s, frame), s.pose(frame, at)
			for _, p := range found[0].Trace(0.01) {
				least := math.Inf(1)
				for k := range w.cells {
					least = math.Min(least, w.ways(&w.cells[k], pose.Back(p), 0.001))
				}
				require.LessOrEqual(t, least, s.Length+1e-6, "%v", s) // the run is found to about 1e-7
				away := pose.Back(p).Sub(w.root.at)
				require.LessOrEqual(t, math.Max(math.Abs(away.X), math.Max(math.Abs(away.Y), math.Abs(away.Z))), w.root.half)
			}
		}
	}
	assert.Greater(t, runs, 100)
}

// A straight stretch with no slack is a line, and what is beside it keeps its distance but
// for the cubes and the cells; what it is skipped for does not count.
func TestSweepOfATautHose(t *testing.T) {
	slide := motion.Slide(v(0, 0, 1), 0, 0)
	s := Swing{From: Hold{At: v(0, 0, 0), Way: v(1, 0, 0)}, To: Hold{At: v(100, 0, 0), Way: v(1, 0, 0)}, Length: 100.001, Radius: 30, Joints: motion.Chain{slide}}
	beside := func(x, y float64) Toward {
		return Toward{Pieces: 1, Enough: math.Inf(1), Wanted: math.Inf(1), Distance: func(_ int, from r3.Vector) float64 { return from.Sub(v(x, y, 0)).Norm() }}
	}
	got := NewSweep(s, nil).Least(beside(50, 40))
	assert.InDelta(t, 40, got.Bound, 8) // so long a line sags by 0.2 mm; cubes of 1 mm at its ends by sqrt(2 L h)
	assert.LessOrEqual(t, got.Bound, 40.0)
	near := beside(-5, 0)
	assert.InDelta(t, 5, NewSweep(s, nil).Least(near).Bound, 2)
	near.Skip = 20
	assert.InDelta(t, 25, NewSweep(s, nil).Least(near).Bound, 2.5)
	s.Length = 99
	assert.Greater(t, NewSweep(s, nil).Least(beside(50, 40)).Bound, 35.0)
}

func BenchmarkSweep(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 1))
	s := swinging(rng)
	s.To.Joints = []int{1}
	s.Length = Shortest(s.moved([]float64{0, 0}), Limits{Radius: s.Radius})[0].Length() * 1.05
	for b.Loop() {
		w := NewSweep(s, nil)
		w.Least(Toward{Pieces: 1, Enough: 100, Wanted: 10, Distance: func(_ int, from r3.Vector) float64 { return from.Y + 250 }})
	}
}
