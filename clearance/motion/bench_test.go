package motion_test

import (
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"

	"elbowroom/clearance/motion"
	"elbowroom/solid/shape"
)

// engine is so many marks in front of and below a box, and the axis that it rocks about.
func engine(marks int) (pieces []shape.Convex, on, toward r3.Vector) {
	random := rand.New(rand.NewPCG(7, 8))
	for range marks {
		at := v(-300+800*random.Float64(), -250+200*random.Float64(), 20*random.NormFloat64()+160)
		pieces = append(pieces, shape.Hull{Points: []r3.Vector{at}})
	}
	return pieces, v(-350, -400, 350), v(550, -380, 340)
}

func BenchmarkRock500Marks(b *testing.B) {
	pieces, on, toward := engine(500)
	still := []motion.Still{motion.Solid(box(v(0, 0, 0), v(220, 130, 95)))}
	rock, _ := motion.Turn(on, toward, -4*degree, 4*degree)
	shift, bounce := motion.Slide(v(1, 0, 0), -5, 5), motion.Slide(v(0, 1, 0), -8, 8)
	for _, test := range []struct {
		name  string
		chain motion.Chain
	}{
		{"rock", motion.Chain{rock}}, {"rock and bounce", motion.Chain{rock, bounce}}, {"rock, bounce and shift", motion.Chain{rock, bounce, shift}},
	} {
		b.Run(test.name, func(b *testing.B) {
			distances := 0
			for range b.N {
				f, _ := motion.Least(still, pieces, test.chain, motion.Options{})
				if f.Lower < f.Nearest.Signed-0.01 {
					b.Fatal("not proven")
				}
				distances = f.Distances
			}
			b.ReportMetric(float64(distances), "distances")
		})
	}
}
