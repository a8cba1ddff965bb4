package survey

import (
	"fmt"
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/survey/network"
)

// aSlip is the slip of the hand that a single reading must withstand, mm: an inch
// misread, the commonest.
const aSlip = 25.4

// UnseenMoves is, of each mark, how far at most an error of a single number of
// any one reading moves it, mm, in the mounting frame, that just goes unseen
// (Strength.Seen says what that is). +Inf where little or nothing checks the mark:
// such an error moves it beyond its give or take, two standard uncertainties, and
// is in a number whose redundancy is below LeastRedundancy. 0 for a mark that has
// no place, or only exact readings.
//
// It is of one error at a time: two that agree with each other may move a mark
// farther. What nobody reads, as the zero of a tape or how far sideways a probe
// leans, has its limit but cannot slip.
func (s *Space) UnseenMoves() []float64 {
	out := make([]float64, len(s.Marks))
	checked, seen := s.seenSources()
	by := make([]r3.Vector, len(s.sources)) // how the mark at hand moves for each mm
	var touched []int
	p := s.Spreader()
	for m := range s.Marks {
		if !s.Marks[m].Located {
			continue
		}
		touched = touched[:0]
		for axis := range 3 {
			for _, t := range p.Terms(Gradient{{m, unit(axis)}}) {
				if by[t.Source] == (r3.Vector{}) {
					touched = append(touched, t.Source)
				}
				setAlong(&by[t.Source], axis, t.By/s.sources[t.Source].U)
			}
		}
		within := 2 * s.Spread(m).Worst
		for _, source := range touched {
			moves := by[source].Norm()
			by[source] = r3.Vector{}
			moves *= seen[source]
			if moves > within && !checked[source] {
				moves = math.Inf(1)
			}
			out[m] = math.Max(out[m], moves)
		}
	}
	return out
}

// seenSources is, of each source, whether others check it, and the least error
// that would be seen, mm: an inch where they say nothing of it, 0 where nobody
// reads it.
func (s *Space) seenSources() (checked []bool, seen []float64) {
	checked, seen = make([]bool, len(s.sources)), make([]float64, len(s.sources))
	for k, source := range s.sources {
		r := s.checked[k]
		row := &s.Rows[source.Row]
		for i, normal := range row.Flats {
			c := along(normal, source.Axis) / source.U
			r = math.Max(r, row.flatChecks[i]*c*c)
		}
		checked[k] = !(r < LeastRedundancy) // so is what nobody reads
		switch {
		case math.IsNaN(r):
		case r < leastChecked:
			seen[k] = aSlip
		default:
			seen[k] = seenBy * source.U / math.Sqrt(r)
		}
	}
	return checked, seen
}

// checkedSources is the redundancy of each source; NaN for one that nobody reads.
func (a *adjuster) checkedSources() []float64 {
	s := a.space
	out := make([]float64, len(s.sources))
	for k := range out {
		out[k] = math.NaN() // a widened limit, as of a ball tip, is no reading
	}
	copy(out, a.strength)
	if s.net == nil {
		return out
	}
	for l, k := range s.net.source {
		switch s.net.adjusted.Net.Ties[l].Kind {
		case network.Common, network.Sideways:
		default:
			out[k] = s.net.adjusted.Redundancy[l]
		}
	}
	return out
}

// Unchecked is the doubt about all marks that little or nothing checks: those of
// which moves, as of UnseenMoves, is +Inf. ok is false where there is none.
// Nothing need be wrong with them, but no test of the readings would show it. It
// is not among Doubts: what asks line by line what hangs on what says it there.
func (s *Space) Unchecked(moves []float64) (d Doubt, ok bool) {
	var names []string
	for m, by := range moves {
		if !math.IsInf(by, 1) {
			continue
		}
		if names == nil {
			d.Pos = s.Marks[m].Pos
		}
		names = append(names, s.Marks[m].Name)
	}
	if names == nil {
		return d, false
	}
	many := len(names) > 1
	d.Severity = Remark
	d.Says = fmt.Sprintf("little or nothing checks where %s %s: a slip in a reading may have moved %s far and not show", listed(names), plural(many, "are", "is"), plural(many, "them", "it"))
	return d, true
}

func plural(many bool, more, one string) string {
	if many {
		return more
	}
	return one
}

// addFlat notes that a flat, of a mark that is good to u, checks it along its
// normal with a redundancy. An error d of a reading of standard uncertainty v
// moves the mark by d u²/v² and so stands out by that times the root of the
// redundancy over u: as one does of a reading with u²/v² of that redundancy.
func (r *Row) addFlat(normal r3.Vector, redundancy, u float64) {
	r.Flats = append(r.Flats, normal)
	r.flatChecks = append(r.flatChecks, redundancy*u*u)
}
