package clearance

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"elbowroom/solid"
	"elbowroom/solid/shape"
	"elbowroom/survey"
)

// sides answers for each side of the body that something can come near: all
// but the back where a mount settles that.
func (c *checker) sides() []SideLine {
	var sides []solid.Side
	for _, side := range solid.Sides() {
		if side != solid.Back || c.pose.mount == nil {
			sides = append(sides, side)
		}
	}
	out := make([]SideLine, len(sides))
	inParallel(len(sides), func() func(int) {
		return func(i int) { out[i] = c.side(sides[i]) }
	})
	return out
}

func (c *checker) side(side solid.Side) SideLine {
	w := c.window(side)
	line := SideLine{Side: side}
	line.Nearest, line.Feature, line.Found = c.ahead(w)
	var look r3.Vector
	line.Cover, look = c.cover(w)
	line.Look = c.pose.world(look)
	for _, s := range c.rules.LookedAt {
		line.LookedAt = line.LookedAt || s == side
	}
	// Without the size of what could hide there unseen, cover alone proves
	// nothing: only a look does.
	if line.LookedAt {
		line.Verdict = Clears
	} else {
		line.Because = Unmeasured
	}
	return line
}

// window is a side of the body as looked out of: a rectangle at level along
// axis, over the ranges lo to hi of the two other axes, looking along sign.
type window struct {
	axis   int
	across [2]int
	sign   float64
	level  float64
	lo, hi [2]float64
}

func (c *checker) window(side solid.Side) window {
	t := c.assembly.Tank
	w := window{axis: side.Axis(), across: side.Axes(), sign: -1, level: -t.Coat}
	if side.Far() {
		w.sign, w.level = 1, t.Size.Along(w.axis)+t.Coat
	}
	for k, axis := range w.across {
		w.lo[k], w.hi[k] = -t.Coat, t.Size.Along(axis)+t.Coat
	}
	return w
}

// out is how far a place is out from the window.
func (w window) out(at r3.Vector) float64 { return w.sign * (at.Dot(solid.Axis(w.axis)) - w.level) }

// seen is a place as seen through the window: across, and out.
func (w window) seen(at r3.Vector) (across [2]float64, out float64) {
	for k, axis := range w.across {
		across[k] = at.Dot(solid.Axis(axis))
	}
	return across, w.out(at)
}

// at is the place at a point of the window, out from it.
func (w window) at(p r2.Point, out float64) r3.Vector {
	v := solid.Axis(w.axis).Mul(w.level + w.sign*out)
	v = v.Add(solid.Axis(w.across[0]).Mul(p.X))
	return v.Add(solid.Axis(w.across[1]).Mul(p.Y))
}

// ahead finds the nearest thing straight out from the window. The mount is
// beside every side, and straight out from none.
func (c *checker) ahead(w window) (nearest float64, feature string, found bool) {
	nearest = math.Inf(1)
	var cut cutter
	for i := range c.features {
		o := &c.features[i]
		if o.feature.Spec.Mount {
			continue
		}
		grow := o.feature.Grow
		wide := w
		for k := range wide.lo {
			wide.lo[k] -= grow
			wide.hi[k] += grow
		}
		for _, p := range o.pieces {
			if shape.Gap(c.body(), p.solid) > nearest {
				continue
			}
			if out := cut.nearest(wide, o, p) - grow; out < nearest {
				nearest, feature, found = out, o.feature.Spec.Name, true
			}
		}
	}
	return math.Max(0, nearest), feature, found
}

// body is the body's solid.
func (c *checker) body() shape.Convex { return c.assembly.Parts[0].Solid }

// cutter cuts polygons at a window's edges; it keeps scratch space.
type cutter struct{ polygon, kept []r3.Vector }

// nearest is the least distance out at which a piece comes into the window's
// view, plus infinity where it does not.
func (c *cutter) nearest(w window, o *obstacle, p piece) float64 {
	least := math.Inf(1)
	look := func(nodes ...int) {
		c.polygon = c.polygon[:0]
		for _, n := range nodes {
			c.polygon = append(c.polygon, o.nodes[n])
		}
		c.cut(w)
		for _, v := range c.polygon {
			least = math.Min(least, w.out(v))
		}
	}
	if o.feature.Spec.Shape == survey.Block {
		faces := o.faces(p)
		for _, f := range faces {
			look(p.nodes[f[0]], p.nodes[f[1]], p.nodes[f[2]])
		}
		if len(faces) > 0 {
			return least
		}
	}
	look(p.nodes...)
	return least
}

// faces lists the triangles of a block's hull, as indices into the piece's nodes.
func (o *obstacle) faces(p piece) [][3]int {
	points := make([]r3.Vector, len(p.nodes))
	for k, n := range p.nodes {
		points[k] = o.nodes[n]
	}
	return shape.Faces(points)
}

// cut leaves of the polygon what is in view: within the window's edges and not
// behind it (Sutherland and Hodgman 1974).
func (c *cutter) cut(w window) {
	for edge := 0; edge < 5 && len(c.polygon) > 0; edge++ {
		c.kept = c.kept[:0]
		for i, v := range c.polygon {
			next := c.polygon[(i+1)%len(c.polygon)]
			a, b := w.inside(v, edge), w.inside(next, edge)
			if a >= 0 {
				c.kept = append(c.kept, v)
			}
			if (a < 0) != (b < 0) {
				c.kept = append(c.kept, v.Add(next.Sub(v).Mul(a/(a-b))))
			}
		}
		c.polygon, c.kept = c.kept, c.polygon
	}
}

// inside is how far a place is inside one of the view's five bounds.
func (w window) inside(v r3.Vector, edge int) float64 {
	across, out := w.seen(v)
	switch edge {
	case 0:
		return out
	case 1, 2:
		return sided(across[0], w.lo[0], w.hi[0], edge == 1)
	}
	return sided(across[1], w.lo[1], w.hi[1], edge == 3)
}

