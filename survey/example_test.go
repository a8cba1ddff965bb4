package survey_test

import (
	"fmt"

	"elbowroom/survey"
	"elbowroom/survey/length"
)

func ExampleAdjust() {
	readings, err := survey.Read(survey.File{
		Name:   "points.csv",
		Data:   []byte("feature,mark,x,y,z,within\nlip,L1,2 1/16,6 15/16,3/4,1/16\nlip,L1,2,7,3/4,1/16\nlip,L2,9 3/8,6 7/8,3/4,1/16\n"),
		Unit:   length.Inch,
		Within: length.Limit{Plus: 1.5875, Minus: 1.5875},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	readings.Features = []survey.FeatureSpec{{Name: "lip", Shape: survey.Edge}}
	space, err := survey.Adjust(readings)
	if err != nil {
		fmt.Println(err)
		return
	}
	mark := space.Marks[0]
	fmt.Printf("%s from %d readings at x %.2f mm, standard uncertainty %.2f mm\n", mark.Name, len(mark.Rows), mark.At.X, space.Uncertainty(0))
	// Output:
	// L1 from 2 readings at x 51.59 mm, standard uncertainty 0.65 mm
}
