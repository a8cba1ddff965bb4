package length

import (
	"regexp"
	"strings"
	"unicode"
)

// plain turns the many characters that people and spreadsheets use into the few
// that the grammar knows: digits, letters, blanks and . , / - + ' ". Outer
// blanks go; a fraction character becomes digits, kept apart from its
// neighbours, so that 7¼ is "7 1/4" and never "71/4".
func plain(text string) string {
	var b strings.Builder
	runes := []rune(text)
	for i, r := range runes {
		runes[i] = alike(r)
	}
	for i, r := range runes {
		before, after := around(runes, i)
		f, fraction := fractions[r]
		switch {
		case !fraction || before == '/' || after == '/':
			b.WriteRune(r)
			continue
		case isDigit(before):
			b.WriteByte(' ')
		}
		b.WriteString(f)
		if _, next := fractions[after]; r != numeratorOne && (next || isDigit(after)) {
			b.WriteByte(' ')
		}
	}
	s := strings.ReplaceAll(b.String(), "''", `"`)
	return strings.TrimSpace(raised.ReplaceAllStringFunc(s, onTheLine))
}

// around gives the characters before and after the i-th, blanks at the ends.
func around(runes []rune, i int) (before, after rune) {
	before, after = ' ', ' '
	if i > 0 {
		before = runes[i-1]
	}
	if i+1 < len(runes) {
		after = runes[i+1]
	}
	return before, after
}

// alike gives the grammar's character for one that looks or means the same.
func alike(r rune) rune {
	switch r {
	case '\u2010', '\u2011', '\u2012', '\u2013', '\u2014', '\u2212', '\ufe63', '\uff0d':
		return '-' // hyphens, dashes, minus signs
	case '\u2044', '\u2215', '\uff0f':
		return '/' // fraction, division and wide slash
	case '\u2032', '\u2018', '\u2019', '\u201b', '\u02b9', '\u02bc', '\u00b4', '`':
		return '\'' // prime, single quotes, accents typed for them
	case '\u2033', '\u201c', '\u201d', '\u201e', '\u201f', '\u02ba':
		return '"' // double prime, double quotes
	case '\u200b', '\u200e', '\u200f', '\u2060', '\ufeff':
		return ' ' // width-less marks that copying brings along
	}
	switch {
	case unicode.IsSpace(r):
		return ' '
	case '\uff10' <= r && r <= '\uff19':
		return '0' + r - '\uff10' // wide digits
	}
	return r
}

func isDigit(r rune) bool { return '0' <= r && r <= '9' }

// numeratorOne is "1/" without its denominator, which follows in digits.
const numeratorOne = '\u215f'

// fractions are all fraction characters of Unicode 16 (blocks Latin-1
// Supplement and Number Forms).
var fractions = map[rune]string{
	'¼': "1/4", '½': "1/2", '¾': "3/4",
	'⅐': "1/7", '⅑': "1/9", '⅒': "1/10", '⅓': "1/3", '⅔': "2/3",
	'⅕': "1/5", '⅖': "2/5", '⅗': "3/5", '⅘': "4/5", '⅙': "1/6", '⅚': "5/6",
	'⅛': "1/8", '⅜': "3/8", '⅝': "5/8", '⅞': "7/8",
	numeratorOne: "1/", '↉': "0/3",
}

// raised matches a fraction set in raised and lowered digits, such as ³⁄₈, with
// a digit that touches it on either side.
var raised = regexp.MustCompile(`(\d?)([⁰¹²³⁴⁵⁶⁷⁸⁹]+/[₀₁₂₃₄₅₆₇₈₉]+)(\d?)`)

// onTheLine sets a fraction that raised matched in plain digits, apart from its
// neighbours.
func onTheLine(s string) string {
	m := raised.FindStringSubmatch(s)
	return strings.TrimSpace(m[1] + " " + digits.Replace(m[2]) + " " + m[3])
}

var digits = strings.NewReplacer(
	"⁰", "0", "¹", "1", "²", "2", "³", "3", "⁴", "4", "⁵", "5", "⁶", "6", "⁷", "7", "⁸", "8", "⁹", "9",
	"₀", "0", "₁", "1", "₂", "2", "₃", "3", "₄", "4", "₅", "5", "₆", "6", "₇", "7", "₈", "8", "₉", "9",
)
