package largest

import (
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/clearance"
	"elbowroom/solid"
	"elbowroom/solid/shape"
)

// core is a solid that lies within a part of the box wherever the box's faces
// are: an upright box whose six faces move with the faces of the body, grown
// across the round axes by a radius. The body and brackets are theirs; an upright
// cylinder is its axis with two round axes; of one that leans a ball in it.
type core struct {
	low, high face3
	round     [3]bool
	radius    float64
	follow    [3]float64
	body      bool
	leans     bool // its core is less than the part
}

// face3 says along each axis where a face of a part is: at share of the way from
// the body's low face to its high one, and off beyond.
type face3 struct{ share, off [3]float64 }

// at gives the range of a face along an axis in a node.
func (f face3) at(n *node, axis int) (from, to float64) {
	s := f.share[axis]
	return (1-s)*n.from[axis] + s*n.from[axis+3] + f.off[axis], (1-s)*n.to[axis] + s*n.to[axis+3] + f.off[axis]
}

// coreOf is the core of a part of a tank of that size. q is where it is wanted to
// reach, in the box's frame: it decides which ball of a leaning part is taken.
func coreOf(p solid.Part, t solid.Tank, toward r3.Vector) core {
	if p.Kind == solid.Body {
		c := core{body: true}
		for a := range 3 {
			c.low.off[a], c.high.off[a], c.high.share[a] = -t.Coat, t.Coat, 1
		}
		return c
	}
	var lo, hi r3.Vector
	c := core{follow: components(p.Follow)}
	switch s := p.Solid.(type) {
	case shape.Box:
		lo, hi = s.Corner, s.Corner.Add(s.Edges[0]).Add(s.Edges[1]).Add(s.Edges[2])
	case shape.Cylinder:
		lo, hi = s.Foot, s.Foot.Add(s.Axis)
		upright := -1
		for a, x := range components(s.Axis) {
			if x != 0 && math.Abs(x) == s.Axis.Norm() {
				upright = a
			}
		}
		c.radius = s.Across
		if upright < 0 {
			lo, c.radius = ballIn(s, toward)
			c.leans = true
			hi = lo
		}
		for a := range 3 {
			c.round[a] = a != upright
		}
	default:
		lo, _ = p.Solid.Bounds()
		lo = p.Solid.Support(toward.Sub(lo))
		hi, c.leans = lo, true
	}
	l, h, size := components(lo), components(hi), components(t.Size.Vector())
	for a := range 3 {
		l[a], h[a] = min(l[a], h[a]), max(l[a], h[a])
		c.low.share[a], c.high.share[a] = c.follow[a], c.follow[a]
		c.low.off[a] = l[a] - c.follow[a]*size[a]
		c.high.off[a] = h[a] - c.follow[a]*size[a]
	}
	return c
}

// ballIn is the largest ball in a cylinder that is nearest to a place.
func ballIn(c shape.Cylinder, to r3.Vector) (middle r3.Vector, radius float64) {
	length := c.Axis.Norm()
	if length == 0 {
		return c.Foot, c.Across
	}
	radius = min(c.Across, length/2)
	along := to.Sub(c.Foot).Dot(c.Axis) / length
	along = min(length-radius, max(radius, along))
	return c.Foot.Add(c.Axis.Mul(along / length)), radius
}

// off is the distance of a place from a core that is beyond its faces by o along
// the axes.
func (c *core) off(o [3]float64) float64 {
	var round, straight float64
	for a, x := range o {
		if c.round[a] {
			round += x * x
		} else {
			straight += x * x
		}
	}
	r := max(0, math.Sqrt(round)-c.radius)
	return math.Sqrt(r*r + straight)
}

// side is one side of a part on which a place can be off, and by how much in a node.
type side struct {
	axis, high int
	from, to   float64
}

