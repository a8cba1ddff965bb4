package network

import "github.com/golang/geo/r3"

// settleAll adjusts the marks placed so far among themselves, wherever the axes
// are: the damping alone holds those.
func (s *starter) settleAll() float64 {
	at, index := []int{}, make([]int, len(s.At))
	for m, placed := range s.Placed {
		index[m] = None
		if placed {
			index[m] = len(at)
			at = append(at, m)
		}
	}
	sub := Net{Marks: len(at), Shared: s.net.Shared}
	for _, t := range s.net.Ties {
		all := true
		ends, n := t.marks()
		for _, m := range ends[:n] {
			all = all && s.Placed[m]
		}
		if !all {
			continue
		}
		if t.Kind != Common {
			t.Mark = index[t.Mark]
			if t.From != None {
				t.From = index[t.From]
			}
			if t.Kind >= Along {
				t.To = index[t.To]
			}
		}
		sub.Ties = append(sub.Ties, t)
	}
	model := newNetModel(sub)
	x := make([]float64, 3*model.n)
	for i, m := range at {
		x[3*i], x[3*i+1], x[3*i+2] = s.At[m].X, s.At[m].Y, s.At[m].Z
	}
	low := descend(model, x, len(sub.Ties), roughSteps)
	for i, m := range at {
		s.At[m] = r3.Vector{X: x[3*i], Y: x[3*i+1], Z: x[3*i+2]}
	}
	return low.SumSquares
}

// roughSteps are enough for a start.
const roughSteps = 6

// repair looks for single marks on the wrong side of their neighbours: each is
// taken up and placed again by all its ties, but for those that were known
// before. It ends when no mark moves.
func (s *starter) repair(held []bool) {
	for range 6 { // each round mends what the one before uncovered
		moved := 0
		for m := range s.At {
			if !s.Placed[m] || held[m] {
				continue
			}
			ties := s.local(m)
			if s.miss(ties) <= alike*float64(len(ties)) {
				continue // it fits where it is
			}
			now := s.settle(m, s.At[m], ties)
			for _, p := range s.guesses(m, ties) {
				if got := s.settle(m, p, ties); got.miss < now.miss-alike && got.at.Sub(s.At[m]).Norm() > samePlace*s.reach(m, s.At[m]) {
					now = got
					moved++
				}
			}
			s.At[m] = now.at
		}
		if moved == 0 {
			return
		}
		if s.free {
			s.settleAll()
		}
	}
}
