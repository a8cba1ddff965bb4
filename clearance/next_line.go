package clearance

import (
	"math"

	"elbowroom/survey"
)

// newReading finds the tape or depth of a mark that tapes or depths place that
// would bring a figure's standard uncertainty down to what is wanted at the widest
// limit, as a share of what such a reading is usually read to: no more than that is
// asked for. Of several that need no more, it is the one that leaves least.
func (c *checker) newReading(f figure, readings []Share, want float64) (best Measure, found bool) {
	share, left := 0.0, 0.0
	for m := range c.space.Marks {
		if !c.hangsOn(m, readings) {
			continue
		}
		c.tapes.candidates(m, usualLimit, func(r candidate) {
			limit, ok := r.widest(f, want)
			if !ok || limit < share*r.within-1e-9 {
				return
			}
			at := r
			at.within = limit
			if u := leaves(f.u, f.terms, at); (limit > share*r.within+1e-9 || u < left*(1-reach)) && c.tapes.free(r, m) {
				share, left, found = limit/r.within, u, true
				best = Measure{Mark: c.space.Marks[m].Name}
				best.read(c.tapes.next(at, u))
				best.Mark = "" // it is for the line
			}
		})
	}
	return best, found
}

// hangsOn says whether a mark that tapes or depths place is the end of one of some
// shares, or its depth's.
func (c *checker) hangsOn(m int, shares []Share) bool {
	mark := c.space.Marks[m]
	if mark.From == survey.Points {
		return false
	}
	for _, s := range shares {
		if s.Tape[0] == mark.Name || s.Tape[1] == mark.Name || s.Depth == mark.Name {
			return true
		}
	}
	return false
}

// widest is the widest half limit, mm, up to that of the candidate, with which it
// leaves a figure no more than want. ok is false where it would have to be read
// better than anyone reads by hand.
func (c candidate) widest(f figure, want float64) (limit float64, ok bool) {
	does := func(limit float64) bool {
		c.within = limit
		return leaves(f.u, f.terms, c) <= want
	}
	switch {
	case does(c.within):
		return c.within, true
	case !does(finest):
		return 0, false
	}
	lo, hi := finest, c.within
	for hi-lo > 1e-3*finest { // what it leaves grows with the limit
		if mid := (lo + hi) / 2; does(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return math.Min(lo, c.within), true
}
