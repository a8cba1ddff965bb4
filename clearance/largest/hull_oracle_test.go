package largest

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/require"

	"elbowroom/clearance/largest/empty"
	"elbowroom/solid/shape"
	"elbowroom/survey"
)

// The search among triangles, edges and lumps, against the proved search in whole
// numbers on either side: the small blocks of a grid that meet them hold all of them, so
// that a box among these is no larger than the bound; many of their points hold less, so
// that a box among these is no smaller than the best.
func TestSearchAmongHulls(t *testing.T) {
	const cell = 3.0 // mm
	shapes := []survey.Shape{survey.Skin, survey.Edge, survey.Block}
	far := 0
	n := instances(200, 40)
	for seed := range uint64(n) {
		r := rand.New(rand.NewPCG(seed, 43))
		size := [3]float64{cell * float64(15+r.IntN(10)), cell * float64(15+r.IntN(10)), cell * float64(8+r.IntN(10))}
		s := exactBox()
		for k := range 1 + r.IntN(3) {
			kind := shapes[r.IntN(len(shapes))]
			var marks []r3.Vector
			at := v(r.Float64()*size[0], r.Float64()*size[1], r.Float64()*size[2])
			for range 4 + r.IntN(4) {
				marks = append(marks, at.Add(v(40*(r.Float64()-0.5), 40*(r.Float64()-0.5), 40*(r.Float64()-0.5))))
			}
			name := fmt.Sprintf("f%d", k)
			s.feature(survey.FeatureSpec{Name: name, Shape: kind}, 0, marks...)
			s.gap(name, 0)
		}
		s.limits = Limits{Room: room(0, size[0], 0, size[1], 0, size[2]), Outside: true, Top: 1, Effort: 1}
		name := fmt.Sprintf("seed %d in %v", seed, size)
		q, err := newSearch(task{space: adjusted(t, s), tank: s.tank, rules: s.rules, limits: s.limits})
		require.NoError(t, err, name)
		require.NoError(t, q.run(context.Background()), name)
		q.lastTry()
		hulls := q.hulls()
		require.LessOrEqual(t, q.best.value, among(t, size, dotted(r, hulls))*(1+1e-4), name) // a micrometre in a centimetre
		require.GreaterOrEqual(t, q.bound(), among(t, size, blocked(hulls, size, cell))*(1-1e-6)-1e-9, name)
		if q.best.value < 0.995*q.bound() {
			far++
		}
	}
	t.Logf("%d instances, the bound more than 0.5 %% off in %d", n, far)
}

// hulls are the pieces of all features.
func (s *search) hulls() (out []shape.Hull) {
	for i, f := range s.task.space.Features {
		for _, p := range f.Pieces {
			var h shape.Hull
			for _, k := range p.Nodes {
				h.Points = append(h.Points, s.root.cell.frame.nodes[i][k])
			}
			out = append(out, h)
		}
	}
	return out
}

// among solves boxes among blocks by whole numbers: the volume, litres.
func among(t *testing.T, size [3]float64, blocks []empty.Box) float64 {
	p := empty.Problem{Domain: empty.Box{Hi: empty.Point{micro(size[0]), micro(size[1]), micro(size[2])}}, Blocks: blocks}
	best, err := empty.Best(context.Background(), p, empty.Effort{})
	require.NoError(t, err)
	return float64(best.Size[0]) * float64(best.Size[1]) * float64(best.Size[2]) / 1e15
}

// dotted are many points of hulls, to the micrometre.
func dotted(r *rand.Rand, hulls []shape.Hull) (out []empty.Box) {
	for _, h := range hulls {
		for range 300 {
			var x r3.Vector
			for i, by := range mixed(r, len(h.Points)) {
				x = x.Add(h.Points[i].Mul(by))
			}
			p := empty.Point{micro(x.X), micro(x.Y), micro(x.Z)}
			out = append(out, empty.Box{Lo: p, Hi: p})
		}
	}
	return out
}

// blocked are the blocks of a grid that meet hulls, and those around them by a hair.
func blocked(hulls []shape.Hull, size [3]float64, cell float64) (out []empty.Box) {
	var n [3]int
	for a := range 3 {
		n[a] = int(size[a]/cell + 0.5)
	}
	for x := range n[0] {
		for y := range n[1] {
			for z := range n[2] {
				at := v(float64(x), float64(y), float64(z)).Mul(cell)
				b := shape.Box{Corner: at, Edges: [3]r3.Vector{{X: cell}, {Y: cell}, {Z: cell}}}
				for _, h := range hulls {
					if shape.Distance(b, h).Signed <= 0.001 {
						lo := empty.Point{micro(at.X), micro(at.Y), micro(at.Z)}
						c := micro(cell)
						out = append(out, empty.Box{Lo: lo, Hi: empty.Point{lo[0] + c, lo[1] + c, lo[2] + c}})
						break
					}
				}
			}
		}
	}
	return out
}
