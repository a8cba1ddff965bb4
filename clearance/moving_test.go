package clearance

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/solid"
	"elbowroom/survey"
)

const deg = math.Pi / 180

// rocking is the crowd with its lump rocking about a crank, its lid on a hinge, and a loom
// that slides on the lump and shakes.
func rocking(seed uint64) scene {
	s := crowd(seed)
	s.mark("", "crank-front", v(-40, -60, 240), 1.5)
	s.mark("", "crank-rear", v(330, -55, 250), 1.5)
	s.mark("", "hinge-left", v(-5, 262, 10), 1)
	s.mark("", "hinge-right", v(310, 263, 12), 1)
	s.rules.Motions = []Motion{
		{Name: "lump rocks", Moves: []string{"lump"}, About: [2]string{"crank-front", "crank-rear"}, From: -4 * deg, To: 3 * deg},
		{Name: "lid shuts", Moves: []string{"lid"}, About: [2]string{"hinge-left", "hinge-right"}, From: -20 * deg, To: 7 * deg},
		{Name: "loom slides", Moves: []string{"loom"}, Along: v(0.6, 0.8, 0), From: -3, To: 10, With: []string{"lump rocks", "loom shakes"}},
		{Name: "loom shakes", Moves: []string{"loom", "pipe"}, Along: v(0, 0, 1), From: -4, To: 4},
	}
	return s
}

// motionLines are the lines in motions, without their rivals.
func motionLines(c *checker) map[string]draft {
	var things []thing
	for _, p := range c.assembly.Parts {
		if p.Kind != solid.KeepOpenPart {
			things = append(things, newPartThing(p))
		}
	}
	for _, spec := range c.rules.Hoses {
		if h, ok := c.hose(spec); ok {
			things = append(things, h)
		}
	}
	out := map[string]draft{}
	for _, t := range things {
		for i := range c.motions {
			for k := range c.features {
				if m, o := &c.motions[i], &c.features[k]; m.moves(o) {
					d, _ := c.swept(t, o, m)
					out[d.line.Part+" against "+d.line.Feature+", "+d.line.When] = d
				}
			}
		}
	}
	return out
}

func TestEveryPartHasALineInEveryMotion(t *testing.T) {
	rep := rocking(1).check(t)
	moved := map[string][]string{"lump": {"lump rocks"}, "lid": {"lid shuts"}, "loom": {"loom slides", "loom shakes"}, "pipe": {"loom shakes"}}
	lines := map[[3]string]Line{}
	for _, l := range rep.Lines {
		lines[[3]string{l.Part, l.Feature, l.When}] = l
	}
	for _, part := range []string{"body", "tab", "fill neck", "fill cap", "outlet barb", "hose"} {
		for feature, motions := range moved {
			for _, m := range motions {
				l, ok := lines[[3]string{part, feature, m}]
				require.True(t, ok, "%s against %s, %s", part, feature, m)
				rest := lines[[3]string{part, feature, "at rest"}]
				assert.LessOrEqual(t, l.Clearance, rest.Clearance+1e-6)
				assert.Equal(t, rest.Gap, l.Gap)
				require.NotEmpty(t, l.At)
				assert.Equal(t, m, l.At[0].Motion)
				assert.Len(t, l.At, map[string]int{"loom slides": 3}[m]+map[bool]int{true: 0, false: 1}[m == "loom slides"])
				if l.Clearance > 0 {
					assert.InDelta(t, l.Clearance, l.OnFeature.Distance(l.OnPart), 1e-5, "the witness points are where they are then")
				}
				delete(lines, [3]string{part, feature, m})
			}
		}
	}
	for key := range lines {
		assert.Equal(t, "at rest", key[2], "%v: nothing else moves, and room for a hand is kept at rest only", key)
	}
	assert.Empty(t, rep.Unchecked)
}

