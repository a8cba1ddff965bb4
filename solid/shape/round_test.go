package shape

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// prism is a cylinder's inscribed prism of so many sides, or the one around it.
func prism(c Cylinder, sides int, around bool) Hull {
	f := c.Axis.Ortho()
	g := c.Axis.Normalize().Cross(f)
	r := c.Across
	if around {
		r /= math.Cos(math.Pi / float64(sides))
	}
	var h Hull
	for i := range sides {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(sides))
		p := c.Foot.Add(f.Mul(r * cos)).Add(g.Mul(r * sin))
		h.Points = append(h.Points, p, p.Add(c.Axis))
	}
	return h
}

// others are the shapes that a cylinder is tried against.
func (m maker) others() map[string]func() Convex {
	return map[string]func() Convex{
		"point":    func() Convex { return m.hull(1, 300) },
		"segment":  func() Convex { return m.hull(2, 300) },
		"triangle": func() Convex { return m.hull(3, 300) },
		"six":      func() Convex { return m.hull(6, 300) },
		"box":      func() Convex { return m.box(300) },
		"swept": func() Convex {
			h := m.hull(1+m.Intn(4), 300)
			h.Behind = m.within(1)
			return h
		},
		"grown": func() Convex {
			h := m.hull(1+m.Intn(4), 300)
			h.Grow = 50 * m.Float64()
			return h
		},
	}
}

// A cylinder and a polyhedron: apart, overlapping and drawn together to a gap near
// zero. The answer proves itself apart; the depth lies between those of two prisms.
func TestCylinderAgainstPlanar(t *testing.T) {
	for _, name := range []string{"point", "segment", "triangle", "six", "box", "swept", "grown"} {
		t.Run(name, func(t *testing.T) {
			m := newMaker(3)
			other := m.others()[name]
			worst := 0.0
			for i := 0; i < 300; i++ {
				a, b := m.cylinder(300), other()
				want := math.NaN()
				switch i % 4 {
				case 1:
					n := Distance(a, b)
					want = m.nearly()
					b = moved(b, n.Normal.Mul(want-n.Signed))
				case 2:
					n := Distance(a, b)
					b = moved(b, n.Normal.Mul(-20*m.Float64()-n.Signed))
				}
				n := Distance(a, b)
				require.Empty(t, faults(a, b, n, 1e-8), "pair %d\n%s", i, literal(a, b))
				assert.LessOrEqual(t, n.Within, 1e-9)
				if !math.IsNaN(want) && n.Signed >= 0 {
					assert.InDelta(t, want, n.Signed, 1e-9, "pair %d", i)
				}
				worst = math.Max(worst, n.Within)
				if i%100 == 2 && name != "grown" {
					between(t, a, b, n)
				}
			}
			t.Logf("within says %.1e at most", worst)
		})
	}
}

// between holds a depth between those of the prisms in and around the cylinder.
func between(t *testing.T, a Cylinder, b Convex, n Nearest) {
	t.Helper()
	in, around := Distance(prism(a, 40, false), b).Signed, Distance(prism(a, 40, true), b).Signed
	assert.LessOrEqual(t, n.Signed, in+1e-9)
	assert.GreaterOrEqual(t, n.Signed, around-1e-9)
}

// Two cylinders: the depth is a lower bound, and Within says how far the truth may
// be.
func TestTwoCylinders(t *testing.T) {
	m := newMaker(4)
	worst := 0.0
	for i := 0; i < 300; i++ {
		a, b := m.cylinder(300), m.cylinder(300)
		if i%3 > 0 {
			n := Distance(a, b)
			b = moved(b, n.Normal.Mul(20*m.Float64()*float64(i%3-2)-n.Signed)).(Cylinder)
		}
		n := Distance(a, b)
		require.Empty(t, faults(a, b, n, 1e-4), literal(a, b))
		worst = math.Max(worst, n.Within)
		assert.LessOrEqual(t, n.Within, 1e-6)
		if n.Signed < 0 {
			assert.LessOrEqual(t, -n.Signed, -planesApart(a, b, n.Normal)+1e-9, "deeper than a plane shows")
		}
	}
	t.Logf("within says %.1e at most", worst)
}

