package network_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"elbowroom/survey/network"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
)

// A levelling net of three new points and a fixed one. Source: Z. Siki, "Level
// network adjustment and data snooping", lesson of the OSGeoLabBp tutorials (CC0),
// which prints the values with the decimals of the first of each pair below;
// the second has more digits, computed from the same inputs.
func TestLevelNet(t *testing.T) {
	const fixed = 101.345 // m, point 4
	lines := []struct {
		from, to       int
		rise, distance float64 // m, km; the deviation is 0.7 mm for each km
	}{
		{1, 2, -0.749, 1.1}, {1, 3, -1.274, 1.8}, {1, 4, -2.890, 1.4},
		{2, 3, -0.530, 1.5}, {2, 4, -2.141, 1.9}, {3, 4, -1.614, 0.9},
	}
	a, b, u := mat.NewDense(6, 3, nil), make([]float64, 6), make([]float64, 6)
	for i, l := range lines {
		b[i], u[i] = l.rise, 0.7e-3*l.distance
		a.Set(i, l.from-1, -1)
		if l.to == 4 {
			b[i] -= fixed
			continue
		}
		a.Set(i, l.to-1, 1)
	}

	got, err := network.Solve(a, b, u)
	require.NoError(t, err)
	assert.InDeltaSlice(t, []float64{104.2350, 103.4868, 102.9588}, got.X, 0.00005)
	assert.InDeltaSlice(t, []float64{104.234997, 103.486808, 102.958820}, got.X, 5e-7)
	assert.Equal(t, 3, got.DegreesOfFreedom)
	assert.InDelta(t, 8.217, got.SumSquares, 0.0005)
	deviation, ok := got.Deviation()
	require.True(t, ok)
	assert.InDelta(t, 1.65, deviation, 0.005)
	for j, mm := range []float64{1.13, 1.19, 0.91} {
		assert.InDelta(t, mm, 1000*deviation*math.Sqrt(got.Covariance.At(j, j)), 0.005)
	}
	for i, mm := range []float64{0.81, -2.18, 0.00, 2.01, -0.81, 0.18} {
		assert.InDelta(t, mm, 1000*got.Residuals[i], 0.0051)
	}
	assert.InDeltaSlice(t, []float64{0.3140, 0.6865, 0.5112, 0.5466, 0.7073, 0.2344}, got.Redundancy, 0.00005)
	for i, want := range []float64{1.8798, 2.0853, 0.0044, 2.5918, 0.7224, 0.5903} {
		w, ok := got.Standardised(i)
		require.True(t, ok)
		assert.InDelta(t, want, math.Abs(w), 0.00005)
	}
}

// A slip in one observation moves every residual as the redundancy matrix says:
// its own by -r times the slip.
func TestRedundancyIsWhatShowsOfASlip(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 32))
	a, b, u := mat.NewDense(9, 4, nil), make([]float64, 9), make([]float64, 9)
	for i := range b {
		b[i], u[i] = r.NormFloat64(), 0.5+r.Float64()
		for j := range 4 {
			a.Set(i, j, r.NormFloat64())
		}
	}
	before, err := network.Solve(a, b, u)
	require.NoError(t, err)
	var sum float64
	for i := range b {
		slipped := append([]float64(nil), b...)
		slipped[i] += 25.4
		after, err := network.Solve(a, slipped, u)
		require.NoError(t, err)
		assert.InDelta(t, -25.4*before.Redundancy[i], after.Residuals[i]-before.Residuals[i], 1e-12)
		assert.InDeltaSlice(t, before.Redundancy, after.Redundancy, 1e-15)
		sum += before.Redundancy[i]
	}
	assert.InDelta(t, 5, sum, 1e-12)
}

// The fourth observation alone sees the third unknown: nothing checks it.
func TestUncheckedObservation(t *testing.T) {
	a := mat.NewDense(4, 3, []float64{1, 0, 0, 1, 1, 0, 0, 1, 0, 1, 1, 1})
	got, err := network.Solve(a, []float64{1, 3, 2.2, 70}, nil)
	require.NoError(t, err)
	assert.Zero(t, got.Redundancy[3])
	_, ok := got.Standardised(3)
	assert.False(t, ok)
	for i := range 3 {
		assert.InDelta(t, 1./3, got.Redundancy[i], 1e-15)
		w, ok := got.Standardised(i)
		assert.True(t, ok)
		assert.InDelta(t, 0.2/3, math.Abs(w)*math.Sqrt(1./3), 1e-14)
	}
}

// However the numbers fall, an observation that alone sees an unknown has a
// redundancy of exactly 0.
func TestUncheckedIsExactlyZero(t *testing.T) {
	r := rand.New(rand.NewPCG(43, 44))
	for range 200 {
		a, b := mat.NewDense(7, 4, nil), make([]float64, 7)
		for i := range b {
			b[i] = r.NormFloat64()
			for j := range 3 {
				a.Set(i, j, r.NormFloat64())
			}
		}
		a.Set(2, 3, r.NormFloat64())
		got, err := network.Solve(a, b, nil)
		require.NoError(t, err)
		assert.Zero(t, got.Redundancy[2])
		_, ok := got.Standardised(2)
		assert.False(t, ok)
	}
}

// With one degree of freedom all standardised residuals are alike in size, so
// that none can be told to be the slip. Source: Guo 2015 states it; the table is
// the project's own.
func TestOneDegreeOfFreedomTellsNothingApart(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 42))
	for range 20 {
		a, b, u := mat.NewDense(6, 5, nil), make([]float64, 6), make([]float64, 6)
		for i := range b {
			b[i], u[i] = r.NormFloat64(), 0.2+r.Float64()
			for j := range 5 {
				a.Set(i, j, r.NormFloat64())
			}
		}
		got, err := network.Solve(a, b, u)
		require.NoError(t, err)
		for i := range b {
			w, ok := got.Standardised(i)
			require.True(t, ok)
			assert.InEpsilon(t, math.Sqrt(got.SumSquares), math.Abs(w), 1e-9)
		}
	}
}

// The covariance is what 10,000 simulated measurements scatter, and the
// standardised residuals have deviation 1.
func TestCovarianceIsTheScatter(t *testing.T) {
	const trials = 10_000
	r := rand.New(rand.NewPCG(51, 52))
	a := mat.NewDense(5, 2, []float64{1, 0, 1, 1, 1, 2, 1, 5, 1, 9})
	u := []float64{0.5, 1, 1, 2, 1.5}
	var xx, xy, yy, ww float64
	var s network.Solution
	for range trials {
		b := make([]float64, 5)
		for i := range b {
			b[i] = u[i] * r.NormFloat64()
		}
		var err error
		s, err = network.Solve(a, b, u)
		require.NoError(t, err)
		w, _ := s.Standardised(3)
		xx, xy, yy, ww = xx+s.X[0]*s.X[0], xy+s.X[0]*s.X[1], yy+s.X[1]*s.X[1], ww+w*w
	}
	// A variance from N trials is itself uncertain by sqrt(2/N), 1.4 %: 5 % is
	// three and a half times that.
	assert.InEpsilon(t, s.Covariance.At(0, 0), xx/trials, 0.05)
	assert.InEpsilon(t, s.Covariance.At(0, 1), xy/trials, 0.05)
	assert.InEpsilon(t, s.Covariance.At(1, 1), yy/trials, 0.05)
	assert.InEpsilon(t, 1, ww/trials, 0.05)
}

func TestZeroSolution(t *testing.T) {
	_, ok := network.Solution{}.Deviation()
	assert.False(t, ok)
}
