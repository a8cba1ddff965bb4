package shape

import (
	"math/rand"

	"github.com/golang/geo/r3"
)

// The pairs that the tests draw: plain ones, and ones made to be awkward.

// maker draws shapes from a seed.
type maker struct{ *rand.Rand }

func newMaker(seed int64) maker { return maker{rand.New(rand.NewSource(seed))} }

// within is a vector with coordinates in -size..size.
func (m maker) within(size float64) r3.Vector {
	return r3.Vector{X: size * (2*m.Float64() - 1), Y: size * (2*m.Float64() - 1), Z: size * (2*m.Float64() - 1)}
}

// frame is a random right-handed frame.
func (m maker) frame() [3]r3.Vector {
	u := m.within(1).Normalize()
	v := u.Cross(m.within(1)).Normalize()
	return [3]r3.Vector{u, v, u.Cross(v)}
}

func (m maker) box(size float64) Box {
	f := m.frame()
	return Box{Corner: m.within(size), Edges: [3]r3.Vector{
		f[0].Mul(size * m.Float64()), f[1].Mul(size * m.Float64()), f[2].Mul(size * m.Float64())}}
}

func (m maker) hull(points int, size float64) Hull {
	at := m.within(size)
	var h Hull
	for i := 0; i < points; i++ {
		h.Points = append(h.Points, at.Add(m.within(size)))
	}
	return h
}

func (m maker) cylinder(size float64) Cylinder {
	return Cylinder{Foot: m.within(size), Axis: m.within(size), Across: size * (0.02 + 0.5*m.Float64())}
}

// grid is a point of whole numbers, 0 to 3.
func (m maker) grid() r3.Vector {
	return r3.Vector{X: float64(m.Intn(4)), Y: float64(m.Intn(4)), Z: float64(m.Intn(4))}
}

// gridShape has corners on a small grid, so that two of them often touch, share
// corners, are flat, parallel, collinear, or have points twice.
func (m maker) gridShape() Convex {
	if m.Intn(3) == 0 {
		return Box{Corner: m.grid(), Edges: [3]r3.Vector{
			{X: float64(m.Intn(3))}, {Y: float64(m.Intn(3))}, {Z: float64(m.Intn(3))}}}
	}
	var h Hull
	for i := 1 + m.Intn(5); i > 0; i-- {
		h.Points = append(h.Points, m.grid())
	}
	if m.Intn(6) == 0 {
		h.Behind = m.grid().Sub(m.grid())
	}
	return h
}

// placed is a shape scaled, turned and moved, with the rounding that comes with it.
func placed(c Convex, by float64, f [3]r3.Vector, at r3.Vector) Convex {
	turn := func(v r3.Vector) r3.Vector {
		return f[0].Mul(v.X).Add(f[1].Mul(v.Y)).Add(f[2].Mul(v.Z)).Mul(by)
	}
	switch s := c.(type) {
	case Hull:
		h := Hull{Grow: s.Grow * by, Behind: turn(s.Behind)}
		for _, p := range s.Points {
			h.Points = append(h.Points, turn(p).Add(at))
		}
		return h
	case Box:
		return Box{Corner: turn(s.Corner).Add(at), Edges: [3]r3.Vector{turn(s.Edges[0]), turn(s.Edges[1]), turn(s.Edges[2])}}
	case Cylinder:
		return Cylinder{Foot: turn(s.Foot).Add(at), Axis: turn(s.Axis), Across: s.Across * by}
	}
	return c
}

var upright = [3]r3.Vector{{X: 1}, {Y: 1}, {Z: 1}}

func moved(c Convex, by r3.Vector) Convex { return placed(c, 1, upright, by) }

// corners are a planar shape's corners, rounded.
func cornersOf(c Convex) []r3.Vector {
	switch s := c.(type) {
	case Hull:
		return s.Points
	case Box:
		return s.corners()
	}
	return nil
}

// planarPair draws two planar shapes; hard ones touch, nearly touch, share
// corners, are needles, lie far out, or differ in size a thousandfold.
func (m maker) planarPair() (a, b Convex) {
	switch m.Intn(10) {
	case 0:
		return m.planarShape(300), m.planarShape(300)
	case 1:
		return m.gridShape(), m.gridShape()
	case 2: // the same, turned: what was parallel is so but for rounding
		f, s, at := m.frame(), 100*m.Float64(), m.within(10000)
		return placed(m.gridShape(), s, f, at), placed(m.gridShape(), s, f, at)
	case 3: // drawn together to touch, give or take
		a, b = m.planarShape(300), m.planarShape(300)
		n := Distance(a, b)
		return a, moved(b, n.Normal.Mul(m.nearly()-n.Signed))
	case 4: // corners of one are taken from the other
		a = m.planarShape(300)
		corners := cornersOf(a)
		h := m.hull(1+m.Intn(4), 300)
		for i := range h.Points {
			if m.Intn(2) == 0 {
				p, q := corners[m.Intn(len(corners))], corners[m.Intn(len(corners))]
				h.Points[i] = p.Add(q.Sub(p).Mul(float64(m.Intn(5)) / 4))
			}
		}
		return a, h
	case 5: // needles
		return m.needle(), m.needle()
	case 6:
		return m.planarShape(1), m.planarShape(1000)
	case 7: // all in one plane, but for rounding
		f, at := m.frame(), m.within(1000)
		return placed(m.flatHull(2), 1, f, at), placed(m.flatHull(2), 1, f, at)
	case 8: // all on one line, but for rounding
		f, at := m.frame(), m.within(1000)
		return placed(m.flatHull(1), 1, f, at), placed(m.flatHull(1), 1, f, at)
	}
	at := m.within(10000)
	return moved(m.planarShape(100), at), moved(m.planarShape(100), at)
}

// flatHull has points in the xy plane, or on the x axis.
func (m maker) flatHull(dimensions int) Hull {
	var h Hull
	for range 1 + m.Intn(5) {
		p := r3.Vector{X: 100 * m.Float64()}
		if dimensions > 1 {
			p.Y = 100 * m.Float64()
		}
		h.Points = append(h.Points, p)
	}
	return h
}

func (m maker) planarShape(size float64) Convex {
	switch m.Intn(4) {
	case 0:
		return m.box(size)
	case 1:
		h := m.hull(1+m.Intn(4), size)
		h.Behind = m.within(1)
		return h
	}
	return m.hull(1+m.Intn(6), size)
}

// nearly is one of the small gaps at which things go wrong.
func (m maker) nearly() float64 {
	gaps := []float64{0, 1e-14, 1e-13, 1e-12, 1e-11, 1e-10, 1e-9, 1e-7, 1e-5, 1e-3}
	return gaps[m.Intn(len(gaps))] * float64(1-2*m.Intn(2))
}

// needle is a triangle or tetrahedron whose points lie on a line but for a trifle.
func (m maker) needle() Convex {
	at, along := m.within(100), m.within(300)
	var h Hull
	thin := m.nearly()
	for i := 2 + m.Intn(3); i > 0; i-- {
		h.Points = append(h.Points, at.Add(along.Mul(m.Float64())).Add(m.within(1).Mul(thin)))
	}
	if m.Intn(4) == 0 {
		h.Points = append(h.Points, h.Points[0])
	}
	return h
}

func vector(v [3]float64) r3.Vector { return r3.Vector{X: v[0], Y: v[1], Z: v[2]} }

func axisEdges(x, y, z float64) [3]r3.Vector { return [3]r3.Vector{{X: x}, {Y: y}, {Z: z}} }
