package report

import (
	"strings"
	"unicode"
)

// longestName is how many columns of a name are shown: two names, a number or
// two and a word then still fit a line of a terminal.
const longestName = 32

// Clean makes a text that someone typed safe to show on one line of a terminal:
// every blank becomes a plain one, and every character that does not print
// (control characters, those that turn the direction of writing) a mark in its
// place. Outer blanks go.
func Clean(text string) string {
	return strings.TrimSpace(strings.Map(shown, text))
}

func shown(r rune) rune {
	switch {
	case unicode.IsSpace(r):
		return ' '
	case !unicode.IsPrint(r):
		return unicode.ReplacementChar
	}
	return r
}

// name is a name as the report shows it: clean, and cut where it is very long.
// What has no name is shown as such.
func name(text string) string {
	s := Clean(text)
	if s == "" {
		return "(no name)"
	}
	if width(s) <= longestName {
		return s
	}
	var b strings.Builder
	room := longestName - len("...")
	for _, r := range s {
		if room -= runeWidth(r); room < 0 {
			break
		}
		b.WriteRune(r)
	}
	return b.String() + "..."
}

// names are several names as the report shows them.
func names(texts []string) []string {
	out := make([]string, len(texts))
	for i, t := range texts {
		out[i] = name(t)
	}
	return out
}

// width is how many columns of a terminal a text takes.
func width(s string) int {
	sum := 0
	for _, r := range s {
		sum += runeWidth(r)
	}
	return sum
}

// runeWidth is how many columns a character takes: none for a mark that sits on
// the one before it, two for the wide scripts and pictures of Unicode's East
// Asian Width property (UAX #11, wide and fullwidth; whole blocks, so that a
// few narrow ones count as two and a line is rather short than long).
func runeWidth(r rune) int {
	switch {
	case r < 0x300:
		return 1
	case unicode.In(r, unicode.Mn, unicode.Me):
		return 0
	case unicode.In(r, unicode.Han, unicode.Hangul, unicode.Hiragana, unicode.Katakana),
		0x2e80 <= r && r <= 0x303e, 0xff01 <= r && r <= 0xff60, 0xffe0 <= r && r <= 0xffe6,
		0x1f300 <= r && r <= 0x1faff:
		return 2
	}
	return 1
}
