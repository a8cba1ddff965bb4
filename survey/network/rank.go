package network

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// epsilon is the gap between 1 and the next float64.
const epsilon = 0x1p-52

// checkRank returns *Undetermined where the columns of a, each of length 1 (or
// zero), depend on each other within rounding. a may be the triangular factor
// instead of the matrix: it has the same singular values and null space.
//
// A singular value counts as zero at max(m, n) epsilon times the greatest: a
// change of a that small is within the rounding of its entries. Source: Golub &
// Van Loan, "Matrix Computations", section 5.4.1 (4th ed.), numerical rank.
func checkRank(a *mat.Dense) error {
	m, n := a.Dims()
	var svd mat.SVD
	if !svd.Factorize(a, mat.SVDNone) {
		return allUndetermined(n)
	}
	values := svd.Values(nil)
	tolerance := float64(max(m, n)) * epsilon * values[0]
	rank := 0
	for _, v := range values {
		if v > tolerance {
			rank++
		}
	}
	if rank == n {
		return nil
	}
	if rank == 0 || !svd.Factorize(a, mat.SVDFullV) {
		return allUndetermined(n)
	}
	return &Undetermined{Columns: freeColumns(&svd, rank, tolerance/values[rank-1]), Rank: rank}
}

// freeColumns lists the columns that take part in the null space, the last
// columns of V. Rounding turns the null space by up to the tolerance over the
// least singular value that counts (Wedin 1972, "Perturbation bounds in
// connection with singular value decomposition", BIT 12), so that shares below
// noise are not real. A vector of length 1 has an entry of 1/sqrt n or more, so
// that half of it always names a column.
func freeColumns(svd *mat.SVD, rank int, noise float64) []int {
	var v mat.Dense
	svd.VTo(&v)
	n, _ := v.Dims()
	least := math.Min(noise, 0.5/math.Sqrt(float64(n)))
	var columns []int
	for j := range n {
		free := v.RawRowView(j)[rank:]
		if math.Sqrt(dot(free, free)) > least {
			columns = append(columns, j)
		}
	}
	return columns
}

func allUndetermined(n int) *Undetermined {
	columns := make([]int, n)
	for j := range columns {
		columns[j] = j
	}
	return &Undetermined{Columns: columns}
}

// weakest is the complaint of a problem whose columns are not dependent by the
// rule of checkRank, yet too nearly so to be solved: it names the columns of the
// least singular value.
func (s *system) weakest() error {
	n := s.r.N
	r := mat.NewDense(n, n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			r.Set(i, j, s.r.Data[i*s.r.Stride+j])
		}
	}
	var svd mat.SVD
	if !svd.Factorize(r, mat.SVDFullV) {
		return allUndetermined(n)
	}
	values := svd.Values(nil)
	noise := 1.0
	if n > 1 {
		noise = values[n-1] / values[n-2]
	}
	return &Undetermined{Columns: freeColumns(&svd, n-1, noise), Rank: n - 1}
}
