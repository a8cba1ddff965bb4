package length_test

import (
	"fmt"

	"elbowroom/survey/length"
)

func ExampleParse() {
	mm, err := length.Parse("7-1/4", length.Inch, false)
	fmt.Println(mm, err)
	_, err = length.Parse("71/4", length.Inch, false)
	fmt.Println(err)
	// Output:
	// 184.15 <nil>
	// "71/4" can be read in more than one way; write 7 1/4 or 17 3/4
}

func ExampleStyle_Print() {
	inches := length.Style{Unit: length.Inch}
	fmt.Println(inches.Print(length.Free(8)), inches.Print(length.Needed(8)))
	fmt.Println(length.Style{}.Print(length.Free(8)))
	// Output:
	// 5/16 in 11/32 in
	// 8.0 mm
}
