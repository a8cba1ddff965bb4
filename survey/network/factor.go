package network

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
)

// block is a 3 x 3 matrix by rows.
type block [9]float64

// blocks is a symmetric matrix in the places of a pattern: the lower blocks of
// each column before the tail, and the tail whole, by rows, of which the lower
// triangle counts.
type blocks struct {
	*pattern
	sparse []block
	tail   []float64
	stride int
}

func newBlocks(p *pattern) blocks {
	stride := 3 * (p.n - p.first)
	return blocks{pattern: p, sparse: make([]block, p.slots), tail: make([]float64, stride*stride), stride: stride}
}

func (b *blocks) clear() {
	clear(b.sparse)
	clear(b.tail)
}

func (b *blocks) copyOf(a *blocks) {
	copy(b.sparse, a.sparse)
	copy(b.tail, a.tail)
}

// tailAt is where the block of two places in the tail starts.
func (b *blocks) tailAt(row, col int) int {
	return 3*(row-b.first)*b.stride + 3*(col-b.first)
}

// diagonal reads or moves one entry of the diagonal.
func (b *blocks) diagonal(place, k int) *float64 {
	if place < b.first {
		return &b.sparse[place][4*k]
	}
	return &b.tail[b.tailAt(place, place)+k*(b.stride+1)]
}

// factorise replaces the matrix by its lower triangular factor. It is false
// where a pivot is not above the rounding of what it came from.
func (b *blocks) factorise() bool {
	for k := range b.first {
		if !b.sparse[k].cholesky() {
			return false
		}
		rows := b.below[k]
		column := b.sparse[b.begin[k] : b.begin[k]+len(rows)]
		for i := range column {
			column[i].overTransposed(&b.sparse[k])
		}
		b.update(k, rows, column)
	}
	if b.stride == 0 {
		return true
	}
	_, ok := lapack64.Potrf(blas64.Symmetric{Uplo: blas.Lower, N: b.stride, Data: b.tail, Stride: b.stride})
	return ok
}

// update takes the outer product of a column off the rest.
func (b *blocks) update(k int, rows []int, column []block) {
	t := 0
	for j, col := range rows {
		if col < b.first {
			for i := j; i < len(rows); i++ {
				b.sparse[b.target[k][t]].subtractProduct(&column[i], &column[j])
				t++
			}
			continue
		}
		for i := j; i < len(rows); i++ {
			at := b.tailAt(rows[i], col)
			var p block
			p.subtractProduct(&column[i], &column[j])
			for r := range 3 {
				row := b.tail[at+r*b.stride:]
				row[0] += p[3*r]
				row[1] += p[3*r+1]
				row[2] += p[3*r+2]
			}
		}
	}
}

// solve replaces x, in places, by the solution for it, with the factor.
func (b *blocks) solve(x []float64) {
	b.forward(x)
	if b.stride > 0 {
		l := blas64.Triangular{Uplo: blas.Lower, Diag: blas.NonUnit, N: b.stride, Data: b.tail, Stride: b.stride}
		end := vector(x[3*b.first:])
		blas64.Trsv(blas.NoTrans, l, end)
		blas64.Trsv(blas.Trans, l, end)
	}
	b.backward(x)
}

func (b *blocks) forward(x []float64) {
	for k := range b.first {
		v := x[3*k : 3*k+3]
		if v[0] == 0 && v[1] == 0 && v[2] == 0 {
			continue
		}
		l := &b.sparse[k]
		v[0] /= l[0]
		v[1] = (v[1] - l[3]*v[0]) / l[4]
		v[2] = (v[2] - l[6]*v[0] - l[7]*v[1]) / l[8]
		for i, row := range b.below[k] {
			c, w := &b.sparse[b.begin[k]+i], x[3*row:3*row+3]
			w[0] -= c[0]*v[0] + c[1]*v[1] + c[2]*v[2]
			w[1] -= c[3]*v[0] + c[4]*v[1] + c[5]*v[2]
			w[2] -= c[6]*v[0] + c[7]*v[1] + c[8]*v[2]
		}
	}
}

func (b *blocks) backward(x []float64) {
	for k := b.first - 1; k >= 0; k-- {
		v := x[3*k : 3*k+3]
		for i, row := range b.below[k] {
			c, w := &b.sparse[b.begin[k]+i], x[3*row:3*row+3]
			v[0] -= c[0]*w[0] + c[3]*w[1] + c[6]*w[2]
			v[1] -= c[1]*w[0] + c[4]*w[1] + c[7]*w[2]
			v[2] -= c[2]*w[0] + c[5]*w[1] + c[8]*w[2]
		}
		l := &b.sparse[k]
		v[2] /= l[8]
		v[1] = (v[1] - l[7]*v[2]) / l[4]
		v[0] = (v[0] - l[3]*v[1] - l[6]*v[2]) / l[0]
	}
}

