package shape

import (
	"math"
	"math/big"
	"slices"

	"github.com/golang/geo/r3"
)

// The oracle knows two planar shapes by their corners only and works on the set
// of all differences of two corners: no search, no separating axes, no faces.

// whole is an exact vector: integers times one power of two shared by all.
type whole [3]*big.Int

// wholes brings exact coordinates to a common power of two.
func wholes(vectors []r3.PreciseVector) ([]whole, int) {
	least := 0
	each := func(do func(i, k int, x *big.Float)) {
		for i, v := range vectors {
			for k, x := range [3]*big.Float{v.X, v.Y, v.Z} {
				do(i, k, x)
			}
		}
	}
	each(func(_, _ int, x *big.Float) {
		if x.Sign() != 0 {
			least = min(least, x.MantExp(nil)-int(x.MinPrec()))
		}
	})
	list := make([]whole, len(vectors))
	each(func(i, k int, x *big.Float) {
		list[i][k], _ = new(big.Float).SetMantExp(x, -least).Int(nil)
	})
	return list, least
}

func (a whole) sub(b whole) (c whole) {
	for k := range c {
		c[k] = new(big.Int).Sub(a[k], b[k])
	}
	return c
}

func (a whole) dot(b whole) *big.Int {
	sum := new(big.Int)
	for k := range a {
		sum.Add(sum, new(big.Int).Mul(a[k], b[k]))
	}
	return sum
}

func (a whole) cross(b whole) (c whole) {
	for k := range c {
		i, j := (k+1)%3, (k+2)%3
		c[k] = new(big.Int).Mul(a[i], b[j])
		c[k].Sub(c[k], new(big.Int).Mul(a[j], b[i]))
	}
	return c
}

func (a whole) zero() bool { return a[0].Sign() == 0 && a[1].Sign() == 0 && a[2].Sign() == 0 }

// exactCorners are a planar shape's corners without rounding. A hull that goes on
// without end ends far times Behind away.
func exactCorners(c Convex, far float64) []r3.PreciseVector {
	var corners []r3.PreciseVector
	switch s := c.(type) {
	case Hull:
		for _, p := range s.Points {
			at := r3.PreciseVectorFromVector(p)
			corners = append(corners, at)
			if s.Behind != (r3.Vector{}) {
				corners = append(corners, at.Add(r3.PreciseVectorFromVector(s.Behind).MulByFloat64(far)))
			}
		}
	case Box:
		for i := 0; i < 8; i++ {
			at := r3.PreciseVectorFromVector(s.Corner)
			for k, e := range s.Edges {
				if i&(1<<k) != 0 {
					at = at.Add(r3.PreciseVectorFromVector(e))
				}
			}
			corners = append(corners, at)
		}
	}
	return corners
}

// differences are all b - a of corners, exactly.
func differences(a, b Convex, far float64) []r3.PreciseVector {
	var list []r3.PreciseVector
	for _, q := range exactCorners(b, far) {
		for _, p := range exactCorners(a, far) {
			list = append(list, q.Sub(p))
		}
	}
	return list
}

// exactDepth is the sign of the signed distance of two planar shapes, and their
// depth: sign -1 where the origin is inside the hull of the differences, 0 on its
// surface, 1 outside. The depth is rounded once. It tries every plane through
// three of the differences that has all the others on one side.
func exactDepth(a, b Convex, far float64) (sign int, depth float64) {
	list := different(differences(a, b, far))
	y, exponent := wholes(list)
	near := rounded(list)
	sign, depth = -1, math.Inf(1)
	solid := false
	for i := range y {
		for j := i + 1; j < len(y); j++ {
			for k := j + 1; k < len(y); k++ {
				u, v := near[j].Sub(near[i]), near[k].Sub(near[i])
				p := plane{i: i, normal: u.Cross(v), size: (near[i].Norm() + near[j].Norm()) * (near[i].Norm() + near[k].Norm())}
				if p.surelyCuts(near) {
					continue
				}
				n := y[j].sub(y[i]).cross(y[k].sub(y[i]))
				if n.zero() {
					continue
				}
				p.exact = n
				side := p.sideOfAll(near, y)
				switch side {
				case cut:
					continue
				case flat:
					return flatSign(y, n), 0
				}
				solid = true
				inside := n.dot(y[i]) // of the origin: how far below the plane
				if side == above {
					inside.Neg(inside)
				}
				if inside.Sign() < 0 {
					return 1, 0
				}
				if inside.Sign() == 0 {
					sign = 0
				}
				depth = math.Min(depth, ratio(inside, n.dot(n), exponent))
			}
		}
	}
	if !solid {
		return lineSign(y), 0
	}
	return sign, depth
}

// Where all points are, seen from a plane.
const (
	cut = iota
	flat
	below
	above
)

// plane is one through three of the differences, known roughly and exactly.
type plane struct {
	i      int // one of the three
	normal r3.Vector
	size   float64 // of the differences that made it, for the rounding of normal
	exact  whole
}

