package shape

import (
	"fmt"
	"math"

	"github.com/golang/geo/r3"
)

// An answer carries its own proof: the witness points are on the shapes, so the
// truth is no more than the distance between them; and the planes square to the
// normal that touch the shapes are that far apart, so it is no less.

// faults lists what is wrong with an answer, within so many mm.
func faults(a, b Convex, n Nearest, within float64) (list []string) {
	add := func(ok bool, format string, values ...any) {
		if !ok {
			list = append(list, fmt.Sprintf(format, values...))
		}
	}
	for _, x := range []float64{n.Signed, n.Within, n.Normal.Norm(), n.OnA.Norm(), n.OnB.Norm()} {
		add(!math.IsNaN(x) && !math.IsInf(x, 0), "a number is missing: %+v", n)
	}
	add(math.Abs(n.Normal.Norm()-1) < 1e-14, "normal is %v long", n.Normal.Norm())
	add(math.Abs(n.OnA.Distance(n.OnB)-math.Abs(n.Signed)) <= within, "witnesses are %v apart, signed is %v", n.OnA.Distance(n.OnB), n.Signed)
	add(offSurface(a, n.OnA) <= within, "OnA is %v off", offSurface(a, n.OnA))
	add(offSurface(b, n.OnB) <= within, "OnB is %v off", offSurface(b, n.OnB))
	add(offMix(a, n.MixA, n.OnA, n.Normal) <= within, "MixA is %v off: %+v", offMix(a, n.MixA, n.OnA, n.Normal), n.MixA)
	add(offMix(b, n.MixB, n.OnB, n.Normal.Mul(-1)) <= within, "MixB is %v off: %+v", offMix(b, n.MixB, n.OnB, n.Normal.Mul(-1)), n.MixB)
	apart := planesApart(a, b, n.Normal)
	add(apart >= n.Signed-within, "planes are %v apart, signed is %v", apart, n.Signed)
	add(n.Signed > 0 || math.Abs(apart-n.Signed) <= within+n.Within, "moving b out by %v does not part them: %v", n.Signed, apart)
	return list
}

// planesApart is how far apart the supporting planes square to a normal are.
func planesApart(a, b Convex, normal r3.Vector) float64 {
	y := b.Support(normal.Mul(-1)).Sub(a.Support(normal))
	return y.Dot(normal) - a.Radius() - b.Radius()
}

// offSurface is how far outside a shape a point is, or how deep inside.
func offSurface(c Convex, p r3.Vector) float64 {
	return math.Abs(Distance(c, Hull{Points: []r3.Vector{p}}).Signed)
}

// offMix is how far a mix of a hull's points is from its witness, the radius taken
// off, and anything along Behind.
func offMix(c Convex, m Mix, witness, outward r3.Vector) float64 {
	h, ok := c.(Hull)
	if !ok {
		return float64(m.N) // other shapes have none
	}
	var at r3.Vector
	sum := 0.0
	for i := 0; i < m.N; i++ {
		if m.By[i] < 0 {
			return math.Inf(1)
		}
		at = at.Add(h.Points[m.Index[i]].Mul(m.By[i]))
		sum += m.By[i]
	}
	off := witness.Sub(outward.Mul(h.Radius())).Sub(at)
	if ray := unit(h.Behind); off.Dot(ray) > 0 {
		off = off.Sub(ray.Mul(off.Dot(ray)))
	}
	return math.Max(off.Norm(), math.Abs(sum-1)*h.Points[0].Norm())
}
