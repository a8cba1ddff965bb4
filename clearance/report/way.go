package report

import (
	"fmt"
	"math"
	"strings"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"elbowroom/clearance"
	"elbowroom/solid"
	"elbowroom/survey/length"
)

// wayIn words how the box goes in, leg by leg.
func (p *page) wayIn() {
	w := p.r.WayIn
	if w == nil {
		return
	}
	if !w.Found {
		p.head("The way in: none was found - " + w.Verdict.String())
		p.entry(p.stuck(w))
		p.entry(p.without(w))
		p.entry("That none was found does not prove that there is none: try with a mock-up, or write a path of your own under way_in.")
		return
	}
	head := "The way in - " + w.Verdict.String()
	if w.Verdict == clearance.Unproven && w.Because != clearance.NoReason {
		head += ", " + reason(w.Because)
	}
	p.head(head)
	for i, leg := range p.legs(w.Steps) {
		p.entry(fmt.Sprintf("%d. %s", i+1, leg))
	}
	p.entry(p.nearestOnWay(w))
	p.entry("It comes out the same way, last step first. " + p.without(w) + " Nothing is asked of the way but that it does not touch.")
	if !w.Outside {
		p.entry("The path given starts within the room: how the box gets there is not checked.")
	}
	if len(w.Unseen) > 0 {
		p.entry(p.unseenSides(w) + ": the box moves that way, and nobody looked: look, and say so under looked_at.")
	}
	p.entry(p.hiddenOnWay(w))
}

// without says what is not there on the way.
func (p *page) without(w *clearance.WayIn) string {
	text := "It goes in without hoses, and without what is fitted after"
	if len(w.Aside) > 0 {
		text += ", " + list(names(w.Aside), mostNames) + " being out of the way"
	}
	return text + "."
}

// nearestOnWay says what comes nearest, how sure that is, and where the box then is.
func (p *page) nearestOnWay(w *clearance.WayIn) string {
	if w.Part == "" {
		return "Nothing measured comes near it on the way."
	}
	text := "Least clearance on the way: " + p.free(w.Least) + p.unit()
	if w.Least < 0 {
		text = "On the way they overlap by at least " + p.need(-w.Least) + p.unit()
	}
	if take, ok := p.giveOrTake(w.U); ok {
		text += ", give or take " + take
	}
	text += ", " + name(w.Part) + " to " + name(w.Feature)
	if len(w.Marks) > 0 {
		text += ", by " + list(names(w.Marks), mostNames)
	}
	return text + "; the box is then " + p.offset(w.At) + "."
}

// hiddenOnWay says what could be in the way and was not measured.
func (p *page) hiddenOnWay(w *clearance.WayIn) string {
	text := "Only what was measured is known not to be in the way: "
	if !w.HiddenOK {
		return text + "where the box goes, nothing was measured."
	}
	text += "where the box goes, the largest thing that could be there and touch none of it is " + p.need(w.Hidden) + p.unit() +
		" across, about " + p.at(w.HiddenAt.X, w.HiddenAt.Y, w.HiddenAt.Z)
	return text + chosen(len(w.Unseen) == 0, "; you looked.", ".")
}

func (p *page) unseenSides(w *clearance.WayIn) string {
	var sides []string
	for _, s := range w.Unseen {
		sides = append(sides, p.sideName(s))
	}
	return list(sides, 6)
}

// stuck says how far the box gets.
func (p *page) stuck(w *clearance.WayIn) string {
	s := w.Stuck
	from := "From its place"
	if s.At.Shift.Norm() > p.style.Step()/2 || s.At.Turn.Norm() > 0 {
		from = "At " + p.offset(clearance.Step{Shift: s.At.Shift, Turn: s.At.Turn})
	}
	text := from + " it still has " + p.need(s.Left) + p.unit() + " to go " + p.heading(s.Toward) + " to be out"
	if s.Thing == "" {
		return text + "."
	}
	if s.Clearance < 0 {
		return text + ", and " + name(s.Part) + " is in " + name(s.Thing) + "."
	}
	text += ", and " + name(s.Part) + " is " + p.free(s.Clearance) + p.unit() + " from " + name(s.Thing)
	if s.Needs > 0 {
		text += "; nearer than " + p.need(s.Needs) + p.unit() + " is not sure to be clear of it"
	}
	return text + "."
}

