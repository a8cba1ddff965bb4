package clearance

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r3"

	"elbowroom/survey"
)

// The depths that are proposed. A shop's straightedge is 3 ft long, its rule 12
// in (common practice, no source); both are read to 1/32 in, which as a standard
// uncertainty is 0.46 mm. Off a straightedge that goes on for more than half the
// way between its marks, or shorter than 2 in, the reading hangs on how it rocks
// (own estimate).
const (
	longestEdge  = 36 * 25.4
	shortestEdge = 2 * 25.4
	rockingEdge  = 0.5
	longestRule  = 12 * 25.4
	shortestRule = 25.4 / 16 // nearer, it is not seen on which side the mark is
	depthLimit   = 25.4 / 32
)

// nearAxis is how near to square to the straightedge an axis must be for a rule
// to be said to go toward it: 30 degrees, beyond which another axis is as near.
var nearAxis = math.Cos(math.Pi / 6)

// leastUnder is the least chance that the mark stands square off the straightedge,
// to what the rule is read to, for it to be proposed: whether it does is seen in the
// minute that it takes to lay it there (own estimate). It holds while the mark is
// known sideways to 1.8 mm (standard).
const leastUnder = 1.0 / 3

// mostLaid is how many straightedges are reckoned for one mark, those between
// the best known marks first: each takes as long as three tapes. Among 500 marks,
// where up to a thousand could be laid, one left out was seen to leave 0.4 % less.
const mostLaid = 100

// laid is a depth that may be taken of a mark.
type laid struct {
	survey.Lay
	along, probe float64 // mm, as it would be read; along below 0 beyond From
	rough        float64 // how well the place under the rule is known, mm2, roughly
}

// Depth is a depth that is proposed: the straightedge from one mark to another,
// the rule Along from the first, mm, below 0 beyond it, and square to it Toward (as
// in survey.Depth) to Mark, Probe away. The zero Depth is none.
type Depth struct {
	Mark, From, To string
	Toward         r3.Vector
	Along, Probe   float64
}

// named is a depth by the marks' names.
func (l laid) named(s *survey.Space) Depth {
	return Depth{s.Marks[l.Mark].Name, s.Marks[l.From].Name, s.Marks[l.To].Name, l.Toward, l.along, l.probe}
}

// lays lists the straightedges off which a rule could reach a mark as far as their
// lengths go, between the best known marks first.
func (t *Tapes) lays(m int) []laid {
	if !t.space.Marks[m].Located || t.onlyRun(m) {
		return nil
	}
	var out []laid
	for a := range t.space.Marks {
		if !t.bears(a, m) {
			continue
		}
		for b := range a {
			if !t.bears(b, m) || t.laid[lain(m, a, b)] {
				continue
			}
			if l, ok := t.lay(m, a, b); ok {
				out = append(out, l)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b laid) int { return cmp.Compare(a.rough, b.rough) })
	return out[:min(len(out), mostLaid)]
}

// bears says whether a straightedge that a depth of m is taken from can lie on a mark.
func (t *Tapes) bears(k, m int) bool {
	return k != m && t.space.Marks[k].Located && !t.onlyRun(k)
}

// lain is the key of a depth: it is the same from either end.
func lain(m, a, b int) [3]int { return [3]int{m, min(a, b), max(a, b)} }

// lay is the depth of a mark off the straightedge between two others, read from
// the nearer. ok is false where the rule cannot go along an axis, or too far.
func (t *Tapes) lay(m, a, b int) (out laid, ok bool) {
	edge := t.space.Marks[b].At.Sub(t.space.Marks[a].At)
	span := edge.Norm()
	if span < shortestEdge || span > longestEdge {
		return out, false
	}
	off := t.space.Marks[m].At.Sub(t.space.Marks[a].At)
	share := off.Dot(edge) / (span * span)
	if math.Abs(share-0.5) > 0.5+rockingEdge || span*math.Max(1, math.Max(share, 1-share)) > longestEdge {
		return out, false
	}
	rule := off.Sub(edge.Mul(share))
	if long := rule.Norm(); long < shortestRule || long > longestRule {
		return out, false
	}
	if share >= 0.5-reach { // of two as near, the first
		a, b, share = b, a, 1-share
	}
	out = laid{Lay: survey.Lay{Mark: m, From: a, To: b}, rough: t.known(a)*(1-share)*(1-share) + t.known(b)*share*share}
	for axis := range 3 {
		toward := axisToward(rule, axis)
		if edge.Cross(toward).Norm() < nearAxis*span {
			continue
		}
		out.Toward = toward
		var aside float64
		if out.along, out.probe, aside = out.Reads(t.space); math.Abs(aside) <= depthLimit && out.probe > 0 {
			return out, true
		}
	}
	return out, false
}

// known is a mark's variance in one direction, roughly, mm2.
func (t *Tapes) known(m int) float64 {
	if t.variance[m] == 0 {
		u := t.space.Uncertainty(m)
		t.variance[m] = math.Max(u*u, reach*reach)
	}
	return t.variance[m]
}

// axisToward is an axis on the side of v.
func axisToward(v r3.Vector, axis int) r3.Vector {
	return [3]r3.Vector{{X: math.Copysign(1, v.X)}, {Y: math.Copysign(1, v.Y)}, {Z: math.Copysign(1, v.Z)}}[axis]
}

// terms3 are those of the three numbers of a depth. ok is false where it is too
// unlikely that the mark stands square off the straightedge.
func (t *Tapes) terms3(l laid) (read [][]survey.Term, ok bool) {
	for _, g := range l.Gradients(t.space) {
		read = append(read, t.spread.Terms(g))
	}
	_, _, aside := l.Reads(t.space)
	f := figure{value: aside, u: math.Sqrt(survey.Dot(read[2], read[2]))}
	return read, f.probability(-depthLimit)-f.probability(depthLimit) >= leastUnder
}

// Lies says whether nothing that was measured is in the way of a depth's
// straightedge, out to where its rule stands, and of the rule, as in Straight.
func (t *Tapes) lies(l laid) bool {
	from, to, mark := t.end(l.From), t.end(l.To), t.end(l.Mark)
	edge := to.at.Sub(from.at)
	foot := end{from.at.Add(edge.Normalize().Mul(l.along)), math.Max(from.u, to.u), append(slices.Clone(from.of), to.of...)}
	if l.along < 0 && !t.straight(foot, from) {
		return false
	}
	return t.straight(from, to) && t.straight(foot, mark)
}
