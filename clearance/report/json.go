package report

import (
	"io"
	"strings"

	"github.com/golang/geo/r3"

	"elbowroom/clearance"
	"elbowroom/survey"
)

// schema is the version of the layout below; it goes up when a key changes its
// meaning or goes.
const schema = 1

// JSON writes the report for programs: each key on its own line, each entry of
// a list on its own line, in a fixed order. Lengths are mm in the mounting
// frame whatever the job's unit, nothing is rounded, what is not known is null.
// The error is that of w.
func JSON(w io.Writer, r *clearance.Report) error {
	fields := []field{
		{"schema", schema},
		{"title", r.Title},
		{"units", r.Unit.String()},
		{"verdict", r.Verdict.String()},
		{"because", reasons(r.Because)},
		{"sure", number(r.Sure)},
		{"sure_is", r.SureIs},
		{"box", boxJSON(r.Box)},
		{"clearances", rowsOf(clearancesJSON(r))},
		{"motions", rowsOf(motionsJSON(r.Travels))},
		{"on_purpose", rowsOf(onPurposeJSON(r.OnPurpose))},
		{"hoses", rowsOf(hosesJSON(r.Hoses))},
		{"sides", rowsOf(sidesJSON(r.Sides))},
		{"way_in", wayInJSON(r.WayIn)},
		{"levels", levelsJSON(r.Levels)},
		{"measure_next", rowsOf(measuresJSON(r.MeasureNext))},
		{"doubts", rowsOf(doubtsJSON(r.Doubts))},
		{"cautions", rowsOf(Cautions(r.Cautions))},
	}
	if len(r.Rooms) > 0 {
		fields = append(fields, field{"rooms", rowsOf(roomsJSON(r.Rooms))})
	}
	text, err := object(fields)
	if err != nil {
		return err
	}
	_, err = io.WriteString(w, text)
	return err
}

func reasons(list []clearance.Because) []string {
	out := []string{}
	for _, b := range list {
		out = append(out, b.String())
	}
	return out
}

type boxKeys struct {
	Width    *number `json:"width_mm"`
	Height   *number `json:"height_mm"`
	Depth    *number `json:"depth_mm"`
	Capacity *number `json:"capacity_l"`
	Dry      *number `json:"dry_kg"`
	Full     *number `json:"full_kg"`
}

func boxJSON(b clearance.Box) boxKeys {
	return boxKeys{
		Width: known(b.Size.Width, true), Height: known(b.Size.Height, true), Depth: known(b.Size.Depth, true),
		Capacity: known(b.Capacity, b.Known), Dry: known(b.DryKg, b.Known), Full: known(b.FullKg, b.Known && b.Filled),
	}
}

type lineKeys struct {
	Part      string     `json:"part"`
	Feature   string     `json:"feature"`
	When      string     `json:"when"`
	At        *number    `json:"at_deg"`
	AtMM      *number    `json:"at_mm,omitempty"` // of a slide
	With      []withKeys `json:"with,omitempty"`
	Clearance *number    `json:"clearance_mm"`
	U         *number    `json:"u_mm"`
	Gap       *number    `json:"gap_mm"`
	Sure      *number    `json:"sure"`
	Verdict   string     `json:"verdict"`
	Because   *string    `json:"because"`
	OnPart    *place     `json:"on_part"`
	OnFeature *place     `json:"on_feature"`
	Marks     []string   `json:"marks"`
	Swings    *swingKeys `json:"swings,omitempty"` // of a hose that a motion takes along
}

func clearancesJSON(r *clearance.Report) []lineKeys {
	out := linesJSON(r.Lines)
	for _, u := range r.Unchecked {
		out = append(out, uncheckedJSON(u))
	}
	return out
}

