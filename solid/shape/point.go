package shape

import (
	"math"

	"github.com/golang/geo/r3"
)

// fromPoint finds the distance from a box or cylinder to a hull of one point; not
// ok for other shapes, and where rounding leaves the sign in doubt.
func (n *Nearest) fromPoint(a, b Convex) (ok bool) {
	h, ok := b.(Hull)
	if !ok || len(h.Points) != 1 || h.Behind != (r3.Vector{}) || !n.toPoint(a, &h.Points[0]) {
		return false
	}
	n.MixB.N, n.MixB.By[0] = 1, 1
	n.Signed -= h.Radius()
	n.OnB = n.OnA.Add(n.Normal.Mul(n.Signed))
	return true
}

// toPoint finds the distance from a box or cylinder to a point, in closed form; not
// ok for other shapes, and where rounding leaves the sign in doubt.
func (n *Nearest) toPoint(c Convex, p *r3.Vector) (ok bool) {
	switch s := c.(type) {
	case Box:
		n.Signed, n.Normal, n.OnA, ok = s.toPoint(*p)
		edges := summed(s.Edges[0]) + summed(s.Edges[1]) + summed(s.Edges[2])
		n.Within = slackOf(summed(*p) + summed(s.Corner) + edges)
	case Cylinder:
		n.Signed, n.Normal, n.OnA, ok = s.toPoint(*p)
		n.Within = slackOf(summed(*p) + summed(s.Foot) + summed(s.Axis) + s.Across)
	}
	n.OnB = *p
	return ok && math.Abs(n.Signed) > n.Within
}

// skew2 is how far from square (cosine, squared) edges of a box may be, to be
// taken as square: 2^-50, a few roundings, is what turns in floating point leave.
// Each of two skew edges puts the place off by that share of how far the point is
// along it: an eighth of slackOf.
const skew2 = 1.0 / (1 << 50) / (1 << 50)

// toPoint is the signed distance from the box to a point, the outward normal
// there and the place on the box; not ok for a box that is flat or askew.
func (b *Box) toPoint(p r3.Vector) (by float64, normal, on r3.Vector, ok bool) {
	e0, e1, e2 := b.Edges[0], b.Edges[1], b.Edges[2]
	l0, l1, l2 := e0.Norm2(), e1.Norm2(), e2.Norm2()
	c01, c12, c20 := e0.Dot(e1), e1.Dot(e2), e2.Dot(e0)
	if !(c01*c01 <= skew2*l0*l1 && c12*c12 <= skew2*l1*l2 && c20*c20 <= skew2*l2*l0 && l0*l1*l2 > 0) {
		return 0, r3.Vector{}, r3.Vector{}, false
	}
	d := p.Sub(b.Corner)
	t0, t1, t2 := d.Dot(e0)/l0, d.Dot(e1)/l1, d.Dot(e2)/l2
	k0, k1, k2 := unitClamp(t0), unitClamp(t1), unitClamp(t2)
	if k0 != t0 || k1 != t1 || k2 != t2 {
		on = b.Corner.Add(e0.Mul(k0)).Add(e1.Mul(k1)).Add(e2.Mul(k2))
		// Not p - on, whose rounding near the box may lean along its face.
		away := e0.Mul(t0 - k0).Add(e1.Mul(t1 - k1)).Add(e2.Mul(t2 - k2))
		by = away.Norm()
		return by, away.Mul(1 / by), on, true
	}
	by = math.Inf(-1)
	for i, t := range [3]float64{t0, t1, t2} {
		length := math.Sqrt([3]float64{l0, l1, l2}[i])
		out := b.Edges[i].Mul(1 / length)
		if deep := -t * length; deep > by {
			by, normal = deep, out.Mul(-1)
		}
		if deep := (t - 1) * length; deep > by {
			by, normal = deep, out
		}
	}
	return by, normal, p.Sub(normal.Mul(by)), true
}

// unitClamp is t brought into 0..1.
func unitClamp(t float64) float64 {
	if t < 0 {
		return 0
	}
	if t > 1 {
		return 1
	}
	return t
}

// summed is a bound of largest that is quicker to work out.
func summed(v r3.Vector) float64 { return math.Abs(v.X) + math.Abs(v.Y) + math.Abs(v.Z) }

// toPoint is the signed distance from the cylinder to a point, the outward
// normal there and the place on the cylinder; not ok without Across or Axis.
func (c *Cylinder) toPoint(p r3.Vector) (by float64, normal, on r3.Vector, ok bool) {
	height := c.Axis.Norm()
	if !(height > 0 && c.Across > 0) {
		return 0, r3.Vector{}, r3.Vector{}, false
	}
	along := c.Axis.Mul(1 / height)
	out, up, far := offAxis(p.Sub(c.Foot), along)
	// In the half plane of axis and point the cylinder is a rectangle.
	below, above, beyond := -up, up-height, far-c.Across
	end, normal := below, along.Mul(-1)
	if above > below {
		end, normal = above, along
	}
	switch {
	case end > 0 && beyond > 0:
		by = math.Sqrt(end*end + beyond*beyond)
		normal = normal.Mul(end / by).Add(out.Mul(beyond / by))
	case end >= beyond:
		by = end
	default:
		by, normal = beyond, out
	}
	return by, normal, p.Sub(normal.Mul(by)), true
}
