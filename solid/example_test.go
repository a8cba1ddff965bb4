package solid_test

import (
	"fmt"

	"elbowroom/solid"
)

// A tank of 0.080 in sheet with a filler on top: what parts has it, where does a
// hose leave it, and what does it hold and weigh?
func ExampleBuild() {
	tank := solid.Tank{
		Size:  solid.Size{Width: 215.9, Height: 127, Depth: 95.25},
		Sheet: 2.032, InsideRadius: 3.175, Alloy: "5052-H32", Holds: solid.Coolant,
		Fittings: []solid.Fitting{{
			Name: "fill", Side: solid.Top,
			At:    solid.Spot{{From: solid.Left, By: 76.2}, {From: solid.Back, By: 47.6}},
			Stack: []solid.Element{{Name: "neck", Diameter: 44, Length: 25}, {Name: "cap", Diameter: 57, Length: 19}},
		}},
	}
	assembly, err := solid.Build(tank)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range assembly.Parts {
		fmt.Println(p.Name)
	}
	end, h := assembly.Ports[0].At, assembly.Holding
	fmt.Printf("fill ends at %.1f, %.1f, %.1f mm\n", end.X, end.Y, end.Z)
	fmt.Printf("%.2f l, %.2f kg dry, %.2f kg full\n", h.CapacityL, h.DryKg, h.FullKg)
	// Output:
	// body
	// fill neck
	// fill cap
	// fill ends at 76.2, 171.0, 47.6 mm
	// 2.37 l, 0.63 kg dry, 3.19 kg full
}
