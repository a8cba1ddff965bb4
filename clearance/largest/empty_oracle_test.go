package largest

import (
	"context"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/clearance/largest/empty"
	"elbowroom/survey"
)

var long = flag.Bool("long", false, "hold the search against all instances: some ten seconds")

func instances(all, usual int) int {
	if *long {
		return all
	}
	return short(usual, max(min(usual, 12), usual/8))
}

// short is how many in the ordinary run, and with -short.
func short(usual, few int) int {
	if testing.Short() {
		return few
	}
	return usual
}

// strewn are points that have tripped such searches: at random, on a grid with ties, in
// line, on a diagonal, the same ones twice, some on the room's edges.
func strewn(r *rand.Rand, n int, size [3]float64) (kind string, out []r3.Vector) {
	kinds := []string{"at random", "ties", "in line", "diagonal", "twice"}
	kind = kinds[r.IntN(len(kinds))]
	axis, grid := r.IntN(3), 1.0
	if kind == "ties" {
		grid = 8
	}
	for i := range n {
		var x [3]float64
		for a := range 3 {
			x[a] = math.Min(size[a], math.Round(r.Float64()*size[a]*1.02/grid)*grid)
			if kind == "diagonal" {
				x[a] = math.Round(size[a] * float64(i+1) / float64(n+1))
			}
		}
		if kind == "in line" {
			x[(axis+1)%3], x[(axis+2)%3] = math.Round(size[(axis+1)%3]/3), math.Round(size[(axis+2)%3]/2)
		}
		out = append(out, vector(x))
	}
	if kind == "twice" {
		copy(out[n/2:], out[:n-n/2])
	}
	return kind, out
}

// exactly solves boxes among exact points by whole numbers: the volume, litres. half is
// by how much a box keeps off each along the axes, in micrometres.
func exactly(t *testing.T, points []r3.Vector, size [3]float64, half int64) float64 {
	p := empty.Problem{Domain: empty.Box{Hi: empty.Point{micro(size[0]), micro(size[1]), micro(size[2])}}}
	for _, x := range points {
		p.Blocks = append(p.Blocks, empty.Around(empty.Point{micro(x.X), micro(x.Y), micro(x.Z)}, empty.Point{half, half, half}))
	}
	best, err := empty.Best(context.Background(), p, empty.Effort{})
	require.NoError(t, err)
	s := best.Size
	return float64(s[0]) * float64(s[1]) * float64(s[2]) / 1e15
}

func micro(mm float64) int64 { return int64(math.Round(mm * 1000)) }

// The search among exact points, against the proved search in whole numbers: the best
// box and the bound lie on either side of the truth, and near it. With a gap or marks
// that are not exact what is kept off a point is a ball: a box that keeps off the cube
// around it is no larger than the bound, and one that keeps off the cube in it no smaller
// than the best.
func TestSearchAmongPoints(t *testing.T) {
	far := 0
	n := instances(2000, 400)
	for seed := range uint64(n) {
		r := rand.New(rand.NewPCG(seed, 41))
		size := [3]float64{float64(40 + r.IntN(200)), float64(40 + r.IntN(200)), float64(40 + r.IntN(200))}
		kind, points := strewn(r, 1+r.IntN(60), size)
		s := exactBox()
		within, gap := 0.0, 0.0
		if seed%2 == 1 {
			within, gap = 0.5*r.Float64(), 4*r.Float64()
		}
		s.feature(survey.FeatureSpec{Name: "dots", Shape: survey.Dots}, within, points...)
		s.gap("dots", gap)
		s.limits = Limits{Room: room(0, size[0], 0, size[1], 0, size[2]), Outside: true, Top: 1, Effort: 1}
		name := fmt.Sprintf("seed %d: %d points %s in %v, gap %g, within %g", seed, len(points), kind, size, gap, within)
		q, err := newSearch(task{space: adjusted(t, s), tank: s.tank, rules: s.rules, limits: s.limits})
		require.NoError(t, err, name)
		require.NoError(t, q.run(context.Background()), name)
		off := gap + q.root.cell.frame.k*within/math.Sqrt(3)
		least, most := exactly(t, points, size, int64(math.Ceil(1000*off))), exactly(t, points, size, int64(1000*off/math.Sqrt(3)))
		require.LessOrEqual(t, q.best.value, most*(1+1e-6)+1e-9, name)
		require.GreaterOrEqual(t, q.bound(), least*(1-1e-6)-1e-9, name)
		if q.best.value < q.bound()*(1-closeEnough-1e-9) {
			far++
		}
		if off == 0 {
			assert.InEpsilon(t, least, q.best.value, 2*closeEnough, name)
		}
	}
	t.Logf("%d instances, the bound more than %g off in %d", n, closeEnough, far)
	assert.LessOrEqual(t, far, n/50)
}
