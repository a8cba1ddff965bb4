package report

import (
	"math"
	"sort"

	"elbowroom/survey"
)

// mostNext is how many marks a reading is proposed for, and mostTried how many
// of the weakest are tried: in a survey of hundreds of marks that takes part of a
// second.
const (
	mostNext  = 5
	mostTried = 10
)

// worthIt is the share of its uncertainty that a new reading must leave a mark
// at most, to be worth the crawl: it takes off a fifth.
const worthIt = 0.8

// next says for the marks that tapes and depths leave known least which tape
// would help most, by the variance that it would leave.
func (p *surveyPage) next() {
	if p.v.Within <= 0 {
		return
	}
	var items []string
	weak := p.weakMarks()
	for _, m := range weak[:min(len(weak), mostTried)] {
		from, left := p.bestTape(m)
		spread := p.spreads[m]
		if spread.Worst < weakBy*p.tapeU() || from < 0 || left > worthIt*spread.Worst {
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

// weakBy is from how many times the uncertainty of one tape a mark is worth a
// new reading: with four well-placed tapes it has about one.
const weakBy = 2

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

// bestTape is the mark from which a tape would leave least of a mark's worst
// direction, and the standard uncertainty that it would leave there; -1 where
// none does.
//
// A tape of variance t along e adds one observation: of the variance along w it
// leaves C(w,w) - C(w,d)² / (C(d,d) + t), with d the distance (Kalman's update).
func (p *surveyPage) bestTape(m int) (from int, left float64) {
	spread := p.spreads[m]
	from, left = -1, spread.Worst
	spreader := p.s.Spreader()
	worst := spreader.Terms(survey.Gradient{{Mark: m, By: spread.Toward}})
	for k, mark := range p.s.Marks {
		e := mark.At.Sub(p.s.Marks[m].At)
		if k == m || !mark.Located || p.onlyRun(k) || p.taped(m, k) || e.Norm() < shortestTape || e.Norm() > longestTape {
			continue
		}
		e = e.Normalize()
		tape := spreader.Terms(survey.Gradient{{Mark: m, By: e.Mul(-1)}, {Mark: k, By: e}})
		by := survey.Dot(worst, tape)
		variance := spread.Worst*spread.Worst - by*by/(survey.Dot(tape, tape)+p.tapeU()*p.tapeU())
		if u := math.Sqrt(math.Max(0, variance)); u < left*(1-onLimit) {
			from, left = k, u
		}
	}
	return from, left
}

// The tapes that are proposed: shorter than 2 in none can be pulled past its own
// hook, longer than 3 ft none lies straight in a bay (own estimates).
const (
	shortestTape = 2 * 25.4
	longestTape  = 36 * 25.4
)

// onlyRun says whether a mark stands for where a hose is wanted, and nothing is
// there to hook a tape on.
func (p *surveyPage) onlyRun(m int) bool {
	for _, of := range p.of[m] {
		if f, ok := p.s.Feature(of); ok && !f.Spec.Run {
			return false
		}
	}
	return len(p.of[m]) > 0
}

// tapeU is the standard uncertainty of a tape that is proposed, mm:
// rectangular, GUM 4.3.7.
func (p *surveyPage) tapeU() float64 { return p.v.Within / math.Sqrt(3) }

// taped says whether a tape lies between two marks.
func (p *surveyPage) taped(a, b int) bool {
	for _, r := range p.s.Rows {
		if r.Kind == survey.Tapes && !r.Shared && (r.Marks[0] == a && r.Marks[1] == b || r.Marks[0] == b && r.Marks[1] == a) {
			return true
		}
	}
	return false
}