// invert replaces the factor by those blocks of the inverse that lie in the
// pattern (Takahashi, Fagan & Chin 1973; Erisman & Tinney 1975, "On computing
// certain elements of the inverse of a sparse matrix", CACM 18).
func (b *blocks) invert() bool {
	if b.stride > 0 {
		l := blas64.Triangular{Uplo: blas.Lower, Diag: blas.NonUnit, N: b.stride, Data: b.tail, Stride: b.stride}
		if _, ok := lapack64.Potri(l); !ok {
			return false
		}
	}
	var g, z []block
	for k := b.first - 1; k >= 0; k-- {
		rows := b.below[k]
		g, z = slices.Grow(g[:0], len(rows))[:len(rows)], slices.Grow(z[:0], len(rows))[:len(rows)]
		column := b.sparse[b.begin[k] : b.begin[k]+len(rows)]
		inverse := b.sparse[k].lowerInverse()
		for i := range column {
			g[i] = product(&column[i], &inverse)
			z[i] = block{}
		}
		b.spread(k, rows, g, z)
		d := transposedProduct(&inverse, &inverse)
		for i := range column {
			column[i] = z[i]
			p := transposedProduct(&g[i], &z[i])
			for e := range d {
				d[e] -= p[e]
			}
		}
		// The two halves differ by rounding.
		d[1], d[2], d[5] = d[3], d[6], d[7]
		b.sparse[k] = d
	}
	return true
}

// spread takes the products of the inverse's blocks and g off z.
func (b *blocks) spread(k int, rows []int, g, z []block) {
	t := 0
	for j, col := range rows {
		for i := j; i < len(rows); i++ {
			var v block
			if col < b.first {
				v = b.sparse[b.target[k][t]]
				t++
			} else {
				v = b.tailBlock(rows[i], col)
			}
			if i == j {
				z[i].subtractPlain(&v, &g[j])
				continue
			}
			z[i].subtractPlain(&v, &g[j])
			v = v.transposed()
			z[j].subtractPlain(&v, &g[i])
		}
	}
}

// tailBlock reads a block of the tail, whole, from its lower triangle.
func (b *blocks) tailBlock(row, col int) (v block) {
	at := b.tailAt(row, col)
	for r := range 3 {
		copy(v[3*r:3*r+3], b.tail[at+r*b.stride:])
	}
	if row == col {
		v[1], v[2], v[5] = v[3], v[6], v[7]
	}
	return v
}

// at reads the block of two places, which the pattern must hold.
func (b *blocks) at(row, col int) block {
	if row < col {
		v := b.at(col, row)
		return v.transposed()
	}
	if col >= b.first {
		return b.tailBlock(row, col)
	}
	return b.sparse[b.slot(row, col)]
}

func (a *block) cholesky() bool {
	d0, d1, d2 := a[0], a[4], a[8]
	if !(d0 > 0) {
		return false
	}
	a[0] = math.Sqrt(d0)
	a[3] /= a[0]
	a[6] /= a[0]
	d1 -= a[3] * a[3]
	if !(d1 > 0) {
		return false
	}
	a[4] = math.Sqrt(d1)
	a[7] = (a[7] - a[6]*a[3]) / a[4]
	d2 -= a[6]*a[6] + a[7]*a[7]
	if !(d2 > 0) {
		return false
	}
	a[8] = math.Sqrt(d2)
	a[1], a[2], a[5] = 0, 0, 0
	return true
}

// overTransposed replaces a by a times the inverse of lᵀ, l lower triangular.
func (a *block) overTransposed(l *block) {
	for r := 0; r < 9; r += 3 {
		a[r] /= l[0]
		a[r+1] = (a[r+1] - a[r]*l[3]) / l[4]
		a[r+2] = (a[r+2] - a[r]*l[6] - a[r+1]*l[7]) / l[8]
	}
}

// subtractProduct takes x yᵀ off a.
func (a *block) subtractProduct(x, y *block) {
	for r := 0; r < 9; r += 3 {
		x0, x1, x2 := x[r], x[r+1], x[r+2]
		a[r] -= x0*y[0] + x1*y[1] + x2*y[2]
		a[r+1] -= x0*y[3] + x1*y[4] + x2*y[5]
		a[r+2] -= x0*y[6] + x1*y[7] + x2*y[8]
	}
}

// subtractPlain takes x y off a.
func (a *block) subtractPlain(x, y *block) {
	for r := 0; r < 9; r += 3 {
		x0, x1, x2 := x[r], x[r+1], x[r+2]
		a[r] -= x0*y[0] + x1*y[3] + x2*y[6]
		a[r+1] -= x0*y[1] + x1*y[4] + x2*y[7]
		a[r+2] -= x0*y[2] + x1*y[5] + x2*y[8]
	}
}

func (a *block) transposed() block {
	return block{a[0], a[3], a[6], a[1], a[4], a[7], a[2], a[5], a[8]}
}

// lowerInverse inverts a lower triangular block.
func (a *block) lowerInverse() (v block) {
	v[0], v[4], v[8] = 1/a[0], 1/a[4], 1/a[8]
	v[3] = -a[3] * v[0] * v[4]
	v[7] = -a[7] * v[4] * v[8]
	v[6] = -(a[6]*v[0] + a[7]*v[3]) * v[8]
	return v
}

func product(x, y *block) (v block) {
	v.subtractPlain(x, y)
	for e := range v {
		v[e] = -v[e]
	}
	return v
}

// transposedProduct is xᵀ y.
func transposedProduct(x, y *block) block {
	t := x.transposed()
	return product(&t, y)
}

func sortInts(x []int) { slices.Sort(x) }
