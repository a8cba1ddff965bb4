package shape

import (
	"container/heap"
	"math"

	"github.com/golang/geo/r3"
)

// Arc is a circular arc that leaves From toward Corner and comes into To from
// there, tangent to both legs, which are equally long; of the second only the
// direction counts. It turns by less than half a circle. Legs in one line, or of
// no length, make it the straight line from From to To.
type Arc struct {
	From, Corner, To r3.Vector
}

// DistanceArc is the signed distance from a tube around an arc to a shape: of the
// balls of that radius along the arc, the nearest's. Below zero it is the depth of
// the deepest ball, so never deeper than the tube. Nearest.Along says where on
// the arc, from 0 to 1, its witness stands; Within is below 1e-7 mm but for an arc all
// whose places are about equally near, where the search ends early and says so.
func DistanceArc(arc Arc, radius float64, b Convex) Nearest {
	s := arcSearch{arc: arc.open(), b: b, core: open(b), best: Nearest{Signed: math.Inf(1), Normal: r3.Vector{X: 1}}}
	if h, ok := b.(Hull); ok && len(h.Points) == 1 && h.Behind == (r3.Vector{}) {
		s.look(s.arc.nearest(h.Points[0]), 0) // no more to bound
	} else {
		s.run()
	}
	n := s.best
	n.MixA = Mix{}
	n.Signed -= radius
	n.OnA = n.OnA.Add(n.Normal.Mul(radius))
	return n
}

// bow is an arc ready for use: at turn t it is at from + ahead radius sin t + aside
// radius (1 - cos t). A straight one has no turn.
type bow struct {
	from, ahead, aside r3.Vector
	radius, turn       float64
	length             float64
}

func (a Arc) open() bow {
	in, out := a.Corner.Sub(a.From), a.To.Sub(a.Corner)
	b := bow{from: a.From, ahead: unit(in)}
	way := unit(out)
	side := way.Sub(b.ahead.Mul(way.Dot(b.ahead)))
	b.aside = unit(side.Sub(b.ahead.Mul(side.Dot(b.ahead))))
	b.turn = math.Atan2(side.Norm(), way.Dot(b.ahead))
	half := math.Tan(b.turn / 2)
	if !(half > leastTurn && b.ahead != r3.Vector{} && way != r3.Vector{}) {
		b.ahead, b.length, b.turn = unit(a.To.Sub(a.From)), a.To.Distance(a.From), 0
		return b
	}
	b.radius = in.Norm() / half
	b.length = b.radius * b.turn
	return b
}

// leastTurn is the half turn below which an arc counts as straight: it strays from
// its chord by a quarter of that share of its leg, less than rounding.
const leastTurn = 1.0 / (1 << 50)

// at is the arc's place at 0..1 along it.
func (b *bow) at(along float64) r3.Vector {
	if b.turn == 0 {
		return b.from.Add(b.ahead.Mul(b.length * along))
	}
	sin, cos := math.Sincos(along * b.turn / 2)
	// 1 - cos t = 2 sin^2(t/2), sin t = 2 sin(t/2) cos(t/2): good for small turns.
	return b.from.Add(b.ahead.Mul(2 * b.radius * sin * cos)).Add(b.aside.Mul(2 * b.radius * sin * sin))
}

// nearest is where along the arc it is nearest to a point: where it faces the
// point, or the nearer end.
func (b *bow) nearest(p r3.Vector) float64 {
	w := p.Sub(b.from)
	if b.turn == 0 {
		if b.length == 0 {
			return 0
		}
		return unitClamp(w.Dot(b.ahead) / b.length)
	}
	x, y := w.Dot(b.ahead), b.radius-w.Dot(b.aside) // from the centre, y back toward from
	along := math.Atan2(x, y) / b.turn
	if along >= 0 && along <= 1 {
		return along
	}
	if p.Distance(b.at(0)) <= p.Distance(b.at(1)) {
		return 0
	}
	return 1
}

