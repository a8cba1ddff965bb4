package network

import "math/bits"

// pattern is the order in which the unknowns, in blocks of three, are
// eliminated, and where the fill comes. Blocks are taken by least degree
// (Tinney & Walker 1967, "Direct solutions of sparse network equations by
// optimally ordered triangular factorization", Proc. IEEE 55) until what is left
// is so full that a dense factor is faster.
type pattern struct {
	n     int
	place []int // of each block in the order
	block []int // of each place
	first int   // the first place of the dense tail
	// below lists, for each place before the tail, the later places that its
	// column has blocks in, rising; begin is where they are stored.
	below [][]int
	begin []int
	// target says, for each column before the tail, where the blocks of pairs of
	// its rows are: pair (a, b), a >= b, of which b is before the tail.
	target [][]int32
	slots  int // blocks stored before the tail
}

// fullEnough is the share of the remaining blocks that the one of least degree
// must be joined to for the rest to be dense: from there on the fill is all but
// complete.
const fullEnough = 0.7

type bitset []uint64

func (b bitset) set(i int)   { b[i>>6] |= 1 << (i & 63) }
func (b bitset) clear(i int) { b[i>>6] &^= 1 << (i & 63) }
func (b bitset) count() (n int) {
	for _, w := range b {
		n += bits.OnesCount64(w)
	}
	return n
}
func (b bitset) each(do func(i int)) {
	for k, w := range b {
		for ; w != 0; w &= w - 1 {
			do(k<<6 + bits.TrailingZeros64(w))
		}
	}
}

// newPattern orders n blocks of which pairs are joined.
func newPattern(n int, pairs [][2]int) *pattern {
	p := &pattern{n: n, place: make([]int, n), block: make([]int, 0, n)}
	words := (n + 63) / 64
	store := make([]uint64, n*words)
	joined := make([]bitset, n)
	for i := range joined {
		joined[i] = store[i*words : (i+1)*words]
	}
	for _, e := range pairs {
		joined[e[0]].set(e[1])
		joined[e[1]].set(e[0])
	}
	p.eliminate(joined)
	p.finish()
	return p
}

// eliminate chooses the order. below holds blocks, not yet places.
func (p *pattern) eliminate(joined []bitset) {
	degree, gone := make([]int, p.n), make([]bool, p.n)
	for i := range joined {
		joined[i].clear(i)
		degree[i] = joined[i].count()
	}
	for len(p.block) < p.n {
		best := -1
		for i, d := range degree {
			if !gone[i] && (best < 0 || d < degree[best]) {
				best = i
			}
		}
		left := p.n - len(p.block)
		if float64(degree[best]) >= fullEnough*float64(left) {
			break
		}
		gone[best] = true
		p.block = append(p.block, best)
		var rows []int
		joined[best].each(func(i int) { rows = append(rows, i) })
		p.below = append(p.below, rows)
		for _, i := range rows {
			for k, w := range joined[best] {
				joined[i][k] |= w
			}
			joined[i].clear(i)
			joined[i].clear(best)
			degree[i] = joined[i].count()
		}
	}
	p.first = len(p.block)
	for i := range gone {
		if !gone[i] {
			p.block = append(p.block, i)
		}
	}
}

// finish turns blocks into places and finds the targets.
func (p *pattern) finish() {
	for at, b := range p.block {
		p.place[b] = at
	}
	p.slots = p.first
	for k, rows := range p.below {
		for i, b := range rows {
			rows[i] = p.place[b]
		}
		sortInts(rows)
		p.below[k] = rows
		p.begin = append(p.begin, p.slots)
		p.slots += len(rows)
	}
	p.target = make([][]int32, p.first)
	for k, rows := range p.below {
		for b, col := range rows {
			if col >= p.first {
				break
			}
			for _, row := range rows[b:] {
				p.target[k] = append(p.target[k], int32(p.slot(row, col)))
			}
		}
	}
}

// slot is where the block of a row and a column before the tail is stored.
func (p *pattern) slot(row, col int) int {
	if row == col {
		return col
	}
	rows := p.below[col]
	lo, hi := 0, len(rows)
	for lo < hi {
		mid := (lo + hi) / 2
		if rows[mid] < row {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	return p.begin[col] + lo
}
