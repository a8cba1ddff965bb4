package survey

import (
	"slices"

	"elbowroom/survey/network"
)

// suspects are the ties that may be the wrong one, the greatest |w| first. more
// are the others at the marks of the first, to try where none of them leaves a
// rest that agrees: a gross slip bends the network until |w| says little.
func (s *search) suspects() (suspects, more []int) {
	_, most := s.greatest(s.now)
	var all []int
	for l := range s.ties {
		if s.w(s.now, l) > 0 {
			all = append(all, l)
		}
	}
	slices.SortStableFunc(all, func(i, j int) int {
		return -compare(s.w(s.now, i), s.w(s.now, j))
	})
	n := 0
	for n < len(all) && n < suspectsMost && s.w(s.now, all[n]) >= suspectShare*most {
		n++
	}
	if most < gross {
		return all[:n], nil
	}
	for _, l := range all[n:] {
		if s.joined(all[0], l) {
			more = append(more, l)
		}
	}
	return all[:n], more[:min(len(more), suspectsMost)]
}

// joined says that two ties hold the same unknown mark.
func (s *search) joined(i, j int) bool {
	for _, k := range [2]int{s.ties[i].Mark, s.ties[i].From} {
		if k != network.None && (k == s.ties[j].Mark || k == s.ties[j].From) && !s.complete(s.nets.marks[k]) {
			return true
		}
	}
	return false
}
