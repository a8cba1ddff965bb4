package shape

import (
	"math"

	"github.com/golang/geo/r3"
)

// Distance finds the signed distance from a to b with its witness points.
//
// From or to an empty hull it is +Inf, with no witness. Coordinates that are no
// numbers, or beyond 2^200, give NaN.
//
// Between planar shapes (boxes, hulls, and cylinders without Across or Axis) of
// radius 0 the sign is exact: below 0 only where insides meet, 0 only where the
// shapes touch. Flat shapes have no inside: a triangle and a segment that cross in
// one plane touch. Else a sign may be wrong by Within.
//
// Radii are exact everywhere: the way out of two grown cores is the way out of
// the cores and the two radii more, since growing moves every supporting plane
// of the set of differences out by their sum.
func Distance(a, b Convex) (n Nearest) {
	if n.fromPoint(a, b) {
		return n
	}
	if n.fromPoint(b, a) {
		return n.turned()
	}
	ca, cb := open(a), open(b)
	at := draw(&ca, &cb)
	if at.sure() && at.located(&ca, &cb) {
		return at.answer(&ca, &cb)
	}
	da, db := open(a), open(b) // anew, so that the first two need not be allocated
	return closer(&da, &db, at)
}

// sure says that the search has settled the distance.
func (at *approach) sure() bool {
	return at.lower > at.slack && at.upper-at.lower <= at.enough()
}

// located says that the witness points, too, are as good as can be had: the plane
// square to the line between them parts the cores as well as any. On a cylinder's
// rim they may stray by the root of what the distance is off; the way of curved
// finds them better. For two cylinders it does not.
func (at *approach) located(a, b *core) bool {
	return a.planar() == b.planar() || at.upper-at.last <= at.enough()
}

// closer is the distance of two cores for which the search was not sure.
func closer(a, b *core, at approach) Nearest {
	switch {
	case a.empty() || b.empty():
		return Nearest{Signed: math.Inf(1), Normal: r3.Vector{X: 1}}
	case !a.measurable() || !b.measurable():
		return Nearest{Signed: math.NaN(), Normal: r3.Vector{X: 1}, Within: math.NaN()}
	case a.planar() && b.planar():
		return planar(a, b, at)
	}
	return curved(a, b, at)
}

// planar is the distance of two polyhedra that touch, overlap, or are so near
// that the search could not tell.
func planar(a, b *core, at approach) Nearest {
	best := part(a, b, at.upper <= at.slack)
	if best.by <= at.slack {
		n, _ := contact(a, b, best)
		return n
	}
	if best.by > at.lower {
		at.lower, at.normal = best.by, best.normal
	}
	if at.upper-at.lower > at.enough() {
		at.finish(a, b)
	}
	return at.answer(a, b)
}

// turned is the answer with a and b in each other's place.
func (n Nearest) turned() Nearest {
	n.OnA, n.OnB = n.OnB, n.OnA
	n.MixA, n.MixB = n.MixB, n.MixA
	n.Normal = n.Normal.Mul(-1)
	return n
}

// answer is the distance of cores that are apart, by their nearest points.
func (at *approach) answer(a, b *core) Nearest {
	n := Nearest{Normal: at.nearest.Mul(1 / at.upper)}
	if at.upper < veryNear && at.upper-at.last > at.enough() {
		n.Normal = at.normal
	}
	pa, _ := at.points()
	n.MixA, n.MixB = at.mixes(a, b)
	n.Within = max(at.upper-at.lower, 0) + at.slack
	n.place(pa, at.upper, a, b)
	return n
}

// veryNear is where, in mm, rounding begins to spoil the direction from one nearest
// point to the other (slackOf(1000 mm) is 1e-8 of it), and the direction of the
// plane that parts the cores best may be the better one.
const veryNear = 1e-3

// place sets the distance and the witness points from the core's: a's point
// nearest b, and how far b is from there along Normal.
func (n *Nearest) place(onA r3.Vector, by float64, a, b *core) {
	n.Signed = by - a.radius - b.radius
	n.OnA = onA.Add(n.Normal.Mul(a.radius))
	n.OnB = n.OnA.Add(n.Normal.Mul(n.Signed))
}
