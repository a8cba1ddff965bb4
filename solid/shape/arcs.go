package shape

import (
	"container/heap"
	"math"

	"github.com/golang/geo/r3"
)

// DistanceArcs is the signed distance between the tubes of those radii around two
// arcs: the distance of the arcs less both radii, below zero where the tubes overlap.
// Either arc may be a straight line (see Arc). Nearest.Along says where on a the
// witness stands. Within is below 1e-7 mm but for arcs that run side by side, where
// the search ends early and says so. There are no mixes.
//
// It halves stretches of both arcs, best first. A stretch of an arc lies within its
// sagitta of its chord, so two chords less two sagittas bound the distance from
// below; the places where the chords are nearest, taken on the arcs, from above.
func DistanceArcs(a Arc, radiusA float64, b Arc, radiusB float64) Nearest {
	s := arcsSearch{a: a.open(), b: b.open()}
	s.best.Signed, s.best.Normal = math.Inf(1), r3.Vector{X: 1}
	s.run()
	n := s.best
	n.Signed -= radiusA + radiusB
	n.OnA = n.OnA.Add(n.Normal.Mul(radiusA))
	n.OnB = n.OnB.Sub(n.Normal.Mul(radiusB))
	return n
}

type arcsSearch struct {
	a, b  bow
	best  Nearest
	queue pairs
}

// pairOf is a stretch of each arc and a lower bound of their distance.
type pairOf struct {
	a, b  [2]float64
	lower float64
}

// arcsSteps ends a search among places that are all alike. Two arcs one beside the
// other over 100 mm are then known to a hundredth of a millimetre, and Within says so.
const arcsSteps = 6000

func (s *arcsSearch) run() {
	s.push([2]float64{0, 1}, [2]float64{0, 1})
	for steps := 0; steps < arcsSteps && len(s.queue) > 0; steps++ {
		next := heap.Pop(&s.queue).(pairOf)
		if !(next.lower < s.best.Signed-arcClose) {
			s.best.Within += arcClose
			return // nor is any other
		}
		if s.a.length*(next.a[1]-next.a[0]) >= s.b.length*(next.b[1]-next.b[0]) {
			middle := (next.a[0] + next.a[1]) / 2
			s.push([2]float64{next.a[0], middle}, next.b)
			s.push([2]float64{middle, next.a[1]}, next.b)
		} else {
			middle := (next.b[0] + next.b[1]) / 2
			s.push(next.a, [2]float64{next.b[0], middle})
			s.push(next.a, [2]float64{middle, next.b[1]})
		}
	}
	s.best.Within += arcClose
	if len(s.queue) > 0 {
		s.best.Within = max(s.best.Within, s.best.Signed-s.queue[0].lower)
	}
}

// push measures a pair of stretches and keeps it unless it is sure to be no nearer
// than the best.
func (s *arcsSearch) push(ofA, ofB [2]float64) {
	a0, a1 := s.a.at(ofA[0]), s.a.at(ofA[1])
	b0, b1 := s.b.at(ofB[0]), s.b.at(ofB[1])
	alongA, alongB, chords := segments(a0, a1, b0, b1)
	alongA, alongB = ofA[0]+alongA*(ofA[1]-ofA[0]), ofB[0]+alongB*(ofB[1]-ofB[0])
	onA, onB := s.a.at(alongA), s.b.at(alongB)
	if d := onB.Sub(onA).Norm(); d < s.best.Signed {
		within := 8 * ulp * (largest(onA) + largest(onB)) // two places of few roundings each
		s.best = Nearest{Signed: d, OnA: onA, OnB: onB, Normal: unit(onB.Sub(onA)), Along: alongA, Within: within}
		if d == 0 {
			s.best.Normal = r3.Vector{X: 1}
		}
	}
	lower := chords - s.a.sag(ofA[1]-ofA[0]) - s.b.sag(ofB[1]-ofB[0])
	if lower < s.best.Signed-arcClose {
		heap.Push(&s.queue, pairOf{ofA, ofB, lower})
	}
}

// sag is how far a stretch of that share strays from its chord.
func (b *bow) sag(share float64) float64 {
	quarter := math.Sin(b.turn * share / 4)
	return 2 * b.radius * quarter * quarter
}

// segments is where two segments are nearest, 0..1 along each, and their distance.
// Where rounding misleads it on parallel ones it errs by rounding only: what it says
// of the distance is that of the places that it names, and the nearest of the
// four ends to the other segment is tried too.
func segments(a0, a1, b0, b1 r3.Vector) (alongA, alongB, apart float64) {
	u, v := a1.Sub(a0), b1.Sub(b0)
	best := math.Inf(1)
	try := func(s, t float64) {
		if d := a0.Add(u.Mul(s)).Sub(b0.Add(v.Mul(t))).Norm2(); d < best {
			best, alongA, alongB = d, s, t
		}
	}
	uu, vv := u.Norm2(), v.Norm2()
	onto := func(w, p r3.Vector, ww float64) float64 {
		if ww == 0 {
			return 0
		}
		return unitClamp(p.Dot(w) / ww)
	}
	try(0, onto(v, a0.Sub(b0), vv))
	try(1, onto(v, a1.Sub(b0), vv))
	try(onto(u, b0.Sub(a0), uu), 0)
	try(onto(u, b1.Sub(a0), uu), 1)
	uv := u.Dot(v)
	if det := uu*vv - uv*uv; det > 0 {
		w := b0.Sub(a0)
		s := (u.Dot(w)*vv - v.Dot(w)*uv) / det
		if s > 0 && s < 1 {
			try(s, onto(v, a0.Add(u.Mul(s)).Sub(b0), vv))
		}
	}
	return alongA, alongB, math.Sqrt(best)
}

// pairs is a heap, the least bound first; of equals the earlier places.
type pairs []pairOf

func (p pairs) Len() int { return len(p) }
func (p pairs) Less(i, j int) bool {
	x, y := p[i], p[j]
	if x.lower != y.lower {
		return x.lower < y.lower
	}
	if x.a[0] != y.a[0] {
		return x.a[0] < y.a[0]
	}
	return x.b[0] < y.b[0]
}
func (p pairs) Swap(i, j int) { p[i], p[j] = p[j], p[i] }
func (p *pairs) Push(x any)   { *p = append(*p, x.(pairOf)) }
func (p *pairs) Pop() any {
	old := *p
	last := old[len(old)-1]
	*p = old[:len(old)-1]
	return last
}
