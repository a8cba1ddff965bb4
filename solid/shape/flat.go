package shape

import (
	"math"
	"math/big"

	"github.com/golang/geo/r3"
)

// span picks edges of the two cores that are independent, exactly: as many as
// the set of their differences has dimensions, at most three.
func (d *divide) span() []arrow {
	var span []arrow
	for _, s := range [2]*skeleton{&d.sa, &d.sb} {
		for _, e := range s.edges {
			if independent(span, e) {
				span = append(span, e)
			}
			if len(span) == 3 {
				return span
			}
		}
	}
	return span
}

// independent says that e is no combination of up to two others, exactly.
func independent(span []arrow, e arrow) bool {
	switch len(span) {
	case 0:
		return e.from != e.to
	case 1:
		u, v := span[0].vector(), e.vector()
		if cross := u.Cross(v); largest(cross) > 16*ulp*u.Norm()*v.Norm() && largest(cross) > leastProduct {
			return true
		}
		return !zero(span[0].exact().Cross(e.exact()))
	}
	u, v, w := span[0].vector(), span[1].vector(), e.vector()
	// Six products of three rounded factors: 3 + 2 roundings each, 3 for the sums.
	size := u.Norm() * v.Norm() * w.Norm()
	if det := math.Abs(u.Cross(v).Dot(w)); det > 6*8*ulp*size && size > leastProduct {
		return true
	}
	return span[0].exact().Cross(span[1].exact()).Dot(e.exact()).Sign() != 0
}

// flat parts cores whose differences lie in a plane, a line or a point, so that
// they can only touch (by 0) or be apart: there a direction within the plane
// counts too. Both are decided exactly.
func (d *divide) flat(span []arrow) parting {
	apart := exactly(d.b.corner(), d.a.corner())
	var tries []r3.PreciseVector
	switch len(span) {
	case 0:
		tries = append(tries, apart)
	case 1:
		along := span[0].exact()
		tries = append(tries, along, along.Cross(apart).Cross(along))
	case 2:
		up := span[0].exact().Cross(span[1].exact())
		tries = append(tries, up)
		for _, s := range [2]*skeleton{&d.sa, &d.sb} {
			for _, e := range s.edges {
				tries = append(tries, up.Cross(e.exact()))
			}
		}
	}
	best := parting{by: math.Inf(-1)}
	for _, n := range tries {
		if p := d.measure(n); p.by > best.by {
			best = p
		}
	}
	if !(best.by > 0) {
		best = parting{normal: squareTo(span)}
	}
	best.within = 2 * d.slack
	return best
}

// squareTo is a unit vector square to up to two edges.
func squareTo(span []arrow) r3.Vector {
	switch len(span) {
	case 0:
		return r3.Vector{Z: 1}
	case 1:
		return unit(span[0].vector()).Ortho()
	}
	return direction(axis{span[0], span[1]}.exact())
}

// measure is how far the better of two opposite exact directions parts the
// cores, rounded once. A zero direction parts by -Inf.
func (d *divide) measure(n r3.PreciseVector) parting {
	best := parting{by: math.Inf(-1)}
	if zero(n) {
		return best
	}
	norm2, normal := n.Norm2(), direction(n)
	lowA, highA := exactSpan(d.a, n, normal, d.slack)
	lowB, highB := exactSpan(d.b, n, normal, d.slack)
	if highA != nil && lowB != nil {
		best = parting{normal: normal, by: quotient(new(big.Float).Sub(lowB, highA), norm2)}
	}
	if highB != nil && lowA != nil {
		if by := quotient(new(big.Float).Sub(lowA, highB), norm2); by > best.by {
			best = parting{normal: normal.Mul(-1), by: by}
		}
	}
	return best
}

// exactSpan is where a core begins and ends along an exact direction; nil where
// it has no end that way. Only corners within slack of the end along the rounded
// direction can be the end.
func exactSpan(c *core, n r3.PreciseVector, rounded r3.Vector, slack float64) (low, high *big.Float) {
	if c.kind == box {
		low, high = boxSpan(c.box, n)
	} else {
		low, high = hullSpan(c.points, n, rounded, slack)
	}
	if c.ray != (r3.Vector{}) {
		switch n.Dot(r3.PreciseVectorFromVector(c.behind)).Sign() {
		case 1:
			high = nil
		case -1:
			low = nil
		}
	}
	return low, high
}

func boxSpan(b Box, n r3.PreciseVector) (low, high *big.Float) {
	low = n.Dot(r3.PreciseVectorFromVector(b.Corner))
	high = low
	for _, e := range b.Edges {
		step := n.Dot(r3.PreciseVectorFromVector(e))
		if step.Sign() > 0 {
			high = new(big.Float).Add(high, step)
		} else {
			low = new(big.Float).Add(low, step)
		}
	}
	return low, high
}

func hullSpan(points []r3.Vector, n r3.PreciseVector, rounded r3.Vector, slack float64) (low, high *big.Float) {
	least, most := math.Inf(1), math.Inf(-1)
	for _, p := range points {
		at := p.Dot(rounded)
		least, most = min(least, at), max(most, at)
	}
	for _, p := range points {
		at := p.Dot(rounded)
		if at > least+slack && at < most-slack {
			continue
		}
		exact := n.Dot(r3.PreciseVectorFromVector(p))
		if low == nil || exact.Cmp(low) < 0 {
			low = exact
		}
		if high == nil || exact.Cmp(high) > 0 {
			high = exact
		}
	}
	return low, high
}
