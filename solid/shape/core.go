package shape

import (
	"math"

	"github.com/golang/geo/r3"
)

// kind says how a core's support point is found.
type kind uint8

const (
	hull kind = iota
	box
	cylinder
	other // a Convex made elsewhere, known by its support point only
)

// core is what the kernel works on: a shape without its radius.
type core struct {
	kind   kind
	points []r3.Vector // of a hull
	box    Box
	round  Cylinder
	along  r3.Vector // a cylinder's unit axis; zero where it has no length
	given  Convex    // of kind other
	radius float64
	size   float64   // bounds the coordinates that working with its points may meet
	behind r3.Vector // Behind as given
	ray    r3.Vector // its unit direction; zero: bounded
	known  *surface  // faces found by Prepare, or nil
}

// open reads a shape into a core.
func open(c Convex) core {
	var opened core
	switch s := c.(type) {
	case Hull:
		opened = openHull(s)
	case Box:
		opened = core{kind: box, box: s}
	case Cylinder:
		opened = openCylinder(s)
	case *prepared:
		return s.core
	default:
		opened = core{kind: other, given: c, radius: c.Radius()}
	}
	opened.size = opened.sizeOf()
	return opened
}

func openHull(h Hull) core {
	return core{kind: hull, points: h.Points, radius: h.Radius(), behind: h.Behind, ray: unit(h.Behind)}
}

// openCylinder reads a cylinder. Without Across it is a segment, without Axis
// a ball: boxes with edges of length 0.
func openCylinder(s Cylinder) core {
	switch {
	case s.Axis == r3.Vector{}:
		return core{kind: box, box: Box{Corner: s.Foot}, radius: max(s.Across, 0)}
	case s.Across <= 0:
		return core{kind: box, box: Box{Corner: s.Foot, Edges: [3]r3.Vector{s.Axis}}}
	}
	return core{kind: cylinder, round: s, along: unit(s.Axis)}
}

func (c *core) empty() bool { return c.kind == hull && len(c.points) == 0 }

// planar says that the core is a polyhedron.
func (c *core) planar() bool { return c.kind == hull || c.kind == box }

// support is the core's point farthest along dir, without its ray, and a number
// that names it: a hull's index, a box's corner, -1 on a curved surface.
func (c *core) support(dir r3.Vector) (r3.Vector, int) {
	switch c.kind {
	case hull:
		i := farthest(c.points, dir)
		return c.points[i], i
	case box:
		at, name := c.box.Corner, 0
		for i, edge := range c.box.Edges {
			if dir.Dot(edge) > 0 {
				at, name = at.Add(edge), name|1<<i
			}
		}
		return at, name
	case cylinder:
		return c.round.rim(dir, c.along), -1
	}
	return c.given.Support(dir), -1
}

// middle is some place inside the core: a start for the search.
func (c *core) middle() r3.Vector {
	switch {
	case c.kind != hull:
		at, _ := c.ball()
		return at
	case len(c.points) == 2:
		return c.points[0].Add(c.points[1]).Mul(0.5)
	case len(c.points) == 3:
		return c.points[0].Add(c.points[1]).Add(c.points[2]).Mul(1.0 / 3)
	}
	p, n := c.points, len(c.points)
	return p[0].Add(p[n/4]).Add(p[n/2]).Add(p[3*n/4]).Mul(0.25)
}

// corner is one of a planar core's corners as given.
func (c *core) corner() r3.Vector {
	if c.kind == box {
		return c.box.Corner
	}
	return c.points[0]
}

// ball holds the core without its ray.
func (c *core) ball() (middle r3.Vector, radius float64) {
	switch c.kind {
	case hull:
		return ball(c.points)
	case box:
		return c.box.Bounds()
	case cylinder:
		return c.round.Bounds()
	}
	return c.given.Bounds()
}

// sizeOf bounds the coordinates that working with the core's points may meet.
func (c *core) sizeOf() float64 {
	switch c.kind {
	case hull:
		most := 0.0
		for _, p := range c.points {
			most = max(most, largest(p))
		}
		return most
	case box:
		return c.box.size()
	case cylinder:
		return c.round.size()
	}
	middle, radius := c.ball()
	return largest(middle) + radius
}

func (b *Box) size() float64 {
	return largest(b.Corner) + largest(b.Edges[0]) + largest(b.Edges[1]) + largest(b.Edges[2])
}

func (c *Cylinder) size() float64 { return largest(c.Foot) + largest(c.Axis) + c.Across }

// surface is what a hull's points enclose, from Prepare or found now.
func (c *core) surface() *surface {
	if c.known != nil {
		return c.known
	}
	found := enclose(c.points)
	return &found
}

func (c *core) measurable() bool {
	switch c.kind {
	case hull:
		return measurable(c.points...) && measurable(c.behind)
	case box:
		return measurable(c.box.Corner) && measurable(c.box.Edges[:]...)
	}
	middle, radius := c.ball()
	return measurable(middle) && math.Abs(radius) < mostSize
}
