package clearance

import (
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/solid/shape"
)

// keep keeps the direction in which a thing was nearest.
func (b *blocker) keep(way int, n shape.Nearest) {
	if way < len(b.last) && math.Abs(n.Signed) < math.MaxFloat64 {
		b.last[way] = n.Normal
	}
}

// apart is a lower bound of the clearance from a thing: what a plane square to the last
// direction parts the two by, in whatever way they stand now. Between clock angles that
// are near each other it misses the clearance by little. A thousandth of the shop's limit
// of reaching is taken off for rounding.
func (b *blocker) apart(p *placed) float64 {
	n := b.last[p.way]
	if n == (r3.Vector{}) {
		return math.Inf(-1)
	}
	if b.own != nil {
		return -outmost(b.own.Solid, n.Mul(-1)) - p.outmost(n) - reach/1000
	}
	n = b.feature.aside(n)
	least := math.Inf(1)
	for i := range b.feature.pieces {
		least = math.Min(least, b.feature.pieces[i].nearEnd(n))
	}
	return least - p.outmost(n) - reach/1000
}

// outmost is how far a bounded shape reaches along a unit direction.
func outmost(c shape.Convex, n r3.Vector) float64 { return c.Support(n).Dot(n) + c.Radius() }

// outmost is how far the volume reaches along a unit direction.
func (p *partThing) outmost(n r3.Vector) float64 {
	most := outmost(p.Solid, n)
	for _, q := range p.More {
		most = math.Max(most, outmost(q, n))
	}
	return most
}

// aside is a direction, turned out of where the feature goes on without end: there no
// plane parts it from anything.
func (o *obstacle) aside(n r3.Vector) r3.Vector {
	back := r3.Vector{}
	if len(o.pieces) > 0 {
		back = o.pieces[0].hull.Behind // that of all
	}
	if by := back.Dot(n); by < 0 {
		n = n.Sub(back.Mul(by / back.Norm2())).Normalize()
	}
	return n
}

// nearEnd is how far along a unit direction, which does not lead out of what goes on
// without end, the piece begins.
func (p *piece) nearEnd(n r3.Vector) float64 {
	least := math.Inf(1)
	for _, at := range p.hull.Points {
		least = math.Min(least, at.Dot(n))
	}
	return least - p.hull.Grow
}

// tighten raises the bounds of pieces by what a plane square to the direction of the
// nearest one so far parts them from the part by.
func (p *partThing) tighten(o *obstacle, bounds []bound, best shape.Nearest) {
	if !(best.Signed > 0) || math.IsInf(best.Signed, 1) {
		return
	}
	n := o.aside(best.Normal)
	out := p.outmost(n) + reach/1000
	for i, b := range bounds {
		if b.least <= best.Signed {
			bounds[i].least = math.Max(b.least, o.pieces[b.piece].nearEnd(n)-out)
		}
	}
}
