package clearance

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/solid"
	"elbowroom/survey"
)

// The room is along the mounting frame's axes, however the box is turned: where the way
// starts, all of the box is beyond one side of it.
func TestTurnedBoxLeavesTheRoom(t *testing.T) {
	room := [3]Extent{{-150, 300, true}, {-150, 300, true}, {0, 250, true}}
	for _, degrees := range []float64{0, 17, 30, 45, 90, -60, 180} {
		s := lone(v(600, 50, 50), 1).asks()
		s.tank.Place.Turn = s1.Angle(degrees * math.Pi / 180)
		s.rules.WayIn.Room = room
		rep := s.check(t)
		w := rep.WayIn
		require.True(t, w.Found, degrees)
		turn := func(p r3.Vector) r3.Vector {
			sin, cos := math.Sincos(degrees * math.Pi / 180)
			return v(50+(p.X-50)*cos-(p.Y-50)*sin, 50+(p.X-50)*sin+(p.Y-50)*cos, p.Z)
		}
		out := false
		for axis := range 3 {
			low, high := math.Inf(1), math.Inf(-1)
			for corner := range 8 {
				p := turn(v(100*float64(corner&1), 100*float64(corner>>1&1), 100*float64(corner>>2))).Add(w.Steps[0].Shift)
				x := [3]float64{p.X, p.Y, p.Z}[axis]
				low, high = math.Min(low, x), math.Max(high, x)
			}
			out = out || low >= room[axis].To || axis < 2 && high <= room[axis].From
		}
		assert.True(t, out, "turned by %v it starts at %v", degrees, w.Steps[0].Shift)
	}
}

// onWall is a cube of 100 on a flat, with one mark far off it that stands proud.
func onWall(proud float64) scene {
	var s scene
	s.tank = box100()
	s.feature(survey.FeatureSpec{Name: "wall", Shape: survey.Face, Mount: true}, 0.5,
		v(-400, -400, 0), v(500, -400, 0), v(500, 500, 0), v(-400, 500, 0), v(0, 0, 0), v(100, 100, 0), v(0, 100, 0), v(100, 0, 0), v(50, 300, proud))
	return s
}

func TestNoSlideOverAProudMark(t *testing.T) {
	slide := []r3.Vector{v(0, 600, 0), v(0, 0, 0)}
	w := onWall(0).asks(slide...).check(t).WayIn
	require.NotNil(t, w)
	assert.Equal(t, Clears, w.Verdict, "over a flat it slides")
	w = onWall(40).asks(slide...).check(t).WayIn
	assert.Equal(t, Fouls, w.Verdict, "not over a post on it")
	assert.Equal(t, "wall", w.Feature)
	w = onWall(40).asks(v(600, 0, 0), v(0, 0, 0)).check(t).WayIn
	assert.Equal(t, Clears, w.Verdict, "past it")
}

// A path of one's own may slide along the face, not go into it: straight or by a turn.
func TestOwnPathIntoTheFace(t *testing.T) {
	s := onWall(0).asks(v(0, 600, 0), v(0, 0, 0))
	assert.Equal(t, Clears, s.check(t).WayIn.Verdict)
	s.rules.WayIn.Path = []Step{{Shift: v(0, 600, 0)}, {Shift: v(0, 100, -20)}, {}}
	w := s.check(t).WayIn
	assert.Equal(t, Fouls, w.Verdict)
	assert.Equal(t, [2]string{"body", "wall"}, [2]string{w.Part, w.Feature})
	assert.InDelta(t, -20, w.Least, 0.02)
	// On edge half of its diagonal is behind the middle, and the middle 60 out.
	s.rules.WayIn.Path = []Step{{Shift: v(0, 600, 10), Turn: v(math.Pi/4, 0, 0)}, {Shift: v(0, 0, 10), Turn: v(math.Pi/4, 0, 0)}, {Shift: v(0, 0, 60)}, {}}
	w = s.check(t).WayIn
	assert.Equal(t, Fouls, w.Verdict)
	assert.InDelta(t, 60-50*math.Sqrt2, w.Least, 0.05)
	// Beyond the face's marks nobody looked behind its plane.
	s.rules.WayIn.Path = []Step{{Shift: v(0, 900, -40)}, {Shift: v(0, 700, -40)}, {Shift: v(0, 700, 0)}, {}}
	s.rules.LookedAt = []solid.Side{solid.Top, solid.Left}
	w = s.check(t).WayIn
	assert.Equal(t, Unproven, w.Verdict)
	assert.Equal(t, []solid.Side{solid.Back}, w.Unseen)
	s = s.asks()
	s.rules.WayIn.Path = []Step{{Shift: v(0, 600, 40), Turn: v(math.Pi/4, 0, 0)}, {Shift: v(0, 0, 40), Turn: v(math.Pi/4, 0, 0)}, {Shift: v(0, 0, 60)}, {}}
	assert.Equal(t, Clears, s.check(t).WayIn.Verdict)
}
