package largest

import (
	"math"

	"elbowroom/solid"
)

// middle is where, and along the axes by how much, a place of a part weighs in: a
// place in it is the more in the way the nearer it is to at, in shares of size.
type middle struct{ at, size [3]float64 }

// innermost is the place of a convex piece that is nearly nearest to a middle: some
// place of the piece in any case. It goes from node to node by the shortest of the
// line to the farthest one that way (Frank and Wolfe, 1956, "An algorithm for
// quadratic programming").
func innermost(nodes []vec, behind vec, m *middle) vec {
	scaled := func(v vec) vec {
		return vec{X: v.X / m.size[0], Y: v.Y / m.size[1], Z: v.Z / m.size[2]}
	}
	centre := scaled(vector(m.at))
	way := scaled(behind)
	best, least := nodes[0], math.Inf(1)
	for _, n := range nodes {
		if d := scaled(n).Sub(centre).Norm2(); d < least {
			best, least = n, d
		}
	}
	const rounds = 16 // any place of the piece will do
	for range rounds {
		off := scaled(best).Sub(centre)
		if off.Norm2() < 1e-4 {
			break
		}
		// The node farthest against off, or the piece's endless side.
		var next vec
		most := math.Inf(-1)
		for _, n := range nodes {
			if by := -off.Dot(scaled(n.Sub(best))); by > most {
				most, next = by, n
			}
		}
		step, whole := next.Sub(best), 1.0
		if by := -off.Dot(way); by > 0 && by*by > most*most/max(1e-300, scaled(step).Norm2())*way.Norm2() {
			step, whole = behind, math.Inf(1)
		} else if most <= 1e-3*off.Norm2() {
			break
		}
		s := scaled(step)
		t := min(whole, -off.Dot(s)/s.Norm2())
		if t <= 0 {
			break
		}
		best = best.Add(step.Mul(t))
	}
	return best
}

// keen narrows a node down to the boxes that are worth more than the best: a value
// grows evenly with each size, so that each has to be the more the less there is to
// spare; ok is false where none is.
func (s *search) keen(n *node) (ok bool) {
	beat := max(s.best.value, s.wanted) * (1 - 1e-12)
	size := s.size(n)
	whole := s.value(size)
	if whole <= beat {
		return false
	}
	if beat <= 0 {
		return true
	}
	b := s.bounds
	for a := range 3 {
		d := components(size.Vector())
		step := min(1, d[a]/2)
		d[a] -= step
		less := s.value(solid.Size{Width: d[0], Height: d[1], Depth: d[2]})
		if less <= 0 || less >= whole {
			continue
		}
		b.min[a] = max(b.min[a], d[a]+step-(whole-beat)/(whole-less)*step-reach)
	}
	return n.tighten(b)
}

// dives says at which nodes of a search a dive is made: at the 4th, 16th, 64th and
// each 256th.
func dives(pops int) bool { return pops == 4 || pops == 16 || pops == 64 || pops%256 == 0 }

// dive follows a node's largest children down to a box that keeps off all places, and
// mends that.
func (s *search) dive(n *node) {
	m := *n
	for range mostDives {
		stand := s.stand(&m)
		children := s.placesCut(&m, m.cell.frame, stand, fewTried)
		if children == nil {
			s.mend(m.cell.frame, &m, stand)
			return
		}
		best := -1
		for i, c := range children {
			if best < 0 || c.key > children[best].key {
				best = i
			}
		}
		if best < 0 {
			return
		}
		m = *children[best]
	}
}

// mostDives is how many cuts a dive makes at most: each side of a box takes a few.
const mostDives = 100

// fewTried is how many places are tried for a cut of a dive: it need not be the best.
const fewTried = 2

// nearest is a place of a convex piece that is nearly nearest to a hull, and the nearest
// one to it of the hull: by the same steps.
func nearest(nodes []vec, behind vec, h *hull, from vec) (q, p vec) {
	q = from
	const rounds = 24 // any place of the piece will do
	for range rounds {
		p = h.clamp(q)
		off := q.Sub(p)
		whole := off.Norm2()
		if whole == 0 {
			return q, p
		}
		var next vec
		most := math.Inf(-1)
		for _, n := range nodes {
			if by := -off.Dot(n); by > most {
				most, next = by, n
			}
		}
		most += off.Dot(q)
		step, limit := next.Sub(q), 1.0
		if by := -off.Dot(behind); by > 0 && by*by*step.Norm2() > most*most*behind.Norm2() {
			step, limit, most = behind, math.Inf(1), by
		} else if most <= 1e-4*whole {
			return q, p
		}
		q = q.Add(step.Mul(min(limit, most/step.Norm2())))
	}
	return q, h.clamp(q)
}

func (h *hull) clamp(v vec) vec {
	return vec{
		X: min(h.high[0], max(h.low[0], v.X)),
		Y: min(h.high[1], max(h.low[1], v.Y)),
		Z: min(h.high[2], max(h.low[2], v.Z)),
	}
}
