package clearance

import (
	"context"
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/solid"
	"elbowroom/survey"
)

var allSides = []solid.Side{solid.Left, solid.Right, solid.Top, solid.Bottom, solid.Front, solid.Back}

// lone is a scene of a cube at the origin with one dot beside it, all sides
// looked at.
func lone(at r3.Vector, within float64) scene {
	s := scene{tank: box100(), rules: Rules{LookedAt: allSides}}
	s.feature(dots("stud"), within, at)
	return s
}

func TestClearanceOfADot(t *testing.T) {
	for _, c := range []struct {
		name string
		at   r3.Vector
		want float64
	}{
		{"right of it", v(110, 50, 50), 10},
		{"off an edge", v(103, 104, 50), 5},
		{"off a corner", v(102, 103, 106), 7},
		{"touching", v(100, 50, 50), 0},
		{"inside", v(97, 50, 50), -3},
	} {
		l := lone(c.at, 0).check(t).line("body", "stud")
		assert.InDelta(t, c.want, l.Clearance, 1e-9, c.name)
		assert.Zero(t, l.U, c.name)
		assert.InDelta(t, math.Abs(c.want), l.OnPart.Sub(l.OnFeature).Norm(), 1e-9, c.name)
	}
}

func TestVerdicts(t *testing.T) {
	// The gap of a feature that asks for none is "fixed", 6 mm; u is 1.5/sqrt 3.
	u := 1.5 / math.Sqrt(3)
	for _, c := range []struct {
		clearance float64
		want      Verdict
		because   Because
	}{
		{6 + 1.97*u, Clears, NoReason},
		{6 + 1.95*u, Unproven, Near},
		{6 - 1.95*u, Unproven, Near},
		{6 - 1.97*u, Tight, NoReason},
		{-1.95 * u, Tight, NoReason},
		{-1.97 * u, Fouls, NoReason},
	} {
		s := lone(v(100+c.clearance, 50, 50), 1.5)
		s.rules.AcceptSingle = true
		rep := s.check(t)
		l := rep.line("body", "stud")
		assert.Equal(t, c.want, l.Verdict, "%v", c.clearance)
		assert.Equal(t, c.because, l.Because, "%v", c.clearance)
		assert.Equal(t, c.want, rep.Verdict, "%v: the job", c.clearance)
	}
}

// An inch of slip in a reading that nothing checks must not undo the answer.
func TestOneReading(t *testing.T) {
	near, far := lone(v(130, 50, 50), 1), lone(v(140, 50, 50), 1)
	l := near.check(t).line("body", "stud")
	assert.Equal(t, Unproven, l.Verdict)
	assert.Equal(t, OneReading, l.Because)
	require.Len(t, l.Single, 1)
	assert.Equal(t, "stud1", l.Single[0].Mark)
	assert.Equal(t, Clears, far.check(t).line("body", "stud").Verdict)

	rep := near.check(t)
	assert.Equal(t, 1, rep.TakenOnce)
	require.NotEmpty(t, rep.MeasureNext)
	assert.Equal(t, TakeOnceMore, rep.MeasureNext[0].Kind)

	waived := near
	waived.rules.AcceptSingle = true
	rep = waived.check(t)
	assert.Equal(t, Clears, rep.Verdict)
	assert.Equal(t, 1, rep.TakenOnce, "it is still said")

	repeated := near
	repeated.mark("stud", "stud1", v(130, 50, 50), 1)
	assert.Equal(t, Clears, repeated.check(t).Verdict)
}

// mounted is the cube bolted to a wall with marks at given heights.
func mounted(heights ...float64) scene {
	s := scene{tank: box100(), rules: Rules{LookedAt: allSides, AcceptSingle: true}}
	var marks []r3.Vector
	for i, h := range heights {
		marks = append(marks, v(float64(i%3)*100-50, float64(i/3)*100-50, h))
	}
	s.feature(survey.FeatureSpec{Name: "wall", Shape: survey.Face, Mount: true}, 0.5, marks...)
	return s
}

func TestBackOnTheWallIsOnPurpose(t *testing.T) {
	rep := mounted(0, 0, 0, 0, 0, 0).check(t)
	assert.Equal(t, []Contact{{"body", "wall"}}, rep.OnPurpose)
	assert.Empty(t, rep.Lines)
	assert.Len(t, rep.Sides, 5, "the mount settles the back")

	s := mounted(0, 0, 0, 0, 0, 0)
	s.tank.Place.StandOff = 4
	rep = s.check(t)
	l := rep.line("body", "wall")
	assert.InDelta(t, 4, l.Clearance, 1e-9)
	assert.Zero(t, l.Gap)
	assert.Empty(t, rep.OnPurpose)
	assert.InDelta(t, 4, rep.Box.Corner.Z, 1e-9)
}

