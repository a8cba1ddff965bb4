package report

import (
	"fmt"
	"strings"

	"elbowroom/clearance"
)

// screenLines is how many lines the first screen may take.
const screenLines = 12

// itemIndent is as wide as a numbered line's number.
const itemIndent = "     "

// firstScreen says the verdict, why, what decides it and what to do.
func (p *page) firstScreen() {
	p.lines = append(p.lines, p.headline())
	p.say(p.why())
	tail := &page{r: p.r, o: p.o, style: p.style}
	tail.tail()
	p.numbered(p.deciding(), screenLines-len(p.lines)-len(tail.lines))
	p.lines = append(p.lines, tail.lines...)
}

// headline is the first line; bold where the terminal shows it.
func (p *page) headline() string {
	line := Headline(p.r.Verdict)
	if p.o.Bold {
		word := p.r.Verdict.String()
		line = "\x1b[1m" + word + "\x1b[0m" + strings.TrimPrefix(line, word)
	}
	return line
}

// Headline is the first line of the text: the verdict's word with what to do
// about it.
func Headline(v clearance.Verdict) string { return v.String() + " - " + advice(v) }

func advice(v clearance.Verdict) string {
	switch v {
	case clearance.Clears:
		return "it goes in and keeps its gaps"
	case clearance.Tight:
		return "do not cut as drawn"
	case clearance.Fouls:
		return "do not cut"
	}
	return "do not cut yet"
}

// numbered adds the numbered lines, in at most room lines; those that do not
// fit are counted.
func (p *page) numbered(items []string, room int) {
	for i, item := range items {
		lines := p.wrap(fmt.Sprintf("%3d  ", i+1), itemIndent, item)
		left := len(items) - i - 1
		keep := 0 // the line that counts the rest
		if left > 0 {
			keep = 1
		}
		if len(lines)+keep > room {
			p.lines = append(p.lines, itemIndent+rest(left+1, i))
			return
		}
		p.lines = append(p.lines, lines...)
		room -= len(lines)
	}
}

func rest(n, shown int) string {
	if shown == 0 {
		return count(n, "thing decides it, below", "things decide it, below")
	}
	return fmt.Sprintf("and %d more below", n)
}

// tally counts what the verdict hangs on.
type tally struct {
	fouls, tight, near, single, unchecked, sides int
	tightHoses                                   int
	overlapping, short                           int // as measured
}

func (p *page) tally() tally {
	var t tally
	for _, l := range p.r.Lines {
		t.take(l.Verdict, l.Because)
		switch {
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
		t.take(h.Verdict, h.Because)
	}
	for _, s := range p.r.Sides {
		if s.Verdict == clearance.Unproven {
			t.sides++
		}
	}
	t.unchecked += len(p.r.Unchecked)
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
		if n := t.tight + t.tightHoses; n > 0 {
			text += fmt.Sprintf(" and is surely short of what was asked for in %d more", n)
		}
		return ended(text, open)
	case clearance.Tight:
		return ended(t.shortOf(), open)
	case clearance.Clears:
		return "As measured it goes in and keeps every gap; the limits that you gave leave it so."
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
		texts = append(texts, count(t.tightHoses, "hose", "hoses")+" surely "+chosen(t.tightHoses == 1, "bends", "bend")+" tighter than it may")
	}
	return strings.Join(texts, "; ")
}

// measured says how it stands when every reading is taken as it is.
func (t tally) measured() string {
	switch {
	case t.overlapping > 0:
		return "As measured it overlaps in " + count(t.overlapping, "place", "places")
	case t.short > 0:
		return "As measured it goes in, but keeps less than its gap in " + count(t.short, "place", "places")
	}
	return "As measured it goes in"
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
	add(t.single, "place hangs on a reading taken once", "places hang on readings taken once")
	add(t.sides, "side was not looked at", "sides were not looked at")
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

// tail says what stands at the end of the first screen.
func (p *page) tail() {
	if text, ok := p.move(); ok {
		p.say(text)
	}
	p.say(p.together() + p.once() + p.doubtful())
	p.say(p.notChecked())
}

// together says how sure all lines are at once.
func (p *page) together() string {
	share := p.r.SureIs + " " + percentDown(p.r.Sure, p.r.Wanted)
	switch {
	case p.r.SureIs == "at most":
		share = percentAtMost(p.r.Sure, p.r.Wanted)
	case 0 < p.r.Sure && p.r.Sure < 0.001:
		share = glued("under 0.1 %")
	}
	return "All together " + strings.TrimSpace(share) + " (wanted " + exactPercent(p.r.Wanted) + ")."
}

// once says how many readings that decide were taken once.
func (p *page) once() string {
	if p.r.TakenOnce == 0 {
		return ""
	}
	waived := false
	for _, l := range p.r.Lines {
		waived = waived || (l.Verdict == clearance.Clears && len(l.Single) > 0)
	}
	text := " " + count(p.r.TakenOnce, "reading was", "readings were") + " taken once"
	if waived {
		text += ", which the job accepts (accept_single)"
	}
	return text + "."
}

// doubtful says how many readings look wrong, and where the worst stands.
func (p *page) doubtful() string {
	n := len(p.r.Doubts)
	if n == 0 {
		return ""
	}
	text := " " + count(n, "doubt", "doubts") + " below"
	if at := p.r.Doubts[0].Pos; at.Line > 0 {
		text += chosen(n == 1, ": ", ", the worst at ") + name(at.File) + fmt.Sprintf(" line %d", at.Line)
	}
	return text + "."
}

// notChecked says what no check of this report speaks of.
func (p *page) notChecked() string {
	text := "Not checked: strength, pressure, heat"
	if n := len(p.r.Unchecked); n > 0 {
		text += ", nor " + count(n, "thing that the job asks for", "things that the job asks for")
	}
	return text + "."
}

// move words the best move.
func (p *page) move() (string, bool) {
	m := p.r.Move
	if m == nil {
		return "", false
	}
	var ways []string
	for axis, by := range [2]float64{m.By.X, m.By.Y} {
		if p.place(by) == p.place(0) {
			continue
		}
		far := by > 0
		if !far {
			by = -by
		}
		ways = append(ways, p.place(by)+p.unit()+" "+p.toward(axis, far))
	}
	if len(ways) == 0 {
		return "", false
	}
	text := "Best move: " + strings.Join(ways, " and ")
	if m.Clears {
		return text + "; with it every measured place clears.", true
	}
	return text + "; it helps, but does not settle everything.", true
}
