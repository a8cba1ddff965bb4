package network

import (
	"math"

	"github.com/golang/geo/r3"
	"gonum.org/v1/gonum/mat"
)

// Plane is the plane that fits points best, in the frame and unit of the points
// (mm). It does not change once made. The zero Plane is of no points, and has no
// direction.
type Plane struct {
	// Centre is the weighted mean of the points; the plane goes through it.
	Centre r3.Vector

	// Normal has length 1. It points toward +z; where it is level within
	// rounding, toward +y; where it lies along x, toward +x. See Facing.
	Normal r3.Vector

	// S and T have length 1 and lie in the plane: S along the greatest spread of
	// the points, T across it, with S x T = Normal. Where the points spread
	// alike both ways, any such pair may come out.
	S, T r3.Vector

	// SpreadS, SpreadT and SpreadN are the weighted root mean squares of the
	// points' distances from Centre along S, T and Normal.
	SpreadS, SpreadT, SpreadN float64

	// Residuals are the points' signed distances from the plane, positive on the
	// side of Normal.
	Residuals []float64

	s, t  []float64 // places of the points along S and T, over SpreadS and SpreadT
	share []float64 // weights, adding up to 1
}

// FitPlane fits a plane to three points or more: the one with the least weighted
// sum of squared distances at right angles to it. u holds the points' standard
// uncertainties along the normal, in the unit of the points; the weights are
// 1/u². nil means equal weights.
//
// The plane goes through the weighted mean of the points, and its normal is the
// right singular vector of the least singular value of the centred, weighted
// coordinates (Shakarji 1998, "Least-squares fitting algorithms of the NIST
// algorithm testing system", J. Res. NIST 103, 633).
//
// The error is *BadRow for a number that cannot be used, else ErrFewPoints,
// ErrCoincident, ErrCollinear or ErrNoNormal. A u of another length than the
// points is a mistake of the caller's code and panics.
func FitPlane(points []r3.Vector, u []float64) (Plane, error) {
	if u != nil && len(u) != len(points) {
		panic(mat.ErrShape)
	}
	if len(points) < 3 {
		return Plane{}, ErrFewPoints
	}
	if err := checkPoints(points, u); err != nil {
		return Plane{}, err
	}
	p := Plane{share: shares(len(points), u)}
	p.Centre = p.centre(points)
	axes, err := p.principal(points)
	if err != nil {
		return Plane{}, err
	}
	p.orient(axes, Rounding(points)/(p.SpreadT-p.SpreadN))
	p.place(points)
	return p, nil
}

// Flatness is the greatest residual minus the least: the distance between the
// two planes parallel to this one that hold all the points between them.
func (p Plane) Flatness() float64 {
	if len(p.Residuals) == 0 {
		return 0
	}
	least, most := math.Inf(1), math.Inf(-1)
	for _, r := range p.Residuals {
		least, most = math.Min(least, r), math.Max(most, r)
	}
	return most - least
}

// Height is the signed distance of a place from the plane, positive on the side
// of Normal.
func (p Plane) Height(at r3.Vector) float64 { return at.Sub(p.Centre).Dot(p.Normal) }

// Facing is the same plane with Normal toward the side that a place is on. A
// place in the plane leaves it as it is.
func (p Plane) Facing(at r3.Vector) Plane {
	if p.Height(at) >= 0 {
		return p
	}
	p.Normal, p.T = p.Normal.Mul(-1), p.T.Mul(-1)
	p.Residuals, p.t = negated(p.Residuals), negated(p.t)
	return p
}

// Influence gives, for each point j, how far the plane at a place moves along
// Normal when point j moves by 1 along Normal:
//
//	h_j = w_j/W + s s_j w_j/(S_ss - S_nn) + t t_j w_j/(S_tt - S_nn)
//
// with s, t the place along S and T from Centre, W the sum of the weights, and
// S_ss, S_tt, S_nn the weighted sums of squares along S, T and Normal. The
// entries add up to 1. With C the covariance of the points' errors along
// Normal, the plane's variance at the place is hᵀ C h.
//
// This is the derivative of the fit (the perturbation of an eigenvector of the
// scatter matrix; Golub & Van Loan, "Matrix Computations", section 8.1), right
// to first order. A move of point j within the plane counts for its residual
// over the spread as much, and is left out. The entries are appended to dst[:0].
func (p Plane) Influence(at r3.Vector, dst []float64) []float64 {
	d := at.Sub(p.Centre)
	s, t := d.Dot(p.S), d.Dot(p.T)
	dst = dst[:0]
	for j, w := range p.share {
		bs, bt := p.slopes(j)
		dst = append(dst, w+s*bs+t*bt)
	}
	return dst
}

// Tilt is the small rotation of the plane about Centre, as a vector in radians
// (right-handed, across Normal), for each 1 that point j moves along Normal. The
// normal changes by Tilt x Normal.
func (p Plane) Tilt(j int) r3.Vector {
	bs, bt := p.slopes(j)
	return p.S.Mul(bt).Sub(p.T.Mul(bs))
}

// Redundancy is 1 - h_j at point j itself: the share of a slip of point j along
// Normal that shows in its own residual. Three points check nothing: all 0, but
// for rounding. The redundancies add up to the number of points minus three, but
// for the square of SpreadN over SpreadT.
func (p Plane) Redundancy(j int) float64 {
	bs, bt := p.slopes(j)
	return 1 - p.share[j] - p.s[j]*p.SpreadS*bs - p.t[j]*p.SpreadT*bt
}

// slopes says how much steeper the plane gets along S and along T, for each 1
// that point j moves along Normal.
func (p Plane) slopes(j int) (bs, bt float64) {
	ns, nt := p.SpreadN/p.SpreadS, p.SpreadN/p.SpreadT
	bs = p.share[j] * p.s[j] / p.SpreadS / ((1 - ns) * (1 + ns))
	bt = p.share[j] * p.t[j] / p.SpreadT / ((1 - nt) * (1 + nt))
	return bs, bt
}

func negated(x []float64) []float64 {
	out := make([]float64, len(x))
	for i, v := range x {
		out[i] = -v
	}
	return out
}
