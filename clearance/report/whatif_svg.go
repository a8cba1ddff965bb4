package report

import (
	"fmt"
	"io"
	"math"
	"slices"

	"elbowroom/clearance"
	"elbowroom/survey/length"
)

// The picture's size and its two panels, in its own units (a ninety-sixth of an
// inch on paper): it fills a sheet of letter or A4 paper laid across.
const (
	pictureWidth  = 980
	pictureHeight = 640
	panelTop      = 112
	panelHeight   = 360
)

// SizesSVG draws the answer to many sizes: what a size holds against its room to
// spare, with the best trades joined; and a map of the verdicts over the two sizes
// that were varied most. A verdict shows by shape, letter and shade. The same
// answer gives the same bytes. The error is that of w.
func SizesSVG(w io.Writer, s *clearance.Sizes, style length.Style) error {
	p := newPage(&clearance.Report{Unit: s.Unit}, Options{Style: style})
	d := drawing{page: p, s: s}
	d.raw(`<svg xmlns="http://www.w3.org/2000/svg" width="%d" height="%d" viewBox="0 0 %d %d" font-family="Helvetica, Arial, Liberation Sans, sans-serif" role="img">`,
		pictureWidth, pictureHeight, pictureWidth, pictureHeight)
	d.raw("<title>%s</title>", escapeXML(d.title()))
	d.raw("<desc>%s</desc>", escapeXML(plainBlanks(sizesHead(s))))
	d.rect(0, 0, pictureWidth, pictureHeight, "#ffffff")
	d.text(24, 34, lettering{size: 18, anchor: fromStart, bold: true}, d.title())
	d.text(24, 56, lettering{size: 13, anchor: fromStart}, plainBlanks(d.subtitle()))
	d.legend(24, 80)
	d.trades(panel{left: 84, top: panelTop, width: 380, height: panelHeight})
	d.verdicts(panel{left: 590, top: panelTop, width: 364, height: panelHeight})
	d.raw("</svg>")
	_, err := io.WriteString(w, d.b.String())
	return err
}

// drawing is the picture of sizes.
type drawing struct {
	svg
	*page
	s *clearance.Sizes
}

// panel is one of the picture's two frames.
type panel struct{ left, top, width, height float64 }

func (p panel) right() float64  { return p.left + p.width }
func (p panel) bottom() float64 { return p.top + p.height }

func (d *drawing) text(x, y float64, l lettering, text string) { d.svg.text(x, y, l, text) }

func (d *drawing) title() string {
	const most = 90 // letters that fit
	title := []rune("What if: " + Clean(d.s.Title))
	if len(title) > most {
		return string(title[:most]) + "..."
	}
	return string(title)
}

func (d *drawing) subtitle() string {
	text := sizesHead(d.s)
	if len(d.s.All) < d.s.Asked {
		text += fmt.Sprintf(" Stopped: %d were asked for.", d.s.Asked)
	}
	if why := stopsAll(d.s.Unchecked); why != "" {
		text += " None can clear: " + why + " not checked yet."
	}
	return text
}

// legendGap is what stands between two words of the legend.
const legendGap = 40

// looks is how a verdict shows: shades get darker from good to bad, and letters
// and shapes say the same.
type looks struct {
	verdict     clearance.Verdict
	none        bool // no box can be made
	part        bool // all that was looked at clears, and that was not all
	letter      string
	word        string
	shade, over string // of a cell, and of what stands on it
}

func allLooks() [6]looks {
	return [6]looks{
		{clearance.Clears, false, false, "C", "clears", "#ffffff", ink},
		{clearance.Unproven, false, true, "?", "may clear", "#f2f6fa", ink},
		{clearance.Unproven, false, false, "U", "unproven", "#cbdcec", ink},
		{clearance.Tight, false, false, "T", "tight", "#86abd1", ink},
		{clearance.Fouls, false, false, "F", "fouls", "#1f4e86", "#ffffff"},
		{clearance.Unproven, true, false, "-", "cannot be made", "#efefef", faint},
	}
}

func looksOf(z *clearance.Sized) looks {
	all := allLooks()
	for _, l := range all {
		if z.NoBox == nil && l.verdict == z.Verdict && l.part == (z.Left && z.MayClear) {
			return l
		}
	}
	return all[len(all)-1]
}

