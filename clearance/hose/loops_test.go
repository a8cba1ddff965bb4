package hose

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Ends in one place that face away from each other: 60, 300 and 60 degrees.
func TestLoopInOnePlace(t *testing.T) {
	e := Ends{v(0, 0, 0), v(1, 0, 0), v(0, 0, 0), v(-1, 0, 0)}
	runs := Loops(e, Limits{Radius: 1})
	require.NotEmpty(t, runs)
	assert.InDelta(t, 7*math.Pi/3, runs[0].Length(), 1e-9)
	holds(t, runs, e, Limits{Radius: 1})
	// With a straight to keep, the same but for two straights.
	e = Ends{v(-10, 0, 0), v(1, 0, 0), v(-10, 0, 0), v(-1, 0, 0)}
	l := Limits{Radius: 1, Straight: 10}
	runs = Loops(e, l)
	assert.InDelta(t, 7*math.Pi/3+20, runs[0].Length(), 1e-9)
	holds(t, runs, e, l)
}

func TestLoopsNeedOnePlane(t *testing.T) {
	assert.Empty(t, Loops(Ends{v(0, 0, 0), v(1, 0, 0), v(0, 1, 1), v(-1, 0, 0.1).Normalize()}, Limits{Radius: 1}))
	assert.Empty(t, Loops(Ends{v(0, 0, 0), v(1, 0, 0), v(9, 0, 0), v(1, 0, 0)}, Limits{Radius: 1}), "too far apart")
}

// dubins gives the lengths of the six planar words by the textbook's closed forms
// (Shkel and Lumelsky, Classification of the Dubins set, 2001), for radius 1 and
// ends d apart with headings a and b from the line between them; Inf where there is
// none. And the greater of the two arcs of the first four.
func dubins(d, a, b float64) (lengths [6]float64, widest [4]float64) {
	mod := func(x float64) float64 {
		x = math.Mod(x, 2*math.Pi)
		if x < 0 {
			x += 2 * math.Pi
		}
		if x > 2*math.Pi-1e-12 {
			x = 0
		}
		return x
	}
	sa, ca := math.Sincos(a)
	sb, cb := math.Sincos(b)
	c := math.Cos(a - b)
	for i := range lengths {
		lengths[i] = math.Inf(1)
	}
	csc := func(i int, squared float64, arcs func(p float64) (t, q float64)) {
		if squared < 0 {
			return
		}
		p := math.Sqrt(squared)
		t, q := arcs(p)
		lengths[i], widest[i] = mod(t)+p+mod(q), math.Max(mod(t), mod(q))
	}
	csc(0, 2+d*d-2*c+2*d*(sa-sb), func(float64) (float64, float64) { // LSL
		t := math.Atan2(cb-ca, d+sa-sb)
		return -a + t, b - t
	})
	csc(1, 2+d*d-2*c+2*d*(sb-sa), func(float64) (float64, float64) { // RSR
		t := math.Atan2(ca-cb, d-sa+sb)
		return a - t, -b + t
	})
	csc(2, -2+d*d+2*c+2*d*(sa+sb), func(p float64) (float64, float64) { // LSR
		t := math.Atan2(-ca-cb, d+sa+sb) - math.Atan2(-2, p)
		return -a + t, -mod(b) + t
	})
	csc(3, d*d-2+2*c-2*d*(sa+sb), func(p float64) (float64, float64) { // RSL
		t := math.Atan2(ca+cb, d-sa-sb) - math.Atan2(2, p)
		return a - t, mod(b) - t
	})
	if x := (6 - d*d + 2*c + 2*d*(sa-sb)) / 8; math.Abs(x) <= 1 { // RLR
		p := mod(2*math.Pi - math.Acos(x))
		t := mod(a - math.Atan2(ca-cb, d-sa+sb) + p/2)
		lengths[4] = t + p + mod(a-b-t+p)
	}
	if x := (6 - d*d + 2*c + 2*d*(sb-sa)) / 8; math.Abs(x) <= 1 { // LRL
		p := mod(2*math.Pi - math.Acos(x))
		t := mod(-a + math.Atan2(cb-ca, d+sa-sb) + p/2)
		lengths[5] = t + p + mod(mod(b)-a-t+p)
	}
	return lengths, widest
}

// The textbook's own example: github.com/kaarthiksundar/Dubins.jl, test/test1.jl.
func TestTextbookWords(t *testing.T) {
	l, _ := dubins(5, 0, 3)
	for i, want := range []float64{14.5338, 15.0792, 8.8146, 8.2725} {
		assert.InDelta(t, want, l[i], 5e-5)
	}
}

