package report

import (
	"fmt"
	"math"
	"path/filepath"

	"gonum.org/v1/gonum/stat/distuv"

	"elbowroom/clearance"
)

// mostNames is how many names a sentence lists before it counts the rest.
const mostNames = 5

// quantile is how many standard uncertainties above a limit a value must be to
// be above it with probability p (normal law).
func quantile(p float64) float64 { return distuv.UnitNormal.Quantile(p) }

// deciding lists what decides the verdict, worst first, each with what to do.
func (p *page) deciding() []string {
	var items []string
	for _, l := range p.r.Lines {
		if l.Verdict == clearance.Fouls || l.Verdict == clearance.Tight {
			items = append(items, p.standing(l)+": it needs about "+p.need(p.moreRoom(l))+p.unit()+" more room")
		}
	}
	items = append(items, p.hosesThat(func(h clearance.Hose) bool { return h.Verdict == clearance.Tight })...)
	items = append(items, p.levelsThat(clearance.Tight)...)
	items = append(items, p.near(len(items))...)
	items = append(items, p.hosesThat(func(h clearance.Hose) bool { return h.Verdict == clearance.Unproven })...)
	items = append(items, p.levelsThat(clearance.Unproven)...)
	items = append(items, p.hanging()...)
	items = append(items, p.unseen()...)
	if item := p.wayInItem(); item != "" {
		items = append(items, item)
	}
	items = append(items, p.unchecked()...)
	if len(items) == 0 && p.r.Verdict == clearance.Unproven {
		items = append(items, p.jointly())
	}
	return items
}

// near words the lines that are too close to call. Where one round of readings
// settles several, the first says so and the others point at it; before is how
// many numbered lines stand above them.
func (p *page) near(before int) []string {
	var items []string
	said := map[string]int{}
	for _, l := range p.r.Lines {
		if l.Verdict != clearance.Unproven || l.Because == clearance.OneReading || p.crowded(l) {
			continue
		}
		number := before + len(items) + 1
		what, readings := p.remedy(l)
		if first, ok := said[what]; ok && readings {
			what = fmt.Sprintf("as in %d", first)
		} else {
			said[what] = number
		}
		items = append(items, p.standing(l)+": "+what)
	}
	return items
}

// crowded says that a line is of a hose without a run that clears, which has a
// sentence of its own.
func (p *page) crowded(l clearance.Line) bool {
	for _, h := range p.r.Hoses {
		if h.Crowded && (h.Name == l.Part || l.Own && h.Name == l.Feature) {
			return true
		}
	}
	return false
}

// hanging words the lines that would clear but hang on readings taken once:
// all in one sentence, since one round of readings settles them.
func (p *page) hanging() []string {
	var lines []clearance.Line
	var marks []string
	for _, l := range p.r.Lines {
		if l.Verdict == clearance.Unproven && l.Because == clearance.OneReading {
			lines = append(lines, l)
			for _, m := range singles(l) {
				marks = addNew(marks, m)
			}
		}
	}
	switch len(lines) {
	case 0:
		return nil
	case 1:
		return []string{p.standing(lines[0]) + ", but hangs on " + list(marks, mostNames) + ", taken once: take " +
			chosen(len(marks) == 1, "it", "them") + " once more"}
	}
	pairs := make([]string, len(lines))
	for i, l := range lines {
		pairs[i] = p.pair(l)
	}
	return []string{list(pairs, 2) + " hang on readings taken once: take " + list(marks, mostNames) + " once more"}
}

// unseen words the sides that may hold something unseen.
func (p *page) unseen() []string {
	var open []clearance.SideLine
	for _, s := range p.r.Sides {
		if s.Verdict == clearance.Unproven {
			open = append(open, s)
		}
	}
	if len(open) > 2 {
		var sides []string
		for _, s := range open {
			sides = append(sides, p.sideName(s.Side))
		}
		return []string{list(sides, 6) + ": not looked at, so a thing could be there unseen: look, and say so under looked_at"}
	}
	var items []string
	for _, s := range open {
		could := "not looked at, so a thing could be there unseen"
		if s.HiddenOK {
			could = "a thing " + p.need(s.Hidden) + p.unit() + " across could be there unseen"
		}
		items = append(items, p.sideName(s.Side)+": "+could+": look, or probe at "+p.spot(s))
	}
	return items
}

// spot is where a reading would do most for a side.
func (p *page) spot(s clearance.SideLine) string {
	return p.at(s.HiddenAt.X, s.HiddenAt.Y, s.HiddenAt.Z)
}

// at words a place in the mounting frame.
func (p *page) at(x, y, z float64) string {
	return glued("x "+p.place(x)) + ", " + glued("y "+p.place(y)) + ", " + glued("z "+p.place(z))
}

// unchecked words what the job asks for and nobody checked: what can be tried by
// hand, and what was measured but is not used.
func (p *page) unchecked() []string {
	var byHand, unused, nowhere []string
	for _, u := range p.r.Unchecked {
		switch u.Kind {
		case clearance.UncheckedMark:
			nowhere = addNew(nowhere, thing(u))
		case clearance.UncheckedFile:
			unused = addNew(unused, thing(u))
		default:
			byHand = addNew(byHand, thing(u))
		}
	}
	var items []string
	add := func(things []string, text string) {
		if len(things) > 0 {
			items = append(items, list(things, 3)+text)
		}
	}
	add(byHand, ": not checked yet: try by hand, with a mock-up")
	add(nowhere, ": no place yet: give x, y and z")
	add(unused, ": not used yet, so the answer does without")
	return items
}

// thing names something that nobody checked.
func thing(u clearance.Unchecked) string {
	what := name(u.What)
	switch u.Kind {
	case clearance.UncheckedMotion:
		if u.Mark != "" {
			return "the motion " + what + " (" + name(u.Mark) + " of its axis has no place yet)"
		}
		return "the motion " + what
	case clearance.UncheckedFile:
		return "the readings in " + name(filepath.Base(u.What))
	case clearance.UncheckedMark:
		return "mark " + name(u.Mark) + " of " + what
	}
	return what
}

// jointly says what to do where only all lines at once fall short.
func (p *page) jointly() string {
	if len(p.r.MeasureNext) > 0 && p.r.MeasureNext[0].Mark == "" {
		return "all at once: " + p.measure(p.r.MeasureNext[0]) + ", which gains most"
	}
	least, at := math.Inf(1), -1
	for i, l := range p.r.Lines {
		if l.Sure < least {
			least, at = l.Sure, i
		}
	}
	if at < 0 {
		return "all at once: take the readings again, more closely"
	}
	return "all at once: give " + p.pair(p.r.Lines[at]) + " more room; it is the least sure"
}
