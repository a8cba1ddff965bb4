package report

import (
	"fmt"
	"strings"

	"elbowroom/clearance"
)

// screenLines is how many lines the first screen may take.
const screenLines = 12

// itemIndent is as wide as a numbered line's number.
const itemIndent = "     "

// firstScreen says the verdict, why, what decides it and what to do.
func (p *page) firstScreen() {
	p.lines = append(p.lines, p.headline())
	p.say(p.why())
	tail := &page{r: p.r, o: p.o, style: p.style}
	tail.tail()
	p.numbered(p.deciding(), screenLines-len(p.lines)-len(tail.lines))
	p.lines = append(p.lines, tail.lines...)
}

// headline is the first line; bold where the terminal shows it.
func (p *page) headline() string {
	line := Headline(p.r.Verdict)
	if p.o.Bold {
		word := p.r.Verdict.String()
		line = "\x1b[1m" + word + "\x1b[0m" + strings.TrimPrefix(line, word)
	}
	return line
}

// Headline is the first line of the text: the verdict's word with what to do
// about it.
func Headline(v clearance.Verdict) string { return v.String() + " - " + advice(v) }

func advice(v clearance.Verdict) string {
	switch v {
	case clearance.Clears:
		return "it goes in and keeps its gaps"
	case clearance.Tight:
		return "do not cut as drawn"
	case clearance.Fouls:
		return "do not cut"
	}
	return "do not cut yet"
}

// numbered adds the numbered lines, in at most room lines; those that do not
// fit are counted.
func (p *page) numbered(items []string, room int) {
	for i, item := range items {
		lines := p.wrap(fmt.Sprintf("%3d  ", i+1), itemIndent, item)
		left := len(items) - i - 1
		keep := 0 // the line that counts the rest
		if left > 0 {
			keep = 1
		}
		if len(lines)+keep > room {
			p.lines = append(p.lines, itemIndent+others(left+1, i))
			return
		}
		p.lines = append(p.lines, lines...)
		room -= len(lines)
	}
}

// others counts the numbered lines that did not fit.
func others(n, shown int) string {
	if shown == 0 {
		return count(n, "thing decides it, below", "things decide it, below")
	}
	return fmt.Sprintf("and %d more below", n)
}