// Each clearance in a motion must move with each reading, size and place as its terms say;
// the axes' marks are among the readings.
func TestTermsOfMotionsAgainstChangedInputs(t *testing.T) {
	if testing.Short() {
		t.Skip("it reckons long, one thing after the other")
	}
	const step = 1e-4
	axes, compared := 0, 0
	for seed := range uint64(2) {
		s := rocking(seed)
		s.rules.Gaps = map[string]float64{"fixed": 1e9, "hose": 1e9}
		c := s.checker(t)
		drafts := motionLines(c)
		compare := func(source int, u float64, change func(s *scene, by float64)) {
			var both [2]map[string]draft
			for i, by := range [2]float64{step, -step} {
				q := s
				q.readings.Points = append([]survey.Point(nil), s.readings.Points...)
				change(&q, by)
				both[i] = motionLines(q.checker(t))
			}
			for k, d := range drafts {
				if d.main.value < 0 {
					continue // an overlap's depth is a bound
				}
				want := 0.0
				for _, term := range d.main.terms {
					if term.Source == source {
						want = term.By
					}
				}
				got := (both[0][k].main.value - both[1][k].main.value) / (2 * step) * u
				// The least is found to 1e-6 mm: a hundredth of the step.
				assert.InDelta(t, want, got, 3e-2*u, "%s, source %d", k, source)
				compared++
				if source < len(c.space.Sources()) && want != 0 {
					if name := c.space.Marks[c.space.Rows[c.space.Sources()[source].Row].Mark].Name; name == "crank-front" || name == "hinge-right" {
						axes++
					}
				}
			}
		}
		for k, source := range c.space.Sources() {
			compare(k, source.U, func(s *scene, by float64) {
				s.readings.Points[source.Row].At[source.Axis].Value += by
			})
		}
		compare(c.making.first+1, rectangular(s.tank.Within), func(s *scene, by float64) { s.tank.Size.Height += by })
		compare(c.making.first+4, rectangular(s.tank.Place.Within), func(s *scene, by float64) { s.tank.Place.At.Y += by })
	}
	assert.Greater(t, axes, 50)
	assert.Greater(t, compared, 1000)
}

// The stated uncertainty of a swept clearance against the scatter of surveys taken again: a
// lump with one corner well out, rocked about an axis of which both marks are uncertain by more
// than the lump's own.
func TestUncertaintyInAMotionAgainstSimulatedSurveys(t *testing.T) {
	if testing.Short() {
		t.Skip("4,000 surveys: left out of the short run")
	}
	s := under(40)
	s.feature(survey.FeatureSpec{Name: "engine", Shape: survey.Block}, 1,
		v(50, 60, 152), v(20, 20, 190), v(80, 10, 180), v(50, 90, 200), v(50, 50, 260))
	s.mark("", "crank-front", v(-60, -120, 240), 4)
	s.mark("", "crank-rear", v(160, -100, 250), 4)
	s.rules.Motions = []Motion{{Name: "rocks", Moves: []string{"engine"}, About: [2]string{"crank-front", "crank-rear"}, From: -9 * deg, To: 9 * deg}}
	const line = "body against engine, rocks"
	want := motionLines(s.checker(t))[line]
	require.Greater(t, want.main.value, 0.0)
	assert.Greater(t, want.main.u, 1.0)
	random := rand.New(rand.NewPCG(21, 22))
	const n = 4000
	sum, squares := 0.0, 0.0
	for range n {
		off := motionLines(remeasured(s, random).checker(t))[line].main.value - want.main.value
		sum += off
		squares += off * off
	}
	mean := sum / n
	scatter := math.Sqrt(squares/n - mean*mean)
	// The standard error of a standard deviation from n draws is 1/sqrt(2n) = 1.1 %.
	assert.InEpsilon(t, scatter, want.main.u, 0.04)
	assert.InDelta(t, 0, mean, 0.06*scatter)
}

