package shape

import (
	"github.com/golang/geo/r3"
)

// arrow is the exact difference to - from. An endless one is a core's ray.
type arrow struct {
	from, to r3.Vector
	endless  bool
}

// vector is the arrow rounded: each component is off by at most 2^-53 of itself.
func (a arrow) vector() r3.Vector { return a.to.Sub(a.from) }

func (a arrow) exact() r3.PreciseVector { return exactly(a.to, a.from) }

// axis is a direction in which two cores may be parted: u x v.
type axis struct{ u, v arrow }

func (x axis) exact() r3.PreciseVector { return x.u.exact().Cross(x.v.exact()) }

// square takes the rounding out of the axis' direction n that makes it lean on a
// ray it is meant to be square to.
func (x axis) square(n r3.Vector) r3.Vector {
	for _, a := range [2]arrow{x.u, x.v} {
		if a.endless {
			ray := unit(a.to)
			n = n.Sub(ray.Mul(n.Dot(ray)))
		}
	}
	return n
}

// normal is the axis' unit direction, right to a few roundings even where u and
// v are nearly parallel; zero where they are parallel.
func (x axis) normal() r3.Vector {
	u, v := x.u.vector(), x.v.vector()
	n := u.Cross(v)
	// The error is below 8 roundings of |u||v|, see divide.try: here 1e-12 of n.
	if n.Norm() > u.Norm()*v.Norm()/(1<<10) {
		return unit(x.square(n))
	}
	exact := x.exact()
	if zero(exact) {
		return r3.Vector{}
	}
	return unit(x.square(direction(exact)))
}

// skeleton is what a planar core gives to the search for a parting direction:
// faces as their normals, edges as their directions.
type skeleton struct {
	faces []axis
	edges []arrow
}

// bones lists a planar core's faces and edges. A core with a ray has the ray
// for one more edge, and the strips that its edges sweep for more faces; those
// that are not on the outside do no harm, since any direction is a fair try.
func bones(c *core) skeleton {
	if c.kind == box {
		return boxBones(c.box)
	}
	known := c.surface()
	edges := len(known.edges)
	s := skeleton{faces: make([]axis, 0, len(known.faces)+edges), edges: make([]arrow, 0, edges+1)}
	for _, f := range known.faces {
		p := c.points[f[0]]
		s.faces = append(s.faces, axis{arrow{from: p, to: c.points[f[1]]}, arrow{from: p, to: c.points[f[2]]}})
	}
	for _, e := range known.edges {
		s.edges = append(s.edges, arrow{from: c.points[e[0]], to: c.points[e[1]]})
	}
	if c.ray != (r3.Vector{}) {
		ray := arrow{to: c.behind, endless: true}
		for _, e := range s.edges {
			s.faces = append(s.faces, axis{e, ray})
		}
		s.edges = append(s.edges, ray)
	}
	return s
}

func boxBones(b Box) skeleton {
	s := skeleton{faces: make([]axis, 0, 3), edges: make([]arrow, 0, 3)}
	for _, e := range b.Edges {
		if e != (r3.Vector{}) {
			s.edges = append(s.edges, arrow{to: e})
		}
	}
	for i := range s.edges {
		for j := i + 1; j < len(s.edges); j++ {
			s.faces = append(s.faces, axis{s.edges[i], s.edges[j]})
		}
	}
	return s
}
