package survey

import (
	"math"

	"github.com/golang/geo/r3"
)

// Hides is for each mark how far a slip in one reading that just goes unseen can be
// moving it, mm (external reliability, of the mark): of all numbers of all readings the
// one that moves it most, each with the least error that would be seen. It is infinite
// where nothing checks one that the mark hangs on, and 0 for a mark without a place.
// Two slips together may move it by more.
func (s *Space) Hides() []float64 {
	out := make([]float64, len(s.Marks))
	for k, row := range s.Rows {
		if row.Shared || s.Adjustment.Readings[k].tie != 0 {
			continue
		}
		if of := s.Adjustment.Readings[k]; math.IsInf(of.Seen, 1) {
			out[row.Mark] = math.Inf(1)
		} else {
			out[row.Mark] = max(out[row.Mark], of.Seen*(1-of.Redundancy))
		}
	}
	s.hidesInNet(out)
	for m := range s.Marks {
		if !s.Marks[m].Located {
			out[m] = 0
		}
	}
	return out
}

// leastMoved is from which share of a slip on a mark counts as moved by it: less is the
// rounding of the network's solution.
const leastMoved = 1e-6

// hidesInNet takes in what the ties of the network hide.
func (s *Space) hidesInNet(out []float64) {
	if s.net == nil {
		return
	}
	spreader, moved := s.net.adjusted.Spreader(), make([]r3.Vector, len(s.net.marks))
	for l, source := range s.net.source {
		if s.Rows[s.sources[source].Row].Shared {
			continue
		}
		r, u := s.net.adjusted.Redundancy[l], s.sources[source].U
		spreader.Moved(l, moved)
		shift := s.frameShift(moved)
		for k, m := range s.net.marks {
			by := shift(m, moved[k]).Norm()
			switch {
			case by <= leastMoved:
			case r < leastChecked:
				out[m] = math.Inf(1)
			default:
				out[m] = max(out[m], by*seenBy*u/math.Sqrt(r))
			}
		}
	}
}
