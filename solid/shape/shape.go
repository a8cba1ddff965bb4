// Package shape holds the convex shapes that parts and features are made of,
// and the signed distance between two of them. Lengths are millimetres; both
// shapes stand in one frame.
//
// All of it is about one set: the differences b - a of the points of two shapes. It
// is convex; the distance is how far the origin is from it, the depth how far the
// origin is inside. Distance goes up to three ways, each only where the one before
// is not sure:
//
//   - a point and a box or cylinder: in closed form (point.go);
//   - a search for the nearest points (approach.go, simplex.go, leap.go) that ends
//     by its own proof: two points that are so near, two planes that are so far
//     apart; nearly all pairs end here;
//   - what touches, overlaps, or is too near for rounding to tell: between planar
//     shapes all directions that can part them best, by exact arithmetic where
//     rounding leaves a doubt (part.go, flat.go, exact.go); with a cylinder the same
//     for its curved side (round.go); for two cylinders, or a shape of another make,
//     bounds from both sides (within.go). Then the witness points (contact.go).
//
// Rounding is bounded, with the derivation, in rounding.go; where a search may end is
// said by closeEnough and arcClose. A hull's faces are found with exact signs (faces.go). The tube around an arc
// is no convex shape and has its own search (arc.go).
//
// Coordinates are best kept below 10 m: Within grows with their size, by 1e-11 mm
// a metre or so.
package shape

import "github.com/golang/geo/r3"

// Convex is a convex shape: a core, given by its support point, grown by a
// radius. Boxes, hulls and cylinders are its kinds; another make works by these
// three methods alone, so its Behind, if it has one, is not seen.
type Convex interface {
	// Support is the core's farthest point along dir. Any length of dir but zero.
	Support(dir r3.Vector) r3.Vector
	// Radius is how much the core is grown by on all sides [0].
	Radius() float64
	// Bounds is a ball that holds the shape: its middle and radius. An
	// unbounded shape (see Hull.Behind) has radius +Inf.
	Bounds() (middle r3.Vector, radius float64)
}

// Hull is the convex hull of one or more points, grown by Grow: a point, a
// segment, a triangle, a flat polygon or a solid. Points may repeat, lie within the
// hull, on one line or in one plane. With Behind not zero it goes on without end that
// way: the hull and all beyond it. Without points it is nothing: infinitely far.
type Hull struct {
	Points []r3.Vector
	Grow   float64
	Behind r3.Vector
}

// Box is the solid spanned from Corner by three edges at right angles to each
// other, right-handed. An edge of length 0 makes it flat. It is taken as the numbers
// say, to the last bit: edges that are not quite square span what they span.
type Box struct {
	Corner r3.Vector
	Edges  [3]r3.Vector
}

// Cylinder is a solid cylinder from the middle of its foot along Axis (its
// length is the height). Without Across it is a segment, without Axis a ball.
type Cylinder struct {
	Foot   r3.Vector
	Axis   r3.Vector
	Across float64 // its radius
}

// Nearest is the answer of Distance.
type Nearest struct {
	// Signed is the distance between the shapes, 0 where they touch, and minus
	// the depth where they overlap: the shortest move that parts them. The depth
	// is exact to Within, but for two cylinders, or a shape of another make than
	// this package's, where it is a lower bound: never deeper than the truth.
	Signed float64
	// OnA and OnB are the witness points on the shapes' surfaces (grown by
	// their radii). Apart, |OnB-OnA| = Signed. Overlapping, moving B by
	// Normal times the depth parts the shapes as far as the depth is exact.
	OnA, OnB r3.Vector
	// Normal is the unit direction from A to B along which Signed is measured.
	Normal r3.Vector
	// MixA and MixB say how a Hull's own points make up its witness; empty for
	// a shape that is no Hull. Before the radius is added:
	// witness = sum of By[i] times Points[Index[i]] (plus a stretch of Behind).
	MixA, MixB Mix
	// Within bounds the error of Signed.
	Within float64
	// Along is where on the arc the witness stands, 0 to 1: of DistanceArc only.
	Along float64
}

// Mix is up to four of a hull's points with their weights, which sum to 1. The
// zero Mix has none.
type Mix struct {
	N     int
	Index [4]int
	By    [4]float64
}
