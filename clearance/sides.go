package clearance

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"elbowroom/solid"
	"elbowroom/survey"
)

// sides lists the sides of the body that something can come near: all
// but the back where a mount settles that.
func (c *checker) sides() []solid.Side {
	var sides []solid.Side
	for _, side := range solid.Sides() {
		if side != solid.Back || c.pose.mount == nil {
			sides = append(sides, side)
		}
	}
	return sides
}

func (c *checker) side(side solid.Side) SideLine {
	w := c.window(side)
	line := SideLine{Side: side}
	line.Nearest, line.Feature, line.Found = c.ahead(w)
	gap := c.rules.named("fixed").Gap
	near := c.within(w, gap)
	line.Cover = c.cover(w, gap, near)
	share := hiddenShare
	if line.LookedAt = slices.Contains(c.rules.LookedAt, side); line.LookedAt {
		share = lookedShare
	}
	lo, hi := w.slab(gap)
	diameter, at := hidden(lo, hi, c.sights, near, share)
	line.Hidden, line.HiddenAt = diameter, c.pose.world(at)
	line.HiddenOK = !math.IsInf(diameter, 1)
	if line.LookedAt || c.rules.measured(line.Cover, line.Hidden) {
		line.Verdict = Clears
	} else {
		line.Because = Unmeasured
	}
	return line
}

// sideClears is the verdict of side, without the figures that do not decide it.
func (c *checker) sideClears(side solid.Side) bool {
	if slices.Contains(c.rules.LookedAt, side) {
		return true
	}
	w := c.window(side)
	gap := c.rules.named("fixed").Gap
	near := c.within(w, gap)
	cover := c.cover(w, gap, near)
	if !c.rules.measured(cover, 0) {
		return false // whatever may hide there, which takes longer to find
	}
	lo, hi := w.slab(gap)
	diameter, _ := hidden(lo, hi, c.sights, near, hiddenShare)
	return c.rules.measured(cover, diameter)
}

// measured says whether a side counts as measured, by its cover and the diameter
// of what may hide there, infinite where anything may.
func (r Rules) measured(cover, hidden float64) bool {
	return cover >= enoughCover && hidden <= r.HiddenAtMost+reach
}

// enoughCover is the share of a side that must have evidence near for it to
// count as measured.
const enoughCover = 0.9

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

// slab is the gap in front of the window, by its two extreme corners.
func (w window) slab(gap float64) (lo, hi r3.Vector) {
	p := w.at(r2.Point{X: w.lo[0], Y: w.lo[1]}, 0)
	q := w.at(r2.Point{X: w.hi[0], Y: w.hi[1]}, gap)
	lo = r3.Vector{X: math.Min(p.X, q.X), Y: math.Min(p.Y, q.Y), Z: math.Min(p.Z, q.Z)}
	hi = r3.Vector{X: math.Max(p.X, q.X), Y: math.Max(p.Y, q.Y), Z: math.Max(p.Z, q.Z)}
	return lo, hi
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
			if w.out(p.middle)-p.radius > nearest {
				continue // its ball is farther out
			}
			if out := cut.nearest(wide, o, p) - grow; out < nearest {
				nearest, feature, found = out, o.feature.Spec.Name, true
			}
		}
	}
	return math.Max(0, nearest), feature, found
}

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
		for _, f := range o.faces {
			look(p.nodes[f[0]], p.nodes[f[1]], p.nodes[f[2]])
		}
		if len(o.faces) > 0 {
			return least
		}
	}
	look(p.nodes...)
	return least
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
