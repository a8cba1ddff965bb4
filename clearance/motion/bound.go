package motion

import (
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/solid/shape"
)

// cell is a box of positions: a middle and a half width for each joint.
type cell struct{ middle, half []float64 }

// halves cuts a cell in two across a joint.
func (c cell) halves(joint int) (lower, upper cell) {
	half := append([]float64(nil), c.half...)
	half[joint] /= 2
	lower = cell{append([]float64(nil), c.middle...), half}
	upper = cell{append([]float64(nil), c.middle...), half}
	lower.middle[joint] -= half[joint]
	upper.middle[joint] += half[joint]
	return lower, upper
}

// lever is a joint as it stands with all joints in the middle of a cell, and how
// far they may be from there.
type lever struct {
	on, dir r3.Vector // the axis, or the direction of a slide
	turns   bool
	half    float64 // of a turn at most pi
	chord   float64 // 2 sin(half/2): how far a place at 1 mm from the axis can go
	sine    float64 // the greatest |sin| of a turn up to half
	versine float64 // the greatest 1 - cos
	// outer and inner bound how far, in the cell, all joints after this one and all
	// before it turn a unit vector.
	outer, inner float64
}

// place gives the pose in the middle of a cell, and the joints as they stand there.
func (c Chain) place(at cell, room []lever) (Pose, []lever) {
	p := Rest()
	levers := room[:0]
	for range c {
		levers = append(levers, lever{})
	}
	angle := 0.0
	for i := len(c) - 1; i >= 0; i-- {
		j := c[i]
		l := lever{on: p.Move(j.On), turns: j.Turns(), half: at.half[i], outer: chord(angle)}
		if l.turns {
			l.dir = p.Turn(j.Axis)
			l.chord, l.sine = chord(l.half), math.Sin(min(l.half, math.Pi/2))
			l.versine = 1 - math.Cos(min(l.half, math.Pi))
			angle += l.half
		} else {
			l.dir = p.Turn(j.Along)
		}
		levers[i] = l
		p = p.After(j.At(at.middle[i]))
	}
	angle = 0
	for i := range levers {
		levers[i].inner = chord(angle)
		if levers[i].turns {
			angle += levers[i].half
		}
	}
	return p, levers
}

// chord is how far a turn by an angle can move a unit vector.
func chord(angle float64) float64 { return 2 * math.Sin(min(angle, math.Pi)/2) }

// How the bounds come about. Signed distance of convex A (still) and B (moving) is
// s = max over unit n of (min n·b - max n·a), above zero and below. So
//
//   - if no point of B's core is farther than D from where it is in the middle of
//     the cell, s falls by at most D;
//   - and for any one n, s is at least what n parts them by.
//
// Take x, a point of B in the middle of the cell, and go to another place in it
// joint by joint, the outermost first, the inner ones still in the middle. Each step
// is a turn by t, |t| ≤ h, about the axis as it stands in the middle, through which
// joints farther out (already moved) then carry the step. A turn moves x by
// sin t (u×w) + (1-cos t) u×(u×w), w = x - on: no farther than 2 r sin(h/2), which the
// outer joints do not change. Along n it falls by no more than
//
//	sin h |(n×u)·w| + (1 - cos h) |n×u| r + outer · 2 r sin(h/2),
//
// the last for the outer joints' turning of the step. The first term is least at the
// point of B that is farthest along n less plus or minus sin h (n×u): one call of
// Support for each choice of signs. A ball around a point goes with the point, so
// growing counts once, at the end.
//
// The same motion is A moving the other way with B still: then A's points count, and
// what is "outer" are the joints farther in. That n goes with B. B may then go on
// without end: n parts such a B where it does not lead against n. And A, a part of a
// box, is near, where B's farthest point is not.

// mostSigned is how many joints a bound by a plane is worked out for: it calls
// Support twice as often for each. Longer chains do with the plain bound.
const mostSigned = 5

// rounding is taken off every bound, mm: places of up to 10 m, moved by poses of
// which each number is off by up to 8 roundings (2^-53 of it), are off by 1e-11 mm;
// a bound sums some tens of them.
const rounding = 1e-9

