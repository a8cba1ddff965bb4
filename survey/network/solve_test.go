package network_test

import (
	"errors"
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"elbowroom/survey/network"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
)

// digits is the log relative error: how many digits of got are those of want.
// Where want is 0 it counts the zeros after the point.
func digits(got, want float64) float64 {
	d := math.Abs(got - want)
	if want != 0 {
		d /= math.Abs(want)
	}
	return math.Min(16, -math.Log10(d))
}

func (r reference) problem() (a *mat.Dense, b []float64) {
	columns := len(r.x)
	a = mat.NewDense(len(r.rows), columns, nil)
	for i, row := range r.rows {
		b = append(b, row[0])
		for j := range columns {
			switch {
			case j == 0:
				a.Set(i, j, 1)
			case r.powers > 0:
				a.Set(i, j, a.At(i, j-1)*row[1])
			default:
				a.Set(i, j, row[j])
			}
		}
	}
	return a, b
}

func TestSolveGivesTheCertifiedValues(t *testing.T) {
	for _, ref := range references {
		t.Run(ref.name, func(t *testing.T) {
			a, b := ref.problem()
			got, err := network.Solve(a, b, nil)
			require.NoError(t, err)
			deviation, ok := got.Deviation()
			require.True(t, ok)
			for j := range ref.x {
				assert.GreaterOrEqual(t, digits(got.X[j], ref.x[j]), ref.digits, "B%d is %v", j, got.X[j])
				sd := deviation * math.Sqrt(got.Covariance.At(j, j))
				assert.GreaterOrEqual(t, digits(sd, ref.sd[j]), ref.digitsOfFit, "sd of B%d is %v", j, sd)
			}
			assert.GreaterOrEqual(t, digits(deviation, ref.deviation), ref.digitsOfFit, "deviation %v", deviation)
			assert.GreaterOrEqual(t, digits(got.SumSquares, ref.sumSquares), ref.digitsOfFit, "sum of squares %v", got.SumSquares)
		})
	}
}

// exact solves the normal equations in fractions, and returns the nearest
// float64 of each unknown and of each residual A x - b.
func exact(a *mat.Dense, b, u []float64) (x, residuals []float64) {
	m, n := a.Dims()
	rows := make([][]*big.Rat, n) // Aᵀ W A and, in the last column, Aᵀ W b
	for j := range rows {
		rows[j] = make([]*big.Rat, n+1)
		for k := range rows[j] {
			rows[j][k] = new(big.Rat)
			for i := range m {
				right := b[i]
				if k < n {
					right = a.At(i, k)
				}
				term := product(a.At(i, j), right)
				term.Quo(term, product(u[i], u[i]))
				rows[j][k].Add(rows[j][k], term)
			}
		}
	}
	eliminate(rows)
	x, residuals = make([]float64, n), make([]float64, m)
	for j := range x {
		x[j], _ = rows[j][n].Float64()
	}
	for i := range residuals {
		v := new(big.Rat).SetFloat64(-b[i])
		for j := range n {
			term := new(big.Rat).SetFloat64(a.At(i, j))
			v.Add(v, term.Mul(term, rows[j][n]))
		}
		residuals[i], _ = v.Float64()
	}
	return x, residuals
}

func product(x, y float64) *big.Rat {
	p := new(big.Rat).SetFloat64(x)
	return p.Mul(p, new(big.Rat).SetFloat64(y))
}

// eliminate is Gauss-Jordan on a positive definite matrix, which needs no pivot.
func eliminate(rows [][]*big.Rat) {
	for p := range rows {
		pivot := new(big.Rat).Set(rows[p][p])
		for k := range rows[p] {
			rows[p][k].Quo(rows[p][k], pivot)
		}
		for q := range rows {
			if factor := new(big.Rat).Set(rows[q][p]); q != p {
				for k := range rows[q] {
					rows[q][k].Sub(rows[q][k], new(big.Rat).Mul(factor, rows[p][k]))
				}
			}
		}
	}
}

