package report

import (
	"io"
	"math"

	"elbowroom/clearance"
)

// HoseJSON writes the hoses of those names in detail for programs, as JSON does the
// report: lengths in mm in the mounting frame, nothing rounded, null where nothing is
// known. The error is that of w.
func HoseJSON(w io.Writer, r *clearance.Report, names []string) error {
	var list []hoseDetail
	for _, h := range chosenHoses(r, names) {
		list = append(list, detailJSON(r, h))
	}
	text, err := object([]field{
		{"schema", schema}, {"title", r.Title}, {"units", r.Unit.String()}, {"hoses", rowsOf(list)},
	})
	if err != nil {
		return err
	}
	_, err = io.WriteString(w, text)
	return err
}

type hoseDetail struct {
	hoseKeys
	Because    *string    `json:"because"`
	From       string     `json:"from"`
	To         string     `json:"to"`
	RadiusTo   string     `json:"bend_radius_to"`
	Inside     *number    `json:"least_inside_mm"`
	Centre     *number    `json:"least_centre_mm"`
	Found      bool       `json:"found"`
	Short      *number    `json:"short_by_mm"`
	ShortAt    *string    `json:"short_at"`
	Bends      []formKeys `json:"bends"`
	Tail       *number    `json:"last_straight_mm"`
	Elbow      *elbowKeys `json:"elbow"`
	Free       []freeKeys `json:"by_itself"`
	Easy       *number    `json:"easy_cut_mm"`
	Motions    []moveKeys `json:"motions"`
	Clearances []lineKeys `json:"clearances"`
	Line       []place    `json:"centre_line_mm"`
}

type formKeys struct {
	Straight number `json:"straight_before_mm"`
	Start    number `json:"starts_mm"`
	Angle    number `json:"angle_deg"`
	Inside   number `json:"inside_radius_mm"`
	Centre   number `json:"centre_radius_mm"`
	Toward   *place `json:"toward"`
	Roll     number `json:"clockwise_deg"`
}

type elbowKeys struct {
	Angle number `json:"angle_deg"`
	Off   number `json:"off_deg"`
	Miss  number `json:"aside_mm"`
	In    number `json:"to_corner_mm"`
	Out   number `json:"from_corner_mm"`
	Most  number `json:"centre_radius_at_most_mm"`
}

type freeKeys struct {
	Inside number  `json:"least_inside_mm"`
	Centre number  `json:"least_centre_mm"`
	Margin *number `json:"over_gap_mm"`
	Near   *string `json:"nearest"`
}

type moveKeys struct {
	Motion string  `json:"motion"`
	Least  *number `json:"needs_at_least_mm"`
	Most   *number `json:"needs_at_most_mm"`
	Has    number  `json:"has_mm"`
	Short  *number `json:"give_mm"`
	Lost   bool    `json:"no_run"`
	Free   *number `json:"by_itself_centre_mm"`
	Kept   *number `json:"kept_centre_mm"`
}

func detailJSON(r *clearance.Report, h clearance.Hose) hoseDetail {
	run := h.Checked && !h.Fights
	d := hoseDetail{
		hoseKeys: hosesJSON([]clearance.Hose{h})[0], Because: because(h.Because), From: h.From, To: h.To,
		RadiusTo: chosen(h.ToCentre, "centre", "inside"),
		Inside:   known(h.LeastCentre-h.Outside/2, run && h.Bent), Centre: known(h.LeastCentre, run && h.Bent),
		Found: h.Led && run, Short: known(h.Short, h.Crowded), Tail: known(h.Tail, run), Easy: known(h.Easy, h.Easy > 0),
		Bends: []formKeys{}, Free: []freeKeys{}, Motions: []moveKeys{}, Line: []place{},
	}
	if h.Crowded {
		d.ShortAt = &h.Pinch
	}
	for _, f := range h.Forms {
		d.Bends = append(d.Bends, formKeys{
			number(f.Straight), number(f.Start), inDegrees(f.Turn), number(f.Radius - h.Outside/2), number(f.Radius), placeOf(f.Side), inDegrees(f.Roll),
		})
	}
	if e := h.Elbow; h.HasElbow {
		d.Elbow = &elbowKeys{inDegrees(e.Angle), inDegrees(e.Off), number(e.Miss), number(e.In), number(e.Out), number(e.Radius)}
	}
	for _, f := range h.Free {
		keys := freeKeys{number(f.Radius - h.Outside/2), number(f.Radius), known(f.Margin, f.Near != ""), nil}
		if f.Near != "" {
			near := f.Near
			keys.Near = &near
		}
		d.Free = append(d.Free, keys)
	}
	for _, m := range h.Moves {
		d.Motions = append(d.Motions, moveKeys{m.Motion, known(m.NeedsAtLeast, !m.Lost), known(m.NeedsAtMost, !m.Lost), number(m.Has), known(m.Short(), !m.Lost), m.Lost, known(m.Free, m.Free > 0), known(m.Kept, m.Kept > 0)})
	}
	d.Clearances = linesJSON(linesOf(r, h.Name))
	for _, p := range h.Centre {
		d.Line = append(d.Line, *placeOf(p))
	}
	return d
}

func inDegrees(rad float64) number { return number(rad * 180 / math.Pi) }
