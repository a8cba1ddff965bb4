package clearance

import (
	"math"

	"github.com/golang/geo/r3"
)

// hiddenWithin is how near the diameter of the largest hidden thing is found,
// mm, and hiddenShare that as a share of a large one. It is rounded up by as
// much, to the safe side.
const (
	hiddenWithin = 0.5
	hiddenShare  = 0.02
	// lookedShare is the same for a side that was looked at, where the figure
	// decides nothing.
	lookedShare = 0.2
)

// hiddenSteps bounds the cells that are looked at; a side takes some hundreds.
const hiddenSteps = 20000

// hidden finds the largest ball with its middle in the gap in front of a side
// that touches no evidence (all lists it): its diameter, no less than the truth and no more
// than that and hiddenWithin or that share of it, and its middle. Infinite where there is none.
//
// The distance to one convex piece is a convex function of the place, so that
// over a cell it is greatest in a corner; a ball in the cell is no larger than
// that. And the distance changes by no more than one moves. The cell that could
// hold the largest ball is halved until it cannot be larger by much.
func hidden(lo, hi r3.Vector, sights []sight, all []int32, share float64) (diameter float64, at r3.Vector) {
	return hiddenIn([]cell{{lo: lo, hi: hi}}, sights, all, share)
}

// hiddenIn is hidden with the middle in any of some boxes, which may overlap.
func hiddenIn(room []cell, sights []sight, all []int32, share float64) (diameter float64, at r3.Vector) {
	if len(all) == 0 {
		return math.Inf(1), room[0].lo.Add(room[0].hi).Mul(0.5)
	}
	s := search{evidence: sights, best: math.Inf(-1)}
	var heap, first []cell
	for _, c := range room {
		first = grid(c, first)
	}
	for _, c := range first {
		if c = s.cell(c.lo, c.hi, all); c.most > s.best {
			push(&heap, c)
		}
	}
	for steps := 0; len(heap) > 0 && steps < hiddenSteps; steps++ {
		c := pop(&heap)
		if 2*(c.most-s.best) <= math.Max(hiddenWithin, share*2*s.best) {
			return 2 * math.Max(0, c.most), s.at
		}
		for _, half := range c.halves() {
			if d := s.cell(half[0], half[1], c.near); d.most > s.best {
				push(&heap, d)
			}
		}
	}
	if len(heap) > 0 {
		return 2 * math.Max(0, heap[0].most), s.at
	}
	return 2 * math.Max(0, s.best), s.at
}

// cell is a box of middles, the radius that no ball in it exceeds, and the
// evidence that can be the nearest to some place in it.
type cell struct {
	lo, hi r3.Vector
	most   float64
	near   []int32
}

type search struct {
	evidence []sight
	best     float64
	at       r3.Vector
	far      []float64 // scratch
}

// firstCells is how long the cells are that a search begins with, mm: in larger
// ones nearly all evidence could be the nearest somewhere.
const firstCells = 40

// grid halves a cell until it is no longer than firstCells.
func grid(c cell, into []cell) []cell {
	if d := c.hi.Sub(c.lo); math.Max(d.X, math.Max(d.Y, d.Z)) <= firstCells {
		return append(into, c)
	}
	for _, half := range c.halves() {
		into = grid(cell{lo: half[0], hi: half[1]}, into)
	}
	return into
}

// cell bounds the balls with their middle in a box. One that can hold no larger
// ball than the best is not looked at further.
func (s *search) cell(lo, hi r3.Vector, evidence []int32) cell {
	middle, reach := lo.Add(hi).Mul(0.5), hi.Sub(lo).Norm()/2
	nearest, second := math.Inf(1), math.Inf(1)
	first, next := int32(-1), int32(-1)
	enough := math.Inf(1) // no less than the nearest
	for _, i := range evidence {
		enough = math.Min(enough, s.evidence[i].corner(middle))
	}
	far := s.far[:0]
	for _, i := range evidence {
		e := &s.evidence[i]
		// A piece whose bound is beyond the nearest and the cell is never the nearest.
		off := middle.Sub(e.middle).Norm() - e.radius
		if off <= math.Min(nearest, enough)+2*reach {
			off = e.off(middle) // below 0 inside, which settles a cell sooner
			switch {
			case off < nearest:
				second, next = nearest, first
				nearest, first = off, i
			case off < second:
				second, next = off, i
			}
		}
		far = append(far, off)
	}
	s.far = far
	if nearest > s.best {
		s.best, s.at = nearest, middle
	}
	c := cell{lo: lo, hi: hi, most: nearest + reach}
	for _, i := range [2]int32{first, next} {
		if i >= 0 && c.most > s.best {
			c.most = math.Min(c.most, s.corners(lo, hi, i))
		}
	}
	if c.most <= s.best {
		return c
	}
	c.near = append(c.near, first)
	for k, i := range evidence {
		if far[k] <= nearest+2*reach && i != first {
			c.near = append(c.near, i)
		}
	}
	return c
}

// corners is the greatest distance of a piece from a corner of the cell: the
// bound that any piece gives. The two nearest tell it where two meet.
func (s *search) corners(lo, hi r3.Vector, piece int32) float64 {
	most := math.Inf(-1)
	for corner := range 8 {
		at := lo
		if corner&1 != 0 {
			at.X = hi.X
		}
		if corner&2 != 0 {
			at.Y = hi.Y
		}
		if corner&4 != 0 {
			at.Z = hi.Z
		}
		most = math.Max(most, s.evidence[piece].off(at))
	}
	return most
}

// halves cuts a cell across its longest edge.
func (c cell) halves() [2][2]r3.Vector {
	d := c.hi.Sub(c.lo)
	left, right := c.hi, c.lo
	switch {
	case d.X >= d.Y && d.X >= d.Z:
		left.X = (c.lo.X + c.hi.X) / 2
		right.X = left.X
	case d.Y >= d.Z:
		left.Y = (c.lo.Y + c.hi.Y) / 2
		right.Y = left.Y
	default:
		left.Z = (c.lo.Z + c.hi.Z) / 2
		right.Z = left.Z
	}
	return [2][2]r3.Vector{{c.lo, left}, {right, c.hi}}
}

// push and pop keep the cell with the largest bound on top of a binary heap.
func push(heap *[]cell, c cell) {
	h := append(*heap, c)
	for i := len(h) - 1; i > 0 && h[(i-1)/2].most < h[i].most; i = (i - 1) / 2 {
		h[i], h[(i-1)/2] = h[(i-1)/2], h[i]
	}
	*heap = h
}

func pop(heap *[]cell) cell {
	h := *heap
	top := h[0]
	n := len(h) - 1
	h[0] = h[n]
	h = h[:n]
	for i := 0; ; {
		k := 2*i + 1
		if k >= n {
			break
		}
		if k+1 < n && h[k+1].most > h[k].most {
			k++
		}
		if h[i].most >= h[k].most {
			break
		}
		h[i], h[k] = h[k], h[i]
		i = k
	}
	*heap = h
	return top
}
