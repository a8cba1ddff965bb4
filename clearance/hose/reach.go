package hose

import (
	"math"

	"github.com/golang/geo/r3"
)

// reach bounds from below how long a line must be that leaves a place along ahead (unit)
// and bends nowhere tighter than radius, to come within off of a place that lies by from
// where it starts. Without a direction, or a radius, it is the straight way.
//
// In the plane of the start's direction and the place, let the circle of that radius touch
// the direction at the start, on the place's side. Outside of it the shortest such line is
// an arc of the circle and a tangent (a Dubins path with its last direction free), in
// space too: with d the distance from the circle's middle and t the angle there from the
// start round,
//
//	radius (t - acos(radius/d)) + sqrt(d2 - radius2),
//
// which grows with t, and with d by sqrt(d2 - radius2)/d. Inside, no such line gets in
// less than half a circle: none shorter enters a ball of that radius that touches it at
// its start.
func reach(by, ahead r3.Vector, radius, off float64) float64 {
	least := math.Max(0, by.Norm()-off)
	if radius <= 0 || ahead == (r3.Vector{}) {
		return least
	}
	u := by.Dot(ahead)
	aside := by.Sub(ahead.Mul(u)).Norm()
	d := math.Hypot(u, aside-radius)
	if d <= off {
		return least
	}
	angle := math.Atan2(u, radius-aside)
	if angle < 0 {
		angle += 2 * math.Pi
	}
	const rounding = 1e-9 // of a radius: on the circle is not inside
	if d+off < radius*(1-rounding) {
		return math.Max(least, math.Pi*radius)
	}
	give := math.Asin(off / d)
	from := math.Max(0, angle-give)
	if angle+give > 2*math.Pi { // places just ahead of the start may be among them
		from = 0
	}
	nearest := math.Max(radius, d-off)
	length := radius*(from-math.Acos(radius/nearest)) + math.Sqrt(nearest*nearest-radius*radius)
	if d-off < radius {
		length = math.Min(length, math.Pi*radius)
	}
	return math.Max(least, length)
}
