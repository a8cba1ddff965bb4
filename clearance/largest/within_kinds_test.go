package largest

import (
	"testing"

	"github.com/golang/geo/r2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/clearance"
	"elbowroom/solid"
	"elbowroom/survey"
)

// closet is a bay with skins on all sides, of which the left one reaches only so high.
func closet(high float64) scene {
	s := scene{rules: clearance.Rules{AcceptSingle: true}}
	s.feature(survey.FeatureSpec{Name: "wall", Shape: survey.Face, Mount: true}, 0.5,
		v(0, 0, 0), v(300, 0, 0), v(0, 200, 0), v(300, 200, 0), v(150, 100, 0))
	skin := func(name string, behind, a, b, c, d [3]float64) {
		at := func(p [3]float64) (o vec) { return v(p[0], p[1], p[2]) }
		s.feature(survey.FeatureSpec{Name: name, Shape: survey.Skin, Behind: at(behind)}, 0.5, at(a), at(b), at(c), at(d))
	}
	type p = [3]float64
	skin("left", p{-1, 0, 0}, p{0, 0, 0}, p{0, high, 0}, p{0, 0, 150}, p{0, high, 150})
	skin("right", p{1, 0, 0}, p{300, 0, 0}, p{300, 200, 0}, p{300, 0, 150}, p{300, 200, 150})
	skin("bottom", p{0, -1, 0}, p{0, 0, 0}, p{300, 0, 0}, p{0, 0, 150}, p{300, 0, 150})
	skin("top", p{0, 1, 0}, p{0, 200, 0}, p{300, 200, 0}, p{0, 200, 150}, p{300, 200, 150})
	skin("front", p{0, 0, 1}, p{0, 0, 150}, p{300, 0, 150}, p{0, 200, 150}, p{300, 200, 150})
	s.tank = solid.Tank{Size: solid.Size{Width: 100, Height: 60, Depth: 60}, Within: 0.5,
		Place: solid.Place{At: r2.Point{X: 20, Y: 20}, StandOff: 10, Within: 0.5}, Sheet: 2, InsideRadius: 3, Alloy: "5052-H32"}
	s.limits.Room = room(6, 300, 0, 200, 0, 150)
	return s
}

// A side that is measured only so high gives way: the box is no higher than where it
// counts as measured, and as large as the rest allows.
func TestWithinGivesWayToASide(t *testing.T) {
	if testing.Short() {
		t.Skip("it tries many boxes")
	}
	s := closet(200)
	whole := s.solve(t)
	require.NotNil(t, whole.Proven)

	s = closet(110)
	s.rules.LookedAt = []solid.Side{solid.Top} // else what is lower is too far from the top
	a := s.solve(t)
	require.NotNil(t, a.Proven)
	t.Log(whole.Proven.Tank.Size, a.Free[0].Tank.Size, a.Proven.Tank.Size, a.Proven.At)
	assert.NotEqual(t, clearance.Clears, a.Free[0].Report.Verdict)
	assert.Contains(t, a.Free[0].Report.Because, clearance.Unmeasured)
	assert.Less(t, a.Proven.Capacity, a.Free[0].Capacity)
	best, ok := s.gridded(t, a.Free[0], []float64{0.6, 0.8, 0.97}, []float64{0, 1})
	require.True(t, ok)
	t.Log(best.Candidate, best.CapacityL, a.Proven.Capacity)
	assert.GreaterOrEqual(t, a.Proven.Capacity, best.CapacityL)
}

// A way in that the largest box does not have: the box gives way to it.
func TestWithinGivesWayToTheWayIn(t *testing.T) {
	if testing.Short() {
		t.Skip("it tries many boxes")
	}
	s := bay(2)
	s.limits.Room = room(-50, 400, -50, 300, 0, 300)
	free := s.solve(t)
	require.NotNil(t, free.Proven)
	s.rules.WayIn = clearance.WayInSpec{Asked: true}
	a := s.solve(t)
	require.NotNil(t, a.Proven)
	t.Log(free.Proven.Capacity, a.Proven.Capacity)
	assert.Less(t, a.Proven.Capacity, 0.99*free.Proven.Capacity)
	require.NotNil(t, a.Proven.Report.WayIn)
	assert.Equal(t, clearance.Clears, a.Proven.Report.WayIn.Verdict)
}
