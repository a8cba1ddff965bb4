package clearance

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r3"

	"elbowroom/solid"
	"elbowroom/solid/shape"
)

// rivalReach is how many standard uncertainties away another piece can still be
// the nearer one when all is measured again: at 6 the chance is 1e-9.
const rivalReach = 6

// mostRivals is how many rivals of a line are drawn jointly. A hand survey has
// a dozen; where a scan has thousands, the rest count by the sum of their risks,
// which is on the safe side.
const mostRivals = 64

// rival is a place that could be the nearest when all is measured again.
type rival struct {
	nearest shape.Nearest
	spot    int
	nodes   []int
}

// rivals collects them: other pieces, single nodes of the pieces, and single
// corners of a straight-sided part, each once.
type rivals struct {
	checker *checker
	thing   thing
	o       *obstacle
	limit   float64
	taken   map[int]bool // nodes that stand for themselves already
	list    []rival
}

// findRivals fills a draft's rivals within rivalReach of its witness.
func (c *checker) findRivals(d *draft, t thing, o *obstacle, which int, best shape.Nearest) {
	if d.main.u == 0 || d.main.settled(d.line.Gap) || c.plain(d, o) {
		return
	}
	r := rivals{checker: c, thing: t, o: o, limit: best.Signed + rivalReach*d.main.u, taken: map[int]bool{}}
	witness(r.taken, o.pieces[which].nodes, best.MixB)
	for i, p := range o.pieces {
		if t.least(p) > r.limit {
			continue
		}
		if n, spot := t.distance(p.solid); i != which && n.Signed <= r.limit && !witness(r.taken, p.nodes, n.MixB) {
			r.list = append(r.list, rival{n, spot, p.nodes})
		}
		r.nodes(p)
		if part, ok := t.(partThing); ok {
			r.corners(part, p, best)
		}
	}
	slices.SortStableFunc(r.list, func(a, b rival) int { return cmp.Compare(a.nearest.Signed, b.nearest.Signed) })
	for i, rival := range r.list {
		if i < mostRivals {
			d.where = append(d.where, rival)
			d.rivals = append(d.rivals, c.figure(t, rival.spot, o, rival.nodes, rival.nearest, d.line.Gap))
		} else {
			d.rest = append(d.rest, figure{value: rival.nearest.Signed, u: c.widest(d.main, o, rival.nodes)})
		}
	}
}

// widest bounds a rival's standard uncertainty: that of the box is no more than
// the line's own, that of its nodes no more than the sum of theirs.
func (c *checker) widest(main figure, o *obstacle, nodes []int) float64 {
	u := main.u
	for _, n := range nodes {
		u += math.Sqrt(3) * c.space.Uncertainty(o.feature.Nodes[n].Mark)
	}
	return u
}

// witness notes the node that a witness stands on, and says whether it stands
// on one that was noted before. One between nodes is never noted.
func witness(taken map[int]bool, nodes []int, m shape.Mix) bool {
	for k := 0; k < m.N; k++ {
		if m.By[k] > 1-1e-9 { // the whole weight, but for rounding
			n := nodes[m.Index[k]]
			was := taken[n]
			taken[n] = true
			return was
		}
	}
	return false
}

// nodes tries each node of a piece on its own: with all measured again a lip's
// other end may be the nearer.
func (r *rivals) nodes(p piece) {
	if len(p.nodes) < 2 {
		return
	}
	for _, node := range p.nodes {
		if r.taken[node] {
			continue
		}
		one := r.checker.single(r.o, node)
		if r.thing.least(one) > r.limit {
			continue
		}
		r.taken[node] = true
		if n, spot := r.thing.distance(one.solid); n.Signed <= r.limit {
			r.list = append(r.list, rival{n, spot, one.nodes})
		}
	}
}

// single is one node of an obstacle with all behind it.
func (c *checker) single(o *obstacle, node int) piece {
	if o.singles != nil && o.singles[node].solid != nil {
		return o.singles[node]
	}
	return c.makeSingle(o, node)
}

// makeSingles makes those of all nodes that stand with others in a piece.
func (c *checker) makeSingles(o *obstacle) {
	o.singles = make([]piece, len(o.nodes))
	for _, p := range o.pieces {
		for _, node := range p.nodes {
			if len(p.nodes) > 1 && o.singles[node].solid == nil {
				o.singles[node] = c.makeSingle(o, node)
			}
		}
	}
}

func (c *checker) makeSingle(o *obstacle, node int) piece {
	h := shape.Hull{Points: []r3.Vector{o.nodes[node]}, Grow: o.feature.Grow}
	if b := o.feature.Behind; b != (r3.Vector{}) {
		h.Behind = c.pose.turnIn(b)
	}
	return newPiece(h, []int{node})
}

// corners tries each corner of a straight-sided part: a face that lies along a
// flat touches it at whichever corner the flat's tilt brings nearest.
func (r *rivals) corners(part partThing, p piece, best shape.Nearest) {
	if len(p.nodes) < 2 {
		return
	}
	for _, corner := range part.corners {
		at := [3]float64{corner.X, corner.Y, corner.Z}
		if (span{shape.Span{Low: at, High: at}}).off(p.span) > r.limit {
			continue // before anything is made of it
		}
		one := shape.Hull{Points: []r3.Vector{corner}}
		if corner == best.OnA || shape.Gap(one, p.solid) > r.limit {
			continue
		}
		if n := shape.Distance(one, p.solid); n.Signed <= r.limit {
			r.list = append(r.list, rival{n, 0, p.nodes})
		}
	}
}

// cornersOf lists the corners of a part's straight-sided pieces.
func cornersOf(part solid.Part) []r3.Vector {
	var all []r3.Vector
	for _, c := range append([]shape.Convex{part.Solid}, part.More...) {
		switch q := c.(type) {
		case shape.Hull:
			all = append(all, q.Points...)
		case shape.Box:
			corners := boxCorners(q)
			all = append(all, corners[:]...)
		}
	}
	return all
}

// boxCorners lists the corners of a box.
func boxCorners(b shape.Box) (corners [8]r3.Vector) {
	for k := range corners {
		corners[k] = b.Corner
		for e := range 3 {
			if k>>e&1 == 1 {
				corners[k] = corners[k].Add(b.Edges[e])
			}
		}
	}
	return corners
}
