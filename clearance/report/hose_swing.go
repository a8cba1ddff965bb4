package report

import (
	"math"

	"elbowroom/clearance"
)

// mayTouch says of a swinging hose that it is not known to stay clear at all.
func (p *page) mayTouch(l clearance.Line) bool {
	return l.Swings != nil && l.Verdict == clearance.Unproven && p.overlaps(l)
}

// open says of a swinging hose that where it hangs leaves its line unproven.
func open(l clearance.Line) bool {
	return l.Swings != nil && l.Verdict == clearance.Unproven && l.Swings.Unknown > onLimit
}

// chosenReason is why a line is unproven; of a swinging hose it is said at length.
func chosenReason(l clearance.Line) clearance.Because {
	if open(l) {
		return clearance.NoReason
	}
	return l.Because
}

// hangs words what is not known of a swinging hose.
func (p *page) hangs(l clearance.Line) string {
	return "it swings between " + name(l.Swings.Holds[0]) + " and " + name(l.Swings.Holds[1]) +
		", and where it hangs there is not known to better than " + p.need(l.Swings.Unknown) + p.unit()
}

// tie words where to tie a swinging hose.
func (p *page) tie(l clearance.Line) string {
	t := l.Swings.Tie
	if t == nil {
		return "no tie was found that would settle it: lead it another way, or cut it with less slack"
	}
	return "tie it at " + p.at(t.At.X, t.At.Y, t.At.Z) + ", " + p.need(t.Along) + p.unit() + " along it, to something that stands still, and measure it as a run with a mark there"
}

// swings says how the hose hangs in a motion, and what is taken for granted of it.
func (p *page) swings(h clearance.Hose, m clearance.HoseMove) {
	if m.Kept == 0 {
		return
	}
	if m.Free > 0 {
		text := name(m.Motion) + ": left to itself it would bend to " + p.free(math.Max(0, m.Free-h.Outside/2)) + p.unit() + " to its inside somewhere in it"
		if wanted := h.LeastWanted(); m.Free < wanted-onLimit {
			text += ", tighter than it may: hold it with a tie, or cut it longer"
		}
		p.entry(text + ".")
	}
	p.entry(name(m.Motion) + ": what it keeps there is proven for every way that it can hang between its holds, so long as it does not stretch and bends no tighter than " +
		p.need(math.Max(0, m.Kept-h.Outside/2)) + p.unit() + " to its inside" + chosen(h.Led, "", ", and is tied where its marks are") + ".")
}

type swingKeys struct {
	Unknown *number `json:"unknown_mm"`
	Tie     *place  `json:"tie_mm"`
	Along   *number `json:"tie_along_mm"`
}

func swingsJSON(s *clearance.Swings) *swingKeys {
	if s == nil {
		return nil
	}
	keys := &swingKeys{Unknown: known(s.Unknown, true)}
	if s.Tie != nil {
		keys.Tie, keys.Along = placeOf(s.Tie.At), known(s.Tie.Along, true)
	}
	return keys
}
