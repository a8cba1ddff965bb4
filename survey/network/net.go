package network

import (
	"math"

	"github.com/golang/geo/r3"
)

// Net is a network: marks, errors that several ties share, and what ties them.
// The zero Net has nothing in it.
type Net struct {
	Marks  int
	Shared int
	Ties   []Tie
	// Pinned are the coordinates that stay as they start: of marks that are
	// known, or that fix a network that nothing else fixes. nil: none.
	Pinned [][3]bool
}

// Adjusted is a network's least-squares solution. It does not change once made.
type Adjusted struct {
	Net    Net
	At     []r3.Vector // the marks, mm
	Common []float64   // the shared errors, mm
	// Residuals are fitted minus measured, mm, one a tie.
	Residuals []float64
	// Redundancy is one a tie, from 0 to 1, as in Solution. nil until Strengths.
	Redundancy []float64
	SumSquares float64 // of the residuals over their u
	// Freedom is ties less unknowns that are not pinned.
	Freedom int
	Steps   int
	Settled bool

	model    *netModel
	factor   blocks
	inverse  *blocks
	leverage []float64 // of each tie, its share in its own fitted value
}

// netModel is a Net as a Model.
type netModel struct {
	net    Net
	n      int // blocks
	normal blocks
	work   blocks
	p      []r3.Vector
	shared []float64
	rows   [][]pull
	slots  [][]int32 // where the pairs of a tie's blocks go; -1 - at in the tail
	ready  bool
	b      []float64
	g      []float64
}

func newNetModel(net Net) *netModel {
	m := &netModel{net: net, n: net.Marks + net.Shared}
	m.p, m.shared = make([]r3.Vector, net.Marks), make([]float64, net.Shared)
	m.rows = make([][]pull, len(net.Ties))
	m.slots = make([][]int32, len(net.Ties))
	m.b = make([]float64, 3*m.n)
	m.g = make([]float64, 3*m.n)
	return m
}

func (m *netModel) place(x []float64) {
	for i := range m.p {
		m.p[i] = r3.Vector{X: x[3*i], Y: x[3*i+1], Z: x[3*i+2]}
	}
	for i := range m.shared {
		m.shared[i] = x[3*(len(m.p)+i)]
	}
}

// Residuals writes (fitted - measured)/u.
func (m *netModel) Residuals(x, into []float64) {
	m.place(x)
	for l := range m.net.Ties {
		t := &m.net.Ties[l]
		into[l] = (t.value(m.p, m.shared) - t.Value) / t.U
	}
}

// pinned says whether a coordinate of a block stays; the two spare ones of a
// shared error always do.
func (m *netModel) pinned(block, k int) bool {
	if block >= m.net.Marks {
		return k > 0
	}
	return m.net.Pinned != nil && m.net.Pinned[block][k]
}

// take computes the derivatives of all ties at x, over u.
func (m *netModel) take(x []float64) {
	m.place(x)
	for l := range m.net.Ties {
		t := &m.net.Ties[l]
		row := t.pulls(m.p, m.rows[l][:0])
		for k := range row {
			by := row[k].by.Mul(1 / t.U)
			if m.pinned(row[k].block, 0) {
				by.X = 0
			}
			if m.pinned(row[k].block, 1) {
				by.Y = 0
			}
			if m.pinned(row[k].block, 2) {
				by.Z = 0
			}
			row[k].by = by
		}
		m.rows[l] = row
	}
	if !m.ready {
		m.arrange()
	}
}

// arrange orders the blocks, and finds where each tie goes.
func (m *netModel) arrange() {
	var pairs [][2]int
	for _, row := range m.rows {
		for i := range row {
			for j := range i {
				pairs = append(pairs, [2]int{row[i].block, row[j].block})
			}
		}
	}
	p := newPattern(m.n, pairs)
	m.normal, m.work = newBlocks(p), newBlocks(p)
	for l, row := range m.rows {
		for i := range row {
			for j := range i + 1 {
				a, b := p.place[row[i].block], p.place[row[j].block]
				hi, lo := max(a, b), min(a, b)
				if lo >= p.first {
					m.slots[l] = append(m.slots[l], int32(-1-m.normal.tailAt(hi, lo)))
				} else {
					m.slots[l] = append(m.slots[l], int32(p.slot(hi, lo)))
				}
			}
		}
	}
	m.ready = true
}

// Linearise adds up the normal equations.
func (m *netModel) Linearise(x, r, gradient, diagonal []float64) {
	m.take(x)
	m.normal.clear()
	clear(gradient)
	place := m.normal.place
	for l, row := range m.rows {
		s := 0
		for i := range row {
			by := row[i].by
			at := 3 * row[i].block
			gradient[at] += r[l] * by.X
			gradient[at+1] += r[l] * by.Y
			gradient[at+2] += r[l] * by.Z
			for j := range i + 1 {
				hi, lo := by, row[j].by
				if place[row[i].block] < place[row[j].block] {
					hi, lo = lo, hi
				}
				m.normal.addOuter(int(m.slots[l][s]), hi, lo)
				s++
			}
		}
	}
	for b := range m.n {
		for k := range 3 {
			d := m.normal.diagonal(place[b], k)
			if m.pinned(b, k) {
				*d = 1
			}
			diagonal[3*b+k] = *d
		}
	}
	copy(m.g, gradient)
}

