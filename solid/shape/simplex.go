package shape

import (
	"math"
	"math/bits"

	"github.com/golang/geo/r3"
)

// vertex is a corner of the set of differences b - a, with the points that make
// it. A ray is a direction that the set goes on in without end: its weight may
// be anything from 0 up and is no part of the sum of 1.
type vertex struct {
	at     r3.Vector // b - a
	far2   float64   // its length squared
	a, b   r3.Vector
	ia, ib int // names of a and b in their cores
	ray    bool
}

// simplex is up to four vertices, the weights of the point of their hull that
// is nearest the origin, and that point.
type simplex struct {
	n       int
	vertex  [4]vertex
	by      [4]float64
	nearest r3.Vector
}

// flatEdge is the share of its length that an edge must stand out of the span
// of the edges before it, to count. Below it the projection has lost all but
// 2^-53/2^-40 of its figures, and a subset with fewer vertices does as well to
// 2^-40 of the edge's length squared.
const flatEdge = 1.0 / (1 << 40)

// add puts a vertex last and finds the nearest point anew. It looks through the
// subsets that hold the new vertex and takes the nearest of their projections
// that lie inside their subset: no case analysis that could go wrong on thin
// simplices. It returns false, with all as it was, where that is no nearer than
// before.
func (s *simplex) add(v *vertex) bool {
	best := math.Inf(1)
	if s.n > 0 {
		best = s.nearest.Norm2()
	}
	s.vertex[s.n] = *v
	s.n++
	var kept uint8
	for _, subset := range subsetsWithLast[s.n-1] {
		p, ok := s.project(subset)
		if !ok {
			continue
		}
		if n2 := p.nearest.Norm2(); n2 < best {
			best, kept = n2, subset
			s.nearest, s.by = p.nearest, p.by
			if s.settled(subset) {
				break
			}
		}
	}
	if kept == 0 {
		s.n--
		return false
	}
	s.keep(kept)
	return true
}

// settled says that no vertex outside the subset lies nearer than the plane square
// to the nearest point, so that it is the nearest of all.
func (s *simplex) settled(subset uint8) bool {
	n2 := s.nearest.Norm2()
	for i := 0; i < s.n; i++ {
		if subset&(1<<i) != 0 {
			continue
		}
		along := s.nearest.Dot(s.vertex[i].at)
		if along < 0 || !s.vertex[i].ray && along < n2 {
			return false
		}
	}
	return true
}

// subsetsWithLast lists, for 1..4 vertices, the subsets with the last of them, in
// the order in which the nearest point is likely to be in them.
var subsetsWithLast = [4][]uint8{
	{0b1},
	{0b11, 0b10},
	{0b111, 0b101, 0b110, 0b100},
	{0b1011, 0b1101, 0b1110, 0b1111, 0b1001, 0b1010, 0b1100, 0b1000},
}

// keep drops the vertices outside the subset.
func (s *simplex) keep(subset uint8) {
	n := 0
	for i := 0; i < s.n; i++ {
		if subset&(1<<i) != 0 {
			if n != i {
				s.vertex[n], s.by[n] = s.vertex[i], s.by[i]
			}
			n++
		}
	}
	for i := n; i < 4; i++ {
		s.by[i] = 0
	}
	s.n = n
}

// projection is the point nearest the origin in the plane (line, point, space) of
// a subset, and its weights.
type projection struct {
	nearest r3.Vector
	by      [4]float64
}

// project projects the origin onto a subset's plane, by Gram-Schmidt from the vertex
// nearest the origin; ok where it lies inside the subset.
func (s *simplex) project(subset uint8) (p projection, ok bool) {
	base, ok := s.base(subset)
	if !ok {
		return p, false
	}
	p.nearest = s.vertex[base].at
	switch left := subset &^ (1 << base); left & (left - 1) {
	case 0:
		if left == 0 {
			p.by[base] = 1
			return p, true
		}
		return p, s.projectOnLine(&p, base, bits.TrailingZeros8(left))
	default:
		return p, s.projectOnSpan(&p, base, left)
	}
}

// base is the subset's point nearest the origin; ok is false where it has none
// but rays.
func (s *simplex) base(subset uint8) (base int, ok bool) {
	least := math.Inf(1)
	for i := 0; i < s.n; i++ {
		if v := &s.vertex[i]; subset&(1<<i) != 0 && !v.ray && v.far2 < least {
			base, least, ok = i, v.far2, true
		}
	}
	return base, ok
}

