package largest

import (
	"math"

	"elbowroom/clearance"
)

// sharpen raises what is needed from a place between nodes by what the boxes of a
// node have in common.
//
// Let n be any direction, e how far along it the part reaches at a box, c how much
// farther all of the piece lies, and d the distance of a place q of the piece. Then the
// nearest place x of the piece is no farther than d, and x - p, with p the place of the
// part nearest to it, has at least c along n. So its angle to n has a cosine of c/d or
// more; p is within d - c of e along n, and x within as much of the piece's lowest;
// across n the two are no more than sqrt(d2 - c2) apart. With that x can be the mix of
// few nodes only.
func (s *search) sharpen(d *need, n *node, f *frame, c *core, h clearance.Held, q vec) {
	behind := f.judge.Behind(h.Feature)
	piece := s.task.space.Features[h.Feature].Pieces[h.Piece].Nodes
	if c.leans || d.single || len(piece) < 2 || n.cell.half() > 0 {
		return
	}
	at := f.nodes[h.Feature]
	var best view
	for _, v := range [2]view{c.viewed(n, h.Pins[0].Normal, q), c.straight(n, q)} {
		if v.lowest(at, piece, behind) && v.cos() > best.cos() {
			best = v
		}
	}
	if best.cos() == 0 {
		return
	}
	d.cos = best.cos()
	own := f.spread(h.Feature).Piece(h.Piece)
	m := mixOf(at, piece, behind, best.way, best.end+best.over(), c.around(n, &best))
	squares := m.leastSquares()
	if v := own.Least * squares; v > d.least {
		d.least, d.skew = v, own.Skew
		for a := range 3 {
			d.axis[a] = own.Axis[a] * squares
		}
	}
}

// view is a direction with what sharpen needs of it at the boxes of a node: where the
// parts end along it, as far as they can, and how far q is from them as near as it can be
// (near) and as far (far). With even q is straight off a face at all of them, so that
// what is farther along by so much is from all.
type view struct {
	way, q    vec
	end       float64 // where the piece begins along the way
	ends      float64 // the part, at most
	near, far float64
	even      bool
}

// viewed is the view along a direction.
func (c *core) viewed(n *node, way, q vec) view {
	return view{way: way, q: q, ends: c.end(n, way), far: c.off(c.farthest(n, q))}
}

// straight is the view straight off a face, where q is straight off it at all boxes of
// the node; else it has no way.
func (c *core) straight(n *node, q vec) (v view) {
	o := c.farthest(n, q)
	for a, x := range components(q) {
		others := o
		others[a] = 0
		if others != ([3]float64{}) || o[a] == 0 || c.round[a] {
			continue
		}
		var way [3]float64
		if _, low := c.low.at(n, a); x < low {
			way[a] = -1
		} else {
			way[a] = 1
		}
		v = c.viewed(n, vector(way), q)
		v.even = true
	}
	return v
}

// lowest finds where a piece begins along the way; ok is false where that says nothing.
func (v *view) lowest(at []vec, piece []int, behind vec) (ok bool) {
	if v.way == (vec{}) || v.way.Dot(behind) < 0 {
		return false
	}
	v.end = math.Inf(1)
	for _, k := range piece {
		v.end = min(v.end, v.way.Dot(at[k]))
	}
	v.near = v.far
	if v.even {
		v.near = v.way.Dot(v.q) - v.ends
	}
	return v.end > v.ends
}

// cleared is c at least, over all boxes.
func (v *view) cleared() float64 { return v.end - v.ends }

// over is d - c at most.
func (v *view) over() float64 { return max(0, v.near-v.cleared()) }

// cos is c/d at least: where q is as much farther from all boxes as the piece is, it is
// least at the box that is nearest.
func (v *view) cos() float64 {
	if v.near <= 0 {
		return 0
	}
	return min(1, v.cleared()/v.near)
}

// across is sqrt(d2 - c2) at most.
func (v *view) across() float64 {
	by := v.over()
	return math.Sqrt(by * max(0, 2*v.far-by))
}

// farthest is how far a place can be off a part along the axes in a node.
func (c *core) farthest(n *node, q vec) (o [3]float64) {
	for a, x := range components(q) {
		_, low := c.low.at(n, a)
		high, _ := c.high.at(n, a)
		o[a] = max(0, max(low-x, x-high))
	}
	return o
}

