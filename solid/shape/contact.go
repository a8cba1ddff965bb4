package shape

import (
	"math"

	"github.com/golang/geo/r3"
)

// contact finds the witness points of cores that are best parted by p: once b is
// moved along the normal so that they touch, the two faces that meet there lie
// in one plane, and share a point; missed is by how much they do not.
func contact(a, b *core, p parting) (n Nearest, missed float64) {
	n = Nearest{Normal: p.normal, Within: p.within}
	out := p.normal.Mul(-p.by)
	slack := slackBetween(a, b)
	least := math.Inf(1)
	// A face's corners are those that stand within some slack of the plane. The
	// normal's own rounding tips a large face by more; so widen until they meet.
	for wide, lean := 2*slack, 4*level; lean < 1e-3 && least > 4*slack; wide, lean = 16*wide, 16*lean {
		fa, ia := a.face(p.normal, wide, lean)
		fb, ib := b.face(p.normal.Mul(-1), wide, lean)
		fa.size, fb.size = a.size, b.size+largest(out)
		fb.shift(out)
		at := draw(&fa, &fb)
		if !(at.upper < least) {
			continue
		}
		least = at.upper
		on, _ := at.points()
		n.MixA, n.MixB = at.mixes(&fa, &fb)
		n.MixA.rename(ia)
		n.MixB.rename(ib)
		if a.kind != hull {
			n.MixA = Mix{}
		}
		if b.kind != hull {
			n.MixB = Mix{}
		}
		n.place(on, p.by+p.lift, a, b)
	}
	return n, least
}

// face is what of a core lies within wide of its farthest plane along a unit
// direction, with its ray if that leans off the plane by no more than lean, and
// for a hull the points' indices.
func (c *core) face(dir r3.Vector, wide, lean float64) (core, []int) {
	f := core{kind: hull}
	switch c.kind {
	case hull:
		if math.Abs(c.ray.Dot(dir)) <= lean {
			f.ray, f.behind = c.ray, c.behind
		}
		var index []int
		f.points, index = front(c.points, dir, wide)
		return f, index
	case box:
		f.points, _ = front(c.box.corners(), dir, wide)
	case cylinder:
		return c.roundFace(dir, wide), nil
	default:
		f.points = []r3.Vector{c.given.Support(dir)}
	}
	return f, nil
}

// front picks the points within wide of the farthest along a unit direction.
func front(points []r3.Vector, dir r3.Vector, wide float64) (near []r3.Vector, index []int) {
	most := points[farthest(points, dir)]
	for i, p := range points {
		if most.Sub(p).Dot(dir) <= wide {
			near, index = append(near, p), append(index, i)
		}
	}
	return near, index
}

func (b Box) corners() []r3.Vector {
	corners := make([]r3.Vector, 8)
	for i := range corners {
		corners[i] = b.Corner
		for k, e := range b.Edges {
			if i&(1<<k) != 0 {
				corners[i] = corners[i].Add(e)
			}
		}
	}
	return corners
}

// roundFace is a cylinder's end, side line or rim point.
func (c *core) roundFace(dir r3.Vector, wide float64) core {
	slope := dir.Dot(c.along)
	across := dir.Sub(c.along.Mul(slope)).Norm()
	if across*c.round.Across <= wide { // an end
		end := *c
		if slope > 0 {
			end.round.Foot = end.round.Foot.Add(end.round.Axis)
		}
		end.round.Axis = r3.Vector{}
		return end
	}
	rim := c.round.rim(dir, c.along)
	f := core{kind: hull, points: []r3.Vector{rim}}
	if math.Abs(slope)*c.round.Axis.Norm() <= wide { // a side line
		far := rim.Sub(c.round.Axis)
		if slope <= 0 {
			far = rim.Add(c.round.Axis)
		}
		f.points = append(f.points, far)
	}
	return f
}

// shift moves a face.
func (c *core) shift(by r3.Vector) {
	if c.kind == cylinder {
		c.round.Foot = c.round.Foot.Add(by)
		return
	}
	moved := make([]r3.Vector, len(c.points))
	for i, p := range c.points {
		moved[i] = p.Add(by)
	}
	c.points = moved
}

// rename turns a face's indices into its hull's.
func (m *Mix) rename(index []int) {
	for i := 0; i < m.N && index != nil; i++ {
		m.Index[i] = index[m.Index[i]]
	}
}
