package report

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"elbowroom/clearance"
	"elbowroom/solid"
	"elbowroom/survey/length"
)

// SizesText writes the answer to many sizes for people: how many go in, the best
// trades, then a table of all. A cell is one word, so that the lines can be sorted
// by any column; where the room is least comes last. The error is that of w.
func SizesText(w io.Writer, s *clearance.Sizes, o Options) error {
	p := newPage(&clearance.Report{Unit: s.Unit}, o)
	t := sizesTable{page: p, s: s, moved: placesDiffer(s)}
	t.summary()
	if len(s.Best) > 0 {
		p.head(t.bestHead())
		t.table(s.Best)
	}
	p.head("All sizes:")
	all := make([]int, len(s.All))
	for i := range all {
		all[i] = i
	}
	t.table(all)
	_, err := io.WriteString(w, p.text())
	return err
}

// sizesTable words sizes.
type sizesTable struct {
	*page
	s     *clearance.Sizes
	moved bool // the places differ, so that they have columns
}

// placesDiffer says whether the candidates stand at more than one place.
func placesDiffer(s *clearance.Sizes) bool {
	for i := range s.All {
		if s.All[i].At != s.All[0].At {
			return true
		}
	}
	return false
}

func (t *sizesTable) summary() {
	s := t.s
	n := len(s.All)
	t.say(sizesHead(s))
	if n < s.Asked {
		t.say(fmt.Sprintf("Stopped after %d of %d sizes: the rest is not here.", n, s.Asked))
	}
	if why := stopsAll(s.Unchecked); why != "" {
		t.say("No size can clear: " + why + " not checked yet.")
	}
	if left := countSizes(s, func(z *clearance.Sized) bool { return z.Left }); left > 0 {
		t.say(fmt.Sprintf("%s not held against everything (in-part, below): to hold each of many sizes against %s takes too long, so only the best trades were. Of the others one that is unproven may yet clear, foul or be tight, and one that is tight may foul. Ask check about them, or try fewer sizes at a time.",
			chosen(left == 1, "One is", fmt.Sprint(left)+" are"), notHeld(s.NotHeld)))
	}
	if s.Some {
		t.say("Some of these might be better than the best trades below.")
	}
	if open := countSizes(s, func(z *clearance.Sized) bool { return z.Open && !z.Left }); open > 0 {
		t.say(fmt.Sprintf("%s unproven here (undrawn, below) though each place alone is sure enough: whether all hold together was drawn only for the best trades. Ask check about them.",
			chosen(open == 1, "One is", fmt.Sprint(open)+" are")))
	}
	t.say(t.legend())
}

// sizesHead counts the verdicts.
func sizesHead(s *clearance.Sizes) string {
	n := len(s.All)
	made := 0
	var words []string
	for _, v := range [4]clearance.Verdict{clearance.Clears, clearance.Unproven, clearance.Tight, clearance.Fouls} {
		k := s.Count(v)
		made += k
		word := chosen(k == 1, v.String(), map[clearance.Verdict]string{
			clearance.Clears: "clear", clearance.Unproven: "unproven", clearance.Tight: "tight", clearance.Fouls: "foul",
		}[v])
		words = append(words, fmt.Sprint(k)+string(glue)+word)
	}
	if made < n {
		words = append(words, fmt.Sprint(n-made)+string(glue)+"cannot be made")
	}
	return count(n, "size", chosen(placesDiffer(s), "sizes and places", "sizes")) + ": " + list(words, len(words)) + "."
}

// stopsAll names what nobody checked.
func stopsAll(list []clearance.Unchecked) string {
	var words []string
	for _, u := range list {
		word := name(u.What)
		if u.Kind == clearance.UncheckedMark {
			word += " (mark " + name(u.Mark) + " needs a tape)"
		}
		words = append(words, word)
	}
	if len(words) == 0 {
		return ""
	}
	return listOf(words) + chosen(len(words) == 1, " is", " are")
}

