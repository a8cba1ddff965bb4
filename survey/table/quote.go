package table

import (
	"strings"
	"unicode"
)

// shown is how many characters of a text Quote shows.
const shown = 40

// Quote shows a text as it was read: in quotes that it does not hold itself, on
// one line, without what cannot be printed, and cut short when it is long.
func Quote(text string) string {
	runes := []rune(strings.TrimSpace(text))
	for i, r := range runes {
		switch {
		case unicode.IsSpace(r):
			runes[i] = ' '
		case !unicode.IsPrint(r):
			runes[i] = unicode.ReplacementChar
		}
	}
	s := string(runes)
	if len(runes) > shown {
		s = string(runes[:shown]) + "..."
	}
	if strings.Contains(s, `"`) {
		return "“" + s + "”"
	}
	return `"` + s + `"`
}
