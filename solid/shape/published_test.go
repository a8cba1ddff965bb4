package shape

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
)

// Values from the unit tests of two geometry libraries.
//
// Geometric Tools Library (Boost licence), commit c98f2c0f:
// TestDistAlignedBox3OrientedBox3, TestDistOrientedBox3OrientedBox3,
// TestDistSegment3OrientedBox3, TestDistTriangle3Triangle3.
// distance3d (BSD-3), commit 57e4adef: test_gjk.py, test_distance.py.

// centred is a box from its centre, unit axes and half sizes.
func centred(c r3.Vector, axes [3]r3.Vector, half [3]float64) Box {
	b := Box{Corner: c}
	for i, a := range axes {
		b.Corner = b.Corner.Sub(a.Mul(half[i]))
		b.Edges[i] = a.Mul(2 * half[i])
	}
	return b
}

func near(t *testing.T, want, got r3.Vector, within float64) {
	t.Helper()
	assert.InDelta(t, 0, want.Distance(got), within, "want %v, got %v", want, got)
}

var (
	root2     = math.Sqrt2
	alignedGT = Box{Corner: r3.Vector{X: -1, Y: -2, Z: -3}, Edges: [3]r3.Vector{{X: .5}, {Y: .5}, {Z: .5}}}
	turnedGT  = centred(r3.Vector{X: 3, Y: 2, Z: 1},
		[3]r3.Vector{{X: -1 / root2, Z: 1 / root2}, {X: -1 / root2, Z: -1 / root2}, {Y: -1}}, [3]float64{.5, .7, .9})
)

func TestPublishedAlignedBoxAndTurnedBox(t *testing.T) {
	n := Distance(alignedGT, turnedGT)
	assert.InDelta(t, 24.820353544371830, n.Signed*n.Signed, 1e-13)
	near(t, r3.Vector{X: -.5, Y: -1.5, Z: -2.5}, n.OnA, 1e-14)
	near(t, r3.Vector{X: 2.5050252531694168, Y: 1.1, Z: .50502525316941660}, n.OnB, 1e-14)
}

func TestPublishedTwoTurnedBoxes(t *testing.T) {
	u := r3.Vector{X: 4, Y: 5, Z: 6}.Normalize()
	v := r3.Vector{Y: 6, Z: -5}.Normalize()
	a := centred(r3.Vector{X: -1, Y: -2, Z: -3}, [3]r3.Vector{u, v, u.Cross(v)}, [3]float64{.7, .1, .5})
	n := Distance(a, turnedGT)
	assert.InDelta(t, 25.712631576842536, n.Signed*n.Signed, 1e-13)
	near(t, r3.Vector{X: -.23588010823300237, Y: -1.6702274208839925, Z: -2.7604778985789240}, n.OnA, 1e-14)
	near(t, r3.Vector{X: 2.7673241483423769, Y: 1.1, Z: .24272635799645698}, n.OnB, 1e-14)
}

func TestPublishedSegmentAndBox(t *testing.T) {
	b := centred(r3.Vector{X: 2, Y: 3.5, Z: 5}, [3]r3.Vector{
		{X: 2. / 15, Y: 14. / 15, Z: -1. / 3}, {X: -2. / 3, Y: 1. / 3, Z: 2. / 3}, {X: 11. / 15, Y: 2. / 15, Z: 2. / 3}},
		[3]float64{1, 1.5, 2})
	d := r3.Vector{X: -.13375998748853216, Y: -.49589068532333880, Z: .85802138315814536}
	p := r3.Vector{X: -1, Y: -1, Z: -1}
	for _, c := range []struct {
		along, want, at float64
	}{
		{0, 5.1606938208625763, .172257}, {6, 6.6315829285508334, 0}, {-9, 5.2110329794092145, 1},
	} {
		s := Hull{Points: []r3.Vector{p.Add(d.Mul(c.along)), p.Add(d.Mul(c.along + 10))}}
		n := Distance(s, b)
		assert.InDelta(t, c.want, n.Signed, 1e-14)
		share := 0.0
		for i := 0; i < n.MixA.N; i++ {
			if n.MixA.Index[i] == 1 {
				share = n.MixA.By[i]
			}
		}
		assert.InDelta(t, c.at, share, 1e-6)
	}
}

