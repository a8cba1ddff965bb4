package motion

import (
	"container/heap"
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/solid/shape"
)

// Options is how closely the least is looked for. The zero Options is ready to use.
type Options struct {
	// Tolerance is how far the proven bound may stay below the value found, mm [0.01].
	Tolerance float64
	// Below is the signed distance from which on nothing counts, mm; what comes no
	// nearer is not looked for. Only where Bounded; else everything counts.
	Below   float64
	Bounded bool
	// Most ends a search after that many distances [200,000]: Lower is then what has been
	// proven by then.
	Most int
}

const (
	// usual is the tolerance that is asked for by default, mm: a fiftieth of the finest
	// reading by hand, 1/64 in.
	usual = 0.01
	// fine is the tolerance that is tried for first, mm: the shop's limit of reaching.
	// Most searches get there in some tens of distances.
	fine = 1e-6
	// patience is how many distances are spent on fine: some milliseconds.
	patience = 2000
	// most is the default of Options.Most: under a second.
	most = 200_000
)

// Found is the least signed distance over a motion.
type Found struct {
	// Nearest is the answer of shape.Distance at the position: Signed is the value
	// found, OnB the witness on the piece where it is then.
	Nearest shape.Nearest
	// Still and Piece are indices of the two that come nearest.
	Still, Piece int
	// At is the position of each joint where they do.
	At []float64
	// Lower is proven: at no position is any signed distance less. Where nothing
	// counts that is Options.Below or less.
	Lower float64
	// Distances is how many were worked out.
	Distances int
}

// Least finds the least signed distance from things that stand still to pieces that
// move together through a chain of joints. ok is false where nothing comes nearer than
// Options.Below, or where there is nothing. Both may go on without end only where
// nothing turns: else nothing is proven (Lower is -Inf).
func Least(stills []Still, pieces []shape.Convex, c Chain, o Options) (f Found, ok bool) {
	s := search{stills: stills, pieces: pieces, chain: c, o: o.withDefaults()}
	s.proven = math.Inf(1)
	s.best.Nearest.Signed = math.Inf(1)
	if o.Bounded {
		s.best.Nearest.Signed = o.Below
	}
	s.roots()
	s.rest()
	s.run()
	return s.best, s.found
}

func (o Options) withDefaults() Options {
	if o.Tolerance == 0 {
		o.Tolerance = usual
	}
	if o.Most == 0 {
		o.Most = most
	}
	return o
}

// search looks for the least: the cell with the least bound first.
type search struct {
	stills []Still
	pieces []shape.Convex
	chain  Chain
	o      Options
	best   Found
	found  bool
	queue  queue
	pushed int
	proven float64     // the least bound of all cells that were put aside
	levers []lever     // scratch
	corner []float64   // scratch
	room   []r3.Vector // scratch: a moved hull's points
}

// task is a cell of one still thing and one piece, with a bound.
type task struct {
	cell         cell
	still, piece int
	lower        float64
	number       int // in which order they came: to break ties
}

// roots takes up every pair with the whole range.
func (s *search) roots() {
	var whole cell
	for _, j := range s.chain {
		middle, half := j.span()
		whole.middle, whole.half = append(whole.middle, middle), append(whole.half, half)
	}
	pose, levers := s.chain.place(whole, nil)
	for k, p := range s.pieces {
		if _, radius := p.Bounds(); math.IsInf(radius, -1) {
			continue // a hull without points
		}
		at := s.moved(p, pose)
		for i := range s.stills {
			around := s.stills[i].around
			bound := shape.Gap(around, at)
			if bound > -math.MaxFloat64 {
				bound -= travel(around, at, levers)
			}
			s.push(task{cell: whole, still: i, piece: k, lower: bound})
		}
	}
}

// moved is a piece in a pose, in scratch space: until the next call.
func (s *search) moved(c shape.Convex, p Pose) shape.Convex {
	h, ok := c.(shape.Hull)
	if !ok {
		return Moved(c, p)
	}
	h = movedHull(h, p, s.room[:0])
	s.room = h.Points[:0]
	return h
}

func (s *search) tolerance() float64 {
	if s.best.Distances < patience {
		return min(fine, s.o.Tolerance)
	}
	return s.o.Tolerance
}

// push takes up a task unless nothing in it can count.
func (s *search) push(t task) {
	if s.drop(t.lower) {
		return
	}
	s.pushed++
	t.number = s.pushed
	heap.Push(&s.queue, t)
}

