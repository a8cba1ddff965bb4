package way

import (
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/solid/shape"
)

// Deepest is where a part comes lowest along z on the way, held against the plane at a
// level: the distance to that, below 0 under it. It is found to a hundredth of a
// millimetre, as by Least, but in no time where the part slides along the plane.
func (p Passage) Deepest(part int, level float64) Pass {
	var best Pass
	best.Near.Signed, best.Lower = math.Inf(1), math.Inf(1)
	for _, l := range p.legs {
		w := walk{course: p.course, leg: l, part: part}
		type stretch struct{ from, to float64 }
		open := []stretch{{0, 1}}
		for len(open) > 0 {
			s := open[len(open)-1]
			open = open[:len(open)-1]
			bound := w.low(s.from, level, &best)
			bound = math.Min(bound, w.low(s.to, level, &best))
			bound = widened(shape.Span{Low: [3]float64{2: bound}}, l.turn.Mul(s.to-s.from), p.course.reach[part]).Low[2]
			if bound < best.Near.Signed-fine {
				mid := (s.from + s.to) / 2
				open = append(open, stretch{s.from, mid}, stretch{mid, s.to})
			} else {
				best.Lower = math.Min(best.Lower, bound)
			}
		}
	}
	best.Lower = math.Max(best.Lower, best.Near.Signed-fine)
	return best
}

// Lows are how the part stands against the plane at stops along the way, between which no
// point of it goes farther than longest, mm.
func (p Passage) Lows(part int, level, longest float64) []Pass {
	var out []Pass
	for _, l := range p.legs {
		w := walk{course: p.course, leg: l, part: part}
		n := 1 + int(w.speed()/longest)
		for k := range n + 1 {
			stop := Pass{Near: shape.Nearest{Signed: math.Inf(1)}}
			stop.Lower = w.low(float64(k)/float64(n), level, &stop)
			out = append(out, stop)
		}
	}
	return out
}

// low is how far over the level the part is at a share of the leg; best is kept if lower.
func (w walk) low(t, level float64, best *Pass) float64 {
	m := w.leg.at(t, w.Pivot)
	solid := m.shape(w.Parts[w.part].Solid)
	down := r3.Vector{Z: -1}
	at := solid.Support(down).Add(down.Mul(solid.Radius()))
	over := at.Z - level
	if over < best.Near.Signed {
		best.Near = shape.Nearest{Signed: over, OnA: at, OnB: r3.Vector{X: at.X, Y: at.Y, Z: level}, Normal: down}
		best.At, best.move = w.leg.pose(t), m
	}
	return over
}