// cover gives children of a node that together hold every box of it of which the
// part with that core keeps what is needed from a place q. ok is false where they
// would not be smaller than the node.
//
// A place is off a core along an axis where it is beyond its faces. Off along one
// axis alone it is off by what is needed straight off that face, with the
// uncertainty in that one direction. Else it is off along two axes at least. So
// the children are: off by so much on one side; or off at all on two sides of
// different axes. Where a place is off along two axes in all of the node, a point
// of the surface at which the distance is what is needed there gives the children:
// beyond it along one of the axes.
func (s *search) cover(n *node, c core, q r3.Vector, d need, stand clearance.Stand) (children []*node, ok bool) {
	at := components(q)
	var sides []side
	var on [3]int // 1 + the side on which the place is off in all of the node
	var least [3]float64
	count := 0
	for a := range 3 {
		from, to := c.low.at(n, a)
		low := side{a, 0, from - at[a], to - at[a]}
		from, to = c.high.at(n, a)
		high := side{a, 1, at[a] - to, at[a] - from}
		for _, x := range [2]side{low, high} {
			if x.from >= d.slack-2*loose && on[a] == 0 {
				on[a], least[a] = 1+x.high, max(0, x.from)
				count++
			}
		}
		for _, x := range [2]side{low, high} {
			if on[a] == 1+x.high || on[a] == 0 && x.to > -d.slack {
				sides = append(sides, x)
			}
		}
	}
	if count >= 2 {
		return s.beyond(n, c, q, d, sides, least, stand)
	}
	for _, x := range sides {
		if count == 1 && on[x.axis] == 0 {
			continue // off along that axis it is off along two
		}
		t := d.face(x.axis, x.high)
		if c.round[x.axis] {
			t += c.radius
		}
		t -= d.slack
		if x.from >= t-loose {
			return nil, false
		}
		if x.to >= t {
			children = s.child(children, n, &c, x, at, t)
		}
	}
	for i, x := range sides {
		for _, y := range sides[:i] {
			if x.axis == y.axis || count == 1 && on[x.axis] == 0 && on[y.axis] == 0 {
				continue
			}
			m := *n
			if s.hold(&m, &c, x, at, max(-d.slack, x.from)) && s.hold(&m, &c, y, at, max(-d.slack, y.from)) {
				children = s.refine(children, n, &m, c, q, d, stand)
			}
		}
	}
	return children, true
}

// refine adds a child that is off on two sides, or where that still holds the box
// that falls short (a round part is off its own axis nearly everywhere) or is hardly
// smaller, its own children.
func (s *search) refine(to []*node, n, m *node, c core, q r3.Vector, d need, stand clearance.Stand) []*node {
	// Where the turn hides something the child is not known to be off on both.
	if d.slack == 0 && (m.holds(stand) || m.key > slow*n.key) {
		if more, ok := s.cover(m, c, q, d, stand); ok {
			return append(to, more...)
		}
	}
	return append(to, m)
}

// leastCut is the least by which a cut over an edge must take a node down, mm:
// smaller ones would go on for ever.
const leastCut = 0.02

// beyond is cover for a place that is off along two axes or three. least is by how
// much it is off at least; the point is looked for beyond where the box that falls
// short is.
func (s *search) beyond(n *node, c core, q r3.Vector, d need, sides []side, least [3]float64, stand clearance.Stand) (children []*node, ok bool) {
	at := components(q)
	var way, ends [3]float64
	var high [3]int
	base := least
	for _, x := range sides {
		high[x.axis] = x.high
		ends[x.axis] = max(ends[x.axis], x.to)
		base[x.axis] = max(base[x.axis], min(x.to, c.offAt(stand, x, at)))
		if x.to > max(0, x.from)+leastCut/16 {
			way[x.axis] = 1
		} else {
			base[x.axis] = max(base[x.axis], x.to) // it cannot be off by more
		}
	}
	limit := s.along(c, base, way, d.base+d.most)
	for a := range 3 { // no farther than the node goes
		limit[a] = min(limit[a], max(base[a], ends[a]))
	}
	var wanted float64
	if c.anyRound() {
		wanted = d.rim(c, least, limit, high)
	} else {
		wanted = d.corner(least, limit, high)
	}
	wanted -= d.slack
	if c.off(base) >= wanted-loose {
		return nil, false
	}
	t := s.along(c, base, way, wanted)
	moved := 0.0
	for _, x := range sides {
		if way[x.axis] == 0 {
			continue
		}
		moved = max(moved, t[x.axis]-base[x.axis])
		if x.to >= t[x.axis] {
			children = s.child(children, n, &c, x, at, t[x.axis])
		}
	}
	return children, moved >= leastCut || len(children) == 0
}

