package report_test

import (
	"bytes"
	"fmt"
	"strings"

	"elbowroom/clearance"
	"elbowroom/clearance/report"
	"elbowroom/survey/length"
)

// The first screen of a report ends at its first empty line.
func Example() {
	r := &clearance.Report{
		Unit: length.Inch, Verdict: clearance.Tight, Sure: 0.001, SureIs: "at most", Wanted: 0.975,
		Lines: []clearance.Line{{
			Part: "body", Feature: "beam", When: "at rest",
			Clearance: 3.2, U: 0.75, Gap: 6, Sure: 0.001, NotTouching: 1, Verdict: clearance.Tight,
		}},
	}
	var b bytes.Buffer
	if err := report.Text(&b, r, report.Options{}); err != nil {
		fmt.Println(err)
	}
	first, _, _ := strings.Cut(b.String(), "\n\n")
	fmt.Println(first)
	// Output:
	// tight - do not cut as drawn
	// It surely keeps less than the gap asked for in 1 place.
	//   1  body to beam: 1/8 clear, give or take 1/16, wants 1/4 in: it needs about
	//      3/16 in more room
	// All together at most 0.1 % (wanted 97.5 %).
	// Not checked: strength, pressure, heat.
}
