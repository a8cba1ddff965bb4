package motion

import (
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/solid/shape"
)

// Still is a thing that does not move: a convex shape, or the tube around an arc.
type Still struct {
	around shape.Convex // holds it; the shape itself where it is convex
	arc    shape.Arc
	radius float64 // of the tube around the arc
	bent   bool
}

// Solid is a convex thing that stands still.
func Solid(c shape.Convex) Still { return Still{around: c} }

// Bend is the tube of a radius around an arc, standing still.
func Bend(arc shape.Arc, radius float64) Still {
	around := shape.Hull{Points: []r3.Vector{arc.From, arc.Corner, arc.To}, Grow: radius}
	return Still{around: around, arc: arc, radius: radius, bent: true}
}

// Distance is the signed distance from the thing to a shape.
func (s Still) Distance(c shape.Convex) shape.Nearest {
	if s.bent {
		return shape.DistanceArc(s.arc, s.radius, c)
	}
	return shape.Distance(s.around, c)
}

// Moved is a convex shape in a pose. Boxes, hulls and cylinders stay what they are;
// of a shape of another make only the pose's turn of its three methods is seen.
func Moved(c shape.Convex, p Pose) shape.Convex {
	switch s := c.(type) {
	case shape.Hull:
		return movedHull(s, p, make([]r3.Vector, 0, len(s.Points)))
	case shape.Box:
		m := shape.Box{Corner: p.Move(s.Corner)}
		for i, e := range s.Edges {
			m.Edges[i] = p.Turn(e)
		}
		return m
	case shape.Cylinder:
		return shape.Cylinder{Foot: p.Move(s.Foot), Axis: p.Turn(s.Axis), Across: s.Across}
	}
	return moved{c, p}
}

// movedHull uses the room that is given for its points.
func movedHull(h shape.Hull, p Pose, room []r3.Vector) shape.Hull {
	for _, at := range h.Points {
		room = append(room, p.Move(at))
	}
	h.Points = room
	if h.Behind != (r3.Vector{}) {
		h.Behind = p.Turn(h.Behind)
	}
	return h
}

// moved is a shape of another make in a pose.
type moved struct {
	shape.Convex
	pose Pose
}

func (m moved) Support(dir r3.Vector) r3.Vector {
	return m.pose.Move(m.Convex.Support(m.pose.TurnBack(dir)))
}

func (m moved) Bounds() (middle r3.Vector, radius float64) {
	middle, radius = m.Convex.Bounds()
	return m.pose.Move(middle), radius
}

// behind is the unit direction in which a shape goes on without end, or zero.
func behind(c shape.Convex) r3.Vector {
	if h, ok := c.(shape.Hull); ok {
		return h.Behind.Normalize()
	}
	return r3.Vector{}
}

// reach bounds the distance of a shape's core from an axis: exactly, but for a
// cylinder and for a shape of another make. +Inf for one that goes on without end.
func reach(c shape.Convex, on, axis r3.Vector) float64 {
	from := func(p r3.Vector) float64 { return p.Sub(on).Cross(axis).Norm() }
	most := 0.0
	switch s := c.(type) {
	case shape.Hull:
		if s.Behind != (r3.Vector{}) {
			return math.Inf(1)
		}
		for _, p := range s.Points {
			most = max(most, from(p))
		}
		return most
	case shape.Box:
		for k := range 8 {
			p := s.Corner
			for e := range 3 {
				if k>>e&1 == 1 {
					p = p.Add(s.Edges[e])
				}
			}
			most = max(most, from(p))
		}
		return most
	case shape.Cylinder:
		return max(from(s.Foot), from(s.Foot.Add(s.Axis))) + s.Across
	}
	middle, radius := c.Bounds()
	return from(middle) + radius
}
