package shape

import (
	"sort"

	"github.com/golang/geo/r3"
)

// surface is what a hull's points enclose: a point (rank 0), a segment (1), a
// flat polygon (2) or a solid (3), by exact signs.
type surface struct {
	rank  int
	faces [][3]int // of a solid: triangles, counterclockwise from outside; of a polygon: one triple that spans it
	edges [][2]int // a polygon's sides, a solid's edges without those inside a flat face
	ring  []int    // a polygon's corners, counterclockwise about the face's normal
}

// Faces are the triangles that make up the surface of the points' convex hull,
// each counterclockwise from outside, by exact signs: indices into points. Flat
// faces come in several triangles. Points that lie in one plane have none.
func Faces(points []r3.Vector) [][3]int {
	if s := enclose(points); s.rank == 3 {
		return s.faces
	}
	return nil
}

// enclose finds the surface of the points' convex hull.
func enclose(points []r3.Vector) surface {
	if !measurable(points...) {
		return surface{}
	}
	span := spanning(points)
	switch len(span) {
	case 0, 1:
		return surface{}
	case 2:
		first, last := ends(points, span)
		return surface{rank: 1, edges: [][2]int{{first, last}}}
	case 3:
		return polygon(points, span)
	}
	return solid(points, span)
}

// spanning picks up to four points that span all the others, the first found.
func spanning(points []r3.Vector) []int {
	var span []int
	for i, p := range points {
		grows := false
		switch len(span) {
		case 0:
			grows = true
		case 1:
			grows = p != points[span[0]]
		case 2:
			grows = !collinear(points[span[0]], points[span[1]], p)
		case 3:
			grows = orient(points[span[0]], points[span[1]], points[span[2]], p) != 0
		}
		if grows {
			span = append(span, i)
		}
		if len(span) == 4 {
			break
		}
	}
	return span
}

// ends are the outermost of points that lie on one line: least and greatest
// along a coordinate in which they differ.
func ends(points []r3.Vector, span []int) (first, last int) {
	at := func(i int) float64 { return points[i].X }
	if points[span[0]].X == points[span[1]].X {
		at = func(i int) float64 { return points[i].Y }
		if points[span[0]].Y == points[span[1]].Y {
			at = func(i int) float64 { return points[i].Z }
		}
	}
	for i := range points {
		if at(i) < at(first) {
			first = i
		}
		if at(i) > at(last) {
			last = i
		}
	}
	return first, last
}

// polygon is the flat hull of points in one plane: Andrew's monotone chain, in
// the projection along an axis that the plane does not hold.
func polygon(points []r3.Vector, span []int) surface {
	a, b, c := points[span[0]], points[span[1]], points[span[2]]
	drop := b.Sub(a).Cross(c.Sub(a)).LargestComponent()
	for turn(a, b, c, drop) == 0 {
		drop = (drop + 1) % 3
	}
	ring := chain(points, drop)
	s := surface{rank: 2, ring: ring, faces: [][3]int{{ring[0], ring[1], ring[2]}}}
	for i := range ring {
		s.edges = append(s.edges, [2]int{ring[i], ring[(i+1)%len(ring)]})
	}
	return s
}

// chain is the convex ring of points seen along an axis, without points on a
// side.
func chain(points []r3.Vector, drop r3.Axis) []int {
	order := sorted(points, drop)
	var ring []int
	for pass := 0; pass < 2; pass++ {
		start := len(ring)
		for _, i := range order {
			for len(ring) >= start+2 && turn(points[ring[len(ring)-2]], points[ring[len(ring)-1]], points[i], drop) <= 0 {
				ring = ring[:len(ring)-1]
			}
			ring = append(ring, i)
		}
		ring = ring[:len(ring)-1]
		for i, j := 0, len(order)-1; i < j; i, j = i+1, j-1 {
			order[i], order[j] = order[j], order[i]
		}
	}
	return ring
}

// solid is the hull of points that span space: one point after the other, the
// faces that see it are replaced. A face in whose plane it lies does not see
// it, as if it lay a trifle further in; so no face without area can arise.
func solid(points []r3.Vector, span []int) surface {
	if orient(points[span[0]], points[span[1]], points[span[2]], points[span[3]]) < 0 {
		span[0], span[1] = span[1], span[0]
	}
	a, b, c, d := span[0], span[1], span[2], span[3]
	faces := [][3]int{{a, b, c}, {b, a, d}, {c, b, d}, {a, c, d}}
	for i := range points {
		if i != a && i != b && i != c && i != d {
			faces = outgrow(points, faces, i)
		}
	}
	return surface{rank: 3, faces: faces, edges: creases(points, faces)}
}

// outgrow replaces the faces that see point i.
func outgrow(points []r3.Vector, faces [][3]int, i int) [][3]int {
	var kept [][3]int
	rim := map[[2]int]bool{}
	var order [][2]int
	for _, f := range faces {
		if orient(points[f[0]], points[f[1]], points[f[2]], points[i]) >= 0 {
			kept = append(kept, f)
			continue
		}
		for k := range f {
			side := [2]int{f[k], f[(k+1)%3]}
			rim[side] = true
			order = append(order, side)
		}
	}
	for _, side := range order {
		if !rim[[2]int{side[1], side[0]}] {
			kept = append(kept, [3]int{side[0], side[1], i})
		}
	}
	return kept
}

// creases are the edges between faces that do not lie in one plane.
func creases(points []r3.Vector, faces [][3]int) [][2]int {
	across := map[[2]int]int{} // the corner across a side
	for _, f := range faces {
		for k := range f {
			across[[2]int{f[k], f[(k+1)%3]}] = f[(k+2)%3]
		}
	}
	var edges [][2]int
	for _, f := range faces {
		for k := range f {
			from, to := f[k], f[(k+1)%3]
			beyond := across[[2]int{to, from}]
			if from < to && orient(points[f[0]], points[f[1]], points[f[2]], points[beyond]) != 0 {
				edges = append(edges, [2]int{from, to})
			}
		}
	}
	return edges
}

// sorted are the points' indices by the two coordinates that are not dropped.
func sorted(points []r3.Vector, drop r3.Axis) []int {
	order := make([]int, len(points))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(i, j int) bool {
		a, b := flatten(points[order[i]], drop), flatten(points[order[j]], drop)
		return a[0] < b[0] || a[0] == b[0] && a[1] < b[1]
	})
	return order
}
