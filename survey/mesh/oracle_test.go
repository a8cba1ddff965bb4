package mesh_test

import (
	"math/big"

	"github.com/golang/geo/r2"
)

// The oracles below reckon in fractions and try everything.

func fraction(x float64) *big.Rat { return new(big.Rat).SetFloat64(x) }

func minus(x, y float64) *big.Rat { return new(big.Rat).Sub(fraction(x), fraction(y)) }

func times(x, y *big.Rat) *big.Rat { return new(big.Rat).Mul(x, y) }

// area2 is twice the signed area of a triangle.
func area2(a, b, c r2.Point) *big.Rat {
	left := times(minus(a.X, c.X), minus(b.Y, c.Y))
	return left.Sub(left, times(minus(a.Y, c.Y), minus(b.X, c.X)))
}

// inCircle is the sign of the determinant of rows x, y, x² + y², 1, by cofactors
// of its third column, with the points as they are.
func inCircle(a, b, c, d r2.Point) int {
	lift := func(p r2.Point) *big.Rat {
		l := times(fraction(p.X), fraction(p.X))
		return l.Add(l, times(fraction(p.Y), fraction(p.Y)))
	}
	det := times(lift(a), area2(b, c, d))
	det.Sub(det, times(lift(b), area2(a, c, d)))
	det.Add(det, times(lift(c), area2(a, b, d)))
	det.Sub(det, times(lift(d), area2(a, b, c)))
	return det.Sign()
}
