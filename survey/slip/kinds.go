package slip

import (
	"math/big"
	"strings"

	"elbowroom/survey/length"
)

// an offset is a slip by so many millimetres' worth of the scale: what was meant
// is longer than what was written by by.
type offset struct {
	name  string
	by    *big.Rat // inches, or mm
	prior float64
}

func rat(a, b int64) *big.Rat { return big.NewRat(a, b) }

// inches are the slips by a fixed length on a tape in inches.
func inches() []offset {
	return []offset{
		{"an inch burned", rat(-1, 1), oneBurned},
		{"an inch taken off for nothing", rat(1, 1), oneForNone},
		{"a burned inch added", rat(-2, 1), oneAdded},
		{"ten inches burned", rat(-10, 1), tenBurned},
		{"ten inches taken off for nothing", rat(10, 1), tenForNone},
		{"ten burned inches added", rat(-20, 1), tenAdded},
		// Up to 1/16 in: bent hooks and worn rivet holes, as tapes are told of.
		{"hook play", rat(-1, 16), hookPlay},
		{"hook play", rat(1, 16), hookPlay},
		{"a foot miscounted", rat(-12, 1), footMiscount},
		{"a foot miscounted", rat(12, 1), footMiscount},
		{"a wrong tens digit", rat(-10, 1), tensWrong},
		{"a wrong tens digit", rat(10, 1), tensWrong},
	}
}

// millimetres are the slips by a fixed length on a metric tape.
func millimetres() []offset {
	return []offset{
		{"a centimetre burned", rat(-10, 1), oneBurned},
		{"a centimetre taken off for nothing", rat(10, 1), oneForNone},
		{"a burned centimetre added", rat(-20, 1), oneAdded},
		{"ten centimetres burned", rat(-100, 1), tenBurned},
		{"ten centimetres taken off for nothing", rat(100, 1), tenForNone},
		{"ten burned centimetres added", rat(-200, 1), tenAdded},
		// A hook is about 1 mm thick (common practice, no source).
		{"hook play", rat(-1, 1), hookPlay},
		{"hook play", rat(1, 1), hookPlay},
		{"a metre miscounted", rat(-1000, 1), footMiscount},
		{"a metre miscounted", rat(1000, 1), footMiscount},
		{"a wrong tens digit", rat(-10, 1), tensWrong},
		{"a wrong tens digit", rat(10, 1), tensWrong},
		{"a wrong hundreds digit", rat(-100, 1), hundredsWrong},
		{"a wrong hundreds digit", rat(100, 1), hundredsWrong},
	}
}

// body is a length of tape case that is printed on such cases, and which share
// of tapes has it (common practice, no source; the shares are own judgement). The
// length is printed to be added in the head, so of inch cases most are a whole
// three inches, and any other is the exception.
type body struct {
	size  *big.Rat
	share float64
}

func inchBodies() []body {
	return []body{{rat(3, 1), 0.75}, {rat(5, 2), 0.05}, {rat(11, 4), 0.05}, {rat(25, 8), 0.05}, {rat(13, 4), 0.05}, {rat(7, 2), 0.05}}
}

func metricBodies() []body {
	return []body{{rat(70, 1), 0.3}, {rat(60, 1), 0.1}, {rat(65, 1), 0.1}, {rat(75, 1), 0.2}, {rat(80, 1), 0.2}, {rat(85, 1), 0.1}}
}

// offsets are the slips by a fixed length.
func (c *catalogue) offsets() {
	all, bodies, per := inches(), inchBodies(), rat(1, 1)
	switch {
	case c.metric():
		all, bodies, per = millimetres(), metricBodies(), rat(1, int64(c.scale.MM()))
	case c.scale == length.Foot:
		per = rat(1, 12)
	}
	for _, o := range all {
		c.shifted(o.name, new(big.Rat).Mul(o.by, per), o.prior)
	}
	for _, b := range bodies {
		by := new(big.Rat).Mul(b.size, per)
		c.shifted("the tape's body not added", by, bodyLeftOut*b.share)
		c.shifted("the tape's body added for nothing", new(big.Rat).Neg(by), bodyForNone*b.share)
	}
}

