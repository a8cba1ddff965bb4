package report

import (
	"strings"

	"elbowroom/clearance"
)

// hosesThat words the hoses that decide, with what to do.
func (p *page) hosesThat(decides func(clearance.Hose) bool) []string {
	var items []string
	for _, h := range p.r.Hoses {
		if decides(h) {
			items = append(items, p.hoseStanding(h)+": "+p.hoseRemedy(h))
		}
	}
	return items
}

// hoseStanding says how a hose's bends stand.
func (p *page) hoseStanding(h clearance.Hose) string {
	who := name(h.Name)
	switch {
	case !h.Checked:
		return who + ": no run that could be checked"
	case h.Ports != "":
		return who + ": " + Clean(h.Ports)
	case !h.Bent:
		return who + ": straight"
	case h.Spacing > 0:
		return who + ": the marks of its run stand too close together to show its bends"
	}
	text := who + " bends to " + p.free(h.Least) + p.convention(h) + " at " + name(h.LeastAt)
	if take, ok := p.giveOrTake(h.U); ok {
		text += ", give or take " + take
	}
	return text + ", wants " + p.need(h.Wanted) + p.unit()
}

// convention says what a bend radius is measured to.
func (p *page) convention(h clearance.Hose) string {
	return chosen(h.ToCentre, " (to its centre)", " (to its inside)")
}

func (p *page) hoseRemedy(h clearance.Hose) string {
	switch {
	case !h.Checked:
		return "measure marks along where it is wanted, as a feature with run: true"
	case h.Ports != "":
		return "take the marks of its run again, or turn the fitting"
	case h.Spacing > 0:
		return "take them at least " + p.need(h.Spacing) + p.unit() + " apart"
	case h.Verdict == clearance.Tight:
		return "lead it in a wider bend, or take a hose that bends tighter"
	}
	return "take " + name(h.LeastAt) + " and its neighbours again, or lead it in a wider bend"
}

// hoses lists every hose.
func (p *page) hoses() {
	if len(p.r.Hoses) == 0 {
		return
	}
	p.head("Hoses")
	for _, h := range p.r.Hoses {
		text := p.hoseStanding(h)
		if h.Checked {
			text += "; " + p.need(h.Length) + p.unit() + " along its middle, to be cut " + p.need(h.Cut) + p.unit()
		}
		p.entry(text + " - " + verdictWords(h.Verdict, h.Because) + ".")
	}
}

// verdictWords is a verdict with its reason.
func verdictWords(v clearance.Verdict, b clearance.Because) string {
	if v != clearance.Unproven || b == clearance.NoReason {
		return v.String()
	}
	return strings.TrimSpace(v.String() + ", " + reason(b))
}