// How often the lid keeps its gap when all is measured again, against P: any of its marks may
// come out nearest, at its own position.
func TestProbabilityInAMotionAgainstSimulatedSurveys(t *testing.T) {
	if testing.Short() {
		t.Skip("2,000 surveys: left out of the short run")
	}
	s := mounted(0, 0, 0, 0, 0, 0)
	s.tank.Within, s.tank.Place.Within, s.tank.Place.StandOff = 1, 1, 2
	s.feature(survey.FeatureSpec{Name: "lid", Shape: survey.Skin, Behind: v(0, 1, 0)}, 1.5,
		v(-60, 150, 10), v(50, 150, 10), v(160, 150, 10), v(-60, 150, 130), v(50, 150, 130), v(160, 150, 130))
	s.mark("", "hinge-left", v(-70, 152, 160), 1)
	s.mark("", "hinge-right", v(170, 152, 160), 1)
	// Right-handed from left to right, toward +x: what is behind the hinge (-z) goes up.
	s.rules.Motions = []Motion{{Name: "shuts", Moves: []string{"lid"}, About: [2]string{"hinge-left", "hinge-right"}, From: -16.2 * deg, To: 0}}
	var want Line
	for _, l := range s.check(t).Lines {
		if l.Part == "body" && l.When == "shuts" {
			want = l
		}
	}
	random := rand.New(rand.NewPCG(23, 24))
	const n = 2000
	held := 0
	for range n {
		if motionLines(remeasured(s, random).checker(t))["body against lid, shuts"].main.value >= 6 {
			held++
		}
	}
	p := float64(held) / n
	assert.InDelta(t, p, want.Sure, 6*math.Sqrt(p*(1-p)/n))
}

func TestPositionOfTheLeast(t *testing.T) {
	// A stud in front of the box on an arm from an axis above and in front.
	s := scene{tank: box100()}
	s.feature(dots("stud"), 0, v(50, 50, 160))
	s.mark("", "a", v(0, 250, 160), 0)
	s.mark("", "b", v(10, 250, 160), 0)
	s.rules.Motions = []Motion{{Name: "swings", Moves: []string{"stud"}, About: [2]string{"a", "b"}, From: -200 * deg, To: 10 * deg}}
	find := func() Line {
		for _, l := range s.check(t).Lines {
			if l.When == "swings" {
				return l
			}
		}
		return Line{}
	}
	l := find()
	// About +x, a positive turn takes what hangs below (-y) toward -z: into the box.
	want := 160 - 200*math.Sin(10*deg) - 100
	assert.InDelta(t, want, l.Clearance, 1e-6)
	assert.InDelta(t, 10*deg, l.At[0].At, 1e-6)
	assert.True(t, l.At[0].Turns)
	assert.Equal(t, []string{"stud1"}, l.Marks)
	// The other way about, the farthest it goes is half way round.
	travels := s.check(t).Travels
	require.Len(t, travels, 2)
	assert.Equal(t, "stud1", travels[0].Mark)
	assert.InDelta(t, 400, travels[0].Goes, 1e-6)
	assert.InDelta(t, -math.Pi, travels[0].At, 1e-9)
	assert.InDelta(t, 1, travels[0].Toward.Y, 1e-9)
	assert.InDelta(t, 400*math.Sin(5*deg), travels[1].Goes, 1e-6)

	s.rules.Motions = []Motion{{Name: "swings", Moves: []string{"stud"}, Along: v(0, 0, -1), From: -5, To: 60.5}}
	l = find()
	assert.InDelta(t, -0.5, l.Clearance, 1e-6)
	assert.InDelta(t, 60.5, l.At[0].At, 1e-6)
	assert.False(t, l.At[0].Turns)
	assert.Equal(t, Fouls, l.Verdict)
}

