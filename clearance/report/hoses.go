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
	short, isShort := shortMove(h)
	switch {
	case !h.Checked:
		return who + ": no run that could be checked"
	case h.Fights:
		return who + ": its two ends fight each other: no run between them bends as gently as it must, even with nothing in the way"
	case h.Crowded:
		text := who + ": no run was found that clears; the best is " + p.need(h.Short) + p.unit() + " short at " + name(h.Pinch)
		if isShort && h.Verdict == clearance.Tight {
			text += ", and it is too short for the motion " + name(short.Motion)
		}
		return text
	case h.Ports != "":
		return who + ": " + Clean(h.Ports)
	case isShort && short.Lost:
		return who + ": no run bends as gently as it must all through the motion " + name(short.Motion)
	case isShort && (h.Verdict == clearance.Tight || h.Spacing == 0):
		return who + ": too short for the motion " + name(short.Motion)
	case !h.Bent:
		return who + ": straight"
	case h.Spacing > 0:
		return who + ": the marks of its run stand too close together to show its bends"
	}
	text := who + " bends to " + p.free(h.Least) + p.convention(h)
	if h.LeastAt != "" {
		text += " at " + name(h.LeastAt)
	}
	if take, ok := p.giveOrTake(h.U); ok {
		text += ", give or take " + take
	}
	return text + ", wants " + p.need(h.Wanted) + p.unit()
}

// shortMove is the motion for which a hose is shortest, if for any it is short.
func shortMove(h clearance.Hose) (worst clearance.HoseMove, short bool) {
	for _, m := range h.Moves {
		if m.Lost {
			return m, true
		}
		if m.Short() > worst.Short() {
			worst, short = m, true
		}
	}
	return worst, short
}

// convention says what a bend radius is measured to.
func (p *page) convention(h clearance.Hose) string {
	return chosen(h.ToCentre, " (to its centre)", " (to its inside)")
}

func (p *page) hoseRemedy(h clearance.Hose) string {
	short, isShort := shortMove(h)
	switch {
	case !h.Checked:
		return "give its end mark a place, or measure marks along where it is wanted, as a feature with run: true"
	case h.Fights:
		return "turn the fitting, move it, or use a moulded elbow"
	case h.Crowded && isShort && h.Verdict == clearance.Tight && !short.Lost:
		return "give it " + p.need(short.Short()) + p.unit() + " more, and move the fitting, or measure a way by hand, as a feature with run: true"
	case h.Crowded:
		return "move the fitting, use a moulded elbow, or measure a way by hand, as a feature with run: true"
	case h.Ports != "":
		return "take the marks of its run again, or turn the fitting"
	case isShort && !short.Lost && (h.Verdict == clearance.Tight || h.Spacing == 0):
		return "give it " + p.need(short.Short()) + p.unit() + " more"
	case isShort && short.Lost:
		return "turn the fitting, or take a hose that bends tighter"
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
		if h.Checked && !h.Fights {
			text += p.otherRadius(h)
			text += "; " + p.need(h.Length) + p.unit() + " along its middle, to be cut " + p.need(h.Cut) + p.unit()
			if h.Led {
				text += "; a run that the program found"
			}
		}
		p.entry(text + " - " + hoseVerdict(h) + ".")
		if says, ok := p.byItself(h); ok {
			p.entry(name(h.Name) + ": " + says)
		}
	}
}

// otherRadius is the least bend radius by the other convention.
func (p *page) otherRadius(h clearance.Hose) string {
	if !h.Bent || h.LeastCentre == 0 {
		return ""
	}
	if h.ToCentre {
		return "; " + p.free(h.LeastCentre-h.Outside/2) + p.unit() + " to its inside"
	}
	return "; " + p.free(h.LeastCentre) + p.unit() + " to its centre"
}

// hoseVerdict is a hose's verdict; that no run was found is a reason by itself.
func hoseVerdict(h clearance.Hose) string {
	if h.Crowded {
		return h.Verdict.String()
	}
	return verdictWords(h.Verdict, h.Because)
}

// verdictWords is a verdict with its reason.
func verdictWords(v clearance.Verdict, b clearance.Because) string {
	if v != clearance.Unproven || b == clearance.NoReason {
		return v.String()
	}
	return strings.TrimSpace(v.String() + ", " + reason(b))
}
