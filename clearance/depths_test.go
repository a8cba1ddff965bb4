package clearance

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/survey"
	"elbowroom/survey/length"
	"elbowroom/survey/table"
)

// probe adds a depth.
func (s *scene) probe(d Depth, within float64) {
	s.readings.Depths = append(s.readings.Depths, survey.Depth{
		Mark: d.Mark, From: d.From, To: d.To, Toward: d.Toward,
		Along: survey.Coordinate{Value: d.Along, Given: true}, Probe: survey.Coordinate{Value: d.Probe, Given: true},
		Limit: length.Limit{Plus: within, Minus: within},
		Pos:   table.Pos{File: "depth.csv", Line: len(s.readings.Depths) + 2, Column: 1},
	})
}

// nearTheFace is a wall with a mark a little off it, taped from the wall alone,
// and one mark far off the wall that no tape goes from yet.
func nearTheFace(z float64) (scene, map[string]r3.Vector) {
	s := scene{tank: box100()}
	places := map[string]r3.Vector{
		"A": v(0, 0, 0), "B": v(300, 20, 0), "C": v(320, 200, 0), "D": v(-20, 210, 0), "F": v(150, -60, 0), "G": v(160, 260, 0),
		"E": v(60, 40, 300), "T": v(128, 80, z),
	}
	for _, name := range []string{"A", "B", "C", "D", "F", "G"} {
		s.mark("wall", name, places[name], 0.5)
	}
	s.mark("", "E", places["E"], 0.5)
	s.readings.Features = append(s.readings.Features, survey.FeatureSpec{Name: "wall", Shape: survey.Face, Mount: true}, dots("stud"))
	s.readings.Points = append(s.readings.Points, survey.Point{Feature: "stud", Mark: "T"})
	for _, from := range []string{"A", "B", "C", "D", "F"} {
		s.tape(from, "T", places[from].Sub(places["T"]).Norm(), 1.5)
	}
	return s, places
}

// varianceAlong is that of a mark along a direction.
func varianceAlong(s *survey.Space, m int, along r3.Vector) float64 {
	d := s.Covariance(m, m)
	w := [3]float64{along.X, along.Y, along.Z}
	sum := 0.0
	for i := range w {
		for j := range w {
			sum += w[i] * w[j] * d.At(i, j)
		}
	}
	return sum
}

// taken is the scene with a candidate, read as the marks are known.
func (s scene) taken(t *testing.T, tapes *Tapes, c candidate, m int) scene {
	t.Helper()
	q := s
	q.readings.Tapes = append([]survey.Tape(nil), s.readings.Tapes...)
	q.readings.Depths = append([]survey.Depth(nil), s.readings.Depths...)
	if c.lay != nil {
		q.probe(c.lay.named(tapes.space), c.within)
	} else {
		from, to := tapes.space.Marks[c.from], tapes.space.Marks[m]
		q.tape(from.Name, to.Name, from.At.Sub(to.At).Norm(), c.within)
	}
	return q
}

// all lists the candidates for a mark that nothing is in the way of.
func (t *Tapes) all(m int, within float64) (out []candidate) {
	t.candidates(m, within, func(c candidate) {
		if t.free(c, m) {
			out = append(out, c)
		}
	})
	return out
}

// Of a mark near the plane that its tapes come from a depth is asked for, first of
// all; of one well off it, from which tapes tell z, no less.
func TestNearTheFaceADepthComesBeforeATape(t *testing.T) {
	for _, z := range []float64{10, 15, 25, 40} {
		s, _ := nearTheFace(z)
		tapes := s.tapes(t)
		m, _ := tapes.space.Mark("T")
		spread := tapes.space.Spread(m)
		require.Greater(t, math.Abs(spread.Toward.Z), 0.9)
		next, ok := tapes.Weak(m, 1.5)
		require.True(t, ok)
		assert.Empty(t, next.From, "z %v: %+v", z, next)
		assert.Equal(t, [3]string{"T", "A", "C"}, [3]string{next.Depth.Mark, next.Depth.From, next.Depth.To})
		assert.Equal(t, v(0, 0, 1), next.Depth.Toward)
		assert.InDelta(t, z, next.Depth.Probe, 1e-6)
		assert.InDelta(t, math.Hypot(128, 80), next.Depth.Along, 1e-6)
		assert.Equal(t, depthLimit, next.Within)
		// The first rule of thumb: a rule leaves about what it is read to.
		assert.InEpsilon(t, rectangular(depthLimit), next.Left, 0.35)
	}
}

