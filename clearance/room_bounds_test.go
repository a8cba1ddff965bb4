package clearance

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"github.com/stretchr/testify/assert"

	"elbowroom/solid"
	"elbowroom/solid/shape"
	"elbowroom/survey"
)

// A place behind all walls of a flat with all behind it, or of a block, is as deep in it as
// shape.Distance says, or deeper.
func TestWallsAgainstDistance(t *testing.T) {
	s := bench(plainDriver())
	s.feature(survey.FeatureSpec{Name: "wall", Shape: survey.Face, Mount: true}, 0.5,
		v(0, 0, 1), v(300, 0, -1), v(0, 200, 0.5), v(300, 200, 1), v(150, 100, 0))
	s.feature(block("engine"), 0.5, corners(v(105, 20, 90), v(260, 140, 230))...)
	s.feature(survey.FeatureSpec{Name: "lip", Shape: survey.Edge, Behind: v(0, 1, 0)}, 0.5, v(0, 200, 40), v(200, 200, 40))
	c := s.checker(t)
	rng := rand.New(rand.NewPCG(4, 2))
	found := map[string]int{}
	for k := range c.features {
		o := &c.features[k]
		walls := o.walls()
		for range 3000 {
			at := v(400*rng.Float64()-50, 300*rng.Float64()-50, 400*rng.Float64()-150)
			deep := 60 * rng.Float64()
			if !deeper(walls, at, deep) {
				continue
			}
			found[o.feature.Spec.Name]++
			best, _, _ := c.nearest(newPartThing(solid.Part{Solid: shape.Hull{Points: []r3.Vector{at}}}), o)
			assert.LessOrEqual(t, best.Signed, -deep+1e-6, o.feature.Spec.Name)
		}
	}
	assert.Greater(t, found["wall"], 100)
	assert.Greater(t, found["engine"], 10)
	assert.Zero(t, found["lip"], "an edge has no inside")
	assert.Nil(t, prism([]r3.Vector{v(0, 0, 0), v(1, 1, 0), v(1, 0, 0), v(0, 1, 0)}, v(0, 0, -1)), "corners out of order")
	assert.Nil(t, prism([]r3.Vector{v(0, 0, 0), v(1, 0, 0), v(0, 0, 1)}, v(0, 0, -1)), "a flat that goes on along itself")
}

// The plane's bound is no more than the clearance at any clock angle, whatever angle the
// direction was seen at; there it is the clearance, of what is convex.
func TestPlaneBoundIsABound(t *testing.T) {
	s := bench(plainDriver())
	s.feature(block("engine"), 0.5, corners(v(190, 20, 90), v(260, 140, 230))...)
	s.feature(survey.FeatureSpec{Name: "lip", Shape: survey.Edge, Round: 3, Behind: v(0, 1, 0)}, 0.5, v(0, 195, 120), v(100, 195, 130), v(200, 195, 120))
	s.pole("pole", 200, 190, 4, 0.5)
	c := s.checker(t)
	for _, part := range c.assembly.Parts {
		if part.Turning == nil {
			continue
		}
		u := c.turner(part)
		close := 0
		for i := range u.all {
			b := &u.all[i]
			for seen := 0.0; seen < 2*math.Pi; seen += 0.3 {
				for _, on := range []float64{0, 0.02, 0.5, 2} {
					u.clear(u.pose(1, s1.Angle(seen)), b)
					p := u.pose(1, s1.Angle(seen+on))
					bound := b.apart(&p)
					n, _, _ := u.clear(p, b)
					assert.LessOrEqual(t, bound, n.Signed)
					convex := b.own != nil || len(b.feature.pieces) == 1 // one plane does for all of it
					if on == 0 && n.Signed > 0 && convex {
						close++
						assert.InDelta(t, n.Signed, bound, 1e-6)
					}
				}
			}
		}
		assert.Greater(t, close, 10)
	}
}

// What is not drawn in full comes out as if it were: a second limit of the same figures, and
// figures that no draw can reach.
func TestDrawsThatAreSpared(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	var spared, whole []trial
	for range 20 {
		var figures []figure
		for range 4 {
			f := figure{value: 3 * rng.Float64()}
			for source := range 6 {
				f.terms = append(f.terms, survey.Term{Source: source, By: rng.NormFloat64() / 3})
			}
			figures = append(figures, f)
		}
		for k, limit := range [2]float64{0.5, 0} {
			spared = append(spared, trial{figures: figures, limit: limit, again: k == 1})
			whole = append(whole, trial{figures: figures, limit: limit})
		}
	}
	packed, errors := pack(whole)
	for i := range packed {
		for k := range packed[i] {
			packed[i][k].near = math.Inf(-1)
		}
	}
	sum := tally{held: make([]int, len(whole))}
	for k := range uint64(chunks) {
		part := run(whole, packed, errors, k)
		sum.all += part.all
		for i, n := range part.held {
			sum.held[i] += n
		}
	}
	assert.Equal(t, sum, sample(spared))
}
