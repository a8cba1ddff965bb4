package report

import (
	"strings"

	"elbowroom/clearance"
)

// mostShares is how many parts of an uncertainty are named, and leastShare the
// least of them: less would print as 0 %.
const (
	mostShares = 6
	leastShare = 0.005
)

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

// gaps lists each feature's gap with where it comes from, then those that parts
// ask for themselves.
func (p *page) gaps() {
	all := append(append([]clearance.GapUsed(nil), p.r.Gaps...), p.ownGaps()...)
	if len(all) == 0 {
		return
	}
	p.head("Gaps asked for")
	for _, g := range all {
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

// ownGaps are the named gaps that a line has from its part, as a hose has.
func (p *page) ownGaps() []clearance.GapUsed {
	seen := map[string]bool{"": true}
	for _, g := range p.r.Gaps {
		seen[g.Name] = true
	}
	var own []clearance.GapUsed
	for _, l := range p.r.Lines {
		if seen[l.GapName] {
			continue
		}
		seen[l.GapName] = true
		own = append(own, clearance.GapUsed{Feature: l.Part, Name: l.GapName, Gap: l.Gap, Origin: origin(l)})
	}
	return own
}

// origin is where a line's named gap comes from.
func origin(l clearance.Line) string {
	for _, g := range clearance.NamedGaps() {
		if g.Name == l.GapName && g.Gap == l.Gap {
			return g.Origin
		}
	}
	return "as the job says"
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
	var texts []string
	left := total
	for i, s := range shares {
		square := s.U * s.U
		if i == mostShares || square < leastShare*total {
			return strings.Join(append(texts, "all else "+rest(left/total)), ", ")
		}
		texts = append(texts, p.share(s)+" "+part(square/total))
		left -= square
	}
	return strings.Join(texts, ", ")
}

// rest words what is left of a whole.
func rest(share float64) string {
	if share < leastShare {
		return glued("under 1 %")
	}
	return part(share)
}

// share names one part of an uncertainty with its present limit.
func (p *page) share(s clearance.Share) string {
	text := name(s.Of)
	switch {
	case s.Mark != "":
		text = name(s.Mark)
	case s.Depth != "":
		text = "the depth of " + name(s.Depth)
	case s.Tape[0] != "":
		text = "the tape from " + name(s.Tape[0]) + " to " + name(s.Tape[1])
	}
	if s.Limit > 0 {
		text += " (within " + p.need(s.Limit) + p.unit() + ")"
	}
	return text
}
