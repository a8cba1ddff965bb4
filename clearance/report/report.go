// Package report words a clearance.Report: as text for a terminal and as JSON.
// It is the only place that makes sentences for people, and the only one that
// rounds.
//
// In the text every figure is rounded to the safe side: a clearance, a bend
// radius, a capacity and a share of certainty down, a gap, an uncertainty, an
// outside size and a mass up. A position is rounded to the nearest. Names come
// from files that people typed; see Clean.
//
// In the JSON nothing is rounded and every length is in mm. What is not known
// is null, never a number that stands for it. What the job asks for and nobody
// checked stands among the clearances as an unproven line of which only part,
// feature, when, verdict and because are given: for a motion that could not be
// checked the feature is what moves and when its name; for files the feature says
// what it is.
// way_in is null unless the job asks for one. A line in a motion has at_deg where it
// turns, and at_deg null with at_mm where it slides; with lists where the motions that it goes with
// stand then. motions says of each motion which mark it takes farthest, and which way.
package report

import (
	"io"

	"elbowroom/clearance"
	"elbowroom/survey/length"
)

// Options is how a text is laid out. The zero Options is ready to use.
type Options struct {
	// Style says how inches print; the unit is always the report's own.
	Style length.Style
	// Explain adds where the gaps come from, what makes up the uncertainty of
	// the lines that decide, and what the words mean.
	Explain bool
	// Width is how many columns a line may take [80], at least 60.
	Width int
	// Up is the axis of the mounting frame that is up when the machine stands
	// level, as in "+z" [+y].
	Up string
	// Bold makes the verdict's word stand out, for a terminal only.
	Bold bool
}

// Text writes the report for people: a first screen of at most 12 lines with
// the verdict, why, what to do and what was not checked, then everything, worst
// first. The error is that of w.
func Text(w io.Writer, r *clearance.Report, o Options) error {
	p := newPage(withoutRepeats(r), o)
	p.firstScreen()
	p.everything()
	if o.Explain {
		p.explain()
	}
	_, err := io.WriteString(w, p.text())
	return err
}
