package shape

import "github.com/golang/geo/r3"

// finish looks through all pairs of faces, edges and corners of two planar
// cores that are apart: slow, but nothing can stall it. It is for the few pairs
// whose search stopped short of its certificate.
func (at *approach) finish(a, b *core) {
	pa, pb := pieces(a), pieces(b)
	for _, p := range pa {
		for _, q := range pb {
			if p.n+q.n <= 4 {
				at.meet(p, q)
			}
		}
	}
	at.upper = at.nearest.Norm()
	at.last = gapAlong(a, b, at.nearest.Mul(1/at.upper))
}

// piece is a corner, edge or triangle of a core's surface: points, and a ray
// last if it has one.
type piece struct {
	n     int
	at    [3]r3.Vector
	index [3]int
	ray   bool // the last one is a ray
}

// meet keeps the nearest points of two pieces if they are nearer. The
// differences of two edges are a parallelogram: its two triangles, with a corner
// in common, are among the subsets of its four corners.
func (at *approach) meet(p, q piece) {
	var s simplex
	for i := 0; i < p.n; i++ {
		for j := 0; j < q.n; j++ {
			pRay, qRay := p.ray && i == p.n-1, q.ray && j == q.n-1
			v := vertex{a: p.at[i], b: q.at[j], ia: p.index[i], ib: q.index[j]}
			switch {
			case pRay && qRay:
				continue
			case pRay && j == 0:
				v.b, v.ray = r3.Vector{}, true
			case qRay && i == 0:
				v.a, v.ray = r3.Vector{}, true
			case pRay || qRay:
				continue
			}
			v.at = v.b.Sub(v.a)
			v.far2 = v.at.Norm2()
			s.vertex[s.n] = v
			s.n++
		}
	}
	for subset := uint8(1); subset < 1<<s.n; subset++ {
		p, ok := s.project(subset)
		if ok && p.nearest.Norm2() < at.nearest.Norm2() {
			at.simplex = s
			at.nearest, at.by = p.nearest, p.by
			at.keep(subset)
		}
	}
}

// pieces lists a planar core's corners, edges and triangles.
func pieces(c *core) []piece {
	points := c.points
	var found surface
	if c.kind == box {
		points = c.box.corners()
		found = boxSurface()
	} else {
		found = *c.surface()
	}
	var list []piece
	for i, p := range points {
		list = append(list, piece{n: 1, at: [3]r3.Vector{p}, index: [3]int{i}})
	}
	for _, e := range found.edges {
		list = append(list, piece{n: 2, at: [3]r3.Vector{points[e[0]], points[e[1]]}, index: [3]int{e[0], e[1]}})
	}
	for _, f := range found.triangles() {
		list = append(list, piece{n: 3, at: [3]r3.Vector{points[f[0]], points[f[1]], points[f[2]]}, index: f})
	}
	if c.ray == (r3.Vector{}) {
		return list
	}
	for _, p := range list {
		if p.n < 3 {
			p.at[p.n], p.ray = c.ray, true
			p.n++
			list = append(list, p)
		}
	}
	return list
}

// triangles are the faces; a polygon is fanned out from its first corner.
func (s *surface) triangles() [][3]int {
	if s.rank != 2 {
		return s.faces
	}
	var fan [][3]int
	for i := 2; i < len(s.ring); i++ {
		fan = append(fan, [3]int{s.ring[0], s.ring[i-1], s.ring[i]})
	}
	return fan
}

// boxSurface is the surface of a box whose corner's bits say which edges it has
// taken. A flat box has some pieces twice; that does no harm.
func boxSurface() surface {
	s := surface{rank: 3}
	for i := 0; i < 8; i++ {
		for k := 0; k < 3; k++ {
			if i&(1<<k) != 0 {
				continue
			}
			s.edges = append(s.edges, [2]int{i, i | 1<<k})
			for l := k + 1; l < 3; l++ {
				if i&(1<<l) == 0 {
					far := i | 1<<k | 1<<l
					s.faces = append(s.faces, [3]int{i, i | 1<<k, far}, [3]int{i, i | 1<<l, far})
				}
			}
		}
	}
	return s
}
