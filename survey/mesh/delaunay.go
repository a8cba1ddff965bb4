package mesh

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r2"
)

// ErrCollinear says that points have no triangles: they lie on one line, or are
// fewer than three places.
var ErrCollinear = errors.New("the points lie on one line, so no triangle joins them")

// NotFinite says that a coordinate of point Index, from 0, is unknown or
// infinite.
type NotFinite struct{ Index int }

func (e *NotFinite) Error() string {
	return fmt.Sprintf("point %d: a coordinate is not a finite number", e.Index)
}

// Delaunay joins points into triangles that fill their convex hull, such that
// the circle through the corners of each holds no point inside. Where four
// points or more lie on one such circle several answers are right; the one given
// depends on where the points are and not on their order.
//
// Each triangle is counter-clockwise from its least index, and the triangles are
// in rising order. Of points in the same place only the first has triangles; see
// SamePlace. The error is *NotFinite or ErrCollinear.
//
// Source: divide and conquer of Guibas & Stolfi 1985, "Primitives for the
// manipulation of general subdivisions and the computation of Voronoi diagrams",
// ACM Trans. Graph. 4, 74-123; time n log n.
func Delaunay(points []r2.Point) ([][3]int, error) {
	for i, p := range points {
		if !finite(p) {
			return nil, &NotFinite{i}
		}
	}
	order := leftToRight(points)
	if len(order) < 3 {
		return nil, ErrCollinear
	}
	g := graph{at: make([]r2.Point, len(order))}
	for k, i := range order {
		g.at[k] = points[i]
	}
	g.build(0, len(order))
	triangles := g.triangles()
	if len(triangles) == 0 {
		return nil, ErrCollinear
	}
	for k, t := range triangles {
		triangles[k] = fromLeast([3]int{order[t[0]], order[t[1]], order[t[2]]})
	}
	slices.SortFunc(triangles, func(s, t [3]int) int { return slices.Compare(s[:], t[:]) })
	return triangles, nil
}

// SamePlace gives, for each point, the index of the first point in exactly the
// same place: its own where it is the first.
func SamePlace(points []r2.Point) []int {
	first := make(map[r2.Point]int, len(points))
	out := make([]int, len(points))
	for i, p := range points {
		if _, seen := first[p]; !seen {
			first[p] = i
		}
		out[i] = first[p]
	}
	return out
}

func fromLeast(t [3]int) [3]int {
	for t[0] > t[1] || t[0] > t[2] {
		t = [3]int{t[1], t[2], t[0]}
	}
	return t
}

func compare(p, q r2.Point) int {
	return cmp.Or(cmp.Compare(p.X, q.X), cmp.Compare(p.Y, q.Y))
}

func finite(p r2.Point) bool {
	d := p.X - p.X + p.Y - p.Y
	return d == 0 && !math.IsNaN(d)
}
