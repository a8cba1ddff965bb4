package largest

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/clearance"
	"elbowroom/solid"
	"elbowroom/survey"
)

// largestAmongPoints tries every box on the face z = 0 whose sides are at points or at
// the room's ends, and gives the largest open one without a point.
func largestAmongPoints(points []r3.Vector, room [3]Range) float64 {
	var at [3][]float64
	for a := range 3 {
		at[a] = []float64{room[a].From, room[a].To}
		for _, p := range points {
			if x := components(p)[a]; x > room[a].From && x < room[a].To {
				at[a] = append(at[a], x)
			}
		}
		slices.Sort(at[a])
		at[a] = slices.Compact(at[a])
	}
	best := 0.0
	for i, x1 := range at[0] {
		for _, x2 := range at[0][i+1:] {
			for k, y1 := range at[1] {
				for _, y2 := range at[1][k+1:] {
					depth := room[2].To
					for _, p := range points {
						if p.X > x1 && p.X < x2 && p.Y > y1 && p.Y < y2 && p.Z > 0 {
							depth = math.Min(depth, p.Z)
						}
					}
					best = math.Max(best, (x2-x1)*(y2-y1)*depth/1e6)
				}
			}
		}
	}
	return best
}

// Points of every kind of arrangement, exact and without gaps, against every box
// that there is: ties, grids, points in a row and twice the same.
func TestPointsAgainstEveryBox(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	for n := range short(120, 16) {
		var points []r3.Vector
		for range 1 + rng.IntN(12) {
			p := v(300*rng.Float64(), 200*rng.Float64(), 1+149*rng.Float64())
			switch n % 4 {
			case 1: // on a grid
				p = v(50*math.Round(p.X/50), 50*math.Round(p.Y/50), 25*math.Round(1+p.Z/25))
			case 2: // in a row
				p.X, p.Z = 150, 75
			case 3: // twice the same, often
				if len(points) > 0 && rng.IntN(2) == 0 {
					p = points[rng.IntN(len(points))]
				}
			}
			points = append(points, p)
		}
		s := exactBox()
		s.feature(survey.FeatureSpec{Name: "dots", Shape: survey.Dots}, 0, points...)
		s.gap("dots", 0)
		s.limits.Room = room(0, 300, 0, 200, 0, 150)
		want := largestAmongPoints(points, s.limits.Room)
		a := s.solve(t)
		require.GreaterOrEqual(t, a.AtMost, want*(1-1e-9), "set %d", n)
		require.LessOrEqual(t, a.Free[0].OutsideL, want*(1+1e-6), "set %d", n)
		require.GreaterOrEqual(t, a.Free[0].OutsideL, want*(1-closeEnough), "set %d", n)
	}
}

