package solid

import (
	"math"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"elbowroom/solid/shape"
)

// Turning is the choice that a keep-open volume leaves: which way round the tool
// is put on, and from where it comes.
type Turning struct {
	About, Axis, Twelve r3.Vector // a place on the axis, its unit direction outward, and 12 o'clock
	// Ways is the volume's pieces with its clock at 12, once for each way round.
	Ways [][]shape.Convex
	// Cores are simple shapes inside the volume, for each of Ways: where one of
	// them overlaps something, the volume does, as deep at least.
	Cores [][]shape.Convex
	// Any says that it may stand at any clock angle; else it stands at Clock.
	Any   bool
	Clock s1.Angle
	Sweep s1.Angle // what it swings through, clockwise from its clock; 0: nothing
	// Reach is how far the volume reaches from the axis, and Low and High from
	// About along it: turned all round, it stays in a cylinder of that size.
	Reach, Low, High float64
}

// Turned is the part with the volume put on a way round, its clock at an angle.
// Without Turning it is the part itself.
func (p Part) Turned(way int, clock s1.Angle) Part {
	if p.Turning == nil {
		return p
	}
	return p.turned(*p.Turning, way, clock)
}

func (p Part) turned(t Turning, way int, clock s1.Angle) Part {
	pieces := t.Ways[way]
	p.Solid, p.More = t.turn(pieces[0], clock), nil
	for _, q := range pieces[1:] {
		p.More = append(p.More, t.turn(q, clock))
	}
	return p
}

// Core is the simple shapes inside the volume, as it stands.
func (t Turning) Core(way int, clock s1.Angle) []shape.Convex {
	var out []shape.Convex
	for _, c := range t.Cores[way] {
		out = append(out, t.turn(c, clock))
	}
	return out
}

// Toward is the first of the simple shapes, swung on from its clock toward a place as far
// as the sweep goes; it too lies inside the volume.
func (t Turning) Toward(way int, clock s1.Angle, at r3.Vector) shape.Convex {
	d := at.Sub(t.About)
	turn := 2 * math.Pi
	on := math.Mod(math.Atan2(d.Dot(t.Twelve.Cross(t.Axis)), d.Dot(t.Twelve))-clock.Radians()+2*turn, turn)
	if sweep := t.Sweep.Radians(); on > sweep {
		if on-sweep < turn-on { // past the end, or before the start
			on = sweep
		} else {
			on = 0
		}
	}
	return t.turn(t.Cores[way][0], clock+s1.Angle(on))
}

// Round is the cylinder that holds the volume whichever way it stands.
func (t Turning) Round() shape.Cylinder {
	return shape.Cylinder{Foot: t.About.Add(t.Axis.Mul(t.Low)), Axis: t.Axis.Mul(t.High - t.Low), Across: t.Reach}
}

// turn turns a piece clockwise as seen from outside.
func (t Turning) turn(c shape.Convex, clock s1.Angle) shape.Convex {
	if clock == 0 {
		return c
	}
	sin, cos := math.Sincos(-clock.Radians())
	way := func(v r3.Vector) r3.Vector { // Rodrigues' formula
		return v.Mul(cos).Add(t.Axis.Cross(v).Mul(sin)).Add(t.Axis.Mul(t.Axis.Dot(v) * (1 - cos)))
	}
	place := func(v r3.Vector) r3.Vector { return t.About.Add(way(v.Sub(t.About))) }
	switch q := c.(type) {
	case shape.Box:
		return shape.Box{Corner: place(q.Corner), Edges: [3]r3.Vector{way(q.Edges[0]), way(q.Edges[1]), way(q.Edges[2])}}
	case shape.Cylinder:
		return shape.Cylinder{Foot: place(q.Foot), Axis: way(q.Axis), Across: q.Across}
	case shape.Hull:
		points := make([]r3.Vector, len(q.Points))
		for i, p := range q.Points {
			points[i] = place(p)
		}
		return shape.Hull{Points: points, Grow: q.Grow}
	}
	return c
}

// measure finds how far the volume reaches.
func (t *Turning) measure() {
	t.Low, t.High = math.Inf(1), math.Inf(-1)
	for _, way := range t.Ways {
		for _, c := range way {
			t.Low = math.Min(t.Low, c.Support(t.Axis.Mul(-1)).Sub(t.About).Dot(t.Axis))
			t.High = math.Max(t.High, c.Support(t.Axis).Sub(t.About).Dot(t.Axis))
			t.Reach = math.Max(t.Reach, t.reach(c))
		}
	}
}

// Off is how far a place is from the axis.
func (t Turning) Off(at r3.Vector) float64 {
	d := at.Sub(t.About)
	return d.Sub(t.Axis.Mul(d.Dot(t.Axis))).Norm()
}

// reach bounds how far a piece reaches from the axis: exact for a box and a hull,
// for a cylinder that of its rims' middles and its radius.
func (t Turning) reach(c shape.Convex) float64 {
	off := t.Off
	most := 0.0
	switch q := c.(type) {
	case shape.Cylinder:
		most = math.Max(off(q.Foot), off(q.Foot.Add(q.Axis))) + q.Across
	case shape.Hull:
		for _, p := range q.Points {
			most = math.Max(most, off(p))
		}
	case shape.Box:
		for k := range 8 {
			at := q.Corner
			for e := range 3 {
				if k>>e&1 == 1 {
					at = at.Add(q.Edges[e])
				}
			}
			most = math.Max(most, off(at))
		}
	}
	return most
}