func TestAxesThatAreNone(t *testing.T) {
	for _, test := range []struct {
		apart, within float64
		checked       bool
	}{{100, 1, true}, {10, 1, true}, {4, 1, false}, {0, 1, false}, {0, 0, false}, {1, 0, true}} {
		s := scene{tank: box100()}
		s.feature(dots("stud"), 0, v(50, 50, 160))
		s.mark("", "a", v(0, 250, 160), test.within)
		s.mark("", "b", v(test.apart, 250, 160), test.within)
		s.rules.Motions = []Motion{
			{Name: "swings", Moves: []string{"stud"}, About: [2]string{"a", "b"}, From: -1, To: 1},
			{Name: "slides", Moves: []string{"stud"}, Along: v(1, 0, 0), From: -1, To: 1, With: []string{"swings"}},
		}
		rep := s.check(t)
		if test.checked {
			assert.Empty(t, rep.Unchecked)
			assert.Len(t, rep.Lines, 3)
			continue
		}
		require.Len(t, rep.Unchecked, 2, "nor what goes with it")
		assert.Equal(t, Unchecked{What: "swings", Moves: []string{"stud"}, Kind: UncheckedMotion}, rep.Unchecked[0])
		assert.Len(t, rep.Lines, 1)
		assert.Equal(t, Unproven, rep.Verdict)
		assert.Contains(t, rep.Doubts[0].Says, "a and b, the axis of swings, are")
	}
}

// An axis' direction counts: the farther off what moves, the less sure.
func TestAxisUncertaintyCounts(t *testing.T) {
	u := func(within float64) float64 {
		s := scene{tank: box100()}
		s.feature(dots("stud"), 0, v(50, 50, 160))
		s.mark("", "a", v(300, 250, 160), within)
		s.mark("", "b", v(340, 250, 160), within)
		s.rules.Motions = []Motion{{Name: "swings", Moves: []string{"stud"}, About: [2]string{"a", "b"}, From: 0, To: 10 * deg}}
		for _, l := range s.check(t).Lines {
			if l.When == "swings" {
				return l.U
			}
		}
		return math.NaN()
	}
	assert.Zero(t, u(0))
	assert.Greater(t, u(1), 0.1)
	assert.InDelta(t, 2*u(1), u(2), 1e-9)
}

// How a place moves with the axes' marks, far round two axes of which one carries the other.
func TestPullOfAxesAgainstChangedMarks(t *testing.T) {
	random := rand.New(rand.NewPCG(31, 32))
	anyOf := func(far float64) r3.Vector {
		return v(random.NormFloat64(), random.NormFloat64(), random.NormFloat64()).Mul(far)
	}
	const step = 1e-4
	for range 30 {
		var marks [4]r3.Vector
		for i := range marks {
			marks[i] = anyOf(200)
		}
		build := func() *checker {
			s := scene{tank: box100()}
			s.feature(dots("stud"), 1, v(50, 50, 160))
			for i, name := range []string{"a", "b", "c", "d"} {
				s.mark("", name, marks[i], 1)
			}
			s.rules.Motions = []Motion{
				{Name: "inner", Moves: []string{"stud"}, About: [2]string{"a", "b"}, From: -3, To: 3, With: []string{"slide", "outer"}},
				{Name: "slide", Moves: []string{"stud"}, Along: v(1, 2, 3), From: -9, To: 9},
				{Name: "outer", Moves: []string{"stud"}, About: [2]string{"c", "d"}, From: -3, To: 3},
			}
			return s.checker(t)
		}
		c := build()
		at := []float64{6*random.Float64() - 3, 5, 6*random.Float64() - 3}
		x, n := anyOf(200), anyOf(1).Normalize()
		got := map[string]r3.Vector{}
		for _, pull := range c.pullAxes(nil, &c.motions[0], at, x, n) {
			name := c.space.Marks[pull.Mark].Name
			got[name] = got[name].Add(pull.By)
		}
		for i, name := range []string{"a", "b", "c", "d"} {
			home := marks[i]
			for _, way := range []r3.Vector{{X: 1}, {Y: 1}, {Z: 1}} {
				var both [2]float64
				for k, by := range []float64{step, -step} {
					marks[i] = home.Add(way.Mul(by))
					both[k] = build().motions[0].joints.At(at).Move(x).Dot(n)
				}
				marks[i] = home
				want := (both[0] - both[1]) / (2 * step)
				assert.InDelta(t, want, got[name].Dot(way), 1e-4*(1+math.Abs(want)), name)
			}
		}
	}
}
