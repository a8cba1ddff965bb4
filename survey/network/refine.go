package network

import (
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
)

// maxPasses bounds the refinement: a pass that only halves the error, the slowest
// that still counts, has all 53 bits of a float64 after as many. Two or three
// are enough where the columns are not nearly dependent.
const maxPasses = 53

// refine solves the problem as the augmented system
//
//	D s + A x = b,   Aᵀ D⁻¹ s = 0
//
// with D the diagonal of u, so that s holds the residuals b - A x over u. Each
// pass computes what is left of both equations in twice the working precision
// and solves for the correction with the factors. It stops when the correction
// is within the rounding of x. ok is false when that does not come: the columns
// are too nearly dependent for the factors to be of use.
func (s *system) refine() (x, scaled []float64, ok bool) {
	m, n := s.a.Dims()
	x, scaled = make([]float64, n), make([]float64, m)
	for range maxPasses {
		dx, ds := s.correction(s.left(x, scaled))
		add(x, dx)
		add(scaled, ds)
		if s.norm(dx) <= epsilon*s.norm(x) {
			return x, scaled, true
		}
	}
	return nil, nil, false
}

// norm is the greatest entry of x times the length of its column: the most that
// one unknown moves the fitted values, over u.
func (s *system) norm(x []float64) float64 {
	var most float64
	for j, v := range x {
		most = math.Max(most, math.Abs(v)*s.length[j])
	}
	return most
}

// left is what x and scaled leave of both equations: f, m long, divided by u,
// and g, n long, divided by the lengths of the columns.
func (s *system) left(x, scaled []float64) (f, g []float64) {
	m, n := s.a.Dims()
	f, g = make([]float64, m), make([]float64, n)
	sums := make([]twofold, n)
	for i := range m {
		row := s.a.RawRowView(i)
		sum := twofold{hi: s.b[i]}
		sum.addProduct(-s.u[i], scaled[i])
		over := scaled[i] / s.u[i]
		rest := math.FMA(-over, s.u[i], scaled[i]) / s.u[i] // of the division
		for j, aij := range row {
			sum.addProduct(-aij, x[j])
			sums[j].addProduct(-aij, over)
			sums[j].addProduct(-aij, rest)
		}
		f[i] = sum.value() / s.u[i]
	}
	for j := range g {
		g[j] = sums[j].value() / s.length[j]
	}
	return f, g
}

// correction solves the augmented system for the right-hand side f, g: with the
// scaled matrix = Q R and h = R⁻ᵀ g, the residuals are f - Q (Qᵀ f - h), and the
// scaled unknowns are R⁻¹ (Qᵀ f - h).
func (s *system) correction(f, g []float64) (dx, ds []float64) {
	q := s.q.RawMatrix()
	blas64.Trsv(blas.Trans, s.r, vector(g))
	y := make([]float64, len(g))
	copy(y, g)
	blas64.Gemv(blas.Trans, 1, q, vector(f), -1, vector(y))
	blas64.Gemv(blas.NoTrans, -1, q, vector(y), 1, vector(f))
	blas64.Trsv(blas.NoTrans, s.r, vector(y))
	for j := range y {
		y[j] /= s.length[j]
	}
	return y, f
}

// twofold is a sum kept as hi + lo, as exact as if it were added up with twice
// the digits and rounded once. Source: Ogita, Rump & Oishi 2005, "Accurate sum
// and dot product", SIAM J. Sci. Comput. 26, algorithm Dot2.
type twofold struct{ hi, lo float64 }

func (t *twofold) addProduct(x, y float64) {
	p := float64(x * y)
	e := math.FMA(x, y, -p)
	sum := t.hi + p
	z := sum - t.hi
	e += (t.hi - (sum - z)) + (p - z)
	t.hi = sum
	t.lo += e
}

func (t *twofold) value() float64 { return t.hi + t.lo }

func vector(x []float64) blas64.Vector { return blas64.Vector{N: len(x), Inc: 1, Data: x} }

func dot(x, y []float64) float64 { return blas64.Dot(vector(x), vector(y)) }

func add(x, d []float64) {
	for i := range x {
		x[i] += d[i]
	}
}

func ones(n int) []float64 {
	x := make([]float64, n)
	for i := range x {
		x[i] = 1
	}
	return x
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
