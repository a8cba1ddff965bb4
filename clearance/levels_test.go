package clearance

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/solid"
	"elbowroom/solid/level"
	"elbowroom/survey"
)

// cistern is a 100 mm cube of no sheet with a filler in its top and an outlet in its right side.
func cistern() scene {
	s := scene{tank: box100()}
	s.feature(dots("far"), 0, v(500, 500, 500))
	s.tank.Fittings = []solid.Fitting{
		{Name: "filler", Side: solid.Top, At: solid.Spot{{From: solid.Left, By: 30}, {}}, Hole: 20,
			Stack: []solid.Element{{Name: "neck", Diameter: 20, Length: 20}, {Name: "cap", Diameter: 30, Length: 10, After: true}}},
		{Name: "outlet", Side: solid.Right, At: solid.Spot{{From: solid.Bottom, By: 30}, {}}, Hole: 20,
			Stack: []solid.Element{{Name: "barb", Diameter: 20, Length: 20}}},
	}
	s.rules.LookedAt = []solid.Side{solid.Left, solid.Right, solid.Top, solid.Bottom, solid.Front, solid.Back}
	s.rules.AcceptSingle = true
	s.rules.Levels = LevelRules{Asked: true, Fill: 0.8, Cold: 20, Hot: 120, Swells: true}
	return s
}

func TestLevelsStandingLevel(t *testing.T) {
	rep := cistern().check(t)
	l := rep.Levels
	assert.Equal(t, Clears, rep.Verdict)
	assert.Equal(t, "filler", l.Fill.Fitting)
	assert.True(t, l.Fill.Highest)
	assert.InDelta(t, 0, l.Fill.Air, 1e-9)
	assert.InDelta(t, 20, l.Fill.Spare, 1e-9, "the cold level stands at 80 of 100")
	assert.Equal(t, "outlet", l.Outlet.Fitting)
	assert.False(t, l.Outlet.Lowest)
	assert.InDelta(t, 20, l.Outlet.Over, 1e-9)
	assert.InDelta(t, 0.2, l.Outlet.Left, 1e-9)
	assert.InDelta(t, 40, l.Outlet.Depth, 1e-9)
	assert.InDelta(t, 40, l.Outlet.Least, 0.5)
	assert.LessOrEqual(t, l.Outlet.Least, 40.0)
	assert.Zero(t, l.Outlet.U)
	// Left, right, back and front: to the right it goes deeper; to the left it
	// comes out where 80 - 50 tan = 40; forward and back its top is uncovered past the wall.
	require.Len(t, l.Outlet.Uncovers, 4)
	left := l.Outlet.Uncovers[0]
	assert.Equal(t, solid.Left, left.Side)
	// Past tan = 0.4 the surface meets the top: air is a triangle a wide along the top, a tan down
	// the right wall... a^2 tan / 2 = 2000, 100 - a tan = 40: a tan = 60, a = 66.7, tan = 0.9.
	assert.InDelta(t, math.Atan(0.9)*180/math.Pi, left.Angle.Degrees(), 0.05)
	assert.Less(t, float64(l.Outlet.Uncovers[1].Angle), 0.0, "never to the right")
	assert.Zero(t, l.Litres, "no sheet")
	assert.True(t, l.Head.Known)
	assert.False(t, l.Head.Asked)
}

func TestLevelsLeaned(t *testing.T) {
	s := cistern()
	s.rules.Levels.Roll = 20 * s1.Degree
	l := s.check(t).Levels
	tan, cos := math.Tan(20*math.Pi/180), math.Cos(20*math.Pi/180)
	want := (80 - 50*tan - 40) * cos
	assert.LessOrEqual(t, l.Outlet.Least, want)
	assert.InDelta(t, want, l.Outlet.Least, 0.5)
	assert.Equal(t, solid.Left, l.Outlet.ToRoll.Side)
	assert.InDelta(t, 20, l.Outlet.ToRoll.Angle.Degrees(), 1)
	// Leaned left the right end rises: air stays beyond the rim at 40, a wedge 60 long.
	air := 60 * 60 * tan / 2 * 100 / 1e6
	assert.GreaterOrEqual(t, l.Fill.Leaned, air)
	assert.InDelta(t, air, l.Fill.Leaned, 0.006)
	assert.Equal(t, solid.Right, l.Fill.AirOn)
	assert.Equal(t, solid.Left, l.Fill.ToRoll.Side)
	assert.Greater(t, l.Fill.AirAt.X, 70.0)
	// A lean that uncovers it: tight, and the job with it.
	s.rules.Levels.Roll = 50 * s1.Degree
	rep := s.check(t)
	assert.Equal(t, Tight, rep.Levels.Outlet.Verdict)
	assert.Equal(t, Tight, rep.Verdict)
	assert.Less(t, rep.Levels.Outlet.Least, 0.0)
}

