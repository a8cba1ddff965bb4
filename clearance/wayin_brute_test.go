package clearance

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"

	"elbowroom/solid"
	"elbowroom/solid/shape"
	"elbowroom/survey"
)

// hemmed is a small box on a wall, turned by any angle, among features of every shape at
// random places about it, with marks of the wall that stand proud.
func hemmed(seed uint64) scene {
	rng := rand.New(rand.NewPCG(seed, 77))
	between := func(low, high float64) float64 { return low + rng.Float64()*(high-low) }
	near := func(r float64) r3.Vector { return v(between(-r, r), between(-r, r), between(-r, r)) }
	var s scene
	s.feature(survey.FeatureSpec{Name: "wall", Shape: survey.Face, Mount: true}, 0.5,
		v(-300, -300, 0), v(400, -300, 0), v(400, 400, 0), v(-300, 400, 0), v(60, 40, 0))
	s.readings.Points = append([]survey.Point(nil), s.readings.Points...)
	about := func(far float64) r3.Vector { // in a ring about the box
		sin, cos := math.Sincos(between(0, 2*math.Pi))
		return v(60+far*cos, 40+far*sin, between(20, 90))
	}
	cluster := func(n int, far, size float64) (list []r3.Vector) {
		at := about(far)
		for range n {
			list = append(list, at.Add(near(size)))
		}
		return list
	}
	s.feature(survey.FeatureSpec{Name: "lip", Shape: survey.Edge, Round: 2, Behind: v(0, 1, 0)}, 0.5, v(-200, between(120, 170), between(30, 90)), v(300, between(120, 170), between(30, 90)))
	s.feature(survey.FeatureSpec{Name: "sheet", Shape: survey.Skin, Behind: v(-1, 0, 0)}, 0.5,
		v(between(-90, -40), -200, 0), v(between(-90, -40), 300, 0), v(between(-90, -40), 300, 200), v(between(-90, -40), -200, 200))
	s.feature(survey.FeatureSpec{Name: "lump", Shape: survey.Block}, 0.5, cluster(7, between(150, 190), 40)...)
	s.feature(survey.FeatureSpec{Name: "front", Shape: survey.Block}, 0.5, v(between(-60, 60), between(-60, 60), between(75, 120)), v(between(60, 200), between(-60, 60), 130), v(between(-60, 60), between(60, 200), 130), v(100, 100, 250))
	s.feature(survey.FeatureSpec{Name: "pipe", Shape: survey.Tube, Diameter: 12}, 0.5, cluster(3, 170, 45)...)
	s.feature(survey.FeatureSpec{Name: "loom", Shape: survey.Dots, Round: 4}, 0.5, cluster(5, 150, 50)...)
	s.tank = solid.Tank{
		Size:     solid.Size{Width: 120, Height: 80, Depth: 60},
		Place:    solid.Place{At: r2.Point{}, StandOff: 6, Turn: s1.Angle(between(-math.Pi, math.Pi))},
		Brackets: []solid.Bracket{{Name: "tab", Min: v(-12, 20, -6), Max: v(0, 40, -2)}},
		Fittings: []solid.Fitting{{Name: "outlet", Side: solid.Right, At: solid.Spot{{From: solid.Bottom, By: 30}, {From: solid.Back, By: 25}}, Stack: []solid.Element{{Name: "barb", Diameter: 15, Length: 20}}}},
	}
	s.rules.WayIn.Room = [3]Extent{{-220, 320, true}, {-220, 320, true}, {0, 220, true}}
	s.rules.WayIn.Asked = true
	s.rules.LookedAt = allSides
	return s
}

// rigid is a turn and a shift.
type rigid struct {
	q  quat.Number
	by r3.Vector
}

func spun(axisAngle r3.Vector) quat.Number {
	half := r3.Vector(axisAngle).Mul(0.5)
	return quat.Exp(quat.Number{Imag: half.X, Jmag: half.Y, Kmag: half.Z})
}

func (m rigid) turn(p r3.Vector) r3.Vector {
	q := quat.Mul(quat.Mul(m.q, quat.Number{Imag: p.X, Jmag: p.Y, Kmag: p.Z}), quat.Conj(m.q))
	return v(q.Imag, q.Jmag, q.Kmag)
}

func (m rigid) point(p r3.Vector) r3.Vector { return m.turn(p).Add(m.by) }

func (m rigid) shape(c shape.Convex) shape.Convex {
	switch s := c.(type) {
	case shape.Box:
		return shape.Box{Corner: m.point(s.Corner), Edges: [3]r3.Vector{m.turn(s.Edges[0]), m.turn(s.Edges[1]), m.turn(s.Edges[2])}}
	case shape.Cylinder:
		return shape.Cylinder{Foot: m.point(s.Foot), Axis: m.turn(s.Axis), Across: s.Across}
	}
	panic("a test for boxes and cylinders")
}

