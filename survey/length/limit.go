package length

import (
	"math"
	"regexp"
	"strings"
)

// Limit is a reading's limit in millimetres: the true value lies between
// Minus below what was read and Plus above it. Neither is negative. The zero
// Limit means exact.
type Limit struct{ Plus, Minus float64 }

// Half is half the width of the limit, in millimetres.
func (l Limit) Half() float64 { return l.Plus/2 + l.Minus/2 }

// Shift is what to add to the reading to get the middle of the limit, in
// millimetres: half of Plus less Minus.
func (l Limit) Shift() float64 { return l.Plus/2 - l.Minus/2 }

// U is the standard uncertainty in millimetres of a value that is equally
// likely anywhere in the limit: Half over the root of 3 (GUM, JCGM 100:2008,
// 4.3.7).
func (l Limit) U() float64 { return l.Half() / math.Sqrt(3) }

// Limit prints a limit, each side rounded up: "±1/16 in", "+0 -1/8 in", and "0"
// for exact. What is not a number prints as "-". ParseLimit reads it back.
func (s Style) Limit(l Limit) string {
	plus, minus := s.side(l.Plus), s.side(l.Minus)
	switch {
	case plus == minus && (plus == "0" || plus == "-"):
		return plus
	case plus == minus:
		return "±" + plus
	}
	return "+" + plus + " -" + minus
}

// side prints one side of a limit; a side of nothing has no unit.
func (s Style) side(mm float64) string {
	if mm <= onStep {
		return "0"
	}
	return s.Print(Needed(mm))
}

// The two spellings of a limit, on the text as plain leaves it. Between the
// sides of the second stands a blank, a comma or a slash.
var (
	bothWays = regexp.MustCompile(`^(?:±|\+ ?/ ?-|\+-) *(.*)$`)
	twoSided = regexp.MustCompile(`^([+-]) *([^+-].*?)(?: *[,/] *| +)([+-]) *([^+-].*)$`)
)

// ParseLimit reads a limit: 1/16, ±1/16, +/-1/16, or two sides, +0 -1/8, in
// either order. A number without a unit has the unit bare; of two sides, neither
// or both have one, unless a side is 0. comma is as in Parse. The error is
// always a *Mistake.
func ParseLimit(text string, bare Unit, comma bool) (Limit, error) {
	s, wrong := legible(text)
	switch {
	case wrong != nil:
		return Limit{}, wrong
	case s == "":
		return Limit{}, &Mistake{What: "a limit is missing", Mend: mendLimit}
	}
	if m := bothWays.FindStringSubmatch(s); m != nil {
		s = m[1]
	} else if m := twoSided.FindStringSubmatch(s); m != nil {
		return readSides(text, m, bare, comma)
	} else if signedNumber.MatchString(s) {
		return Limit{}, halfLimit(text, s)
	}
	if m := bareFirst.FindStringSubmatch(s); m != nil {
		return Limit{}, mistake(text, isUnclear, "write +"+m[1]+" -"+m[2]+", or one limit as in 1/16")
	}
	if s == "" || s[0] == '+' || s[0] == '-' {
		return Limit{}, mistake(text, "is not a limit", mendLimit)
	}
	v, err := readSide(s, bare, comma)
	return Limit{Plus: v, Minus: v}, err
}

// readSides takes the groups of twoSided: sign, length, sign, length.
func readSides(text string, m []string, bare Unit, comma bool) (Limit, error) {
	first, err := readSide(m[2], bare, comma)
	if err != nil {
		return Limit{}, err
	}
	second, err := readSide(m[4], bare, comma)
	if err != nil {
		return Limit{}, err
	}
	switch {
	case m[1] == m[3]:
		return Limit{}, mistake(text, "has both its sides on the same side", mendLimit)
	case first != 0 && second != 0 && hasUnit(m[2]) != hasUnit(m[4]):
		return Limit{}, mistake(text, "has a unit on one side only", "write it on both sides, or on neither")
	case m[1] == "-":
		first, second = second, first
	}
	return Limit{Plus: first, Minus: second}, nil
}

// hasUnit says that a length, which Parse could read, ends in a unit.
func hasUnit(s string) bool { return !isDigit(rune(s[len(s)-1])) }

const (
	mendLimit   = "write it as in 1/16, or +0 -1/8 where the two sides differ"
	mendDefault = "leave the cell blank if it is the job's own limit"
)

var (
	signedNumber = find(`^[+-] *[\d.,]`)
	touching     = find(`^([+-]) *([\d.,]+(?:/\d+)?) *([+-]) *([\d.,].*)$`)
	bareFirst    = find(`^([\d.].*?) +- *([\d.].*)$`)
)

// halfLimit is for a limit that begins with a sign but has not two sides.
func halfLimit(text, s string) *Mistake {
	if m := touching.FindStringSubmatch(s); m != nil && m[1] != m[3] {
		return mistake(text, "has no blank between its sides", "write "+m[1]+m[2]+" "+m[3]+m[4])
	}
	size := strings.TrimLeft(s, "+- ")
	if s[0] == '-' {
		return mistake(text, "is a limit below zero", "write "+size+" for both ways, or +0 -"+size)
	}
	return mistake(text, "is a limit one way only", "write "+size+" for both ways, or +"+size+" -0")
}

// readSide reads one side of a limit, without its sign; its mistakes are worded
// for a limit.
func readSide(s string, bare Unit, comma bool) (float64, error) {
	v, err := Parse(s, bare, comma)
	if m, ok := err.(*Mistake); ok {
		switch m.Mend {
		case mendBlank:
			return 0, &Mistake{What: m.What, Mend: mendDefault}
		case mendPlain, mendWithin:
			return 0, &Mistake{What: m.What, Mend: mendLimit}
		}
	}
	return v, err
}