// The depth is 0.8 H - (30 + 10): H and the outlet's place each within 2.
func TestLevelsCarryTheMaking(t *testing.T) {
	s := cistern()
	s.tank.Within, s.tank.Fittings[1].Within = 2, 2
	l := s.check(t).Levels
	assert.InDelta(t, math.Hypot(0.8, 1)*2/math.Sqrt(3), l.Outlet.U, 1e-4)
	assert.InDelta(t, 0.2*2/math.Sqrt(3), l.Fill.U, 1e-4)
	// Of two that hang on the place of one fitting, one that is measured from the top goes with it.
	s.tank.Fittings[1].At[0] = solid.Offset{From: solid.Top, By: 70}
	assert.InDelta(t, math.Hypot(0.2, 1)*2/math.Sqrt(3), s.check(t).Levels.Outlet.U, 1e-4)
	// Moved along +y the outlet comes up, whichever edge it is measured from: the
	// terms must have the sign that the lines of its parts have.
	for _, from := range []solid.Offset{{From: solid.Top, By: 70}, {From: solid.Bottom, By: 30}} {
		s.tank.Fittings[1].At[0] = from
		c := s.checker(t)
		terms := c.levels().Outlet.figure.terms
		source := c.making.first + sizeErrors + placeErrors + 2
		found := false
		for _, term := range terms {
			if term.Source == source {
				found = true
				assert.InDelta(t, -2/math.Sqrt(3), term.By, 1e-4)
			}
		}
		assert.True(t, found)
	}
	// Near the limit neither is proved.
	s.tank.Fittings[1].At[0] = solid.Offset{From: solid.Bottom, By: 69.5}
	rep := s.check(t)
	assert.Equal(t, Unproven, rep.Levels.Outlet.Verdict)
	assert.Equal(t, []Because{Near}, rep.Because)
}

// The face that the box is bolted to tilts by what its marks are off.
func TestLevelsCarryTheFace(t *testing.T) {
	s := cistern()
	s.feature(survey.FeatureSpec{Name: "wall", Shape: survey.Face, Mount: true}, 3,
		v(0, 0, 0), v(100, 0, 0), v(0, 100, 0), v(100, 100, 0))
	l := s.check(t).Levels
	// Turned about the vertical nothing changes; a tilt about x moves the surface
	// along z: the outlet stands in the middle of the depth, where it turns.
	assert.InDelta(t, 0, l.Outlet.U, 0.05)
	s.tank.Fittings[1].At[1] = solid.Offset{From: solid.Back, By: 20}
	u := s.check(t).Levels.Outlet.U
	tilt := 3 / math.Sqrt(3) / 100 // four marks, half of them up, half down
	assert.InDelta(t, 30*tilt, u, 0.05)
}

func TestFillThatCannotReachTheColdLevel(t *testing.T) {
	s := cistern()
	s.tank.Fittings[0].Side, s.tank.Fittings[0].At = solid.Left, solid.Spot{{From: solid.Bottom, By: 60}, {}}
	rep := s.check(t)
	f := rep.Levels.Fill
	assert.False(t, f.Highest)
	assert.InDelta(t, 30, f.Over, 1e-9)
	assert.InDelta(t, 0.3, f.Air, 1e-9)
	assert.InDelta(t, -10, f.Spare, 1e-9)
	assert.Equal(t, Tight, f.Verdict)
	// A vent in the top mends it.
	s.tank.Fittings = append(s.tank.Fittings, solid.Fitting{Name: "vent", Side: solid.Top, At: solid.Spot{{}, {}}, Hole: 6, Use: solid.VentUse})
	f = s.check(t).Levels.Fill
	assert.Equal(t, Clears, f.Verdict)
	assert.Equal(t, []string{"vent"}, f.Vents)
	// Without a cold level it must be the highest point.
	s.rules.Levels.Fill = 0
	assert.Equal(t, Clears, s.check(t).Levels.Fill.Verdict)
	s.tank.Fittings = s.tank.Fittings[:2]
	rep = s.check(t)
	assert.Equal(t, Tight, rep.Levels.Fill.Verdict)
	assert.False(t, rep.Levels.Outlet.Checked)
	assert.False(t, rep.Levels.Head.Known)
}