func TestPublishedBoxesWithParallelAxes(t *testing.T) {
	// The rotation is given to 8 figures, so edges are square to 1e-8 only.
	axes := [3]r3.Vector{
		{X: -.29265666, Y: .93923897, Z: -.17939408},
		{X: -.76990535, Y: -.12018753, Z: .62673815},
		{X: .56709596, Y: .32153556, Z: .75829879}}
	half := func(x, y, z float64) [3]float64 { return [3]float64{x / 2, y / 2, z / 2} }
	a := centred(r3.Vector{X: .1867558, Y: -.09772779, Z: .09500884}, axes, half(2.89098828, 1.15032456, 2.37517511))
	b := centred(r3.Vector{X: 3.73511598, Y: -1.95455576, Z: 1.90017684}, axes, half(.96366276, .38344152, .79172504))
	assert.InDelta(t, 1.7900192730149391, Distance(a, b).Signed, 3e-8)
}

func TestPublishedSkewLines(t *testing.T) {
	line := func(p, u r3.Vector) Hull {
		return Hull{Points: []r3.Vector{p.Sub(u.Mul(100)), p.Add(u.Mul(100))}}
	}
	a := line(r3.Vector{X: 1.76405235, Y: .40015721, Z: .97873798}, r3.Vector{X: .72840603, Y: .6070528, Z: -.31766579})
	b := line(r3.Vector{X: .95008842, Y: -.15135721, Z: -.10321885}, r3.Vector{X: .27049077, Y: .09489186, Z: .95803459})
	assert.InDelta(t, .037258912990, Distance(a, b).Signed, 3e-8) // inputs have 8 figures
}

// turnedBy is v turned by the quaternion x, y, z, w = 1, 2, 3, 4, normalised, as
// the source turns its triangles.
func turnedBy(v r3.Vector) r3.Vector {
	const w = 4.0
	u := r3.Vector{X: 1, Y: 2, Z: 3}
	n2 := u.Norm2() + w*w
	c := u.Cross(v)
	return v.Add(c.Mul(2 * w / n2)).Add(u.Cross(c).Mul(2 / n2))
}

func TestPublishedTriangles(t *testing.T) {
	at := r3.Vector{X: .1234, Y: 5.6789, Z: -1.9735}
	triangle := func(points ...r3.Vector) Hull {
		var h Hull
		for _, p := range points {
			h.Points = append(h.Points, turnedBy(p).Add(at))
		}
		return h
	}
	a := triangle(r3.Vector{}, r3.Vector{X: 1}, r3.Vector{Y: 1})
	far := triangle(r3.Vector{X: .25, Y: .25, Z: 1}, r3.Vector{X: 2, Y: .5, Z: 1}, r3.Vector{X: 1.5, Y: 1.5, Z: 1})
	touching := triangle(r3.Vector{X: .45, Y: .45, Z: .001}, r3.Vector{X: .5, Y: -.1, Z: .002}, r3.Vector{X: .5, Y: .75, Z: .002})
	n := Distance(a, far)
	assert.InDelta(t, 1, n.Signed*n.Signed, 1e-14)
	n = Distance(a, touching)
	assert.InDelta(t, 1e-6, n.Signed*n.Signed, 1e-17)
}

func TestPublishedSegmentAndUnitBox(t *testing.T) {
	// The unit box about the origin, turned a quarter about x: itself.
	b := centred(r3.Vector{}, [3]r3.Vector{{X: 1}, {Z: 1}, {Y: -1}}, [3]float64{.5, .5, .5})
	segment := func(p, q r3.Vector) Nearest { return Distance(Hull{Points: []r3.Vector{p, q}}, b) }
	n := segment(r3.Vector{X: 2}, r3.Vector{Y: 2})
	assert.InDelta(t, math.Sqrt(.5), n.Signed, 1e-15)
	near(t, r3.Vector{X: 1, Y: 1}, n.OnA, 1e-15)
	assert.InDelta(t, .5, n.OnB.X, 1e-15)
	assert.InDelta(t, .5, n.OnB.Y, 1e-15)
	assert.InDelta(t, 1.5, segment(r3.Vector{X: 2}, r3.Vector{X: 3}).Signed, 1e-15)
	assert.InDelta(t, .5, segment(r3.Vector{X: -2}, r3.Vector{X: -1}).Signed, 1e-15)
}
