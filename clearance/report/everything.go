package report

import (
	"fmt"
	"math"
	"strings"

	"elbowroom/clearance"
)

// everything is the report below the first screen.
func (p *page) everything() {
	if p.r.Title != "" {
		p.head(Clean(p.r.Title))
	}
	p.table()
	p.onPurpose()
	p.hoses()
	p.motions()
	p.sides()
	p.rooms()
	p.levels()
	p.wayIn()
	p.notYet()
	p.measureNext()
	p.doubts()
	p.box()
	p.flats()
	p.cautions()
	p.limits()
}

// table lists every line, the figures first so that names of any length fit.
func (p *page) table() {
	if len(p.r.Lines) == 0 {
		p.head("No part was held against any feature.")
		return
	}
	p.head("Every part against every feature, worst first; lengths in " + p.unitWord())
	rows := make([][]string, len(p.r.Lines)+1)
	rows[0] = []string{"clear", "or take", "wants", "sure", "verdict", "what, and the marks that decide it"}
	for i, l := range p.r.Lines {
		rows[i+1] = p.row(l)
	}
	var widest [5]int
	for _, row := range rows {
		for k := range widest {
			widest[k] = max(widest[k], width(row[k]))
		}
	}
	for _, row := range rows {
		first := " "
		for k, cell := range row[:5] {
			pad := strings.Repeat(" ", widest[k]-width(cell))
			if k == 4 {
				cell, pad = pad, cell // words to the left, figures to the right
			}
			first += " " + pad + cell
		}
		p.beside(first+"  ", row[5])
	}
}

// beside adds words beside figures, or below them where there is no room for
// a long name.
func (p *page) beside(figures, words string) {
	if p.o.Width-width(figures) > longestName {
		p.lines = append(p.lines, p.wrap(figures, strings.Repeat(" ", width(figures)), words)...)
		return
	}
	p.lines = append(p.lines, strings.TrimRight(figures, " "))
	p.lines = append(p.lines, p.wrap("      ", "      ", words)...)
}

// row words a line of the table.
func (p *page) row(l clearance.Line) []string {
	take, _ := p.giveOrTake(l.U)
	clear := chosen(p.mayTouch(l), "-", p.free(l.Clearance))
	return []string{clear, take, p.need(l.Gap), percentDown(l.Sure, p.r.Wanted), l.Verdict.String(), p.what(l)}
}

// what says of which line a row is, which marks decide it, and why it is unproven.
func (p *page) what(l clearance.Line) string {
	text := p.pair(l)
	if p.overlaps(l) && !p.mayTouch(l) {
		text = name(l.Part) + " overlaps " + name(l.Feature) + p.during(l) + " by " + p.depth(l)
	}
	if len(l.Marks) > 0 {
		text += ", by " + list(names(l.Marks), mostNames)
	}
	switch {
	case len(l.Single) > 0:
		text += "; " + list(singles(l), mostNames) + " taken once"
	case open(l):
		text += "; " + p.hangs(l)
	case l.Verdict == clearance.Unproven && l.Because != clearance.NoReason:
		text += "; " + chosen(p.crowded(l), "no better run was found", reason(l.Because))
	}
	return text
}

// unitWord is the unit's name in full.
func (p *page) unitWord() string {
	switch word := p.style.Unit.String(); word {
	case "in":
		return "inches"
	case "ft":
		return "feet and inches"
	default:
		return word
	}
}

func (p *page) onPurpose() {
	if len(p.r.OnPurpose) == 0 {
		return
	}
	var pairs []string
	for _, c := range p.r.OnPurpose {
		pairs = append(pairs, name(c.Part)+" and "+name(c.Feature))
	}
	p.head("Touching on purpose: " + strings.Join(pairs, "; ") + ".")
}

// sides says for each side what is known of the space in front of it.
func (p *page) sides() {
	if len(p.r.Sides) == 0 {
		return
	}
	p.head("Sides of the box")
	for _, s := range p.r.Sides {
		p.entry(p.sideName(s.Side) + ": " + p.nearest(s) + "; " + p.known(s) + " - " + s.Verdict.String() + ".")
	}
}

