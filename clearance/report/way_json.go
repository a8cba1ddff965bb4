package report

import (
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/clearance"
)

type wayInKeys struct {
	Found     bool       `json:"found"`
	Least     *number    `json:"least_clearance_mm"`
	U         *number    `json:"u_mm"`
	Part      *string    `json:"part"`
	Feature   *string    `json:"feature"`
	At        []number   `json:"at"` // where the box then is, as a step
	OnPart    *place     `json:"on_part"`
	OnFeature *place     `json:"on_feature"`
	Marks     []string   `json:"marks"`
	Steps     [][]number `json:"steps"`
	Unseen    []string   `json:"not_looked_at"`
	Hidden    *number    `json:"hidden_mm"`
	HiddenAt  *place     `json:"hidden_at"`
	Outside   bool       `json:"starts_outside"`
	Aside     []string   `json:"aside"`
	Verdict   string     `json:"verdict"`
	Because   *string    `json:"because"`
	Stuck     *stuckKeys `json:"stuck"`
}

type stuckKeys struct {
	At        []number `json:"at"`
	Left      number   `json:"to_go_mm"`
	Toward    *place   `json:"toward"`
	Part      string   `json:"part"`
	Feature   string   `json:"feature"`
	Clearance *number  `json:"clearance_mm"`
	Needs     *number  `json:"needs_mm"`
}

// wayInJSON is nil unless the job asks for a way in.
func wayInJSON(w *clearance.WayIn) *wayInKeys {
	if w == nil {
		return nil
	}
	keys := &wayInKeys{Found: w.Found, Steps: [][]number{}, Marks: []string{}, Unseen: []string{}, Outside: w.Outside, Aside: notNil(w.Aside), Verdict: w.Verdict.String(), Because: because(w.Because)}
	for _, s := range w.Steps {
		keys.Steps = append(keys.Steps, stepJSON(s.Shift, s.Turn))
	}
	if w.Found && w.Part != "" {
		keys.Least, keys.U, keys.Part, keys.Feature = known(w.Least, true), known(w.U, true), &w.Part, &w.Feature
		keys.At, keys.OnPart, keys.OnFeature = stepJSON(w.At.Shift, w.At.Turn), placeOf(w.OnPart), placeOf(w.OnFeature)
		keys.Marks = append(keys.Marks, w.Marks...)
	}
	for _, side := range w.Unseen {
		keys.Unseen = append(keys.Unseen, side.String())
	}
	if w.Found && w.HiddenOK {
		keys.Hidden, keys.HiddenAt = known(w.Hidden, true), placeOf(w.HiddenAt)
	}
	if !w.Found {
		s := w.Stuck
		keys.Stuck = &stuckKeys{At: stepJSON(s.At.Shift, s.At.Turn), Left: number(s.Left), Toward: placeOf(s.Toward),
			Part: s.Part, Feature: s.Thing, Clearance: known(s.Clearance, s.Thing != ""), Needs: known(s.Needs, s.Thing != "")}
	}
	return keys
}

// stepJSON is an offset from home, mm, with the turn behind it where there is one: axis
// times angle, degrees. A job can take it as it is, so that what is nothing but rounding
// is none: with an exponent it could not be read.
func stepJSON(shift, turn r3.Vector) []number {
	t := turn.Mul(180 / math.Pi)
	out := []number{number(shift.X), number(shift.Y), number(shift.Z), number(t.X), number(t.Y), number(t.Z)}
	for i, v := range out {
		if math.Abs(float64(v)) <= onLimit {
			out[i] = 0
		}
	}
	if out[3] == 0 && out[4] == 0 && out[5] == 0 {
		return out[:3]
	}
	return out
}
