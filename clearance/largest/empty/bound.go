package empty

import (
	"slices"
	"sort"
)

// least is the least size along an axis, the others as they are, of a room whose
// value beats the best; it may come out too small, never too large.
func (s *search) least(room Size, axis int) int64 {
	if s.Value == nil && s.Aspect == (Size{}) && s.Step == (Size{}) {
		return s.leastOfVolume(room, axis)
	}
	most := room[axis]
	return int64(sort.Search(int(most), func(n int) bool {
		room[axis] = int64(n)
		return s.worth(room).over(s.value)
	}))
}

// leastOfVolume is least where the value is the volume.
//
// Three conversions, a product and a division are each off by at most 2^-53 of
// the result, so the quotient is within 5 * 2^-53 < 1e-15 of the true one: the
// millionth of a micrometre per metre that is taken off covers it.
func (s *search) leastOfVolume(room Size, axis int) int64 {
	across := 1.0
	for a, size := range room {
		if s.Max[a] > 0 {
			size = min(size, s.Max[a])
		}
		if a != axis {
			across *= float64(size)
		}
	}
	least := s.value.Float() / across
	return max(s.Min[axis], 1, int64(least-1e-12*least)+1)
}

// pivot is the obstacle to branch on: the one with the greatest product of the
// shares of the room that its branches cut off. One in the middle has a great
// one, and so has one with few ways out.
func (s *search) pivot(n *node) int32 {
	pick, most := n.near[0], -1.0
	size := n.room.Size()
	per := [3]float64{1 / float64(size[0]), 1 / float64(size[1]), 1 / float64(size[2])}
	for _, i := range n.near {
		if cut := n.cutOff(&s.blocks[i], per); cut > most {
			pick, most = i, cut
		}
	}
	return pick
}

func (n *node) cutOff(b *Box, per [3]float64) float64 {
	cut := 1.0
	for a := range 3 {
		if b.Hi[a] <= n.limit.Lo[a] {
			cut *= float64(b.Hi[a]-n.room.Lo[a]) * per[a]
		}
		if b.Lo[a] >= n.limit.Hi[a] {
			cut *= float64(n.room.Hi[a]-b.Lo[a]) * per[a]
		}
	}
	return cut
}

// grown is an empty room grown face by face until each stops at an obstacle
// that is not ignored, or at the domain.
func (s *search) grown(room Box, ignored []Box) Box {
	for f := range face(6) {
		free := room.with(f, s.Domain.at(f))
		for _, b := range s.Blocks {
			if free.Hits(b) && !slices.Contains(ignored, b) {
				free = free.beside(&b, f)
			}
		}
		for again := s.more != nil; again; {
			found := s.more(free, ignored)
			for _, b := range found {
				if free.Hits(b) {
					free = free.beside(&b, f)
				}
			}
			again = len(found) > 0
		}
		room = free
	}
	return room
}

// nodes is a heap, the greatest value first.
type nodes []node

func (h nodes) Len() int           { return len(h) }
func (h nodes) Less(i, j int) bool { return h[i].value.over(h[j].value) }
func (h nodes) Swap(i, j int)      { h[i], h[j] = h[j], h[i] }
func (h *nodes) Push(x any)        { *h = append(*h, x.(node)) }
func (h *nodes) Pop() any {
	last := len(*h) - 1
	n := (*h)[last]
	(*h)[last] = node{}
	*h = (*h)[:last]
	return n
}
