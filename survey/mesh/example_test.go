package mesh_test

import (
	"fmt"

	"elbowroom/survey/mesh"

	"github.com/golang/geo/r3"
)

// Five marks on a pressed panel, the middle one 12 mm proud.
func ExampleSkin() {
	marks := []r3.Vector{{}, {X: 200}, {X: 200, Y: 150}, {Y: 150}, {X: 90, Y: 80, Z: 12}}
	skin, err := mesh.Skin(marks, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(skin.Triangles, "doubtful:", skin.Doubtful())
	// Output: [[0 1 4] [0 4 3] [1 2 4] [2 3 4]] doubtful: false
}