// What each reading is said to leave is what an adjustment with it leaves, and the
// best is none the worse for it: random surveys, with coordinates or with nothing
// but tapes and a frame (whose face has three marks: one of more weighs them anew).
func TestWhatAReadingLeavesAgainstAnAdjustment(t *testing.T) {
	depths := 0
	for seed := range uint64(24) {
		rng := rand.New(rand.NewPCG(71, seed))
		s := inLines(rng, seed%2 == 1)
		tapes := s.tapes(t)
		m, _ := tapes.space.Mark("T")
		spread := tapes.space.Spread(m)
		worst := tapes.spread.Terms(survey.Gradient{{Mark: m, By: spread.Toward}})
		least := math.Inf(1)
		for _, c := range tapes.all(m, 1.5) {
			said := leaves(spread.Worst, worst, c)
			with, err := survey.Adjust(s.taken(t, tapes, c, m).readings)
			require.NoError(t, err)
			left := math.Sqrt(varianceAlong(with, m, spread.Toward))
			assert.InEpsilon(t, left, said, 1e-3, "seed %d", seed)
			least = math.Min(least, left)
			if c.lay != nil {
				depths++
			}
		}
		if next, ok := tapes.Better(m, 1.5); ok {
			assert.InEpsilon(t, least, next.Left, 1e-3, "seed %d", seed)
		}
	}
	assert.Greater(t, depths, 24)
}

// inLines is a wall of three marks, two more beside it, and a mark somewhere before
// the lines between these. With
// free, nothing but tapes and a frame places any.
func inLines(rng *rand.Rand, free bool) scene {
	s := scene{tank: box100()}
	wall := []r3.Vector{v(0, 0, 0), v(300, 0, 0), v(290, 200, 0), v(10, 190, 0), v(140, 230, 0)}
	i, k := rng.IntN(5), rng.IntN(5)
	for i == k {
		k = rng.IntN(5)
	}
	share := 0.3 + 0.4*rng.Float64()
	under := wall[i].Mul(share).Add(wall[k].Mul(1 - share))
	at := append(wall, v(80, 60, 150+50*rng.Float64()), v(220, 130, 100+50*rng.Float64()), under.Add(v(0.2*rng.NormFloat64(), 0.2*rng.NormFloat64(), 30+40*rng.Float64())))
	name := func(i int) string { return string("ABCDEPQT"[i]) }
	s.readings.Features = append(s.readings.Features, survey.FeatureSpec{Name: "wall", Shape: survey.Face, Mount: true})
	for i, p := range at {
		feature := ""
		if i < 3 {
			feature = "wall"
		}
		if free || i == 7 {
			s.readings.Points = append(s.readings.Points, survey.Point{Feature: feature, Mark: name(i)})
		} else {
			s.mark(feature, name(i), p, 0.8)
		}
		for k := range i {
			if free && !(i == 7 && k == 6) || i == 7 && k < 5 {
				s.tape(name(k), name(i), at[k].Sub(p).Norm(), 0.8)
			}
		}
	}
	if free {
		s.readings.Frame = &survey.Frame{Origin: "A", XToward: "B", OutToward: "P"}
	}
	return s
}

func TestNoDepthThroughAThing(t *testing.T) {
	s := bayOfThings()
	for _, m := range []struct {
		name string
		at   r3.Vector
	}{
		{"before", v(50, 33.333333, 30)}, {"far side", v(150, 100, 95)}, {"top", v(150, 50, 130)},
		{"beside", v(20, 100, 20)}, {"over", v(20, 100, 110)}, {"near", v(20, 20, 65)},
	} {
		s.mark("", m.name, m.at, 0.1)
	}
	tapes := s.tapes(t)
	for _, c := range []struct {
		mark, from, to string
		toward         r3.Vector
		lies           bool
		why            string
	}{
		{"before", "wall1", "wall4", v(0, 0, 1), true, "off the wall, along it"},
		{"far side", "wall1", "wall4", v(0, 0, 1), false, "the rule through the block"},
		{"beside", "left", "right", v(0, 0, -1), false, "the straightedge through the block"},
		{"top", "block5", "block6", v(0, 0, 1), true, "off the block's own edge"},
		{"over", "near", "left", v(0, 0, 1), true, "in the open"},
		{"before", "wall4", "wall5", v(0, 0, 1), true, "past the end of the straightedge, along the wall"},
	} {
		m, a := tapes.between(t, c.mark, c.from)
		_, b := tapes.between(t, c.mark, c.to)
		l := laid{Lay: survey.Lay{Mark: m, From: a, To: b, Toward: c.toward}}
		l.along, l.probe, _ = l.Reads(tapes.space)
		assert.Equal(t, c.lies, tapes.lies(l), "%s from %s to %s: %s", c.mark, c.from, c.to, c.why)
	}
}

