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
	var out []SideLine
	for _, side := range solid.Sides() {
		if side == solid.Back && c.pose.mount != nil {
			continue
		}
		out = append(out, c.side(side))
	}
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

// ahead finds the nearest thing straight out from the window.
func (c *checker) ahead(w window) (nearest float64, feature string, found bool) {
	nearest = math.Inf(1)
	for i := range c.features {
		o := &c.features[i]
		if o.feature.Spec.Mount {
			continue // beside every side, and straight out from none
		}
		grow := o.feature.Grow
		wide := w
		for k := range wide.lo {
			wide.lo[k] -= grow
			wide.hi[k] += grow
		}
		for _, p := range o.pieces {
			if out, ok := wide.clip(o, p); ok && out-grow < nearest {
				nearest, feature, found = out-grow, o.feature.Spec.Name, true
			}
		}
	}
	return math.Max(0, nearest), feature, found
}

// clip gives the least distance out at which a piece comes into the window's
// view: of its flat polygons by cutting them at the window's edges.
func (w window) clip(o *obstacle, p piece) (float64, bool) {
	least, found := math.Inf(1), false
	for _, polygon := range polygons(o, p) {
		for _, v := range w.cut(polygon) {
			if out := w.out(v); out < least {
				least, found = out, true
			}
		}
	}
	return least, found
}

// polygons lists the flat pieces that a piece's surface is made of.
func polygons(o *obstacle, p piece) [][]r3.Vector {
	points := make([]r3.Vector, len(p.nodes))
	for k, n := range p.nodes {
		points[k] = o.nodes[n]
	}
	if o.feature.Spec.Shape != survey.Block {
		return [][]r3.Vector{points}
	}
	var out [][]r3.Vector
	for _, f := range shape.Faces(points) {
		out = append(out, []r3.Vector{points[f[0]], points[f[1]], points[f[2]]})
	}
	if len(out) == 0 {
		return [][]r3.Vector{points}
	}
	return out
}

// cut is the part of a polygon that is in view: within the window's edges and
// not behind it (Sutherland and Hodgman 1974).
func (w window) cut(polygon []r3.Vector) []r3.Vector {
	inside := func(v r3.Vector) [5]float64 {
		across, out := w.seen(v)
		return [5]float64{out, across[0] - w.lo[0], w.hi[0] - across[0], across[1] - w.lo[1], w.hi[1] - across[1]}
	}
	for edge := 0; edge < 5 && len(polygon) > 0; edge++ {
		var kept []r3.Vector
		for i, v := range polygon {
			next := polygon[(i+1)%len(polygon)]
			a, b := inside(v)[edge], inside(next)[edge]
			if a >= 0 {
				kept = append(kept, v)
			}
			if (a < 0) != (b < 0) {
				kept = append(kept, v.Add(next.Sub(v).Mul(a/(a-b))))
			}
		}
		polygon = kept
	}
	return polygon
}

// coverDepth is how often a side is halved each way for its cover: sixteenths
// of a side are finer than anyone places a probe.
const coverDepth = 4

// cover is the share of a side in front of which, within its gap, there is
// evidence within SeenWithin: a mark that was touched or a declared shape. look
// is the farthest place from any that was met with.
func (c *checker) cover(w window) (share float64, look r3.Vector) {
	gap := c.rules.named("fixed").Gap
	s := seeker{window: w, gap: gap, enough: c.rules.SeenWithin, farthest: -1}
	half := r2.Point{X: (w.hi[0] - w.lo[0]) / 2, Y: (w.hi[1] - w.lo[1]) / 2}
	share = s.quarter(r2.Point{X: w.lo[0] + half.X, Y: w.lo[1] + half.Y}, half, c.within(w, gap), coverDepth)
	return share, s.look
}

// seeker looks for evidence in front of a window.
type seeker struct {
	window   window
	gap      float64
	enough   float64
	farthest float64
	look     r3.Vector
}

// quarter gives the share of a cell that has evidence among the pieces. The
// distance to a piece changes by no more than one moves, so that a piece that
// is near enough for the whole cell settles it, and one that is too far for all
// of it drops out; what is left is cut in four.
func (s *seeker) quarter(middle, half r2.Point, pieces []piece, depth int) float64 {
	reach := half.Norm()
	ray := shape.Hull{Points: []r3.Vector{s.window.at(middle, 0), s.window.at(middle, s.gap)}}
	far := s.enough + 2*reach
	var near []piece
	for _, p := range pieces {
		if shape.Gap(ray, p.solid) > s.enough+reach {
			continue
		}
		d := shape.Distance(ray, p.solid).Signed
		if d+reach <= s.enough {
			return 1
		}
		if d-reach <= s.enough {
			near = append(near, p)
		}
		far = math.Min(far, d)
	}
	if far > s.farthest {
		s.farthest, s.look = far, s.window.at(middle, s.gap/2)
	}
	switch {
	case len(near) == 0:
		return 0
	case depth == 0 && far <= s.enough:
		return 1
	case depth == 0:
		return 0
	}
	sum := 0.0
	half = half.Mul(0.5)
	for _, to := range [4]r2.Point{{X: -1, Y: -1}, {X: 1, Y: -1}, {X: -1, Y: 1}, {X: 1, Y: 1}} {
		sum += s.quarter(middle.Add(r2.Point{X: to.X * half.X, Y: to.Y * half.Y}), half, near, depth-1) / 4
	}
	return sum
}

// within lists the pieces that can be evidence for a side.
func (c *checker) within(w window, gap float64) []piece {
	lo, hi := w.at(r2.Point{X: w.lo[0], Y: w.lo[1]}, 0), w.at(r2.Point{X: w.hi[0], Y: w.hi[1]}, gap)
	slab := shape.Hull{Points: []r3.Vector{lo, hi}} // its ball holds the whole slab
	var out []piece
	for i := range c.features {
		for _, p := range c.features[i].pieces {
			if shape.Gap(slab, p.solid) <= c.rules.SeenWithin {
				out = append(out, p)
			}
		}
	}
	return out
}
