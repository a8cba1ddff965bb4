package empty

import (
	"cmp"
	"slices"
	"sort"
)

// Front is the rooms that no other beats: of every other room at least one of
// width, height and depth is less. Of equal sizes the first stays. The order is
// by width, height and depth, greatest first. n rooms take n log n comparisons.
func Front(rooms []Box) []Box {
	order := slices.Clone(rooms)
	slices.SortStableFunc(order, func(a, b Box) int {
		s, t := a.Size(), b.Size()
		return -cmp.Or(cmp.Compare(s[0], t[0]), cmp.Compare(s[1], t[1]), cmp.Compare(s[2], t[2]))
	})
	// stair has the heights and depths that are reached by rooms at least as
	// wide as the next: heights rise, depths fall.
	type step struct{ h, d int64 }
	var stair []step
	var front []Box
	for _, room := range order {
		s := room.Size()
		from := sort.Search(len(stair), func(i int) bool { return stair[i].h >= s[1] })
		if from < len(stair) && stair[from].d >= s[2] {
			continue
		}
		front = append(front, room)
		to := from
		if to < len(stair) && stair[to].h == s[1] {
			to++
		}
		for from > 0 && stair[from-1].d <= s[2] {
			from--
		}
		stair = slices.Replace(stair, from, to, step{s[1], s[2]})
	}
	return front
}

// Pick is the first n really different rooms of a list, the most valuable first:
// each shares at most overlap with every one before it (see Overlap). Equal
// values go by place, lower coordinates first.
func (p Problem) Pick(rooms []Box, n int, overlap float64) []Box {
	type rated struct {
		Box
		value Value
	}
	p = p.whole()
	var order []rated
	for _, room := range rooms {
		if v := p.worth(room.Size()); v.over(Value{}) {
			order = append(order, rated{room, v})
		}
	}
	slices.SortStableFunc(order, func(a, b rated) int {
		return cmp.Or(b.value.Compare(a.value), slices.Compare(a.Lo[:], b.Lo[:]), slices.Compare(a.Hi[:], b.Hi[:]))
	})
	var picked []Box
	for _, r := range order {
		if len(picked) == n {
			break
		}
		if !slices.ContainsFunc(picked, func(b Box) bool { return Overlap(b, r.Box) > overlap }) {
			picked = append(picked, r.Box)
		}
	}
	return picked
}