// lower bounds the signed distance from below in all of a cell, given the nearest
// points in the middle of it.
func lower(still, at shape.Convex, levers []lever, n shape.Nearest) float64 {
	bound := n.Signed - n.Within - travel(still, at, levers)
	if len(levers) <= mostSigned && !math.IsInf(n.Signed, 0) {
		bound = max(bound, byPlane(still, at, levers, n.Normal))
	}
	return bound - rounding
}

// travel bounds how far the signed distance can fall in a cell: by the core of B,
// or by that of A, whichever goes less far.
func travel(still, at shape.Convex, levers []lever) float64 {
	ofA, ofB := 0.0, 0.0
	for _, l := range levers {
		switch {
		case l.half == 0:
		case l.turns:
			ofA += l.chord * reach(still, l.on, l.dir)
			ofB += l.chord * reach(at, l.on, l.dir)
		default:
			ofA, ofB = ofA+l.half, ofB+l.half
		}
	}
	return min(ofA, ofB)
}

// byPlane is the better of two bounds by planes square to n: one that stands still,
// and one that goes with B.
func byPlane(still, at shape.Convex, levers []lever, n r3.Vector) float64 {
	// Rounding may have left n leading into what goes on without end.
	if back := behind(at); n.Dot(back) < 0 {
		n = n.Sub(back.Mul(n.Dot(back))).Normalize()
	}
	if back := behind(still); n.Dot(back) > 0 {
		n = n.Sub(back.Mul(n.Dot(back))).Normalize()
	}
	swing := 0.0
	for _, l := range levers {
		if l.turns {
			swing += l.half
		}
	}
	return max(standing(still, at, levers, n, swing), carried(still, at, levers, n, swing))
}

// standing bounds the distance by how far a plane that stands still parts the two; -Inf
// where B, which goes on without end, may be turned through it.
func standing(still, at shape.Convex, levers []lever, n r3.Vector, swing float64) float64 {
	if back := behind(at); back != (r3.Vector{}) && n.Dot(back) < chord(swing) {
		return math.Inf(-1)
	}
	return advance(at, levers, n, false) - still.Support(n).Dot(n) - still.Radius() - at.Radius()
}

// carried does so by a plane that goes with B.
func carried(still, at shape.Convex, levers []lever, n r3.Vector, swing float64) float64 {
	if back := behind(still); back != (r3.Vector{}) && -n.Dot(back) < chord(swing) {
		return math.Inf(-1)
	}
	return at.Support(n.Mul(-1)).Dot(n) + advance(still, levers, n.Mul(-1), true) - still.Radius() - at.Radius()
}

// advance bounds from below how far along n the nearest point of a moving core is, in
// all of a cell. inward: the core moves the other way round, the innermost joint last.
func advance(c shape.Convex, levers []lever, n r3.Vector, inward bool) float64 {
	rest := 0.0
	var sides [mostSigned]r3.Vector // sin h (n×u)
	for i, l := range levers {
		outer := l.outer
		if inward {
			outer = l.inner
		}
		switch {
		case l.half == 0:
		case l.turns:
			side := n.Cross(l.dir)
			sides[i] = side.Mul(l.sine)
			if away := l.versine*side.Norm() + outer*l.chord; away > 0 {
				rest += away * bounded(c, l)
			}
		default:
			rest += l.half * (math.Abs(n.Dot(l.dir)) + outer)
		}
	}
	least := math.Inf(1)
	for signs := range 1 << len(levers) {
		toward, off := n, 0.0
		doubled := false
		for i, l := range levers {
			negative := signs>>i&1 == 1
			if sides[i] == (r3.Vector{}) {
				doubled = doubled || negative
				continue
			}
			side := sides[i]
			if negative {
				side = side.Mul(-1)
			}
			toward = toward.Sub(side)
			off += side.Dot(l.on)
		}
		if !doubled {
			least = min(least, c.Support(toward.Mul(-1)).Dot(toward)+off)
		}
	}
	return least - rest
}

// bounded is the reach of a shape from a joint's axis; what it goes on by without
// end does not count, as n leads away from there.
func bounded(c shape.Convex, l lever) float64 {
	if h, ok := c.(shape.Hull); ok {
		h.Behind = r3.Vector{}
		return reach(h, l.on, l.dir)
	}
	return reach(c, l.on, l.dir)
}
