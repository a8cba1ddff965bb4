// Package way finds how a rigid assembly gets from its place to the outside, and
// proves a way clear along all its length.
//
// A way is a row of poses; between two of them the assembly shifts evenly and turns
// evenly about one axis through its pivot. Along a straight leg the signed distance to
// a convex thing is a convex function of the way gone, so that two of its tangents
// bound it from below; along a leg with a turn no point goes faster than the shift and
// its reach from the pivot times the turn. Either way a leg is proved whole, never
// sampled. Lengths are millimetres, angles radians; the frame is that of the assembly
// at home.
package way

import (
	"math"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"gonum.org/v1/gonum/num/quat"

	"elbowroom/solid/shape"
)

// Pose is a place of the assembly: turned about its pivot, then shifted. The zero
// Pose is home.
type Pose struct {
	Shift r3.Vector
	// Turn is the axis of the turn, as long as its angle in radians; right-handed.
	Turn r3.Vector
}

// TurnTo is by how much it turns on the way to another pose, the shorter way round.
func (p Pose) TurnTo(next Pose) s1.Angle { return s1.Angle(between(p, next).turn.Norm()) }

// leg is the move from one pose to another.
type leg struct {
	from  Pose
	shift r3.Vector   // of all of it
	first quat.Number // the turn at the start
	turn  r3.Vector   // of all of it: axis times angle, angle at most pi
}

func between(a, b Pose) leg {
	l := leg{from: a, shift: b.Shift.Sub(a.Shift), first: quatOf(a.Turn)}
	if a.Turn != b.Turn {
		l.turn = turnOf(quat.Mul(quatOf(b.Turn), quat.Conj(l.first)))
	}
	return l
}

// straight says that nothing turns on the leg.
func (l leg) straight() bool { return l.turn == (r3.Vector{}) }

// at is the motion at a share of the leg.
func (l leg) at(t float64, pivot r3.Vector) motion {
	q := l.first
	if !l.straight() {
		q = quat.Mul(quatOf(l.turn.Mul(t)), q)
	}
	return motionOf(q, l.from.Shift.Add(l.shift.Mul(t)), pivot)
}

// pose is the pose at a share of the leg.
func (l leg) pose(t float64) Pose {
	p := Pose{Shift: l.from.Shift.Add(l.shift.Mul(t)), Turn: l.from.Turn}
	if !l.straight() {
		p.Turn = turnOf(quat.Mul(quatOf(l.turn.Mul(t)), l.first))
	}
	return p
}

// quatOf is the unit quaternion of a turn.
func quatOf(turn r3.Vector) quat.Number {
	angle := turn.Norm()
	if angle == 0 {
		return quat.Number{Real: 1}
	}
	sin, cos := math.Sincos(angle / 2)
	v := turn.Mul(sin / angle)
	return quat.Number{Real: cos, Imag: v.X, Jmag: v.Y, Kmag: v.Z}
}

// turnOf is the turn of a unit quaternion, by an angle of at most pi.
func turnOf(q quat.Number) r3.Vector {
	if q.Real < 0 {
		q = quat.Scale(-1, q)
	}
	v := r3.Vector{X: q.Imag, Y: q.Jmag, Z: q.Kmag}
	sin := v.Norm()
	if sin == 0 {
		return r3.Vector{}
	}
	return v.Mul(2 * math.Atan2(sin, q.Real) / sin)
}

// angle is how far one turn is from another, up to pi.
func angle(a, b quat.Number) float64 {
	dot := a.Real*b.Real + a.Imag*b.Imag + a.Jmag*b.Jmag + a.Kmag*b.Kmag
	return 2 * math.Acos(math.Min(1, math.Abs(dot)))
}

// motion takes places from home to a pose.
type motion struct {
	x, y, z r3.Vector // where the axes go
	by      r3.Vector // where the origin goes
}

func motionOf(q quat.Number, shift, pivot r3.Vector) motion {
	w, a, b, c := q.Real, q.Imag, q.Jmag, q.Kmag
	m := motion{
		x: r3.Vector{X: 1 - 2*(b*b+c*c), Y: 2 * (a*b + w*c), Z: 2 * (a*c - w*b)},
		y: r3.Vector{X: 2 * (a*b - w*c), Y: 1 - 2*(a*a+c*c), Z: 2 * (b*c + w*a)},
		z: r3.Vector{X: 2 * (a*c + w*b), Y: 2 * (b*c - w*a), Z: 1 - 2*(a*a+b*b)},
	}
	m.by = pivot.Sub(m.turn(pivot)).Add(shift)
	return m
}

func (m motion) turn(v r3.Vector) r3.Vector {
	return m.x.Mul(v.X).Add(m.y.Mul(v.Y)).Add(m.z.Mul(v.Z))
}

func (m motion) point(p r3.Vector) r3.Vector { return m.turn(p).Add(m.by) }

// back takes a direction from the pose to home.
func (m motion) back(v r3.Vector) r3.Vector {
	return r3.Vector{X: m.x.Dot(v), Y: m.y.Dot(v), Z: m.z.Dot(v)}
}

// home takes a place from the pose to home.
func (m motion) home(p r3.Vector) r3.Vector { return m.back(p.Sub(m.by)) }

// shape moves a solid. One of a make that is not known here is moved point by point.
func (m motion) shape(c shape.Convex) shape.Convex {
	switch s := c.(type) {
	case shape.Box:
		return shape.Box{Corner: m.point(s.Corner), Edges: [3]r3.Vector{m.turn(s.Edges[0]), m.turn(s.Edges[1]), m.turn(s.Edges[2])}}
	case shape.Cylinder:
		return shape.Cylinder{Foot: m.point(s.Foot), Axis: m.turn(s.Axis), Across: s.Across}
	case shape.Hull:
		h := shape.Hull{Points: make([]r3.Vector, len(s.Points)), Grow: s.Grow, Behind: m.turn(s.Behind)}
		for i, p := range s.Points {
			h.Points[i] = m.point(p)
		}
		return h
	}
	return moved{c, m}
}

// moved is a solid of another make in a pose.
type moved struct {
	shape.Convex
	m motion
}

func (c moved) Support(dir r3.Vector) r3.Vector {
	return c.m.point(c.Convex.Support(c.m.back(dir)))
}

func (c moved) Bounds() (r3.Vector, float64) {
	middle, radius := c.Convex.Bounds()
	return c.m.point(middle), radius
}