// In a plane, the runs found in space are the textbook's words, all of those whose
// arcs are half a circle at most, and the loops its other two.
func TestPlanarRunsAgainstTheTextbook(t *testing.T) {
	if testing.Short() {
		t.Skip("it reckons long, one thing after the other")
	}
	rng := rand.New(rand.NewPCG(33, 34))
	for range 500 {
		d, a, b := 6*rng.Float64(), 2*math.Pi*rng.Float64(), 2*math.Pi*rng.Float64()
		e := Ends{v(0, 0, 0), heading(a * 180 / math.Pi), v(d, 0, 0), heading(b * 180 / math.Pi)}
		want, widest := dubins(d, a, b)
		runs := Shortest(e, Limits{Radius: 1})
		for i := range widest {
			if !(widest[i] <= math.Pi-1e-6) || math.IsInf(want[i], 1) {
				continue
			}
			assert.True(t, has(runs, want[i]), "word %d of %v %v %v", i, d, a, b)
		}
		loops := Loops(e, Limits{Radius: 1})
		holds(t, loops, e, Limits{Radius: 1})
		for _, w := range want[4:] {
			if !math.IsInf(w, 1) {
				assert.True(t, has(loops, w), "a loop of %v %v %v", d, a, b)
			}
		}
	}
}

func has(runs []Run, length float64) bool {
	for _, r := range runs {
		if math.Abs(r.Length()-length) < 1e-7*(1+length) {
			return true
		}
	}
	return false
}

// Ends from Vana and others, ICRA 2020, as in github.com/comrob/Dubins3D.jl,
// test/instances3D.jl (BSD-2): place, heading and pitch in degrees, radius 40. Their
// pitch is limited, a hose's is not: it is no longer, and never shorter than the
// straight line.
func TestPublishedRunsInSpace(t *testing.T) {
	way := func(heading, pitch float64) r3.Vector {
		sh, ch := math.Sincos(heading * math.Pi / 180)
		sp, cp := math.Sincos(pitch * math.Pi / 180)
		return v(cp*ch, cp*sh, sp)
	}
	for _, c := range []struct {
		name                string
		ends                Ends
		published, straight float64
	}{
		{"long 1", Ends{v(200, 500, 200), way(180, -5), v(500, 350, 100), way(0, -5)}, 449.56, 350.0},
		{"long 2", Ends{v(100, -400, 100), way(30, 0), v(500, -700, 0), way(150, 0)}, 636.12, 509.9},
		{"long 3", Ends{v(-200, 200, 250), way(240, 15), v(500, 800, 0), way(45, 15)}, 1063.41, 955.2},
		{"long 4", Ends{v(-300, 1200, 350), way(160, 0), v(1000, 200, 0), way(30, 0)}, 1789.21, 1677.1},
		{"long 5", Ends{v(-500, -300, 600), way(150, 10), v(1200, 900, 100), way(300, 10)}, 2216.40, 2140.1},
		{"short 1", Ends{v(120, -30, 250), way(100, -10), v(220, 150, 100), way(300, -10)}, 583.47, 254.8},
	} {
		runs := Shortest(c.ends, Limits{Radius: 40})
		require.NotEmpty(t, runs, c.name)
		holds(t, runs, c.ends, Limits{Radius: 40})
		assert.LessOrEqual(t, runs[0].Length(), c.published, c.name)
		assert.GreaterOrEqual(t, runs[0].Length(), c.straight, c.name)
		assert.InDelta(t, c.straight, c.ends.To.Sub(c.ends.From).Norm(), 0.06, c.name)
	}
}

// Mirrored, moved, or gone along the other way, a run is as long as before.
func TestLawsOfShortestRuns(t *testing.T) {
	rng := rand.New(rand.NewPCG(35, 36))
	for range 200 {
		e := Ends{v(1, 2, 3), unitVector(rng), unitVector(rng).Mul(3 + 5*rng.Float64()), unitVector(rng)}
		l := Limits{Radius: 1, Straight: 0.3}
		want := Shortest(e, l)
		if len(want) == 0 || loops(want[0]) {
			continue
		}
		axis, by := unitVector(rng), v(10*rng.Float64(), -4, 7)
		turn := func(p r3.Vector) r3.Vector { // half a turn about the axis
			return axis.Mul(2 * axis.Dot(p)).Sub(p)
		}
		mirror := func(p r3.Vector) r3.Vector { return p.Sub(axis.Mul(2 * axis.Dot(p))) }
		for name, o := range map[string]Ends{
			"the other way": e.reversed(),
			"mirrored":      {mirror(e.From), mirror(e.Leave), mirror(e.To), mirror(e.Arrive)},
			"moved":         {turn(e.From).Add(by), turn(e.Leave), turn(e.To).Add(by), turn(e.Arrive)},
		} {
			got := Shortest(o, l)
			require.NotEmpty(t, got, name)
			assert.InDelta(t, want[0].Length(), got[0].Length(), 1e-7, name)
		}
	}
}

// loops says whether bends that follow each other turn by more than half a circle.
func loops(r Run) bool {
	turned := 0.0
	for i := 1; i+1 < len(r.Points); i++ {
		if r.Bends[i].From.Sub(r.Bends[i-1].To).Norm() > 1e-7 {
			turned = 0
		}
		if turned += r.Bends[i].Turn; turned > math.Pi+1e-6 {
			return true
		}
	}
	return false
}