// addOuter adds hi loᵀ to the block at a slot.
func (b *blocks) addOuter(slot int, hi, lo r3.Vector) {
	if slot >= 0 {
		v := &b.sparse[slot]
		v[0] += hi.X * lo.X
		v[1] += hi.X * lo.Y
		v[2] += hi.X * lo.Z
		v[3] += hi.Y * lo.X
		v[4] += hi.Y * lo.Y
		v[5] += hi.Y * lo.Z
		v[6] += hi.Z * lo.X
		v[7] += hi.Z * lo.Y
		v[8] += hi.Z * lo.Z
		return
	}
	at := -1 - slot
	for _, h := range [3]float64{hi.X, hi.Y, hi.Z} {
		row := b.tail[at : at+3]
		row[0] += h * lo.X
		row[1] += h * lo.Y
		row[2] += h * lo.Z
		at += b.stride
	}
}

// Step solves the damped normal equations.
func (m *netModel) Step(damp, d []float64) bool {
	m.work.copyOf(&m.normal)
	place := m.work.place
	for b := range m.n {
		for k := range 3 {
			if !m.pinned(b, k) {
				*m.work.diagonal(place[b], k) += damp[3*b+k]
			}
		}
	}
	if !m.work.factorise() {
		return false
	}
	for b, at := range place {
		for k := range 3 {
			m.b[3*at+k] = -m.g[3*b+k]
		}
	}
	m.work.solve(m.b)
	for b, at := range place {
		copy(d[3*b:3*b+3], m.b[3*at:3*at+3])
	}
	return true
}

// Adjust solves the network from start values, one a mark; the shared errors
// start at zero. The error is *BadRow for a tie that cannot be used and
// *Undetermined (Columns are marks) where the ties leave marks free.
//
// The method is Levenberg-Marquardt (Minimise) on normal equations in blocks of
// three, factorised in an order of least fill.
func (net Net) Adjust(start []r3.Vector) (*Adjusted, error) {
	for l := range net.Ties {
		if what := net.Ties[l].bad(); what != "" {
			return nil, &BadRow{l, what}
		}
	}
	m := newNetModel(net)
	x := make([]float64, 3*m.n)
	for i, p := range start {
		x[3*i], x[3*i+1], x[3*i+2] = p.X, p.Y, p.Z
	}
	low := descend(m, x, len(net.Ties), netSteps)
	a := &Adjusted{Net: net, model: m, SumSquares: low.SumSquares, Steps: low.Steps, Settled: low.Settled}
	m.place(x)
	a.At = append([]r3.Vector(nil), m.p...)
	a.Common = append([]float64(nil), m.shared...)
	a.Residuals = make([]float64, len(net.Ties))
	m.Residuals(x, a.Residuals)
	r := append([]float64(nil), a.Residuals...)
	for l := range net.Ties {
		a.Residuals[l] *= net.Ties[l].U
	}
	m.Linearise(x, r, make([]float64, len(x)), make([]float64, len(x)))
	a.Freedom = len(net.Ties) - net.unknowns()
	a.factor = newBlocks(m.normal.pattern)
	a.factor.copyOf(&m.normal)
	if !a.factor.factorise() || a.factor.loose(&m.normal) {
		return a, a.undetermined()
	}
	return a, nil
}

// netSteps bounds the steps of a network. A good start takes five to fifteen; one
// that folds a part of it over does not get better with hundreds.
const netSteps = 80

// unknowns counts what is not pinned.
func (net Net) unknowns() int {
	n := 3*net.Marks + net.Shared
	for _, p := range net.Pinned {
		for k := range p {
			if p[k] {
				n--
			}
		}
	}
	return n
}

// loose says that a pivot of the factor is nothing but the rounding of the
// diagonal that it came from. Each pivot is left after up to 3n subtractions;
// ten thousand roundings cover any network of this kind, and a pivot of a
// million-millionth of its diagonal is a coordinate known a million times worse
// than its own ties say.
func (b *blocks) loose(a *blocks) bool {
	const noise = 1e-12
	for place := range b.n {
		for k := range 3 {
			l := *b.diagonal(place, k)
			if l*l <= noise**a.diagonal(place, k) {
				return true
			}
		}
	}
	return false
}

// undetermined finds the marks that can move without any tie noticing: those
// in the slowest directions of the normal equations, by inverse iteration with
// a trace of damping.
func (a *Adjusted) undetermined() error {
	m := a.model
	damp := make([]float64, 3*m.n)
	for b, at := range m.normal.place {
		for k := range 3 {
			// Enough to factorise, far under what a tie holds with.
			damp[3*b+k] = 1e-9 * math.Max(*m.normal.diagonal(at, k), 1e-300)
		}
	}
	free := map[int]bool{}
	for try := range 8 {
		v, d := make([]float64, 3*m.n), make([]float64, 3*m.n)
		for i := range v { // a fixed spread of directions
			v[i] = math.Sin(float64(1 + i*(2*try+3)))
		}
		for range 6 {
			for i := range v {
				m.g[i] = -v[i]
			}
			for b := range m.n {
				for k := range 3 {
					if m.pinned(b, k) {
						m.g[3*b+k] = 0
					}
				}
			}
			if !m.Step(damp, d) {
				return allUndetermined(m.net.Marks)
			}
			size := math.Sqrt(dot(d, d))
			for i := range v {
				v[i] = d[i] / size
			}
		}
		for i := range m.net.Marks {
			if math.Sqrt(dot(v[3*i:3*i+3], v[3*i:3*i+3])) > 1e-3 {
				free[i] = true
			}
		}
	}
	out := &Undetermined{}
	for i := range m.net.Marks {
		if free[i] {
			out.Columns = append(out.Columns, i)
		}
	}
	return out
}

// Values are what the ties would read with the marks at p and such shared errors.
func (net Net) Values(p []r3.Vector, shared []float64) []float64 {
	out := make([]float64, len(net.Ties))
	for l := range net.Ties {
		out[l] = net.Ties[l].value(p, shared)
	}
	return out
}
