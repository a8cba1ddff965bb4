package clearance

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/survey"
)

// What bounds a mix of a piece's nodes is no more than the variance of any: of all
// nodes together, and the short way of nodes with nothing in common.
func TestSpreadsBound(t *testing.T) {
	s := crowd(1)
	space, err := survey.Adjust(s.readings)
	require.NoError(t, err)
	j, err := NewJudge(space, s.tank, s.rules)
	require.NoError(t, err)
	r := rand.New(rand.NewPCG(9, 10))
	short, whole := 0, 0
	for i := range space.Features {
		f := &space.Features[i]
		spreads := j.Spreads(i)
		for k, p := range f.Pieces {
			if !bounded(f, p) {
				continue
			}
			got := *spreads.Piece(k)
			rows := make([]*[3]column, len(p.Nodes))
			for n, id := range p.Nodes {
				rows[n] = spreads.row(id)
			}
			full := PieceSpread{Least: leastOf(rows, j.base)}
			full.Axis, full.Skew = alongAxes(rows, j.base)
			var apart PieceSpread
			if apart.apart(rows) {
				short++
				assert.Equal(t, apart, got)
				assert.LessOrEqual(t, apart.Least, full.Least*(1+1e-9)+1e-12)
			} else {
				whole++
			}
			for range 30 {
				w, squares := make([]float64, len(rows)), 0.0
				for n := range w {
					w[n] = r.Float64()
				}
				sum := 0.0
				for _, x := range w {
					sum += x
				}
				for n := range w {
					w[n] /= sum
					squares += w[n] * w[n]
				}
				n := r3.Vector{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}.Normalize()
				v := variance(rows, w, n, j.base)
				for _, b := range [2]PieceSpread{got, full} {
					axes := b.Axis
					assert.LessOrEqual(t, b.Least*squares, v+1e-9)
					along := (axes[0]*n.X*n.X+axes[1]*n.Y*n.Y+axes[2]*n.Z*n.Z)*squares - b.Skew
					assert.LessOrEqual(t, along, v+1e-9)
				}
			}
		}
	}
	assert.Positive(t, short)
	t.Log(short, "pieces the short way,", whole, "else")
}

// variance of a mix of nodes along a direction.
func variance(rows []*[3]column, w []float64, n r3.Vector, b *spreadBase) float64 {
	sum := 0.0
	d := [3]float64{n.X, n.Y, n.Z}
	for i, x := range rows {
		for k, y := range rows {
			for a := range 3 {
				for c := range 3 {
					sum += w[i] * w[k] * d[a] * d[c] * x[a].dot(&y[c], b)
				}
			}
		}
	}
	return math.Max(0, sum)
}