// offAt is by how much a place is off a part on a side of a box that stands.
func (c *core) offAt(stand clearance.Stand, x side, at [3]float64) float64 {
	lo, hi := components(stand.Lo)[x.axis], components(stand.Hi)[x.axis]
	if x.high == 1 {
		f := c.high.share[x.axis]
		return at[x.axis] - ((1-f)*lo + f*hi + c.high.off[x.axis])
	}
	f := c.low.share[x.axis]
	return (1-f)*lo + f*hi + c.low.off[x.axis] - at[x.axis]
}

func (c *core) anyRound() bool { return c.round[0] || c.round[1] || c.round[2] }

// along goes from offsets that way until the distance is as wanted: not beyond it, so
// that boxes at it are still in a child.
func (s *search) along(c core, from, way [3]float64, wanted float64) [3]float64 {
	if way == ([3]float64{}) {
		return from
	}
	at := func(by float64) (o [3]float64) {
		for a := range 3 {
			o[a] = from[a] + by*way[a]
		}
		return o
	}
	// The distance is convex: the line from the low end to the high one meets what is
	// wanted before it does; the middle helps where that is slow.
	lo, hi := 0.0, wanted+c.radius+1
	least, most := c.off(from), c.off(at(hi))
	for range 60 { // halves down to the last bit
		if hi-lo <= loose/16 {
			break
		}
		mid := lo + (hi-lo)*max(0.01, min(0.99, (wanted-least)/(most-least)))
		if d := c.off(at(mid)); d < wanted {
			lo, least = mid, d
		} else {
			hi, most = mid, d
		}
		mid = (lo + hi) / 2
		if d := c.off(at(mid)); d < wanted {
			lo, least = mid, d
		} else {
			hi, most = mid, d
		}
	}
	return at(lo)
}

// child adds the boxes of a node that hold a part off a place by t on a side.
func (s *search) child(to []*node, n *node, c *core, x side, at [3]float64, t float64) []*node {
	m := *n
	if s.hold(&m, c, x, at, t) {
		return append(to, &m)
	}
	return to
}

// loose is by how much a cut leaves more than it must, mm: a thousandth of what
// counts as reaching, and far more than places of 10 m are rounded by.
const loose = 1e-9

// hold narrows a node down so; ok is false where nothing is left of it.
func (s *search) hold(m *node, c *core, x side, at [3]float64, t float64) bool {
	a, h := x.axis, x.axis+3
	t -= loose
	if x.high == 1 { // the face no farther than v
		f, v := c.high.share[a], at[a]-t-c.high.off[a]
		if f > 0 {
			m.to[h] = min(m.to[h], (v-(1-f)*m.from[a])/f)
		}
		if f < 1 {
			m.to[a] = min(m.to[a], (v-f*m.from[h])/(1-f))
		}
	} else {
		f, v := c.low.share[a], at[a]+t-c.low.off[a]
		if f > 0 {
			m.from[h] = max(m.from[h], (v-(1-f)*m.to[a])/f)
		}
		if f < 1 {
			m.from[a] = max(m.from[a], (v-f*m.to[h])/(1-f))
		}
	}
	return s.settle(m)
}
