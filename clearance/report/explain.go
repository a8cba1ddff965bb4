package report

import (
	"fmt"

	"elbowroom/clearance"
)

// mostShares is how many parts of an uncertainty are named.
const mostShares = 6

// explain says where the figures come from.
func (p *page) explain() {
	p.head("What the words mean")
	p.entry("give or take: two standard uncertainties. If the limits that you gave are true, about 95 times in 100 the true clearance is no farther than that from the figure.")
	p.entry("sure: the chance that the true clearance is at least the gap, if every reading, size and place is equally likely to be anywhere within its limits.")
	p.entry("clears: sure enough. fouls: surely overlaps. tight: surely less than the gap. unproven: none of these. Sure enough is " + exactPercent(p.r.Wanted) + " in this job.")
	p.entry("all together: the chance that every line holds at the same time, which is less than that of any one.")
	p.gaps()
	p.shares()
}

// gaps lists each feature's gap with where it comes from.
func (p *page) gaps() {
	if len(p.r.Gaps) == 0 {
		return
	}
	p.head("Gaps asked for")
	for _, g := range p.r.Gaps {
		text := name(g.Feature) + ": " + p.need(g.Gap) + p.unit()
		if g.Name != "" {
			text += ", " + Clean(g.Name)
		}
		if g.Origin != "" {
			text += " - " + Clean(g.Origin)
		}
		p.entry(text + ".")
	}
}

// shares says what the uncertainty of each line that decides is made of.
func (p *page) shares() {
	headed := false
	for _, l := range p.r.Lines {
		if len(l.Shares) == 0 {
			continue
		}
		if !headed {
			p.head("What makes up each uncertainty (shares of its square)")
			headed = true
		}
		p.entry(p.pair(l) + ": " + p.sharesOf(l.Shares) + ".")
	}
}

func (p *page) sharesOf(shares []clearance.Share) string {
	total := 0.0
	for _, s := range shares {
		total += s.U * s.U
	}
	if total == 0 {
		return "no uncertainty"
	}
	text, left := "", total
	for i, s := range shares {
		if i == mostShares {
			return text + fmt.Sprintf(", all else %s", part(left/total))
		}
		if i > 0 {
			text += ", "
		}
		text += p.share(s) + " " + part(s.U*s.U/total)
		left -= s.U * s.U
	}
	return text
}

// share names one part of an uncertainty with its present limit.
func (p *page) share(s clearance.Share) string {
	text := name(s.Of)
	if s.Mark != "" {
		text = name(s.Mark)
	}
	if s.Limit > 0 {
		text += " (within " + p.need(s.Limit) + p.unit() + ")"
	}
	return text
}