// drop says whether a bound is good enough to put its cell aside, and keeps the least.
func (s *search) drop(bound float64) bool {
	if bound < s.best.Nearest.Signed-s.tolerance() {
		return false
	}
	s.proven = min(s.proven, bound)
	return true
}

// rest measures the most promising pair at rest, or as near as the range comes to it: of
// positions that are alike that one is reported.
func (s *search) rest() {
	if len(s.queue) == 0 {
		return
	}
	at := make([]float64, len(s.chain))
	for i, j := range s.chain {
		at[i] = max(j.From, min(j.To, 0))
	}
	first := s.queue[0]
	s.measure(&first, s.moved(s.pieces[first.piece], s.chain.At(at)), at)
}

// run looks into cells until none can hold anything nearer. Every cell ends up put
// aside or in the queue, so that the least bound of all is a bound of the least.
func (s *search) run() {
	for len(s.queue) > 0 && s.best.Distances < s.o.Most {
		if s.queue[0].lower >= s.best.Nearest.Signed-s.tolerance() {
			break
		}
		s.look(heap.Pop(&s.queue).(task))
	}
	s.best.Lower = min(s.best.Nearest.Signed, s.proven)
	if len(s.queue) > 0 {
		s.best.Lower = min(s.best.Lower, s.queue[0].lower)
	}
}

// look measures in the middle of a cell, bounds all of it, and halves it if that
// does not do.
func (s *search) look(t task) {
	still := &s.stills[t.still]
	pose, levers := s.chain.place(t.cell, s.levers)
	s.levers = levers
	at := s.moved(s.pieces[t.piece], pose)
	if _, radius := at.Bounds(); radius > 0 { // of a point the distance itself is as cheap
		if bound := shape.Gap(still.around, at) - travel(still.around, at, levers); s.drop(bound) {
			return
		}
	}
	n := s.measure(&t, at, t.cell.middle)
	bound := max(t.lower, lower(still.around, at, levers, n))
	if s.drop(bound) {
		return
	}
	joint, widest := -1, 0.0
	for i, l := range levers {
		weight := l.half
		if l.turns {
			weight = l.chord * min(reach(still.around, l.on, l.dir), reach(at, l.on, l.dir))
		}
		if weight > widest {
			joint, widest = i, weight
		}
	}
	s.downhill(&t, n, levers)
	if joint < 0 || s.drop(bound) {
		s.proven = min(s.proven, bound)
		return
	}
	t.lower = bound
	lower, upper := t.cell.halves(joint)
	t.cell = lower
	s.push(t)
	t.cell = upper
	s.push(t)
}

// measure works out a distance and keeps it if it is the least yet.
func (s *search) measure(t *task, at shape.Convex, position []float64) shape.Nearest {
	n := s.stills[t.still].Distance(at)
	s.best.Distances++
	if n.Signed < s.best.Nearest.Signed-rounding || !s.found && n.Signed < s.best.Nearest.Signed {
		s.found = true
		s.best.Nearest, s.best.Still, s.best.Piece = n, t.still, t.piece
		s.best.At = append(s.best.At[:0], position...)
	}
	return n
}

// downhill measures in the corner of a cell toward which the distance falls, where by
// its slope that can be the least yet: many a least is at an end of the range.
func (s *search) downhill(t *task, n shape.Nearest, levers []lever) {
	s.corner = append(s.corner[:0], t.cell.middle...)
	hope := n.Signed
	for i, l := range levers {
		slope := n.Normal.Dot(l.dir)
		if l.turns {
			slope = n.Normal.Cross(l.dir).Dot(n.OnB.Sub(l.on))
		}
		// Rounding may have left the cell's end just past that of the range.
		j := s.chain[i]
		s.corner[i] = max(j.From, min(j.To, s.corner[i]-math.Copysign(l.half, slope)))
		hope -= math.Abs(slope) * l.half
	}
	if hope < s.best.Nearest.Signed-s.tolerance() {
		s.measure(t, s.moved(s.pieces[t.piece], s.chain.At(s.corner)), s.corner)
	}
}

// queue is a heap, the least bound first; of equals the one that came first.
type queue []task

func (q queue) Len() int { return len(q) }
func (q queue) Less(i, j int) bool {
	return q[i].lower < q[j].lower || q[i].lower == q[j].lower && q[i].number < q[j].number
}
func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(x any)   { *q = append(*q, x.(task)) }
func (q *queue) Pop() any {
	old := *q
	last := old[len(old)-1]
	*q = old[:len(old)-1]
	return last
}
