package network_test

import (
	"math"
	"testing"

	"elbowroom/survey/network"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
)

// Statistical Reference Datasets of the National Institute of Standards and
// Technology (NIST/ITL StRD), non-linear regression: data, both starts and
// certified values of the files Misra1a.dat, DanWood.dat, BoxBOD.dat, Rat42.dat,
// Thurber.dat and MGH09.dat, typed as the files print them.
type curveReference struct {
	name       string
	curve      func(b []float64, x float64) float64
	starts     [2][]float64
	x, sd      []float64 // certified estimates and their standard deviations
	sumSquares float64
	rows       [][2]float64 // y, x
}

func rational(x float64, over, under []float64) float64 {
	p, q := 0.0, 0.0
	for i := len(over) - 1; i >= 0; i-- {
		p = p*x + over[i]
	}
	for i := len(under) - 1; i >= 0; i-- {
		q = q*x + under[i]
	}
	return p / q
}

func saturation(b []float64, x float64) float64 { return b[0] * (1 - math.Exp(-b[1]*x)) }

var curves = []curveReference{
	{
		name:       "Misra1a",
		curve:      saturation,
		starts:     [2][]float64{{500, 0.0001}, {250, 0.0005}},
		x:          []float64{2.3894212918e+02, 5.5015643181e-04},
		sd:         []float64{2.7070075241e+00, 7.2668688436e-06},
		sumSquares: 1.2455138894e-01,
		rows: [][2]float64{
			{10.07, 77.6}, {14.73, 114.9}, {17.94, 141.1}, {23.93, 190.8}, {29.61, 239.9},
			{35.18, 289.0}, {40.02, 332.8}, {44.82, 378.4}, {50.76, 434.8}, {55.05, 477.3},
			{61.01, 536.8}, {66.40, 593.1}, {75.47, 689.1}, {81.78, 760.0},
		},
	},
	{
		name:       "DanWood",
		curve:      func(b []float64, x float64) float64 { return b[0] * math.Pow(x, b[1]) },
		starts:     [2][]float64{{1, 5}, {0.7, 4}},
		x:          []float64{7.6886226176e-01, 3.8604055871e+00},
		sd:         []float64{1.8281973860e-02, 5.1726610913e-02},
		sumSquares: 4.3173084083e-03,
		rows: [][2]float64{
			{2.138, 1.309}, {3.421, 1.471}, {3.597, 1.490}, {4.340, 1.565}, {4.882, 1.611},
			{5.660, 1.680},
		},
	},
	{
		name:       "BoxBOD",
		curve:      saturation,
		starts:     [2][]float64{{1, 1}, {100, 0.75}},
		x:          []float64{2.1380940889e+02, 5.4723748542e-01},
		sd:         []float64{1.2354515176e+01, 1.0455993237e-01},
		sumSquares: 1.1680088766e+03,
		rows: [][2]float64{
			{109, 1}, {149, 2}, {149, 3}, {191, 5}, {213, 7},
			{224, 10},
		},
	},
	{
		name:       "Rat42",
		curve:      func(b []float64, x float64) float64 { return b[0] / (1 + math.Exp(b[1]-b[2]*x)) },
		starts:     [2][]float64{{100, 1, 0.1}, {75, 2.5, 0.07}},
		x:          []float64{7.2462237576e+01, 2.6180768402e+00, 6.7359200066e-02},
		sd:         []float64{1.7340283401e+00, 8.8295217536e-02, 3.4465663377e-03},
		sumSquares: 8.0565229338e+00,
		rows: [][2]float64{
			{8.930, 9.000}, {10.800, 14.000}, {18.590, 21.000}, {22.330, 28.000}, {39.350, 42.000},
			{56.110, 57.000}, {61.730, 63.000}, {64.620, 70.000}, {67.080, 79.000},
		},
	},
	{
		name: "Thurber",
		curve: func(b []float64, x float64) float64 {
			return rational(x, b[:4], []float64{1, b[4], b[5], b[6]})
		},
		starts:     [2][]float64{{1000, 1000, 400, 40, 0.7, 0.3, 0.03}, {1300, 1500, 500, 75, 1, 0.4, 0.05}},
		x:          []float64{1.2881396800e+03, 1.4910792535e+03, 5.8323836877e+02, 7.5416644291e+01, 9.6629502864e-01, 3.9797285797e-01, 4.9727297349e-02},
		sd:         []float64{4.6647963344e+00, 3.9571156086e+01, 2.8698696102e+01, 5.5675370270e+00, 3.1333340687e-02, 1.4984928198e-02, 6.5842344623e-03},
		sumSquares: 5.6427082397e+03,
		rows: [][2]float64{
			{80.574, -3.067}, {84.248, -2.981}, {87.264, -2.921}, {87.195, -2.912}, {89.076, -2.840},
			{89.608, -2.797}, {89.868, -2.702}, {90.101, -2.699}, {92.405, -2.633}, {95.854, -2.481},
			{100.696, -2.363}, {101.060, -2.322}, {401.672, -1.501}, {390.724, -1.460}, {567.534, -1.274},
			{635.316, -1.212}, {733.054, -1.100}, {759.087, -1.046}, {894.206, -0.915}, {990.785, -0.714},
			{1090.109, -0.566}, {1080.914, -0.545}, {1122.643, -0.400}, {1178.351, -0.309}, {1260.531, -0.109},
			{1273.514, -0.103}, {1288.339, 0.010}, {1327.543, 0.119}, {1353.863, 0.377}, {1414.509, 0.790},
			{1425.208, 0.963}, {1421.384, 1.006}, {1442.962, 1.115}, {1464.350, 1.572}, {1468.705, 1.841},
			{1447.894, 2.047}, {1457.628, 2.200},
		},
	},
	{
		name: "MGH09",
		curve: func(b []float64, x float64) float64 {
			return b[0] * rational(x, []float64{0, b[1], 1}, []float64{b[3], b[2], 1})
		},
		starts:     [2][]float64{{25, 39, 41.5, 39}, {0.25, 0.39, 0.415, 0.39}},
		x:          []float64{1.9280693458e-01, 1.9128232873e-01, 1.2305650693e-01, 1.3606233068e-01},
		sd:         []float64{1.1435312227e-02, 1.9633220911e-01, 8.0842031232e-02, 9.0025542308e-02},
		sumSquares: 3.0750560385e-04,
		rows: [][2]float64{
			{1.957000e-01, 4.000000}, {1.947000e-01, 2.000000}, {1.735000e-01, 1.000000}, {1.600000e-01, 5.000000e-01}, {8.440000e-02, 2.500000e-01},
			{6.270000e-02, 1.670000e-01}, {4.560000e-02, 1.250000e-01}, {3.420000e-02, 1.000000e-01}, {3.230000e-02, 8.330000e-02}, {2.350000e-02, 7.140000e-02},
			{2.460000e-02, 6.250000e-02},
		},
	},
}

