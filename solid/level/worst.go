package level

import (
	"container/heap"
	"math"
)

// Range is a rectangle of leans, radians: so far either way about one axis, and then about
// one square to it. Two leans of it are no farther apart than the root of the sum of
// squares of what they differ by in each: they are a longitude and a latitude.
type Range [2]float64

// Leaning is a quantity that hangs on how a space leans.
type Leaning struct {
	// At is its value at a lean, and Under a lower bound of it at all leans that are
	// no more than turn, radians, away.
	At    func(a, b float64) float64
	Under func(a, b, turn float64) float64
}

// Least finds the least value over a range. It lies between atLeast and found, which
// is the value at (a, b). They are within of each other, unless most places were looked
// at first; atLeast is true either way (branch and bound).
func Least(r Range, within float64, f Leaning) (atLeast, found, a, b float64) {
	const most = 4000
	found = math.Inf(1)
	var cells cells
	try := func(c cell) {
		if value := f.At(c.a, c.b); value < found {
			found, a, b = value, c.a, c.b
		}
		c.bound = f.Under(c.a, c.b, math.Hypot(c.half[0], c.half[1]))
		heap.Push(&cells, c)
	}
	try(cell{half: r})
	for n := 1; n < most; n += 2 {
		c := heap.Pop(&cells).(cell)
		if found-c.bound <= within || c.half[0]+c.half[1] == 0 {
			return math.Min(c.bound, found), found, a, b
		}
		for _, half := range c.halves() {
			try(half)
		}
	}
	atLeast = found
	for _, c := range cells {
		atLeast = math.Min(atLeast, c.bound)
	}
	return atLeast, found, a, b
}

// cell is a rectangle of leans by its middle and half sides.
type cell struct {
	a, b  float64
	half  [2]float64
	bound float64
}

// cells is a heap with the least bound on top.
type cells []cell

func (c cells) Len() int           { return len(c) }
func (c cells) Less(i, k int) bool { return c[i].bound < c[k].bound }
func (c cells) Swap(i, k int)      { c[i], c[k] = c[k], c[i] }

// Push adds a cell.
func (c *cells) Push(x any) { *c = append(*c, x.(cell)) }

// Pop takes the last off.
func (c *cells) Pop() any {
	last := (*c)[len(*c)-1]
	*c = (*c)[:len(*c)-1]
	return last
}

// halves cuts the longer side.
func (c cell) halves() [2]cell {
	d := c
	if c.half[0] >= c.half[1] {
		c.half[0] /= 2
		d.half = c.half
		c.a, d.a = c.a-c.half[0], d.a+c.half[0]
	} else {
		c.half[1] /= 2
		d.half = c.half
		c.b, d.b = c.b-c.half[1], d.b+c.half[1]
	}
	return [2]cell{c, d}
}
