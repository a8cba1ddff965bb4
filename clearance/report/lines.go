package report

import (
	"math"
	"strings"

	"elbowroom/clearance"
	"elbowroom/solid"
	"elbowroom/survey/length"
)

// onLimit is how near a limit counts as reaching it, mm: the project's one
// tolerance for that.
const onLimit = 1e-6

// touches says whether a line's clearance is nothing at all.
func (p *page) touches(l clearance.Line) bool { return math.Abs(l.Clearance) <= onLimit }

// giveOrTake words two standard uncertainties; ok is false where that is nothing.
func (p *page) giveOrTake(u float64) (text string, ok bool) {
	if 2*u <= onLimit {
		return "", false
	}
	return p.need(2 * u), true
}

// pair names a part and what it is held against: "fill cap under hatch". The
// word between is of the machine as it stands.
func (p *page) pair(l clearance.Line) string {
	text := name(l.Part) + " " + p.between(l) + " " + name(l.Feature)
	return text + p.during(l)
}

// between is "under" or "over" where the way from the part to the feature goes
// more up or down than sideways, else "to".
func (p *page) between(l clearance.Line) string {
	axis, far := p.upAxis()
	along := l.Toward.Dot(solid.Axis(axis))
	if !far {
		along = -along
	}
	switch {
	case along > math.Sqrt2/2: // steeper than 45 degrees
		return "under"
	case along < -math.Sqrt2/2:
		return "over"
	}
	return "to"
}

// standing says how a line stands, as in
// "fill cap under hatch: 5/16 clear, give or take 1/8, wants 1/4 in".
func (p *page) standing(l clearance.Line) string {
	var says []string
	start := p.pair(l) + ": "
	switch {
	case p.mayTouch(l):
		says = append(says, "it swings, and may touch")
	case p.overlaps(l):
		start = name(l.Part) + " overlaps " + name(l.Feature) + p.during(l)
		says = append(says, " by "+p.depth(l))
	case p.touches(l):
		says = append(says, "they touch")
	case p.none(l.Clearance):
		says = append(says, "less than "+glued(p.style.Bare(length.Needed(p.style.Step())))+" clear")
	default:
		says = append(says, chosen(l.Swings != nil, "at least ", "")+p.free(l.Clearance)+" clear")
	}
	if take, ok := p.giveOrTake(l.U); ok {
		says = append(says, "give or take "+take)
	}
	return start + strings.Join(append(says, p.wants(l.Gap)), ", ")
}

// overlaps says whether the clearance as measured is an overlap.
func (p *page) overlaps(l clearance.Line) bool { return l.Clearance < 0 && !p.touches(l) }

// depth words an overlap, which rounds up as the clearance rounds down.
func (p *page) depth(l clearance.Line) string {
	return chosen(l.AtLeast, "at least ", "") + p.need(-l.Clearance)
}

// wants words the gap that is asked for.
func (p *page) wants(gap float64) string {
	if gap <= 0 {
		return "must not touch"
	}
	return "wants " + p.need(gap) + p.unit()
}

// moreRoom is how much a clearance would have to grow for its line to clear,
// everything else being equal, mm.
func (p *page) moreRoom(l clearance.Line) float64 {
	return l.Gap + quantile(p.r.Wanted)*l.U - l.Clearance
}

// reason says in words why something is unproven.
func reason(b clearance.Because) string {
	switch b {
	case clearance.Near:
		return "too close to call"
	case clearance.Unmeasured:
		return "not looked at"
	case clearance.OneReading:
		return "hangs on a reading taken once"
	case clearance.NotChecked:
		return "not checked yet"
	case clearance.Together:
		return "sure enough alone, not with all the others"
	}
	return ""
}

// singles names the marks whose readings are taken once.
func singles(l clearance.Line) []string {
	var marks []string
	for _, r := range l.Single {
		one := name(r.Mark)
		if r.Tape != [2]string{} {
			one = "the tape from " + name(r.Tape[0]) + " to " + name(r.Tape[1])
		}
		marks = addNew(marks, one)
	}
	return marks
}

func addNew(list []string, s string) []string {
	for _, t := range list {
		if t == s {
			return list
		}
	}
	return append(list, s)
}
