package report

import (
	"fmt"
	"html"
	"math"
	"strings"

	"elbowroom/clearance"
	"elbowroom/survey/length"
)

func escapeXML(text string) string { return html.EscapeString(Clean(text)) }

// plainBlanks is a text without the page's own marks.
func plainBlanks(text string) string { return strings.ReplaceAll(text, string(glue), " ") }

// scale puts a range of values on a stretch of the picture.
type scale struct{ lo, hi, from, to float64 }

func (s scale) at(v float64) float64 { return s.from + (v-s.lo)/(s.hi-s.lo)*(s.to-s.from) }

// padded is a range with some room round it.
func padded(lo, hi float64) (float64, float64) {
	if lo > hi {
		return 0, 1
	}
	by := 0.06 * (hi - lo)
	if by == 0 {
		by = math.Max(0.05*math.Abs(hi), 1)
	}
	return lo - by, hi + by
}

// trades draws capacity against room to spare.
func (d *drawing) trades(p panel) {
	lo, hi, low, high := d.extent()
	shownFrom := d.cut(lo, hi)
	left, right := padded(shownFrom, hi)
	x := scale{left, right, p.left, p.right()}
	bottom, top := padded(low, high)
	y := scale{math.Max(0, bottom), top, p.bottom(), p.top}
	d.tradesAxes(p, x, y)
	beyond := d.cloud(x, y, shownFrom)
	d.front(x, y)
	volume := "holds, litres"
	if !d.s.Known {
		volume = "outside volume, litres (no sheet is given)"
	}
	d.text(p.left+p.width/2, p.bottom()+38, lettering{size: 12.5, anchor: atMiddle}, "room to spare: the least clearance less its gap, "+unitWord(d.style.Unit))
	d.text(p.left-56, p.top+p.height/2, lettering{size: 12.5, anchor: atMiddle, upward: true}, volume)
	if beyond > 0 {
		d.text(p.left, p.bottom()+56, lettering{size: 11, anchor: fromStart, fill: "#555555"},
			fmt.Sprintf("%d more, farther to the left, are not drawn", beyond))
	}
}

// extent is the range of room to spare and of litres over what can be drawn.
func (d *drawing) extent() (lo, hi, low, high float64) {
	lo, hi, low, high = math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for i := range d.s.All {
		z := &d.s.All[i]
		if z.NoBox != nil || !z.Lines {
			continue
		}
		lo, hi = math.Min(lo, z.Spare.Spare()), math.Max(hi, z.Spare.Spare())
		low, high = math.Min(low, litres(d.s, z)), math.Max(high, litres(d.s, z))
	}
	return lo, hi, low, high
}

// cut is the least room to spare that is drawn: what fouls by far only squeezes
// what counts.
func (d *drawing) cut(lo, hi float64) float64 {
	const inch = 25.4
	return math.Max(lo, math.Min(hi, 0)-math.Max(inch/2, 2*math.Max(hi, 0)))
}

// tradesAxes draws the frame, ticks and the line where the gaps are just kept.
func (d *drawing) tradesAxes(p panel, x, y scale) {
	step := niceLength((x.hi-x.lo)/7, d.style)
	for _, v := range ticks(x.lo, x.hi, step) {
		d.line(x.at(v), p.top, x.at(v), p.bottom(), 0.5, "#dddddd", "")
		d.text(x.at(v), p.bottom()+17, lettering{size: 11.5, anchor: atMiddle}, plainBlanks(d.style.Bare(length.Place(v))))
	}
	step = nice((y.hi - y.lo) / 8)
	places := max(0, int(math.Ceil(-math.Log10(step)-1e-9)))
	for _, v := range ticks(y.lo, y.hi, step) {
		d.line(p.left, y.at(v), p.right(), y.at(v), 0.5, "#dddddd", "")
		d.text(p.left-7, y.at(v)+4, lettering{size: 11.5, anchor: toEnd}, fmt.Sprintf("%.*f", places, v))
	}
	d.raw(`<rect x="%s" y="%s" width="%s" height="%s" fill="none" stroke="%s" stroke-width="1"/>`, num(p.left), num(p.top), num(p.width), num(p.height), ink)
	if x.lo < 0 && x.hi > 0 {
		d.line(x.at(0), p.top, x.at(0), p.bottom(), 1.2, ink, "2 3")
		d.text(x.at(0), p.top-6, lettering{size: 11, anchor: atMiddle}, "just keeps its gaps")
	}
}

