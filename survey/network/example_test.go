package network_test

import (
	"fmt"
	"math"

	"elbowroom/survey/network"

	"github.com/golang/geo/r3"
	"gonum.org/v1/gonum/mat"
)

// A width of 300 mm was taped in one piece and in two: how wide is it, and which
// reading fits worst?
func ExampleSolve() {
	a := mat.NewDense(3, 2, []float64{
		1, 1, // the whole
		1, 0, // the left piece
		0, 1, // the right piece
	})
	fit, err := network.Solve(a, []float64{300, 100.5, 201}, []float64{1, 0.5, 0.5})
	if err != nil {
		fmt.Println(err)
		return
	}
	c := fit.Covariance
	fmt.Printf("left %.2f, right %.2f mm\n", fit.X[0], fit.X[1])
	fmt.Printf("whole %.2f mm, u %.2f mm\n", fit.X[0]+fit.X[1],
		math.Sqrt(c.At(0, 0)+c.At(1, 1)+2*c.At(0, 1)))
	fmt.Printf("redundancy %.2f\n", fit.Redundancy)
	// Output:
	// left 100.25, right 200.75 mm
	// whole 301.00 mm, u 0.58 mm
	// redundancy [0.67 0.17 0.17]
}

// Five marks on a flat, each good to 0.5 mm: how sure is the plane at a place
// 200 mm beyond them?
func ExamplePlane_Influence() {
	marks := []r3.Vector{{}, {X: 300}, {X: 300, Y: 200}, {Y: 200, Z: 1}, {X: 150, Y: 100}}
	plane, err := network.FitPlane(marks, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	var variance float64
	for _, h := range plane.Influence(r3.Vector{X: 500, Y: 100}, nil) {
		variance += h * 0.5 * h * 0.5
	}
	fmt.Printf("flat within %.2f mm, u there %.2f mm\n", plane.Flatness(), math.Sqrt(variance))
	// Output: flat within 0.50 mm, u there 0.62 mm
}
