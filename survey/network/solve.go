// Package network fits what was measured by least squares: linear problems with
// their covariance and reliability, and planes through marks with the influence
// of each mark.
//
// Throughout, u is a standard uncertainty in the unit of what it belongs to, a
// residual is the correction that a measured value needs (fitted minus
// measured), and rows and columns count from 0.
package network

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack"
	"gonum.org/v1/gonum/lapack/lapack64"
	"gonum.org/v1/gonum/mat"
)

// Solution is a solved least-squares problem of m observations and n unknowns.
// The zero Solution is of no observations and no unknowns.
type Solution struct {
	// X holds the n unknowns, each in its own unit.
	X []float64

	// Residuals holds v = A x - b, m values in the unit of b: what has to be
	// added to each observation to make it fit.
	Residuals []float64

	// Covariance is that of X, n by n, as the given uncertainties make it: the
	// inverse of Aᵀ W A with W = diag(1/u²), not scaled by how well the
	// observations agree.
	Covariance *mat.SymDense

	// Redundancy holds r_i = 1 - h_i for each observation, from 0 to 1, h_i
	// being the share of an observation's own value in its fitted one. A slip
	// of 1 in b_i changes its residual by -r_i; at 0 nothing checks it. They add
	// up to DegreesOfFreedom. One that is not above rounding is 0.
	Redundancy []float64

	// SumSquares is the sum of (v_i/u_i)², without unit; with u nil, the sum of
	// v_i² in the unit of b squared.
	SumSquares float64

	// DegreesOfFreedom is m - n.
	DegreesOfFreedom int

	u []float64
}

// Solve finds the x that makes
//
//	sum over i of ((A x - b)_i / u_i)²
//
// least. A is m by n with m >= n >= 1; b and u have length m. u holds standard
// uncertainties in the unit of b; nil means that each is 1, and then
// Deviation is the estimate of the common one.
//
// The method is Householder QR of the rows divided by u and the columns scaled
// to length 1, then iterative refinement of x and the residuals together, with
// inner products in twice the working precision (Björck 1967, "Iterative
// refinement of linear least squares solutions I", BIT 7, 257-278). X and
// Residuals are then right to the last digit or two for A, b and u as float64
// holds them. Covariance and Redundancy come from the factors alone: their
// relative error is about the condition number of the scaled A times 2^-53.
//
// The error is *BadRow for a number that cannot be used, and *Undetermined
// where the columns of A depend on each other within rounding. Lengths that do
// not match are a mistake of the caller's code and panic.
func Solve(a mat.Matrix, b, u []float64) (Solution, error) {
	m, n := a.Dims()
	if len(b) != m || (u != nil && len(u) != m) {
		panic(mat.ErrShape)
	}
	s := system{a: mat.DenseCopyOf(a), b: b, u: slices.Clone(u)}
	if u == nil {
		s.u = ones(m)
	}
	if err := s.checkNumbers(); err != nil {
		return Solution{}, err
	}
	if err := s.factorize(); err != nil {
		return Solution{}, err
	}
	x, scaled, ok := s.refine()
	if !ok {
		return Solution{}, s.weakest()
	}
	return s.solution(n, x, scaled), nil
}

// Deviation is the standard deviation of an observation whose u is 1, as the
// residuals show it: the square root of SumSquares over DegreesOfFreedom. It is
// about 1 where the given uncertainties are right. ok is false with no degree of
// freedom, where the residuals show nothing.
func (s Solution) Deviation() (sd float64, ok bool) {
	if s.DegreesOfFreedom < 1 {
		return 0, false
	}
	return math.Sqrt(s.SumSquares / float64(s.DegreesOfFreedom)), true
}

// Standardised is w_i = v_i / (u_i sqrt(r_i)), the residual of observation i in
// units of its own standard deviation: normal with deviation 1 where the
// uncertainties are right and nothing slipped. ok is false where the redundancy
// is 0, as nothing checks that observation. Source: Baarda 1968, "A testing
// procedure for use in geodetic networks", from memory.
func (s Solution) Standardised(i int) (w float64, ok bool) {
	if s.Redundancy[i] == 0 {
		return 0, false
	}
	return s.Residuals[i] / (s.u[i] * math.Sqrt(s.Redundancy[i])), true
}