// cloud draws each size by its verdict's shape, the better over the worse; of those
// that would lie on one another only one. It counts those too far left.
func (d *drawing) cloud(x, y scale, from float64) (beyond int) {
	const r = 3.2
	all := allLooks()
	for k := len(all) - 1; k >= 0; k-- {
		drawn := map[[2]float64]bool{}
		for i := range d.s.All {
			z := &d.s.All[i]
			if z.NoBox != nil || !z.Lines || looksOf(z) != all[k] {
				continue
			}
			if z.Spare.Spare() < from {
				beyond++
				continue
			}
			// To the next half of a mark: what lies nearer cannot be told apart.
			place := [2]float64{math.Round(x.at(z.Spare.Spare())/r*2) * r / 2, math.Round(y.at(litres(d.s, z))/r*2) * r / 2}
			if !drawn[place] {
				drawn[place] = true
				d.shape(all[k], place[0], place[1], r, markColour(all[k]), false)
			}
		}
	}
	return beyond
}

// markColour is the shade of a verdict's mark on white paper.
func markColour(l looks) string {
	if l.part {
		return "#7d9dbd"
	}
	switch l.verdict {
	case clearance.Clears:
		return ink
	case clearance.Unproven:
		return "#3a6ea5"
	case clearance.Tight:
		return "#86abd1"
	}
	return "#b9b9b9"
}

// mostNamed is how many of the best trades are numbered and listed.
const mostNamed = 8

// front joins the best trades, those that clear and those that do not, and numbers
// as many as there is room for; their sizes stand below.
func (d *drawing) front(x, y scale) {
	lines := map[bool][][2]float64{}
	for _, i := range d.s.Best {
		z := &d.s.All[i]
		clears := z.Verdict == clearance.Clears
		lines[clears] = append(lines[clears], [2]float64{x.at(z.Spare.Spare()), y.at(litres(d.s, z))})
	}
	for _, clears := range [2]bool{false, true} {
		if len(lines[clears]) > 1 {
			d.path(lines[clears], false, ink, "none", chosen(clears, "", "5 3"), 1.6)
		}
	}
	var taken [][2]float64
	d.text(24, 556, lettering{size: 12.5, anchor: fromStart, bold: true}, chosen(len(d.s.Best) > 0, "Best trades (width, height, depth):", "No best trade: of every size some place fouls or is tight."))
	for _, z := range d.named() {
		if len(taken) == mostNamed {
			break
		}
		place := [2]float64{x.at(z.Spare.Spare()), y.at(litres(d.s, z))}
		if near(taken, place) {
			continue
		}
		taken = append(taken, place)
		n := len(taken)
		d.raw(`<circle cx="%s" cy="%s" r="4.4" fill="%s" stroke="%s" stroke-width="1.2"/>`, num(place[0]), num(place[1]), chosen(z.Verdict == clearance.Clears, ink, "#ffffff"), ink)
		d.text(place[0]+8, place[1]-5, lettering{size: 12, anchor: fromStart, bold: true}, fmt.Sprint(n))
		d.text(24+float64((n-1)/4)*480, 576+float64((n-1)%4)*17, lettering{size: 12, anchor: fromStart}, fitted(plainBlanks(d.tradeText(n, z)), 12, 555))
	}
}

// named are the best trades in the order in which they get their numbers: those
// that clear, the largest first, then the others.
func (d *drawing) named() (out []*clearance.Sized) {
	for _, clears := range [2]bool{true, false} {
		for k := len(d.s.Best) - 1; k >= 0; k-- {
			if z := &d.s.All[d.s.Best[k]]; (z.Verdict == clearance.Clears) == clears {
				out = append(out, z)
			}
		}
	}
	return out
}

// near says whether a place is too near to those that have a number.
func near(taken [][2]float64, place [2]float64) bool {
	for _, t := range taken {
		if math.Hypot(t[0]-place[0], t[1]-place[1]) < 17 {
			return true
		}
	}
	return false
}

// fitted cuts a text off where it would be wider than there is room by lettersWide,
// which takes text for a sixth wider than it is.
func fitted(text string, size, room float64) string {
	runes := []rune(text)
	for n := len(runes); lettersWide(text, size) > room && n > 0; n-- {
		text = string(runes[:n]) + "..."
	}
	return text
}

func (d *drawing) tradeText(n int, z *clearance.Sized) string {
	text := fmt.Sprintf("%d: %s x %s x %s%s: ", n, d.need(z.Size.Width), d.need(z.Size.Height), d.need(z.Size.Depth), d.unit())
	if placesDiffer(d.s) {
		text = strings.TrimSuffix(text, ": ") + fmt.Sprintf(" at %s, %s: ", d.place(z.At.X), d.place(z.At.Y))
	}
	return text + fmt.Sprintf("%s, %s l, %s to spare (%s)", z.Verdict, down(litres(d.s, z), 2), d.free(z.Spare.Spare()), lineName(z.Spare))
}
