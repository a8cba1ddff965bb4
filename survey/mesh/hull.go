// Package mesh joins marks into surfaces: the convex hull and the Delaunay
// triangulation of points in a plane, and the skin through marks in space.
//
// Which side of a line a point is on, and whether it is inside a circle, are
// decided without error for any finite coordinates, so that no answer depends
// on a tolerance. Points are given and answered by index, from 0; coordinates
// may be in any one unit (mm here).
package mesh

import (
	"slices"

	"github.com/golang/geo/r2"
)

// Hull is the convex hull of points as indices, counter-clockwise from the
// leftmost (of those the lowest), strictly convex: no index is on the line
// between two others. Points on one line give its two ends, points in one place
// the first of them, no points give nil. A point whose coordinates are not
// finite numbers is left out.
//
// Source: the monotone chain of Andrew 1979, "Another efficient algorithm for
// convex hulls in two dimensions", Inf. Process. Lett. 9, 216-219.
func Hull(points []r2.Point) []int {
	order := leftToRight(points)
	if len(order) < 3 {
		return order
	}
	lower := chain(points, order)
	slices.Reverse(order)
	upper := chain(points, order)
	return append(lower[:len(lower)-1], upper[:len(upper)-1]...)
}

// chain is the part of the hull to the right of the way from the first point
// to the last, both with it.
func chain(points []r2.Point, order []int) []int {
	var out []int
	for _, i := range order {
		for n := len(out); n >= 2 && orient(points[out[n-2]], points[out[n-1]], points[i]) <= 0; n-- {
			out = out[:n-1]
		}
		out = append(out, i)
	}
	return out
}

// leftToRight lists the finite points by x, then y, the first of each place
// only.
func leftToRight(points []r2.Point) []int {
	var order []int
	for i, p := range points {
		if finite(p) {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(i, j int) int { return compare(points[i], points[j]) })
	return slices.CompactFunc(order, func(i, j int) bool { return points[i] == points[j] })
}
