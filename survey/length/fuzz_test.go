package length

import (
	"errors"
	"math"
	"strings"
	"testing"
	"unicode/utf8"
)

// checkMistake holds for every error of this package: it is a *Mistake of two
// whole sentences that print on one line.
func checkMistake(t *testing.T, text string, err error) {
	t.Helper()
	var m *Mistake
	if !errors.As(err, &m) || m.What == "" || m.Mend == "" {
		t.Fatalf("%q: %#v is no mistake with a mend", text, err)
	}
	for _, s := range []string{m.Error(), m.Alone().Error()} {
		if !utf8.ValidString(s) || strings.ContainsFunc(s, unprintable) {
			t.Fatalf("%q: complaint does not print: %q", text, s)
		}
	}
}

func FuzzParse(f *testing.F) {
	f.Fuzz(func(t *testing.T, text string, unit int, comma bool) {
		bare := Unit(uint(unit) % 5)
		mm, err := Parse(text, bare, comma)
		if err != nil {
			checkMistake(t, text, err)
			return
		}
		if !(math.Abs(mm) <= Longest) {
			t.Fatalf("%q is %v mm", text, mm)
		}
		if padded, err := Parse(" "+text+"\u00a0", bare, comma); utf8.RuneCountInString(text) < longestText-2 && (err != nil || padded != mm) {
			t.Fatalf("%q with blanks: %v %v, want %v", text, padded, err, mm)
		}
		if s := strings.TrimSpace(text); s != "" && isDigit(rune(s[0])) && len(s) < longestText {
			if minus, err := Parse("-"+s, bare, comma); err != nil || minus != -mm {
				t.Fatalf("-%q: %v %v, want %v", s, minus, err, -mm)
			}
		}
		for _, style := range styles {
			// Printing may round a length of 100 m up to more than Parse takes.
			if math.Abs(mm) < Longest-style.Step() {
				assertSafe(t, style, mm)
			}
		}
	})
}

func FuzzLimit(f *testing.F) {
	f.Fuzz(func(t *testing.T, text string, unit int, comma bool) {
		l, err := ParseLimit(text, Unit(uint(unit)%5), comma)
		if err != nil {
			checkMistake(t, text, err)
			return
		}
		if !(l.Plus >= 0 && l.Plus <= Longest && l.Minus >= 0 && l.Minus <= Longest) {
			t.Fatalf("%q is %+v", text, l)
		}
		if !(math.Abs(l.Shift()) <= l.Half()) {
			t.Fatalf("%q: shift %v of half %v", text, l.Shift(), l.Half())
		}
	})
}
