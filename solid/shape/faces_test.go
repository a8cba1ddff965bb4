package shape

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The faces of a hull close: every side is met once each way; no point is outside;
// corners less sides plus faces make 2 (Euler).
func TestFacesClose(t *testing.T) {
	m := newMaker(61)
	for i := range 300 {
		var points []r3.Vector
		for range 4 + m.Intn(37) {
			switch i % 3 {
			case 0:
				points = append(points, m.within(100))
			case 1:
				points = append(points, m.grid())
			case 2: // on a ball, so that all are corners
				points = append(points, m.within(1).Normalize().Mul(100))
			}
		}
		faces := Faces(points)
		if faces == nil {
			continue
		}
		sides := map[[2]int]int{}
		corners := map[int]bool{}
		for _, f := range faces {
			for k := range f {
				sides[[2]int{f[k], f[(k+1)%3]}]++
				corners[f[k]] = true
			}
			for _, p := range points {
				require.GreaterOrEqual(t, orient(points[f[0]], points[f[1]], points[f[2]], p), 0)
			}
			require.False(t, collinear(points[f[0]], points[f[1]], points[f[2]]))
		}
		for side, times := range sides {
			require.Equal(t, 1, times)
			require.Equal(t, 1, sides[[2]int{side[1], side[0]}])
		}
		require.Equal(t, 2, len(corners)-len(sides)/2+len(faces))
		if i%3 == 2 {
			require.Len(t, corners, len(points))
		}
	}
}

func TestFacesOfACube(t *testing.T) {
	points := lattice(3)
	faces := Faces(points)
	area := 0.0
	for _, f := range faces {
		a, b, c := points[f[0]], points[f[1]], points[f[2]]
		n := b.Sub(a).Cross(c.Sub(a))
		area += n.Norm() / 2
		assert.Positive(t, n.Dot(a.Sub(r3.Vector{X: .5, Y: .5, Z: .5})), "outward")
	}
	assert.InDelta(t, 6, area, 1e-14)
	s := enclose(points)
	for _, e := range s.edges {
		d := points[e[1]].Sub(points[e[0]])
		assert.InDelta(t, 1, d.Norm(), .5, "an edge of the cube, or half of one: none within a face")
		assert.Zero(t, d.X*d.Y+d.Y*d.Z+d.Z*d.X)
	}
}

func TestFlatAndThinHulls(t *testing.T) {
	o, x, y := r3.Vector{}, r3.Vector{X: 1}, r3.Vector{Y: 1}
	for _, c := range []struct {
		points []r3.Vector
		rank   int
		edges  int
	}{
		{nil, 0, 0},
		{[]r3.Vector{o}, 0, 0},
		{[]r3.Vector{o, o}, 0, 0},
		{[]r3.Vector{o, x, x.Mul(.5)}, 1, 1},
		{[]r3.Vector{o, x, y}, 2, 3},
		{[]r3.Vector{o, x, y, x.Add(y), x.Mul(.5)}, 2, 4},
		{[]r3.Vector{o, x, y, {X: 1, Y: 1, Z: math.SmallestNonzeroFloat64}}, 3, 6},
		{lattice(2), 3, 12},
	} {
		s := enclose(c.points)
		assert.Equal(t, c.rank, s.rank, "%v", c.points)
		assert.Len(t, s.edges, c.edges, "%v", c.points)
		if c.rank < 3 {
			assert.Nil(t, Faces(c.points))
		}
	}
}

// The rounded determinant alone is wrong near a plane; the sign here must not be.
func TestOrientIsExact(t *testing.T) {
	m := newMaker(62)
	wrong := 0
	for range 3000 {
		a, b, c := m.within(350), m.within(350), m.within(350)
		u, v := m.Float64(), m.Float64()
		d := a.Add(b.Sub(a).Mul(u)).Add(c.Sub(a).Mul(v))
		y, _ := wholes([]r3.PreciseVector{exactly(a, d), exactly(b, d), exactly(c, d)})
		want := y[0].dot(y[1].cross(y[2])).Sign()
		require.Equal(t, want, orient(a, b, c, d))
		if sign(a.Sub(d).Dot(b.Sub(d).Cross(c.Sub(d)))) != want {
			wrong++
		}
	}
	assert.Positive(t, wrong, "the test must meet cases that rounding gets wrong")
	t.Logf("%d of 3000 signs near a plane are wrong when rounded", wrong)
}