// fractions are the slips with the ticks between two inches.
func (c *catalogue) fractions() {
	part := c.part()
	if c.point != "" {
		return
	}
	switch {
	case part.Sign() == 0 && c.scale == length.CM:
		for mm := int64(1); mm < 10; mm++ {
			c.shifted("the millimetres left out", rat(mm, 10), millimetresLost)
		}
	case part.Sign() == 0 && c.scale == length.Inch:
		for n := int64(1); n < 16; n++ {
			c.shifted("the fraction left out", rat(n, 16), fractionDropped)
		}
	case part.Sign() != 0:
		twice := new(big.Rat).Add(part, part)
		c.shifted("the fraction counted back from the inch mark", new(big.Rat).Neg(twice), backFromInch)
		c.shifted("the fraction counted back from the next inch", twice.Sub(rat(1, 1), twice), backFromNext)
		c.terms(part)
	}
}

// terms are the slips with a fraction's numerator and its denominator.
func (c *catalogue) terms(part *big.Rat) {
	n, d := part.Num().Int64(), part.Denom().Int64()
	if !onRule(part) {
		return // thirds and tenths
	}
	if c.den != "" { // as written, such as 2/8
		written, ok := new(big.Rat).SetString(c.num)
		over, fine := new(big.Rat).SetString(c.den)
		if !ok || !fine || !written.Num().IsInt64() || !over.Num().IsInt64() || over.Num().Int64() > finest {
			return
		}
		n, d = written.Num().Int64(), over.Num().Int64()
	}
	var numerators []int64
	for m := int64(1); m < d; m += 2 {
		if m != n && max(m-n, n-m) <= farTicks {
			numerators = append(numerators, m)
		}
	}
	for _, m := range numerators {
		c.shifted("a wrong numerator", new(big.Rat).Sub(rat(m, d), part), numeratorWrong/float64(len(numerators)))
	}
	// Half or twice is the usual slip of a denominator, a quarter or four times
	// the rare one (own judgement).
	for _, e := range [4]struct{ d, share, of int64 }{{2 * d, 4, 10}, {d / 2, 4, 10}, {4 * d, 1, 10}, {d / 4, 1, 10}} {
		if e.d > n && e.d <= finest {
			c.shifted("a wrong denominator", new(big.Rat).Sub(rat(n, e.d), part), denominatorWrong*float64(e.share)/float64(e.of))
		}
	}
}

// farTicks is how far a wrong numerator may be from the right one: 1/8 for 7/8,
// and 3/16 for 9/16. Counting farther wrong within an inch is not told of.
const farTicks = 6

// units are the slips of the scale: the number is right, its unit is not.
func (c *catalogue) units() {
	if c.feet != "" || c.part().Sign() != 0 {
		return // feet and inches, and fractions, are what they seem
	}
	unit := func(name, suffix string, prior float64) { c.add(name, c.lead+c.core()+suffix, prior) }
	gap := c.gap()
	switch c.scale {
	case length.Inch:
		unit("millimetres, not inches", gap+"mm", otherScale*0.6)
		unit("centimetres, not inches", gap+"cm", otherScale*0.4)
	case length.MM:
		unit("inches, not millimetres", gap+"in", otherScale)
		unit("centimetres, not millimetres", gap+"cm", tenfold)
	case length.CM:
		unit("inches, not centimetres", gap+"in", otherScale)
		unit("millimetres, not centimetres", gap+"mm", tenfold)
	case length.Metre:
		unit("feet, not metres", gap+"ft", otherScale)
	case length.Foot:
		unit("inches, not feet", gap+"in", otherScale/2)
		unit("metres, not feet", gap+"m", otherScale/2)
	}
}

// gap is what stands between a number and its unit: as written, or a blank.
func (c *catalogue) gap() string {
	unit := strings.TrimSpace(c.tail)
	if unit == "" || strings.Trim(unit, "\"'“”″") == "" {
		return " "
	}
	return c.tail[:strings.Index(c.tail, unit)]
}

// points are the slips of the decimal point: the same digits, the point one
// place to the right or to the left.
func (c *catalogue) points() {
	if c.feet != "" || c.den != "" || c.glyph != "" || c.point == "" && !c.metric() {
		return
	}
	all := c.whole + c.decimals
	for _, at := range [2]int{len(c.whole) + 1, len(c.whole) - 1} {
		digits, at := all, at
		if at > len(digits) {
			digits += "0"
		}
		if at < 0 {
			digits, at = "0"+digits, 0
		}
		w := c.written
		w.whole, w.decimals, w.point = strings.TrimLeft(digits[:at], "0"), digits[at:], c.dot
		if c.point != "" {
			w.point = c.point
		}
		if w.whole == "" && c.whole != "" || w.whole == "" && w.decimals == "" {
			w.whole = "0"
		}
		if w.decimals == "" {
			w.point = ""
		}
		c.each("the decimal point moved", []string{w.core()}, pointMoved)
	}
}
