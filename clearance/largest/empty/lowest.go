package empty

import "slices"

// bins divides a room that the scan is asked about, across and along: of each
// part the lowest point comes back. 16 by 16 is what a search gets through in
// the time of one look at 65,536 cells.
const bins = 16

// pointsIn finds points in a room: of each of its 16 by 16 parts the lowest of
// those that are the lowest of their cells, and only when there is none, of all.
// Ignored blocks are left out. There is none when the room is empty.
func (s *Scan) pointsIn(room Box, ignored []Box) []Box {
	w := s.window(room)
	counts := func(k int32) bool {
		return w.holds(&s.sites[k]) && (ignored == nil || !slices.Contains(ignored, s.block(s.sites[k])))
	}
	found := s.lowestIn(&w, func(c, best int32) int32 {
		if k := s.lowest[c]; counts(k) {
			return k
		}
		return best
	})
	if found != nil {
		return found
	}
	return s.lowestIn(&w, func(c, best int32) int32 {
		for k := s.last[c]; k >= 0; k = s.before[k] {
			if (best < 0 || s.sites[k][2] < s.sites[best][2]) && counts(k) {
				best = k
			}
		}
		return best
	})
}

// lowestIn goes through the cells of a window that reach into it, and takes from
// each the site that of says, which is given the lowest so far or -1.
func (s *Scan) lowestIn(w *window, of func(cell, best int32) int32) (blocks []Box) {
	var found [bins * bins]int32 // site and 1
	across, along := w.x1-w.x0+1, w.y1-w.y0+1
	for j := w.y0; j <= w.y1; j++ {
		bin := found[(j-w.y0)*bins/along*bins:][:bins]
		for i := w.x0; i <= w.x1; i++ {
			c := j*s.nx + i
			if s.low[c] >= w.top {
				continue
			}
			best := &bin[(i-w.x0)*bins/across]
			if *best == 0 || s.low[c] < below(s.sites[*best-1][2]) {
				*best = of(c, *best-1) + 1
			}
		}
	}
	for _, k := range found {
		if k > 0 {
			blocks = append(blocks, s.block(s.sites[k-1]))
		}
	}
	return blocks
}

// A window is a room grown by the gaps, from the scan's corner: a point is in it
// when its block reaches into the room.
type window struct {
	x0, x1, y0, y1 int32 // cells, inclusive
	lo, hi         [2]int32
	top            int32
}

func (s *Scan) window(room Box) (w window) {
	for a := range w.lo {
		w.lo[a] = int32(room.Lo[a] - s.keep[a] - s.corner[a])
		w.hi[a] = int32(room.Hi[a] + s.keep[a] - s.corner[a])
	}
	w.top = int32(room.Hi[2] + s.keep[2] - s.corner[2])
	w.x0, w.x1 = w.lo[0]>>s.shift, min(w.hi[0]>>s.shift, s.nx-1)
	w.y0, w.y1 = w.lo[1]>>s.shift, min(w.hi[1]>>s.shift, s.ny-1)
	return w
}

func (w *window) holds(p *site) bool {
	return above(p[0]) > w.lo[0] && below(p[0]) < w.hi[0] &&
		above(p[1]) > w.lo[1] && below(p[1]) < w.hi[1] && below(p[2]) < w.top
}
