package report

import (
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/clearance"
)

type wayInKeys struct {
	Found   bool       `json:"found"`
	Least   *number    `json:"least_clearance_mm"`
	Part    *string    `json:"part"`
	Feature *string    `json:"feature"`
	Steps   [][]number `json:"steps"`
	Verdict string     `json:"verdict"`
	Because *string    `json:"because"`
	Stuck   *stuckKeys `json:"stuck"`
}

type stuckKeys struct {
	At        []number `json:"at"`
	Left      number   `json:"to_go_mm"`
	Toward    *place   `json:"toward"`
	Part      string   `json:"part"`
	Feature   string   `json:"feature"`
	Clearance *number  `json:"clearance_mm"`
}

// wayInJSON is nil unless the job asks for a way in.
func wayInJSON(w *clearance.WayIn) *wayInKeys {
	if w == nil {
		return nil
	}
	keys := &wayInKeys{Found: w.Found, Steps: [][]number{}, Verdict: w.Verdict.String(), Because: because(w.Because)}
	for _, s := range w.Steps {
		keys.Steps = append(keys.Steps, stepJSON(s.Shift, s.Turn))
	}
	if w.Found && w.Part != "" {
		keys.Least, keys.Part, keys.Feature = known(w.Least, true), &w.Part, &w.Feature
	}
	if !w.Found {
		s := w.Stuck
		keys.Stuck = &stuckKeys{At: stepJSON(s.At.Shift, s.At.Turn), Left: number(s.Left), Toward: placeOf(s.Toward),
			Part: s.Part, Feature: s.Thing, Clearance: known(s.Clearance, s.Thing != "")}
	}
	return keys
}

// stepJSON is an offset from home, mm, with the turn behind it where there is one: axis
// times angle, degrees.
func stepJSON(shift, turn r3.Vector) []number {
	out := []number{number(shift.X), number(shift.Y), number(shift.Z)}
	if turn != (r3.Vector{}) {
		t := turn.Mul(180 / math.Pi)
		out = append(out, number(t.X), number(t.Y), number(t.Z))
	}
	return out
}
