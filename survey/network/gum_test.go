package network_test

import (
	"math"
	"testing"

	"elbowroom/survey/network"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// Evaluation of measurement data - Guide to the expression of uncertainty in
// measurement, JCGM 100:2008, annex H.

// H.1, end gauge. The gauge's length is an unknown next to the five inputs, and
// the comparator's reading d is observed:
//
//	d = l - ls + ls (delta_alpha theta + alpha_s delta_theta)
//
// linear about the estimates. Its standard uncertainty is 32 nm (31.66), 34 nm
// with the terms of second order that H.1.7 adds.
func TestEndGauge(t *testing.T) {
	const (
		ls     = 50_000_623.0 // nm
		theta  = -0.1         // degrees
		alphaS = 11.5e-6      // for each degree
	)
	rectangular := 1 / math.Sqrt(3)             // deviation of a limit of 1
	uD := math.Hypot(5.8, math.Hypot(3.9, 6.7)) // repeats, comparator by chance, by system
	uTheta := math.Hypot(0.2, 0.5/math.Sqrt2)   // the arcsine cycle has limit 0.5
	// Unknowns: l, ls, delta_alpha, theta, alpha_s, delta_theta. delta_alpha and
	// delta_theta are 0, so that theta and alpha_s drop out to first order.
	a := mat.NewDense(6, 6, []float64{
		1, -1, ls * theta, 0, 0, ls * alphaS,
		0, 1, 0, 0, 0, 0,
		0, 0, 1, 0, 0, 0,
		0, 0, 0, 1, 0, 0,
		0, 0, 0, 0, 1, 0,
		0, 0, 0, 0, 0, 1,
	})
	b := []float64{215, ls, 0, theta, alphaS, 0}
	u := []float64{uD, 25, 1e-6 * rectangular, uTheta, 2e-6 * rectangular, 0.05 * rectangular}

	got, err := network.Solve(a, b, u)
	require.NoError(t, err)
	assert.InDelta(t, 50.000838, got.X[0]/1e6, 5e-10)
	assert.InDelta(t, 9.7, uD, 0.05)
	first := math.Sqrt(got.Covariance.At(0, 0))
	assert.InDelta(t, 31.66, first, 0.005)
	second := ls * math.Hypot(u[2]*uTheta, u[4]*u[5]) // 11.7 and 1.7 nm
	assert.InDelta(t, 34, math.Hypot(first, second), 0.5)
}

// H.2, resistance and reactance from voltage, current and phase that were
// measured together. The estimates are means, with the covariance of the means
// from the residuals; R, X and Z follow by their derivatives. The readings of
// table H.2 are from memory; the answers of tables H.3 and H.4 were read.
func TestImpedance(t *testing.T) {
	readings := [3][]float64{
		{5.007, 4.994, 5.005, 4.990, 4.999},      // V
		{19.663, 19.639, 19.640, 19.685, 19.678}, // mA
		{1.0456, 1.0438, 1.0468, 1.0428, 1.0433}, // rad
	}
	var mean [3]float64
	var residuals [3][]float64
	for k, b := range readings {
		got, err := network.Solve(mat.NewDense(5, 1, []float64{1, 1, 1, 1, 1}), b, nil)
		require.NoError(t, err)
		mean[k], residuals[k] = got.X[0], got.Residuals
		deviation, _ := got.Deviation()
		u := deviation * math.Sqrt(got.Covariance.At(0, 0))
		assert.InDelta(t, []float64{0.0032, 0.0095, 0.00075}[k], u, []float64{0.00005, 0.00005, 0.000005}[k])
	}
	assert.InDelta(t, 4.9990, mean[0], 0.00005)
	assert.InDelta(t, 19.6610, mean[1], 0.00005)
	assert.InDelta(t, 1.04446, mean[2], 0.000005)
	inputs := mat.NewDense(3, 3, nil)
	for k := range 3 {
		for l := range 3 {
			inputs.Set(k, l, floats.Dot(residuals[k], residuals[l])/(5*4))
		}
	}
	assert.InDelta(t, -0.36, correlation(inputs, 0, 1), 0.005)
	assert.InDelta(t, 0.86, correlation(inputs, 0, 2), 0.005)
	assert.InDelta(t, -0.65, correlation(inputs, 1, 2), 0.005)

	i := mean[1] / 1000
	z := mean[0] / i
	sin, cos := math.Sincos(mean[2])
	assert.InDelta(t, 127.732, z*cos, 0.0005)
	assert.InDelta(t, 219.847, z*sin, 0.0005)
	assert.InDelta(t, 254.260, z, 0.0005)
	derivatives := mat.NewDense(3, 3, []float64{ // of R, X, Z by V, mA, rad
		cos / i, -z * cos / mean[1], -z * sin,
		sin / i, -z * sin / mean[1], z * cos,
		1 / i, -z / mean[1], 0,
	})
	var out mat.Dense
	out.Product(derivatives, inputs, derivatives.T())
	assert.InDelta(t, 0.071, math.Sqrt(out.At(0, 0)), 0.0005)
	assert.InDelta(t, 0.295, math.Sqrt(out.At(1, 1)), 0.001) // 0.2956, printed with the last digit cut off
	assert.InDelta(t, 0.236, math.Sqrt(out.At(2, 2)), 0.0005)
	assert.InDelta(t, -0.588, correlation(&out, 0, 1), 0.0005)
	assert.InDelta(t, -0.485, correlation(&out, 0, 2), 0.0005)
	assert.InDelta(t, 0.993, correlation(&out, 1, 2), 0.0005)
}

// H.3, calibration line of a thermometer: correction against reading less 20.
func TestThermometer(t *testing.T) {
	readings := []float64{21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511}
	corrections := []float64{-.171, -.169, -.166, -.159, -.164, -.165, -.156, -.157, -.159, -.161, -.160}
	a := mat.NewDense(len(readings), 2, nil)
	for i, r := range readings {
		a.SetRow(i, []float64{1, r - 20})
	}
	got, err := network.Solve(a, corrections, nil)
	require.NoError(t, err)
	s, _ := got.Deviation()
	c := got.Covariance
	assert.InDelta(t, 0.0035, s, 0.00005)
	assert.InDelta(t, -0.1712, got.X[0], 0.00005)
	assert.InDelta(t, 0.0029, s*math.Sqrt(c.At(0, 0)), 0.00005)
	assert.InDelta(t, 0.00218, got.X[1], 0.000005)
	assert.InDelta(t, 0.00067, s*math.Sqrt(c.At(1, 1)), 0.000005)
	assert.InDelta(t, -0.930, correlation(c, 0, 1), 0.0005)
	assert.InDelta(t, -0.1494, got.X[0]+10*got.X[1], 0.00005)
	assert.InDelta(t, 0.0041, s*math.Sqrt(c.At(0, 0)+100*c.At(1, 1)+20*c.At(0, 1)), 0.00005)
}

func correlation(c mat.Matrix, i, j int) float64 {
	return c.At(i, j) / math.Sqrt(c.At(i, i)*c.At(j, j))
}
