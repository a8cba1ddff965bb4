package report

import (
	"fmt"
	"math"
	"sort"
)

// uncheckedMarks are those that little or nothing checks.
func (p *surveyPage) uncheckedMarks() []string {
	var out []string
	for m, by := range p.moves {
		if math.IsInf(by, 1) {
			out = addNew(out, name(p.s.Marks[m].Name))
		}
	}
	return out
}

// anywhere says on the first screen how many marks little or nothing checks.
func (p *surveyPage) anywhere() {
	switch marks := p.uncheckedMarks(); {
	case len(marks) == 1:
		p.say("Little or nothing checks where " + marks[0] + " is: a slip in a reading may have moved it far and not show.")
	case len(marks) > 1:
		p.say(fmt.Sprintf("Little or nothing checks where %d marks are: a slip in a reading may have moved them far and not show (listed below).", len(marks)))
	}
}

// unseen says how far a slip that just goes unseen may have moved each mark:
// worst first, those together that come out alike, and only where it is more than
// the give or take of the mark.
func (p *surveyPage) unseen() {
	type group struct {
		by    float64
		marks []string
	}
	var groups []group
	at := map[string]int{}
	for m, by := range p.moves {
		if math.IsInf(by, 1) || by <= 2*p.spreads[m].Worst {
			continue
		}
		text := p.need(by)
		k, ok := at[text]
		if !ok {
			k = len(groups)
			at[text] = k
			groups = append(groups, group{by: by})
		}
		groups[k].marks = append(groups[k].marks, name(p.s.Marks[m].Name))
	}
	alone := p.uncheckedMarks()
	if len(alone)+len(groups) == 0 {
		return
	}
	p.head("How far a slip in one reading may have moved a mark and just not show, worst first")
	if len(alone) > 0 {
		p.entry("by any amount, or nearly: " + list(alone, len(alone)) + ". Each hangs on a reading of whose slip less than a tenth would show.")
	}
	sort.SliceStable(groups, func(i, j int) bool { return groups[i].by > groups[j].by })
	for _, g := range groups {
		p.entry(p.need(g.by) + p.unit() + ": " + list(g.marks, len(g.marks)) + ".")
	}
}
