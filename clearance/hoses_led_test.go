package clearance

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/clearance/hose"
	"elbowroom/solid"
	"elbowroom/survey"
)

// led is the cube with an outlet in the middle of its right side, whose barb ends at
// (130, 50, 50), and a hose to be led to a pump.
func led(within float64, pump, arrives r3.Vector) scene {
	s := scene{tank: box100(), rules: Rules{LookedAt: allSides, AcceptSingle: true}}
	s.tank.Fittings = []solid.Fitting{{Name: "outlet", Side: solid.Right, Stack: []solid.Element{{Name: "barb", Diameter: 20, Length: 30}}}}
	s.mark("", "pump", pump, within)
	s.rules.Hoses = []HoseSpec{{Name: "hose", From: "outlet", To: "pump", Arrives: arrives, Outside: 20, BendRadius: 60}}
	return s
}

func block(name string) survey.FeatureSpec {
	return survey.FeatureSpec{Name: name, Shape: survey.Block}
}

// corners of an upright box.
func corners(lo, hi r3.Vector) []r3.Vector {
	var out []r3.Vector
	for k := range 8 {
		p := lo
		if k&1 > 0 {
			p.X = hi.X
		}
		if k&2 > 0 {
			p.Y = hi.Y
		}
		if k&4 > 0 {
			p.Z = hi.Z
		}
		out = append(out, p)
	}
	return out
}

func TestHoseLedRoundOneCorner(t *testing.T) {
	// 60 to the inside is 70 to the centre: the shortest cuts the corner, by two eighths
	// of a circle and a straight between.
	s := led(0, v(280, -100, 50), v(0, -1, 0))
	s.rules.Hoses[0].Slack = 0.05
	h := s.hose(t)
	assert.True(t, h.Led && h.Direct && h.Bent && h.Checked)
	assert.Equal(t, Clears, h.Verdict)
	straight := 80 * math.Sqrt2
	assert.InDelta(t, 70*math.Pi/2+straight, h.Length, 1e-6)
	assert.InDelta(t, h.Length*1.05, h.Cut, 1e-9)
	assert.InDelta(t, 60, h.Least, 1e-9)
	assert.InDelta(t, 70, h.LeastCentre, 1e-9)
	require.Len(t, h.Forms, 2)
	assert.InDelta(t, straight, h.Forms[1].Straight, 1e-6)
	assert.InDelta(t, math.Pi/4, h.Forms[1].Turn, 1e-9)
	assert.InDelta(t, 0, h.Forms[1].Roll, 1e-9)
	assert.Less(t, h.Forms[0].Side.Sub(v(0, -1, 0)).Norm(), 1e-9)
	require.True(t, h.HasElbow)
	assert.InDelta(t, math.Pi/2, h.Elbow.Angle, 1e-12)
	assert.InDelta(t, 150, h.Elbow.In, 1e-9)
	require.NotEmpty(t, h.Free)
	s.rules.Hoses[0].ToCentre = true
	assert.InDelta(t, 60, s.hose(t).LeastCentre, 1e-9)
}

func TestHoseLedPastABlock(t *testing.T) {
	s := led(0.5, v(380, -150, 50), v(0, -1, 0))
	s.feature(block("lump"), 0.5, corners(v(225, -400, -80), v(270, 95, 150))...)
	rep := s.check(t)
	h := rep.Hoses[0]
	require.False(t, h.Crowded, "short by %v at %s", h.Short, h.Pinch)
	assert.False(t, h.Direct)
	assert.Equal(t, Clears, h.Verdict)
	l := rep.line("hose", "lump")
	assert.Equal(t, Clears, l.Verdict)
	assert.GreaterOrEqual(t, l.Clearance, 10.0)
	assert.Positive(t, l.U)
	assert.Equal(t, "hose", l.GapName)
	assert.Equal(t, "body", rep.line("hose", "body").Feature)
}

func TestEndsThatFight(t *testing.T) {
	s := led(0.5, v(160, 60, 50), v(0, 1, 0)) // beside each other, nearer than a bend is wide
	s.rules.Hoses[0].Straight = 20
	rep := s.check(t)
	h := rep.Hoses[0]
	assert.True(t, h.Fights)
	assert.Equal(t, Tight, h.Verdict)
	assert.Equal(t, Tight, rep.Verdict)
	assert.Equal(t, "no such line", rep.line("hose", "body").Part)
	// Farther off there is a way, but a long one.
	h = led(0.5, v(230, -60, 50), v(0, 1, 0)).hose(t)
	assert.False(t, h.Fights)
	assert.True(t, h.Far)
	assert.Equal(t, Clears, h.Verdict)
}

