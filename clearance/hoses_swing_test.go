package clearance

import (
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/clearance/hose"
	"elbowroom/clearance/motion"
	"elbowroom/solid/shape"
	"elbowroom/survey"
	"elbowroom/survey/length"
)

// when finds a line in a motion.
func (r checked) when(part, feature, motion string) (Line, bool) {
	for _, l := range r.Lines {
		if l.Part == part && l.Feature == feature && l.When == motion {
			return l, true
		}
	}
	return Line{}, false
}

func TestHoseThatSwingsHasItsLinesInTheMotion(t *testing.T) {
	s := hoseToEngine(0.05, 3)
	s.feature(dots("clip"), 0.1, v(230, 120, 50))
	s.feature(dots("near"), 0.1, v(265, 45, 50))
	s.feature(dots("beside"), 0.1, v(230, -60, 50))
	rep := checked{s.check(t)}
	far, ok := rep.when("hose", "clip", "rocks")
	require.True(t, ok)
	require.NotNil(t, far.Swings)
	assert.Equal(t, Clears, far.Verdict)
	assert.Less(t, far.Clearance, rep.rest("clip").Clearance, "it may come nearer than as drawn")
	require.Equal(t, Clears, rep.rest("near").Verdict, "%v", rep.rest("near").Clearance)
	near, ok := rep.when("hose", "near", "rocks")
	require.True(t, ok)
	assert.Equal(t, Unproven, near.Verdict, "it may come there, or not")
	assert.Equal(t, Near, near.Because)
	assert.Equal(t, [2]string{"outlet", "pump"}, near.Swings.Holds)
	assert.InDelta(t, rep.rest("near").Clearance-near.Clearance, near.Swings.Unknown, 1e-9)
	for _, other := range []string{"body", "engine"} {
		_, ok = rep.when("hose", other, "rocks")
		assert.True(t, ok, other)
	}
	barb, ok := rep.when("hose", "outlet barb", "rocks")
	require.True(t, ok, "long enough to come back to it, if it could")
	assert.Zero(t, barb.Gap)
	assert.Equal(t, Clears, barb.Verdict)
	for _, m := range rep.MeasureNext {
		if m.Mark == "" {
			assert.NotContains(t, m.For, Pair{"hose", "near"}, "no reading tells how it hangs")
		}
	}
	require.Positive(t, rep.Hoses[0].Moves[0].Kept)
}

type checked struct{ *Report }

// rest is the hose's line at rest.
func (r checked) rest(feature string) Line {
	l, _ := r.when("hose", feature, "at rest")
	return l
}

// Where the engine does not move it, a hose keeps to its run.
func TestHoseThatNothingMovesDoesNotSwing(t *testing.T) {
	s := hoseToEngine(0.05, 3)
	s.mark("", "other", v(330, -150, 50), 0.1)
	s.rules.Hoses[0].To = "other"
	for _, l := range s.check(t).Lines {
		assert.Nil(t, l.Swings)
	}
}

// What surely fouls at rest does so in the motion, and what is too far off to tell does not.
func TestSwingFoulsOnEvidenceAlone(t *testing.T) {
	s := hoseToEngine(0.05, 3)
	s.feature(dots("in it"), 0.1, v(152, 50, 50))
	s.feature(dots("in the way of it"), 0.1, v(262, 12, 50))
	rep := checked{s.check(t)}
	l, ok := rep.when("hose", "in the way of it", "rocks")
	require.True(t, ok)
	assert.Negative(t, l.Clearance)
	assert.Equal(t, Unproven, l.Verdict)
}

// The tie that is advised proves what was not.
func TestTieSettlesASwing(t *testing.T) {
	s := hoseToEngine(0.05, 1.5)
	s.rules.Hoses[0].Along = "run"
	s.feature(survey.FeatureSpec{Name: "run", Shape: survey.Tube, Run: true}, 0.1, v(260, 50, 50), v(330, -20, 50))
	s.feature(dots("near"), 0.1, v(362, -60, 50))
	rep := checked{s.check(t)}
	l, ok := rep.when("hose", "near", "rocks")
	require.True(t, ok)
	require.Equal(t, Unproven, l.Verdict, "%v", l.Clearance)
	require.NotNil(t, l.Swings.Tie, "%v", l.Clearance)
	c := s.checker(t)
	h, ok := c.hose(s.rules.Hoses[0])
	require.True(t, ok)
	c.takeAlong(h)
	tied := h.swungs[0].tiedAt(h, l.Swings.Tie.Along)
	near := c.swingBound(h, tied, c.featureTarget(h, c.obstacleNamed("near"), &c.motions[0], 0))
	assert.GreaterOrEqual(t, near.bound, l.Gap)
	at, _ := h.whole.At(l.Swings.Tie.Along)
	assert.Less(t, c.pose.world(at).Sub(l.Swings.Tie.At).Norm(), 1e-9)
}

