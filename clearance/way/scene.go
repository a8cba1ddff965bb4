package way

import (
	"math"
	"slices"

	"github.com/golang/geo/r3"

	"elbowroom/solid/shape"
)

// Part is a solid of the assembly at home.
type Part struct {
	Name  string
	Solid shape.Convex
}

// Thing is a convex piece of what is in the way, and how far the assembly must keep
// from it, mm: what the uncertainty of its place needs. Less than its distance at home
// is asked of nothing, else there would be no first step.
type Thing struct {
	Name  string
	Solid shape.Convex
	Needs float64
}

// Scene is an assembly, what is in its way, and the room that it must leave.
type Scene struct {
	Parts  []Part
	Things []Thing
	// Pivot is what turns are about: the middle of the body.
	Pivot r3.Vector
	// Room is left when all parts are beyond one of its sides. Its back, where z is
	// least, is no way out.
	Room shape.Span
	// Axes are the directions that Room is along, each of length 1; the zero Axes are the
	// frame's own.
	Axes [3]r3.Vector
	// Unseen are directions, at home, in which nobody looked: a way straight out is tried
	// there last.
	Unseen []r3.Vector
}

// axes are the room's directions.
func (s Scene) axes() [3]r3.Vector {
	if s.Axes == ([3]r3.Vector{}) {
		return [3]r3.Vector{{X: 1}, {Y: 1}, {Z: 1}}
	}
	return s.Axes
}

// along takes a direction from the room's axes to the frame's.
func (s Scene) along(d r3.Vector) r3.Vector {
	a := s.axes()
	return a[0].Mul(d.X).Add(a[1].Mul(d.Y)).Add(a[2].Mul(d.Z))
}

// Extent is how far a solid without a Behind reaches along the room's axes.
func (s Scene) Extent(c shape.Convex) (e shape.Span) {
	for k, a := range s.axes() {
		e.Low[k] = c.Support(a.Mul(-1)).Dot(a) - c.Radius()
		e.High[k] = c.Support(a).Dot(a) + c.Radius()
	}
	return e
}

// crawl is by how much a thing's need stays under its distance at home, mm, so that a
// first step can be told from a touch.
const crawl = 0.02

// course is a scene made ready.
type course struct {
	Scene
	reach []float64    // of each part from the pivot
	spans []shape.Span // of the things
	needs [][]float64  // of each part from each thing
	exits []exit       // the sides to leave by, those first where somebody looked
	last  [2]int       // the pair that was in the way last
	spent int          // distances worked out
}

func ready(s Scene) *course {
	c := &course{Scene: s, exits: seenFirst(s, exits(), exit.dir)}
	for _, p := range s.Parts {
		middle, radius := p.Solid.Bounds()
		c.reach = append(c.reach, middle.Sub(s.Pivot).Norm()+radius)
	}
	c.Things = slices.Clone(s.Things)
	for k, t := range s.Things {
		c.spans = append(c.spans, shape.SpanOf(t.Solid))
		c.Things[k].Solid = shape.Prepare(t.Solid)
	}
	for _, p := range s.Parts {
		span := shape.SpanOf(p.Solid)
		row := make([]float64, len(s.Things))
		for k, t := range s.Things {
			row[k] = t.Needs
			if span.Off(c.spans[k]) < t.Needs+crawl {
				row[k] = math.Min(t.Needs, shape.Distance(p.Solid, t.Solid).Signed-crawl)
			}
		}
		c.needs = append(c.needs, row)
	}
	return c
}

// farthest is the greatest reach of all parts.
func (c *course) farthest() float64 {
	most := 0.0
	for _, r := range c.reach {
		most = math.Max(most, r)
	}
	return most
}

// span holds all parts in a pose, along the room's axes.
func (c *course) span(p Pose) shape.Span {
	m := between(p, p).at(0, c.Pivot)
	all := c.Extent(m.shape(c.Parts[0].Solid))
	for _, part := range c.Parts[1:] {
		all = all.Join(c.Extent(m.shape(part.Solid)))
	}
	return all
}

// seen says whether a direction goes nowhere that nobody looked, the directions of the
// unseen sides being square to each other.
func (s Scene) seen(d r3.Vector) bool {
	for _, u := range s.Unseen {
		if s.along(d).Dot(u) > 1e-6*d.Norm() { // beyond rounding
			return false
		}
	}
	return true
}

// seenFirst puts the directions where somebody looked first, in the order that they have.
func seenFirst[T any](s Scene, list []T, dir func(T) r3.Vector) []T {
	var out, last []T
	for _, d := range list {
		if s.seen(dir(d)) {
			out = append(out, d)
		} else {
			last = append(last, d)
		}
	}
	return append(out, last...)
}

// exit is a side of the room to leave by.
type exit struct {
	axis int
	sign float64
}

// exits are all but the back, the front first.
func exits() []exit {
	return []exit{{2, 1}, {1, 1}, {0, 1}, {0, -1}, {1, -1}}
}

// dir is its direction, along the room's axes.
func (e exit) dir() r3.Vector {
	var d [3]float64
	d[e.axis] = e.sign
	return r3.Vector{X: d[0], Y: d[1], Z: d[2]}
}

// left is how far along an exit the assembly must still go to be outside.
func (c *course) left(s shape.Span, e exit) float64 {
	if e.sign > 0 {
		return math.Max(0, c.Room.High[e.axis]-s.Low[e.axis])
	}
	return math.Max(0, s.High[e.axis]-c.Room.Low[e.axis])
}

// nearestExit is the exit with the least left to go.
func (c *course) nearestExit(s shape.Span) (e exit, left float64) {
	left = math.Inf(1)
	for _, x := range exits() {
		if d := c.left(s, x); d < left {
			e, left = x, d
		}
	}
	return e, left
}
