package shape

import (
	"math"

	"github.com/golang/geo/r3"
)

// Gap is a cheap lower bound of Distance(a, b).Signed: from a ball around the one
// shape, and around the other or, where that is a box or cylinder, the shape
// itself. -Inf where both go on without end.
func Gap(a, b Convex) float64 {
	ma, ra := a.Bounds()
	mb, rb := b.Bounds()
	if math.IsInf(ra, -1) || math.IsInf(rb, -1) {
		return math.Inf(1) // one is empty
	}
	return max(gapToBall(a, ma, ra, mb, rb), gapToBall(b, mb, rb, ma, ra))
}

// gapToBall is a lower bound of the distance from a shape in a ball of its own to
// a ball: below zero by no more than the depth, since a depth grows with the
// shapes.
func gapToBall(c Convex, middle r3.Vector, radius float64, to r3.Vector, reach float64) float64 {
	if math.IsInf(reach, 1) {
		return math.Inf(-1)
	}
	if h, ok := c.(*prepared); ok {
		c = h.Hull
	}
	var by float64
	ok := false
	switch s := c.(type) {
	case Box:
		by, _, _, ok = s.toPoint(to)
	case Cylinder:
		by, _, _, ok = s.toPoint(to)
	case Hull:
		if math.IsInf(radius, 1) {
			_, own := ball(s.Points)
			along := unit(s.Behind)
			away := to.Sub(middle)
			away = away.Sub(along.Mul(max(0, away.Dot(along))))
			by, radius, ok = away.Norm()-own-s.Radius(), own, true
		}
	}
	if !ok {
		by = to.Distance(middle) - radius
	}
	return by - reach - slackOf(largest(middle)+radius+largest(to)+reach)
}
