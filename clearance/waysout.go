package clearance

import (
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/clearance/way"
	"elbowroom/solid"
	"elbowroom/solid/shape"
	"elbowroom/survey"
)

// InWay is a part that comes too near to a piece of a feature on its way out.
type InWay struct {
	Piece int // the same for the same piece, wherever the assembly stands
	Line
}

// WaysOut is how many straight ways out there are: to the front, the top, the right, the
// left and the bottom.
const WaysOut = 5

// WayOut says what is in the way of an assembly that goes straight out of its place by one
// of the ways: each part that comes nearer to a piece of a feature than the way in asks,
// by how much (Short), and toward where. Without any it is clear.
func WayOut(s *survey.Space, a *solid.Assembly, r Rules, way int) []InWay {
	c := checkerIn(s, a, r.withDefaults(), stand(s, a.Tank))
	d := [WaysOut]r3.Vector{{Z: 1}, {Y: 1}, {X: 1}, {X: -1}, {Y: -1}}[way]
	return c.inTheWayOut(c.route(r.WayIn), d)
}

// inTheWayOut lists what is in the way along one of the room's axes.
func (c *checker) inTheWayOut(r route, d r3.Vector) (lines []InWay) {
	s := r.scene
	all := s.Extent(s.Parts[0].Solid)
	for _, p := range s.Parts[1:] {
		all = all.Join(s.Extent(p.Solid))
	}
	far := 0.0
	for axis, by := range [3]float64{d.X, d.Y, d.Z} {
		switch {
		case by > 0:
			far = s.Room.High[axis] - all.Low[axis]
		case by < 0:
			far = all.High[axis] - s.Room.Low[axis]
		}
	}
	const past = 1 // mm, so that rounding does not leave it inside
	shift := s.Axes[0].Mul(d.X).Add(s.Axes[1].Mul(d.Y)).Add(s.Axes[2].Mul(d.Z)).Mul(math.Max(0, far) + past)
	passage := way.Along(s, []way.Pose{{}, {Shift: shift}})
	for i, part := range s.Parts {
		for k, thing := range s.Things {
			if passage.Bound(i, k) > thing.Needs {
				continue
			}
			need := thing.Needs
			if home := shape.Distance(part.Solid, thing.Solid).Signed; home < need {
				need = home - reach // less than its distance at home is asked of nothing
			}
			if pass := passage.Least(i, k); pass.Lower < need {
				lines = append(lines, InWay{k, Line{
					Part: part.Name, Feature: thing.Name, When: "way in", Clearance: pass.Lower, Gap: need,
					Toward: c.pose.turnOut(pass.Near.Normal), Short: need - pass.Lower,
				}})
			}
		}
	}
	return lines
}