// edge leads from a subset's base to another of its vertices, or along its ray.
func (s *simplex) edge(base, to int) r3.Vector {
	if s.vertex[to].ray {
		return s.vertex[to].at
	}
	return s.vertex[to].at.Sub(s.vertex[base].at)
}

// projectOnLine is project for two vertices.
func (s *simplex) projectOnLine(p *projection, base, to int) bool {
	e := s.edge(base, to)
	scale := 1 / e.Norm2()
	w := -e.Dot(p.nearest) * scale
	p.nearest = p.nearest.Add(e.Mul(w))
	more := -e.Dot(p.nearest) * scale // once more leaves it square to the edge
	p.nearest = p.nearest.Add(e.Mul(more))
	w += more
	p.by[to], p.by[base] = w, 1
	if !s.vertex[to].ray {
		p.by[base] = 1 - w
	}
	return w >= 0 && p.by[base] >= 0 // not so for an edge without length, which is NaN
}

// basis is a subset's edges made square to each other: edge k is q[k] and, of each q
// before it, r times that.
type basis struct {
	n     int
	index [3]int // the vertices that the edges lead to
	q     [3]r3.Vector
	scale [3]float64 // 1 / |q|^2
	r     [3][3]float64
}

// add takes in one more edge; it returns false for one that hardly stands out of
// the span of those before it.
func (b *basis) add(edge r3.Vector, index int) bool {
	length2, k := edge.Norm2(), b.n
	for pass := 0; pass < 2; pass++ { // twice is enough (Kahan, in Parlett 1980)
		for j := 0; j < k; j++ {
			more := b.q[j].Dot(edge) * b.scale[j]
			b.r[j][k] += more
			edge = edge.Sub(b.q[j].Mul(more))
		}
	}
	stands2 := edge.Norm2()
	if !(stands2 > flatEdge*flatEdge*length2) {
		return false
	}
	b.index[k], b.q[k], b.scale[k] = index, edge, 1/stands2
	b.n++
	return true
}

// drop makes v square to all edges, and returns how often each q it took for that.
func (b *basis) drop(v *r3.Vector) (c [3]float64) {
	for pass := 0; pass < 2; pass++ {
		for j := 0; j < b.n; j++ {
			more := -b.q[j].Dot(*v) * b.scale[j]
			c[j] += more
			*v = v.Add(b.q[j].Mul(more))
		}
	}
	return c
}

// projectOnSpan is project for three or four vertices.
func (s *simplex) projectOnSpan(p *projection, base int, left uint8) bool {
	var b basis
	for ; left != 0; left &= left - 1 {
		i := bits.TrailingZeros8(left)
		if !b.add(s.edge(base, i), i) {
			return false
		}
	}
	c := b.drop(&p.nearest)
	if b.n == 3 {
		p.nearest = r3.Vector{} // three edges span all
	}
	rest := 1.0
	for j := b.n - 1; j >= 0; j-- {
		w := c[j]
		for l := j + 1; l < b.n; l++ {
			w -= b.r[j][l] * p.by[b.index[l]]
		}
		if !(w >= 0) {
			return false
		}
		p.by[b.index[j]] = w
		if !s.vertex[b.index[j]].ray {
			rest -= w
		}
	}
	p.by[base] = rest
	return rest >= 0
}

// points are the points of the two cores that the nearest point stands for.
func (s *simplex) points() (a, b r3.Vector) {
	for i := 0; i < s.n; i++ {
		a = a.Add(s.vertex[i].a.Mul(s.by[i]))
		b = b.Add(s.vertex[i].b.Mul(s.by[i]))
	}
	return a, b
}

// mixes are the hulls' own shares in those points.
func (s *simplex) mixes(a, b *core) (mixA, mixB Mix) {
	for i := 0; i < s.n; i++ {
		if s.vertex[i].ray {
			continue
		}
		if a.kind == hull {
			mixA.add(s.vertex[i].ia, s.by[i])
		}
		if b.kind == hull {
			mixB.add(s.vertex[i].ib, s.by[i])
		}
	}
	return mixA, mixB
}

// add gives a point more weight.
func (m *Mix) add(index int, by float64) {
	for i := 0; i < m.N; i++ {
		if m.Index[i] == index {
			m.By[i] += by
			return
		}
	}
	m.Index[m.N], m.By[m.N] = index, by
	m.N++
}
