package report

import (
	"fmt"
	"strings"

	"elbowroom/clearance"
)

// tally counts what the verdict hangs on.
type tally struct {
	fouls, tight, near, single, unchecked, sides int
	tightHoses, tightLevels, crowded             int
	overlapping, short                           int    // as measured
	way                                          string // what is not proved of the way in, of its own
	noWay                                        bool
}

func (p *page) tally() tally {
	var t tally
	for _, l := range p.r.Lines {
		if l.Verdict != clearance.Unproven || !p.crowded(l) { // its hose has a word of its own
			t.take(l.Verdict, l.Because)
		}
		switch {
		case open(l): // what is not known of it is not measured
		case l.Clearance < 0 && !p.touches(l):
			t.overlapping++
		case l.Clearance < l.Gap-onLimit:
			t.short++
		}
	}
	for _, h := range p.r.Hoses {
		if h.Verdict == clearance.Tight {
			t.tightHoses++
			continue
		}
		if h.Crowded {
			t.crowded++
			continue
		}
		t.take(h.Verdict, h.Because)
	}
	for _, s := range p.r.Sides {
		if s.Verdict == clearance.Unproven {
			t.sides++
		}
	}
	p.r.Levels.Each(func(v clearance.Verdict, b clearance.Because) {
		if v == clearance.Tight {
			t.tightLevels++
			return
		}
		t.take(v, b)
	})
	t.unchecked += len(p.r.Unchecked)
	t.noWay, t.way = p.wayOpen()
	return t
}

func (t *tally) take(v clearance.Verdict, b clearance.Because) {
	switch {
	case v == clearance.Fouls:
		t.fouls++
	case v == clearance.Tight:
		t.tight++
	case v == clearance.Clears:
	case b == clearance.OneReading:
		t.single++
	case b == clearance.NotChecked:
		t.unchecked++
	default:
		t.near++
	}
}

// why says in a sentence or two why the verdict is what it is.
func (p *page) why() string {
	t := p.tally()
	open := t.open()
	switch p.r.Verdict {
	case clearance.Fouls:
		text := "It surely overlaps in " + count(t.fouls, "place", "places")
		if n := t.tight + t.tightHoses + t.tightLevels; n > 0 {
			text += fmt.Sprintf(" and is surely short of what was asked for in %d more", n)
		}
		return ended(text, open)
	case clearance.Tight:
		return ended(t.shortOf(), open)
	case clearance.Clears:
		return "As measured it goes in and keeps every gap; your limits leave it so."
	}
	if len(open) == 0 {
		return t.measured() + "; each place alone is sure enough, all of them at once are not."
	}
	return ended(t.measured(), open)
}

// shortOf says where less is left than was asked for.
func (t tally) shortOf() string {
	var texts []string
	if t.tight > 0 {
		texts = append(texts, "It surely keeps less than the gap asked for in "+count(t.tight, "place", "places"))
	}
	if t.tightHoses > 0 {
		texts = append(texts, count(t.tightHoses, "hose", "hoses")+" surely "+
			chosen(t.tightHoses == 1, "bends tighter than it may, or is", "bend tighter than they may, or are")+" too short for a motion")
	}
	if t.tightLevels > 0 {
		texts = append(texts, count(t.tightLevels, "thing about the liquid is", "things about the liquid are")+" surely wrong")
	}
	return strings.Join(texts, "; ")
}

// measured says how it stands when every reading is taken as it is.
func (t tally) measured() string {
	in := chosen(t.noWay, "there is room for it", "it goes in")
	switch {
	case t.overlapping > 0:
		return "As measured it overlaps in " + count(t.overlapping, "place", "places")
	case t.short > 0:
		return "As measured " + in + ", but keeps less than its gap in " + count(t.short, "place", "places")
	}
	return "As measured " + in
}

// open lists what is not proved. No line breaks within one.
func (t tally) open() []string {
	var texts []string
	add := func(n int, one, more string) {
		if n > 0 {
			texts = append(texts, glued(count(n, one, more)))
		}
	}
	add(t.near, "place is too close to call", "places are too close to call")
	add(t.crowded, "hose has no run that was found to clear", "hoses have no run that was found to clear")
	add(t.single, "place hangs on a reading taken once", "places hang on readings taken once")
	add(t.sides, "side was not looked at", "sides were not looked at")
	if t.way != "" {
		texts = append(texts, t.way)
	}
	add(t.unchecked, "thing is not checked yet", "things are not checked yet")
	return texts
}

// ended makes one sentence of a start and what is not proved.
func ended(start string, open []string) string {
	if len(open) == 0 {
		return start + "."
	}
	return start + "; " + strings.Join(open, ", ") + "."
}