// around is where along the axes the nearest place of a piece can be: see sharpen.
func (c *core) around(n *node, v *view) (r hull) {
	whole := c.takes(n)
	across, over := v.across(), v.over()
	for a, by := range components(v.way) {
		low, high := whole.low[a], whole.high[a]
		if c.round[a] {
			low, high = low-c.radius, high+c.radius
		} else if by > 0 && !v.even {
			low = max(low, high-over/by)
		} else if by < 0 && !v.even {
			high = min(high, low-over/by)
		}
		side := across * math.Sqrt(max(0, 1-by*by))
		r.low[a] = low + min(v.cleared()*by, v.far*by) - side
		r.high[a] = high + max(v.cleared()*by, v.far*by) + side
	}
	return r
}

// mixing is the weights w of a mix of nodes: none below 0, with the sum 1, and each
// limit's sum of by times w no more than at.
type mixing struct {
	nodes  int
	limits []mixLimit
	moved  []float64 // scratch
}

type mixLimit struct {
	by []float64
	at float64
}

// mixOf limits a mix to what is no farther than end along a way, and in a range.
// Something of what lies behind may be in it too: it never helps to keep to a limit
// that is kept here.
func mixOf(at []vec, piece []int, behind, way vec, end float64, in hull) mixing {
	m := mixing{nodes: len(piece), moved: make([]float64, len(piece))}
	add := func(n vec, most float64) {
		if n.Dot(behind) < 0 {
			return
		}
		l := mixLimit{by: make([]float64, len(piece)), at: most}
		binds := false
		for i, k := range piece {
			l.by[i] = n.Dot(at[k]) - most
			binds = binds || l.by[i] > 0
		}
		if l.at = 0; binds {
			m.limits = append(m.limits, l)
		}
	}
	add(way, end+loose)
	for a := range 3 {
		var n [3]float64
		n[a] = 1
		add(vector(n), in.high[a]+loose)
		n[a] = -1
		add(vector(n), loose-in.low[a])
	}
	return m
}

// leastSquares bounds the sum of the squares of the weights from below, by its dual:
// with y for the sum and a z of 0 or more for each limit, it is at least y less a
// quarter of the sum of the squares of what of y - sum(z by) is over 0. Any y and z do;
// they are made better one after the other.
func (m *mixing) leastSquares() float64 {
	z := make([]float64, len(m.limits))
	pull := make([]float64, m.nodes) // sum(z by)
	best := 1 / float64(m.nodes)
	for range 2 { // more gives little
		for k, l := range m.limits {
			m.improve(k, l, z, pull)
		}
		if v := worthOf(pull); v > best {
			best = v
		}
	}
	return min(1, best)
}

// worthOf is the dual with the best y: weights max(0, y - pull)/2 that sum to 1.
func worthOf(pull []float64) float64 {
	y := level(pull)
	sum := y
	for _, p := range pull {
		if w := y - p; w > 0 {
			sum -= w * w / 4
		}
	}
	return sum
}

// level is the y for which what is over the pulls sums to 2: with all of them, then
// without those that are not under it, until there are none.
func level(pull []float64) float64 {
	y := math.Inf(1)
	for {
		sum, count := 2.0, 0
		for _, p := range pull {
			if p < y {
				sum, count = sum+p, count+1
			}
		}
		next := sum / float64(count)
		if next >= y {
			return y
		}
		y = next
	}
}

// improve finds the z of one limit that is best with the others as they are: there the
// weights just keep the limit.
func (m *mixing) improve(k int, l mixLimit, z, pull []float64) {
	moved := m.moved
	over := func(by float64) float64 { // how far beyond the limit the weights are
		for i := range pull {
			moved[i] = pull[i] + by*l.by[i]
		}
		y, sum := level(moved), 0.0
		for i := range moved {
			if w := y - moved[i]; w > 0 {
				sum += w * l.by[i]
			}
		}
		return sum
	}
	lo, hi := -z[k], 1e-3
	if over(lo) <= 0 {
		hi = lo
	} else {
		for over(hi) > 0 && hi < 1e3 {
			lo, hi = hi, 4*hi
		}
		for range 8 {
			if mid := (lo + hi) / 2; over(mid) > 0 {
				lo = mid
			} else {
				hi = mid
			}
		}
	}
	z[k] += hi
	for i := range pull {
		pull[i] += hi * l.by[i]
	}
}