// bay is a small bay with every shape, uncertain marks, gaps, and a tank with
// fittings, brackets and paint.
func bay(seed uint64) scene {
	rng := rand.New(rand.NewPCG(seed, 5))
	jit := func(x, y, z float64) r3.Vector {
		return v(x+8*rng.NormFloat64(), y+8*rng.NormFloat64(), z+8*rng.NormFloat64())
	}
	s := scene{rules: clearance.Rules{AcceptSingle: true, LookedAt: allSides()}}
	s.feature(survey.FeatureSpec{Name: "wall", Shape: survey.Face, Mount: true}, 1.5,
		v(0, 0, 1), v(300, 0, -1), v(0, 200, 0.5), v(300, 200, 1), v(150, 100, 0))
	s.feature(survey.FeatureSpec{Name: "lip", Shape: survey.Edge, Round: 3, Behind: v(0, 1, 0)}, 1.5,
		jit(-10, 190, 40), jit(150, 190, 40), jit(310, 190, 40))
	s.feature(survey.FeatureSpec{Name: "lid", Shape: survey.Skin, Behind: v(0, 1, 0)}, 1.5,
		jit(-20, 240, 10), jit(320, 240, 10), jit(-20, 236, 220), jit(320, 235, 220), jit(150, 233, 110))
	s.feature(survey.FeatureSpec{Name: "lump", Shape: survey.Block}, 1.5,
		jit(30, 20, 170), jit(260, 20, 165), jit(30, 200, 172), jit(260, 200, 170), jit(130, 100, 260))
	s.feature(survey.FeatureSpec{Name: "pipe", Shape: survey.Tube, Diameter: 8}, 1.5,
		jit(5, -30, 20), jit(5, 100, 20), jit(5, 230, 20))
	s.feature(survey.FeatureSpec{Name: "loom", Shape: survey.Dots, Round: 5}, 1.5, jit(40, 0, 30), jit(150, -5, 30), jit(250, 0, 30))
	s.feature(survey.FeatureSpec{Name: "post", Shape: survey.Dots}, 1.5, jit(310, 30, 60), jit(310, 100, 60), jit(310, 170, 60))
	s.tank = solid.Tank{
		Size: solid.Size{Width: 160, Height: 110, Depth: 80}, Within: 0.8, Coat: 0.1,
		Place: solid.Place{At: r2.Point{X: 60, Y: 30}, StandOff: 6, Within: 0.8},
		Sheet: 2, InsideRadius: 3, Alloy: "5052-H32",
		Brackets: []solid.Bracket{{Name: "tab", Min: v(-15, 20, -6), Max: v(0, 40, 3)}},
		Fittings: []solid.Fitting{
			{Name: "fill", Side: solid.Top, At: solid.Spot{{From: solid.Left, By: 60}, {From: solid.Back, By: 45}}, Within: 1,
				Stack:    []solid.Element{{Name: "neck", Diameter: 40, Length: 15}, {Name: "cap", Diameter: 50, Length: 10}},
				KeepOpen: []solid.KeepOpen{{Name: "lift", Diameter: 60, Length: 25, Aside: []string{"lid"}}}},
			{Name: "outlet", Side: solid.Right, At: solid.Spot{{From: solid.Bottom, By: 30}, {From: solid.Back, By: 30}}, Within: 1,
				Stack: []solid.Element{{Name: "barb", Diameter: 20, Length: 20}}},
		},
	}
	return s
}

func allSides() []solid.Side {
	return []solid.Side{solid.Left, solid.Right, solid.Top, solid.Bottom, solid.Front}
}

// check is what Check says of a tank in the scene.
func (s *scene) check(t testing.TB, tank solid.Tank) (*clearance.Report, bool) {
	t.Helper()
	space, err := survey.Adjust(s.readings)
	require.NoError(t, err)
	assembly, err := solid.Build(tank)
	if err != nil {
		return nil, false
	}
	rep, err := clearance.Check(context.Background(), space, assembly, s.rules)
	require.NoError(t, err)
	return rep, true
}

// sureAlone says whether every line of a report reaches sure by itself.
func sureAlone(r *clearance.Report) bool {
	for _, l := range r.Lines {
		if l.Sure < r.Wanted {
			return false
		}
	}
	return true
}

// The whole assembly in a bay: Check agrees with every line of the answer, no box
// that Check agrees with beats the bound, and the gap is what is promised.
func TestAssembly(t *testing.T) {
	for _, seed := range []uint64{0, 4}[:short(2, 1)] {
		s := bay(seed)
		a := s.solve(t)
		best := a.Free[0]
		rep, ok := s.check(t, best.Tank)
		require.True(t, ok)
		assert.True(t, sureAlone(rep), "seed %d", seed)
		assert.LessOrEqual(t, a.Gap, promised, "seed %d", seed)
		require.NotNil(t, a.Proven, "seed %d", seed)
		rep, _ = s.check(t, a.Proven.Tank)
		assert.Equal(t, clearance.Clears, rep.Verdict)
		assert.LessOrEqual(t, a.Proven.Capacity, best.Capacity+1e-9)
		t.Logf("seed %d: at most %.3f, gap %.4f, free %.3f, proven %.3f, looked %d", seed, a.AtMost, a.Gap, best.Capacity, a.Proven.Capacity, a.Looked)
		s.climb(t, a, seed)
	}
}

