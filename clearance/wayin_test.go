package clearance

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/clearance/way"
	"elbowroom/solid"
	"elbowroom/solid/shape"
	"elbowroom/survey"
)

// asks is a scene that asks for its way in, or for that along offsets from home.
func (s scene) asks(path ...r3.Vector) scene {
	s.rules.WayIn = WayInSpec{Asked: true, Path: offsets(path...)}
	s.rules.LookedAt = []solid.Side{solid.Left, solid.Right, solid.Top, solid.Bottom, solid.Front, solid.Back}
	return s
}

func offsets(path ...r3.Vector) (steps []Step) {
	for _, by := range path {
		steps = append(steps, Step{Shift: by})
	}
	return steps
}

func TestWayInIsSilentUnlessAsked(t *testing.T) {
	assert.Nil(t, lone(v(500, 50, 50), 1).check(t).WayIn)
}

func TestWayInPastALip(t *testing.T) {
	s := box100Under(130)
	rep := s.asks().check(t)
	w := rep.WayIn
	require.NotNil(t, w)
	require.True(t, w.Found)
	assert.Equal(t, Clears, w.Verdict)
	assert.Equal(t, Step{}, w.Steps[len(w.Steps)-1])
	assert.Greater(t, w.Steps[0].Shift.Norm(), 100.0)
	assert.Equal(t, "way in", rep.line("body", w.Feature).When, "its line stands first")
}

// box100Under is a 100 mm cube under a lip that is so far up and runs all along.
func box100Under(up float64) scene {
	var s scene
	s.tank = box100()
	s.feature(survey.FeatureSpec{Name: "lip", Shape: survey.Edge, Behind: v(0, 1, 0)}, 0.5, v(-300, up, 120), v(400, up, 120))
	return s
}

// A cube between posts before each of its sides and a lip and a sill: no way for it.
func TestNoWayIn(t *testing.T) {
	if testing.Short() {
		t.Skip("a search that finds nothing takes its time")
	}
	var s scene
	s.tank = box100()
	plate := func(name string, marks ...r3.Vector) {
		s.feature(survey.FeatureSpec{Name: name, Shape: survey.Block}, 0.5, marks...)
	}
	slab := func(name string, lo, hi r3.Vector) {
		plate(name, lo, v(hi.X, lo.Y, lo.Z), v(lo.X, hi.Y, lo.Z), v(lo.X, lo.Y, hi.Z), v(hi.X, hi.Y, lo.Z), v(hi.X, lo.Y, hi.Z), v(lo.X, hi.Y, hi.Z), hi)
	}
	slab("left", v(-60, -60, 0), v(-30, 160, 200))
	slab("right", v(130, -60, 0), v(160, 160, 200))
	slab("sill", v(-60, -60, 0), v(160, -30, 200))
	slab("lip", v(-60, 130, 0), v(160, 160, 200))
	slab("front", v(-60, -60, 130), v(160, 160, 200))
	w := s.asks().check(t).WayIn
	require.NotNil(t, w)
	assert.False(t, w.Found)
	assert.Equal(t, Unproven, w.Verdict)
	assert.Equal(t, NotChecked, w.Because)
	assert.Equal(t, "body", w.Stuck.Part)
	assert.NotEmpty(t, w.Stuck.Thing)
	s.rules.WayIn.Aside = []string{"front"}
	s = s.asks()
	s.rules.WayIn.Aside = []string{"front"}
	assert.True(t, s.check(t).WayIn.Found, "without what is aside")
}

func TestOwnPath(t *testing.T) {
	s := box100Under(130)
	w := s.asks(v(0, 0, 300), v(0, 0, 0)).check(t).WayIn
	assert.True(t, w.Given)
	assert.Equal(t, Clears, w.Verdict)
	assert.InDelta(t, 30, w.Least, 1e-3)
	w = s.asks(v(0, 200, 150), v(0, 0, 150), v(0, 0, 0)).check(t).WayIn
	assert.Equal(t, Clears, w.Verdict, "over the lip and down before it")
	assert.InDelta(t, 30, w.Least, 0.02)
	w = s.asks(v(0, 200, 60), v(0, 0, 0)).check(t).WayIn
	assert.Equal(t, Fouls, w.Verdict, "through the lip")
	w = s.asks(v(0, 0, 10), v(0, 0, 0)).check(t).WayIn
	assert.False(t, w.Outside)
	assert.Equal(t, Unmeasured, w.Because)
}

