package shape

import (
	"math"
	"math/big"

	"github.com/golang/geo/r3"
)

// orient is the sign of (a-d) . (b-d) x (c-d), exactly: +1 where d lies below
// the plane through a, b, c that is counterclockwise seen from above.
func orient(a, b, c, d r3.Vector) int {
	ad, bd, cd := a.Sub(d), b.Sub(d), c.Sub(d)
	cross := bd.Cross(cd)
	det := ad.Dot(cross)
	permanent := math.Abs(ad.X)*(math.Abs(bd.Y*cd.Z)+math.Abs(bd.Z*cd.Y)) +
		math.Abs(ad.Y)*(math.Abs(bd.Z*cd.X)+math.Abs(bd.X*cd.Z)) +
		math.Abs(ad.Z)*(math.Abs(bd.X*cd.Y)+math.Abs(bd.Y*cd.X))
	if bound := orientErr * permanent; permanent > leastProduct && math.Abs(det) > bound {
		return sign(det)
	}
	return exactly(a, d).Dot(exactly(b, d).Cross(exactly(c, d))).Sign()
}

// orientErr bounds the rounding error of the determinant above, relative to its
// permanent: (7 + 56e)e with e = 2^-53. Source: Shewchuk 1997, section 4.3.
const orientErr = (7 + 56.0/(1<<53)) / (1 << 53)

// leastProduct is where bounds relative to a product of three stop holding
// for want of exponent: the least normal number is 2^-1022, and each
// product may have lost its last 2^-1075; far above both.
const leastProduct = 1e-280

// collinear says that three points lie on one line, exactly.
func collinear(a, b, c r3.Vector) bool {
	ab, ac := b.Sub(a), c.Sub(a)
	// Each component of the cross product is a sum of two products of rounded
	// differences: 2 roundings each, 1 for the product, 1 for the sum: 4e of
	// the sum of the products' sizes, here each at most |ab| |ac|; so 8e.
	size := largest(ab) * largest(ac)
	if size > leastProduct && largest(ab.Cross(ac)) > 9.0/(1<<53)*size {
		return false
	}
	return zero(exactly(b, a).Cross(exactly(c, a)))
}

// turn is the sign of the triangle's area seen along the axis that is dropped,
// exactly.
func turn(a, b, c r3.Vector, drop r3.Axis) int {
	ab, ac := flatten(b.Sub(a), drop), flatten(c.Sub(a), drop)
	left, right := ab[0]*ac[1], ab[1]*ac[0]
	size := math.Abs(left) + math.Abs(right)
	// As above: 2 roundings of differences, product, sum: 4e of size, and a little.
	if det := left - right; size > leastProduct && math.Abs(det) > 5.0/(1<<53)*size {
		return sign(det)
	}
	cross := exactly(b, a).Cross(exactly(c, a))
	switch drop {
	case r3.XAxis:
		return cross.X.Sign()
	case r3.YAxis:
		return cross.Y.Sign()
	}
	return cross.Z.Sign()
}

// flatten drops a coordinate, keeping the order that turns from x to y to z to x.
func flatten(v r3.Vector, drop r3.Axis) [2]float64 {
	switch drop {
	case r3.XAxis:
		return [2]float64{v.Y, v.Z}
	case r3.YAxis:
		return [2]float64{v.Z, v.X}
	}
	return [2]float64{v.X, v.Y}
}

// exactly is a - b without rounding. big.Float at r3's precision rounds no sum,
// difference or product of float64 numbers.
func exactly(a, b r3.Vector) r3.PreciseVector {
	return r3.PreciseVectorFromVector(a).Sub(r3.PreciseVectorFromVector(b))
}

func zero(v r3.PreciseVector) bool {
	return v.X.Sign() == 0 && v.Y.Sign() == 0 && v.Z.Sign() == 0
}

func sign(x float64) int {
	if x > 0 {
		return 1
	}
	if x < 0 {
		return -1
	}
	return 0
}

// quotient is x / sqrt(y2) rounded to float64, for exact x and y2 > 0; its sign
// is x's even where it is too small for a float64. Forty bits more than a
// float64 has leave the last rounding alone.
func quotient(x, y2 *big.Float) float64 {
	const bits = 53 + 40
	root := new(big.Float).SetPrec(bits).Set(y2)
	root.Sqrt(root)
	q, _ := new(big.Float).Quo(new(big.Float).SetPrec(bits).Set(x), root).Float64()
	if q == 0 && x.Sign() != 0 {
		q = float64(x.Sign()) * math.SmallestNonzeroFloat64
	}
	return q
}

// direction is an exact vector's unit direction, rounded. The vector is first
// brought near 1, since its components may lie beyond a float64.
func direction(v r3.PreciseVector) r3.Vector {
	most := math.MinInt
	for _, x := range [3]*big.Float{v.X, v.Y, v.Z} {
		if x.Sign() != 0 {
			most = max(most, x.MantExp(nil))
		}
	}
	near := func(x *big.Float) float64 {
		if x.Sign() == 0 {
			return 0
		}
		y, _ := new(big.Float).SetMantExp(x, -most).Float64()
		return y
	}
	return r3.Vector{X: near(v.X), Y: near(v.Y), Z: near(v.Z)}.Normalize()
}
