package table_test

import (
	"fmt"

	"elbowroom/survey/table"
)

func ExampleParse() {
	points, problems := table.Parse("points.csv", []byte(`# Saturday, by tape
feature,mark,x,y,note
wall,W1,7 1/4",2,rust, look again
lip,"L1,3,4
lip,L2,3,5
`))
	x, _ := points.Column("x")
	for _, row := range points.Rows {
		fmt.Println(row.Cell(x).Pos, row.Cell(x).Text)
	}
	fmt.Println(problems)
	// Output:
	// points.csv:3:9 7 1/4"
	// points.csv:5:8 3
	// points.csv:4:5: this quote is not closed on its line; close it on its line, or leave the quotes out; inside quotes an inch mark is written twice
}
