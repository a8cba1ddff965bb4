package report

import (
	"fmt"
	"math"
	"strings"

	"github.com/golang/geo/s1"

	"elbowroom/clearance"
	"elbowroom/solid"
)

// rooms says from where hands and tools can come.
func (p *page) rooms() {
	var entries []string
	clocks, noted := false, false
	for _, r := range p.r.Rooms {
		text, clock := p.room(r)
		clocks = clocks || clock
		noted = noted || len(r.Origins) > 0
		if text != "" {
			entries = append(entries, name(r.Part)+": "+text+".")
		}
	}
	if len(entries) == 0 && !noted {
		return
	}
	head := "Room for hands and tools; their lines stand above"
	if clocks {
		head += ". By the clock, looking at the fitting from outside: 12 is up the face, on top and bottom toward the back"
	}
	p.head(head)
	for _, e := range entries {
		p.entry(e)
	}
	p.usualSizes()
}

// usualSizes says where the sizes come from that the job leaves out, each once
// with the parts that take it.
func (p *page) usualSizes() {
	var notes []string
	who := map[string][]string{}
	for _, r := range p.r.Rooms {
		for _, note := range r.Origins {
			if _, ok := who[note]; !ok {
				notes = append(notes, note)
			}
			who[note] = append(who[note], name(r.Part))
		}
	}
	for _, note := range notes {
		p.entry("Not in the job, for " + list(who[note], mostNames) + ": " + Clean(note) + ".")
	}
}

// room says from where one can come; clock says whether it goes by the clock.
func (p *page) room(r clearance.Room) (text string, clock bool) {
	switch {
	case r.Any:
		return p.ways(r), true
	case r.Kind == solid.Spanner:
		return "its handle starts at " + hand(r.Clock, 1) + " and swings " + wholeDegrees(r.Sweep), true
	case r.Kind == solid.Driver:
		return "it comes in from " + hand(r.Clock, 1), true
	case r.Clock != 0:
		return "it stands at " + hand(r.Clock, 1), true
	}
	return "", false
}

// ways says at which clock angles a volume has room.
func (p *page) ways(r clearance.Room) string {
	what := map[solid.KeepOpenKind]string{solid.Driver: "it can come in from ", solid.Spanner: "its handle can swing "}[r.Kind]
	if r.Kind == solid.Spanner {
		what += wholeDegrees(r.Sweep) + " "
	}
	if what == "" {
		what = "it can stand "
	}
	place := " at " + hand(r.Clock, 1)
	if r.Kind == solid.Spanner {
		place = " with its handle started" + place
	}
	best := ", best" + place
	switch {
	case r.Nowhere:
		return "it has no room at any clock angle, least bad" + place
	case len(r.Sure) > 0:
		return what + arcs(r, r.Sure) + best
	case len(r.Free) > 0:
		return "as measured " + what + arcs(r, r.Free) + best + "; nowhere is sure enough"
	}
	return "as measured it has no room at any clock angle, least bad" + place
}

// arcs words ranges of clock angles. What swings takes its sweep with it.
func arcs(r clearance.Room, list []clearance.Arc) string {
	var texts []string
	for _, a := range list {
		if a.All() {
			return "anywhere all round"
		}
		to := a.To + r.Sweep
		if to-a.From >= 2*math.Pi {
			return "anywhere all round"
		}
		if from, to := hand(a.From, 2), hand(to, 0); to != from {
			texts = append(texts, "between "+from+" and "+to)
		}
	}
	if len(texts) == 0 { // less than five minutes wide
		return "only about " + hand(list[0].From+r.Sweep/2, 1)
	}
	return "anywhere " + strings.Join(texts, ", or ")
}

// hand is the time at which the hour hand stands at a clock angle, to five minutes:
// how is 0 for down, 1 for the nearest, 2 for up.
func hand(a s1.Angle, how int) string {
	const step = 2.5 // degrees: five minutes
	const rounding = 1e-6
	k := a.Degrees() / step
	switch how {
	case 0:
		k = math.Floor(k + rounding)
	case 1:
		k = math.Round(k)
	default:
		k = math.Ceil(k - rounding)
	}
	minutes := (int(k)*5%720 + 720) % 720
	hour := minutes / 60
	if hour == 0 {
		hour = 12
	}
	return fmt.Sprintf("%d:%02d", hour, minutes%60)
}