// Known depths of cylinders.
func TestCylinderDepths(t *testing.T) {
	c := Cylinder{Axis: r3.Vector{Z: 10}, Across: 4}
	segment := func(p, q r3.Vector) Hull { return Hull{Points: []r3.Vector{p, q}} }
	for name, k := range map[string]struct {
		b    Convex
		want float64
	}{
		"point in the middle":      {segment(r3.Vector{Z: 5}, r3.Vector{Z: 5}), -4},
		"point near the top":       {Hull{Points: []r3.Vector{{X: 1, Z: 9}}}, -1},
		"along the axis, through":  {segment(r3.Vector{Z: -20}, r3.Vector{Z: 20}), -4},
		"across, through":          {segment(r3.Vector{X: -20, Z: 5}, r3.Vector{X: 20, Z: 5}), -4},
		"across near the top":      {segment(r3.Vector{X: -20, Z: 9}, r3.Vector{X: 20, Z: 9}), -1},
		"coaxial":                  {Cylinder{Foot: r3.Vector{Z: -50}, Axis: r3.Vector{Z: 100}, Across: 2}, -6},
		"stacked":                  {Cylinder{Foot: r3.Vector{Z: 10}, Axis: r3.Vector{Z: 5}, Across: 4}, 0},
		"sunk by 2":                {Cylinder{Foot: r3.Vector{Z: 8}, Axis: r3.Vector{Z: 5}, Across: 4}, -2},
		"side by side":             {Cylinder{Foot: r3.Vector{X: 8}, Axis: r3.Vector{Z: 5}, Across: 4}, 0},
		"crossed":                  {Cylinder{Foot: r3.Vector{X: -20, Y: 5, Z: 5}, Axis: r3.Vector{X: 40}, Across: 3}, -2},
		"standing on a box":        {Box{Corner: r3.Vector{X: -9, Y: -9, Z: -2}, Edges: axisEdges(18, 18, 2)}, 0},
		"sunk into a box by 1":     {Box{Corner: r3.Vector{X: -9, Y: -9, Z: -2}, Edges: axisEdges(18, 18, 3)}, -1},
		"beside a box":             {Box{Corner: r3.Vector{X: 4, Y: -9, Z: -2}, Edges: axisEdges(18, 18, 30)}, 0},
		"ball on the side":         {Cylinder{Foot: r3.Vector{X: 6, Z: 5}, Across: 3}, -1},
		"segment on the side line": {segment(r3.Vector{X: 4, Z: -9}, r3.Vector{X: 4, Z: 90}), 0},
	} {
		n := Distance(c, k.b)
		assert.InDelta(t, k.want, n.Signed, 1e-9, name)
		assert.InDelta(t, k.want, Distance(k.b, c).Signed, 1e-9, name)
		assert.Empty(t, faults(c, k.b, n, 1e-8), name)
	}
}

// A nearly parallel pair of cylinders is where the growing polytope is slowest:
// the nearest places are nearly a whole circle. The bound must hold all the same.
func TestNearlyParallelCylinders(t *testing.T) {
	a := Cylinder{Axis: r3.Vector{Z: 100}, Across: 20}
	for _, lean := range []float64{0, 1e-12, 1e-9, 1e-6, 1e-3, 1e-2} {
		b := Cylinder{Foot: r3.Vector{X: 1e-3}, Axis: r3.Vector{X: 100 * lean, Z: 100}, Across: 10}
		n := Distance(a, b)
		assert.InDelta(t, -30, n.Signed, 3+n.Within)
		assert.Less(t, n.Within, 0.02, "lean %v", lean)
		assert.LessOrEqual(t, -n.Signed, -planesApart(a, b, n.Normal)+1e-9)
	}
}
