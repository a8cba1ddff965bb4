package way

import (
	"container/heap"
	"math"

	"github.com/golang/geo/r3"
)

// pitch is the grid's: an eighth of the assembly's least extent, so that a gap that it
// just goes through is not stepped over often; half an inch at least.
func (c *course) pitch() float64 {
	s := c.span(Pose{})
	least := math.Inf(1)
	for axis := range 3 {
		least = math.Min(least, s.High[axis]-s.Low[axis])
	}
	return math.Max(least/8, 12.7)
}

// turns is a set of turns and from which to which one may go.
type turns struct {
	list []r3.Vector
	next [][]int
}

func onlyShifts() turns { return turns{list: []r3.Vector{{}}, next: [][]int{nil}} }

// someTurns are turns about one axis each, by steps of 15 degrees up to 90 either way;
// from one to the next of the same axis.
func someTurns() turns {
	const step = 15 * math.Pi / 180
	t := onlyShifts()
	for _, axis := range []r3.Vector{{X: 1}, {Y: 1}, {Z: 1}} {
		for _, sign := range []float64{1, -1} {
			from := 0
			for k := 1; k <= 6; k++ {
				t.list = append(t.list, axis.Mul(sign*step*float64(k)))
				t.next = append(t.next, []int{from})
				to := len(t.list) - 1
				t.next[from] = append(t.next[from], to)
				from = to
			}
		}
	}
	return t
}

// cell is a node of the grid: a turn, and steps along x, y, z.
type cell struct{ turn, x, y, z int }

func (c cell) pose(t turns, pitch float64) Pose {
	return Pose{Shift: r3.Vector{X: float64(c.x), Y: float64(c.y), Z: float64(c.z)}.Mul(pitch), Turn: t.list[c.turn]}
}

// around are the cells that one move leads to.
func (c cell) around(t turns) []cell {
	list := []cell{{c.turn, c.x, c.y, c.z + 1}, {c.turn, c.x, c.y + 1, c.z}, {c.turn, c.x + 1, c.y, c.z},
		{c.turn, c.x - 1, c.y, c.z}, {c.turn, c.x, c.y - 1, c.z}, {c.turn, c.x, c.y, c.z - 1}}
	for _, k := range t.next[c.turn] {
		list = append(list, cell{k, c.x, c.y, c.z})
	}
	return list
}

// entry is a cell in the queue.
type entry struct {
	cell
	cost, key float64
	order     int // of coming in, so that ties fall the same way every time
}

type queue []entry

func (q queue) Len() int { return len(q) }
func (q queue) Less(i, j int) bool {
	if q[i].key != q[j].key {
		return q[i].key < q[j].key
	}
	return q[i].order < q[j].order
}
func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(x any)   { *q = append(*q, x.(entry)) }
func (q *queue) Pop() any {
	old := *q
	e := old[len(old)-1]
	*q = old[:len(old)-1]
	return e
}

// onGrid looks for a way by moves on a grid, the cells nearest to outside first, and
// leaves it straight from the first cell that it can.
func (f *finder) onGrid(t turns, pitch float64, budget int) []Pose {
	budget += f.spent
	from := map[cell]cell{{}: {}}
	cost := map[cell]float64{{}: 0}
	q := &queue{{}}
	order := 0
	for q.Len() > 0 && !f.over(budget) {
		e := heap.Pop(q).(entry)
		if e.cost > cost[e.cell] {
			continue
		}
		here := e.pose(t, pitch)
		if out := f.leave(here); out != nil {
			return f.trail(e.cell, from, t, pitch, *out)
		}
		for _, next := range e.around(t) {
			step := pitch
			if next.turn != e.turn {
				step *= 2 // a turn is worth a detour of two steps
			}
			if old, seen := cost[next]; seen && old <= e.cost+step {
				continue
			}
			there := next.pose(t, pitch)
			if !f.free(here, there) {
				continue
			}
			_, left := f.nearestExit(f.span(there))
			order++
			cost[next], from[next] = e.cost+step, e.cell
			heap.Push(q, entry{next, e.cost + step, e.cost + step + 2*left, order})
		}
	}
	return nil
}

// trail is the way from home to a cell and out.
func (f *finder) trail(at cell, from map[cell]cell, t turns, pitch float64, out Pose) []Pose {
	list := []Pose{out}
	for at != (cell{}) {
		list = append(list, at.pose(t, pitch))
		at = from[at]
	}
	list = append(list, Pose{})
	for i, j := 0, len(list)-1; i < j; i, j = i+1, j-1 {
		list[i], list[j] = list[j], list[i]
	}
	return list
}
