package clearance

import (
	"math"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"elbowroom/solid/shape"
)

// cell is the margins in the middle of a cell of clock angles, as far as the bound needs
// them: exact from 0 up; below, no more is sure than that a margin less than minus the
// slack stays below 0 all through the cell.
func (t *turner) cell(from, width float64) verdictAt {
	clock := s1.Angle(from + width/2)
	v, ok := t.cells[clock]
	if !ok {
		v = t.better(clock, -t.slack(width), func(way int) bool { return !t.jammed(way, clock, width) })
		t.cells[clock] = v
	}
	return v
}

// jammed says that the volume, put on one way round, is surely in something at every clock
// angle of a cell: a place of it is in there deeper than that place moves. That settles
// a long tool in a large thing far sooner than how deep the two overlap, which is no
// more than the tool is thick where the thing ends beside it. False is no answer.
func (t *turner) jammed(way int, clock s1.Angle, width float64) bool {
	const places = 4 // beside the first: at quarters of a shape's length
	for _, core := range t.part.Turning.Core(way, clock) {
		middle, _ := core.Bounds()
		out := middle.Sub(t.part.Turning.About)
		if out == (r3.Vector{}) {
			continue
		}
		near, far := core.Support(out.Mul(-1)), core.Support(out)
		for k := places; k >= 0; k-- {
			at := near.Add(far.Sub(near).Mul(float64(k) / places))
			if t.within(at, t.part.Turning.Off(at)*width/2+reach) {
				return true
			}
		}
	}
	return false
}

// within says whether a place is deeper than so much in something that can be in the way:
// in a block, behind a flat, or in a part of the box. The rest is thin.
func (t *turner) within(at r3.Vector, deep float64) bool {
	for _, b := range t.all {
		if b.own != nil && spanOf(b.own.Solid).depth(at) > deep &&
			-shape.Distance(shape.Hull{Points: []r3.Vector{at}}, b.own.Solid).Signed > deep {
			return true
		}
		if b.own == nil && deeper(b.walls, at, deep) {
			return true
		}
	}
	return false
}

// depth is how deep a place is inside the span, below 0 outside.
func (s span) depth(at r3.Vector) float64 {
	least := math.Inf(1)
	for axis, x := range [3]float64{at.X, at.Y, at.Z} {
		least = min(least, x-s.Low[axis], s.High[axis]-x)
	}
	return least
}
