package report

import (
	"fmt"
	"strings"

	"elbowroom/clearance"
	"elbowroom/survey/length"
)

// glue stands for a blank at which no line is broken: inside a figure, and
// between it and its unit. It is a plain blank in what is written. Clean leaves
// none in a name.
const glue = '\u00a0'

// usualWidth is how many columns a terminal has when nobody says.
const usualWidth = 80

// leastWidth is the fewest columns that the text is laid out for: the figures
// of the table and one name beside them.
const leastWidth = 60

// page gathers the lines of a report.
type page struct {
	r     *clearance.Report
	o     Options
	style length.Style
	lines []string
}

func newPage(r *clearance.Report, o Options) *page {
	if o.Width == 0 {
		o.Width = usualWidth
	}
	o.Width = max(o.Width, leastWidth)
	p := &page{r: r, o: o, style: o.Style}
	p.style.Unit = r.Unit
	return p
}

// text is all lines.
func (p *page) text() string {
	all := strings.Join(p.lines, "\n") + "\n"
	return strings.ReplaceAll(all, string(glue), " ")
}

// say adds a paragraph.
func (p *page) say(text string) { p.lines = append(p.lines, p.wrap("", "", text)...) }

// entry adds one entry of a list: what runs on is indented farther.
func (p *page) entry(text string) { p.lines = append(p.lines, p.wrap("  ", "    ", text)...) }

// head adds a heading after an empty line.
func (p *page) head(text string) {
	p.lines = append(p.lines, "")
	p.say(text)
}

// wrap breaks a text into lines of the page's width, the first of which starts
// with first, the others with indent. A word that is longer than a line, such as
// a path, stays whole.
func (p *page) wrap(first, indent, text string) []string {
	var lines []string
	line, empty := first, true
	for _, word := range strings.Fields(strings.ReplaceAll(text, string(glue), "\x00")) {
		word = strings.ReplaceAll(word, "\x00", string(glue))
		if !empty && width(line)+1+width(word) > p.o.Width {
			lines = append(lines, line)
			line, empty = indent, true
		}
		if !empty {
			line += " "
		}
		line += word
		empty = false
	}
	return append(lines, strings.TrimRight(line, " "))
}

// glued keeps a figure on one line.
func glued(s string) string { return strings.ReplaceAll(s, " ", string(glue)) }

// count words a number of things.
func count(n int, one, more string) string {
	return fmt.Sprint(n) + string(glue) + chosen(n == 1, one, more)
}

// list words some things, as in "a, b and c"; those beyond most are counted.
func list(things []string, most int) string {
	n := len(things)
	switch {
	case n == 0:
		return ""
	case n == 1:
		return things[0]
	case n > most+1:
		return strings.Join(things[:most], ", ") + " and " + glued(fmt.Sprintf("%d more", n-most))
	}
	return strings.Join(things[:n-1], ", ") + " and " + things[n-1]
}

// chosen is the first of two words where yes, else the second.
func chosen(yes bool, one, other string) string {
	if yes {
		return one
	}
	return other
}
