package shape

import "math"

// Gap is a cheap lower bound of the distance between two shapes, by the balls
// that hold them: minus infinity where one goes on without end.
func Gap(a, b Convex) float64 {
	at, r := a.Bounds()
	to, q := b.Bounds()
	if math.IsInf(r, 1) || math.IsInf(q, 1) {
		return math.Inf(-1)
	}
	return to.Sub(at).Norm() - r - q
}