// legs words the moves from the first step to home.
func (p *page) legs(steps []clearance.Step) []string {
	if len(steps) == 0 {
		return nil
	}
	out := []string{"Hold it " + p.offset(steps[0]) + "."}
	for i := 1; i < len(steps); i++ {
		a, b := steps[i-1], steps[i]
		var says []string
		if d := b.Shift.Sub(a.Shift); d.Norm() > p.style.Step()/2 {
			says = append(says, "move it "+p.distances(d))
		}
		if b.Turn != a.Turn {
			if b.Turn == (r3.Vector{}) {
				says = append(says, "turn it back level and square")
			} else {
				says = append(says, "turn it until it is "+p.turned(b.Turn))
			}
		}
		if len(says) == 0 {
			continue
		}
		leg := strings.Join(says, ", and meanwhile ")
		if i == len(steps)-1 {
			leg += "; it is home"
		}
		out = append(out, strings.ToUpper(leg[:1])+leg[1:]+".")
	}
	return out
}

// offset words a pose as seen from home.
func (p *page) offset(s clearance.Step) string {
	where := "in its place"
	if s.Shift.Norm() > p.style.Step()/2 {
		where = p.distances(s.Shift) + ", counted from its place"
	}
	const half = 0.5 * math.Pi / 180 // of a degree, which prints as none
	if s.Turn.Norm() >= half {
		where += ", " + p.turned(s.Turn)
	}
	return where
}

// distances words a move along the frame's axes, the longest first. What is less than
// a hundredth of the move is left out: the hand does not follow it.
func (p *page) distances(d r3.Vector) string {
	type part struct {
		size float64
		text string
	}
	var parts []part
	for axis := range 3 {
		by := d.Dot(solid.Axis(axis))
		if math.Abs(by) <= math.Max(p.style.Step()/2, d.Norm()/100) {
			continue
		}
		text := p.style.Print(length.Place(math.Abs(by))) + " " + p.heading(solid.Axis(axis).Mul(by))
		at := len(parts)
		for at > 0 && parts[at-1].size < math.Abs(by) {
			at--
		}
		parts = append(parts[:at], append([]part{{math.Abs(by), text}}, parts[at:]...)...)
	}
	var words []string
	for _, q := range parts {
		words = append(words, q.text)
	}
	return strings.Join(words, " and ")
}

// heading words a direction along one axis of the mounting frame.
func (p *page) heading(d r3.Vector) string {
	axis := 0
	for k := 1; k < 3; k++ {
		if math.Abs(d.Dot(solid.Axis(k))) > math.Abs(d.Dot(solid.Axis(axis))) {
			axis = k
		}
	}
	far := d.Dot(solid.Axis(axis)) > 0
	if up, _ := p.upAxis(); axis == 2 && up != 2 {
		return chosen(far, "out from the face", "toward the face")
	}
	return p.toward(axis, far)
}

// turned words a turn: about one axis of the frame by which way a side of it goes,
// else by the axis.
func (p *page) turned(turn r3.Vector) string {
	angle := turn.Norm()
	u := turn.Mul(1 / angle)
	by := wholeDegrees(s1.Angle(angle))
	// Within half a degree of an axis it is as good as that.
	const along = 0.99996
	words := [3][2]string{
		{"tipped with its top toward the face", "tipped with its top out from the face"},
		{"swung with its right side out from the face", "swung with its right side toward the face"},
		{"turned with its right side down", "turned with its right side up"},
	}
	for axis := range 3 {
		switch c := u.Dot(solid.Axis(axis)); {
		case c > along:
			return words[axis][1] + " by " + by
		case c < -along:
			return words[axis][0] + " by " + by
		}
	}
	return fmt.Sprintf("turned by %s about the direction x %.2f, y %.2f, z %.2f", by, u.X, u.Y, u.Z)
}

// wayOpen says what is not proved of the way in, apart from its line; none says that no
// way was found.
func (p *page) wayOpen() (none bool, says string) {
	w := p.r.WayIn
	switch {
	case w == nil || w.Verdict != clearance.Unproven:
		return false, ""
	case !w.Found:
		return true, "no way in was found"
	case w.Because == clearance.Unmeasured && len(w.Unseen) > 0:
		return false, "the way in goes where nobody looked"
	case w.Because == clearance.Unmeasured:
		return false, "the way in starts within the room"
	}
	return false, ""
}

// wayInItem words what the way in decides on the first screen; blank: nothing.
func (p *page) wayInItem() string {
	w := p.r.WayIn
	switch {
	case w == nil || w.Verdict == clearance.Clears:
		return ""
	case !w.Found && w.Stuck.Thing != "":
		return "the way in: none was found, " + name(w.Stuck.Part) + " comes up against " + name(w.Stuck.Thing) + ": try it with a mock-up"
	case !w.Found:
		return "the way in: none was found: try it with a mock-up"
	case len(w.Unseen) > 0 && w.Because == clearance.Unmeasured:
		return "the way in: it goes past " + p.unseenSides(w) + ", where nobody looked"
	case !w.Outside && w.Because == clearance.Unmeasured:
		return "the way in: the path given starts within the room"
	}
	return "" // its line says it
}
