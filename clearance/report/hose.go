package report

import (
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"elbowroom/clearance"
	"elbowroom/clearance/hose"
)

// HoseText writes the hoses of those names in detail, in the report's order; without
// names all of them. The error is that of w.
func HoseText(w io.Writer, r *clearance.Report, names []string, o Options) error {
	r = withoutRepeats(r)
	p := newPage(r, o)
	for i, h := range chosenHoses(r, names) {
		if i > 0 {
			p.lines = append(p.lines, "")
		}
		p.hoseInDetail(h)
	}
	_, err := io.WriteString(w, p.text())
	return err
}

// HosesSound says whether the hoses of those names bend no tighter than they may and
// keep their gaps, all of it proved.
func HosesSound(r *clearance.Report, names []string) bool {
	for _, h := range chosenHoses(r, names) {
		if h.Verdict != clearance.Clears {
			return false
		}
		for _, l := range linesOf(r, h.Name) {
			if l.Verdict != clearance.Clears {
				return false
			}
		}
	}
	return true
}

func chosenHoses(r *clearance.Report, names []string) []clearance.Hose {
	if len(names) == 0 {
		return r.Hoses
	}
	var out []clearance.Hose
	for _, h := range r.Hoses {
		for _, n := range names {
			if h.Name == n {
				out = append(out, h)
				break
			}
		}
	}
	return out
}

// linesOf lists the lines of one hose, worst first.
func linesOf(r *clearance.Report, hose string) []clearance.Line {
	var out []clearance.Line
	for _, l := range r.Lines {
		if l.Part == hose || l.Own && l.Feature == hose {
			out = append(out, l)
		}
	}
	return out
}

func (p *page) hoseInDetail(h clearance.Hose) {
	p.say(p.hoseHeadline(h))
	from := "From " + name(h.From) + " to " + name(h.To)
	switch {
	case !h.Checked || h.Fights:
		p.say(from + ": " + p.hoseRemedy(h) + ".")
		p.elbow(h)
		return
	case h.Led:
		p.say(from + ", a run that the program found" + chosen(h.Direct, ": the shortest that keeps the bend radius"+
			chosen(h.Crowded, "", " and every gap")+".", ", led round what is in the way."))
	default:
		p.say(from + ", along the marks that you measured.")
	}
	p.entry("Cut it " + p.need(h.Cut) + p.unit() + ": " + p.need(h.Length) + p.unit() + " along its middle" + p.slackWords(h) + ".")
	p.radii(h)
	if h.Spacing > 0 {
		p.entry("Its marks are too close together, for how well they are known, to speak for that radius: take them at least " + p.need(h.Spacing) + p.unit() + " apart.")
	}
	p.forms(h)
	p.elbow(h)
	if says, ok := p.byItself(h); ok {
		p.head("Left to itself")
		p.entry(capital(says))
		p.branches(h)
		p.entry("This is an even, springy hose with a clamp at each end. Its weight, the set that it has from its coil, and the pressure that straightens it are left out.")
	}
	p.moves(h)
	p.hoseLines(h)
}

// hoseHeadline is the verdict over bends and gaps, and what the bends are.
func (p *page) hoseHeadline(h clearance.Hose) string {
	worst := h.Verdict
	because := h.Because
	for _, l := range linesOf(p.r, h.Name) {
		if rank(l.Verdict) > rank(worst) {
			worst, because = l.Verdict, chosenReason(l)
		}
	}
	if h.Crowded {
		because = clearance.NoReason // it says it
	}
	return verdictWords(worst, because) + " - " + p.hoseStanding(h)
}

// rank orders the verdicts, worst last.
func rank(v clearance.Verdict) int {
	return [...]int{clearance.Clears: 0, clearance.Unproven: 1, clearance.Tight: 2, clearance.Fouls: 3}[v]
}

func (p *page) slackWords(h clearance.Hose) string {
	if h.Cut-h.Length < onLimit {
		return ", no slack asked for"
	}
	return " and " + p.free(h.Cut-h.Length) + p.unit() + " of slack"
}

// radii prints the least bend radius both ways, since makers count either way.
func (p *page) radii(h clearance.Hose) {
	if !h.Bent {
		p.entry("It runs straight.")
		return
	}
	where := ""
	if h.LeastAt != "" {
		where = " at " + name(h.LeastAt)
	}
	p.entry("Its tightest bend" + where + " has " + p.free(h.LeastCentre-h.Outside/2) + p.unit() + " to the inside, which is " +
		p.free(h.LeastCentre) + p.unit() + " to the centre; wanted " + p.need(h.Wanted) + p.unit() + p.convention(h) + ".")
}

// forms says how to form the run, in the order in which a person does.
func (p *page) forms(h clearance.Hose) {
	if len(h.Forms) == 0 {
		return
	}
	p.head("Bends, in order from " + name(h.From))
	for i, f := range h.Forms {
		text := fmt.Sprintf("%d.", i+1) + string(glue)
		if f.Straight > onLimit {
			text += p.need(f.Straight) + p.unit() + " straight, then "
		}
		text += rolled(f, i) + "bend " + wholeDegrees(s1.Angle(f.Turn)) + toward(f.Side, i) + ", radius " + p.free(f.Radius-h.Outside/2) + p.unit() +
			" to the inside; the bend begins " + p.need(f.Start) + p.unit() + " from the end."
		p.entry(text)
	}
	if h.Tail > onLimit {
		p.entry("then " + p.need(h.Tail) + p.unit() + " straight to " + name(h.To) + ".")
	}
}

