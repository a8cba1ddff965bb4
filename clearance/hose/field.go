package hose

import (
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/solid/shape"
)

// field is the room around a hose's middle on a grid: how far a place is from every
// obstacle, less the gap and half the hose. It is worked out where it is asked for.
type field struct {
	wish  *Wish
	balls []r3.Vector // around each obstacle
	radii []float64
	low   r3.Vector
	step  float64
	n     [3]int
	nodes []room
	most  float64 // room beyond that counts as that
}

// room of a node: from obstacles that always count, from those that do not count at
// the run's beginning, and from those that do not at its end.
type room struct {
	by    [3]float32
	known bool
}

const (
	always = iota
	notFirst
	notLast
)

// gridStep is the mesh of the grid, mm: about a hose's own thickness, so that a way
// that it could take seldom falls between.
const gridStep = 10

// gridReach is how far the grid reaches beyond the ends, in bend radii: a bend round
// and back takes two.
const gridReach = 3

func newField(w *Wish) *field {
	f := &field{wish: w, step: gridStep, most: 2 * w.Limits.Radius}
	reach := gridReach*w.Limits.Radius + w.Limits.Straight
	a, b := w.Ends.From, w.Ends.To
	f.low = r3.Vector{X: math.Min(a.X, b.X) - reach, Y: math.Min(a.Y, b.Y) - reach, Z: math.Min(a.Z, b.Z) - reach}
	size := [3]float64{math.Abs(a.X-b.X) + 2*reach, math.Abs(a.Y-b.Y) + 2*reach, math.Abs(a.Z-b.Z) + 2*reach}
	const mostNodes = 200_000 // some MB, and far more than a search looks at
	for {
		for k := range size {
			f.n[k] = int(math.Ceil(size[k]/f.step)) + 1
		}
		if f.n[0]*f.n[1]*f.n[2] <= mostNodes {
			break
		}
		f.step *= 1.25
	}
	f.nodes = make([]room, f.n[0]*f.n[1]*f.n[2])
	for _, o := range w.Obstacles {
		middle, radius := o.ball()
		f.balls, f.radii = append(f.balls, middle), append(f.radii, radius)
	}
	return f
}

func (o *Obstacle) ball() (middle r3.Vector, radius float64) {
	if o.Solid != nil {
		return o.Solid.Bounds()
	}
	var all shape.Hull
	for _, p := range o.Tube.Pieces {
		all.Points = append(all.Points, p.bound.Points...)
		all.Grow = p.bound.Grow
	}
	return all.Bounds()
}

// kind of an obstacle: where it counts.
func (o *Obstacle) kind() int {
	switch {
	case o.LastLeg || o.End > 0:
		return notLast
	case o.FirstLeg || o.Start > 0:
		return notFirst
	}
	return always
}

func (f *field) place(i [3]int) r3.Vector {
	return f.low.Add(r3.Vector{X: float64(i[0]), Y: float64(i[1]), Z: float64(i[2])}.Mul(f.step))
}

func (f *field) index(i [3]int) int { return (i[2]*f.n[1]+i[1])*f.n[0] + i[0] }

func (f *field) inside(i [3]int) bool {
	return i[0] >= 0 && i[1] >= 0 && i[2] >= 0 && i[0] < f.n[0] && i[1] < f.n[1] && i[2] < f.n[2]
}

// node is the room at a node of the grid.
func (f *field) node(i [3]int) *room {
	r := &f.nodes[f.index(i)]
	if !r.known {
		*r = f.measure(f.place(i))
	}
	return r
}

func (f *field) measure(at r3.Vector) room {
	by := [3]float64{f.most, f.most, f.most}
	point := [1]r3.Vector{at}
	here := shape.Hull{Points: point[:]}
	for i := range f.wish.Obstacles {
		o := &f.wish.Obstacles[i]
		least := &by[o.kind()]
		off := o.Gap + f.wish.Outside/2
		if at.Sub(f.balls[i]).Norm()-f.radii[i]-off >= *least {
			continue
		}
		d := math.Inf(1)
		if o.Solid != nil {
			d = shape.Distance(here, o.Solid).Signed
		} else {
			for _, p := range o.Tube.Pieces {
				d = math.Min(d, shape.DistanceArc(p.Arc, o.Tube.Radius, here).Signed)
			}
		}
		*least = math.Min(*least, d-off)
	}
	return room{[3]float32{float32(by[0]), float32(by[1]), float32(by[2])}, true}
}

// at is the room at a place, linear between the nodes about it; beyond the grid the
// room is less by how far it is beyond. first and last say that the place is on the
// run's first or last straight.
func (f *field) at(p r3.Vector, first, last bool) float64 {
	rel := p.Sub(f.low).Mul(1 / f.step)
	x := [3]float64{rel.X, rel.Y, rel.Z}
	var i [3]int
	beyond := 0.0
	for k := range x {
		most := float64(f.n[k] - 1)
		if x[k] < 0 {
			beyond, x[k] = beyond-x[k], 0
		} else if x[k] > most {
			beyond, x[k] = beyond+x[k]-most, most
		}
		i[k] = min(int(x[k]), f.n[k]-2)
		x[k] -= float64(i[k])
	}
	sum := 0.0
	for c := range 8 {
		share := 1.0
		j := i
		for k := range 3 {
			if c>>k&1 == 1 {
				j[k]++
				share *= x[k]
			} else {
				share *= 1 - x[k]
			}
		}
		if share > 0 {
			sum += share * f.node(j).least(first, last)
		}
	}
	return sum - beyond*f.step
}

func (r *room) least(first, last bool) float64 {
	least := r.by[always]
	if !first {
		least = min(least, r.by[notFirst])
	}
	if !last {
		least = min(least, r.by[notLast])
	}
	return float64(least)
}