// dense is a curve as a Model, with QR instead of normal equations.
type dense struct {
	r *curveReference
	j *mat.Dense
	f []float64
}

func (d *dense) Residuals(x, into []float64) {
	for i, row := range d.r.rows {
		into[i] = d.r.curve(x, row[1]) - row[0]
	}
}

// Linearise takes central differences, right to about eleven digits.
func (d *dense) Linearise(x, r, gradient, diagonal []float64) {
	d.j, d.f = mat.NewDense(len(r), len(x), nil), append([]float64(nil), r...)
	for k := range x {
		h := 1e-5 * math.Max(math.Abs(x[k]), 1e-8)
		both := [2][]float64{append([]float64(nil), x...), append([]float64(nil), x...)}
		both[0][k] += h
		both[1][k] -= h
		h = both[0][k] - both[1][k]
		gradient[k], diagonal[k] = 0, 0
		for i, row := range d.r.rows {
			v := (d.r.curve(both[0], row[1]) - d.r.curve(both[1], row[1])) / h
			d.j.Set(i, k, v)
			gradient[k] += v * r[i]
			diagonal[k] += v * v
		}
	}
}

func (d *dense) Step(damp, step []float64) bool {
	m, n := d.j.Dims()
	a, b := mat.NewDense(m+n, n, nil), mat.NewVecDense(m+n, nil)
	a.Slice(0, m, 0, n).(*mat.Dense).Copy(d.j)
	for i, v := range d.f {
		b.SetVec(i, -v)
	}
	for k, v := range damp {
		a.Set(m+k, k, math.Sqrt(v))
	}
	var qr mat.QR
	qr.Factorize(a)
	var x mat.VecDense
	if err := qr.SolveVecTo(&x, false, b); err != nil {
		if _, near := err.(mat.Condition); !near {
			return false
		}
	}
	copy(step, x.RawVector().Data)
	return true
}

// Six certified digits of the estimates, their standard deviations and the sum
// of squares, from both starts, the far one too.
func TestMinimiseGivesTheCertifiedValues(t *testing.T) {
	for _, r := range curves {
		for k, start := range r.starts {
			x := append([]float64(nil), start...)
			d := &dense{r: &r}
			low := network.Minimise(d, x, len(r.rows))
			require.True(t, low.Settled, "%s, start %d", r.name, k+1)
			for j := range x {
				assert.GreaterOrEqual(t, digits(x[j], r.x[j]), 6.0, "%s, start %d: b%d = %v", r.name, k+1, j+1, x[j])
			}
			assert.GreaterOrEqual(t, digits(low.SumSquares, r.sumSquares), 6.0, "%s, start %d", r.name, k+1)
			fit, err := network.Solve(d.j, make([]float64, len(r.rows)), nil)
			require.NoError(t, err)
			s := math.Sqrt(low.SumSquares / float64(fit.DegreesOfFreedom))
			for j := range x {
				assert.GreaterOrEqual(t, digits(s*math.Sqrt(fit.Covariance.At(j, j)), r.sd[j]), 6.0, "%s, start %d: sd of b%d", r.name, k+1, j+1)
			}
			t.Logf("%s, start %d: %d steps", r.name, k+1, low.Steps)
		}
	}
}
