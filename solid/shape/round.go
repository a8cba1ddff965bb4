package shape

import (
	"math"

	"github.com/golang/geo/r3"
)

// curved is the distance where a cylinder, or a shape made elsewhere, is in play
// and the search for nearest points left something open: the cores overlap, or
// nearly touch.
func curved(a, b *core, at approach) Nearest {
	var best parting
	switch {
	case a.kind == cylinder && b.planar():
		best = partRound(a, b)
	case a.planar() && b.kind == cylinder:
		best = partRound(b, a).turned()
	default:
		best = partWithin(a, b, at.slack)
	}
	if at.lower > best.by+at.slack {
		best = parting{normal: at.normal, by: at.lower, within: at.slack}
	}
	n, missed := contact(a, b, best)
	if at.upper > at.slack { // apart, as far as the search could tell
		n.Within = at.slack + min(missed, at.upper-best.by)
		if best.by > 0 && missed > 4*at.slack && at.upper-best.by < missed {
			at.lower, at.normal = best.by, best.normal
			return at.answer(a, b)
		}
	}
	return n
}

func (p parting) turned() parting {
	p.normal = p.normal.Mul(-1)
	return p
}

// partRound finds the direction that parts a cylinder a and a planar core b
// best, by all there can be. Where they overlap that is the depth.
//
// The set of differences b - a is P + D: a polyhedron P (b less the axis) and a
// disc D square to the axis. Seen from a point inside, the nearest place of its
// surface has one supporting plane only, with normal n. D's share there is all of
// D where n runs along the axis, else one point of its rim; P's share is a face,
// an edge or a corner. A corner of P and a point of the rim have many planes
// in common, so that leaves: n along the axis; n square to a face of P (one of b's,
// or one that holds an edge of b and the axis); n square to an edge of P (one of
// b's, or the axis), where P and D, seen along the edge, are a polygon and an
// ellipse, and n leads to the nearest place of the ellipse around a corner.
// Any other direction is a fair try that does no harm.
func partRound(a, b *core) parting {
	r := roundTrial{a: a, b: b, best: parting{by: math.Inf(-1)}}
	axle := arrow{to: a.round.Axis}
	bone := bones(b)
	r.both(a.along)
	for _, f := range bone.faces {
		r.both(f.normal())
	}
	for _, e := range bone.edges {
		r.both(axis{e, axle}.normal())
	}
	for _, p := range pieces(b) {
		switch {
		case p.n == 1:
			r.corner(p.at[0])
		case p.n == 2:
			r.ellipses(p)
		}
	}
	r.best.within = 2 * slackBetween(a, b)
	return r.best
}

// roundTrial keeps the best of the directions tried.
type roundTrial struct {
	a, b *core
	best parting
}

func (r *roundTrial) one(n r3.Vector) {
	if n == (r3.Vector{}) {
		return
	}
	if by := gapAlong(r.a, r.b, n); by > r.best.by {
		r.best = parting{normal: n, by: by}
	}
}

func (r *roundTrial) both(n r3.Vector) {
	r.one(n)
	r.one(n.Mul(-1))
}

// corner tries the directions square to the axis, and away from the cylinder,
// that lead to a corner of the planar core.
func (r *roundTrial) corner(p r3.Vector) {
	a := r.a.round
	out, _, _ := offAxis(p.Sub(a.Foot), r.a.along)
	r.both(out)
	if by, away, _, ok := a.toPoint(p); ok && by > 0 {
		r.one(away)
	}
}

// ellipses tries the directions square to an edge of the planar core in which
// the nearest place is on a rim of the cylinder.
func (r *roundTrial) ellipses(edge piece) {
	e := arrow{from: edge.at[0], to: edge.at[1]}
	if edge.ray {
		e = arrow{to: r.b.behind, endless: true}
	}
	v := view{wide: r.a.round.Across, m: axis{e, arrow{to: r.a.round.Axis}}.normal()}
	if v.m == (r3.Vector{}) {
		return // along the axis: the rims are circles, and corners are tried anyway
	}
	along := unit(e.vector())
	v.k, v.high = v.m.Cross(along), v.wide*math.Abs(along.Dot(r.a.along))
	for _, end := range [2]r3.Vector{r.a.round.Foot, r.a.round.Foot.Add(r.a.round.Axis)} {
		for _, side := range [2]float64{1, -1} {
			if n, ok := v.normal(edge.at[0].Sub(end), side); ok {
				r.one(n)
			}
		}
	}
}

// view is a disc seen along an edge: an ellipse in the plane of m and k, wide along
// m and high along k, high <= wide.
type view struct {
	m, k       r3.Vector
	wide, high float64
}

// normal is the direction in which a point, from the ellipse's middle, is nearest to the
// ellipse, from inside or outside: that of (x/(t+wide^2), y/(t+high^2)) with t a
// root of (wide x/(t+wide^2))^2 + (high y/(t+high^2))^2 = 1. Side 1 is for the
// greatest root, the nearest place; side -1 for the next, the nearest place beyond
// the long axis, for a point inside that has one. The greatest root's
// bracket is Eberly's (Distance from a Point to an Ellipse, 2013).
func (v *view) normal(point r3.Vector, side float64) (r3.Vector, bool) {
	x, y := point.Dot(v.m), point.Dot(v.k)
	if v.high < v.wide/(1<<60) {
		return r3.Vector{}, false // seen from its edge the disc is a line: it has corners only
	}
	// On the long axis both sides are alike and the root is at the pole; a point
	// aside by 2^-60 of high stands for it (the distance moves by no more).
	if aside := v.high / (1 << 60); math.Abs(y) < aside {
		y = aside
	}
	d := (v.wide - v.high) * (v.wide + v.high)
	// Newton's steps for s = t + high^2 from where one of the terms alone makes 1,
	// between the pole and the root: the function is convex there, so they go one
	// way.
	s := side * v.high * math.Abs(y)
	if side > 0 {
		s = max(s, math.Hypot(v.wide*x, v.high*y)-d)
	}
	for step := 0; step < 100; step++ {
		p, q := v.wide*x/(s+d), v.high*y/s
		slope := -2 * (p*p/(s+d) + q*q/s)
		next := s - (p*p+q*q-1)/slope
		if !(side*(next-s) > 0) || next*side <= 0 {
			break
		}
		s = next
	}
	return unit(v.m.Mul(x / (s + d)).Add(v.k.Mul(y / s))), s+d > 0
}
