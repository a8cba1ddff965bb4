package shape_test

import (
	"fmt"

	"github.com/golang/geo/r3"

	"elbowroom/solid/shape"
)

// A fuel line of 4 mm radius past a box: how near, and where.
func ExampleDistance() {
	box := shape.Box{Edges: [3]r3.Vector{{X: 216}, {Y: 127}, {Z: 95}}}
	line := shape.Hull{Points: []r3.Vector{{X: 220, Y: 150, Z: 50}, {X: 260, Y: 110, Z: 50}}, Grow: 4}
	n := shape.Distance(box, line)
	fmt.Printf("%.3f mm, at x %.1f y %.1f z %.1f on the box\n", n.Signed, n.OnA.X, n.OnA.Y, n.OnA.Z)
	fmt.Printf("%.0f %% of the witness is the line's first mark\n", 100*n.MixB.By[0])

	lower := shape.Hull{Points: []r3.Vector{{X: 210, Y: 20, Z: 50}}, Grow: 4}
	fmt.Printf("%.0f mm\n", shape.Distance(box, lower).Signed)
	// Output:
	// 15.092 mm, at x 216.0 y 127.0 z 50.0 on the box
	// 76 % of the witness is the line's first mark
	// -10 mm
}

// A hose of 13.5 mm radius round a bend, past a mark.
func ExampleDistanceArc() {
	bend := shape.Arc{From: r3.Vector{X: 80}, Corner: r3.Vector{X: 80, Y: 80}, To: r3.Vector{Y: 80}}
	mark := shape.Hull{Points: []r3.Vector{{X: 80, Y: 80}}}
	n := shape.DistanceArc(bend, 13.5, mark)
	fmt.Printf("%.2f mm, %.0f %% of the way round\n", n.Signed, 100*n.Along)
	// Output: 19.64 mm, 50 % of the way round
}