func (p *page) nearest(s clearance.SideLine) string {
	switch {
	case !s.Found:
		return "nothing measured straight out from it"
	case p.none(s.Nearest):
		return name(s.Feature) + " is right at it"
	}
	return name(s.Feature) + " is " + p.free(s.Nearest) + p.unit() + " straight out from it"
}

func (p *page) known(s clearance.SideLine) string {
	text := "evidence near " + percentDown(s.Cover, 2) + " of it"
	if s.Cover >= 1 {
		text = "evidence near all of it"
	}
	if s.HiddenOK {
		text += ", " + p.need(s.Hidden) + p.unit() + " the largest thing that could hide there"
	}
	switch {
	case s.LookedAt:
		text += "; you looked"
	case s.Verdict == clearance.Unproven:
		text += "; not looked at"
	}
	return text
}

// notYet lists what nobody checked.
func (p *page) notYet() {
	if len(p.r.Unchecked) == 0 {
		return
	}
	p.head("Not checked yet, so unproven")
	for _, u := range p.r.Unchecked {
		p.entry(thing(u) + where(u) + ".")
	}
}

func where(u clearance.Unchecked) string {
	if u.Pos.Line == 0 {
		return ""
	}
	return fmt.Sprintf(" (%s line %d)", Clean(u.Pos.File), u.Pos.Line)
}

// doubts lists what may be wrong with the readings.
func (p *page) doubts() {
	if len(p.r.Doubts) == 0 {
		return
	}
	p.head("Doubts about the readings, worst first")
	for _, d := range p.r.Doubts {
		text := Clean(d.Says)
		if at := d.Pos.String(); at != "" {
			text = Clean(at) + ": " + text
		}
		if d.Suggests != "" {
			text += "; was it " + glued(Clean(d.Suggests)) + "?"
		}
		p.entry(text)
	}
}

// box describes the candidate.
func (p *page) box() {
	b := p.r.Box
	p.head("The box")
	p.entry(fmt.Sprintf("%s%s wide, %s%s high and %s%s deep outside, as drawn; its lower left back corner is at %s.",
		p.need(b.Size.Width), p.unit(), p.need(b.Size.Height), p.unit(), p.need(b.Size.Depth), p.unit(),
		p.at(b.Corner.X, b.Corner.Y, b.Corner.Z)))
	if !b.Known {
		p.entry("The job gives no sheet, so how much it holds and weighs is not known.")
		return
	}
	text := "It holds " + p.capacity(b.Capacity) + " and weighs " + p.mass(b.DryKg) + " dry"
	if b.Filled {
		text += ", " + p.mass(b.FullKg) + " full"
	}
	p.entry(text + ".")
}

// flats says how flat and how square the fitted faces are.
func (p *page) flats() {
	if len(p.r.Flats) == 0 {
		return
	}
	p.head("Flats")
	for _, f := range p.r.Flats {
		text := name(f.Feature) + chosen(f.Mount, ", which the box is bolted to", "")
		text += ": flat within " + p.need(f.Flatness) + p.unit() + " over " + count(f.Marks, "mark", "marks") +
			fmt.Sprintf(", tilted %.1f degrees from the frame", f.Tilt*180/math.Pi)
		if f.Proud != "" {
			text += "; " + name(f.Proud) + " stands proud and holds the box off"
		}
		p.entry(text + ".")
	}
}

func (p *page) cautions() {
	texts := Cautions(p.r.Cautions)
	if len(texts) == 0 {
		return
	}
	p.head("Cautions")
	for _, t := range texts {
		p.entry(Clean(t))
	}
}

// limits says what the result does not say.
func (p *page) limits() {
	p.head("What this rests on")
	p.entry("A reading speaks for the point that was touched. Between marks the shape is your statement: that a face is flat, a lip straight, a block no larger than its marks. Nothing here has seen what was not measured.")
	if p.r.Overlaps {
		p.entry("Of an overlap the depth is the least that it can be; the true one may be more.")
	}
	p.entry("Clearances and percentages are rounded down; gaps, uncertainties and what stands behind \"at most\" are rounded up.")
}
