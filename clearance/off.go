package clearance

import (
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/solid/shape"
)

// off is how far a place is from the piece, below 0 inside. Points, segments and
// triangles, of which there are hundreds, go by closed forms (Ericson,
// Real-Time Collision Detection, 2005, section 5.1, from memory; held against
// shape.Distance in tests); the rest by shape.Distance.
func (p *sight) off(at r3.Vector) float64 {
	switch q := p.corners; len(q) {
	case 1:
		return at.Sub(q[0]).Norm() - p.grow
	case 2:
		return fromSegment(at, q[0], q[1]) - p.grow
	case 3:
		return fromTriangle(at, q[0], q[1], q[2]) - p.grow
	}
	return shape.Distance(shape.Hull{Points: []r3.Vector{at}}, p.solid).Signed
}

// fromSegment is the distance of a place from a segment.
func fromSegment(at, a, b r3.Vector) float64 {
	edge, to := b.Sub(a), at.Sub(a)
	t := 0.0
	if whole := edge.Norm2(); whole > 0 {
		t = math.Min(1, math.Max(0, to.Dot(edge)/whole))
	}
	return to.Sub(edge.Mul(t)).Norm()
}

// fromTriangle is the distance of a place from a triangle: from its plane where
// the foot lies inside, else from the nearest edge.
func fromTriangle(at, a, b, c r3.Vector) float64 {
	normal := b.Sub(a).Cross(c.Sub(a))
	inside := normal.Norm2() > 0
	for _, e := range [3][2]r3.Vector{{a, b}, {b, c}, {c, a}} {
		inside = inside && e[1].Sub(e[0]).Cross(at.Sub(e[0])).Dot(normal) >= 0
	}
	if inside {
		return math.Abs(at.Sub(a).Dot(normal)) / normal.Norm()
	}
	return math.Min(fromSegment(at, a, b), math.Min(fromSegment(at, b, c), fromSegment(at, c, a)))
}