// How far a hand can lay a straightedge and hold a rule.
func TestLays(t *testing.T) {
	for _, c := range []struct {
		a, b, at r3.Vector
		toward   r3.Vector // zero: not proposed
		why      string
	}{
		{v(0, 0, 0), v(300, 0, 0), v(100, 0, 50), v(0, 0, 1), "square off it"},
		{v(0, 0, 0), v(300, 0, 0), v(100, -50, 0), v(0, -1, 0), "the other way"},
		{v(0, 0, 0), v(300, 0, 0), v(100, 0.5, 50), v(0, 0, 1), "next to nothing aside"},
		{v(0, 0, 0), v(300, 0, 0), v(100, 1, 50), v(0, 0, 0), "aside"},
		{v(0, 0, 0), v(300, 0, 0), v(100, 0, 310), v(0, 0, 0), "farther than a rule"},
		{v(0, 0, 0), v(300, 0, 0), v(100, 0, 1), v(0, 0, 0), "on it"},
		{v(0, 0, 0), v(300, 0, 0), v(-100, 0, 50), v(0, 0, 1), "past its end"},
		{v(0, 0, 0), v(300, 0, 0), v(-160, 0, 50), v(0, 0, 0), "so far past that it rocks"},
		{v(0, 0, 0), v(45, 0, 0), v(20, 0, 50), v(0, 0, 0), "too short to lie well"},
		{v(0, 0, 0), v(920, 0, 0), v(100, 0, 50), v(0, 0, 0), "longer than a straightedge"},
		{v(0, 0, 0), v(800, 0, 0), v(-150, 0, 50), v(0, 0, 0), "longer than one with what goes past"},
		{v(0, 0, 0), v(300, 0, 100), v(140-11, 0, 47+33), v(0, 0, 1), "on a lean"},
		{v(0, 0, 0), v(300, 0, 300), v(150-30, 0, 150+30), v(0, 0, 0), "on so much of one that no axis is square to it"},
	} {
		s := scene{}
		s.mark("", "A", c.a, 0.1)
		s.mark("", "B", c.b, 0.1)
		s.mark("", "M", c.at, 0.1)
		got := s.tapes(t).lays(2)
		if c.toward == (r3.Vector{}) {
			assert.Empty(t, got, c.why)
			continue
		}
		require.Len(t, got, 1, c.why)
		assert.Equal(t, c.toward, got[0].Toward, c.why)
		assert.Equal(t, 0, got[0].From, c.why) // the nearer end
		s.probe(got[0].named(s.tapes(t).space), 1)
		assert.Empty(t, s.tapes(t).lays(2), "there already")
	}
}

// sideStud is the cube with a stud beside it, taped from marks in a plane just
// beyond the stud and loosely from one elsewhere.
func sideStud(gap float64, from string, within float64) (scene, map[string]r3.Vector) {
	s := scene{tank: box100(), rules: Rules{LookedAt: allSides}}
	places := map[string]r3.Vector{
		"A": v(130, -100, -20), "B": v(130, 200, 0), "C": v(130, 180, 210), "D": v(130, -80, 190), "E": v(20, 50, 300), "S": v(100+gap, 40, 95),
	}
	for range 2 { // so that they are checked
		for _, name := range []string{"A", "B", "C", "D", "E"} {
			s.mark("", name, places[name], 0.2)
		}
	}
	s.readings.Features = append(s.readings.Features, dots("stud"))
	s.readings.Points = append(s.readings.Points, survey.Point{Feature: "stud", Mark: "S"})
	for _, name := range from {
		w := within
		if name == 'E' {
			w = 6
		}
		s.tape(string(name), "S", places[string(name)].Sub(places["S"]).Norm(), w)
	}
	return s, places
}

// A depth is asked for to settle a line, and for a weak mark where nothing settles
// it; taken as well as is asked, it does what is said.
func TestDepthToSettleALineAndForAWeakMark(t *testing.T) {
	for _, c := range []struct {
		gap  float64
		mark string // blank: it settles the line
	}{{6, "S"}, {8, ""}} {
		s, _ := sideStud(c.gap, "ABCDE", 1)
		s.rules.AcceptSingle = true // the depth itself is taken once
		rep := s.check(t)
		require.Equal(t, []Because{Near}, rep.Because)
		require.Len(t, rep.MeasureNext, 1)
		m := rep.MeasureNext[0]
		assert.Equal(t, NewDepth, m.Kind)
		assert.Equal(t, c.mark, m.Mark)
		assert.Equal(t, []Pair{{"body", "stud"}}, m.For)
		assert.Equal(t, [3]string{"S", "A", "C"}, [3]string{m.Depth.Mark, m.Depth.From, m.Depth.To})
		assert.Equal(t, v(-1, 0, 0), m.Depth.Toward)
		with := s
		with.probe(m.Depth, m.Within)
		line := with.check(t).line("body", "stud")
		if c.mark == "" {
			assert.Equal(t, Clears, line.Verdict)
			continue
		}
		space := s.checker(t).space
		k, _ := space.Mark("S")
		assert.InDelta(t, space.Spread(k).Worst, m.U, 1e-9)
		assert.InEpsilon(t, m.Left, math.Sqrt(varianceAlong(with.checker(t).space, k, space.Spread(k).Toward)), 1e-3)
	}
}

