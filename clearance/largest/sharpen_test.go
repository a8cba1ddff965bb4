package largest

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/solid"
	"elbowroom/survey"
)

// No mix of the nodes that keeps the limits has a smaller sum of squares than the bound,
// and the bound is not idle: near a node it is nearly 1.
func TestLeastSquares(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 300 {
		n := 2 + r.IntN(12)
		at, piece := make([]r3.Vector, n), make([]int, n)
		for i := range at {
			at[i], piece[i] = v(100*r.Float64(), 100*r.Float64(), 30*r.Float64()), i
		}
		way := v(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Normalize()
		// A mix, and limits that hold it.
		w := mixed(r, n)
		squares := 0.0
		var x r3.Vector
		for i, by := range w {
			x = x.Add(at[i].Mul(by))
			squares += by * by
		}
		var in hull
		for a, c := range components(x) {
			in.low[a], in.high[a] = c-10*r.Float64(), c+10*r.Float64()
		}
		m := mixOf(at, piece, r3.Vector{}, way, way.Dot(x)+5*r.Float64(), in)
		got := m.leastSquares()
		assert.LessOrEqual(t, got, squares+1e-9)
		assert.GreaterOrEqual(t, got, 1/float64(n)-1e-12)
	}
	corner := []r3.Vector{v(0, 0, 0), v(100, 0, 0), v(0, 100, 0), v(0, 0, 100)}
	m := mixOf(corner, []int{0, 1, 2, 3}, r3.Vector{}, v(1, 1, 1).Normalize(), 1,
		hull{low: [3]float64{-1, -1, -1}, high: [3]float64{1, 1, 1}})
	assert.Greater(t, m.leastSquares(), 0.95)
}

// mixed is random weights that sum to 1, few of them large.
func mixed(r *rand.Rand, n int) (w []float64) {
	sum := 0.0
	for range n {
		x := math.Pow(r.Float64(), 6)
		w, sum = append(w, x), sum+x
	}
	for i := range w {
		w[i] /= sum
	}
	return w
}

// The places that are found of a piece are of it, and hardly farther than the nearest of
// many others.
func TestPlacesOfAPiece(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 200 {
		n := 2 + r.IntN(8)
		at := make([]r3.Vector, n)
		for i := range at {
			at[i] = v(100*r.Float64(), 100*r.Float64(), 100*r.Float64())
		}
		m := middle{at: [3]float64{150 * r.Float64(), 150 * r.Float64(), 150 * r.Float64()}, size: [3]float64{100, 50, 80}}
		h := hull{low: [3]float64{110, 20, 30}, high: [3]float64{180, 60, 90}}
		q := innermost(at, r3.Vector{}, &m)
		near, on := nearest(at, r3.Vector{}, &h, q)
		off := func(x r3.Vector) float64 { return x.Sub(h.clamp(x)).Norm() }
		assert.InDelta(t, off(near), near.Sub(on).Norm(), 1e-12)
		for _, x := range [2]r3.Vector{q, near} {
			for range 50 { // no direction parts it from the piece
				way := v(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Normalize()
				most := math.Inf(-1)
				for _, node := range at {
					most = math.Max(most, way.Dot(node))
				}
				assert.LessOrEqual(t, way.Dot(x), most+1e-9)
			}
		}
		for range 50 {
			w := mixed(r, n)
			var x r3.Vector
			for i, by := range w {
				x = x.Add(at[i].Mul(by))
			}
			assert.LessOrEqual(t, off(near), 1.2*off(x)+3)
		}
	}
}

// keen takes no box out of a node that is better than the best.
func TestKeenKeepsBetter(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	b := bay(1)
	space := adjusted(t, b)
	s, err := newSearch(task{space: space, tank: b.tank, rules: b.rules, limits: Limits{Top: 1, Effort: 1}})
	assert.NoError(t, err)
	for range 500 {
		n := *s.root
		if !n.tighten(s.bounds) {
			continue
		}
		lo, hi := [3]float64{}, [3]float64{}
		for a := range 3 {
			lo[a] = n.from[a] + r.Float64()*(n.to[a]-n.from[a])
			from := math.Max(n.from[a+3], lo[a]+s.bounds.min[a])
			hi[a] = from + r.Float64()*(n.to[a+3]-from)
		}
		value := s.value(sizeOf(lo, hi))
		s.best.value = value * r.Float64()
		if !assert.True(t, s.keen(&n)) {
			return
		}
		for a := range 3 {
			assert.GreaterOrEqual(t, lo[a], n.from[a]-1e-9)
			assert.LessOrEqual(t, lo[a], n.to[a]+1e-9)
			assert.GreaterOrEqual(t, hi[a], n.from[a+3]-1e-9)
			assert.LessOrEqual(t, hi[a], n.to[a+3]+1e-9)
		}
	}
}

func adjusted(t testing.TB, s scene) *survey.Space {
	t.Helper()
	space, err := survey.Adjust(s.readings)
	require.NoError(t, err)
	return space
}

func sizeOf(lo, hi [3]float64) solid.Size {
	return solid.Size{Width: hi[0] - lo[0], Height: hi[1] - lo[1], Depth: hi[2] - lo[2]}
}
