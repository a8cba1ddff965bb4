package mesh

import (
	"math"
	"math/big"

	"github.com/golang/geo/r2"
)

// lattice is a point in whole steps of some power of two, which turns the signs
// of the determinants into questions of whole numbers.
type lattice struct{ x, y *big.Int }

func exactOrient(a, b, c r2.Point) int {
	p := onLattice(a, b, c)
	return p[0].minus(p[2]).cross(p[1].minus(p[2])).Sign()
}

func exactInCircle(a, b, c, d r2.Point) int {
	p := onLattice(a, b, c, d)
	pa, pb, pc := p[0].minus(p[3]), p[1].minus(p[3]), p[2].minus(p[3])
	det := new(big.Int).Mul(pa.square(), pb.cross(pc))
	det.Add(det, new(big.Int).Mul(pb.square(), pc.cross(pa)))
	det.Add(det, new(big.Int).Mul(pc.square(), pa.cross(pb)))
	return det.Sign()
}

// onLattice gives the points, exactly, in steps of the greatest power of two
// that all their coordinates are multiples of, or a smaller one.
func onLattice(points ...r2.Point) []lattice {
	least := math.MaxInt
	for _, p := range points {
		for _, v := range []float64{p.X, p.Y} {
			if _, e := math.Frexp(v); v != 0 {
				least = min(least, e)
			}
		}
	}
	out := make([]lattice, len(points))
	for i, p := range points {
		out[i] = lattice{steps(p.X, least), steps(p.Y, least)}
	}
	return out
}

// steps is v over 2^(least-53), a whole number: v is a whole number of 53 bits
// times 2^(e-53), and e is not under least.
func steps(v float64, least int) *big.Int {
	fraction, e := math.Frexp(v)
	n := big.NewInt(int64(math.Ldexp(fraction, 53)))
	if v != 0 {
		n.Lsh(n, uint(e-least))
	}
	return n
}

func (p lattice) minus(q lattice) lattice {
	return lattice{new(big.Int).Sub(p.x, q.x), new(big.Int).Sub(p.y, q.y)}
}

func (p lattice) cross(q lattice) *big.Int {
	left, right := new(big.Int).Mul(p.x, q.y), new(big.Int).Mul(p.y, q.x)
	return left.Sub(left, right)
}

func (p lattice) square() *big.Int {
	xx, yy := new(big.Int).Mul(p.x, p.x), new(big.Int).Mul(p.y, p.y)
	return xx.Add(xx, yy)
}
