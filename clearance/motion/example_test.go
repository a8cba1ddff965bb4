package motion_test

import (
	"fmt"
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/clearance/motion"
	"elbowroom/solid/shape"
)

// A lid on a hinge along z, 250 mm long and solid above, comes down by 10 degrees over a cap.
func ExampleLeast() {
	cap := shape.Cylinder{Foot: r3.Vector{X: 100, Y: -120}, Axis: r3.Vector{Y: 80}, Across: 30}
	lid := shape.Hull{
		Points: []r3.Vector{{Z: -100}, {X: 250, Z: -100}, {X: 250, Z: 100}, {Z: 100}},
		Behind: r3.Vector{Y: 1},
	}
	shuts, ok := motion.Turn(r3.Vector{}, r3.Vector{Z: 1}, -10*math.Pi/180, 0)
	if !ok {
		return
	}
	f, _ := motion.Least([]motion.Still{motion.Solid(cap)}, []shape.Convex{lid}, motion.Chain{shuts}, motion.Options{})
	fmt.Printf("%.3f mm at %.0f degrees, nowhere less than %.3f mm\n", f.Nearest.Signed, f.At[0]*180/math.Pi, f.Lower)
	// Output: 16.818 mm at -10 degrees, nowhere less than 16.818 mm
}
