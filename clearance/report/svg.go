package report

import (
	"fmt"
	"html"
	"strconv"
	"strings"
)

// svg gathers a picture in SVG. Lengths are in its own units, y goes down.
type svg struct{ b strings.Builder }

// ink are the picture's shades, so dark that they differ in grey print too.
const (
	ink   = "#1a1a1a"
	faint = "#8a8a8a"
)

// num writes a coordinate, to a hundredth.
func num(x float64) string {
	return strings.TrimSuffix(strings.TrimRight(strconv.FormatFloat(x+0, 'f', 2, 64), "0"), ".")
}

func (s *svg) raw(format string, args ...any) {
	fmt.Fprintf(&s.b, format, args...)
	s.b.WriteByte('\n')
}

// line draws from one place to another; dash is blank for a whole line.
func (s *svg) line(x1, y1, x2, y2, wide float64, colour, dash string) {
	if dash != "" {
		dash = ` stroke-dasharray="` + dash + `"`
	}
	s.raw(`<line x1="%s" y1="%s" x2="%s" y2="%s" stroke="%s" stroke-width="%s"%s/>`, num(x1), num(y1), num(x2), num(y2), colour, num(wide), dash)
}

func (s *svg) rect(x, y, w, h float64, fill string) {
	s.raw(`<rect x="%s" y="%s" width="%s" height="%s" fill="%s"/>`, num(x), num(y), num(w), num(h), fill)
}

// anchor is which end of a text stands at its place.
type anchor string

const (
	fromStart anchor = "start"
	atMiddle  anchor = "middle"
	toEnd     anchor = "end"
)

// lettering is how a text looks.
type lettering struct {
	size   float64
	anchor anchor
	fill   string
	bold   bool
	upward bool // turned to read from below
}

func (s *svg) text(x, y float64, l lettering, text string) {
	more := ""
	if l.bold {
		more += ` font-weight="bold"`
	}
	if l.upward {
		more += fmt.Sprintf(` transform="rotate(-90 %s %s)"`, num(x), num(y))
	}
	if l.fill == "" {
		l.fill = ink
	}
	s.raw(`<text x="%s" y="%s" font-size="%s" text-anchor="%s" fill="%s"%s>%s</text>`, num(x), num(y), num(l.size), l.anchor, l.fill, more, html.EscapeString(Clean(text)))
}

// path draws lines from place to place; fill is none for no area.
func (s *svg) path(points [][2]float64, closed bool, stroke, fill, dash string, wide float64) {
	var d strings.Builder
	for i, p := range points {
		d.WriteString(chosen(i == 0, "M", "L") + num(p[0]) + " " + num(p[1]))
	}
	if closed {
		d.WriteString("Z")
	}
	if dash != "" {
		dash = ` stroke-dasharray="` + dash + `"`
	}
	s.raw(`<path d="%s" fill="%s" stroke="%s" stroke-width="%s"%s/>`, d.String(), fill, stroke, num(wide), dash)
}

// lettersWide is about how wide a text is: letters of the usual fonts are a little
// over half as wide as the font is high.
func lettersWide(text string, size float64) float64 { return 0.56 * size * float64(width(text)) }