// climb starts from the answer made smaller at random and grows one face after the
// other, in random order, as far as Check agrees.
func (s *scene) climb(t *testing.T, a *Answer, seed uint64) {
	t.Helper()
	rng := rand.New(rand.NewPCG(seed, 77))
	judge := s.tank
	for range 2 {
		tank := a.Free[0].Tank
		lo := v(tank.Place.At.X, tank.Place.At.Y, 0)
		d := tank.Size.Vector()
		lo = lo.Add(v(d.X*0.2*rng.Float64(), d.Y*0.2*rng.Float64(), 0))
		d = v(d.X*(0.6+0.2*rng.Float64()), d.Y*(0.7+0.1*rng.Float64()), d.Z*(0.7+0.2*rng.Float64()))
		at := func(lo, d r3.Vector) solid.Tank {
			u := judge.Resized(solid.Size{Width: d.X, Height: d.Y, Depth: d.Z})
			u.Place.At = r2.Point{X: lo.X, Y: lo.Y}
			return u
		}
		if rep, ok := s.check(t, at(lo, d)); !ok || !sureAlone(rep) {
			continue
		}
		for _, step := range []float64{16, 4, 1, 0.25} {
			for range 12 {
				l, e := lo, d
				switch rng.IntN(5) {
				case 0:
					l.X, e.X = l.X-step, e.X+step
				case 1:
					l.Y, e.Y = l.Y-step, e.Y+step
				case 2:
					e.X += step
				case 3:
					e.Y += step
				case 4:
					e.Z += step
				}
				if rep, ok := s.check(t, at(l, e)); ok && sureAlone(rep) {
					lo, d = l, e
				}
			}
		}
		got, _ := at(lo, d).Capacity()
		assert.LessOrEqual(t, got, a.AtMost, "seed %d", seed)
	}
}

// The answer grown by a step on a side that a feature stops is refused by Check.
func TestGrownIsRefused(t *testing.T) {
	s := bay(1)
	a := s.solve(t)
	for _, stop := range a.Free[0].Stops {
		if stop.Feature == "" {
			continue
		}
		tank := a.Free[0].Tank
		size := tank.Size
		const step = 1.0 // mm; more than the search leaves
		switch stop.Side {
		case solid.Left:
			size.Width += step
			tank.Place.At.X -= step
		case solid.Right:
			size.Width += step
		case solid.Bottom:
			size.Height += step
			tank.Place.At.Y -= step
		case solid.Top:
			size.Height += step
		case solid.Front:
			size.Depth += step
		}
		grown := tank.Resized(size)
		rep, ok := s.check(t, grown)
		assert.True(t, !ok || !sureAlone(rep), "%s, stopped by %s at %s", stop.Side, stop.Part, stop.Feature)
	}
}

// An obstacle more never makes the answer larger, nor does a larger gap, and moving
// everything on the face moves it.
func TestLaws(t *testing.T) {
	if testing.Short() {
		t.Skip("it solves many bays")
	}
	s := bay(2)
	s.limits.Room = room(-10, 320, -20, 230, 0, 200)
	s.rules.Asks = map[string]clearance.Ask{"lump": {Gap: 6}}
	plain := s.solve(t)

	more := bay(2)
	more.limits, more.rules.Asks = s.limits, s.rules.Asks
	more.feature(survey.FeatureSpec{Name: "stone", Shape: survey.Dots}, 1.5, v(200, 120, 90))
	other := more.solve(t)
	assert.LessOrEqual(t, other.Free[0].Capacity, plain.AtMost)
	assert.Less(t, other.Free[0].Capacity, plain.Free[0].Capacity)

	wide := bay(2)
	wide.limits = s.limits
	wide.rules.Asks = map[string]clearance.Ask{"lump": {Gap: 12}}
	other = wide.solve(t)
	assert.LessOrEqual(t, other.Free[0].Capacity, plain.AtMost)
	assert.Less(t, other.Free[0].Capacity, plain.Free[0].Capacity)

	by := v(500, -300, 0)
	far := bay(2)
	far.rules.Asks = s.rules.Asks
	for i := range far.readings.Points {
		p := &far.readings.Points[i]
		p.At[0].Value += by.X
		p.At[1].Value += by.Y
	}
	far.limits.Room = room(490, 820, -320, -70, 0, 200)
	other = far.solve(t)
	assert.InDelta(t, plain.Free[0].At.X+by.X, other.Free[0].At.X, 5)
	assert.InDelta(t, plain.Free[0].At.Y+by.Y, other.Free[0].At.Y, 5)
	// The lever of the face's tilt to the datum is longer there: not the same to the bit.
	assert.InEpsilon(t, plain.Free[0].Capacity, other.Free[0].Capacity, 0.05)
}
