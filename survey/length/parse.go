package length

import (
	"math/big"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Longest is the greatest length that Parse takes, in millimetres: 100 m, the
// longest tape commonly sold (common practice, no source). A number beyond it is
// a slip of the unit; and up to it float64 is good to 2e-11 mm.
const Longest = 100_000

// longestText is the most characters that a length may have. The longest honest
// one is about thirty; the limit keeps exact arithmetic quick.
const longestText = 64

// The grammar, on the text as plain leaves it. A quantity is a decimal number,
// a fraction, or a whole number and a fraction with a blank or a dash between.
const (
	quantity = `(?:(\d*\.\d+|\d+)|(?:(\d+)( +|-))?(\d+)/(\d+))`
	feetMark = `(?:'|ft\.?|foot|feet)`
	inchMark = `(?:"|in\.?|inch|inches)`
	anyUnit  = `([\pL°%]+\.?|"|')?`
)

var (
	single     = regexp.MustCompile(`^([+-]?) *` + quantity + ` *` + anyUnit + `$`)
	feetInches = regexp.MustCompile(`(?i)^([+-]?) *(\d+) *` + feetMark + `(?: *|-)` + quantity + ` *` + inchMark + `$`)
)

// Parse reads a length; a bare number has the unit bare. The result is the
// nearest float64 to the exact value in millimetres, from -Longest to Longest.
// comma says that a comma is a decimal point (a point still is one). The error
// is always a *Mistake.
//
// A sign holds for the whole length: -7-1/4 is minus 7 1/4. A dash joins a
// whole number and its fraction, or feet and inches. A fraction is exact,
// whatever its denominator. What can be read in more than one way is a mistake.
func Parse(text string, bare Unit, comma bool) (float64, error) {
	asRead, wrong := legible(text)
	if wrong != nil {
		return 0, wrong
	}
	s := asRead
	if comma {
		s = strings.ReplaceAll(s, ",", ".")
	}
	if m := single.FindStringSubmatch(s); m != nil {
		unit, known := bare, true
		if m[7] != "" {
			unit, known = spelled(m[7])
		}
		if known {
			return readSingle(text, m, unit)
		}
	}
	if m := feetInches.FindStringSubmatch(s); m != nil {
		return readFeetInches(text, m)
	}
	return 0, diagnose(text, asRead, comma)
}

// legible gives the text as plain leaves it, unless it is too long or holds what
// does not print.
func legible(text string) (string, *Mistake) {
	if utf8.RuneCountInString(text) > longestText {
		return "", mistake(text, "is too long for a length", mendPlain)
	}
	s := plain(text)
	if strings.ContainsFunc(s, unprintable) {
		return "", mistake(text, "has a character that does not print", "write it again, without it")
	}
	return s, nil
}

func unprintable(r rune) bool { return !unicode.IsPrint(r) }

// readSingle takes the groups of single: sign, and those of quantity.
func readSingle(text string, m []string, unit Unit) (float64, error) {
	q, wrong := readQuantity(text, m[2:7])
	if wrong != nil {
		return 0, wrong
	}
	return inMM(text, m[1], q.Mul(q, exact(unit)))
}

// readFeetInches takes the groups of feetInches: sign, feet, and those of
// quantity.
func readFeetInches(text string, m []string) (float64, error) {
	inches, wrong := readQuantity(text, m[3:8])
	if wrong != nil {
		return 0, wrong
	}
	if inches.Cmp(big.NewRat(12, 1)) >= 0 {
		return 0, mistake(text, "has 12 in or more after the feet", "write it all in inches, or less than 12 in after the feet")
	}
	feet := rat(m[2])
	feet.Mul(feet, exact(Foot))
	return inMM(text, m[1], feet.Add(feet, inches.Mul(inches, exact(Inch))))
}

// readQuantity takes the groups of quantity: decimal, whole, what joins,
// numerator, denominator. A fraction must be less than one: 71/4 is more likely
// a lost blank.
func readQuantity(text string, m []string) (*big.Rat, *Mistake) {
	decimal, whole, joint := m[0], m[1], m[2]
	if decimal != "" {
		return rat(decimal), nil
	}
	num, den := rat(m[3]), rat(m[4])
	switch {
	case den.Sign() == 0:
		return nil, mistake(text, "has a fraction over 0", "write the fraction again, as in 1/4")
	case dated(m[3]) || dated(m[4]):
		return nil, mistake(text, isDate, mendText)
	case num.Cmp(den) >= 0:
		return nil, oneOrMore(text, whole, m[3], m[4])
	case joint == "-" && rat(whole).Sign() == 0:
		part := m[3] + "/" + m[4]
		return nil, mistake(text, isUnclear, "write "+part+" or -"+part)
	}
	q := num.Quo(num, den)
	if whole != "" {
		q.Add(q, rat(whole))
	}
	return q, nil
}

// dated says that digits begin with a nought, as they do in a date (01/04) and
// in no fraction.
func dated(digits string) bool { return len(digits) > 1 && digits[0] == '0' }

// inMM gives the signed value as a float64, if it is not beyond Longest.
func inMM(text, sign string, q *big.Rat) (float64, error) {
	if q.Cmp(big.NewRat(Longest, 1)) > 0 {
		return 0, mistake(text, "is longer than 100 m", "check the number and its unit")
	}
	mm, _ := q.Float64()
	if sign == "-" && mm != 0 {
		mm = -mm
	}
	return mm, nil
}

// exact is the unit's size in millimetres as a fraction.
func exact(u Unit) *big.Rat {
	switch u {
	case Inch:
		return big.NewRat(254, 10)
	case Foot:
		return big.NewRat(3048, 10)
	}
	return big.NewRat(int64(u.MM()), 1)
}

// rat reads digits with or without a decimal point; the grammar has made sure
// of them.
func rat(digits string) *big.Rat {
	q, ok := new(big.Rat).SetString(digits)
	if !ok {
		panic("length: the grammar let " + digits + " through")
	}
	return q
}