// swingScene is a hose to an engine that rocks, by itself or on a tray that slides, with
// odd things about it, some on the engine.
func swingScene(rng *rand.Rand) scene {
	s := hoseToEngine(0.01+0.05*rng.Float64(), 0.5+3*rng.Float64())
	s.tank.Place.Within = 0
	for i := range s.readings.Points {
		s.readings.Points[i].Limit = length.Limit{}
	}
	if rng.IntN(2) == 0 {
		s.rules.Motions = append(s.rules.Motions, Motion{Name: "bounces", Moves: []string{"frame"}, Along: v(0, 1, 0), From: -4 * rng.Float64(), To: 4 * rng.Float64()})
		s.feature(dots("frame"), 0, v(500, -300, 50))
		s.rules.Motions[0].With = []string{"bounces"}
	}
	if rng.IntN(8) > 0 {
		s.rules.Hoses[0].Along = "run"
		s.feature(survey.FeatureSpec{Name: "run", Shape: survey.Tube, Run: true}, 0, v(330, 50, 50))
	}
	for _, name := range []string{"a", "b", "c", "d"} {
		s.feature(dots(name), 0, v(120+250*rng.Float64(), -180+350*rng.Float64(), -60+220*rng.Float64()))
	}
	s.feature(dots("on it"), 0, v(250+150*rng.Float64(), -150+100*rng.Float64(), 120*rng.Float64()))
	s.rules.Motions[0].Moves = append(s.rules.Motions[0].Moves, "on it")
	return s
}

// In a hundred scenes, wherever a line of a swinging hose clears, no shape that a hose of
// its length may take at any of many positions, as a free rod or as an arc-and-line run,
// comes nearer than what was proven.
func TestSwingsThatClearClear(t *testing.T) {
	rng := rand.New(rand.NewPCG(51, 52))
	scenes, lines, shapes := 100, 0, 0
	if testing.Short() {
		scenes = 10
	}
	for range scenes {
		s := swingScene(rng)
		rep := checked{s.check(t)}
		c := s.checker(t)
		m := &c.motions[0]
		h := c.laidHose(s.rules.Hoses[0])
		if h == nil {
			continue
		}
		c.takeAlong(h)
		w := h.swungs[0]
		var clear []Line
		for _, name := range []string{"a", "b", "c", "d", "on it"} {
			l, ok := rep.when("hose", name, "rocks")
			require.True(t, ok)
			if l.Verdict == Fouls || l.Verdict == Tight {
				assert.True(t, rep.rest(name).Verdict != Clears || c.endShort(h, w, l), "only on evidence: %v", l)
			}
			if l.Verdict == Clears {
				clear = append(clear, l)
			}
		}
		lines += len(clear)
		{ // one position of each
			at := make([]float64, len(m.joints))
			for i, j := range m.joints {
				at[i] = j.From + (j.To-j.From)*rng.Float64()
			}
			shapes += c.denseAt(t, h, w, at, clear)
		}
	}
	assert.Greater(t, lines, 2*scenes)
	assert.Greater(t, shapes, scenes)
}

// laidHose is the hose on its run, measured or found.
func (c *checker) laidHose(spec HoseSpec) *hoseThing {
	if h, ok := c.hose(spec); ok {
		return h
	}
	return c.lead(spec, nil, new(Hose))
}

// endShort says whether the straight end that goes along rigidly is short of its gap at the
// position of a line.
func (c *checker) endShort(h *hoseThing, w *swung, l Line) bool {
	at := make([]float64, len(l.At))
	for i := range at {
		at[i] = l.At[i].At
	}
	r := w.rigids[len(w.rigids)-1]
	from, _ := h.whole.At(r.from)
	to, _ := h.whole.At(r.to)
	o := c.obstacleNamed(l.Feature)
	hull := shape.Hull{Points: []r3.Vector{from, to}, Grow: h.whole.Radius}
	there := motion.Moved(hull, w.m.poseOf(r.joints, at))
	return shape.Distance(there, motion.Moved(o.pieces[0].hull, w.m.poseOf(c.jointsOf(w.m, o), at))).Signed < l.Gap
}

func (c *checker) obstacleNamed(name string) *obstacle {
	for k := range c.features {
		if c.features[k].feature.Spec.Name == name {
			return &c.features[k]
		}
	}
	return nil
}

// denseAt holds shapes of the swinging stretch at a position against lines that clear.
func (c *checker) denseAt(t *testing.T, h *hoseThing, w *swung, at []float64, clear []Line) (shapes int) {
	t.Helper()
	s := w.stretches[0].swing
	pose := w.m.poseOf(s.To.Joints, at)
	e := hose.Ends{From: s.From.At, Leave: s.From.Way, To: pose.Move(s.To.At), Arrive: pose.Turn(s.To.Way)}
	var lines [][]r3.Vector
	for _, r := range hose.Rest(e, s.Length, 24) {
		if r.Radius >= s.Radius {
			lines = append(lines, r.Points)
		}
	}
	for _, r := range hose.Shortest(e, hose.Limits{Radius: s.Radius}) {
		if r.Length() <= s.Length {
			lines = append(lines, r.Trace(0.02))
		}
	}
	for _, l := range clear {
		o := c.obstacleNamed(l.Feature)
		seen := w.m.poseOf(c.jointsOf(w.m, o), at)
		for _, line := range lines {
			for _, p := range line {
				off := shape.Distance(point(seen.Back(p), h.whole.Radius), o.pieces[0].solid).Signed
				// Between its points a free rod of 24 parts is off by up to 0.03 mm.
				require.GreaterOrEqual(t, off, l.Clearance-0.03, "%s at %v", l.Feature, at)
				require.GreaterOrEqual(t, off, l.Gap-0.03)
			}
		}
	}
	return len(lines)
}

func BenchmarkSwingingHose(b *testing.B) {
	s := hoseToEngine(0.05, 3)
	s.feature(dots("clip"), 0.1, v(230, 120, 50))
	c := s.checkerOf()
	for b.Loop() {
		c.hoses()
	}
}