func sided(x, lo, hi float64, low bool) float64 {
	if low {
		return x - lo
	}
	return hi - x
}

// coverDepth is how often a side is halved each way for its cover: sixteenths
// of a side are finer than anyone places a probe.
const coverDepth = 4

// cover is the share of a side in front of which, within its gap, there is
// evidence within SeenWithin: a mark that was touched or a declared shape. look
// is the farthest place from any that was met with.
func (c *checker) cover(w window) (share float64, look r3.Vector) {
	gap := c.rules.named("fixed").Gap
	s := seeker{window: w, gap: gap, enough: c.rules.SeenWithin, farthest: math.Inf(-1)}
	s.look = w.at(r2.Point{X: (w.lo[0] + w.hi[0]) / 2, Y: (w.lo[1] + w.hi[1]) / 2}, gap/2)
	half := r2.Point{X: (w.hi[0] - w.lo[0]) / 2, Y: (w.hi[1] - w.lo[1]) / 2}
	s.sights = c.within(w, gap)
	all := make([]int32, len(s.sights))
	for i := range all {
		all[i] = int32(i)
	}
	share = s.quarter(r2.Point{X: w.lo[0] + half.X, Y: w.lo[1] + half.Y}, half, all, coverDepth)
	return share, s.look
}

// seeker looks for evidence in front of a window.
type seeker struct {
	window   window
	gap      float64
	enough   float64
	sights   []sight
	farthest float64
	look     r3.Vector
}

// sight is a piece as evidence: its own surface, without what lies behind it.
type sight struct {
	solid  shape.Hull
	middle r3.Vector
	radius float64
}

// quarter gives the share of a cell that has evidence. The distance to a piece
// changes by no more than one moves, so that a piece with a corner near enough
// for the whole cell settles it, and one that is too far for all of it drops
// out; what is left is cut in four, and the smallest cells go by their middle.
func (s *seeker) quarter(middle, half r2.Point, sights []int32, depth int) float64 {
	reach := half.Norm()
	at := s.window.at(middle, s.gap/2)
	far := math.Inf(1)
	near := make([]int32, 0, len(sights))
	for _, i := range sights {
		p := &s.sights[i]
		off := at.Sub(p.middle).Norm() - p.radius - s.gap/2
		far = math.Min(far, off)
		if off > s.enough+reach {
			continue
		}
		if p.corner(at)+s.gap/2+reach <= s.enough {
			return 1
		}
		if p.radius > 2*reach { // its ball says little about it
			off := shape.Distance(shape.Hull{Points: []r3.Vector{at}}, p.solid).Signed
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
		s.unseen(at, far)
		return 0
	}
	if depth == 0 {
		if far = s.leaf(middle, near); far <= s.enough {
			return 1
		}
		s.unseen(at, far)
		return 0
	}
	sum := 0.0
	half = half.Mul(0.5)
	for _, to := range [4]r2.Point{{X: -1, Y: -1}, {X: 1, Y: -1}, {X: -1, Y: 1}, {X: 1, Y: 1}} {
		sum += s.quarter(middle.Add(r2.Point{X: to.X * half.X, Y: to.Y * half.Y}), half, near, depth-1) / 4
	}
	return sum
}

// unseen notes a place without evidence if it is the farthest from any.
func (s *seeker) unseen(at r3.Vector, far float64) {
	if far > s.farthest {
		s.farthest, s.look = far, at
	}
}

// corner is how far the nearest of the piece's corners is: no less than the
// piece itself.
func (p *sight) corner(at r3.Vector) float64 {
	nearest := math.Inf(1)
	for _, q := range p.solid.Points {
		nearest = math.Min(nearest, q.Sub(at).Norm2())
	}
	return math.Sqrt(nearest) - p.solid.Grow
}

// leaf is how far the nearest piece is from the gap in front of a place, as
// long as none is near enough.
func (s *seeker) leaf(middle r2.Point, near []int32) float64 {
	ray := shape.Hull{Points: []r3.Vector{s.window.at(middle, 0), s.window.at(middle, s.gap)}}
	nearest := math.Inf(1)
	at := s.window.at(middle, s.gap/2)
	for _, i := range near {
		p := &s.sights[i]
		if off := at.Sub(p.middle).Norm() - p.radius - s.gap/2; off > s.enough {
			nearest = math.Min(nearest, off)
			continue
		}
		if p.corner(at) <= s.enough { // the ray's middle is no nearer than the ray
			return s.enough
		}
		nearest = math.Min(nearest, shape.Distance(ray, p.solid).Signed)
		if nearest <= s.enough {
			break
		}
	}
	return nearest
}

// within lists the pieces that can be evidence for a side.
func (c *checker) within(w window, gap float64) []sight {
	lo, hi := w.at(r2.Point{X: w.lo[0], Y: w.lo[1]}, 0), w.at(r2.Point{X: w.hi[0], Y: w.hi[1]}, gap)
	middle, radius := lo.Add(hi).Mul(0.5), hi.Sub(lo).Norm()/2
	var out []sight
	for i := range c.features {
		o := &c.features[i]
		for _, p := range o.pieces {
			s := sight{solid: shape.Hull{Grow: o.feature.Grow, Points: make([]r3.Vector, len(p.nodes))}}
			for k, n := range p.nodes {
				s.solid.Points[k] = o.nodes[n]
			}
			s.middle, s.radius = s.solid.Bounds()
			if middle.Sub(s.middle).Norm() <= radius+s.radius+c.rules.SeenWithin {
				out = append(out, s)
			}
		}
	}
	return out
}
