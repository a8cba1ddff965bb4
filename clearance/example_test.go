package clearance_test

import (
	"context"
	"fmt"

	"elbowroom/clearance"
	"elbowroom/solid"
	"elbowroom/survey"
	"elbowroom/survey/length"
)

// A cube of 100 mm at the datum, and a stud that was measured to a millimetre,
// twice, 12 mm to the right of it.
func ExampleCheck() {
	readings, err := survey.Read(survey.File{
		Name:   "points.csv",
		Data:   []byte("feature,mark,x,y,z\nstud,S1,112,50,50\nstud,S1,112,50,50\n"),
		Within: length.Limit{Plus: 1, Minus: 1},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	readings.Features = []survey.FeatureSpec{{Name: "stud", Shape: survey.Dots}}
	space, err := survey.Adjust(readings)
	if err != nil {
		fmt.Println(err)
		return
	}
	assembly, err := solid.Build(solid.Tank{Size: solid.Size{Width: 100, Height: 100, Depth: 100}, Within: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	report, err := clearance.Check(context.Background(), space, assembly, clearance.Rules{})
	if err != nil {
		fmt.Println(err)
		return
	}
	line := report.Lines[0]
	fmt.Printf("%s to %s: %.0f mm, give or take %.1f, wants %.0f: %s\n", line.Part, line.Feature, line.Clearance, 2*line.U, line.Gap, line.Verdict)
	fmt.Println("the job:", report.Verdict, report.Because)
	// Output:
	// body to stud: 12 mm, give or take 1.4, wants 6: clears
	// the job: unproven [unmeasured]
}
