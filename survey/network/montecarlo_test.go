package network_test

import (
	"math"
	"math/rand/v2"
	"sort"
	"testing"

	"elbowroom/survey/network"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
)

// Evaluation of measurement data - Supplement 1, propagation of distributions
// using a Monte Carlo method, JCGM 101:2008, 9.2 to 9.5; the inputs and answers
// are from memory, and agree with sampling. They show what the linear way of this
// package gets right, the standard uncertainty of a linear sum whatever the
// distributions, and where it fails: the tails of rectangles, and a square at 0.

const draws = 400_000

// sampled gives the mean, the standard deviation and the sorted draws.
func sampled(draw func(r *rand.Rand) float64) (mean, u float64, all []float64) {
	r := rand.New(rand.NewPCG(101, 2008))
	all = make([]float64, draws)
	for i := range all {
		all[i] = draw(r)
		mean += all[i] / draws
	}
	for _, v := range all {
		u += (v - mean) * (v - mean) / draws
	}
	sort.Float64s(all)
	return mean, math.Sqrt(u), all
}

// sumOf is the standard uncertainty of the sum of independent inputs by Solve.
func sumOf(t *testing.T, u ...float64) float64 {
	t.Helper()
	n := len(u)
	a, b := mat.NewDense(n, n, nil), make([]float64, n)
	for i := range n {
		a.Set(i, i, 1)
	}
	got, err := network.Solve(a, b, u)
	require.NoError(t, err)
	ones := mat.NewVecDense(n, nil)
	for i := range n {
		ones.SetVec(i, 1)
	}
	return math.Sqrt(mat.Inner(ones, got.Covariance, ones))
}

func rectangle(r *rand.Rand, u float64) float64 { return u * math.Sqrt(3) * (2*r.Float64() - 1) }

// 9.2.3 and 9.2.4: four rectangles of deviation 1, and with the last of 10.
func TestRectangles(t *testing.T) {
	for _, c := range []struct{ last, u, reach float64 }{{1, 2.00, 3.88}, {10, 10.1, 17.0}} {
		linear := sumOf(t, 1, 1, 1, c.last)
		_, u, all := sampled(func(r *rand.Rand) float64 {
			return rectangle(r, 1) + rectangle(r, 1) + rectangle(r, 1) + rectangle(r, c.last)
		})
		assert.InDelta(t, c.u, linear, 0.06)
		assert.InEpsilon(t, u, linear, 0.005, "linear sums are right whatever the distributions")
		assert.InDelta(t, c.reach, all[draws*975/1000], 0.1)
		assert.Greater(t, 1.96*linear, all[draws*975/1000], "the normal law reaches farther than the rectangles")
	}
}

// 9.4: the loss of a mismatch, X1² + X2² with u = 0.005. At 0 the derivatives
// vanish and the linear way says nothing.
func TestASquareAtItsLeast(t *testing.T) {
	const u = 0.005
	for _, c := range []struct{ x, mean, u, linear float64 }{{0, 50, 50, 0}, {0.010, 150, 112, 100}, {0.050, 2550, 502, 500}} {
		mean, sd, _ := sampled(func(r *rand.Rand) float64 {
			a, b := c.x+u*r.NormFloat64(), u*r.NormFloat64()
			return a*a + b*b
		})
		assert.InDelta(t, c.mean, 1e6*mean, 0.01*c.mean)
		assert.InDelta(t, c.u, 1e6*sd, 0.01*c.u)
		assert.InDelta(t, c.linear, 1e6*2*c.x*u, 1e-9)
	}
}

// 9.5: the end gauge of annex H.1 by sampling: 838 nm, 36 nm (32 by the linear
// way, TestEndGauge).
func TestEndGaugeBySampling(t *testing.T) {
	student := func(r *rand.Rand, u float64, freedom int) float64 {
		sum := 0.0
		for range freedom {
			z := r.NormFloat64()
			sum += z * z
		}
		return u * r.NormFloat64() / math.Sqrt(sum/float64(freedom))
	}
	// A rectangle of which the ends are known to within d.
	trapezium := func(r *rand.Rand, half, d float64) float64 {
		return (half + d*(2*r.Float64()-1)) * (2*r.Float64() - 1)
	}
	mean, u, _ := sampled(func(r *rand.Rand) float64 {
		ls := 50_000_623 + student(r, 25, 18)
		d := 215 + student(r, 6, 24) + student(r, 4, 5) + student(r, 7, 8)
		alpha := 11.5e-6 + 2e-6*(2*r.Float64()-1)
		theta := -0.1 + 0.2*r.NormFloat64() + 0.5*math.Sin(2*math.Pi*r.Float64())
		return ls + d - ls*(trapezium(r, 1e-6, 0.1e-6)*theta+alpha*trapezium(r, 0.050, 0.025)) - 50_000_000
	})
	assert.InDelta(t, 838, mean, 0.5)
	assert.InDelta(t, 36, u, 0.5)
}
