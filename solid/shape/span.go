package shape

import (
	"math"

	"github.com/golang/geo/r3"
)

// Span is an upright box that holds a shape, by its two extreme corners, mm. Where
// the shape goes on without end, so does the span.
type Span struct{ Low, High [3]float64 }

// SpanOf is the least span that holds a shape.
func SpanOf(c Convex) Span {
	var s Span
	for axis := range 3 {
		var a [3]float64
		a[axis] = 1
		dir := r3.Vector{X: a[0], Y: a[1], Z: a[2]}
		s.Low[axis] = along(c.Support(dir.Mul(-1)), axis) - c.Radius()
		s.High[axis] = along(c.Support(dir), axis) + c.Radius()
	}
	if p, ok := c.(*prepared); ok {
		c = p.Hull
	}
	h, ok := c.(Hull)
	if !ok {
		return s
	}
	for axis := range 3 {
		switch by := along(h.Behind, axis); {
		case by < 0:
			s.Low[axis] = math.Inf(-1)
		case by > 0:
			s.High[axis] = math.Inf(1)
		}
	}
	return s
}

// Off is the distance between two spans, 0 where they meet: no more than that
// between what they hold, but for rounding.
func (s Span) Off(o Span) float64 {
	squares := 0.0
	for axis := range 3 {
		if d := max(s.Low[axis]-o.High[axis], o.Low[axis]-s.High[axis]); d > 0 {
			squares += d * d
		}
	}
	return math.Sqrt(squares)
}

// Join is the least span that holds both.
func (s Span) Join(o Span) Span {
	for axis := range 3 {
		s.Low[axis] = min(s.Low[axis], o.Low[axis])
		s.High[axis] = max(s.High[axis], o.High[axis])
	}
	return s
}

func along(v r3.Vector, axis int) float64 { return [3]float64{v.X, v.Y, v.Z}[axis] }
