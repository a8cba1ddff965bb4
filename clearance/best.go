package clearance

import (
	"cmp"
	"math"
	"slices"
)

// merit is a candidate by what counts in a trade: the volume in mm3 and the room
// to spare in millionths of a millimetre, whole, so that rounding makes no
// difference of none.
type merit struct {
	index         int
	clears        bool
	volume, spare float64
}

func (o *Sizes) merit(i int) merit {
	s := &o.All[i]
	volume := s.CapacityL * 1e6 // mm3 in a litre
	if !o.Known {
		volume = s.Size.Width * s.Size.Height * s.Size.Depth
	}
	return merit{i, s.Verdict == Clears || s.Open && s.MayClear, math.Round(volume), math.Round(s.Spare.Spare() / reach)}
}

// front is the best trades, least capacity first: of those that are not
// passed over.
func (o *Sizes) front(pass func(i int) bool) []int {
	var list []merit
	for i, s := range o.All {
		if s.NoBox == nil && s.Lines && severity(s.Verdict) <= severity(Unproven) && !pass(i) {
			list = append(list, o.merit(i))
		}
	}
	slices.SortFunc(list, merit.compare)
	// Those that clear can be beaten by those that clear only, the others by any.
	best := slices.DeleteFunc(slices.Clone(list), func(m merit) bool { return !m.clears })
	best = unbeaten(best)
	for _, m := range unbeaten(list) {
		if !m.clears {
			best = append(best, m)
		}
	}
	slices.SortFunc(best, merit.compare)
	indices := make([]int, len(best))
	for i, m := range best {
		indices[len(best)-1-i] = m.index
	}
	return indices
}

// compare puts the larger first, of equal ones the one with more to spare, of
// equal ones the one that clears.
func (m merit) compare(o merit) int {
	if by := cmp.Or(cmp.Compare(o.volume, m.volume), cmp.Compare(o.spare, m.spare)); by != 0 {
		return by
	}
	if m.clears != o.clears {
		if m.clears {
			return -1
		}
		return 1
	}
	return cmp.Compare(m.index, o.index)
}

// unbeaten are those of a sorted list that have more to spare than all before
// them, and those that are their equals.
func unbeaten(list []merit) (out []merit) {
	top := merit{spare: math.Inf(-1)}
	for _, m := range list {
		equal := m.spare == top.spare && m.volume == top.volume && m.clears == top.clears
		if m.spare > top.spare || equal {
			out, top = append(out, m), m
		}
	}
	return out
}
