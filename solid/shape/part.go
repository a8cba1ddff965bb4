package shape

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r3"
)

// parting is a direction and how far it parts the cores: below zero, they
// overlap along it by that much. The best parting there is lies within of it.
type parting struct {
	normal r3.Vector
	by     float64
	within float64
	lift   float64 // what to take off the depth so as to claim no more than is proven
}

// divide is the search for the direction that parts two planar cores best.
type divide struct {
	a, b     *core
	sa, sb   skeleton
	slack    float64 // bounds the rounding of by along a given direction
	reach    float64 // bounds the length of every difference of two corners
	best     parting // along directions as rounded, fair tries all, but no narrow ones
	doubtful []trial // axes that may part better than best once unrounded
	slivers  float64 // sum of the widths of the narrow ones among them
}

// trial is an axis that rounding has left in doubt: its true direction parts by
// at most upTo. A narrow one is square to two edges that are parallel but for
// rounding.
type trial struct {
	axis   axis
	upTo   float64
	narrow bool
}

// part finds the direction that parts two planar cores best. Where they overlap,
// by is minus the depth: the set of their differences is a polyhedron, the
// shortest way out of it is square to one of its faces, and those are square to a
// face of either core or to an edge of each. Where they are apart, by is a lower
// bound of the distance. The sign of by is exact. Common says that a point of both is
// known, but for slack.
func part(a, b *core, common bool) parting {
	d := newDivide(a, b)
	if span := d.span(); len(span) < 3 {
		return d.flat(span)
	}
	d.tryAll()
	if d.best.by > d.slack {
		return d.best
	}
	if common && d.surelyIn() {
		if d.settle(false); d.surelyIn() {
			return d.best
		}
	}
	d.settle(true)
	return d.best
}

// surelyIn says that the best axis but narrow ones leaves no doubt that the cores
// overlap, given a point of both but for slack.
//
// A narrow axis' facet in the set of differences has that width. So a facet that is not
// narrow is, from any place of the surface, no farther than all the narrow ones'
// widths. Were the origin, within slack of the set, not inside, then the plane of
// that facet would be within slack and the widths of it, or on its other side.
func (d *divide) surelyIn() bool {
	return d.best.by < -2*d.slack-d.slivers && !math.IsInf(d.best.by, -1)
}

func newDivide(a, b *core) *divide {
	d := &divide{a: a, b: b, sa: bones(a), sb: bones(b), best: parting{by: math.Inf(-1)}}
	d.slack = slackBetween(a, b)
	ma, ra := a.ball()
	mb, rb := b.ball()
	// Twice: a ray's part of a corner reaches just past the other core.
	d.reach = 2 * (ra + rb + ma.Distance(mb))
	d.doubtful = make([]trial, 0, 16)
	return d
}

// tryAll tries every axis, as rounded.
func (d *divide) tryAll() {
	for _, s := range [2]*skeleton{&d.sa, &d.sb} {
		for _, f := range s.faces {
			d.try(f, false)
		}
	}
	for _, ea := range d.sa.edges {
		for _, eb := range d.sb.edges {
			d.try(axis{ea, eb}, true)
		}
	}
}

// try tries one axis both ways, as rounded.
func (d *divide) try(x axis, pair bool) {
	u, v := x.u.vector(), x.v.vector()
	n := u.Cross(v)
	lu, lv, ln := u.Norm(), v.Norm(), n.Norm()
	// A component of n is a sum of 2 products of 2 rounded factors: 4 roundings,
	// each of at most |u||v|, for 2 products.
	off := 8 * ulp * lu * lv
	width := (ln + off) / max(lu, lv)
	narrow := pair && width < d.slack && !x.u.endless && !x.v.endless
	if narrow {
		d.slivers += width
	}
	upTo := d.reach
	if ln > 8*off && !narrow {
		lean := 1.2 * off / ln // of the unit vector; 1.2 > asin(x)/x for x < 1/8
		upTo = d.tryBothWays(unit(x.square(n)), lean) + lean*d.reach
	}
	if upTo >= d.best.by-d.slack {
		d.doubtful = append(d.doubtful, trial{x, upTo, narrow})
	}
}

// tryBothWays tries two opposite directions, and returns by how much at most the
// better of them parts the cores, where the direction meant may lie lean aside.
func (d *divide) tryBothWays(n r3.Vector, lean float64) (upTo float64) {
	upTo = math.Inf(-1)
	for _, n := range [2]r3.Vector{n, n.Mul(-1)} {
		into := max(d.a.ray.Dot(n), -d.b.ray.Dot(n))
		if into > level+lean {
			continue
		}
		by := gapAside(d.a, d.b, n)
		upTo = max(upTo, by)
		if into <= level && by > d.best.by {
			d.best = parting{normal: n, by: by}
		}
	}
	return upTo
}

// gapAlong is how far the direction n parts b from a: -Inf where a ray leads on.
func gapAlong(a, b *core, n r3.Vector) float64 {
	if a.ray.Dot(n) > level || b.ray.Dot(n) < -level {
		return math.Inf(-1)
	}
	return gapAside(a, b, n)
}

// gapAside is gapAlong with the rays left aside.
func gapAside(a, b *core, n r3.Vector) float64 {
	pa, _ := a.support(n)
	pb, _ := b.support(n.Mul(-1))
	return pb.Sub(pa).Dot(n)
}

// settle looks at the doubtful axes exactly: all that could change the sign, if that
// is in doubt, and all that could change the depth by more than slack. If it is not,
// narrow axes are left out, and the depth may be off by their widths.
func (d *divide) settle(signInDoubt bool) {
	within := 2 * d.slack
	d.best.by = min(d.best.by, -d.slack) // nearer to 0 only what is measured counts
	for _, t := range d.inDoubt() {
		if t.upTo <= d.best.by+d.slack && !(signInDoubt && t.upTo >= -d.slack) {
			break
		}
		if t.narrow && !signInDoubt {
			within += d.slack
			continue
		}
		d.keep(d.measure(t.axis.exact()))
	}
	d.best.within = within
}

// inDoubt lists the doubtful axes, the most promising first.
func (d *divide) inDoubt() []trial {
	slices.SortStableFunc(d.doubtful, func(s, t trial) int { return cmp.Compare(t.upTo, s.upTo) })
	return d.doubtful
}

func (d *divide) keep(p parting) {
	if p.by > d.best.by {
		d.best = p
	}
}
