package shape

import (
	"math"

	"github.com/golang/geo/r3"
)

// vertex is a corner of the set of differences b - a, with the points that make
// it. A ray is a direction that the set goes on in without end: its weight may
// be anything from 0 up and is no part of the sum of 1.
type vertex struct {
	at     r3.Vector // b - a
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
// subsets that hold the new vertex, the largest first, and takes the nearest of
// their projections that lie inside their subset: no case analysis that could
// go wrong on thin simplices. It returns false, with all as it was, where that
// is no nearer than before.
func (s *simplex) add(v vertex) bool {
	next := *s
	next.vertex[next.n] = v
	next.n++
	best := math.Inf(1)
	if s.n > 0 {
		best = s.nearest.Norm2()
	}
	found := false
	var kept uint8
	for _, subset := range subsetsWithLast[next.n-1] {
		nearest, by, ok := next.project(subset)
		if !ok || !(nearest.Norm2() < best) {
			continue
		}
		best, found, kept = nearest.Norm2(), true, subset
		next.nearest, next.by = nearest, by
		if best == 0 {
			break
		}
	}
	if found {
		next.keep(kept)
		*s = next
	}
	return found
}

// subsetsWithLast lists, for 1..4 vertices, the subsets with the last of them.
var subsetsWithLast = [4][]uint8{
	{0b1},
	{0b11, 0b10},
	{0b111, 0b101, 0b110, 0b100},
	{0b1111, 0b1011, 0b1101, 0b1110, 0b1001, 0b1010, 0b1100, 0b1000},
}

// keep drops the vertices outside the subset.
func (s *simplex) keep(subset uint8) {
	n := 0
	for i := 0; i < s.n; i++ {
		if subset&(1<<i) != 0 {
			s.vertex[n], s.by[n] = s.vertex[i], s.by[i]
			n++
		}
	}
	for i := n; i < 4; i++ {
		s.by[i] = 0
	}
	s.n = n
}

// project finds the point nearest the origin in the plane (line, point, space)
// of a subset, by Gram-Schmidt from the vertex nearest the origin, and its
// weights; ok where it lies inside the subset.
func (s *simplex) project(subset uint8) (nearest r3.Vector, by [4]float64, ok bool) {
	base, ok := s.base(subset)
	if !ok {
		return nearest, by, false
	}
	var q [3]r3.Vector
	var index [3]int
	var r [3][3]float64
	k := 0
	for i := 0; i < s.n; i++ {
		if i == base || subset&(1<<i) == 0 {
			continue
		}
		edge := s.vertex[i].at
		if !s.vertex[i].ray {
			edge = edge.Sub(s.vertex[base].at)
		}
		length2 := edge.Norm2()
		for j := 0; j < k; j++ {
			r[j][k] = q[j].Dot(edge)
			edge = edge.Sub(q[j].Mul(r[j][k]))
		}
		for j := 0; j < k; j++ { // once more: twice is enough (Parlett 1980)
			more := q[j].Dot(edge)
			r[j][k] += more
			edge = edge.Sub(q[j].Mul(more))
		}
		stands2 := edge.Norm2()
		if !(stands2 > flatEdge*flatEdge*length2) {
			return nearest, by, false
		}
		r[k][k] = math.Sqrt(stands2)
		q[k] = edge.Mul(1 / r[k][k])
		index[k] = i
		k++
	}
	return s.solve(base, k, q, r, index)
}

// base is the subset's point nearest the origin; ok is false where it has none
// but rays.
func (s *simplex) base(subset uint8) (base int, ok bool) {
	least := math.Inf(1)
	for i := 0; i < s.n; i++ {
		if subset&(1<<i) == 0 || s.vertex[i].ray {
			continue
		}
		if n2 := s.vertex[i].at.Norm2(); n2 < least {
			base, least, ok = i, n2, true
		}
	}
	return base, ok
}

// solve is project's second half: q and r are the edges' orthonormal basis and
// coefficients.
func (s *simplex) solve(base, k int, q [3]r3.Vector, r [3][3]float64, index [3]int) (nearest r3.Vector, by [4]float64, ok bool) {
	nearest = s.vertex[base].at
	var c [3]float64
	for pass := 0; pass < 2; pass++ { // the second leaves it square to the edges
		for j := 0; j < k; j++ {
			step := q[j].Dot(nearest)
			c[j] -= step
			nearest = nearest.Sub(q[j].Mul(step))
		}
	}
	if k == 3 {
		nearest = r3.Vector{} // three edges span all
	}
	rest := 1.0
	for j := k - 1; j >= 0; j-- {
		w := c[j]
		for l := j + 1; l < k; l++ {
			w -= r[j][l] * by[index[l]]
		}
		w /= r[j][j]
		if !(w >= 0) {
			return nearest, by, false
		}
		by[index[j]] = w
		if !s.vertex[index[j]].ray {
			rest -= w
		}
	}
	by[base] = rest
	return nearest, by, rest >= 0
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
