package hose

import (
	"math"

	"github.com/golang/geo/r3"
)

// tracer strings arcs together into a run.
type tracer struct{ run Run }

func newTracer(from r3.Vector) *tracer {
	return &tracer{Run{Points: []r3.Vector{from}, Bends: []Bend{{From: from, To: from}}}}
}

// widest is the angle of the widest arc that is drawn as one: at a corner of a third
// of a circle its legs are 1.7 radii long; a half circle has no corner at all.
const widest = 2 * math.Pi / 3

// arc adds an arc from at, going ahead, turning by angle toward side (unit, square
// to ahead): as one bend, or as equal ones that follow each other.
func (t *tracer) arc(at, ahead r3.Vector, angle, radius float64, side r3.Vector) {
	if angle <= straightTurn {
		return
	}
	n := int(math.Ceil(angle/widest - 1e-9))
	step := angle / float64(n)
	place := func(turned float64) (r3.Vector, r3.Vector) {
		sin, cos := math.Sincos(turned)
		half := math.Sin(turned / 2)
		return at.Add(ahead.Mul(radius * sin)).Add(side.Mul(2 * radius * half * half)), ahead.Mul(cos).Add(side.Mul(sin))
	}
	for k := range n {
		from, way := place(step * float64(k))
		to, _ := place(step * float64(k+1))
		back := radius * math.Tan(step/2)
		t.run.Points = append(t.run.Points, from.Add(way.Mul(back)))
		t.run.Bends = append(t.run.Bends, Bend{Turn: step, Radius: radius, From: from, To: to, Back: back})
	}
}

func (t *tracer) end(to r3.Vector) Run {
	t.run.Points = append(t.run.Points, to)
	t.run.Bends = append(t.run.Bends, Bend{From: to, To: to})
	return t.run
}
