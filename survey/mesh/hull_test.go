package mesh_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"elbowroom/survey/mesh"

	"github.com/golang/geo/r2"
	"github.com/stretchr/testify/assert"
)

func TestHullByHand(t *testing.T) {
	for name, test := range map[string]struct {
		points []r2.Point
		want   []int
	}{
		"none":           {nil, nil},
		"one":            {[]r2.Point{{X: 2, Y: 3}}, []int{0}},
		"one place":      {make([]r2.Point, 4), []int{0}},
		"two":            {[]r2.Point{{X: 5}, {}}, []int{1, 0}},
		"line":           {[]r2.Point{{X: 1, Y: 1}, {X: 3, Y: 3}, {}, {X: 3, Y: 3}}, []int{2, 1}},
		"upright line":   {[]r2.Point{{Y: 2}, {Y: 7}, {Y: -1}}, []int{2, 1}},
		"square":         {[]r2.Point{{X: 1, Y: 1}, {Y: 1}, {}, {X: 1}, {X: 0.5, Y: 0.5}, {X: 0.5}}, []int{2, 3, 0, 1}},
		"signed zero":    {[]r2.Point{{X: math.Copysign(0, -1)}, {}, {X: 1}}, []int{0, 2}},
		"not a number":   {[]r2.Point{{X: math.NaN()}, {}, {X: 1}, {Y: 1}, {Y: math.Inf(1)}}, []int{1, 2, 3}},
		"repeated start": {[]r2.Point{{X: 1}, {}, {Y: 1}, {}, {X: 1}}, []int{1, 0, 2}},
	} {
		t.Run(name, func(t *testing.T) {
			assert.Equal(t, test.want, mesh.Hull(test.points))
		})
	}
}

// Every point is left of or on every side, and every corner turns left, in
// fractions.
func TestHullAgainstBruteForce(t *testing.T) {
	for _, name := range names() {
		r := rand.New(rand.NewPCG(13, 14))
		for n := 1; n <= 25; n++ {
			points := sets[name](r, n)
			hull := mesh.Hull(points)
			for k := range hull {
				a, b, c := hull[k], hull[(k+1)%len(hull)], hull[(k+2)%len(hull)]
				if len(hull) > 2 {
					assert.Positive(t, area2(points[a], points[b], points[c]).Sign(), name)
				}
				for _, p := range points {
					assert.GreaterOrEqual(t, area2(points[a], points[b], p).Sign(), 0, name)
				}
			}
		}
	}
}
