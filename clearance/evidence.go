package clearance

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"elbowroom/solid/shape"
)

// sight is one piece of evidence: what was touched or declared, by its own
// surface without what lies behind it; a line that a tape or a probe lay along;
// the room of a mock-up that stood there. Solid or free, nothing else is there.
type sight struct {
	solid   shape.Convex
	corners []r3.Vector
	grow    float64
	middle  r3.Vector
	radius  float64
}

func hullSight(points []r3.Vector, grow float64) sight {
	h := shape.Hull{Points: points, Grow: grow}
	s := sight{solid: h, corners: points, grow: grow}
	s.middle, s.radius = h.Bounds()
	return s
}

// evidence collects all of it, in the box's frame.
func (c *checker) evidence() []sight {
	var out []sight
	for i := range c.features {
		o := &c.features[i]
		for _, p := range o.pieces {
			points := make([]r3.Vector, len(p.nodes))
			for k, n := range p.nodes {
				points[k] = o.nodes[n]
			}
			out = append(out, hullSight(points, o.feature.Grow))
		}
	}
	for _, l := range c.space.Free {
		out = append(out, hullSight([]r3.Vector{c.pose.local(l.From), c.pose.local(l.To)}, 0))
	}
	for _, t := range c.rules.Tried {
		if s, ok := c.tried(t); ok {
			out = append(out, s)
		}
	}
	return out
}

// tried is a mock-up's room, less on every side by how near it is known; ok is
// false where nothing is left of it.
func (c *checker) tried(t Tried) (sight, bool) {
	in := r3.Vector{X: t.Within, Y: t.Within, Z: t.Within}
	lo, hi := t.At.Add(in), t.At.Add(t.Size).Sub(in)
	d := hi.Sub(lo)
	if d.X <= 0 || d.Y <= 0 || d.Z <= 0 {
		return sight{}, false
	}
	box := shape.Box{Corner: c.pose.local(lo), Edges: [3]r3.Vector{
		c.pose.turnIn(r3.Vector{X: d.X}), c.pose.turnIn(r3.Vector{Y: d.Y}), c.pose.turnIn(r3.Vector{Z: d.Z}),
	}}
	s := sight{solid: box}
	s.middle, s.radius = box.Bounds()
	return s, true
}

// within lists the evidence, by its index in sights, that can count for the gap in front of a window: as
// far as the nearest can be from any place in it.
func (c *checker) within(w window, gap float64) []int32 {
	lo, hi := w.slab(gap)
	middle, radius := lo.Add(hi).Mul(0.5), hi.Sub(lo).Norm()/2
	nearest := math.Inf(1)
	for _, s := range c.sights {
		nearest = math.Min(nearest, middle.Sub(s.middle).Norm()+s.radius)
	}
	limit := math.Max(c.rules.SeenWithin, nearest+radius)
	out := make([]int32, 0, len(c.sights))
	for i, s := range c.sights {
		if middle.Sub(s.middle).Norm()-s.radius-radius <= limit {
			out = append(out, int32(i))
		}
	}
	return out
}

// coverDepth is how often a side is halved each way for its cover: sixteenths
// of a side are finer than anyone places a probe.
const coverDepth = 4

// cover is the share of a side in front of which, within its gap, there is
// evidence within SeenWithin.
func (c *checker) cover(w window, gap float64, near []int32) float64 {
	s := seeker{window: w, gap: gap, enough: c.rules.SeenWithin, sights: c.sights}
	half := r2.Point{X: (w.hi[0] - w.lo[0]) / 2, Y: (w.hi[1] - w.lo[1]) / 2}
	return s.quarter(r2.Point{X: w.lo[0] + half.X, Y: w.lo[1] + half.Y}, half, near, coverDepth)
}

// seeker looks for evidence in front of a window.
type seeker struct {
	window window
	gap    float64
	enough float64
	sights []sight
	near   [coverDepth + 1][]int32 // scratch, one for each depth
}

// quarter gives the share of a cell that has evidence. The distance to a piece
// changes by no more than one moves, so that a piece with a corner near enough
// for the whole cell settles it, and one that is too far for all of it drops
// out; what is left is cut in four, and the smallest cells go by their middle.
func (s *seeker) quarter(middle, half r2.Point, sights []int32, depth int) float64 {
	reach := half.Norm()
	at := s.window.at(middle, s.gap/2)
	near := s.near[depth][:0]
	for _, i := range sights {
		p := &s.sights[i]
		if at.Sub(p.middle).Norm()-p.radius-s.gap/2 > s.enough+reach {
			continue
		}
		if p.corner(at)+s.gap/2+reach <= s.enough {
			return 1
		}
		if p.radius > 2*reach { // its ball says little about it
			off := p.off(at)
			if off-s.gap/2 > s.enough+reach {
				continue
			}
			if off+s.gap/2+reach <= s.enough {
				return 1
			}
		}
		near = append(near, i)
	}
	if len(near) == 0 {
		return 0
	}
	if depth == 0 {
		return s.leaf(middle, near)
	}
	s.near[depth] = near
	sum := 0.0
	half = half.Mul(0.5)
	for _, to := range [4]r2.Point{{X: -1, Y: -1}, {X: 1, Y: -1}, {X: -1, Y: 1}, {X: 1, Y: 1}} {
		sum += s.quarter(middle.Add(r2.Point{X: to.X * half.X, Y: to.Y * half.Y}), half, near, depth-1) / 4
	}
	return sum
}

// corner is how far the nearest of the piece's corners is: no less than the
// piece itself.
func (p *sight) corner(at r3.Vector) float64 {
	nearest := math.Inf(1)
	for _, q := range p.corners {
		nearest = math.Min(nearest, q.Sub(at).Norm2())
	}
	return math.Sqrt(nearest) - p.grow
}

// leaf says whether the gap in front of a place has evidence near enough.
func (s *seeker) leaf(middle r2.Point, near []int32) float64 {
	ray := shape.Hull{Points: []r3.Vector{s.window.at(middle, 0), s.window.at(middle, s.gap)}}
	at := s.window.at(middle, s.gap/2)
	for _, i := range near {
		p := &s.sights[i]
		off := p.off(at) // the ray reaches half a gap either way of its middle
		switch {
		case off <= s.enough:
			return 1
		case off-s.gap/2 > s.enough:
		case shape.Distance(ray, p.solid).Signed <= s.enough:
			return 1
		}
	}
	return 0
}
