package clearance

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/solid"
	"elbowroom/survey"
)

func TestSidesNeedALook(t *testing.T) {
	s := lone(v(500, 50, 50), 1)
	s.rules.LookedAt = []solid.Side{solid.Left, solid.Top, solid.Bottom, solid.Front, solid.Back}
	rep := s.check(t)
	assert.Equal(t, Unproven, rep.Verdict)
	assert.Equal(t, []Because{Unmeasured}, rep.Because)
	for _, side := range rep.Sides {
		if side.Side == solid.Right {
			assert.Equal(t, Unproven, side.Verdict)
			assert.InDelta(t, 400, side.Nearest, 1e-9)
			assert.Equal(t, "stud", side.Feature)
			assert.Zero(t, side.Cover)
		} else {
			assert.Equal(t, Clears, side.Verdict)
			assert.False(t, side.Found)
		}
	}
	require.Len(t, rep.MeasureNext, 1)
	assert.Equal(t, Look, rep.MeasureNext[0].Kind)
}

func TestCoverOfASide(t *testing.T) {
	// A wall 20 mm off the right side, over its lower half only: evidence within
	// 50.8 mm reaches sqrt(50.8^2 - 14^2) above it, 14 being what is left of 20
	// beyond the gap of 6.
	s := scene{tank: box100(), rules: Rules{LookedAt: allSides}}
	s.feature(survey.FeatureSpec{Name: "plate", Shape: survey.Skin}, 1, v(120, 0, 0), v(120, 0, 100), v(120, 40, 0), v(120, 40, 100))
	want := (40 + math.Sqrt(50.8*50.8-14*14)) / 100
	for _, side := range s.check(t).Sides {
		if side.Side == solid.Right {
			assert.InDelta(t, want, side.Cover, 1.0/32)
		}
	}
}

// A side is measured where evidence is near nearly all of it and nothing large
// could hide: a sheet along it, or a mock-up that stood there.
func TestSideMeasuredWithoutALook(t *testing.T) {
	right := func(s scene) SideLine {
		for _, side := range s.check(t).Sides {
			if side.Side == solid.Right {
				return side
			}
		}
		return SideLine{}
	}
	s := scene{tank: box100()}
	s.feature(survey.FeatureSpec{Name: "plate", Shape: survey.Skin}, 1, v(120, -10, -10), v(120, -10, 110), v(120, 110, -10), v(120, 110, 110))
	side := right(s)
	assert.Equal(t, Clears, side.Verdict)
	assert.Equal(t, 1.0, side.Cover)
	// The middle of the largest ball is at the box's side, 20 from the plate.
	assert.InDelta(t, 40, side.Hidden, hiddenShare*41)
	s.rules.HiddenAtMost = 30
	assert.Equal(t, Unproven, right(s).Verdict)
	s.rules.Tried = []Tried{{Name: "shoe box", At: v(0, 0, 0), Size: v(108, 100, 100), Within: 0}}
	assert.Equal(t, Clears, right(s).Verdict)
	assert.InDelta(t, 0, right(s).Hidden, hiddenWithin)
	// Known to 60 nothing is left of it.
	s.rules.Tried[0].Within = 60
	assert.Equal(t, Unproven, right(s).Verdict)
}

func TestMarkInsideAMockUpIsADoubt(t *testing.T) {
	s := lone(v(130, 50, 50), 1)
	s.rules.Tried = []Tried{{Name: "shoe box", At: v(0, 0, 0), Size: v(140, 100, 100), Within: 2}}
	rep := s.check(t)
	require.NotEmpty(t, rep.Doubts)
	assert.Contains(t, rep.Doubts[0].Says, "stud1 of stud lies inside the shoe box")
	s.rules.Tried[0].Size.X = 132
	assert.Empty(t, s.check(t).Doubts)
}

// A reading where it is asked for makes what could hide there smaller.
func TestReadingWhereItIsAskedForShrinksTheHiddenThing(t *testing.T) {
	s := scene{tank: box100()}
	s.feature(dots("stud"), 1, v(140, 10, 10))
	right := func() SideLine { return s.check(t).Sides[1] }
	before := right()
	require.Equal(t, solid.Right, before.Side)
	for range 12 {
		at := right().HiddenAt
		s.mark("stud", "", v(140, at.Y, at.Z), 1) // straight out from there something was touched
	}
	assert.Less(t, right().Hidden, 0.7*before.Hidden)
	assert.Greater(t, right().Cover, before.Cover)
}
