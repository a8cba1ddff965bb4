package mesh

import (
	"math"

	"github.com/golang/geo/r2"
)

// epsilon is the greatest relative error of one rounded operation.
const epsilon = 0x1p-53

// orientErr and circleErr bound the rounding error of the two determinants
// below, relative to their permanents (the same sums with every term taken
// without its sign). Source: Shewchuk 1997, "Adaptive precision floating-point
// arithmetic and fast robust geometric predicates", Discrete Comput. Geom. 18,
// 305-363, the A bounds of orient2d and incircle. They hold where nothing
// overflows or underflows; tame sees to that.
const (
	orientErr = (3 + 16*epsilon) * epsilon
	circleErr = (10 + 96*epsilon) * epsilon
)

// orient is the side of the line from a to b that c is on: 1 left (a, b, c go
// counter-clockwise), -1 right, 0 on it. The sign is exact for finite points.
//
// A product is converted to float64 before it is added to another, here and
// below: that keeps the compiler from fusing the two steps into one, and the
// bounds are for one step at a time.
func orient(a, b, c r2.Point) int {
	acx, bcx, acy, bcy := a.X-c.X, b.X-c.X, a.Y-c.Y, b.Y-c.Y
	left, right := float64(acx*bcy), float64(acy*bcx)
	det := left - right
	if math.Abs(det) > orientErr*(math.Abs(left)+math.Abs(right)) && tame(acx, bcx, acy, bcy) {
		return sign(det)
	}
	return exactOrient(a, b, c)
}

// inCircle is 1 where d is inside the circle through a, b, c, -1 where it is
// outside, 0 where it is on it; a, b, c go counter-clockwise. The sign is exact
// for finite points.
func inCircle(a, b, c, d r2.Point) int {
	adx, bdx, cdx := a.X-d.X, b.X-d.X, c.X-d.X
	ady, bdy, cdy := a.Y-d.Y, b.Y-d.Y, c.Y-d.Y
	bc, cb := float64(bdx*cdy), float64(cdx*bdy)
	ca, ac := float64(cdx*ady), float64(adx*cdy)
	ab, ba := float64(adx*bdy), float64(bdx*ady)
	aa := float64(adx*adx) + float64(ady*ady)
	bb := float64(bdx*bdx) + float64(bdy*bdy)
	cc := float64(cdx*cdx) + float64(cdy*cdy)

	det := float64(aa*(bc-cb)) + float64(bb*(ca-ac)) + float64(cc*(ab-ba))
	permanent := float64(aa*(math.Abs(bc)+math.Abs(cb))) +
		float64(bb*(math.Abs(ca)+math.Abs(ac))) +
		float64(cc*(math.Abs(ab)+math.Abs(ba)))
	if math.Abs(det) > circleErr*permanent && tame(adx, ady, bdx, bdy, cdx, cdy) {
		return sign(det)
	}
	return exactInCircle(a, b, c, d)
}

// tame says that products of four of the differences, and sums of a few such
// products, stay in the range where a relative bound holds (2^-1022 to 2^1024):
// each difference is zero or between 2^-240 and 2^240 in size.
func tame(differences ...float64) bool {
	for _, v := range differences {
		if v = math.Abs(v); v != 0 && !(v > 0x1p-240 && v < 0x1p240) {
			return false
		}
	}
	return true
}

func sign(x float64) int {
	switch {
	case x > 0:
		return 1
	case x < 0:
		return -1
	}
	return 0
}
