package report

import (
	"fmt"
	"math"
	"path/filepath"
	"sort"
	"strings"

	"github.com/golang/geo/r3"

	"elbowroom/survey"
)

// weakest is the mark that is known least in its worst direction.
func (p *surveyPage) weakest() (mark int, ok bool) {
	most := 0.0
	for m, spread := range p.spreads {
		if p.s.Marks[m].Located && spread.Worst > most*(1+onLimit) {
			mark, most, ok = m, spread.Worst, true
		}
	}
	return mark, ok
}

// inLine is the cosine from which on a direction counts as that of an axis: 25
// degrees off it.
const inLine = 0.9

// alike is the share of the greatest uncertainty from which on the others count
// as the same.
const alike = 0.95

// way words in which direction a mark is known least. One that lies between the
// axes is named by those of which it has a third or more.
func (p *surveyPage) way(s survey.Spread) string {
	if min(s.U.X, s.U.Y, s.U.Z) > alike*s.Worst {
		return "every way alike"
	}
	var axes []string
	for axis, c := range [3]float64{s.Toward.X, s.Toward.Y, s.Toward.Z} {
		switch {
		case math.Abs(c) > inLine:
			return "along " + "xyz"[axis:axis+1]
		case math.Abs(c) > 1.0/3:
			axes = append(axes, "xyz"[axis:axis+1])
		}
	}
	return "aslant between " + list(axes, 3)
}

// unchecked lists the rows that neither a repeat nor a tape checks in every
// direction. Those of a flat's marks are among them only with flats, which show a
// slip square to them.
func (p *surveyPage) unchecked(flats bool) []int {
	var out []int
	for k, r := range p.s.Rows {
		if !r.Shared && r.Redundancy < survey.LeastRedundancy && r.Widest > 0 && (flats || len(r.Flats) == 0) {
			out = append(out, k)
		}
	}
	return out
}

// doubts lists what may be wrong with the readings.
func (p *surveyPage) doubts() {
	say := func(s survey.Severity, head string) {
		for i, d := range p.v.doubts(s) {
			if i == 0 {
				p.head(head)
			}
			p.entry(p.doubt(d, d.Pos.File))
		}
	}
	say(survey.Suspect, "In doubt, worst first")
	say(survey.Remark, "Worth knowing, though no reading is in doubt for it")
}

// alone names the readings that are not checked in every direction, by what
// would check them.
func (p *surveyPage) alone() {
	var flat, points, others []string
	for _, k := range p.unchecked(true) {
		r := p.s.Rows[k]
		switch {
		case r.Kind != survey.Points:
			others = addNew(others, p.called(r))
		case len(r.Flats) > 0:
			flat = addNew(flat, name(p.s.Marks[r.Mark].Name))
		default:
			points = addNew(points, name(p.s.Marks[r.Mark].Name))
		}
	}
	if len(flat)+len(points)+len(others) == 0 {
		return
	}
	p.head("Readings that are not checked in every direction: a slip there may not show")
	if len(points) > 0 {
		p.entry(list(points, len(points)) + ": coordinates taken once. Take them once more, or pull a tape between two of them.")
	}
	if len(flat) > 0 {
		p.entry(list(flat, len(flat)) + ": coordinates taken once; the flat shows a slip square to it, little one along it. A tape between two of them does.")
	}
	if len(others) > 0 {
		p.entry(list(others, len(others)) + ": take each once more, or add one from another mark.")
	}
}

// called names a reading.
func (p *surveyPage) called(r survey.Row) string {
	at := func(i int) string { return name(p.s.Marks[r.Marks[i]].Name) }
	switch r.Kind {
	case survey.Tapes:
		return "tape " + at(0) + " to " + at(1)
	case survey.Depths:
		return "depth at " + at(0)
	}
	return at(0) + " x y z"
}

// features says how each feature came out.
func (p *surveyPage) features() {
	if len(p.s.Features) == 0 {
		return
	}
	p.head("Features")
	for _, f := range p.s.Features {
		text := name(f.Spec.Name) + ": " + p.shape(f)
		if f.Plane != nil {
			text += ", flat within " + p.need(f.Plane.Flatness()) + p.unit() + fmt.Sprintf(", tilted %.1f degrees from the frame", tiltOf(f.Plane.Normal)*180/math.Pi)
		}
		var missing []string
		for _, m := range f.Missing {
			missing = append(missing, name(p.s.Marks[m].Name))
		}
		if len(missing) > 0 {
			text += "; no place yet for " + list(missing, mostNames)
		}
		p.entry(text + ".")
	}
}