// rolled words by how much a bend's plane is turned from the one before.
func rolled(f hose.Form, i int) string {
	turned := math.Abs(f.Roll) * 180 / math.Pi
	switch {
	case i == 0:
		return ""
	case turned < 0.5:
		return "the same way, "
	case turned > 179.5:
		return "the opposite way, "
	}
	return "turned " + wholeDegrees(s1.Angle(math.Abs(f.Roll))) + " " + chosen(f.Roll > 0, "clockwise", "anticlockwise") + " (looking along the hose), "
}

// toward words where the first bend goes; the others follow from it.
func toward(side r3.Vector, i int) string {
	if i > 0 {
		return ""
	}
	var words []string
	for _, w := range []struct {
		by        float64
		plus, min string
	}{{side.Y, "up the face", "down the face"}, {side.X, "to the right", "to the left"}, {side.Z, "out, toward you", "in, toward the face"}} {
		// Under 20 degrees off the other two it is not worth a word.
		if math.Abs(w.by) > 0.34 {
			words = append(words, chosen(w.by > 0, w.plus, w.min))
		}
	}
	return " " + strings.Join(words, " and ")
}

// elbow says whether a moulded elbow would do.
func (p *page) elbow(h clearance.Hose) {
	p.head("A moulded elbow instead")
	if !h.HasElbow {
		p.entry("None of 45 or 90 degrees would do: the axes of the two ends do not meet at that angle, to 5 degrees and a quarter of the hose's thickness.")
		return
	}
	e := h.Elbow
	text := "One of " + wholeDegrees(s1.Angle(e.Angle)) + " would do: " + p.need(e.In) + p.unit() + " from " + name(h.From) + " to its corner, " + p.need(e.Out) + p.unit() +
		" from there to " + name(h.To) + ", any radius up to " + p.free(e.Radius) + p.unit() + " to the centre"
	var off []string
	if math.Abs(e.Off) > 0.5*math.Pi/180 {
		off = append(off, wholeDegrees(s1.Angle(math.Abs(e.Off)))+" off its angle")
	}
	if e.Miss > onLimit {
		off = append(off, p.need(e.Miss)+p.unit()+" aside")
	}
	if len(off) > 0 {
		text += "; the ends are " + strings.Join(off, " and ") + ", which its legs give"
	}
	p.entry(text + ". What it passes on its way was not checked.")
}

// byItself says how a hose lies that nothing holds; nothing of one that is held to
// its marks.
func (p *page) byItself(h clearance.Hose) (string, bool) {
	if len(h.Free) == 0 || !h.Bent {
		return "", false
	}
	inside := 0.0
	if !h.ToCentre {
		inside = h.Outside / 2
	}
	least := h.Free[0].Radius - inside
	text := "left to itself, cut to that length, it would bend to " + p.free(math.Max(0, least)) + p.unit() + p.convention(h)
	if least >= h.Wanted-onLimit {
		return text + ", which is gentle enough.", true
	}
	text += ", tighter than the run as drawn: hold it to that with a clip"
	if h.Easy > 0 {
		text += ", or cut it about " + p.need(h.Easy) + p.unit()
	}
	return text + ".", true
}

// branches says what else a free hose may do: its other rests, and what it would
// come near.
func (p *page) branches(h clearance.Hose) {
	worst := h.Free[0]
	for _, f := range h.Free {
		if f.Margin < worst.Margin {
			worst = f
		}
	}
	if n := len(h.Free); n > 1 {
		tightest := h.Free[0].Radius
		for _, f := range h.Free {
			tightest = math.Min(tightest, f.Radius)
		}
		p.entry("It can rest in " + count(n, "shape", "shapes") + ", as it is pushed; the tightest of them has " + p.free(math.Max(0, tightest-h.Outside/2)) + p.unit() + " to the inside.")
	}
	if worst.Near != "" && worst.Margin < 0 {
		p.entry("Lying so it may come nearer to " + name(worst.Near) + " than its gap and what being sure takes, by " + p.need(-worst.Margin) + p.unit() + ": hold it to its run with a clip.")
	}
}

// moves says what motions ask of the length.
func (p *page) moves(h clearance.Hose) {
	if len(h.Moves) == 0 {
		return
	}
	p.head("While " + name(h.To) + " moves")
	for _, m := range h.Moves {
		text := name(m.Motion) + ": "
		switch {
		case m.Lost:
			p.entry(text + "somewhere in it no run bends as gently as it must.")
			continue
		case m.NeedsAtMost <= onLimit:
			text += "no more length needed"
		default:
			text += "it needs up to " + p.need(m.NeedsAtMost) + p.unit() + " more than at rest"
		}
		if short := m.Short(); short > 0 {
			text += " and has " + p.free(m.Has) + p.unit() + " of slack: give it " + p.need(short) + p.unit() + " more"
		} else if m.NeedsAtMost > onLimit {
			text += " and has " + p.free(m.Has) + p.unit() + " of slack"
		}
		p.entry(text + ".")
		p.swings(h, m)
	}
}

// hoseLines lists what the hose was held against.
func (p *page) hoseLines(h clearance.Hose) {
	lines := linesOf(p.r, h.Name)
	if len(lines) == 0 {
		return
	}
	p.head("What it keeps from, worst first; lengths in " + p.unitWord())
	for _, l := range lines {
		text := p.standing(l)
		if len(l.Marks) > 0 {
			text += ", by " + list(names(l.Marks), mostNames)
		}
		if open(l) {
			text += "; " + p.hangs(l) + ": " + p.tie(l)
		}
		p.entry(text + " - " + verdictWords(l.Verdict, chosenReason(l)) + ".")
	}
}

func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