// Every way that is found is walked, in the mounting frame and by another way of turning
// than the search's, at many positions of each leg: nothing that was measured comes nearer
// than said, and at the start all is beyond a side of the room.
func TestFoundWaysWalked(t *testing.T) {
	scenes, positions := 16, 1000
	if testing.Short() {
		scenes, positions = 8, 300
	}
	found, bent := 0, 0
	for seed := range uint64(scenes) {
		s := hemmed(seed)
		if seed%3 == 0 {
			s.mark("wall", "post", v(60+150*math.Cos(float64(seed)), 40+150*math.Sin(float64(seed)), 25), 0.5)
		}
		c := s.checker(t)
		rep := s.check(t)
		w := rep.WayIn
		if !w.Found {
			continue
		}
		found++
		if len(w.Steps) > 2 {
			bent++
		}
		size := s.tank.Size.Vector().Mul(0.5)
		box := rigid{q: spun(c.pose.z.Cross(v(0, 0, 0)).Add(v(0, 0, s.tank.Place.Turn.Radians())))}
		tilted := c.space.Features[c.space.Mount].Plane.Normal.Angle(v(0, 0, 1)).Radians() > 1e-12
		middle := v(size.X, size.Y, 6+size.Z)
		if tilted { // the post tilts the plane: where the box then stands is the checker's to say
			middle = c.pose.world(size)
		}
		at := func(shift r3.Vector, q quat.Number) rigid {
			m := rigid{q: quat.Mul(q, box.q)}
			m.by = middle.Add(shift).Sub(m.turn(size))
			return m
		}
		if tilted {
			at = func(shift r3.Vector, q quat.Number) rigid {
				// Columns of the box's axes as a quaternion: tilt times turn.
				n := c.pose.z
				tilt := spun(v(0, 0, 1).Cross(n).Normalize().Mul(v(0, 0, 1).Angle(n).Radians()))
				own := quat.Mul(tilt, box.q)
				m := rigid{q: own}
				off := math.Atan2(m.turn(v(1, 0, 0)).Dot(c.pose.y), m.turn(v(1, 0, 0)).Dot(c.pose.x))
				m.q = quat.Mul(q, quat.Mul(own, spun(v(0, 0, -off))))
				m.by = middle.Add(shift).Sub(m.turn(size))
				return m
			}
		}
		least := math.Inf(1)
		for i := 1; i < len(w.Steps); i++ {
			a, b := w.Steps[i-1], w.Steps[i]
			from := spun(a.Turn)
			by := quat.Mul(spun(b.Turn), quat.Conj(from))
			if by.Real < 0 {
				by = quat.Scale(-1, by)
			}
			whole := quat.Log(by)
			for k := 0; k <= positions; k++ {
				share := float64(k) / float64(positions)
				m := at(a.Shift.Add(b.Shift.Sub(a.Shift).Mul(share)), quat.Mul(quat.Exp(quat.Scale(share, whole)), from))
				for _, p := range c.assembly.Parts {
					if p.Kind == solid.KeepOpenPart || p.After {
						continue
					}
					q := m.shape(p.Solid)
					for f := range c.space.Features {
						feature := &c.space.Features[f]
						for _, piece := range feature.Pieces {
							hull := shape.Hull{Grow: feature.Grow, Behind: feature.Behind}
							for _, n := range piece.Nodes {
								hull.Points = append(hull.Points, feature.Nodes[n].At)
							}
							if feature.Spec.Mount && (len(hull.Points) > 1 || hull.Points[0].Z < 5) {
								continue
							}
							if shape.Gap(q, hull) < least {
								least = math.Min(least, shape.Distance(q, hull).Signed)
							}
						}
					}
				}
			}
		}
		assert.GreaterOrEqual(t, least, w.Least-1e-6, "seed %d", seed)
		assert.LessOrEqual(t, least, w.Least+0.05, "seed %d: and not idly more", seed)
		first := at(w.Steps[0].Shift, spun(w.Steps[0].Turn))
		out := false
		for axis := range 3 {
			low, high := math.Inf(1), math.Inf(-1)
			for _, p := range c.assembly.Parts {
				span := shape.SpanOf(first.shape(p.Solid))
				low, high = math.Min(low, span.Low[axis]), math.Max(high, span.High[axis])
			}
			out = out || low >= s.rules.WayIn.Room[axis].To || axis < 2 && high <= s.rules.WayIn.Room[axis].From
		}
		assert.True(t, out, "seed %d is outside at first", seed)
	}
	t.Logf("%d found, %d of them not straight, of %d", found, bent, scenes)
	require.Greater(t, found, scenes/4)
	require.Positive(t, bent)
}
