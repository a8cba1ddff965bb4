package empty_test

import (
	"context"
	"fmt"

	"elbowroom/clearance/largest/empty"
)

// Three readings in a space of 300 x 200 x 150 mm; the box keeps 5 mm off each
// and two standard uncertainties more.
func Example() {
	const mm = 1000
	gap := func(u int64) empty.Point { return empty.Point{5*mm + 2*u, 5*mm + 2*u, 5*mm + 2*u} }
	problem := empty.Problem{
		Domain: empty.Box{Hi: empty.Point{300 * mm, 200 * mm, 150 * mm}},
		Blocks: []empty.Box{
			empty.Around(empty.Point{60 * mm, 90 * mm, 20 * mm}, gap(800)),
			empty.Around(empty.Point{150 * mm, 120 * mm, 110 * mm}, gap(800)),
			empty.Around(empty.Point{250 * mm, 180 * mm, 40 * mm}, gap(800)),
		},
		Step: empty.Size{1 * mm, 1 * mm, 1 * mm},
	}
	answer, err := empty.Best(context.Background(), problem, empty.Effort{})
	if err != nil {
		panic(err)
	}
	at, slack := problem.Place(answer.Room)
	stops := problem.Stops(answer.Room)
	fmt.Println(answer.Size, answer.Proved)
	fmt.Println(at, slack)
	fmt.Println("left", stops[0], "right", stops[1], "below", stops[2], "above", stops[3], "front", stops[5])
	// Output:
	// [233000 173000 103000] true
	// x 66600..299600, y 0..173000, z 0..103000 um [400 400 0]
	// left [0] right [] below [] above [2] front [1]
}
