package report

import (
	"fmt"
	"io"
	"math"
	"strings"

	"elbowroom/clearance"
	"elbowroom/clearance/largest"
	"elbowroom/solid"
)

// LargestText writes the largest box for people: first whether one was found of
// which check says that it clears, then that and the boxes that nothing measured
// contradicts, what stops each side, and the readings that would bring the two
// together. The error is that of w.
func LargestText(w io.Writer, a *largest.Answer, o Options) error {
	if len(a.Free) == 0 {
		_, err := io.WriteString(w, LargestHeadline(a)+"\nTry --bare, a smaller --min, or less gap; elbowroom check says what is in the way of a box.\n")
		return err
	}
	r := a.Free[0].Report
	if a.Proven != nil {
		r = a.Proven.Report
	}
	p := newPage(r, o)
	p.largest(a)
	_, err := io.WriteString(w, p.text())
	return err
}

// LargestHeadline is the first line of the text.
func LargestHeadline(a *largest.Answer) string {
	if len(a.Free) == 0 {
		return "none - no box with these fittings and limits was found that keeps its gaps"
	}
	if a.Proven != nil {
		return "found - the largest box of which check says clears"
	}
	return "not proved - no box was found of which check says clears"
}

func (p *page) largest(a *largest.Answer) {
	line := LargestHeadline(a)
	if word, rest, ok := strings.Cut(line, " - "); ok && p.o.Bold {
		line = "\x1b[1m" + word + "\x1b[0m - " + rest
	}
	p.lines = append(p.lines, line)
	p.twoAnswers(a)
	if a.Proven == nil {
		p.say("In the way: " + list(p.hindrances(a.Why), 4) + ".")
	}
	p.bound(a)
	if a.Proven != nil {
		p.head("Within the evidence: " + p.boxWords(*a.Proven, a.Outside))
		p.stops(*a.Proven)
	}
	for i, b := range a.Free {
		title := "Not contradicted - do not cut from this: "
		if i > 0 {
			title = fmt.Sprintf("Another, number %d - do not cut from this: ", i+1)
		}
		p.head(title + p.boxWords(b, a.Outside))
		p.stops(b)
	}
	p.apart(a)
	p.head("What this rests on")
	p.entry("Where nobody measured, the search finds room: on few readings the box that nothing contradicts is too large by a fifth to four fifths. Only the box within the evidence is one that check stands behind.")
	if a.Proven != nil {
		p.entry("Of the box within the evidence nothing is proved but that it clears: a larger one may clear elsewhere, or with a way in that is not straight.")
	}
	p.entry("Sizes and litres are rounded down, places to the nearest; --step 1/16 gives a box on the shop's rule.")
}

// twoAnswers sets the two answers side by side.
func (p *page) twoAnswers(a *largest.Answer) {
	free := a.Free[0]
	text := "Nothing measured contradicts " + p.litres(free.Value(a.Outside), a.Outside) + "; " + p.hides(free)
	if a.Proven != nil {
		text = "Within the evidence " + p.litres(a.Proven.Value(a.Outside), a.Outside) + " (" + p.hides(*a.Proven) + "); nothing measured contradicts " +
			p.litres(free.Value(a.Outside), a.Outside) + " (" + p.hides(free) + ")"
	}
	p.say(text + ".")
}

// hides words the largest thing that could hide beside a box.
func (p *page) hides(b largest.Box) string {
	if !b.HiddenOK {
		return "beside it anything could hide"
	}
	return "beside it a thing " + p.need(b.Hidden) + p.unit() + " across could hide"
}

// litres words a capacity or an outside volume.
func (p *page) litres(l float64, outside bool) string {
	if outside {
		return glued(down(l, 2)+" litres") + " outside"
	}
	return p.capacity(l)
}