func TestProudMarkHoldsTheBoxOff(t *testing.T) {
	// Nine marks, the middle one (under the footprint) 9 mm proud: the plane
	// rises by 1 mm in the middle of an even grid, the mark stands 8 mm out of it.
	s := mounted(0, 0, 0, 0, 9, 0, 0, 0, 0)
	rep := s.check(t)
	assert.InDelta(t, 9, rep.Box.Corner.Z, 1e-9)
	assert.Equal(t, "wall5", rep.Flats[0].Proud)
	assert.InDelta(t, 9, rep.Flats[0].Flatness, 1e-9)
	// Beside the footprint it holds nothing.
	s.tank.Place.At = r2.Point{X: 60, Y: 60}
	assert.InDelta(t, 1, s.check(t).Box.Corner.Z, 1e-9)
}

func TestUncertaintyOfTheWallCountsAtTheCorners(t *testing.T) {
	s := mounted(0, 0, 0, 0, 0, 0, 0, 0, 0)
	s.tank.Place.At = r2.Point{X: -50, Y: -50} // the middle of the wall's marks is its corner
	s.feature(dots("near"), 0, v(-50, 50, 120))
	s.feature(dots("far"), 0, v(200, 50, 120))
	c := s.checker(t)
	u := func(at r3.Vector) float64 {
		for k, amount := range c.pose.push(c.pose.local(at), v(0, 0, 1)) {
			c.sum.add(c.ways[k], amount)
		}
		return c.newFigure(0, nil).u
	}
	// Nine marks 100 apart: variance of the plane (1/9 + s2/(6 100^2) + t2/(6 100^2)) sigma2.
	sigma := 0.5 / math.Sqrt(3)
	for _, at := range []r3.Vector{v(50, 50, 0), v(150, 50, 0), v(250, 150, 80)} {
		s2, t2 := (at.X-50)*(at.X-50), (at.Y-50)*(at.Y-50)
		assert.InDelta(t, sigma*math.Sqrt(1.0/9+s2/60000+t2/60000), u(at), 1e-9)
	}
}

func TestGaps(t *testing.T) {
	s := lone(v(150, 50, 50), 0)
	s.tank.Fittings = []solid.Fitting{{Name: "fill", Side: solid.Top, Stack: []solid.Element{{Name: "cap", Diameter: 20, Length: 20}},
		KeepOpen: []solid.KeepOpen{{Name: "lift", Diameter: 30, Length: 40}}}}
	for _, c := range []struct {
		ask  Ask
		want float64
	}{{Ask{}, 6}, {Ask{Name: "hot"}, 75}, {Ask{Name: "moving"}, 25}, {Ask{Gap: 3}, 3}} {
		s.rules.Asks = map[string]Ask{"stud": c.ask}
		if c.ask == (Ask{}) {
			s.rules.Asks = nil
		}
		rep := s.check(t)
		assert.Equal(t, c.want, rep.line("body", "stud").Gap)
		assert.Equal(t, c.want, rep.line("fill cap", "stud").Gap)
		assert.Zero(t, rep.line("fill lift", "stud").Gap, "room for a hand asks 0")
	}
	s.rules.Asks = map[string]Ask{"stud": {Name: "moving"}}
	assert.Contains(t, s.check(t).Doubts[0].Says, "how far does stud move?")
	s.rules.Motions = []Motion{{Name: "rock", Moves: []string{"stud"}}}
	rep := s.check(t)
	assert.Equal(t, 6.0, rep.line("body", "stud").Gap, "with a declared motion it asks swept")
	assert.Empty(t, rep.Doubts)
	s.rules.Gaps = map[string]float64{"swept": 9}
	assert.Equal(t, 9.0, s.check(t).line("body", "stud").Gap)
}