func TestNoRunThatClears(t *testing.T) {
	if testing.Short() {
		t.Skip("it reckons long, one thing after the other")
	}
	// Shut in: a thing all round the outlet with a hole smaller than the hose.
	s := led(0.5, v(400, 50, 50), v(1, 0, 0))
	s.feature(block("above"), 0.5, corners(v(200, 58, -800), v(220, 900, 900))...)
	s.feature(block("below"), 0.5, corners(v(200, -900, -800), v(220, 42, 900))...)
	rep := s.check(t)
	h := rep.Hoses[0]
	require.True(t, h.Crowded)
	assert.Equal(t, Unproven, h.Verdict)
	assert.Equal(t, Near, h.Because)
	assert.Contains(t, []string{"above", "below"}, h.Pinch)
	assert.Positive(t, h.Short)
	l := rep.line("hose", "above")
	assert.Equal(t, Unproven, l.Verdict, "another run might clear")
	assert.Equal(t, Unproven, rep.Verdict)
}

func TestTwoHosesKeepApart(t *testing.T) {
	s := led(0.5, v(330, 50, 50), v(1, 0, 0))
	s.tank.Fittings = append(s.tank.Fittings, solid.Fitting{Name: "vent", Side: solid.Top, Stack: []solid.Element{{Name: "barb", Diameter: 10, Length: 20}}})
	s.mark("", "catch", v(230, -150, 50), 0.5)
	s.rules.Hoses = append(s.rules.Hoses, HoseSpec{Name: "breather", From: "vent", To: "catch", Arrives: v(0, -1, 0), Outside: 14, BendRadius: 40})
	rep := s.check(t)
	l := rep.line("breather", "hose")
	require.Equal(t, "hose", l.Feature)
	assert.Equal(t, 10.0, l.Gap)
	assert.GreaterOrEqual(t, l.Clearance, 10.0)
	assert.Equal(t, Clears, l.Verdict)
	assert.Equal(t, "outlet barb", rep.line("breather", "outlet barb").Feature, "a fitting that is not its own")
	assert.Equal(t, "no such line", rep.line("hose", "outlet barb").Part, "its own")
	assert.Contains(t, rep.OnPurpose, Contact{"hose", "outlet barb"})
}

func TestHoseKeepsOutOfAHandsRoom(t *testing.T) {
	s := led(0.5, v(330, 50, 50), v(1, 0, 0))
	s.tank.Fittings = append(s.tank.Fittings, solid.Fitting{Name: "fill", Side: solid.Right, At: solid.Spot{{From: solid.Bottom, By: 85}, {From: solid.Back, By: 50}},
		Stack: []solid.Element{{Name: "cap", Diameter: 20, Length: 10}}, KeepOpen: []solid.KeepOpen{{Name: "hand", Diameter: 30, Length: 60}}})
	rep := s.check(t)
	l := rep.line("hose", "fill hand")
	require.Equal(t, "fill hand", l.Feature)
	assert.Zero(t, l.Gap)
	assert.InDelta(t, 85-50-15-10, l.Clearance, 0.1)
}

// The pump rocks with the engine about an axis along z.
func hoseToEngine(slack float64, deg float64) scene {
	s := led(0.1, v(330, -150, 50), v(0, -1, 0))
	s.feature(block("engine"), 0.1, corners(v(400, -200, 0), v(520, -100, 90))...)
	s.mark("engine", "pump", v(330, -150, 50), 0.1)
	s.mark("", "front", v(430, -250, 0), 0.1)
	s.mark("", "rear", v(430, -250, 100), 0.1)
	s.rules.Hoses[0].Slack, s.rules.Hoses[0].Straight = slack, 30
	by := deg * math.Pi / 180
	s.rules.Motions = []Motion{{Name: "rocks", Moves: []string{"engine"}, About: [2]string{"front", "rear"}, From: -by, To: by}}
	return s
}

func TestHoseToAThingThatRocks(t *testing.T) {
	h := hoseToEngine(0, 3).hose(t)
	require.Len(t, h.Moves, 1)
	m := h.Moves[0]
	assert.Greater(t, m.NeedsAtLeast, 1.0)
	assert.Greater(t, m.NeedsAtMost, m.NeedsAtLeast)
	assert.Less(t, m.NeedsAtMost, m.NeedsAtLeast+1)
	assert.Equal(t, Tight, h.Verdict, "with no slack it is surely too short")
	h = hoseToEngine(0.08, 3).hose(t)
	assert.Equal(t, Clears, h.Verdict)
	assert.Zero(t, h.Moves[0].Short())
	// A slide along x by 10, at 45 degrees to the straight between the bends: the hose
	// needs about 10 cos 45 more.
	s := hoseToEngine(0, 3)
	s.rules.Motions[0] = Motion{Name: "slides", Moves: []string{"engine"}, Along: v(1, 0, 0), From: 0, To: 10}
	assert.InDelta(t, 10*math.Sqrt(0.5), s.hose(t).Moves[0].NeedsAtLeast, 0.3)
}

