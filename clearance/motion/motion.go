// Package motion finds the least clearance between things that stand still and
// things that move, over a whole motion and not at sampled positions of it.
// Lengths are millimetres, angles radians; all stand in one frame.
//
// A motion is a chain of joints, each a turn about an axis or a slide, each with
// a range of its own. What is wanted is the least signed distance over the box of
// all their positions. It is found by branch and bound: the box is halved again and
// again, and a half is put aside when a bound proves that nothing in it can come
// nearer than what was found. bound.go derives the bounds. The answer comes with the
// position, the witness points, and a number that the true least is proven not to
// fall below.
//
// Method: branch and bound on a Lipschitz bound of the distance, as Piyavskii (1972)
// and Shubert (1972) do in one dimension, with the bound of a turned point's
// displacement, 2 r sin(h/2), as conservative advancement uses it (Mirtich 1996); the
// bound by a parting plane is its refinement to second order.
package motion

import (
	"math"

	"github.com/golang/geo/r3"
)

// Joint is one way in which something moves. The zero Joint does not move.
type Joint struct {
	// On is a place on the axis of a turn, Axis its unit direction: positive turns
	// are right-handed about it, clockwise to one who looks along it. Zero for a slide.
	On, Axis r3.Vector
	// Along is the unit direction of a slide; zero for a turn.
	Along r3.Vector
	// From and To are the range: radians of a turn, mm of a slide. From is at most To.
	From, To float64
}

// Turn is a turn about the axis from one place to another. ok is false where the
// two are the same place, which makes no axis.
func Turn(from, toward r3.Vector, least, most float64) (j Joint, ok bool) {
	along := toward.Sub(from)
	if along.Norm() == 0 {
		return Joint{}, false
	}
	return Joint{On: from, Axis: along.Normalize(), From: least, To: most}, true
}

// Slide is a slide along a direction of any length but zero.
func Slide(along r3.Vector, least, most float64) Joint {
	return Joint{Along: along.Normalize(), From: least, To: most}
}

// Turns says whether the joint turns.
func (j Joint) Turns() bool { return j.Axis != r3.Vector{} }

// At is the joint's pose at a position of its range.
func (j Joint) At(position float64) Pose {
	if !j.Turns() {
		p := Rest()
		p.shift = j.Along.Mul(position)
		return p
	}
	sin, cos := math.Sincos(position)
	turn := func(v r3.Vector) r3.Vector {
		// Rodrigues' formula.
		return v.Mul(cos).Add(j.Axis.Cross(v).Mul(sin)).Add(j.Axis.Mul(j.Axis.Dot(v) * (1 - cos)))
	}
	p := Pose{x: turn(r3.Vector{X: 1}), y: turn(r3.Vector{Y: 1}), z: turn(r3.Vector{Z: 1})}
	p.shift = j.On.Sub(p.Turn(j.On))
	return p
}

// span is the joint's range about its middle. Of a turn a whole one will do, as near
// about rest as the range has it.
func (j Joint) span() (middle, half float64) {
	from, to := j.From, j.To
	if j.Turns() && to-from > 2*math.Pi {
		from = max(from, min(-math.Pi, to-2*math.Pi))
		to = from + 2*math.Pi
	}
	return from + (to-from)/2, (to - from) / 2
}

// Chain is the joints through which something moves, the innermost first: each is
// carried along by those after it, as a lid's hinge is by the engine that it is on.
type Chain []Joint

// At is the pose at a position of each joint, in the chain's order.
func (c Chain) At(positions []float64) Pose {
	p := Rest()
	for i, j := range c {
		p = j.At(positions[i]).After(p)
	}
	return p
}

// Pose is a rigid motion: a turn, then a shift. The zero Pose is none; see Rest.
type Pose struct {
	x, y, z r3.Vector // where the axes go
	shift   r3.Vector
}

// Rest is the pose that leaves everything where it is.
func Rest() Pose { return Pose{x: r3.Vector{X: 1}, y: r3.Vector{Y: 1}, z: r3.Vector{Z: 1}} }

// NewPose is the pose that turns the axes into x, y, z, which must be unit vectors
// square to each other and right-handed, and then shifts.
func NewPose(x, y, z, shift r3.Vector) Pose { return Pose{x, y, z, shift} }

// Move is where a place goes.
func (p Pose) Move(at r3.Vector) r3.Vector { return p.Turn(at).Add(p.shift) }

// Turn is where a direction goes.
func (p Pose) Turn(v r3.Vector) r3.Vector {
	return r3.Vector{
		X: p.x.X*v.X + p.y.X*v.Y + p.z.X*v.Z,
		Y: p.x.Y*v.X + p.y.Y*v.Y + p.z.Y*v.Z,
		Z: p.x.Z*v.X + p.y.Z*v.Y + p.z.Z*v.Z,
	}
}

// Back is where a place comes from.
func (p Pose) Back(at r3.Vector) r3.Vector { return p.TurnBack(at.Sub(p.shift)) }

// TurnBack is where a direction comes from.
func (p Pose) TurnBack(v r3.Vector) r3.Vector {
	return r3.Vector{X: p.x.Dot(v), Y: p.y.Dot(v), Z: p.z.Dot(v)}
}

// After is the pose of first going by q, then by p.
func (p Pose) After(q Pose) Pose {
	return Pose{x: p.Turn(q.x), y: p.Turn(q.y), z: p.Turn(q.z), shift: p.Move(q.shift)}
}
