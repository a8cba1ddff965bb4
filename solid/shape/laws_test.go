package shape

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// anyShape draws a shape of any kind.
func (m maker) anyShape(size float64) Convex {
	switch m.Intn(4) {
	case 0:
		return m.cylinder(size)
	case 1:
		h := m.hull(1+m.Intn(5), size)
		h.Grow = size * 0.1 * m.Float64()
		return h
	}
	return m.planarShape(size)
}

// exactness is how far two answers for the same pair may differ: Within covers what
// the kernel does not promise to know, the depth of two cylinders.
func exactness(n, o Nearest) float64 { return 1e-9 + n.Within + o.Within }

func TestSymmetry(t *testing.T) {
	m := newMaker(11)
	for i := 0; i < 2000; i++ {
		a, b := m.anyShape(200), m.anyShape(200)
		n, o := Distance(a, b), Distance(b, a)
		require.InDelta(t, n.Signed, o.Signed, exactness(n, o), literal(a, b))
	}
}

func TestRigidMotion(t *testing.T) {
	m := newMaker(12)
	for i := 0; i < 2000; i++ {
		a, b := m.anyShape(200), m.anyShape(200)
		f, at := m.frame(), m.within(10000)
		n := Distance(a, b)
		o := Distance(placed(a, 1, f, at), placed(b, 1, f, at))
		require.InDelta(t, n.Signed, o.Signed, exactness(n, o), literal(a, b))
	}
}

func TestScaling(t *testing.T) {
	m := newMaker(13)
	for i := 0; i < 1000; i++ {
		a, b := m.anyShape(200), m.anyShape(200)
		n := Distance(a, b)
		o := Distance(placed(a, 1024, upright, r3.Vector{}), placed(b, 1024, upright, r3.Vector{}))
		require.InDelta(t, n.Signed, o.Signed/1024, exactness(n, o), literal(a, b))
	}
}

// grown is a shape that holds the given one.
func (m maker) grown(c Convex) Convex {
	switch s := c.(type) {
	case Hull:
		switch m.Intn(3) {
		case 0:
			s.Points = append(append([]r3.Vector{}, s.Points...), m.within(200))
		case 1:
			s.Grow += 5
		case 2:
			if s.Behind == (r3.Vector{}) {
				s.Behind = m.within(1)
			}
		}
		return s
	case Box:
		k := m.Intn(3)
		s.Edges[k] = s.Edges[k].Mul(1.5)
		return s
	case Cylinder:
		if m.Intn(2) == 0 {
			s.Across *= 1.5
		} else {
			s.Axis = s.Axis.Mul(1.5)
		}
		return s
	}
	return c
}

func TestGrowingNeverGrowsADistance(t *testing.T) {
	m := newMaker(14)
	for i := 0; i < 3000; i++ {
		a, b := m.anyShape(200), m.anyShape(200)
		c := m.grown(a)
		n, o := Distance(a, b), Distance(c, b)
		require.LessOrEqual(t, o.Signed, n.Signed+exactness(n, o), "%#v\n%s", c, literal(a, b))
	}
}

func TestRadiusComesOffExactly(t *testing.T) {
	m := newMaker(15)
	for i := 0; i < 1000; i++ {
		h := m.hull(1+m.Intn(5), 200)
		b := m.anyShape(200)
		n := Distance(h, b)
		h.Grow = 40 * m.Float64()
		o := Distance(h, b)
		require.InDelta(t, n.Signed-h.Grow, o.Signed, exactness(n, o))
		require.Empty(t, faults(h, b, o, 1e-6))
	}
}

func TestMovingOutParts(t *testing.T) {
	m := newMaker(16)
	overlaps := 0
	for i := 0; i < 3000; i++ {
		a, b := m.anyShape(200), m.anyShape(200)
		n := Distance(a, b)
		if n.Signed >= 0 {
			continue
		}
		overlaps++
		o := Distance(a, moved(b, n.Normal.Mul(-n.Signed)))
		require.InDelta(t, 0, o.Signed, 1e-9+n.Within, literal(a, b))
		o = Distance(a, moved(b, n.Normal.Mul(-n.Signed*0.9)))
		require.Less(t, o.Signed, 0.0, literal(a, b))
	}
	assert.Greater(t, overlaps, 300)
}

func TestOrderAndRepeatsOfPointsDoNotMatter(t *testing.T) {
	m := newMaker(17)
	for i := 0; i < 500; i++ {
		h, b := m.hull(2+m.Intn(6), 200), m.anyShape(200)
		n := Distance(h, b)
		shuffled := Hull{Points: append([]r3.Vector{h.Points[0]}, h.Points...)}
		m.Shuffle(len(shuffled.Points), func(i, j int) {
			shuffled.Points[i], shuffled.Points[j] = shuffled.Points[j], shuffled.Points[i]
		})
		o := Distance(shuffled, b)
		require.InDelta(t, n.Signed, o.Signed, exactness(n, o))
		p := Distance(Prepare(h), b)
		require.Equal(t, n, p, "prepared")
	}
}

func TestSameInputSameAnswer(t *testing.T) {
	m := newMaker(18)
	for i := 0; i < 300; i++ {
		a, b := m.anyShape(200), m.anyShape(200)
		require.Equal(t, Distance(a, b), Distance(a, b))
	}
}

// An error must not grow with the other shape's size: a point 1 mm above a face,
// an edge or a corner of something up to 10 km across.
func TestErrorDoesNotGrowWithTheOtherShape(t *testing.T) {
	for size := 1.0; size <= 1e7; size *= 10 {
		p := Hull{Points: []r3.Vector{{X: 0.3, Y: 0.4, Z: 1}}}
		small := Hull{Points: []r3.Vector{{X: 0.3, Y: 0.4, Z: 1}, {X: 0.4, Y: 0.4, Z: 2}, {X: 0.3, Y: 0.5, Z: 2}}}
		for name, big := range map[string]Convex{
			"triangle": Hull{Points: []r3.Vector{{X: -size, Y: -size}, {X: size, Y: -size}, {X: 0, Y: size}}},
			"box":      Box{Corner: r3.Vector{X: -size, Y: -size, Z: -size}, Edges: axisEdges(2*size, 2*size, size)},
			"cylinder": Cylinder{Foot: r3.Vector{Z: -size}, Axis: r3.Vector{Z: size}, Across: size},
			"swept":    Hull{Points: []r3.Vector{{X: -size}, {X: size, Y: 1}, {X: size, Y: -1}}, Behind: r3.Vector{Z: -1e-3}},
		} {
			want := 1.0
			if name == "swept" {
				want = math.Hypot(1, math.Max(0, 0.4-(0.3+size)/(2*size)))
			}
			for _, s := range []Hull{p, small} {
				n := Distance(s, big)
				assert.InDelta(t, want, n.Signed, 1e-9, "%s of %v", name, size)
				assert.LessOrEqual(t, n.Within, 1e-12+1e-13*size)
			}
		}
	}
}
