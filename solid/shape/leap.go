package shape

import "github.com/golang/geo/r3"

// leapEvery is how many steps the search takes between two leaps. It needs a few to
// find the corner, edge or face that matters; and a leap costs about as much as
// four steps.
const leapEvery = 4

// leap brings a search between a cylinder and a planar core to its end: on the
// corner, edge or face that it has come to, it works out the direction in which
// that is nearest to the cylinder, where the search alone would close in on the
// round side step by step. What it finds is kept only if it is better, so a leap
// from the wrong place does no harm.
func (at *approach) leap(a, b *core) {
	round, flat, toFlat := a, b, 1.0
	if a.kind != cylinder {
		round, flat, toFlat = b, a, -1
	}
	if round.kind != cylinder || !flat.planar() {
		return
	}
	c := at.corners(toFlat < 0)
	n, on, ok := round.facing(flat, &c)
	if !ok {
		return
	}
	s := c.against(on, toFlat < 0)
	if c.ray && s.n < 4 {
		s.add(rayVertex(a, b, toFlat < 0))
	}
	if s.nearest.Norm2() < at.nearest.Norm2() {
		at.simplex = s
	}
	n = n.Mul(toFlat)
	if by := gapAlong(a, b, n); by > at.lower {
		at.lower, at.normal = by, n
	}
}

// against is the simplex of a piece's points, of core a or b, with two points of the
// other core.
func (p *piece) against(on [2]r3.Vector, ofA bool) (s simplex) {
	for i := 0; i < p.n; i++ {
		for _, q := range on {
			v := vertex{a: q, b: p.at[i], ia: -1, ib: p.index[i]}
			if ofA {
				v.a, v.b, v.ia, v.ib = v.b, v.a, v.ib, v.ia
			}
			v.at = v.b.Sub(v.a)
			v.far2 = v.at.Norm2()
			if s.n < 4 {
				s.add(&v)
			}
		}
	}
	return s
}

// corners are the different points of core a (or b) in the simplex.
func (at *approach) corners(ofA bool) (c piece) {
	for i := 0; i < at.n; i++ {
		v := &at.vertex[i]
		if v.ray {
			c.ray = true
			continue
		}
		p, name := v.b, v.ib
		if ofA {
			p, name = v.a, v.ia
		}
		known := false
		for k := 0; k < c.n; k++ {
			known = known || c.at[k] == p
		}
		if !known && c.n < 3 {
			c.at[c.n], c.index[c.n] = p, name
			c.n++
		}
	}
	return c
}

// facing is the direction in which a cylinder is nearest to a corner, an edge or a
// triangle of a planar core, and two of its points that are nearest (often the
// same).
func (c *core) facing(flat *core, p *piece) (n r3.Vector, on [2]r3.Vector, ok bool) {
	edges := p.n - 1
	if p.ray {
		edges++
	}
	if edges == 0 {
		by, n, on, ok := c.round.toPoint(p.at[0])
		return n, [2]r3.Vector{on, on}, ok && by > 0
	}
	e := flat.ray
	if p.n > 1 {
		e = p.at[1].Sub(p.at[0])
	}
	switch edges {
	case 1:
		n, ok = c.facingEdge(p.at[0], e)
	case 2:
		f := flat.ray
		if p.n > 2 {
			f = p.at[2].Sub(p.at[0])
		}
		n, ok = toward(e.Cross(f), p.at[0].Sub(c.round.Foot.Add(c.round.Axis.Mul(0.5))))
	}
	return n, c.round.facingPoints(n, c.along), ok
}

// toward is the unit direction of n or -n that leads with v.
func toward(n, v r3.Vector) (r3.Vector, bool) {
	n = unit(n)
	if n.Dot(v) < 0 {
		n = n.Mul(-1)
	}
	return n, n != r3.Vector{}
}

// facingEdge is facing for the line through p along e: square to the axis, or
// nearest to the rim on p's side, whichever parts them better.
func (c *core) facingEdge(p, e r3.Vector) (n r3.Vector, ok bool) {
	e = unit(e)
	m, ok := toward(e.Cross(c.along), p.Sub(c.round.Foot))
	if !ok {
		return n, false
	}
	v := view{m: m, k: m.Cross(e), wide: c.round.Across}
	slant := e.Dot(c.along)
	v.high = v.wide * max(slant, -slant)
	best := p.Sub(c.round.rim(m, c.along)).Dot(m)
	for _, end := range [2]r3.Vector{c.round.Foot, c.round.Foot.Add(c.round.Axis)} {
		rim, ok := v.normal(p.Sub(end), 1)
		if !ok {
			continue
		}
		if by := p.Sub(c.round.rim(rim, c.along)).Dot(rim); by > best {
			best, m = by, rim
		}
	}
	return m, true
}

// facingPoints are the cylinder's farthest points along n: the ends of a side line
// where n is square to the axis, else twice the same.
func (c *Cylinder) facingPoints(n, along r3.Vector) [2]r3.Vector {
	p := c.rim(n, along)
	slope := n.Dot(along)
	if slope > level || slope < -level {
		return [2]r3.Vector{p, p}
	}
	if slope > 0 {
		return [2]r3.Vector{p, p.Sub(c.Axis)}
	}
	return [2]r3.Vector{p, p.Add(c.Axis)}
}