func TestRoomForAHandAgainstOwnParts(t *testing.T) {
	s := scene{tank: box100(), rules: Rules{LookedAt: allSides}}
	neck := func(name string, x float64) solid.Fitting {
		return solid.Fitting{Name: name, Side: solid.Top, At: solid.Spot{{From: solid.Left, By: x}, {}},
			Stack: []solid.Element{{Name: "neck", Diameter: 20, Length: 30}}}
	}
	a, b := neck("a", 20), neck("b", 70)
	a.KeepOpen = []solid.KeepOpen{{Name: "hand", Diameter: 60, Length: 10}}
	b.Stack[0].Length = 45
	s.tank.Fittings = []solid.Fitting{a, b}
	rep := s.check(t)
	l := rep.line("a hand", "b neck")
	assert.True(t, l.Own)
	assert.InDelta(t, 70-10-20-30, l.Clearance, 1e-6)
	assert.InDelta(t, 30, rep.line("a hand", "body").Clearance, 1e-9)
	assert.Equal(t, "no such line", rep.line("a hand", "a neck").Part)
	b.Stack[0].Diameter = 60
	s.tank.Fittings = []solid.Fitting{a, b}
	assert.Equal(t, Fouls, s.check(t).line("a hand", "b neck").Verdict)
}

func TestUncheckedThingsAreUnproven(t *testing.T) {
	s := lone(v(500, 50, 50), 1)
	s.rules.Unchecked = []Unchecked{{What: "lid shuts", Kind: UncheckedMotion}}
	rep := s.check(t)
	assert.Equal(t, Unproven, rep.Verdict)
	assert.Equal(t, []Because{NotChecked}, rep.Because)
}

func TestMarkWithoutAPlaceIsUnproven(t *testing.T) {
	s := lone(v(500, 50, 50), 1)
	s.mark("stud", "lost", v(0, 0, 0), 1)
	s.readings.Points[1].At[2].Given = false
	rep := s.check(t)
	assert.Equal(t, []Because{NotChecked}, rep.Because)
	assert.Equal(t, NotChecked, rep.line("body", "stud").Because)
	assert.Equal(t, []Measure{{Kind: NeedsTape, Marks: []string{"lost"}, For: []Pair{{"body", "stud"}}}}, rep.MeasureNext)
	// A feature of which nothing can be drawn still has its line.
	s.readings.Points[0].At[0].Given = false
	rep = s.check(t)
	assert.Equal(t, []Because{NotChecked}, rep.Because)
	require.Len(t, rep.Unchecked, 1)
	assert.Equal(t, "stud1", rep.Unchecked[0].Mark)
}

func TestSixMarksAlongALip(t *testing.T) {
	s := scene{tank: box100(), rules: Rules{LookedAt: allSides, AcceptSingle: true}}
	u := 1.5 / math.Sqrt(3)
	z := 1.959964
	var marks []r3.Vector
	for i := 0; i < 6; i++ {
		marks = append(marks, v(20*float64(i), 106+z*u, 50))
	}
	s.feature(survey.FeatureSpec{Name: "lip", Shape: survey.Edge, Behind: v(0, 1, 0)}, 1.5, marks...)
	rep := s.check(t)
	l := rep.line("body", "lip")
	// Each at 97.5 %, six are 86 % together (0.975^6 = 0.8591).
	assert.InDelta(t, 0.859, l.Sure, 0.014)
	assert.Equal(t, Unproven, l.Verdict)
	assert.Equal(t, Near, l.Because)
}

func TestLinesThatAreSureAloneButNotTogether(t *testing.T) {
	s := lone(v(106+2.1*1.5/math.Sqrt(3), 50, 50), 1.5)
	s.rules.AcceptSingle = true
	off := 6 + 2.1*1.5/math.Sqrt(3)
	s.feature(dots("b"), 1.5, v(-off, 50, 50))
	s.feature(dots("c"), 1.5, v(50, -off, 50))
	rep := s.check(t)
	for _, l := range rep.Lines {
		assert.Equal(t, Clears, l.Verdict)
	}
	assert.Equal(t, Unproven, rep.Verdict)
	assert.Equal(t, []Because{Together}, rep.Because)
	assert.Equal(t, "about", rep.SureIs)
	assert.InDelta(t, math.Pow(0.98214, 3), rep.Sure, 0.01)
}

// Moving everything rigidly leaves every clearance as it is.
func TestRigidMotionLeavesClearancesUnchanged(t *testing.T) {
	s := crowd(3)
	want := s.check(t)
	moved := s
	moved.readings.Points = append([]survey.Point(nil), s.readings.Points...)
	for i := range moved.readings.Points {
		moved.readings.Points[i].At[0].Value += 1234.5
		moved.readings.Points[i].At[1].Value -= 77.25
	}
	moved.tank.Place.At = moved.tank.Place.At.Add(r2.Point{X: 1234.5, Y: -77.25})
	got := moved.check(t)
	require.Len(t, got.Lines, len(want.Lines))
	for _, l := range want.Lines {
		m := got.line(l.Part, l.Feature)
		// The wall leans a little, so that x and y of the datum are not quite
		// along it: the box moves by the lean squared more or less.
		assert.InDelta(t, l.Clearance, m.Clearance, 0.1, "%s against %s", l.Part, l.Feature)
		assert.InDelta(t, l.U, m.U, 0.02)
	}
}

