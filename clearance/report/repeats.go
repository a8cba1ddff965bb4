package report

import (
	"math"

	"elbowroom/clearance"
)

// withoutRepeats leaves out the lines of a motion that are least where they were
// measured: the line at rest says the same. The JSON has them all.
func withoutRepeats(r *clearance.Report) *clearance.Report {
	type key struct{ part, feature string }
	rest := map[key]clearance.Line{}
	for _, l := range r.Lines {
		if l.When == "at rest" {
			rest[key{l.Part, l.Feature}] = l
		}
	}
	out := *r
	out.Lines = nil
	for _, l := range r.Lines {
		if still, ok := rest[key{l.Part, l.Feature}]; !ok || !repeats(l, still) {
			out.Lines = append(out.Lines, l)
		}
	}
	return &out
}

// repeats says whether a line of a motion is that at rest.
func repeats(l, rest clearance.Line) bool {
	for _, at := range l.At {
		if at.At != 0 {
			return false
		}
	}
	return len(l.At) > 0 && l.Verdict == rest.Verdict && l.Gap == rest.Gap && math.Abs(l.Clearance-rest.Clearance) <= onLimit
}
