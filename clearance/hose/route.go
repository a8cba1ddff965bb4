package hose

import (
	"container/heap"
	"math"

	"github.com/golang/geo/r3"
)

// mostRoutes is how many ways round are tried.
const mostRoutes = 4

// search tries ways round the obstacles: a shortest path on the grid, cut down to
// its corners, rounded and shortened; then, with the place where that one fails made
// dear, the next.
func (w *Wish) search(best *Found) {
	f := newField(w)
	dear := map[int]float64{}
	for range mostRoutes {
		path := f.route(dear)
		if path == nil {
			return
		}
		run, pinch, ok := f.lead(path, best)
		if ok && w.take(best, run, false) {
			return
		}
		f.shun(pinch, dear)
	}
}

// lead turns a path into a run, and mends it where the grid was too coarse to show
// what its tube meets. pinch is its worst place.
func (f *field) lead(path []r3.Vector, best *Found) (run Run, pinch r3.Vector, ok bool) {
	p := newPolish(f, path)
	for range 4 {
		p.shorten()
		run, ok = p.draw()
		pinch = p.pinch()
		if !ok {
			return run, pinch, false
		}
		margin, _ := f.wish.margin(run, math.Inf(-1))
		if margin >= 0 {
			return f.simpler(p, run), pinch, true
		}
		if margin < -f.step {
			return run, pinch, true
		}
		f.wish.take(best, run, false)
		p.spare += 0.5 - margin // mm: enough that the next is not a hair short again
	}
	return run, pinch, true
}

// simpler leaves out the corners that a run that clears can do without.
func (f *field) simpler(p *polish, run Run) Run {
	for k := 2; k < len(p.x); {
		q := *p
		q.x = append(append([]float64(nil), p.x[:k]...), p.x[k+3:]...)
		q.shorten()
		fewer, ok := q.draw()
		if ok {
			if margin, _ := f.wish.margin(fewer, math.Inf(-1)); margin >= 0 && fewer.Length() < run.Length()*worthACorner {
				*p, run, k = q, fewer, 2
				continue
			}
		}
		k += 3
	}
	return run
}

// worthACorner is by how much a run may grow for one bend less: nobody forms a bend
// to save a twentieth of a hose.
const worthACorner = 1.05

// shun makes nodes near a place dear.
func (f *field) shun(at r3.Vector, dear map[int]float64) {
	reach := math.Max(f.wish.Limits.Radius, 3*f.step)
	var lo, hi [3]int
	rel := at.Sub(f.low)
	for k, x := range [3]float64{rel.X, rel.Y, rel.Z} {
		lo[k] = max(0, int((x-reach)/f.step))
		hi[k] = min(f.n[k]-1, int((x+reach)/f.step)+1)
	}
	for x := lo[0]; x <= hi[0]; x++ {
		for y := lo[1]; y <= hi[1]; y++ {
			for z := lo[2]; z <= hi[2]; z++ {
				i := [3]int{x, y, z}
				if d := f.place(i).Sub(at).Norm(); d < reach {
					dear[f.index(i)] += 6 * (1 - d/reach)
				}
			}
		}
	}
}

// gates are the places that a path begins and ends at: straight out of each end as
// far as it must go straight and half a bend farther.
func (f *field) gates() (from, to r3.Vector) {
	e, l := f.wish.Ends, f.wish.Limits
	out := l.Straight + l.Radius/2
	return e.From.Add(e.Leave.Mul(out)), e.To.Sub(e.Arrive.Mul(out))
}

func (f *field) nearest(p r3.Vector) [3]int {
	rel := p.Sub(f.low).Mul(1 / f.step)
	var i [3]int
	for k, x := range [3]float64{rel.X, rel.Y, rel.Z} {
		i[k] = min(max(int(math.Round(x)), 0), f.n[k]-1)
	}
	return i
}

// eager is by how much the distance still to go is overrated: a path may then be so
// much dearer than the cheapest, and is found in a fraction of the time. Polishing
// shortens it anyway.
const eager = 4

// route is a cheap path on the grid from gate to gate (A*): a step costs its length,
// more where there is little room, much more where there is none, so that there
// always is a path.
func (f *field) route(dear map[int]float64) []r3.Vector {
	from, to := f.gates()
	start, goal := f.nearest(from), f.nearest(to)
	target := f.place(goal)
	reached := make([]reached, len(f.nodes))
	reached[f.index(start)] = arrival(start, 0)
	open := steps{{at: start, id: f.index(start)}}
	for len(open) > 0 {
		now := heap.Pop(&open).(step)
		here := &reached[now.id]
		if here.done {
			continue
		}
		here.done = true
		if now.at == goal {
			return f.back(reached, start, goal, from, to)
		}
		f.neighbours(now.at, func(next [3]int, length float64) {
			id := f.index(next)
			there := &reached[id]
			if there.done {
				return
			}
			c := here.cost + length*(f.price(next)+dear[id])
			if !there.open || c < there.cost {
				*there = arrival(now.at, c)
				heap.Push(&open, step{next, c + eager*target.Sub(f.place(next)).Norm(), id})
			}
		})
	}
	return nil
}

// reached is a node that a path came to: from where, at what cost.
type reached struct {
	from       [3]int
	cost       float64
	open, done bool
}

func arrival(from [3]int, cost float64) reached { return reached{from: from, cost: cost, open: true} }

// price of a millimetre at a node.
func (f *field) price(i [3]int) float64 {
	e, at := f.wish.Ends, f.place(i)
	near := f.wish.Limits.Straight + f.wish.Limits.Radius/2 + f.step
	room := f.node(i).least(at.Sub(e.From).Norm() < near, at.Sub(e.To).Norm() < near)
	const wall, scarce = 40, 2
	switch {
	case room < 0:
		return wall
	case room < f.wish.Limits.Radius/2:
		return 1 + scarce*(1-2*room/f.wish.Limits.Radius)
	}
	return 1
}

func (f *field) neighbours(i [3]int, do func(next [3]int, length float64)) {
	for dx := -1; dx <= 1; dx++ {
		for dy := -1; dy <= 1; dy++ {
			for dz := -1; dz <= 1; dz++ {
				next := [3]int{i[0] + dx, i[1] + dy, i[2] + dz}
				if (dx != 0 || dy != 0 || dz != 0) && f.inside(next) {
					do(next, f.step*math.Sqrt(float64(dx*dx+dy*dy+dz*dz)))
				}
			}
		}
	}
}

func (f *field) back(reached []reached, start, goal [3]int, from, to r3.Vector) []r3.Vector {
	path := []r3.Vector{to}
	for at := goal; at != start; at = reached[f.index(at)].from {
		path = append(path, f.place(at))
	}
	path = append(path, from)
	for i, j := 0, len(path)-1; i < j; i, j = i+1, j-1 {
		path[i], path[j] = path[j], path[i]
	}
	return path
}

// step is a node to go on from; steps is a heap, the cheapest first.
type step struct {
	at   [3]int
	cost float64
	id   int
}

type steps []step

func (s steps) Len() int { return len(s) }
func (s steps) Less(i, j int) bool {
	return s[i].cost < s[j].cost || s[i].cost == s[j].cost && s[i].id < s[j].id
}
func (s steps) Swap(i, j int) { s[i], s[j] = s[j], s[i] }
func (s *steps) Push(x any)   { *s = append(*s, x.(step)) }
func (s *steps) Pop() any {
	old := *s
	last := old[len(old)-1]
	*s = old[:len(old)-1]
	return last
}
