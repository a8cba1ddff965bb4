package shape

import (
	"math"

	"github.com/golang/geo/r3"
)

// approach is what the search for the nearest points of two cores found.
type approach struct {
	simplex
	upper  float64   // distance of the two points found: the cores are no farther apart
	lower  float64   // a plane square to normal parts the cores by this much
	normal r3.Vector // unit, of that plane, from a to b
	last   float64   // by how much a plane square to nearest parts them
	slack  float64   // bounds the rounding in the two, see slackOf
}

// mostSteps is how many steps the search may take. Between polyhedra it ends by
// itself, after about as many steps as it passes corners (5 to 15 were seen); on
// curved shapes it gains a figure in two to four (45 were seen, without leaps).
const mostSteps = 100

// draw finds the nearest points of two cores: the search of Gilbert, Johnson and
// Keerthi (1988) with every subset of the simplex tried, and a stop by its
// own certificate: the two points give an upper bound, the plane through the
// farthest difference a lower one.
func draw(a, b *core) approach {
	var at approach
	at.lower = math.Inf(-1)
	at.slack = slackBetween(a, b)
	if a.empty() || b.empty() {
		return at
	}
	dir := b.middle().Sub(a.middle())
	if dir == (r3.Vector{}) {
		dir = r3.Vector{X: 1}
	}
	v := difference(a, b, dir)
	at.simplex.add(&v)
	for step := 1; step < mostSteps; step++ {
		if step%leapEvery == 0 {
			at.leap(a, b)
		}
		at.upper = at.nearest.Norm()
		if !(at.upper > at.slack) {
			return at
		}
		n := at.nearest.Mul(1 / at.upper)
		if at.recede(a, b, n) {
			continue
		}
		v = difference(a, b, n)
		if at.last = v.at.Dot(n); at.last > at.lower {
			at.lower, at.normal = at.last, n
		}
		if at.upper-at.lower <= at.slack || at.n == 4 || !at.simplex.add(&v) {
			return at
		}
	}
	at.upper, at.last = at.nearest.Norm(), math.Inf(-1)
	return at
}

// difference is the corner of the differences b - a that lies farthest against
// the direction n.
func difference(a, b *core, n r3.Vector) (v vertex) {
	v.a, v.ia = a.support(n)
	v.b, v.ib = b.support(n.Mul(-1))
	v.at = v.b.Sub(v.a)
	v.far2 = v.at.Norm2()
	return v
}

// recede adds a ray along which the differences b - a run on against n; it
// returns false if there is none that brings them nearer.
func (at *approach) recede(a, b *core, n r3.Vector) bool {
	return a.ray.Dot(n) > level && at.simplex.add(rayVertex(a, b, true)) ||
		b.ray.Dot(n) < -level && at.simplex.add(rayVertex(a, b, false))
}

// rayVertex is core a's ray, or b's, as a vertex.
func rayVertex(a, b *core, ofA bool) *vertex {
	if ofA {
		return &vertex{at: a.ray.Mul(-1), a: a.ray, ray: true}
	}
	return &vertex{at: b.ray, b: b.ray, ray: true}
}

// closeEnough is the gap, in mm, between upper and lower bound at which nobody need
// look further: a tenth of the 1e-9 that is aimed at.
const closeEnough = 1e-10

// enough is closeEnough, or rounding where that is more.
func (at *approach) enough() float64 { return max(closeEnough, 4*at.slack) }