// The depth of a mark that nothing checks checks it: the line clears, and an inch
// misread in any of the readings is seen.
func TestDepthForAMarkThatNothingChecks(t *testing.T) {
	s := scene{tank: box100(), rules: Rules{LookedAt: allSides}}
	at := v(115, 50, 95)
	places := map[string]r3.Vector{"A": v(25, -10, 0), "B": v(215, 0, 0), "C": v(115, 150, 0), "P": v(140, -60, 95), "Q": v(140, 160, 95)}
	for range 2 {
		for _, name := range []string{"A", "B", "C", "P", "Q"} {
			s.mark(map[bool]string{true: "wall"}[places[name].Z == 0], name, places[name], 0.2)
		}
	}
	s.readings.Features = append(s.readings.Features, survey.FeatureSpec{Name: "wall", Shape: survey.Face, Mount: true}, dots("stud"))
	s.readings.Points = append(s.readings.Points, survey.Point{Feature: "stud", Mark: "S"})
	for _, name := range []string{"A", "B", "C"} {
		s.tape(name, "S", places[name].Sub(at).Norm(), 1)
	}
	rep := s.check(t)
	require.Equal(t, []Because{OneReading}, rep.Because)
	m, ok := forMark(rep.MeasureNext, "S")
	require.True(t, ok)
	assert.Equal(t, NewDepth, m.Kind)
	assert.True(t, m.Unchecked)
	s.probe(m.Depth, m.Within)
	assert.Equal(t, Clears, s.check(t).Verdict)
	for _, r := range s.checker(t).space.Rows {
		if r.Kind == survey.Tapes {
			assert.GreaterOrEqual(t, r.Redundancy, survey.LeastRedundancy)
		}
	}
	for i := range s.readings.Tapes {
		for _, slip := range []float64{-aSlip, aSlip} {
			q := s
			q.readings.Tapes = append([]survey.Tape(nil), s.readings.Tapes...)
			q.readings.Tapes[i].Length.Value += slip
			assert.NotEmpty(t, q.checker(t).space.Doubts, "tape %d off by %.0f", i, slip)
		}
	}
}

// A depth that nothing would check checks no line either: the mark is known too
// little in the way of the rule. One that it cannot be told to stand under is not
// proposed at all.
func TestDepthsThatWouldNotDo(t *testing.T) {
	for _, c := range []struct {
		p, q, toward r3.Vector
		offered      bool
		why          string
	}{
		{v(115, -60, 80), v(115, 160, 80), v(0, 0, -1), true, "where z is known least the rule reads it, and nothing else checks the rule"},
		{v(140, -60, 50), v(140, 160, 50), v(-1, 0, 0), false, "where z is known least the mark may stand aside"},
	} {
		s, _ := singleStud(15)
		s.mark("", "P", c.p, 0.2)
		s.mark("", "Q", c.q, 0.2)
		tapes := s.tapes(t)
		m, _ := tapes.space.Mark("S")
		offered := slices.ContainsFunc(tapes.all(m, usualLimit), func(r candidate) bool {
			return r.lay != nil && r.lay.Toward == c.toward
		})
		assert.Equal(t, c.offered, offered, c.why)
		next, ok := tapes.Checking(m, tapes.unchecked(m), usualLimit)
		require.True(t, ok)
		assert.NotEmpty(t, next.From, c.why)
	}
}

// Three tapes from the face check nothing and leave z hopeless: the depth comes
// before a fourth, which would check them and leave it as weak.
func TestDepthBeforeATapeThatOnlyChecks(t *testing.T) {
	s, _ := nearTheFace(15)
	s.readings.Tapes = s.readings.Tapes[:3]
	for i := range s.readings.Points { // E is not there
		if s.readings.Points[i].Mark == "E" {
			s.readings.Points[i].Mark, s.readings.Points[i].At = "A", s.readings.Points[0].At
		}
	}
	tapes := s.tapes(t)
	m, _ := tapes.space.Mark("T")
	require.Len(t, tapes.unchecked(m), 3)
	checking, ok := tapes.Checking(m, tapes.unchecked(m), 1.5)
	require.True(t, ok)
	require.NotEmpty(t, checking.From)
	help, ok := tapes.Help(m, 1.5)
	require.True(t, ok)
	assert.Equal(t, NewDepth, help.Kind)
	assert.Less(t, help.Left, 0.3*checking.Left)
}