// A larger box never has a larger clearance, with any of its parts that stay.
func TestGrowingTheBoxNeverGrowsAClearance(t *testing.T) {
	for seed := uint64(0); seed < 5; seed++ {
		s := crowd(seed)
		before := s.check(t)
		for _, grow := range []func(*solid.Size){
			func(z *solid.Size) { z.Width += 3 }, func(z *solid.Size) { z.Height += 3 }, func(z *solid.Size) { z.Depth += 3 },
		} {
			larger := s
			grow(&larger.tank.Size)
			after := larger.check(t)
			for _, l := range before.Lines {
				if l.Part == "body" {
					assert.LessOrEqual(t, after.line(l.Part, l.Feature).Clearance, l.Clearance+1e-9)
				}
			}
		}
	}
}

// A box turned with everything around it turned the other way round is the same.
func TestTurnOfTheBox(t *testing.T) {
	s := lone(v(130, 50, 50), 0)
	s.tank.Place.Turn = 90 * s1.Degree
	assert.InDelta(t, 30, s.check(t).line("body", "stud").Clearance, 1e-9, "a square turned by a right angle")
	s.tank.Place.Turn = 45 * s1.Degree
	assert.InDelta(t, 80-50*math.Sqrt2, s.check(t).line("body", "stud").Clearance, 1e-9)
}

func TestBestMove(t *testing.T) {
	s := lone(v(106.5, 50, 50), 1)
	s.rules.AcceptSingle = true
	s.mark("stud", "stud1", v(106.5, 50, 50), 1)
	rep := s.check(t)
	require.NotNil(t, rep.Move)
	assert.Less(t, rep.Move.By.X, 0.0)
	assert.Zero(t, rep.Move.By.Y)
	assert.True(t, rep.Move.Clears)
	s.tank.Place.At = rep.Move.By
	assert.Equal(t, Clears, s.check(t).Verdict)
	// Hemmed in on both sides no move helps.
	s.tank.Place.At = r2.Point{}
	s.feature(dots("other"), 1, v(-6.5, 50, 50))
	rep = s.check(t)
	if rep.Move != nil {
		assert.Zero(t, rep.Move.By.X)
	}
}

// The reading that is named must settle the line when it is taken as well as is asked.
func TestMeasureNextSettlesTheLine(t *testing.T) {
	s := lone(v(107.5, 50, 50), 1.5)
	s.rules.AcceptSingle = true
	rep := s.check(t)
	require.Equal(t, Unproven, rep.Verdict)
	require.NotEmpty(t, rep.MeasureNext)
	m := rep.MeasureNext[0]
	assert.Equal(t, TakeAgain, m.Kind)
	assert.Equal(t, []string{"stud1"}, m.Marks)
	assert.Equal(t, Clears, lone(v(107.5, 50, 50), m.Within*0.999).with(func(r *Rules) { r.AcceptSingle = true }).check(t).Verdict)
	assert.Equal(t, Unproven, lone(v(107.5, 50, 50), m.Within*1.001).with(func(r *Rules) { r.AcceptSingle = true }).check(t).Verdict)
}

func (s scene) with(change func(*Rules)) scene {
	change(&s.rules)
	return s
}

func TestSameInputSameOutput(t *testing.T) {
	s := crowd(2)
	assert.Equal(t, s.check(t), s.check(t))
}

func TestZeroValues(t *testing.T) {
	assert.Equal(t, "unproven", Verdict(0).String(), "a forgotten verdict never reads as a pass")
	assert.Equal(t, "", Because(0).String())
	assert.Equal(t, Unproven, (&Report{}).Verdict)
	rep, err := Check(context.Background(), &survey.Space{Mount: -1}, &solid.Assembly{}, Rules{})
	require.NoError(t, err)
	assert.Equal(t, Unproven, rep.Verdict)
}

func TestCancelledCheckStops(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	c := crowd(1).checker(t)
	_, err := Check(ctx, c.space, c.assembly, Rules{})
	assert.ErrorIs(t, err, context.Canceled)
}