func listOf(words []string) string { return list(words, 4) }

// notHeld names what takes long.
func notHeld(list []clearance.NotHeld) string {
	var words []string
	for _, what := range list {
		words = append(words, map[clearance.NotHeld]string{
			clearance.BodyInMotions: "what moves", clearance.RoomToTurn: "room for tools", clearance.HosesToBeFound: "hoses to be found",
			clearance.LiquidLevels: "levels", clearance.TheWayIn: "the way in",
		}[what])
	}
	return listOf(words)
}

func countSizes(s *clearance.Sizes, is func(z *clearance.Sized) bool) int {
	n := 0
	for i := range s.All {
		if is(&s.All[i]) {
			n++
		}
	}
	return n
}

func (t *sizesTable) legend() string {
	volume := "litres: what it holds"
	if !t.s.Known {
		volume = "litres: its outside volume, since no sheet is given"
	}
	return fmt.Sprintf("Lengths in %s. sure: in %%, that all holds together; wanted %s. %s. to-spare: the least of each clearance less the gap that it wants, and where; least: the least clearance, whatever it wants. Rounded to the safe side.",
		unitWord(t.style.Unit), exactPercent(t.s.Wanted), volume)
}

func unitWord(u length.Unit) string {
	return map[length.Unit]string{length.MM: "mm", length.CM: "cm", length.Metre: "m", length.Inch: "inches", length.Foot: "feet and inches"}[u]
}

func (t *sizesTable) bestHead() string {
	for _, i := range t.s.Best {
		if t.s.All[i].Verdict == clearance.Clears {
			return "Best trades, the smallest first (* in the table): no other of these sizes clears as surely, holds as much and has as much to spare. Do not cut from one that is unproven."
		}
	}
	return "Best trades, the smallest first (* in the table): no other of these sizes holds as much and has as much to spare. None of them clears: do not cut from this."
}

// table lays out some sizes.
func (t *sizesTable) table(indices []int) {
	best := map[int]bool{}
	for _, i := range t.s.Best {
		best[i] = true
	}
	rows := [][]string{t.headings()}
	for _, i := range indices {
		rows = append(rows, t.row(&t.s.All[i], best[i]))
	}
	t.lines = append(t.lines, aligned(rows, t.rightFrom())...)
}

func (t *sizesTable) headings() []string {
	row := []string{"best", "width", "height", "depth"}
	if t.moved {
		row = append(row, "right", "up")
	}
	return append(row, "verdict", "sure", "is", "litres", "to-spare", "least", "at")
}

// rightFrom says which columns are set to the right: figures.
func (t *sizesTable) rightFrom() func(column int) bool {
	words := map[int]bool{0: true}
	at := 4
	if t.moved {
		at = 6
	}
	words[at], words[at+2], words[at+6] = true, true, true
	return func(column int) bool { return !words[column] }
}

func (t *sizesTable) row(z *clearance.Sized, best bool) []string {
	row := []string{chosen(best, "*", "-"), cell(t.need(z.Size.Width)), cell(t.need(z.Size.Height)), cell(t.need(z.Size.Depth))}
	if t.moved {
		row = append(row, cell(t.place(z.At.X)), cell(t.place(z.At.Y)))
	}
	if z.NoBox != nil {
		why := z.NoBox.Text(func(mm float64) string { return t.need(mm) + t.unit() })
		return append(row, "none", "-", "-", "-", "-", "-", Clean(why))
	}
	row = append(row, z.Verdict.String(), sureCell(z, t.s.Wanted), sureIs(z), down(t.litres(z), 2))
	if !z.Lines {
		return append(row, "-", "-", "nothing is near")
	}
	where := lineName(z.Spare)
	if least := lineName(z.Least); least != where {
		where += "; least: " + least
	}
	if why := t.decides(z); why != "" {
		where += "; " + why
	}
	return append(row, cell(t.free(z.Spare.Spare())), cell(t.free(z.Least.Clearance)), where)
}

