package report

import (
	"fmt"

	"github.com/golang/geo/r3"

	"elbowroom/clearance"
)

// lay words a depth to take. place words a length.
func lay(d clearance.Depth, place func(mm float64) string) string {
	at := place(d.Along) + " from "
	if d.Along < 0 {
		at = place(-d.Along) + " beyond "
	}
	return "lay the straightedge across " + name(d.From) + " and " + name(d.To) + " and read the rule square to it, toward " + alongAxis(d.Toward) +
		", about " + at + name(d.From) + ", to " + name(d.Mark)
}

// inMM words a length for programs.
func inMM(mm float64) string { return fmt.Sprintf("%.0f mm", mm) }

// alongAxis words a direction along an axis as a depth file has it.
func alongAxis(v r3.Vector) string {
	for i, by := range [3]float64{v.X, v.Y, v.Z} {
		switch name := string("xyz"[i]); {
		case by > 0:
			return "+" + name
		case by < 0:
			return "-" + name
		}
	}
	return ""
}

// would words a reading for a mark, and what it would do.
func (p *surveyPage) would(m clearance.Measure, do string) string {
	if m.Kind == clearance.NewDepth {
		return lay(m.Depth, func(mm float64) string { return p.place(mm) + p.unit() }) + ", to " + p.limit(m.Within) + ": that would " + do + ", if both can lie there and the rule meets it square."
	}
	return "a tape from " + name(m.Tapes[0][0]) + " would " + do + ", if it can lie straight there."
}
