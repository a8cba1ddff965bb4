package slip

import (
	"fmt"
	"math/big"
	"regexp"
	"strings"

	"elbowroom/survey/length"
)

// written is a length taken apart, each piece as it was written:
// lead feet mark whole point decimals tail, or
// lead feet mark whole joint num slash den tail, or with a glyph (¼) for the
// fraction. What is not there is empty.
type written struct {
	lead            string // sign and blanks
	feet, mark      string
	whole           string
	point, decimals string
	joint           string
	num, slash, den string
	glyph           string
	tail            string      // the unit, with the blanks before it
	scale           length.Unit // of the number; inches after feet
	dot             string      // the decimal point of this file
}

// The pieces of the pattern. They take what length.Parse takes for a dash, a
// slash, a foot mark and a blank.
const (
	blanks   = `[\s\p{Z}\x{200b}\x{200e}\x{200f}\x{2060}\x{feff}]*`
	dash     = `[-\x{2010}-\x{2014}\x{2212}\x{fe63}\x{ff0d}]`
	slash    = `[/\x{2044}\x{2215}\x{ff0f}]`
	footMark = `(?:['\x{2032}\x{2018}\x{2019}\x{201b}\x{2b9}\x{2bc}\x{b4}` + "`" + `]|ft\.?|foot|feet)`
	glyph    = `[¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞]`
)

var pattern = regexp.MustCompile(`(?i)^(` + blanks + `(?:\+|` + dash + `)?` + blanks + `)` + // 1 lead
	`(?:(\d+)(` + blanks + footMark + blanks + dash + `?` + blanks + `))?` + // 2 feet, 3 mark
	`(?:(\d*)([.,])(\d+)|` + // 4 whole, 5 point, 6 decimals
	`(?:(\d+)(` + blanks + `|` + dash + `))??(?:(\d+)(` + slash + `)(\d+)|(` + glyph + `))|` + // 7 whole, 8 joint, 9 num, 10 slash, 11 den, 12 glyph
	`(\d+))` + // 13 whole
	`(\D*)$`) // 14 tail

// glyphs are the fractions that have a character of their own, in lowest terms.
var glyphs = map[string]string{
	"1/4": "¼", "1/2": "½", "3/4": "¾", "1/7": "⅐", "1/9": "⅑", "1/10": "⅒", "1/3": "⅓", "2/3": "⅔",
	"1/5": "⅕", "2/5": "⅖", "3/5": "⅗", "4/5": "⅘", "1/6": "⅙", "5/6": "⅚", "1/8": "⅛", "3/8": "⅜", "5/8": "⅝", "7/8": "⅞",
}

// onTheLine sets raised, lowered and wide digits on the line.
var onTheLine = strings.NewReplacer(
	"⁰", "0", "¹", "1", "²", "2", "³", "3", "⁴", "4", "⁵", "5", "⁶", "6", "⁷", "7", "⁸", "8", "⁹", "9",
	"₀", "0", "₁", "1", "₂", "2", "₃", "3", "₄", "4", "₅", "5", "₆", "6", "₇", "7", "₈", "8", "₉", "9",
	"０", "0", "１", "1", "２", "2", "３", "3", "４", "4", "５", "5", "６", "6", "７", "7", "８", "8", "９", "9",
)

// take takes a length apart. ok is false for what is written in a way that it
// does not know.
func take(text string, bare length.Unit, comma bool) (w written, ok bool) {
	text = strings.TrimSpace(text)
	whole, err := length.Parse(text, bare, comma)
	if err != nil {
		return written{}, false
	}
	for _, s := range [2]string{text, onTheLine.Replace(text)} {
		m := pattern.FindStringSubmatch(s)
		if m == nil {
			continue
		}
		w = written{lead: m[1], feet: m[2], mark: m[3], whole: m[4] + m[7] + m[13], point: m[5], decimals: m[6],
			joint: m[8], num: m[9], slash: m[10], den: m[11], glyph: m[12], tail: m[14]}
		if w.dot = "."; comma {
			w.dot = ","
		}
		w.scale, ok = w.scaleOf(bare, comma)
		again, err := length.Parse(w.text(), bare, comma)
		if ok && err == nil && again == whole && w.text() == s {
			return w, true
		}
	}
	return written{}, false
}

// scaleOf finds the unit of the number: that of 1 with the same tail.
func (w written) scaleOf(bare length.Unit, comma bool) (length.Unit, bool) {
	if w.feet != "" {
		return length.Inch, true
	}
	one, err := length.Parse("1"+w.tail, bare, comma)
	for u := length.MM; err == nil && u <= length.Foot; u++ {
		if u.MM() == one {
			return u, true
		}
	}
	return 0, false
}

func (w written) text() string { return w.lead + w.core() + w.tail }