// decides words what gives a size its verdict, where that is not the line with the
// least to spare.
func (t *sizesTable) decides(z *clearance.Sized) string {
	d := z.Decides
	because := ""
	if d.Because != clearance.NoReason {
		because = " (" + d.Because.String() + ")"
	}
	switch verdict := z.Verdict.String(); {
	case z.Left && z.MayClear && d.WayIn:
		return "no way in was looked for with turns"
	case z.Left && z.MayClear:
		return "" // said above
	case d.WayIn:
		return verdict + ": the way in" + because
	case d.Level != "":
		return verdict + ": " + levelWord(d.Level) + because
	case d.Hose != "":
		return verdict + ": " + name(d.Hose) + ", its bends" + because
	case d.Side != solid.NoSide:
		return verdict + ": " + d.Side.String() + because
	case d.Line != clearance.Pair{} && d.Line != (clearance.Pair{Part: z.Spare.Part, Feature: z.Spare.Feature}):
		return verdict + ": " + name(d.Line.Part) + " to " + name(d.Line.Feature) + when(d.When) + because
	case d.Because != clearance.NoReason && d.Because != clearance.Near:
		return verdict + because
	}
	return ""
}

// when says in which motion, or on the way in.
func when(when string) string {
	switch when {
	case "", "at rest":
		return ""
	case "way in":
		return ", on the way in"
	}
	return ", as " + name(when)
}

func levelWord(level string) string {
	return map[string]string{"fill": "filling", "outlet": "the outlet's cover", "head room": "head room for hot coolant"}[level]
}

func lineName(n clearance.Narrow) string { return name(n.Part) + " to " + name(n.Feature) }

// litres is what a size is traded for.
func (t *sizesTable) litres(z *clearance.Sized) float64 { return litres(t.s, z) }

func litres(s *clearance.Sizes, z *clearance.Sized) float64 {
	if s.Known {
		return z.CapacityL
	}
	return z.Size.Width * z.Size.Height * z.Size.Depth / 1e6 // mm3 in a litre
}

// cell makes a figure one word: 8-1/2, which reads back as a length.
func cell(figure string) string {
	return strings.ReplaceAll(strings.ReplaceAll(figure, string(glue), "-"), " ", "-")
}

// sureIs is what the figure of sure is.
func sureIs(z *clearance.Sized) string {
	if z.Left {
		return "in-part"
	}
	if z.Open {
		return "undrawn"
	}
	return strings.ReplaceAll(z.SureIs, " ", "-")
}

// sureCell is a share in percent: down, but up where it is an upper bound.
func sureCell(z *clearance.Sized, wanted float64) string {
	if z.SureIs != "at most" {
		return strings.TrimSuffix(percentDown(z.Sure, wanted), string(glue)+"%")
	}
	t := math.Ceil(z.Sure * 1000)
	if z.Sure < wanted && t/1000 >= wanted {
		return "<" + strconv.FormatFloat(t/10, 'f', -1, 64)
	}
	return strconv.FormatFloat(math.Max(1, t)/10, 'f', -1, 64)
}

// aligned sets rows in columns, a blank or more apart.
func aligned(rows [][]string, right func(column int) bool) []string {
	var widths []int
	for _, row := range rows {
		for c, text := range row {
			if c == len(widths) {
				widths = append(widths, 0)
			}
			widths[c] = max(widths[c], width(text))
		}
	}
	out := make([]string, len(rows))
	for i, row := range rows {
		var b strings.Builder
		for c, text := range row {
			pad := strings.Repeat(" ", widths[c]-width(text))
			switch {
			case c == len(row)-1:
				pad = ""
			case right(c):
				text, pad = pad+text, ""
			}
			if c > 0 {
				b.WriteString("  ")
			}
			b.WriteString(text + pad)
		}
		out[i] = strings.TrimRight(b.String(), " ")
	}
	return out
}