// bound says how good the answer is.
func (p *page) bound(a *largest.Answer) {
	if a.AtMost > 0 {
		text := "No box holds more than " + glued(up(a.AtMost, 2)+" litres")
		if a.Outside {
			text = "No box takes up more than " + glued(up(a.AtMost, 2)+" litres")
		}
		text += " with every line sure enough by itself: proved"
		if a.Gap > 0.005 {
			text += ", but " + glued(up(100*a.Gap, 1)+" %") + " above what was found"
			if a.More {
				text += "; --effort 4 looks longer"
			}
		} else {
			text += " to " + glued(up(100*a.Gap, 2)+" %")
		}
		p.say(text + ".")
	}
	switch {
	case !a.Joint && a.Proven != nil:
		p.say("What asking for all lines together costs by itself was not found.")
	case !a.Joint:
		p.say("All lines together do not reach " + exactPercent(p.r.Wanted) + " for any box near it.")
	case a.JointCosts > 0.005:
		p.say("Asking for all lines together costs about " + glued(up(a.JointCosts, 2)+" litres") + ".")
	default:
		p.say("Asking for all lines together costs nothing that shows.")
	}
}

// boxWords words a box's sizes and place.
func (p *page) boxWords(b largest.Box, outside bool) string {
	size := b.Tank.Size
	text := fmt.Sprintf("%s%s wide, %s high, %s deep at x %s, y %s", p.free(size.Width), p.unit(), p.free(size.Height), p.free(size.Depth), p.place(b.At.X), p.place(b.At.Y))
	if off := b.Tank.Place.StandOff; off != 0 {
		text += ", " + p.place(off) + p.unit() + " off the face"
	}
	if turn := b.Tank.Place.Turn.Degrees(); turn != 0 {
		text += glued(fmt.Sprintf(", turned %.1f degrees", turn))
	}
	return text + "; " + p.litres(b.Value(outside), outside) + "."
}

// stops says what stops each side.
func (p *page) stops(b largest.Box) {
	for _, s := range b.Stops {
		p.entry(p.sideName(s.Side) + ": " + p.stop(s) + ".")
	}
}

func (p *page) stop(s largest.Stop) string {
	switch {
	case s.Free:
		return "nothing stops it near by"
	case s.Limit != "":
		return s.Limit + " stops it"
	}
	text := Clean(s.Part) + " at " + Clean(s.Feature)
	if s.Part == "body" {
		text = Clean(s.Feature) + " stops it"
	}
	if s.When != "" {
		text += " (" + Clean(s.When) + ")"
	}
	if len(s.Marks) > 0 {
		text += ", by " + list(names(s.Marks), mostNames)
	}
	if !s.Worth {
		return text
	}
	text += "; half an inch there is worth " + p.worth(s.Moved)
	if !p.inches() {
		text = strings.Replace(text, "half an inch", glued("12.7 mm"), 1)
	}
	if s.RetakenOK && len(s.Marks) > 0 {
		to := glued("1/32") + p.unit()
		if !p.inches() {
			to = glued("0.8 mm")
		}
		text += ", taking " + list(names(s.Marks), mostNames) + " to within " + to + " " + p.worth(s.Retaken)
	}
	return text
}

// worth words what something would gain.
func (p *page) worth(litres float64) string {
	if litres < 0.01 {
		return "nothing that shows"
	}
	return "about " + glued(down(litres, 2)+" litres")
}

// hindrances words what keeps a box from clearing: sides first.
func (p *page) hindrances(why []largest.Hindrance) []string {
	var sides, out []string
	for _, h := range why {
		switch {
		case h.Side != solid.NoSide:
			sides = append(sides, p.sideName(h.Side))
		case h.Part == largest.WayIn:
			out = append(out, "the way in, of which none was found that clears")
		case h.Part == largest.Levels:
			out = append(out, largest.Levels+" in it")
		case h.Because == clearance.Together:
			out = append(out, "all lines together, which are not sure enough")
		case h.Because == clearance.NotChecked:
			out = append(out, Clean(strings.TrimSpace(h.Part+" "+h.Feature))+" is not checked yet")
		case h.Because == clearance.OneReading:
			out = append(out, Clean(h.Part)+" against "+Clean(h.Feature)+" hangs on a reading taken once")
		default:
			out = append(out, Clean(h.Part)+" against "+Clean(h.Feature)+" is too close to call")
		}
	}
	if len(sides) > 0 {
		out = append([]string{list(sides, 5) + chosen(len(sides) == 1, " was", " were") + " not looked at or measured closely enough"}, out...)
	}
	return out
}

