package survey

import (
	"math"

	"github.com/golang/geo/r3"
	"gonum.org/v1/gonum/mat"

	"elbowroom/survey/network"
)

// innerAll are the standard uncertainties of a network's marks where nothing but
// the start values holds the axes: against the network as a whole, laid on itself
// as well as it can be (inner constraints). What is pinned to hold the axes has
// no part in it.
//
// Laying it takes the mean shift c and the mean turn t of all marks off: with r
// the marks from their centre and d their moves, c = sum of d over n, and J t =
// sum of r x d with J the sum of |r|² I - r rᵀ. Mark k keeps d_k - c - t x r_k.
// These are six figures, so that six solutions serve all marks.
func (n *netted) innerAll() []float64 {
	at := n.adjusted.At
	var centre r3.Vector
	for _, p := range at {
		centre = centre.Add(p.Mul(1 / float64(len(at))))
	}
	figures := motionFigures(at, centre)
	spread := n.adjusted.Spreader()
	var replies [6][]r3.Vector
	for i, g := range figures {
		replies[i] = make([]r3.Vector, len(at))
		spread.Reply(g, replies[i])
	}
	covariance := mat.NewSymDense(6, nil)
	for i, g := range figures {
		for j := i; j < 6; j++ {
			sum := 0.0
			for _, m := range g {
				sum += m.By.Dot(replies[j][m.Mark])
			}
			covariance.SetSym(i, j, sum)
		}
	}
	out := make([]float64, len(at))
	for k, p := range at {
		block := n.adjusted.Block(k, k)
		sum := block[0] + block[4] + block[8]
		for axis := range 3 {
			// What the six figures take off along e: c.e + t.(r x e).
			e := unit(axis)
			arm := p.Sub(centre).Cross(e)
			b := mat.NewVecDense(6, []float64{e.X, e.Y, e.Z, arm.X, arm.Y, arm.Z})
			for i := range 6 {
				sum -= 2 * b.AtVec(i) * replies[i][k].Dot(e)
			}
			sum += mat.Inner(b, covariance, b)
		}
		out[k] = math.Sqrt(math.Max(0, sum) / 3)
	}
	return out
}

// motionFigures are the mean shift along each axis and the mean turn about it.
func motionFigures(at []r3.Vector, centre r3.Vector) (figures [6][]network.Mover) {
	j := mat.NewSymDense(3, nil)
	for _, p := range at {
		r := p.Sub(centre)
		for a := range 3 {
			for b := a; b < 3; b++ {
				v := -along(r, a) * along(r, b)
				if a == b {
					v += r.Norm2()
				}
				j.SetSym(a, b, j.At(a, b)+v)
			}
		}
	}
	for axis := range 3 {
		e := unit(axis)
		var w mat.VecDense
		if w.SolveVec(j, mat.NewVecDense(3, []float64{e.X, e.Y, e.Z})) != nil {
			w = *mat.NewVecDense(3, nil) // all on one line: no turn to take off
		}
		turn := r3.Vector{X: w.AtVec(0), Y: w.AtVec(1), Z: w.AtVec(2)}
		for m, p := range at {
			figures[axis] = append(figures[axis], network.Mover{Mark: m, By: e.Mul(1 / float64(len(at)))})
			figures[3+axis] = append(figures[3+axis], network.Mover{Mark: m, By: turn.Cross(p.Sub(centre))})
		}
	}
	return figures
}
