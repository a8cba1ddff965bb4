package report

import (
	"fmt"
	"path/filepath"
	"sort"
	"strings"

	"elbowroom/clearance"
)

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
		text += chosen(n == 1, ": ", ", the worst at ") + glued(name(filepath.Base(at.File))+fmt.Sprintf(" line %d", at.Line))
	}
	return text + "."
}

// notChecked says what no check of this report speaks of, on one line: as many
// names of what the job asks for as there is room for.
func (p *page) notChecked() string {
	const always = "Not checked: strength, pressure, heat"
	things := p.askedFor()
	if len(things) == 0 {
		return always + "."
	}
	for most := len(things); most > 0; most-- {
		if text := always + "; " + list(things, most) + "."; width(text) <= p.o.Width {
			return text
		}
	}
	return always + ", nor " + count(len(things), "thing that the job asks for", "things that the job asks for") + "."
}

// askedFor names what the job asks for and nobody checked, what moves first.
func (p *page) askedFor() []string {
	list := append([]clearance.Unchecked(nil), p.r.Unchecked...)
	sort.SliceStable(list, func(i, j int) bool { return list[i].Kind < list[j].Kind })
	var things []string
	for _, u := range list {
		things = addNew(things, thing(u))
	}
	return things
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