// arcSearch looks for the place of an arc that is nearest to a shape: best first,
// by halves, each half bounded from below.
type arcSearch struct {
	arc   bow
	b     Convex
	core  core // of b
	point [1]r3.Vector
	best  Nearest
	queue stretches
}

// stretch is a piece of the arc and a lower bound of its distance.
type stretch struct{ from, to, lower float64 }

const (
	// arcClose is the gap between the best place and the bound of all others at
	// which the search ends, in mm: half of what DistanceArc promises.
	arcClose = 5e-8
	// arcSteps ends a search among places that are all alike: an arc of radius r in
	// n pieces strays from its tangents by r/2 (turn/2n)^2, 1e-6 mm for 100 mm.
	arcSteps = 8000
)

func (s *arcSearch) run() {
	s.push(0, 1, math.Inf(-1))
	for steps := 0; steps < arcSteps && len(s.queue) > 0; steps++ {
		next := heap.Pop(&s.queue).(stretch)
		if !(next.lower < s.best.Signed-arcClose) {
			break // nor is any other
		}
		middle := (next.from + next.to) / 2
		before, after := s.look(middle, (next.to-next.from)/2)
		s.push(next.from, middle, before)
		s.push(middle, next.to, after)
	}
	left := arcClose // what was not pushed is no nearer than that
	if len(s.queue) > 0 {
		left = max(left, s.best.Signed-s.queue[0].lower)
	}
	s.best.Within += left
}

// push takes up a stretch unless it is sure to be no nearer than the best place.
func (s *arcSearch) push(from, to, lower float64) {
	if lower < s.best.Signed-arcClose {
		heap.Push(&s.queue, stretch{from, to, lower})
	}
}

// look measures from one place of the arc and bounds the distance of the stretches
// before and after it, each of that share of the arc, from below. The distance of a
// point from a convex shape is a convex function of the point, below zero too, so it
// lies above its tangent plane, which falls along Normal.
func (s *arcSearch) look(along, share float64) (before, after float64) {
	n := s.measure(s.arc.at(along))
	n.Along = along
	if n.Signed < s.best.Signed || math.IsNaN(n.Signed) {
		s.best = n
	}
	ahead, reach, drop := s.arc.ahead, s.arc.length*share, 0.0
	if turn := s.arc.turn; turn > 0 {
		sin, cos := math.Sincos(along * turn)
		ahead = s.arc.ahead.Mul(cos).Add(s.arc.aside.Mul(sin))
		aside := s.arc.aside.Mul(cos).Sub(s.arc.ahead.Mul(sin))
		half := math.Sin(share * turn / 2) // 1 - cos t = 2 sin^2(t/2)
		drop = max(0, n.Normal.Dot(aside)) * 2 * s.arc.radius * half * half
		reach = s.arc.radius * math.Sin(min(share*turn, math.Pi/2))
	}
	fall := n.Normal.Dot(ahead) * reach
	return n.Signed + min(0, fall) - drop, n.Signed - max(0, fall) - drop
}

// measure is the distance from a point to the shape.
func (s *arcSearch) measure(p r3.Vector) Nearest {
	var n Nearest
	if n.toPoint(s.b, &p) {
		return n.turned()
	}
	s.point[0] = p
	c := core{kind: hull, points: s.point[:], size: largest(p)}
	at := draw(&c, &s.core)
	if at.sure() && at.located(&c, &s.core) {
		return at.answer(&c, &s.core)
	}
	near := core{kind: hull, points: []r3.Vector{p}, size: c.size}
	far := s.core
	return closer(&near, &far, at)
}

// stretches is a heap, the least bound first; of equals the earlier place.
type stretches []stretch

func (s stretches) Len() int { return len(s) }
func (s stretches) Less(i, j int) bool {
	return s[i].lower < s[j].lower || s[i].lower == s[j].lower && s[i].from < s[j].from
}
func (s stretches) Swap(i, j int) { s[i], s[j] = s[j], s[i] }
func (s *stretches) Push(x any)   { *s = append(*s, x.(stretch)) }
func (s *stretches) Pop() any {
	old := *s
	last := old[len(old)-1]
	*s = old[:len(old)-1]
	return last
}
