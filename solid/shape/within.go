package shape

import (
	"math"

	"github.com/golang/geo/r3"
)

// partWithin bounds the depth of two cores that overlap, by their support points
// alone: the hull of the differences found so far lies within the set of all
// differences, so the way out of it is a lower bound of the depth; the plane
// square to its nearest face that supports the whole set gives an upper one. The
// hull grows there until the two meet (the expanding polytope of van den Bergen
// 2001, on a hull with exact signs).
func partWithin(a, b *core, slack float64) parting {
	g := growing{a: a, b: b, best: parting{by: math.Inf(-1)}}
	for _, n := range spread {
		g.expand(n)
		g.expand(n.Mul(-1))
	}
	if a.kind == cylinder && b.kind == cylinder {
		g.expand(partAxes(a, b))
	}
	lower := 0.0
	if s := enclose(g.points); s.rank == 3 {
		g.faces = s.faces
		lower = g.grow(slack)
	}
	if a.kind == cylinder && b.kind == cylinder {
		if p, off := partParallel(a, b); -p.by-off > lower {
			lower = -p.by - off
			g.expand(p.normal)
		}
		g.polish()
	}
	g.best.lift = max(-g.best.by-lower, 0)
	g.best.within = g.best.lift + slack
	return g.best
}

// partAxes is the best direction to part two cylinders among those that do not
// lead from rim to rim: along an axis, square to both, or square to one and
// nearest a rim of the other, seen along the one.
func partAxes(a, b *core) r3.Vector {
	none := parting{by: math.Inf(-1)}
	there, back := roundTrial{a: a, b: b, best: none}, roundTrial{a: b, b: a, best: none}
	there.both(a.along)
	there.both(b.along)
	there.both(axis{arrow{to: a.round.Axis}, arrow{to: b.round.Axis}}.normal())
	there.ellipses(b.axle())
	back.ellipses(a.axle())
	if back.best.by > there.best.by {
		return back.best.normal.Mul(-1)
	}
	return there.best.normal
}

// axle is a cylinder's axis as an edge.
func (c *core) axle() piece {
	return piece{n: 2, at: [3]r3.Vector{c.round.Foot, c.round.Foot.Add(c.round.Axis)}}
}

// spread are directions all about: coordinate axes and the diagonals of a cube.
var spread = [7]r3.Vector{
	{X: 1}, {Y: 1}, {Z: 1},
	{X: 1, Y: 1, Z: 1}, {X: -1, Y: 1, Z: 1}, {X: 1, Y: -1, Z: 1}, {X: 1, Y: 1, Z: -1},
}

// mostExpansions ends the growth where the nearest place is a whole circle and the
// polytope has to follow it all round: the bound is then about 1e-4 of the radius
// short, and Within says so.
const mostExpansions = 300

// growing is a hull of differences b - a and the best parting seen: minus its by
// is an upper bound of the depth.
type growing struct {
	a, b   *core
	points []r3.Vector
	faces  [][3]int
	best   parting
}

// expand adds the difference that lies farthest against the parting direction n.
func (g *growing) expand(n r3.Vector) (far float64) {
	n = unit(n)
	pa, _ := g.a.support(n)
	pb, _ := g.b.support(n.Mul(-1))
	y := pb.Sub(pa)
	g.points = append(g.points, y)
	if by := y.Dot(n); by > g.best.by {
		g.best = parting{normal: n, by: by}
	}
	return -y.Dot(n)
}

// grow expands the hull at its face nearest the origin, and returns a lower bound
// of the depth.
func (g *growing) grow(slack float64) (lower float64) {
	for step := 0; step < mostExpansions; step++ {
		out, near := g.nearestFace()
		lower = max(lower, near)
		if -g.best.by-lower <= slack {
			break
		}
		far := g.expand(out.Mul(-1))
		if far-near <= slack {
			break
		}
		g.faces = outgrow(g.points, g.faces, len(g.points)-1)
	}
	return lower
}

// nearestFace is the outward normal of the face whose plane is nearest the origin
// and how far it is, below zero where the origin is outside.
func (g *growing) nearestFace() (out r3.Vector, near float64) {
	near = math.Inf(1)
	for _, f := range g.faces {
		p, q, r := g.points[f[0]], g.points[f[1]], g.points[f[2]]
		n := unit(q.Sub(p).Cross(r.Sub(p)))
		if far := n.Dot(p); far < near && n != (r3.Vector{}) {
			out, near = n, far
		}
	}
	return out, near
}

// partParallel is the depth of two cylinders as if their axes were parallel, and
// how far it may be off for their not being so: with b turned about its middle
// until they are, the differences are one cylinder.
func partParallel(a, b *core) (p parting, off float64) {
	half := b.round.Axis.Norm() / 2
	middle := b.round.Foot.Add(b.round.Axis.Mul(0.5))
	sum := Cylinder{
		Foot:   middle.Sub(a.along.Mul(half)).Sub(a.round.Foot).Sub(a.round.Axis),
		Axis:   a.round.Axis.Add(a.along.Mul(2 * half)),
		Across: a.round.Across + b.round.Across,
	}
	by, normal, _, _ := sum.toPoint(r3.Vector{})
	turn := math.Asin(min(1, a.along.Cross(b.along).Norm()))
	// The origin's way out of b - a leads against the parting direction.
	p = parting{normal: normal.Mul(-1), by: by}
	return p, turn*(half+b.round.Across) + slackOf(a.size+b.size)
}

// polish moves the best direction to where the difference of the support points
// runs along it: Newton's steps on the sphere. They matter where both points run
// along rims; elsewhere the best direction is met already and no step is kept.
func (g *growing) polish() {
	for step := 0; step < 20; step++ {
		n := g.best.normal
		pa, _ := g.a.support(n)
		pb, _ := g.b.support(n.Mul(-1))
		y := pb.Sub(pa)
		u := n.Ortho()
		v := n.Cross(u)
		gu, gv := y.Dot(u), y.Dot(v)
		// The second derivative along the sphere: that of the supports, each
		// -Across / |n off the axis| along its rim, less by.
		huu, huv, hvv := -y.Dot(n), 0.0, -y.Dot(n)
		for _, c := range [2]*core{g.a, g.b} {
			rim := c.along.Cross(n)
			off := rim.Norm()
			if off == 0 {
				return
			}
			bend := c.round.Across / (off * off * off)
			ru, rv := rim.Dot(u), rim.Dot(v)
			huu, huv, hvv = huu-bend*ru*ru, huv-bend*ru*rv, hvv-bend*rv*rv
		}
		det := huu*hvv - huv*huv
		su, sv := -(gu*hvv-gv*huv)/det, -(gv*huu-gu*huv)/det
		if !(math.Hypot(su, sv) < 0.5) {
			return
		}
		before := g.best.by
		g.expand(n.Add(u.Mul(su)).Add(v.Mul(sv)))
		if !(g.best.by > before) {
			return
		}
	}
}
