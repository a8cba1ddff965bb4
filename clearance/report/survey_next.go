package report

import (
	"sort"

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

// next says for the marks that tapes and depths leave known least which tape
// would help most, by the variance that it would leave.
func (p *surveyPage) next() {
	if p.v.Within <= 0 {
		return
	}
	var items []string
	weak := p.weakMarks()
	tapes := clearance.NewTapes(p.s)
	for _, m := range weak[:min(len(weak), mostTried)] {
		spread := p.spreads[m]
		from, left, ok := tapes.Weak(m, p.v.Within)
		if !ok {
			continue
		}
		items = append(items, name(p.s.Marks[m].Name)+" is known least "+p.way(spread)+", give or take "+p.need(2*spread.Worst)+p.unit()+
			": a tape from "+name(p.s.Marks[from].Name)+" would make it "+p.need(2*left)+", if it can lie straight there.")
		if len(items) == mostNext {
			break
		}
	}
	if len(items) == 0 {
		return
	}
	p.head("What would help the taped marks most")
	for _, text := range items {
		p.entry(text)
	}
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
