package way

import (
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/solid/shape"
)

// hit is where a leg is not proved clear: the share of it, and the pair.
type hit struct {
	at          float64
	part, thing int
	near        shape.Nearest
}

// clear says that every part keeps its need from every thing along all of a leg; else
// a place where one does not, or cannot be proved to.
func (c *course) clear(l leg) (hit, bool) {
	if len(c.Things) == 0 {
		return hit{}, true
	}
	spans := c.sweep(l)
	if h, ok := c.pair(l, spans, c.last[0], c.last[1]); !ok {
		return h, false
	}
	for i := range c.Parts {
		for k := range c.Things {
			if h, ok := c.pair(l, spans, i, k); !ok {
				c.last = [2]int{i, k}
				return h, false
			}
		}
	}
	return hit{}, true
}

// sweep holds each part all along a leg.
func (c *course) sweep(l leg) []shape.Span {
	spans := make([]shape.Span, len(c.Parts))
	from, to := l.at(0, c.Pivot), l.at(1, c.Pivot)
	for i, p := range c.Parts {
		spans[i] = shape.SpanOf(from.shape(p.Solid)).Join(shape.SpanOf(to.shape(p.Solid)))
		if l.straight() {
			continue
		}
		spans[i] = widened(spans[i], l.turn, c.reach[i])
	}
	return spans
}

// widened makes a span that holds a part at both ends of a turn hold it all along. A
// point's way is off the straight line between its ends by no more than an eighth of its
// greatest acceleration, the angle's square times its reach, none of it along the axis.
func widened(s shape.Span, turn r3.Vector, reach float64) shape.Span {
	for axis, along := range [3]float64{turn.X, turn.Y, turn.Z} {
		bulge := reach / 8 * turn.Norm() * math.Sqrt(math.Max(0, turn.Norm2()-along*along))
		s.Low[axis] -= bulge
		s.High[axis] += bulge
	}
	return s
}

// pair proves one part clear of one thing along a leg.
func (c *course) pair(l leg, spans []shape.Span, part, thing int) (hit, bool) {
	need := c.needs[part][thing]
	// A thousandth of a millimetre for rounding.
	if spans[part].Off(c.spans[thing]) > math.Max(need, 0)+1e-3 {
		return hit{}, true
	}
	w := walk{c, l, part, thing}
	if l.straight() {
		return w.straight(need)
	}
	return w.turning(need, 0, 1)
}

// walk is one part against one thing along a leg.
type walk struct {
	*course
	leg         leg
	part, thing int
}

func (w walk) distance(t float64) shape.Nearest {
	w.spent++
	return shape.Distance(w.leg.at(t, w.Pivot).shape(w.Parts[w.part].Solid), w.Things[w.thing].Solid)
}

func (w walk) hit(t float64, n shape.Nearest) hit { return hit{t, w.part, w.thing, n} }

// tangent is a distance along a straight leg and its slope there.
type tangent struct {
	at, value, slope float64
	near             shape.Nearest
}

func (w walk) tangent(t float64) tangent {
	n := w.distance(t)
	return tangent{t, n.Signed, -n.Normal.Dot(w.leg.shift), n}
}

// straight proves the need along a straight leg: the distance is convex there, so no
// less than any of its tangents.
func (w walk) straight(need float64) (hit, bool) {
	a := w.tangent(0)
	if a.value < need {
		return w.hit(0, a.near), false
	}
	if a.slope >= 0 {
		return hit{}, true
	}
	b := w.tangent(1)
	if b.value < need {
		return w.hit(1, b.near), false
	}
	for b.slope > 0 {
		t, least := meet(a, b)
		if least >= need {
			return hit{}, true
		}
		// Twenty halvings of a metre are a thousandth of a millimetre: what is left
		// between is not proved.
		mid := w.tangent(t)
		if mid.value < need || (b.at-a.at)*w.leg.shift.Norm() < 1e-3 {
			return w.hit(t, mid.near), false
		}
		if mid.slope < 0 {
			a = mid
		} else {
			b = mid
		}
	}
	return hit{}, true
}

// meet is where two tangents cross, a before b, a falling and b rising, kept off the
// ends so that the range shrinks.
func meet(a, b tangent) (t, least float64) {
	width := b.at - a.at
	t = a.at + (b.value-a.value-b.slope*width)/(a.slope-b.slope)
	least = a.value + a.slope*(t-a.at)
	return math.Min(math.Max(t, a.at+width/16), b.at-width/16), least
}

// finest is where turning gives up, mm: a leg that passes a thing by less than that
// more than it needs is not proved.
const finest = 0.25

// turning proves the need along a stretch of a leg with a turn in it.
func (w walk) turning(need, from, to float64) (hit, bool) {
	t, half := (from+to)/2, (to-from)/2*w.speed()
	here := w.leg.at(t, w.Pivot).shape(w.Parts[w.part].Solid)
	if shape.SpanOf(here).Off(w.spans[w.thing]) >= math.Max(need, 0)+half+1e-3 {
		return hit{}, true
	}
	w.spent++
	n := shape.Distance(here, w.Things[w.thing].Solid)
	switch {
	case n.Signed < need:
		return w.hit(t, n), false
	case n.Signed-half >= need:
		return hit{}, true
	case half < finest:
		return w.hit(t, n), false
	}
	if h, ok := w.turning(need, from, t); !ok {
		return h, false
	}
	return w.turning(need, t, to)
}

// speed is no less than any of the part's points goes along all of the leg.
func (w walk) speed() float64 {
	return w.leg.shift.Norm() + w.leg.turn.Norm()*w.reach[w.part]
}

// fine is to what a least distance is worked out, mm.
const fine = 0.01

// least finds it, if it is under limit: by the same two ways.
func (w walk) least(limit float64) (t float64, best shape.Nearest, lower float64) {
	if w.leg.straight() {
		return w.leastStraight()
	}
	best = w.distance(0)
	if end := w.distance(1); end.Signed < best.Signed {
		t, best = 1, end
	}
	lower = best.Signed
	type stretch struct{ from, to float64 }
	open := []stretch{{0, 1}}
	for len(open) > 0 {
		s := open[len(open)-1]
		open = open[:len(open)-1]
		mid, half := (s.from+s.to)/2, (s.to-s.from)/2*w.speed()
		n := w.distance(mid)
		if n.Signed < best.Signed {
			t, best = mid, n
		}
		if low := n.Signed - half; low < math.Min(best.Signed-fine, limit) {
			open = append(open, stretch{s.from, mid}, stretch{mid, s.to})
		} else {
			lower = math.Min(lower, low)
		}
	}
	return t, best, math.Max(lower, best.Signed-fine)
}

func (w walk) leastStraight() (t float64, best shape.Nearest, lower float64) {
	a, b := w.tangent(0), w.tangent(1)
	best = a.near
	if b.value < a.value {
		t, best = 1, b.near
	}
	for a.slope < 0 && b.slope > 0 {
		at, least := meet(a, b)
		if best.Signed-least <= fine || (b.at-a.at)*w.leg.shift.Norm() < 1e-6 {
			return t, best, math.Min(least, best.Signed)
		}
		mid := w.tangent(at)
		if mid.value < best.Signed {
			t, best = at, mid.near
		}
		if mid.slope < 0 {
			a = mid
		} else {
			b = mid
		}
	}
	return t, best, best.Signed
}