func linesJSON(lines []clearance.Line) []lineKeys {
	out := []lineKeys{}
	for _, l := range lines {
		line := lineKeys{
			Part: l.Part, Feature: l.Feature, When: l.When,
			Clearance: known(l.Clearance, true), U: known(l.U, true), Gap: known(l.Gap, true), Sure: known(l.Sure, true),
			Verdict: l.Verdict.String(), Because: because(l.Because),
			OnPart: placeOf(l.OnPart), OnFeature: placeOf(l.OnFeature), Marks: notNil(l.Marks), Swings: swingsJSON(l.Swings),
		}
		line.stands(l.At)
		out = append(out, line)
	}
	return out
}

// uncheckedJSON is the line of something that nobody checked.
func uncheckedJSON(u clearance.Unchecked) lineKeys {
	line := lineKeys{Part: u.Part, Feature: u.What, When: "at rest", Because: because(clearance.NotChecked), Marks: []string{}}
	line.Verdict = clearance.Unproven.String()
	if line.Part == "" {
		line.Part = "body"
	}
	switch u.Kind {
	case clearance.UncheckedMotion:
		line.When = u.What
		if len(u.Moves) > 0 {
			line.Feature = strings.Join(u.Moves, ", ")
		}
	case clearance.UncheckedMark:
		line.Marks = []string{u.Mark}
	}
	return line
}

type contactKeys struct {
	Part    string `json:"part"`
	Feature string `json:"feature"`
}

func onPurposeJSON(list []clearance.Contact) []contactKeys {
	var out []contactKeys
	for _, c := range list {
		out = append(out, contactKeys(c))
	}
	return out
}

type hoseKeys struct {
	Name    string  `json:"name"`
	Length  *number `json:"length_mm"`
	Cut     *number `json:"cut_mm"`
	Least   *number `json:"least_bend_radius_mm"`
	Wanted  *number `json:"bend_radius_mm"`
	Verdict string  `json:"verdict"`
}

func hosesJSON(list []clearance.Hose) []hoseKeys {
	var out []hoseKeys
	for _, h := range list {
		out = append(out, hoseKeys{
			h.Name, known(h.Length, h.Checked && !h.Fights), known(h.Cut, h.Checked && !h.Fights),
			known(h.Least, h.Checked && h.Bent && !h.Fights), known(h.Wanted, true), h.Verdict.String(),
		})
	}
	return out
}

type sideKeys struct {
	Part     string  `json:"part"`
	Side     string  `json:"side"`
	Nearest  *number `json:"nearest_mm"`
	LookedAt bool    `json:"looked_at"`
	Cover    number  `json:"cover"`
	Hidden   *number `json:"hidden_mm"`
	Verdict  string  `json:"verdict"`
}

func sidesJSON(list []clearance.SideLine) []sideKeys {
	var out []sideKeys
	for _, s := range list {
		out = append(out, sideKeys{
			"body", s.Side.String(), known(s.Nearest, s.Found), s.LookedAt,
			number(s.Cover), known(s.Hidden, s.HiddenOK), s.Verdict.String(),
		})
	}
	return out
}

type doubtKeys struct {
	File     string  `json:"file"`
	Line     int     `json:"line"`
	Says     string  `json:"says"`
	Suggests *string `json:"suggests"`
}

func doubtsJSON(list []survey.Doubt) []doubtKeys {
	var out []doubtKeys
	for _, d := range list {
		keys := doubtKeys{File: d.Pos.File, Line: d.Pos.Line, Says: d.Says}
		if d.Suggests != "" {
			keys.Suggests = &d.Suggests
		}
		out = append(out, keys)
	}
	return out
}

func because(b clearance.Because) *string {
	if b == clearance.NoReason {
		return nil
	}
	s := b.String()
	return &s
}

func notNil(list []string) []string {
	if list == nil {
		return []string{}
	}
	return list
}

// place is a point in the mounting frame.
type place [3]number

func placeOf(v r3.Vector) *place { return &place{number(v.X), number(v.Y), number(v.Z)} }