// core is all between the sign and the unit.
func (w written) core() string {
	return w.feet + w.mark + w.whole + w.point + w.decimals + w.joint + w.num + w.slash + w.den + w.glyph
}

// metric says that the number is in a metric unit.
func (w written) metric() bool { return w.scale.MM() != length.Inch.MM() && w.scale != length.Foot }

// part is the fraction alone, or else 0.
func (w written) part() *big.Rat {
	q := new(big.Rat)
	if w.den != "" {
		q.SetString(w.num + "/" + w.den)
	}
	if w.glyph != "" {
		for fraction, g := range glyphs {
			if g == w.glyph {
				q.SetString(fraction)
			}
		}
	}
	return q
}

// amount is the number without its sign, in its unit; feet count as inches.
func (w written) amount() *big.Rat {
	q, _ := new(big.Rat).SetString("0" + w.whole + "." + w.decimals + "0")
	q.Add(q, w.part())
	if w.feet != "" {
		feet, _ := new(big.Rat).SetString(w.feet)
		q.Add(q, feet.Mul(feet, big.NewRat(12, 1)))
	}
	return q
}

// with writes another amount the same way. ok is false for one that is not above
// zero, or that nobody would write so.
func (w written) with(q *big.Rat) (text string, ok bool) {
	if q.Sign() <= 0 {
		return "", false
	}
	if w.feet != "" {
		if w, q, ok = w.inFeet(q); !ok {
			return "", false
		}
	}
	if w.point != "" || w.metric() && w.part().Sign() == 0 {
		w, ok = w.inDecimals(q)
	} else {
		w, ok = w.inFractions(q)
	}
	return w.text(), ok
}

// inFeet takes the whole feet off an amount in inches.
func (w written) inFeet(q *big.Rat) (written, *big.Rat, bool) {
	inches := new(big.Int).Quo(q.Num(), q.Denom())
	feet := new(big.Int).Quo(inches, big.NewInt(12))
	rest := new(big.Rat).Sub(q, new(big.Rat).SetInt(new(big.Int).Mul(feet, big.NewInt(12))))
	w.feet = feet.String()
	if feet.Sign() == 0 {
		w.feet, w.mark = "", ""
	} else if rest.Sign() == 0 && w.whole == "" {
		w.whole = "0"
	}
	return w, rest, true
}

// mostDecimals is how many digits behind the point a person writes: the ten
// thousandths of an inch that a sixteenth takes (0.0625).
const mostDecimals = 4

func (w written) inDecimals(q *big.Rat) (written, bool) {
	places := len(w.decimals)
	for ; places <= max(len(w.decimals), mostDecimals); places++ {
		fixed := q.FloatString(places)
		if back, _ := new(big.Rat).SetString(fixed); back.Cmp(q) != 0 {
			continue
		}
		whole, decimals, _ := strings.Cut(fixed, ".")
		if whole == "0" && w.whole == "" && decimals != "" {
			whole = "" // .5 stays .5
		}
		if w.point == "" && decimals != "" {
			w.point = w.dot
		}
		w.whole, w.decimals = whole, decimals
		return w, true
	}
	return w, false
}

// finest is the least part of an inch that rules show.
const finest = 64

func (w written) inFractions(q *big.Rat) (written, bool) {
	whole := new(big.Int).Quo(q.Num(), q.Denom())
	part := new(big.Rat).Sub(q, new(big.Rat).SetInt(whole))
	joint := w.joint
	if part.Cmp(w.part()) != 0 {
		if !onRule(part) {
			return w, false
		}
		if part.Sign() != 0 && w.joint == "" && w.glyph == "" {
			joint = " "
		}
		w = w.fraction(part)
	}
	switch {
	case w.glyph == "" && w.den == "":
		joint = ""
	case whole.Sign() == 0:
		joint = ""
	case joint == "" && w.den != "":
		joint = " "
	}
	w.joint = joint
	w.whole = whole.String()
	if whole.Sign() == 0 && part.Sign() != 0 {
		w.whole = ""
	}
	return w, true
}

// onRule says that a rule shows this part of an inch.
func onRule(part *big.Rat) bool {
	d := part.Denom()
	return d.IsInt64() && d.Int64() <= finest && d.Int64()&(d.Int64()-1) == 0
}

// fraction puts in another fraction, by its character if the old one had one.
func (w written) fraction(part *big.Rat) written {
	bySign := w.glyph != ""
	if w.slash == "" {
		w.slash = "/"
	}
	w.glyph, w.num, w.den = "", part.Num().String(), part.Denom().String()
	switch g, has := glyphs[fmt.Sprintf("%s/%s", w.num, w.den)]; {
	case part.Sign() == 0:
		w.num, w.slash, w.den = "", "", ""
	case bySign && has:
		w.num, w.slash, w.den, w.glyph = "", "", "", g
	}
	return w
}