// Fractions show what a float64 problem's true answer is. Fifteen digits of
// every unknown must come out, however badly the columns, the rows or the
// weights are scaled, and residuals to fifteen digits of the greatest, over u.
func TestSolveAgainstExactArithmetic(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	check := func(t *testing.T, a *mat.Dense, b, u []float64) {
		got, err := network.Solve(a, b, u)
		require.NoError(t, err)
		if u == nil {
			u = make([]float64, len(b))
			for i := range u {
				u[i] = 1
			}
		}
		x, residuals := exact(a, b, u)
		for j := range x {
			assert.GreaterOrEqual(t, digits(got.X[j], x[j]), 15., "x%d: %v, not %v", j, got.X[j], x[j])
		}
		var most, off float64
		for i, v := range residuals {
			most = math.Max(most, math.Max(math.Abs(v/u[i]), 1e-15*math.Abs(b[i]/u[i])))
			off = math.Max(off, math.Abs((got.Residuals[i]-v)/u[i]))
		}
		assert.LessOrEqual(t, off, 1e-15*most, "residuals")
	}
	for _, ref := range references {
		t.Run(ref.name, func(t *testing.T) {
			a, b := ref.problem()
			check(t, a, b, nil)
		})
	}
	t.Run("random", func(t *testing.T) {
		for range 100 {
			n := 1 + r.IntN(5)
			m := n + 1 + r.IntN(8)
			a, b, u := mat.NewDense(m, n, nil), make([]float64, m), make([]float64, m)
			for i := range m {
				b[i], u[i] = 1000*r.NormFloat64(), math.Exp(3*r.NormFloat64())
				for j := range n {
					a.Set(i, j, r.NormFloat64()*math.Pow(10, float64(3*j)))
				}
			}
			check(t, a, b, u)
		}
	})
}

// Where columns are nearly dependent the answer is right or is refused.
func TestSolveNeverGuesses(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	for _, test := range []struct {
		gap              float64 // between the third column and the sum of the others
		answers, refuses bool    // what must be seen
	}{
		{1e-9, true, false}, {1e-12, true, false}, {1e-14, true, false}, {3e-15, true, true}, {2e-16, false, true},
	} {
		var answered, refused bool
		for range 50 {
			a, b, one := mat.NewDense(9, 3, nil), make([]float64, 9), make([]float64, 9)
			for i := range b {
				b[i], one[i] = r.NormFloat64(), 1
				a.SetRow(i, []float64{r.NormFloat64(), r.NormFloat64(), 0})
				a.Set(i, 2, a.At(i, 0)+a.At(i, 1)+test.gap*r.NormFloat64())
			}
			got, err := network.Solve(a, b, nil)
			var free *network.Undetermined
			if errors.As(err, &free) {
				refused = true
				assert.Equal(t, []int{0, 1, 2}, free.Columns)
				continue
			}
			require.NoError(t, err)
			answered = true
			x, _ := exact(a, b, one)
			for j := range x {
				assert.GreaterOrEqual(t, digits(got.X[j], x[j]), 13., "gap %g: x%d", test.gap, j)
			}
		}
		assert.Equal(t, test.answers, answered, "answered at a gap of %g", test.gap)
		assert.Equal(t, test.refuses, refused, "refused at a gap of %g", test.gap)
	}
}

// A repeat counts as a second observation, and so does half the variance.
func TestRepeatsAreWeights(t *testing.T) {
	a := mat.NewDense(5, 2, []float64{1, 0, 1, 1, 1, 2, 1, 3, 1, 3})
	repeated, err := network.Solve(a, []float64{0, 1.5, 1.5, 4, 4}, []float64{1, 2, 1, 1, 1})
	require.NoError(t, err)
	weighted, err := network.Solve(a.Slice(0, 4, 0, 2), []float64{0, 1.5, 1.5, 4}, []float64{1, 2, 1, math.Sqrt(0.5)})
	require.NoError(t, err)
	assert.InDeltaSlice(t, repeated.X, weighted.X, 1e-14)
	assert.True(t, mat.EqualApprox(repeated.Covariance, weighted.Covariance, 1e-14))
	assert.InDelta(t, repeated.SumSquares, weighted.SumSquares, 1e-14)
}

// Uncertainties k times as great leave the answer and grow its covariance k².
func TestUncertaintyOnlyScales(t *testing.T) {
	a := mat.NewDense(4, 2, []float64{1, 0, 1, 1, 1, 2, 1, 3})
	b := []float64{0, 1, 3, 2}
	one, err := network.Solve(a, b, []float64{1, 2, 1, 3})
	require.NoError(t, err)
	for _, k := range []float64{1e-6, 0.5, 1e6} {
		got, err := network.Solve(a, b, []float64{k, 2 * k, k, 3 * k})
		require.NoError(t, err)
		assert.InDeltaSlice(t, one.X, got.X, 1e-14)
		assert.InDeltaSlice(t, one.Redundancy, got.Redundancy, 1e-14)
		for i := range 2 {
			assert.InEpsilon(t, k*k*one.Covariance.At(i, i), got.Covariance.At(i, i), 1e-13)
		}
	}
}

