package network

import (
	"math"

	"github.com/golang/geo/r3"
	"gonum.org/v1/gonum/mat"
)

// Rounding is how far points that were exact in decimals may be off a line or a
// plane by float64 alone, in the unit of the points.
//
// A coordinate up to c is stored within half an epsilon of c; a rotation and a
// shift into another frame add three products and three sums of that size, the
// mean and its subtraction two more, and the singular value decomposition a few.
// Sixteen covers them, times sqrt 3 for the three coordinates. Nothing under
// 1e-300 is told apart.
func Rounding(points []r3.Vector) float64 {
	var c float64
	for _, p := range points {
		c = math.Max(c, largest(p))
	}
	return math.Max(16*math.Sqrt(3)*epsilon*c, 1/greatest)
}

// greatest is the greatest coordinate taken: differences and sums of a few million
// such still fit in a float64.
const greatest = 1e300

// largest is the greatest coordinate by size, NaN where one is.
func largest(p r3.Vector) float64 {
	return math.Max(math.Abs(p.X), math.Max(math.Abs(p.Y), math.Abs(p.Z)))
}

func checkPoints(points []r3.Vector, u []float64) error {
	for i, p := range points {
		if !(largest(p) <= greatest) {
			return &BadRow{i, "a coordinate is unknown or beyond 1e300"}
		}
		if u != nil && (!(u[i] > 0) || !finite(u[i])) {
			return &BadRow{i, "the standard uncertainty is not a number above zero"}
		}
	}
	return nil
}

// shares gives weights 1/u² that add up to 1.
func shares(n int, u []float64) []float64 {
	w := ones(n)
	least := math.Inf(1)
	for _, v := range u {
		least = math.Min(least, v)
	}
	var sum float64
	for i := range w {
		if u != nil {
			w[i] = (least / u[i]) * (least / u[i])
		}
		sum += w[i]
	}
	for i := range w {
		w[i] /= sum
	}
	return w
}

// centre is the weighted mean, taken from the first point so that a far origin
// costs no digits.
func (p *Plane) centre(points []r3.Vector) r3.Vector {
	var off r3.Vector
	for i, q := range points {
		off = off.Add(q.Sub(points[0]).Mul(p.share[i]))
	}
	return points[0].Add(off)
}

// principal sets the spreads and returns the axes along S, T and Normal, each up
// to its sign.
func (p *Plane) principal(points []r3.Vector) (axes [3]r3.Vector, err error) {
	rows := mat.NewDense(len(points), 3, nil)
	for i, q := range points {
		d := q.Sub(p.Centre).Mul(math.Sqrt(p.share[i]))
		rows.SetRow(i, []float64{d.X, d.Y, d.Z})
	}
	var svd mat.SVD
	if !svd.Factorize(rows, mat.SVDThinV) {
		return axes, ErrNoNormal
	}
	spread := svd.Values(nil)
	p.SpreadS, p.SpreadT, p.SpreadN = spread[0], spread[1], spread[2]
	tolerance := Rounding(points)
	switch {
	case p.SpreadS <= tolerance:
		return axes, ErrCoincident
	case p.SpreadT <= tolerance:
		return axes, ErrCollinear
	case p.SpreadT-p.SpreadN <= tolerance:
		return axes, ErrNoNormal
	}
	var v mat.Dense
	svd.VTo(&v)
	for k := range axes {
		axes[k] = r3.Vector{X: v.At(0, k), Y: v.At(1, k), Z: v.At(2, k)}
	}
	return axes, nil
}

// orient settles the signs of the axes. noise is how far a component of the
// unit vector may be off by rounding: the rounding of the points over the gap
// between the spreads that tell the axes apart.
func (p *Plane) orient(axes [3]r3.Vector, noise float64) {
	p.Normal = upward(axes[2], noise)
	p.S = upward(axes[0], noise)
	p.T = p.Normal.Cross(p.S)
}

// upward turns v toward +z; within noise of level, toward +y; within noise of
// the x axis, toward +x.
func upward(v r3.Vector, noise float64) r3.Vector {
	for _, c := range []float64{v.Z, v.Y, v.X} {
		if c > noise {
			return v
		}
		if c < -noise {
			return v.Mul(-1)
		}
	}
	return v
}

// place finds where the points are along the axes.
func (p *Plane) place(points []r3.Vector) {
	for _, q := range points {
		d := q.Sub(p.Centre)
		p.s = append(p.s, d.Dot(p.S)/p.SpreadS)
		p.t = append(p.t, d.Dot(p.T)/p.SpreadT)
		p.Residuals = append(p.Residuals, d.Dot(p.Normal))
	}
}
