package way

import (
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/solid/shape"
)

// Passage is a path ready to be asked how near it comes to things. It has scratch
// space: each goroutine makes its own.
type Passage struct {
	course *course
	legs   []leg
	spans  [][]shape.Span // of each leg, each part
}

// Along makes a path ready. One pose is a path too.
func Along(s Scene, path []Pose) Passage {
	p := Passage{course: ready(s)}
	for i := range path {
		if i > 0 || len(path) == 1 {
			l := between(path[max(i-1, 0)], path[i])
			p.legs = append(p.legs, l)
			p.spans = append(p.spans, p.course.sweep(l))
		}
	}
	return p
}

// Bound is no more than the least distance from a part to a thing on the way, -Inf
// where they may overlap.
func (p Passage) Bound(part, thing int) float64 {
	least := math.Inf(1)
	for i := range p.legs {
		least = math.Min(least, p.spans[i][part].Off(p.course.spans[thing]))
	}
	if least == 0 {
		return math.Inf(-1)
	}
	return least
}

// Pass is the least distance from a part to a thing on the way.
type Pass struct {
	// Near has its witness in the pose At.
	Near shape.Nearest
	// Lower is what is proved: no more than a hundredth of a millimetre less.
	Lower float64
	At    Pose
	move  motion
}

// Home takes a place in the pose back to home.
func (p Pass) Home(at r3.Vector) r3.Vector { return p.move.home(at) }

// Place takes a solid from home to the pose.
func (p Pass) Place(c shape.Convex) shape.Convex { return p.move.shape(c) }

// Back takes a direction in the pose back to home.
func (p Pass) Back(v r3.Vector) r3.Vector { return p.move.back(v) }

// Least finds it.
func (p Passage) Least(part, thing int) Pass {
	var best Pass
	best.Near.Signed, best.Lower = math.Inf(1), math.Inf(1)
	for i, l := range p.legs {
		if p.spans[i][part].Off(p.course.spans[thing]) > best.Near.Signed {
			continue
		}
		t, near, lower := walk{p.course, l, part, thing}.least(best.Near.Signed)
		best.Lower = math.Min(best.Lower, lower)
		if near.Signed < best.Near.Signed {
			best.Near, best.At, best.move = near, l.pose(t), l.at(t, p.course.Pivot)
		}
	}
	return best
}

// Outside says whether the assembly is beyond a side of the room in a pose.
func (s Scene) Outside(p Pose) bool {
	c := &course{Scene: s}
	_, left := c.nearestExit(c.span(p))
	return left <= 0
}