// side is which side of the plane point l is on: rounded where that is beyond
// doubt (1e-14 of the lengths is forty roundings), else exactly.
func (p *plane) side(near []r3.Vector, y []whole, l int) int {
	at := p.normal.Dot(near[l].Sub(near[p.i]))
	if math.Abs(at) > 1e-14*p.size*(near[l].Norm()+near[p.i].Norm()) {
		return sign(at)
	}
	return p.exact.dot(y[l].sub(y[p.i])).Sign()
}

func (p *plane) sideOfAll(near []r3.Vector, y []whole) int {
	low, high := false, false
	for l := range y {
		s := p.side(near, y, l)
		low, high = low || s < 0, high || s > 0
		if low && high {
			return cut
		}
	}
	switch {
	case low:
		return below
	case high:
		return above
	}
	return flat
}

// surelyCuts says that the plane has points on both sides, beyond rounding.
func (p *plane) surelyCuts(near []r3.Vector) bool {
	low, high := false, false
	for _, q := range near {
		at, bound := p.normal.Dot(q.Sub(near[p.i])), 1e-14*p.size*(q.Norm()+near[p.i].Norm())
		low, high = low || at < -bound, high || at > bound
		if low && high {
			return true
		}
	}
	return false
}

// ratio is x / sqrt(y2) in units of 2^exponent.
func ratio(x, y2 *big.Int, exponent int) float64 {
	root := new(big.Float).SetPrec(200).SetInt(y2)
	root.Sqrt(root)
	q := new(big.Float).SetPrec(200).SetInt(x)
	q.Quo(q, root)
	f, _ := q.SetMantExp(q, exponent).Float64()
	return f
}

func exactSign(a, b Convex) int {
	sign, _ := exactDepth(a, b, 1<<30)
	return sign
}

// flatSign is 0 where a triangle of points in a plane with normal n holds the
// origin, else 1.
func flatSign(y []whole, n whole) int {
	if n.dot(y[0]).Sign() != 0 {
		return 1
	}
	for i := range y {
		for j := range y {
			side := n.cross(y[j].sub(y[i]))
			if side.zero() {
				continue
			}
			outside := true
			for l := range y {
				if side.dot(y[l].sub(y[i])).Sign() > 0 {
					outside = false
					break
				}
			}
			if outside && side.dot(y[i]).Sign() < 0 {
				return 1
			}
		}
	}
	return 0
}

// lineSign is 0 where the origin lies between points on a line, else 1.
func lineSign(y []whole) int {
	for i := range y {
		if y[i].zero() {
			return 0
		}
		for j := range y {
			if y[i].cross(y[j]).zero() && y[i].dot(y[j]).Sign() < 0 {
				return 0
			}
		}
	}
	return 1
}

// different are the vectors without repeats.
func different(list []r3.PreciseVector) []r3.PreciseVector {
	var kept []r3.PreciseVector
	for _, v := range list {
		if !slices.ContainsFunc(kept, v.Equal) {
			kept = append(kept, v)
		}
	}
	return kept
}

// rounded are exact vectors in floating point.
func rounded(list []r3.PreciseVector) []r3.Vector {
	near := make([]r3.Vector, len(list))
	for i, d := range list {
		near[i].X, _ = d.X.Float64()
		near[i].Y, _ = d.Y.Float64()
		near[i].Z, _ = d.Z.Float64()
	}
	return near
}

// distanceToHull is the distance from the origin to the hull of the points, by
// the conditions of Kuhn and Tucker: of the nearest points of the planes through
// up to three of them, the one with weights that are not negative and with all
// points beyond the plane square to it.
func distanceToHull(y []r3.Vector) float64 {
	best := math.Inf(1)
	for i := range y {
		best = math.Min(best, y[i].Norm())
		for j := i + 1; j < len(y); j++ {
			best = math.Min(best, nearestOnLine(y[i], y[j]))
			for k := j + 1; k < len(y); k++ {
				best = math.Min(best, nearestOnPlane(y[i], y[j], y[k]))
			}
		}
	}
	return best
}

// nearestOnLine is the distance from the origin to a segment's inside, else +Inf.
func nearestOnLine(p, q r3.Vector) float64 {
	e := q.Sub(p)
	t := -p.Dot(e) / e.Norm2()
	if !(t > 0 && t < 1) {
		return math.Inf(1)
	}
	return p.Cross(q).Norm() / e.Norm()
}

// nearestOnPlane is the distance from the origin to a triangle's inside, else +Inf.
func nearestOnPlane(p, q, r r3.Vector) float64 {
	n := q.Sub(p).Cross(r.Sub(p))
	n2 := n.Norm2()
	if n2 == 0 {
		return math.Inf(1)
	}
	foot := n.Mul(p.Dot(n) / n2)
	p0, q0, r0 := p.Sub(foot), q.Sub(foot), r.Sub(foot)
	if n.Dot(p0.Cross(q0)) < 0 || n.Dot(q0.Cross(r0)) < 0 || n.Dot(r0.Cross(p0)) < 0 {
		return math.Inf(1)
	}
	return math.Abs(p.Dot(n)) / math.Sqrt(n2)
}
