package shape

import (
	"math"

	"github.com/golang/geo/r3"
)

// Support is the hull's farthest own point along dir; Behind is left out. Of
// several the first. An empty hull gives the origin.
func (h Hull) Support(dir r3.Vector) r3.Vector {
	if len(h.Points) == 0 {
		return r3.Vector{}
	}
	return h.Points[farthest(h.Points, dir)]
}

// Radius is Grow, or 0 where Grow is below 0.
func (h Hull) Radius() float64 { return max(h.Grow, 0) }

// Bounds is a ball around the box of the hull's points. Its radius is +Inf with
// Behind, -Inf for an empty hull.
func (h Hull) Bounds() (middle r3.Vector, radius float64) {
	middle, radius = ball(h.Points)
	if h.Behind != (r3.Vector{}) && len(h.Points) > 0 {
		return middle, math.Inf(1)
	}
	return middle, radius + h.Radius()
}

// Support is the box's corner farthest along dir.
func (b Box) Support(dir r3.Vector) r3.Vector {
	at := b.Corner
	for _, edge := range b.Edges {
		if dir.Dot(edge) > 0 {
			at = at.Add(edge)
		}
	}
	return at
}

// Radius is 0.
func (b Box) Radius() float64 { return 0 }

// Bounds is the ball through the box's corners.
func (b Box) Bounds() (middle r3.Vector, radius float64) {
	middle = b.Corner
	squared := 0.0
	for i, edge := range b.Edges {
		middle = middle.Add(edge.Mul(0.5))
		// The longest diagonal, should the edges not be square to each other.
		squared += edge.Norm2() + 2*math.Abs(edge.Dot(b.Edges[(i+1)%3]))
	}
	return middle, math.Sqrt(squared) / 2
}

// Support is the cylinder's point farthest along dir: on a rim, or the middle
// of an end where dir runs along the axis.
func (c Cylinder) Support(dir r3.Vector) r3.Vector {
	return c.rim(dir, unit(c.Axis))
}

// rim is Support, given the axis' unit direction.
func (c *Cylinder) rim(dir, along r3.Vector) r3.Vector {
	at := c.Foot
	out, slope, far := offAxis(dir, along)
	if slope > 0 {
		at = at.Add(c.Axis)
	}
	if far == 0 {
		return at
	}
	return at.Add(out.Mul(c.Across))
}

// offAxis splits v into its length up along a unit direction and its length far
// square to that, toward out. Where v runs along the axis but for rounding, which
// need not be square to anything, far is 0 and out is any direction square to it.
func offAxis(v, along r3.Vector) (out r3.Vector, up, far float64) {
	up = v.Dot(along)
	out = v.Sub(along.Mul(up))
	if !(out.Norm2() > level*level*v.Norm2()) {
		return along.Ortho(), up, 0
	}
	out = out.Sub(along.Mul(out.Dot(along))) // twice is enough
	far = out.Norm()
	return out.Mul(1 / far), up, far
}

// Radius is 0: Across is part of the core.
func (c Cylinder) Radius() float64 { return 0 }

// Bounds is the ball through the cylinder's rims.
func (c Cylinder) Bounds() (middle r3.Vector, radius float64) {
	half := c.Axis.Mul(0.5)
	return c.Foot.Add(half), math.Sqrt(half.Norm2() + c.Across*c.Across)
}

// farthest is the index of the first point farthest along dir.
func farthest(points []r3.Vector, dir r3.Vector) int {
	best, most := 0, points[0].Dot(dir)
	for i := 1; i < len(points); i++ {
		if far := points[i].Dot(dir); far > most {
			best, most = i, far
		}
	}
	return best
}

// ball is a ball that holds the points: the middle of their axis-aligned box
// and the farthest point from it. No points: radius -Inf.
func ball(points []r3.Vector) (middle r3.Vector, radius float64) {
	if len(points) == 0 {
		return r3.Vector{}, math.Inf(-1)
	}
	low, high := points[0], points[0]
	for _, p := range points[1:] {
		low = r3.Vector{X: min(low.X, p.X), Y: min(low.Y, p.Y), Z: min(low.Z, p.Z)}
		high = r3.Vector{X: max(high.X, p.X), Y: max(high.Y, p.Y), Z: max(high.Z, p.Z)}
	}
	middle = low.Add(high).Mul(0.5)
	squared := 0.0
	for _, p := range points {
		squared = max(squared, p.Sub(middle).Norm2())
	}
	return middle, math.Sqrt(squared)
}