// legend draws each verdict's shape on its shade, with its letter and word.
func (d *drawing) legend(x, y float64) {
	for _, l := range allLooks() {
		if l.part && countSizes(d.s, func(z *clearance.Sized) bool { return looksOf(z) == l }) == 0 {
			continue
		}
		d.rect(x, y-10, 20, 20, l.shade)
		d.raw(`<rect x="%s" y="%s" width="20" height="20" fill="none" stroke="%s" stroke-width="0.8"/>`, num(x), num(y-10), faint)
		d.sign(l, x+10, y, 8)
		d.text(x+26, y+4.5, lettering{size: 12.5, anchor: fromStart}, l.word)
		x += legendGap + lettersWide(l.word, 12.5)
	}
	d.path([][2]float64{{x, y}, {x + 26, y}}, false, ink, "none", "", 1.6)
	d.text(x+32, y+4.5, lettering{size: 12.5, anchor: fromStart}, "best trades that clear")
	x += 48 + lettersWide("best trades that clear", 12.5)
	d.path([][2]float64{{x, y}, {x + 26, y}}, false, ink, "none", "5 3", 1.6)
	d.text(x+32, y+4.5, lettering{size: 12.5, anchor: fromStart}, "best trades, unproven")
}

// sign is a verdict's shape with its letter in it.
func (d *drawing) sign(l looks, x, y, r float64) {
	d.shape(l, x, y, r, l.over, true)
	d.text(x, y+0.42*r, lettering{size: 1.15 * r, anchor: atMiddle, fill: l.over, bold: true}, l.letter)
}

// shape draws a verdict's sign: a ring, a triangle, a square, a cross.
// Lettered, the cross leaves its middle free.
func (d *drawing) shape(l looks, x, y, r float64, colour string, lettered bool) {
	switch {
	case l.none:
	case l.verdict == clearance.Clears:
		d.raw(`<circle cx="%s" cy="%s" r="%s" fill="none" stroke="%s" stroke-width="1.1"/>`, num(x), num(y), num(r), colour)
	case l.part:
		d.path([][2]float64{{x, y - r}, {x + r, y}, {x, y + r}, {x - r, y}}, true, colour, "none", "", 1.1)
	case l.verdict == clearance.Unproven:
		d.path([][2]float64{{x, y - 1.15*r}, {x + 1.05*r, y + 0.75*r}, {x - 1.05*r, y + 0.75*r}}, true, colour, "none", "", 1.1)
	case l.verdict == clearance.Tight:
		d.path([][2]float64{{x - 0.85*r, y - 0.85*r}, {x + 0.85*r, y - 0.85*r}, {x + 0.85*r, y + 0.85*r}, {x - 0.85*r, y + 0.85*r}}, true, colour, "none", "", 1.1)
	default:
		inner := 0.0
		if lettered {
			inner = 0.5
		}
		for _, to := range [4][2]float64{{-1, -1}, {1, -1}, {-1, 1}, {1, 1}} {
			d.line(x+to[0]*inner*r, y+to[1]*inner*r, x+to[0]*r, y+to[1]*r, 1.1, colour, "")
		}
	}
}

// nice is the least of 1, 2, 5, 10, 20 ... that is no less than x.
func nice(x float64) float64 {
	if !(x > 0) {
		return 1
	}
	base := math.Pow(10, math.Floor(math.Log10(x)))
	for _, f := range [4]float64{1, 2, 5, 10} {
		if f*base >= x*(1-1e-12) { // a power of ten may come out a rounding step high
			return f * base
		}
	}
	return 10 * base
}

// niceLength is a step of lengths that a rule has and that is no less than mm: a
// half, quarter and so on of an inch, or 1, 2, 5, 10 in the metric unit.
func niceLength(mm float64, style length.Style) float64 {
	if style.Unit != length.Inch && style.Unit != length.Foot || style.Decimal {
		unit := style.Unit.MM()
		return unit * nice(mm/unit)
	}
	inches := mm / length.Inch.MM()
	for step := 1.0 / 32; step <= 1; step *= 2 {
		if step >= inches {
			return step * length.Inch.MM()
		}
	}
	return nice(inches) * length.Inch.MM()
}

// ticks are the multiples of a step from lo to hi.
func ticks(lo, hi, step float64) (out []float64) {
	for k := math.Ceil(lo/step - 1e-9); k*step <= hi+1e-9*step; k++ { // an end counts in spite of rounding
		out = append(out, k*step)
	}
	return out
}

// distinctOf are the values of something of all sizes, least first.
func distinctOf(s *clearance.Sizes, of func(z *clearance.Sized) float64) []float64 {
	out := make([]float64, len(s.All))
	for i := range s.All {
		out[i] = of(&s.All[i])
	}
	slices.Sort(out)
	return slices.Compact(out)
}