func (p *surveyPage) shape(f survey.Feature) string {
	n := 0
	for _, node := range f.Nodes {
		if !node.Planar {
			n++
		}
	}
	text := f.Spec.Shape.String() + chosen(f.Spec.Run, " (a run)", "") + " of " + count(n, "mark", "marks")
	return text + chosen(f.Spec.Mount, ", which the box is bolted to", "")
}

// tiltOf is the angle of a direction from the frame's nearest axis, radians.
func tiltOf(n r3.Vector) float64 {
	return math.Acos(math.Min(1, math.Max(math.Abs(n.X), math.Max(math.Abs(n.Y), math.Abs(n.Z)))))
}

// words says what the figures mean.
func (p *surveyPage) words() {
	p.head("What the words mean")
	p.entry("give or take: two standard uncertainties. If the limits that you gave are true, about 95 times in 100 the mark is no farther than that from where it is said to be.")
	p.entry("off: how much more the other readings make of a reading than it says. w: that, in units of what chance makes of it; beyond 3.3 either way chance does it once in a thousand. Of a row of three coordinates it is of the one that stands out most.")
	p.entry("checked: the share of a slip in this reading that would show in it. - : nothing checks it.")
	p.entry("seen from: a smaller slip than this would likely go unseen. moves: how far one of just that size would move a mark. Both are rounded up.")
}

// table sets figures in columns, right-aligned, with words beside them.
func (p *surveyPage) table(rows [][]string) {
	last := len(rows[0]) - 1
	widest := make([]int, last)
	for _, row := range rows {
		for k := range widest {
			widest[k] = max(widest[k], width(row[k]))
		}
	}
	for _, row := range rows {
		line := " "
		for k, cell := range row[:last] {
			line += " " + strings.Repeat(" ", widest[k]-width(cell)) + cell
		}
		p.beside(line+"  ", row[last])
	}
}

// marks lists where the marks are.
func (p *surveyPage) marks() {
	if len(p.s.Marks) == 0 {
		return
	}
	p.head("Marks, each figure with its give or take; in " + p.unitWord())
	rows := [][]string{{"x", "", "y", "", "z", "", "mark, what it is of, and how it was measured"}}
	for m, mark := range p.s.Marks {
		what := name(mark.Name)
		if of := p.of[m]; len(of) > 0 {
			what += ", " + list(names(of), 3)
		}
		if !mark.Located {
			rows = append(rows, []string{"-", "", "-", "", "-", "", what + "; no place yet"})
			continue
		}
		if mark.From != survey.Points {
			what += "; by " + mark.From.String()
		}
		u := p.spreads[m].U
		rows = append(rows, []string{p.place(mark.At.X), p.take(u.X), p.place(mark.At.Y), p.take(u.Y), p.place(mark.At.Z), p.take(u.Z), what})
	}
	p.table(rows)
}

func (p *surveyPage) take(u float64) string {
	text, ok := p.giveOrTake(u)
	return chosen(ok, text, "0")
}

// readings lists the readings, those first that stand out most.
func (p *surveyPage) readings() {
	if len(p.s.Rows) == 0 {
		return
	}
	p.head("Readings, those that stand out most first; lengths in " + p.unitWord())
	rows := [][]string{{"off", "w", "checked", "seen from", "moves", "reading, and the mark that it moves most"}}
	for _, k := range p.order() {
		r, q := p.s.Rows[k], p.s.Adjustment.Readings[k]
		what := p.called(r) + ", " + glued(fmt.Sprintf("%s:%d", name(filepath.Base(r.Pos.File)), r.Pos.Line))
		if q.Redundancy < leastShown {
			rows = append(rows, []string{p.place(q.Residual), "-", "-", "-", "-", what})
			continue
		}
		moves := "-"
		if mark, by, ok := p.s.Unseen(k); ok {
			moves, what = p.need(by), what+"; "+name(p.s.Marks[mark].Name)
		}
		rows = append(rows, []string{p.place(q.Residual), fmt.Sprintf("%.1f", math.Round(10*q.W)/10+0), part(q.Redundancy), p.need(q.Seen), moves, what})
	}
	p.table(rows)
}

// leastShown is the redundancy under which a reading counts as checked by
// nothing: it prints as 0 %.
const leastShown = 0.005

// order is that of the table of readings: by |w| as it prints, those last that
// nothing checks.
func (p *surveyPage) order() []int {
	var out []int
	for k, r := range p.s.Rows {
		if !r.Shared {
			out = append(out, k)
		}
	}
	w := func(k int) float64 {
		if q := p.s.Adjustment.Readings[k]; q.Redundancy >= leastShown {
			return math.Round(10 * math.Abs(q.W))
		}
		return -1
	}
	sort.SliceStable(out, func(i, j int) bool { return w(out[i]) > w(out[j]) })
	return out
}
