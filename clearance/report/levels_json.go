package report

import (
	"math"

	"github.com/golang/geo/s1"

	"elbowroom/clearance"
	"elbowroom/solid"
)

type roomKeys struct {
	Part    string     `json:"part"`
	Kind    string     `json:"kind"`
	Any     bool       `json:"any_clock"`
	Clock   number     `json:"clock_deg"`
	Sweep   number     `json:"sweep_deg"`
	Free    [][]number `json:"free_deg"`
	Sure    [][]number `json:"sure_deg"`
	Nowhere bool       `json:"nowhere"`
	Sizes   []string   `json:"sizes_from"`
}

func kindName(k solid.KeepOpenKind) string {
	return map[solid.KeepOpenKind]string{
		solid.PlainRoom: "cylinder", solid.Driver: "driver", solid.Spanner: "spanner", solid.BoxRoom: "box", solid.CapRoom: "cap",
	}[k]
}

func roomsJSON(list []clearance.Room) []roomKeys {
	var out []roomKeys
	for _, r := range list {
		out = append(out, roomKeys{
			r.Part, kindName(r.Kind), r.Any, degreesOf(r.Clock), degreesOf(r.Sweep), arcsJSON(r.Free), arcsJSON(r.Sure), r.Nowhere, notNil(r.Origins),
		})
	}
	return out
}

func degreesOf(a s1.Angle) number { return number(a.Degrees()) }

func arcsJSON(list []clearance.Arc) [][]number {
	out := [][]number{}
	for _, a := range list {
		out = append(out, []number{degreesOf(a.From), degreesOf(a.To)})
	}
	return out
}

type levelKeys struct {
	Litres *number     `json:"litres"`
	Cold   *number     `json:"cold_share"`
	Pitch  number      `json:"pitch_deg"`
	Roll   number      `json:"roll_deg"`
	To     string      `json:"pitch_toward"` // and away from it
	Across string      `json:"roll_toward"`
	Fill   fillKeys    `json:"fill"`
	Outlet *outletKeys `json:"outlet"`
	Head   *headKeys   `json:"head_room"`
}

type fillKeys struct {
	Fitting *string       `json:"fitting"`
	Vents   []string      `json:"vents"`
	Highest *bool         `json:"highest"`
	Over    *number       `json:"inside_over_mm"`
	Air     *number       `json:"air_share"`
	Leaned  *number       `json:"air_share_leaned_at_most"`
	At      *place        `json:"air_at"`
	Lean    []leaningKeys `json:"leaned"`
	Spare   *number       `json:"over_cold_level_mm"`
	U       *number       `json:"u_mm"`
	Sure    *number       `json:"sure"`
	Verdict string        `json:"verdict"`
	Because *string       `json:"because"`
}

type outletKeys struct {
	Fitting  string        `json:"fitting"`
	Lowest   bool          `json:"lowest"`
	Over     number        `json:"over_bottom_mm"`
	Left     number        `json:"left_share"`
	Leaned   number        `json:"left_share_leaned_at_most"`
	Depth    *number       `json:"under_cold_level_mm"`
	Least    *number       `json:"under_cold_level_leaned_at_least_mm"`
	Lean     []leaningKeys `json:"leaned"`
	U        *number       `json:"u_mm"`
	Uncovers []leaningKeys `json:"uncovered_at"`
	Sure     *number       `json:"sure"`
	Verdict  *string       `json:"verdict"`
	Because  *string       `json:"because"`
}

// leaningKeys is a lean toward a side; no angle is never, up to 90 degrees.
type leaningKeys struct {
	Toward string  `json:"toward"`
	Angle  *number `json:"deg"`
}

type headKeys struct {
	Share     number  `json:"share"`
	Litres    *number `json:"litres"`
	Expansion number  `json:"expansion_share"`
	Cold      number  `json:"cold_c"`
	Hot       number  `json:"hot_c"`
	Source    string  `json:"densities"`
	Takes     *number `json:"enough_for_l"`
	System    *number `json:"system_l"`
	Sure      *number `json:"sure"`
	Verdict   *string `json:"verdict"`
	Because   *string `json:"because"`
}

// levelsJSON is an empty object where the job does not ask.
func levelsJSON(l clearance.Levels) any {
	if !l.Asked {
		return struct{}{}
	}
	return levelKeys{
		To: l.PitchTo.String(), Across: l.RollTo.String(),
		Litres: known(l.Litres, l.Litres > 0), Cold: known(l.Cold, l.Cold > 0), Pitch: degreesOf(l.Pitch), Roll: degreesOf(l.Roll),
		Fill: fillJSON(l.Fill, l.Cold > 0), Outlet: outletJSON(l.Outlet), Head: headJSON(l.Head),
	}
}

func fillJSON(f clearance.FillLevel, cold bool) fillKeys {
	out := fillKeys{Vents: notNil(f.Vents), Lean: []leaningKeys{}, Verdict: f.Verdict.String(), Because: because(f.Because)}
	if f.Fitting == "" {
		return out
	}
	out.Fitting, out.Highest = &f.Fitting, &f.Highest
	out.Over, out.Air, out.Leaned = known(f.Over, true), known(f.Air, true), known(f.Leaned, true)
	if f.AirOn != solid.NoSide || f.AirAt.Norm() > 0 {
		out.At = placeOf(f.AirAt)
	}
	out.Lean = leaningsJSON(f.ToPitch, f.ToRoll)
	out.Spare, out.U, out.Sure = known(f.Spare, cold), known(f.U, cold), known(f.Sure, true)
	return out
}

func outletJSON(o clearance.OutletLevel) *outletKeys {
	if o.Fitting == "" {
		return nil
	}
	out := &outletKeys{
		Fitting: o.Fitting, Lowest: o.Lowest, Over: number(o.Over), Left: number(o.Left), Leaned: number(o.LeftLeaned),
		Depth: known(o.Depth, o.Checked), Least: known(o.Least, o.Checked), U: known(o.U, o.Checked), Sure: known(o.Sure, o.Checked),
		Lean: []leaningKeys{}, Uncovers: leaningsJSON(o.Uncovers...),
	}
	if o.Checked {
		word := o.Verdict.String()
		out.Lean, out.Verdict, out.Because = leaningsJSON(o.ToPitch, o.ToRoll), &word, because(o.Because)
	}
	return out
}

func leaningsJSON(list ...clearance.Leaning) []leaningKeys {
	out := []leaningKeys{}
	for _, l := range list {
		out = append(out, leaningKeys{l.Side.String(), known(l.Angle.Degrees(), l.Angle >= 0)})
	}
	return out
}

func headJSON(h clearance.HeadRoom) *headKeys {
	if !h.Known {
		return nil
	}
	out := &headKeys{
		Share: number(h.Share), Litres: known(h.Litres, h.Litres > 0), Expansion: number(h.Expansion), Cold: number(h.Cold), Hot: number(h.Hot),
		Source: h.Source, Takes: known(h.Takes, h.Litres > 0 && !math.IsInf(h.Takes, 0)), System: known(h.System, h.System > 0), Sure: known(h.Sure, h.Asked),
	}
	if h.Asked {
		word := h.Verdict.String()
		out.Verdict, out.Because = &word, because(h.Because)
	}
	return out
}
