package report

import (
	"strings"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"

	"elbowroom/clearance"
	"elbowroom/survey/length"
)

// Readings for marks say what is wrong with the mark, and which lines hang on it.
func TestReadingsForMarksInWords(t *testing.T) {
	stud := clearance.Pair{Part: "body", Feature: "stud"}
	tape := [][2]string{{"F", "S"}}
	depth := clearance.Depth{Mark: "T2", From: "A", To: "C", Toward: r3.Vector{Z: 1}, Along: 101.6, Probe: 20}
	for _, c := range []struct {
		m          clearance.Measure
		text, json string
	}{
		{clearance.Measure{Kind: clearance.NewTape, Tapes: tape, Within: 25.4 / 16, Mark: "S", U: 25.4 / 16, Left: 25.4 / 64, For: []clearance.Pair{stud}},
			"pull the tape from F to S, to 1/16 in: S is known to give or take 1/8 in at worst, and 1/32 in with it; body against stud hangs on it.",
			"S is known to give or take 3.2 mm at worst, and 0.8 mm with it; hanging on it: body against stud"},
		{clearance.Measure{Kind: clearance.NewTape, Tapes: tape, Within: 25.4 / 16, Mark: "S", Unchecked: true, For: []clearance.Pair{stud, {Part: "cap", Feature: "stud"}}},
			"pull the tape from F to S, to 1/16 in: nothing checks all that places S; body against stud and cap against stud hang on it.",
			"nothing checks all that places S; hanging on it: body against stud; cap against stud"},
		{clearance.Measure{Kind: clearance.NewTape, Tapes: tape, Within: 25.4 / 16, Mark: "S", Unchecked: true, U: 25.4 / 16, Left: 25.4 / 64, For: []clearance.Pair{stud}},
			"pull the tape from F to S, to 1/16 in: nothing checks all that places it, and S is known to give or take 1/8 in at worst, and 1/32 in with it; body against stud hangs on it.",
			"nothing checks all that places it, and S is known to give or take 3.2 mm at worst, and 0.8 mm with it; hanging on it: body against stud"},
		{clearance.Measure{Kind: clearance.NewDepth, Depth: depth, Within: 25.4 / 32, Mark: "T2", U: 25.4 / 8, Left: 25.4 / 64, For: []clearance.Pair{stud}},
			"lay the straightedge across A and C and read the rule square to it, toward +z, about 4 in from A, to T2, to 1/32 in: T2 is known to give or take 1/4 in at worst, and 1/32 in with it; body against stud hangs on it.",
			"T2 is known to give or take 6.3 mm at worst, and 0.8 mm with it; hanging on it: body against stud"},
		{clearance.Measure{Kind: clearance.TakeOnceMore, Marks: []string{"A", "B"}, Within: 25.4 / 16, Mark: "A", Unchecked: true, For: []clearance.Pair{stud}},
			"take A and B once more, to 1/16 in: nothing checks all that places A and B; body against stud hangs on them.",
			"nothing checks all that places A and B; hanging on it: body against stud"},
	} {
		p := newPage(&clearance.Report{Unit: length.Inch, MeasureNext: []clearance.Measure{c.m}}, Options{})
		p.measureNext()
		assert.Equal(t, c.text, strings.Join(strings.Fields(strings.Join(p.lines[2:], " ")), " "))
		assert.Equal(t, c.json, measuresJSON([]clearance.Measure{c.m})[0].Why)
		// It settles no line: nothing points at it as the remedy.
		_, shared := p.remedy(clearance.Line{Part: "body", Feature: "stud"})
		assert.False(t, shared)
	}
}