// system is a problem and its factors: the rows of A over u, times the inverse
// of the column lengths, are q times r.
type system struct {
	a      *mat.Dense
	b, u   []float64
	length []float64 // of the columns of A, their rows over u
	q      *mat.Dense
	r      blas64.Triangular
}

func (s *system) checkNumbers() error {
	m, n := s.a.Dims()
	for i := range m {
		if !finite(s.b[i]) {
			return &BadRow{i, "the observed value is not a finite number"}
		}
		if !(s.u[i] > 0) || !finite(s.u[i]) {
			return &BadRow{i, "the standard uncertainty is not a number above zero"}
		}
		for j := range n {
			if !finite(s.a.At(i, j)) || !finite(s.a.At(i, j)/s.u[i]) {
				return &BadRow{i, "a coefficient is not a finite number"}
			}
		}
	}
	return nil
}

func (s *system) factorize() error {
	m, n := s.a.Dims()
	s.q = mat.NewDense(m, n, nil)
	s.q.Apply(func(i, _ int, v float64) float64 { return v / s.u[i] }, s.a)
	s.length = make([]float64, n)
	for j := range n {
		column := s.q.ColView(j)
		s.length[j] = mat.Norm(column, 2)
		if s.length[j] == 0 {
			s.length[j] = 1
		}
	}
	s.q.Apply(func(_, j int, v float64) float64 { return v / s.length[j] }, s.q)
	if m < n {
		return checkRank(s.q)
	}

	raw := s.q.RawMatrix()
	tau := make([]float64, n)
	work := make([]float64, workSize*max(m, n))
	lapack64.Geqrf(raw, tau, work, len(work))
	r := mat.NewTriDense(n, mat.Upper, nil)
	for i := range n {
		for j := i; j < n; j++ {
			r.SetTri(i, j, s.q.At(i, j))
		}
	}
	s.r = r.RawTriangular()
	if lapack64.Trcon(lapack.MaxColumnSum, s.r, make([]float64, 3*n), make([]int, n)) < doubtful {
		if err := checkRank(mat.DenseCopyOf(r)); err != nil {
			return err
		}
	}
	lapack64.Orgqr(raw, tau, work, len(work))
	return nil
}

// doubtful is the reciprocal condition number under which the rank is looked at
// with singular values. It is the square root of epsilon: the estimate used to
// get there is seldom wrong by more than a factor of ten (Higham 2002, section
// 15.3), and this leaves eight digits for it.
const doubtful = 0x1p-26

// workSize is the block of columns that the factorization takes at a time; it
// sets the speed and nothing else.
const workSize = 32

func (s *system) solution(n int, x, scaled []float64) Solution {
	m := len(scaled)
	out := Solution{X: x, DegreesOfFreedom: m - n, u: s.u}
	out.Residuals = make([]float64, m)
	out.Redundancy = make([]float64, m)
	// Each of the n products of h is wrong by up to about m rounding steps,
	// the error of a Householder Q (Higham 2002, "Accuracy and Stability of
	// Numerical Algorithms", theorem 19.13).
	noise := float64(m*n) * epsilon
	for i, v := range scaled {
		out.Residuals[i] = -v * s.u[i]
		out.SumSquares += v * v
		row := s.q.RawRowView(i)
		if r := 1 - dot(row, row); r > noise {
			out.Redundancy[i] = r
		}
	}
	out.Covariance = s.covariance()
	return out
}

// covariance is the inverse of Aᵀ W A, from the inverse of r with the scaling
// of the columns taken off.
func (s *system) covariance() *mat.SymDense {
	n := len(s.length)
	inverse := mat.NewTriDense(n, mat.Upper, nil)
	raw := inverse.RawTriangular()
	copy(raw.Data, s.r.Data)
	lapack64.Trtri(raw)
	cov := mat.NewSymDense(n, nil)
	cov.SymOuterK(1, inverse)
	for i := range n {
		for j := i; j < n; j++ {
			cov.SetSym(i, j, cov.At(i, j)/s.length[i]/s.length[j])
		}
	}
	return cov
}