func TestUndetermined(t *testing.T) {
	for name, test := range map[string]struct {
		rows, columns int
		a             []float64
		free          []int
		rank          int
	}{
		"nothing observes it": {4, 3, []float64{
			1, 0, 1,
			1, 0, 2,
			1, 0, 4,
			1, 0, 8}, []int{1}, 2},
		"one is a sum of others": {5, 4, []float64{
			1, 2, 0, 3,
			0, 1, 1, 1,
			2, 0, 5, 2,
			1, 1, 0, 2,
			3, 1, 2, 4}, []int{0, 1, 3}, 3},
		"levels without a fixed height": {4, 4, []float64{
			-1, 1, 0, 0,
			0, -1, 1, 0,
			0, 0, -1, 1,
			1, 0, 0, -1}, []int{0, 1, 2, 3}, 3},
		"too few observations": {2, 3, []float64{
			1, 0, 1,
			0, 1, 1}, []int{0, 1, 2}, 2},
		"too few, but one is settled": {2, 3, []float64{
			0, 1, 1,
			2, 0, 0}, []int{1, 2}, 2},
		"nothing at all": {2, 2, make([]float64, 4), []int{0, 1}, 0},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := network.Solve(mat.NewDense(test.rows, test.columns, test.a), make([]float64, test.rows), nil)
			var got *network.Undetermined
			require.ErrorAs(t, err, &got)
			assert.Equal(t, test.free, got.Columns)
			assert.Equal(t, test.rank, got.Rank)
		})
	}
}

// Columns that differ by rounding alone depend on each other, whatever their
// units; columns that differ by a little more do not.
func TestUndeterminedWithinRounding(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 22))
	for range 50 {
		a := mat.NewDense(8, 3, nil)
		for i := range 8 {
			a.SetRow(i, []float64{r.NormFloat64(), 1e6 * r.NormFloat64(), 0})
			a.Set(i, 2, a.At(i, 0)/3*1e-6+a.At(i, 1)/7*1e-12)
		}
		_, err := network.Solve(a, make([]float64, 8), nil)
		var got *network.Undetermined
		require.ErrorAs(t, err, &got)
		assert.Equal(t, []int{0, 1, 2}, got.Columns)
		for i := range 8 {
			a.Set(i, 2, a.At(i, 2)*(1+1e-10*r.NormFloat64()))
		}
		_, err = network.Solve(a, make([]float64, 8), nil)
		assert.NoError(t, err)
	}
}

func TestSolveNamesABadRow(t *testing.T) {
	good := func() (*mat.Dense, []float64, []float64) {
		return mat.NewDense(3, 1, []float64{1, 1, 1}), []float64{1, 2, 3}, []float64{1, 1, 1}
	}
	for name, test := range map[string]struct {
		spoil func(a *mat.Dense, b, u []float64)
		want  string
	}{
		"value":       {func(_ *mat.Dense, b, _ []float64) { b[1] = math.NaN() }, "row 1: the observed value is not a finite number"},
		"uncertainty": {func(_ *mat.Dense, _, u []float64) { u[2] = 0 }, "row 2: the standard uncertainty is not a number above zero"},
		"unknown":     {func(_ *mat.Dense, _, u []float64) { u[0] = math.NaN() }, "row 0: the standard uncertainty is not a number above zero"},
		"coefficient": {func(a *mat.Dense, _, _ []float64) { a.Set(0, 0, math.Inf(1)) }, "row 0: a coefficient is not a finite number"},
	} {
		t.Run(name, func(t *testing.T) {
			a, b, u := good()
			test.spoil(a, b, u)
			_, err := network.Solve(a, b, u)
			var bad *network.BadRow
			require.ErrorAs(t, err, &bad)
			assert.EqualError(t, err, test.want)
		})
	}
	a, b, u := good()
	assert.Panics(t, func() { _, _ = network.Solve(a, b[:2], u) })
}

// A network of 100 marks with 10 readings each.
func BenchmarkSolve1000By300(b *testing.B) {
	r := rand.New(rand.NewPCG(91, 92))
	a, y := mat.NewDense(1000, 300, nil), make([]float64, 1000)
	for i := range y {
		y[i] = r.NormFloat64()
		for range 6 {
			a.Set(i, r.IntN(300), r.NormFloat64())
		}
	}
	for b.Loop() {
		if _, err := network.Solve(a, y, nil); err != nil {
			b.Fatal(err)
		}
	}
}