// apart lists the readings that would bring the two answers together.
func (p *page) apart(a *largest.Answer) {
	free := a.Free[0].Report
	if len(free.MeasureNext) == 0 || free.Verdict == clearance.Clears {
		return
	}
	p.head("To bring the two together")
	q := *p
	q.r = free
	for i, m := range free.MeasureNext {
		if i == mostMeasures {
			p.entry(glued(fmt.Sprintf("and %d more", len(free.MeasureNext)-i)) + " that check lists.")
			break
		}
		p.entry(q.measure(m) + ".")
	}
}

// mostMeasures is how many readings are asked for here; check lists them all.
const mostMeasures = 6

// LargestJSON writes the answer for programs: lengths in mm in the mounting frame,
// nothing rounded. The error is that of w.
func LargestJSON(w io.Writer, a *largest.Answer) error {
	var proven *largestKeys
	if a.Proven != nil {
		keys := largestBox(*a.Proven)
		proven = &keys
	}
	var free []largestKeys
	for _, b := range a.Free {
		free = append(free, largestBox(b))
	}
	text, err := object([]field{
		{"schema", schema},
		{"at_most_l", known(a.AtMost, !math.IsInf(a.AtMost, 0))},
		{"joint_costs_l", known(a.JointCosts, a.Joint)},
		{"within_evidence", proven},
		{"not_contradicted", rowsOf(free)},
	})
	if err != nil {
		return err
	}
	_, err = io.WriteString(w, text)
	return err
}

type largestKeys struct {
	Width    number              `json:"width_mm"`
	Height   number              `json:"height_mm"`
	Depth    number              `json:"depth_mm"`
	At       [2]number           `json:"at_mm"`
	StandOff number              `json:"stand_off_mm"`
	Turn     number              `json:"turn_deg"`
	Outside  number              `json:"outside_l"`
	Capacity *number             `json:"capacity_l"`
	Hidden   *number             `json:"hidden_mm"`
	Stops    map[string]stopKeys `json:"stopped_by"` // encoding/json sorts the keys
}

type stopKeys struct {
	Part    *string  `json:"part"`
	Feature *string  `json:"feature"`
	Marks   []string `json:"marks"`
	When    *string  `json:"when,omitempty"`
	Limit   *string  `json:"limit,omitempty"`
	Moved   *number  `json:"half_inch_l,omitempty"`
	Retaken *number  `json:"retaken_l,omitempty"`
}

func largestBox(b largest.Box) largestKeys {
	size, place := b.Tank.Size, b.Tank.Place
	keys := largestKeys{
		Width: number(size.Width), Height: number(size.Height), Depth: number(size.Depth),
		At: [2]number{number(b.At.X), number(b.At.Y)}, StandOff: number(place.StandOff), Turn: number(place.Turn.Degrees()),
		Outside: number(b.OutsideL), Capacity: known(b.Capacity, b.Known), Hidden: known(b.Hidden, b.HiddenOK),
		Stops: map[string]stopKeys{},
	}
	for _, s := range b.Stops {
		stop := stopKeys{Marks: notNil(s.Marks), Moved: known(s.Moved, s.Worth), Retaken: known(s.Retaken, s.Worth && s.RetakenOK)}
		if s.Part != "" {
			stop.Part, stop.Feature = &s.Part, &s.Feature
		}
		if s.When != "" {
			stop.When = &s.When
		}
		if s.Limit != "" {
			stop.Limit = &s.Limit
		}
		keys.Stops[s.Side.String()] = stop
	}
	return keys
}
