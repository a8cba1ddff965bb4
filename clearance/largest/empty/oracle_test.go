package empty

import "slices"

// exhausted is the greatest value of a room by trying every pair of edges in x
// and in z, and every gap between the obstacles left in y. It shares nothing
// with the searches but Hits' rule, written again, and the problem's own worth.
func exhausted(p Problem) Value {
	var best Value
	p = p.whole()
	for _, z := range spans(p, 2) {
		if !p.Free && z[0] != p.Domain.Lo[2] {
			continue
		}
		for _, x := range spans(p, 0) {
			var in [][2]int64
			for _, b := range p.Blocks {
				if b.Lo[0] < x[1] && b.Hi[0] > x[0] && b.Lo[2] < z[1] && b.Hi[2] > z[0] {
					in = append(in, [2]int64{b.Lo[1], b.Hi[1]})
				}
			}
			slices.SortFunc(in, func(a, b [2]int64) int { return int(a[0] - b[0]) })
			from := p.Domain.Lo[1]
			in = append(in, [2]int64{p.Domain.Hi[1], p.Domain.Hi[1]})
			for _, y := range in {
				to := min(y[0], p.Domain.Hi[1])
				if to > from {
					room := Box{Point{x[0], from, z[0]}, Point{x[1], to, z[1]}}
					if v := p.worth(room.Size()); (p.Holds == nil || room.Holds(*p.Holds)) && v.over(best) {
						best = v
					}
				}
				from = max(from, y[1])
			}
		}
	}
	return best
}

// spans are the pairs of edges, lower and upper, along an axis.
func spans(p Problem, axis int) [][2]int64 {
	lows, highs := []int64{p.Domain.Lo[axis]}, []int64{p.Domain.Hi[axis]}
	for _, b := range p.Blocks {
		if at := b.Hi[axis]; at > p.Domain.Lo[axis] && at < p.Domain.Hi[axis] {
			lows = append(lows, at)
		}
		if at := b.Lo[axis]; at > p.Domain.Lo[axis] && at < p.Domain.Hi[axis] {
			highs = append(highs, at)
		}
	}
	var all [][2]int64
	for _, lo := range distinct(lows) {
		for _, hi := range distinct(highs) {
			if lo < hi {
				all = append(all, [2]int64{lo, hi})
			}
		}
	}
	return all
}

// everyRoom lists the maximal standing rooms by trying all six faces: for a few
// obstacles only.
func everyRoom(p Problem) []Box {
	empty := func(b Box) bool { return !slices.ContainsFunc(p.Blocks, b.Hits) }
	var all []Box
	for _, x := range spans(p, 0) {
		for _, y := range spans(p, 1) {
			for _, z := range spans(p, 2) {
				room := Box{Point{x[0], y[0], z[0]}, Point{x[1], y[1], z[1]}}
				if z[0] != p.Domain.Lo[2] || !empty(room) {
					continue
				}
				stuck := true
				for f := range face(6) {
					grown := room
					if f == 4 {
						continue
					} else if f.upper() {
						grown.Hi[f.axis()]++
					} else {
						grown.Lo[f.axis()]--
					}
					stuck = stuck && (!p.Domain.Holds(grown) || !empty(grown))
				}
				if stuck {
					all = append(all, room)
				}
			}
		}
	}
	return all
}
