package survey

import (
	"math"

	"elbowroom/survey/network"
	"elbowroom/survey/table"
)

// firstAndLast adds what it may mean where one of these ties is the first tape of
// a file that was pulled again as its last, or that last.
func (s *search) firstAndLast(ties []int) string {
	for _, l := range ties {
		if s.ties[l].Kind == network.Distance && s.framesFile(s.space.Rows[s.nets.rows[l]].Pos) {
			return "; the first tape was pulled again last, so the hook or a mark may have moved between"
		}
	}
	return ""
}

// framesFile says whether a tape is the first or last of its file, and those two
// are of the same two marks.
func (a *adjuster) framesFile(at table.Pos) bool {
	first, last := -1, -1
	for i, t := range a.readings.Tapes {
		if t.Pos.File != at.File || a.leftOut(t.Pos) {
			continue
		}
		if first < 0 {
			first = i
		}
		last = i
	}
	if first == last {
		return false
	}
	p, q := &a.readings.Tapes[first], &a.readings.Tapes[last]
	if !sameEnds(p, q) {
		return false
	}
	return at.Line == p.Pos.Line || at.Line == q.Pos.Line
}

func sameEnds(p, q *Tape) bool {
	return p.From == q.From && p.To == q.To || p.From == q.To && p.To == q.From
}

// Repeats is how far readings of the same thing are apart, against their limits.
// The zero Repeats is of none.
type Repeats struct {
	N int // how many there are beyond the first of each
	// Share is the root mean square of how far they are apart in units of what
	// their standard uncertainties make of it: about 1 where the limits are right,
	// as far as repeats show it.
	Share float64
}

// countRepeats holds coordinates from one base and tapes between the same two
// marks against the first of each.
func (a *adjuster) countRepeats() {
	sum, n, numbers := 0.0, 0, 0
	take := func(apart, u, v float64) bool {
		if u <= 0 && v <= 0 {
			return false
		}
		sum += apart * apart / (u*u + v*v)
		numbers++
		return true
	}
	for _, rows := range a.points {
		for k, i := range rows {
			p := a.readings.Points[i]
			for _, j := range rows[:k] {
				q := a.readings.Points[j]
				if p.Base != q.Base {
					continue
				}
				again := false
				for axis := range 3 {
					if p.At[axis].Given && q.At[axis].Given {
						again = take(p.At[axis].Value+p.Limit.Shift()-q.At[axis].Value-q.Limit.Shift(), p.Limit.U(), q.Limit.U()) || again
					}
				}
				if again {
					n++
				}
				break
			}
		}
	}
	tapes := a.readings.Tapes
	first := map[[2]string]int{}
	for i := range tapes {
		p := &tapes[i]
		ends := [2]string{min(p.From, p.To), max(p.From, p.To)}
		j, ok := first[ends]
		switch {
		case a.leftOut(p.Pos):
		case !ok:
			first[ends] = i
		case take(p.Length.Value+p.Limit.Shift()-tapes[j].Length.Value-tapes[j].Limit.Shift(), p.Limit.U(), tapes[j].Limit.U()):
			n++
		}
	}
	if numbers > 0 {
		a.space.Adjustment.Repeats = Repeats{N: n, Share: math.Sqrt(sum / float64(numbers))}
	}
}