func TestWayInWhereNobodyLooked(t *testing.T) {
	s := box100Under(130).asks(v(0, 0, 300), v(0, 0, 0))
	s.rules.LookedAt = []solid.Side{solid.Left}
	rep := s.check(t)
	w := rep.WayIn
	assert.Equal(t, Unproven, w.Verdict)
	assert.Equal(t, []solid.Side{solid.Front}, w.Unseen)
	assert.Condition(t, func() bool {
		for _, m := range rep.MeasureNext {
			if m.Kind == Look && m.Side == solid.Front {
				return true
			}
		}
		return false
	}, "it is what to look at next")
}

// What is fitted after, and keep-open volumes, do not go in with the box.
func TestWayInWithoutWhatComesLater(t *testing.T) {
	s := box100Under(200)
	s.tank.Fittings = []solid.Fitting{{Name: "fill", Side: solid.Top, At: solid.Spot{{By: 0}, {By: 0}},
		Stack: []solid.Element{{Name: "neck", Diameter: 30, Length: 20}, {Name: "cap", Diameter: 40, Length: 30, After: true}}}}
	w := s.asks(v(0, 0, 300), v(0, 0, 0)).check(t).WayIn
	assert.InDelta(t, 80, w.Least, 1e-3)
	assert.Equal(t, "fill neck", w.Part)
}

// Needs are no less than what the line turns out to want, so that a path found clears.
func TestWayNeedsAreEnough(t *testing.T) {
	for seed := uint64(1); seed <= 6; seed++ {
		s := crowd(seed)
		s.rules.WayIn = WayInSpec{Asked: true, Aside: []string{"lid"}}
		c := s.checker(t)
		r := c.route(c.rules.WayIn)
		for _, path := range [][]way.Pose{{{Shift: v(150, 0, 0)}, {}}, {{Shift: v(40, -100, 30), Turn: v(0.3, -0.2, 0.5)}, {}}} {
			passage := way.Along(r.scene, path)
			for i, part := range r.parts {
				for k, thing := range r.things {
					if thing.o == nil {
						continue
					}
					piece := thing.at
					u := c.passing(part, thing.o, piece, passage.Least(i, k)).u
					require.LessOrEqual(t, u, c.atMost(thing.o, piece)+1e-9)
					require.Greater(t, u, 0.3*c.atMost(thing.o, piece), "and not idly much")
				}
			}
		}
	}
}

// At home the figure of the way is that of the line at rest.
func TestWayFigureAtHome(t *testing.T) {
	s := crowd(2)
	s.rules.WayIn.Asked = true
	c := s.checker(t)
	r := c.route(c.rules.WayIn)
	passage := way.Along(r.scene, []way.Pose{{}})
	for i, part := range r.parts {
		for k, thing := range r.things {
			if thing.o == nil {
				continue
			}
			piece := thing.at
			pass := passage.Least(i, k)
			got := c.passing(part, thing.o, piece, pass)
			n, spot := newPartThing(c.assembly.Parts[part]).distance(piece.solid)
			want := c.figure(newPartThing(c.assembly.Parts[part]), spot, thing.o, piece.nodes, n, math.Inf(1))
			require.InDelta(t, want.value, got.value, 1e-6)
			require.InDelta(t, want.u, got.u, 1e-6+1e-3*want.u)
		}
	}
}

// Outside the room is outside it whichever way the box is turned on its face.
func TestWayInOfATurnedBox(t *testing.T) {
	s := box100Under(400)
	s.tank.Place.Turn = 30 * s1.Degree
	s.rules.WayIn.Room = [3]Extent{{-50, 150, true}, {-50, 150, true}, {0, 120, true}}
	room := s.rules.WayIn.Room
	s = s.asks()
	s.rules.WayIn.Room = room
	c := s.checker(t)
	rep := s.check(t)
	require.True(t, rep.WayIn.Found)
	out := rep.WayIn.Steps[0].Shift
	inside := true
	for axis, e := range room {
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, corner := range boxCorners(shape.Box{Edges: [3]r3.Vector{{X: 100}, {Y: 100}, {Z: 100}}}) {
			x := c.pose.world(corner).Add(out).Dot(solid.Axis(axis))
			lo, hi = math.Min(lo, x), math.Max(hi, x)
		}
		inside = inside && lo < e.To && hi > e.From
	}
	assert.False(t, inside)
}