func TestNoFillKnown(t *testing.T) {
	s := cistern()
	s.tank.Fittings = s.tank.Fittings[1:]
	rep := s.check(t)
	assert.Equal(t, Unproven, rep.Levels.Fill.Verdict)
	assert.Equal(t, []Because{NotChecked}, rep.Because)
}

func TestHeadRoom(t *testing.T) {
	s := cistern()
	s.tank.Sheet = 1 // 98 mm inside: 0.9412 l
	s.rules.Levels.System = 2.5
	whole := 0.98 * 0.98 * 0.98
	swell, ok := level.HalfGlycol.Expansion(20, 120)
	require.True(t, ok)
	h := s.check(t).Levels.Head
	assert.InDelta(t, whole, s.check(t).Levels.Litres, 1e-12)
	assert.InDelta(t, 0.2*whole, h.Litres, 1e-12)
	assert.InDelta(t, 0.2*whole/swell, h.Takes, 1e-9)
	assert.True(t, h.Asked)
	assert.Equal(t, Clears, h.Verdict) // 0.188 l against 2.5 * 6.7 % = 0.168
	s.rules.Levels.System = 3
	assert.Equal(t, Tight, s.check(t).Levels.Head.Verdict)
	// Nobody says how much there is: no verdict, unless the box's own is too much.
	s.rules.Levels.System = 0
	assert.False(t, s.check(t).Levels.Head.Asked)
	s.rules.Levels.Fill = 0.97
	h = s.check(t).Levels.Head
	assert.True(t, h.Asked)
	assert.Equal(t, Tight, h.Verdict)
	// Beyond the published densities it says so.
	s.rules.Levels.Hot = 140
	h = s.check(t).Levels.Head
	assert.Equal(t, NotChecked, h.Because)
}

// A box on the floor: its front is up, and it leans toward its top, bottom, left and right.
func TestLevelsOnAFloor(t *testing.T) {
	s := cistern()
	s.rules.Levels.Up = v(0, 0, 1)
	s.tank.Fittings[0].Side, s.tank.Fittings[0].At = solid.Front, solid.Spot{{From: solid.Left, By: 30}, {}}
	s.tank.Fittings[1].At = solid.Spot{{}, {From: solid.Back, By: 30}}
	l := s.check(t).Levels
	assert.True(t, l.Fill.Highest)
	assert.InDelta(t, 20, l.Fill.Spare, 1e-9)
	assert.InDelta(t, 40, l.Outlet.Depth, 1e-9)
	var sides []solid.Side
	for _, u := range l.Outlet.Uncovers {
		sides = append(sides, u.Side)
	}
	assert.ElementsMatch(t, []solid.Side{solid.Left, solid.Right, solid.Top, solid.Bottom}, sides)
}

// A pitch along the face is what a roll is to a machine that the face lies across.
func TestForwardAlongTheFace(t *testing.T) {
	across, along := cistern(), cistern()
	across.rules.Levels.Roll = 14 * s1.Degree
	along.rules.Levels.Pitch, along.rules.Levels.Forward = 14*s1.Degree, v(-1, 0, 0)
	a, b := across.check(t).Levels, along.check(t).Levels
	assert.Equal(t, [2]solid.Side{solid.Front, solid.Right}, [2]solid.Side{a.PitchTo, a.RollTo})
	assert.Equal(t, [2]solid.Side{solid.Right, solid.Front}, [2]solid.Side{b.PitchTo, b.RollTo})
	assert.InDelta(t, a.Outlet.Least, b.Outlet.Least, 1e-9)
	assert.InDelta(t, a.Fill.Leaned, b.Fill.Leaned, 1e-9)
	assert.Equal(t, a.Outlet.ToRoll, b.Outlet.ToPitch)
	assert.ElementsMatch(t, a.Outlet.Uncovers, b.Outlet.Uncovers, "these are leans toward the sides, whatever they are called")
	// It is not the same as the pitch that it was without.
	along.rules.Levels.Forward = r3.Vector{}
	assert.NotEqual(t, b.Outlet.Least, along.check(t).Levels.Outlet.Least)
}

func TestLevelsNotAskedSayNothing(t *testing.T) {
	s := cistern()
	s.rules.Levels = LevelRules{}
	rep := s.check(t)
	assert.Equal(t, Levels{}, rep.Levels)
	rep.Levels.Each(func(Verdict, Because) { t.Fail() })
}

func BenchmarkLevels(b *testing.B) {
	s := cistern()
	s.rules.Levels.Pitch, s.rules.Levels.Roll = 10*s1.Degree, 20*s1.Degree
	c := s.checker(b)
	for b.Loop() {
		c.levels()
	}
}