// Needs between the positions tried stay under what is said of them.
func TestNeedsBetweenPositions(t *testing.T) {
	s := hoseToEngine(0, 8)
	c := s.checker(t)
	h := s.hose(t)
	thing := c.lead(s.rules.Hoses[0], nil, new(Hose))
	p, ok := c.pathOf(s.rules.Motions[0])
	require.True(t, ok)
	e := c.ends(thing)
	most := 0.0
	for k := range 1001 {
		m := path{p.foot, p.axis, true, p.from + (p.to-p.from)*float64(k)/1000, 0}
		runs := shortestOf(m.moved(e, m.from), 70)
		most = math.Max(most, runs-h.Length)
	}
	assert.LessOrEqual(t, most, h.Moves[0].NeedsAtMost)
	assert.GreaterOrEqual(t, most, h.Moves[0].NeedsAtLeast-1e-6)
}

// Mirrored and moved, a led hose has the same length and keeps the same distances.
func TestLedHoseMirrored(t *testing.T) {
	one := led(0.5, v(330, -150, 50), v(0, -1, 0))
	one.feature(block("lump"), 0.5, corners(v(190, -60, 0), v(260, 40, 100))...)
	a := one.check(t)
	two := led(0.5, v(330, 250, 50), v(0, 1, 0)) // y to 100 - y
	two.feature(block("lump"), 0.5, corners(v(190, 60, 0), v(260, 160, 100))...)
	b := two.check(t)
	require.Equal(t, a.Hoses[0].Direct, b.Hoses[0].Direct)
	assert.InEpsilon(t, a.Hoses[0].Length, b.Hoses[0].Length, 0.02)
	assert.Equal(t, a.Hoses[0].Crowded, b.Hoses[0].Crowded)
}

func shortestOf(e hose.Ends, radius float64) float64 {
	runs := hose.Shortest(e, hose.Limits{Radius: radius, Straight: 30})
	if len(runs) == 0 {
		return math.Inf(1)
	}
	return runs[0].Length()
}

func BenchmarkLedHosePastABlock(b *testing.B) {
	s := led(0.5, v(380, -150, 50), v(0, -1, 0))
	s.feature(block("lump"), 0.5, corners(v(225, -400, -80), v(270, 95, 150))...)
	c := s.checkerOf()
	for b.Loop() {
		c.hoses()
	}
}

func BenchmarkLedHoseFree(b *testing.B) {
	c := hoseToEngine(0.08, 3).checkerOf()
	for b.Loop() {
		c.hoses()
	}
}

func (s scene) checkerOf() *checker {
	space, err := survey.Adjust(s.readings)
	if err != nil {
		panic(err)
	}
	assembly, err := solid.Build(s.tank)
	if err != nil {
		panic(err)
	}
	return newChecker(space, assembly, s.rules.withDefaults())
}

// A found run's clearance moves with its two ends: the pump is moved a little along
// each axis, the hose led again, and the clearance of a thing beside it compared with
// what the line's terms say; then the box.
func TestLedHoseMovesWithItsEnds(t *testing.T) {
	for name, beside := range map[string]r3.Vector{"near the fitting": v(145, 90, 60), "half way": v(270, 0, 60), "near the pump": v(280, -80, 100)} {
		s := led(1, v(300, -100, 50), v(0, -1, 0))
		s.tank.Place.Within = 1
		s.feature(dots("clip"), 0, beside)
		s.rules.Gaps = map[string]float64{"fixed": 0, "hose": 1}
		at := func(change func(s *scene)) draft {
			q := s
			q.readings.Points = append([]survey.Point(nil), s.readings.Points...)
			change(&q)
			for _, d := range allLines(q.checker(t)) {
				if d.line.Part == "hose" && d.line.Feature == "clip" {
					return d
				}
			}
			require.Fail(t, "no line")
			return draft{}
		}
		c := s.checker(t)
		home := at(func(*scene) {})
		require.NotEmpty(t, home.main.terms, name)
		by := map[int]float64{}
		for _, term := range home.main.terms {
			by[term.Source] = term.By
		}
		const step = 0.01
		for k, source := range c.space.Sources() {
			if source.Row != 0 { // the pump's
				continue
			}
			there := at(func(q *scene) { q.readings.Points[0].At[source.Axis].Value += step })
			assert.InDelta(t, (there.main.value-home.main.value)/step, by[k]/source.U, 0.25, "%s, axis %d", name, source.Axis)
		}
		for axis := range 2 {
			there := at(func(q *scene) {
				if axis == 0 {
					q.tank.Place.At.X += step
				} else {
					q.tank.Place.At.Y += step
				}
			})
			assert.InDelta(t, (there.main.value-home.main.value)/step, by[c.making.first+3+axis]/rectangular(1), 0.25, "%s, box along %d", name, axis)
		}
	}
}
