package clearance

import (
	"cmp"
	"slices"

	"github.com/golang/geo/r3"

	"elbowroom/clearance/motion"
	"elbowroom/solid/shape"
)

// movedRivals collects the rivals of a line in a motion. Each counts where it is nearest on
// either side of rest: of one place's other positions there the clearance is greater, and
// moves with the same marks in nearly the same way.
type movedRivals struct {
	checker *checker
	thing   thing
	o       *obstacle
	limit   float64
	joints  motion.Chain // one side of rest
	taken   map[int]bool // nodes that stand for themselves already, on that side
	list    []posed
}

// findMovedRivals fills the rivals of a line in a motion within rivalReach of its witness:
// the other pieces, and single nodes and corners as findRivals has them.
func (c *checker) findMovedRivals(d *draft, t thing, o *obstacle, m *moving, found motion.Found) {
	if d.main.u == 0 || d.main.settled(d.line.Gap) || c.plain(d, o) {
		return
	}
	r := movedRivals{checker: c, thing: t, o: o, limit: d.line.Clearance + d.over + rivalReach*d.main.u}
	for _, side := range halvesOf(m.joints) {
		r.joints, r.taken = side, map[int]bool{}
		main := onSide(side, found.At)
		if main {
			witness(r.taken, o.pieces[found.Piece].nodes, found.Nearest.MixB)
		}
		stills, spots := t.stills()
		for i, p := range o.pieces {
			if !main || i != found.Piece {
				r.add(stills, spots, p)
			}
		}
		for _, p := range o.pieces {
			r.nodes(stills, spots, p)
			if part, ok := t.(partThing); ok {
				r.edges(part, p, found.Nearest)
			}
		}
	}
	slices.SortStableFunc(r.list, func(a, b posed) int { return cmp.Compare(a.nearest.Signed, b.nearest.Signed) })
	for i, p := range r.list {
		if i < mostRivals {
			d.rivals = append(d.rivals, c.movedFigure(t, o, m, p, d.line.Gap))
		} else {
			d.rest = append(d.rest, figure{value: p.nearest.Signed, u: c.widest(d.main, o, p.nodes)})
		}
	}
}

// halvesOf cuts the range of each joint at rest.
func halvesOf(joints motion.Chain) []motion.Chain {
	out := []motion.Chain{nil}
	for _, j := range joints {
		var longer []motion.Chain
		for _, c := range out {
			below, above := j, j
			below.To, above.From = 0, 0
			if j.From == 0 && j.To == 0 {
				longer = append(longer, append(slices.Clip(c), j))
			}
			if j.From < 0 {
				longer = append(longer, append(slices.Clip(c), below))
			}
			if j.To > 0 {
				longer = append(longer, append(slices.Clip(c), above))
			}
		}
		out = longer
	}
	return out
}

// onSide says whether a position is on a side of rest.
func onSide(side motion.Chain, at []float64) bool {
	for i, j := range side {
		if at[i] < j.From || at[i] > j.To {
			return false
		}
	}
	return true
}

// add finds where a piece is nearest, and keeps it if that is within the limit.
func (r *movedRivals) add(stills []motion.Still, spots []int, p piece) {
	f, ok := motion.Least(stills, []shape.Convex{p.hull}, r.joints, motion.Options{Below: r.limit, Bounded: true})
	if ok && !witness(r.taken, p.nodes, f.Nearest.MixB) {
		f.Nearest.Signed = min(f.Nearest.Signed, f.Lower+reach)
		r.list = append(r.list, posed{f.Nearest, spots[f.Still], p.nodes, f.At})
	}
}

// nodes tries each node of a piece on its own.
func (r *movedRivals) nodes(stills []motion.Still, spots []int, p piece) {
	if len(p.nodes) < 2 {
		return
	}
	for _, node := range p.nodes {
		if !r.taken[node] {
			r.add(stills, spots, r.checker.single(r.o, node))
		}
	}
}

// edges tries each edge of a straight-sided part: a face that lies along a flat is nearest
// it at whichever corner the flat's tilt brings there, or where an edge of its own crosses
// one of the flat's.
func (r *movedRivals) edges(part partThing, p piece, best shape.Nearest) {
	box, ok := part.Solid.(shape.Box)
	if !ok || len(p.nodes) < 2 {
		return
	}
	corners, seen := boxCorners(box), []r3.Vector{best.OnA}
	for k, from := range corners {
		for e := range 3 {
			if k>>e&1 == 1 {
				continue // taken from its other end
			}
			edge := []motion.Still{motion.Solid(shape.Hull{Points: []r3.Vector{from, corners[k|1<<e]}})}
			f, ok := motion.Least(edge, []shape.Convex{p.hull}, r.joints, motion.Options{Below: r.limit, Bounded: true})
			known := func(at r3.Vector) bool { return f.Nearest.OnA.Distance(at) <= reach } // two edges' corner
			if ok && !slices.ContainsFunc(seen, known) {
				seen = append(seen, f.Nearest.OnA)
				r.list = append(r.list, posed{f.Nearest, 0, p.nodes, f.At})
			}
		}
	}
}
