package mesh

import "github.com/golang/geo/r2"

// edge is one of the four directed edges of a quad-edge: e and sym(e) run
// between two points, rot(e) and its sym between the faces beside them. The
// names of the moves are those of Guibas & Stolfi 1985.
type edge int

func rot(e edge) edge    { return e&^3 | (e+1)&3 }
func sym(e edge) edge    { return e ^ 2 }
func invRot(e edge) edge { return e&^3 | (e+3)&3 }

// graph is a planar graph of points that are sorted by x, then y.
type graph struct {
	at   []r2.Point
	next []edge // counter-clockwise about the origin of each edge
	from []int  // the origin of each edge, -1 where it is gone
}

func (g *graph) org(e edge) int    { return g.from[e] }
func (g *graph) dest(e edge) int   { return g.from[sym(e)] }
func (g *graph) onext(e edge) edge { return g.next[e] }
func (g *graph) oprev(e edge) edge { return rot(g.next[rot(e)]) }
func (g *graph) lnext(e edge) edge { return rot(g.next[invRot(e)]) }
func (g *graph) rprev(e edge) edge { return g.next[sym(e)] }

func (g *graph) makeEdge(org, dest int) edge {
	e := edge(len(g.next))
	g.next = append(g.next, e, e+3, e+2, e+1)
	g.from = append(g.from, org, -1, dest, -1)
	return e
}

func (g *graph) splice(a, b edge) {
	alpha, beta := rot(g.next[a]), rot(g.next[b])
	g.next[a], g.next[b] = g.next[b], g.next[a]
	g.next[alpha], g.next[beta] = g.next[beta], g.next[alpha]
}

// connect adds an edge from the end of a to the origin of b, with the same face
// on the left of all three.
func (g *graph) connect(a, b edge) edge {
	e := g.makeEdge(g.dest(a), g.org(b))
	g.splice(e, g.lnext(a))
	g.splice(sym(e), b)
	return e
}

func (g *graph) remove(e edge) {
	g.splice(e, g.oprev(e))
	g.splice(sym(e), g.oprev(sym(e)))
	g.from[e], g.from[sym(e)] = -1, -1
}

// side is 1 where point i is left of e, -1 right, 0 on its line.
func (g *graph) side(i int, e edge) int {
	return orient(g.at[g.org(e)], g.at[g.dest(e)], g.at[i])
}

func (g *graph) inside(a, b, c, d int) bool {
	return inCircle(g.at[a], g.at[b], g.at[c], g.at[d]) > 0
}

// build triangulates points lo to hi, of which there are two or more, and
// returns the edges of their hull: counter-clockwise out of the leftmost point,
// clockwise out of the rightmost.
func (g *graph) build(lo, hi int) (left, right edge) {
	switch hi - lo {
	case 2:
		e := g.makeEdge(lo, lo+1)
		return e, sym(e)
	case 3:
		return g.three(lo)
	}
	mid := (lo + hi) / 2
	leftOut, leftIn := g.build(lo, mid)
	rightIn, rightOut := g.build(mid, hi)
	leftIn, rightIn = g.tangent(leftIn, rightIn)
	base := g.connect(sym(rightIn), leftIn)
	if g.org(leftIn) == g.org(leftOut) {
		leftOut = sym(base)
	}
	if g.org(rightIn) == g.org(rightOut) {
		rightOut = base
	}
	g.zip(base)
	return leftOut, rightOut
}

func (g *graph) three(lo int) (left, right edge) {
	a, b := g.makeEdge(lo, lo+1), g.makeEdge(lo+1, lo+2)
	g.splice(sym(a), b)
	switch orient(g.at[lo], g.at[lo+1], g.at[lo+2]) {
	case 1:
		g.connect(b, a)
	case -1:
		c := g.connect(b, a)
		return sym(c), c
	}
	return a, sym(b)
}

// tangent walks down both hulls until the line between the origins of the two
// edges has neither hull under it.
func (g *graph) tangent(l, r edge) (edge, edge) {
	for {
		switch {
		case g.side(g.org(r), l) > 0:
			l = g.lnext(l)
		case g.side(g.org(l), r) < 0:
			r = g.rprev(r)
		default:
			return l, r
		}
	}
}

// zip joins the halves from base, which runs from right to left under them, up
// to their upper tangent.
func (g *graph) zip(base edge) {
	for {
		above := func(e edge) bool { return g.side(g.dest(e), base) < 0 }
		l := g.candidate(base, g.onext(sym(base)), g.onext)
		r := g.candidate(base, g.oprev(base), g.oprev)
		switch {
		case !above(l) && !above(r):
			return
		case !above(l), above(r) && g.inside(g.dest(l), g.org(l), g.org(r), g.dest(r)):
			base = g.connect(r, sym(base))
		default:
			base = g.connect(sym(base), sym(l))
		}
	}
}

// candidate is the first edge from e on, in the order that turn gives, whose end
// makes an empty circle with base among the points of its own half. The edges
// passed over are removed.
func (g *graph) candidate(base, e edge, turn func(edge) edge) edge {
	if g.side(g.dest(e), base) >= 0 {
		return e
	}
	for g.inside(g.dest(base), g.org(base), g.dest(e), g.dest(turn(e))) {
		next := turn(e)
		g.remove(e)
		e = next
	}
	return e
}

// triangles lists the faces with three sides, each once, counter-clockwise from
// its first point. The face outside a lone triangle goes the other way round.
func (g *graph) triangles() [][3]int {
	var out [][3]int
	for e := edge(0); int(e) < len(g.from); e++ {
		if e&1 == 1 || g.from[e] < 0 {
			continue
		}
		second := g.lnext(e)
		third := g.lnext(second)
		a, b, c := g.org(e), g.org(second), g.org(third)
		if a < b && a < c && g.lnext(third) == e && orient(g.at[a], g.at[b], g.at[c]) > 0 {
			out = append(out, [3]int{a, b, c})
		}
	}
	return out
}
