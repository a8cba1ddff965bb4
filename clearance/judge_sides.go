package clearance

import (
	"math"
	"slices"

	"github.com/golang/geo/r3"

	"elbowroom/solid"
)

// Unseen is what a side of a box is short of to count as measured.
type Unseen struct {
	Side solid.Side
	// Hidden is the diameter of the largest thing that could hide there, mm, +Inf where
	// anything could, and At the middle of it in the judge's frame. It is 0 where too
	// little of the side has evidence near.
	Hidden float64
	At     r3.Vector
}

// mostHidden is what may hide for certain: less than is allowed by as much as the
// diameter of what hides is rounded up.
func (c *checker) mostHidden() float64 {
	most := c.rules.HiddenAtMost
	return most - math.Max(hiddenWithin, hiddenShare*most)
}

// Unseen is the first side of the box at a stand that is not Seen to clear; ok is false
// where all are.
func (j *Judge) Unseen(s Stand) (u Unseen, ok bool) {
	j.place(s)
	c := j.c
	if c.sights == nil {
		c.sights = c.evidence()
	}
	gap := c.rules.named("fixed").Gap
	for _, side := range c.sides() {
		if slices.Contains(c.rules.LookedAt, side) {
			continue
		}
		w := c.window(side).from(c.origin)
		near := c.within(w, gap)
		lo, hi := w.slab(gap)
		diameter, at := hidden(lo, hi, c.sights, near, hiddenShare)
		if diameter <= c.mostHidden() {
			if c.rules.measured(c.cover(w, gap, near), diameter) {
				continue
			}
			diameter = 0
		}
		return Unseen{side, diameter, at}, true
	}
	return u, false
}

// Seen says that every side of the box at a stand clears. It asks for as much more than
// Check as that rounds up what may hide.
func (j *Judge) Seen(s Stand) bool {
	j.place(s)
	c := j.c
	if c.sights == nil {
		c.sights = c.evidence()
	}
	gap, most := c.rules.named("fixed").Gap, c.mostHidden()
	for _, side := range c.sides() {
		if slices.Contains(c.rules.LookedAt, side) {
			continue
		}
		w := c.window(side).from(c.origin)
		near := c.within(w, gap)
		lo, hi := w.slab(gap)
		if hides(lo, hi, c.sights, near, most) || !c.rules.measured(c.cover(w, gap, near), 0) {
			return false
		}
	}
	return true
}

// hides says whether a ball of more than a diameter may have its middle between two
// corners and touch no evidence: hidden, which stops as soon as that is known.
func hides(lo, hi r3.Vector, sights []sight, all []int32, diameter float64) bool {
	if len(all) == 0 {
		return true
	}
	s := search{evidence: sights, best: diameter / 2}
	var heap []cell
	for _, c := range grid(cell{lo: lo, hi: hi}, nil) {
		if c = s.cell(c.lo, c.hi, all); c.most > s.best {
			push(&heap, c)
		}
	}
	for steps := 0; len(heap) > 0; steps++ {
		if s.best > diameter/2 || steps == hiddenSteps {
			return true
		}
		c := pop(&heap)
		for _, half := range c.halves() {
			if d := s.cell(half[0], half[1], c.near); d.most > s.best {
				push(&heap, d)
			}
		}
	}
	return s.best > diameter/2
}

// from is the window of a body whose corner is elsewhere.
func (w window) from(corner r3.Vector) window {
	at := [3]float64{corner.X, corner.Y, corner.Z}
	w.level += at[w.axis]
	for k, axis := range w.across {
		w.lo[k] += at[axis]
		w.hi[k] += at[axis]
	}
	return w
}

// HiddenAtMost is the largest thing that may hide beside a side, mm, and SideGap how far
// out from it counts.
func (j *Judge) HiddenAtMost() (most, gap float64) {
	return math.Max(j.c.rules.HiddenAtMost, 0), j.c.rules.named("fixed").Gap
}
