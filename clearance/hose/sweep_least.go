package hose

import (
	"cmp"
	"container/heap"
	"math"
	"slices"

	"github.com/golang/geo/r3"
)

// Toward is what a sweep is held against.
type Toward struct {
	// Pieces is how many there are; Distance is the signed distance from a place to one.
	Pieces   int
	Distance func(piece int, from r3.Vector) float64
	// Enough ends the search: where it is proven to come no nearer than that, mm, how far
	// off it is does not matter.
	Enough float64
	// Wanted is what it should keep, mm: where that is proven, or far from it, the bound may
	// be coarser.
	Wanted float64
	// Skip and SkipEnd leave out the first and the last of the stretch, mm along it from its
	// holds; where the stretch is so long that it could come back there, nothing is left
	// out. Skip counts only where the first hold is still in what the sweep is seen from,
	// SkipEnd only where the last is.
	Skip, SkipEnd float64
}

// Near is what could not be ruled out.
type Near struct {
	// Bound is proven: the hose's middle comes no nearer, mm; +Inf where the stretch is too
	// short to be there at all.
	Bound float64
	At    r3.Vector // a place, to about that of the smallest cubes
	Piece int       // the piece that it is near
	When  []float64 // a position of each joint at which it may be there
}

// Least bounds from below how near the hose's middle can come to any of the pieces.
func (w *Sweep) Least(t Toward) Near {
	first, last := w.left(t.Skip, w.cells[0].from.still), w.left(t.SkipEnd, w.cells[0].to.still)
	var open nears
	for k := range t.Pieces {
		open = append(open, near{w.root, k, t.Distance(k, w.root.at) - w.root.around()})
	}
	heap.Init(&open)
	for len(open) > 0 {
		n := heap.Pop(&open).(near)
		if n.bound >= t.Enough {
			return w.near(n)
		}
		away := func(hold r3.Vector, by float64) bool { return n.cube.at.Sub(hold).Norm()+n.cube.around() < by }
		if away(w.swing.From.At, first) || away(w.swing.To.At, last) || !w.reached(n.cube) {
			continue
		}
		if n.cube.half <= t.finest(n.bound, n.cube.around()) {
			return w.near(n)
		}
		children := n.cube.split()
		for i := range children {
			c := &children[i]
			open.push(near{c, n.piece, math.Max(n.bound, t.Distance(n.piece, c.at)-c.around())})
		}
	}
	return Near{Bound: math.Inf(1), When: w.cells[0].middle}
}

func (w *Sweep) near(n near) Near {
	cell := 0
	if len(n.cube.cells) > 0 {
		cell = int(n.cube.cells[0])
	}
	return Near{n.bound, n.cube.at, n.piece, w.cells[cell].middle}
}

// finest is how small cubes need to be for a bound: a tenth of what is missing in the
// middle of the cube, where that is much.
func (t *Toward) finest(bound, around float64) float64 {
	missing := t.Wanted - (bound + around)
	switch {
	case bound >= t.Wanted:
		return 16 * finestCube
	case missing > farOff && !math.IsInf(missing, 1):
		return math.Max(4*finestCube, missing/10)
	}
	return finestCube
}

// left is the radius of the ball about a hold in which nothing but the first of the
// stretch can be: places s apart along a line of that curvature are at least
// 2 radius sin(s / 2 radius) apart (Schur's theorem), up to a full circle.
func (w *Sweep) left(skip float64, still bool) float64 {
	s := &w.swing
	if !still || skip <= 0 || skip > math.Pi*s.Radius || s.Length > 2*math.Pi*s.Radius-skip {
		return 0
	}
	return math.Max(0, 2*s.Radius*math.Sin(skip/(2*s.Radius))-s.Off)
}

// near is a cube and a piece, and how near they may be.
type near struct {
	cube  *cube
	piece int
	bound float64
}

// nears is a heap, the nearest first.
type nears []near

func (n nears) Len() int           { return len(n) }
func (n nears) Less(i, j int) bool { return n[i].bound < n[j].bound }
func (n nears) Swap(i, j int)      { n[i], n[j] = n[j], n[i] }
func (n *nears) Push(x any)        { *n = append(*n, x.(near)) }
func (n *nears) push(x near)       { heap.Push(n, x) }
func (n *nears) Pop() any {
	old := *n
	last := old[len(old)-1]
	*n = old[:len(old)-1]
	return last
}

// Off bounds from below how far a place is from the room, to about the cubes of that half
// edge, mm.
func (w *Sweep) Off(from r3.Vector, half float64) float64 {
	return w.off(w.root, from, half, math.Inf(1))
}

// off is the least of best and of what a cube keeps.
func (w *Sweep) off(q *cube, from r3.Vector, half, best float64) float64 {
	away := func(q *cube) float64 { return from.Sub(q.at).Norm() - q.around() }
	if away(q) >= best || !w.reached(q) {
		return best
	}
	if q.half <= half {
		return away(q)
	}
	children := q.split()
	var order [8]int
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order[:], func(a, b int) int { return cmp.Compare(away(&children[a]), away(&children[b])) })
	for _, i := range order {
		best = w.off(&children[i], from, half, best)
	}
	return best
}

// Ball is a ball in space.
type Ball struct {
	At     r3.Vector
	Radius float64
}

// Balls covers the room with balls, each about a cube of at most that half edge, mm.
func (w *Sweep) Balls(half float64) []Ball {
	var out []Ball
	open := []*cube{w.root}
	for len(open) > 0 {
		q := open[len(open)-1]
		open = open[:len(open)-1]
		switch {
		case !w.reached(q):
		case q.half <= half:
			out = append(out, Ball{q.at, q.around()})
		default:
			children := q.split()
			for i := range children {
				open = append(open, &children[i])
			}
		}
	}
	return out
}
