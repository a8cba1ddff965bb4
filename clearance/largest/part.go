package largest

import (
	"math"

	"elbowroom/clearance"
)

// leastPart is how near to its largest box a node is taken apart with the usual effort,
// mm: a twentieth of what anyone reads.
const leastPart = 0.02

// leastTurn is half of the narrowest range of turns that is halved: a tenth of a
// millimetre at half a metre.
const leastTurn = 1e-4

// part takes a node apart whose largest box falls short of sure by less than what
// the bound can tell: into what is near that box, and what is farther from it on
// each side.
func (s *search) part(n *node, stand clearance.Stand) {
	if n.cell.half() > leastTurn {
		s.divide(n)
		return
	}
	near := n.near / 2
	if n.near == 0 {
		size := stand.Size()
		near = 0.004 * math.Min(size.Width, math.Min(size.Height, size.Depth))
	}
	if near < leastPart/s.task.limits.Effort {
		s.floor = math.Max(s.floor, n.key)
		return
	}
	rest := *n
	lo, hi := components(stand.Lo), components(stand.Hi)
	for face := range faces {
		m := rest
		if face < 3 {
			cut := lo[face] + near
			if m.to[face] <= cut {
				continue
			}
			m.from[face] = math.Max(m.from[face], cut)
			rest.to[face] = math.Min(rest.to[face], cut)
		} else {
			cut := hi[face-3] - near
			if m.from[face] >= cut {
				continue
			}
			m.to[face] = math.Min(m.to[face], cut)
			rest.from[face] = math.Max(rest.from[face], cut)
		}
		m.near = 0
		if s.settle(&m) {
			s.push(&m)
		}
	}
	rest.near = near
	if s.settle(&rest) {
		s.push(&rest)
	}
}

// divide halves a node's turns.
func (s *search) divide(n *node) {
	for _, c := range s.frames.halves(n.cell) {
		m := *n
		m.cell, m.near = c, 0
		if s.settle(&m) {
			s.push(&m)
		}
	}
}
