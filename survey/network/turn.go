package network

import (
	"github.com/golang/geo/r3"
	"gonum.org/v1/gonum/mat"
)

// turnOnto is the rotation of Match about the centres a and b: with the singular
// values U S Vᵀ of the sum of to fromᵀ it is U D Vᵀ, D the identity, or its last
// entry -1 where that would mirror.
func turnOnto(from, to []r3.Vector, a, b r3.Vector) [3]r3.Vector {
	h := mat.NewDense(3, 3, nil)
	for i := range from {
		p, q := from[i].Sub(a), to[i].Sub(b)
		u, v := [3]float64{q.X, q.Y, q.Z}, [3]float64{p.X, p.Y, p.Z}
		for r := range u {
			for c := range v {
				h.Set(r, c, h.At(r, c)+u[r]*v[c])
			}
		}
	}
	var svd mat.SVD
	if !svd.Factorize(h, mat.SVDFull) {
		return [3]r3.Vector{{X: 1}, {Y: 1}, {Z: 1}}
	}
	var u, v, r mat.Dense
	svd.UTo(&u)
	svd.VTo(&v)
	d := mat.NewDiagDense(3, []float64{1, 1, 1})
	if mat.Det(&u)*mat.Det(&v) < 0 {
		d.SetDiag(2, -1)
	}
	r.Product(&u, d, v.T())
	var rows [3]r3.Vector
	for i := range rows {
		rows[i] = r3.Vector{X: r.At(i, 0), Y: r.At(i, 1), Z: r.At(i, 2)}
	}
	return rows
}
