package report

import (
	"sort"
	"strings"

	"elbowroom/clearance"
	"elbowroom/survey"
)

// mostNext is how many marks a reading is proposed for, and mostTried how many
// of the weakest are tried: in a survey of hundreds of marks that takes part of a
// second.
const (
	mostNext  = 5
	mostTried = 10
)

// next says for the marks that tapes and depths place which reading would help
// most: those known least first.
func (p *surveyPage) next() {
	for i, m := range p.measureNext() {
		if i == 0 {
			p.head("What would help the taped marks most")
		}
		p.entry(p.help(m))
	}
}

// measureNext lists those readings.
func (p *surveyPage) measureNext() (out []clearance.Measure) {
	if p.v.Within <= 0 {
		return nil
	}
	tapes := clearance.NewTapes(p.s)
	marks := p.weakMarks()
	for _, m := range marks[:min(len(marks), mostTried)] {
		if help, ok := tapes.Help(m, p.v.Within); ok {
			out = append(out, help)
		}
		if len(out) == mostNext {
			break
		}
	}
	return out
}

// help words a reading for a mark, and what it would do for it.
func (p *surveyPage) help(m clearance.Measure) string {
	var stands, does []string
	if k, ok := p.s.Mark(m.Mark); ok && m.U > 0 {
		stands = append(stands, name(m.Mark)+" is known least "+p.way(p.spreads[k])+", give or take "+p.need(2*m.U)+p.unit())
		does = append(does, "make it "+p.need(2*m.Left))
	}
	if m.Unchecked {
		stands = append(stands, "nothing checks all that places "+chosen(m.U > 0, "it", name(m.Mark)))
		does = append(does, "check it")
	}
	return strings.Join(stands, ", and ") + ": " + p.would(m, list(does, 2))
}

// weakMarks are the marks that tapes and depths place, worst first.
func (p *surveyPage) weakMarks() []int {
	var out []int
	for m, mark := range p.s.Marks {
		if mark.Located && (mark.From == survey.Tapes || mark.From == survey.Depths) {
			out = append(out, m)
		}
	}
	sort.SliceStable(out, func(i, j int) bool {
		return p.spreads[out[i]].Worst > p.spreads[out[j]].Worst*(1+onLimit)
	})
	return out
}
