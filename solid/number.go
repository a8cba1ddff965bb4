package solid

import (
	"math"

	"github.com/golang/geo/s1"
)

// reach is how near a limit counts as reaching it, mm. Shops measure to a
// hundredth of a millimetre; this leaves room for rounding only.
const reach = 1e-6

// longest is the greatest length taken, mm: no place that a box is made for is
// 100 m across, so that more is a slip in the unit. It also keeps the product of
// three lengths far from overflow.
const longest = 1e5

// number says whether a length is one; what names it, as in "the width".
func (b *builder) number(key, what string, mm float64) bool {
	switch {
	case !finite(mm):
		b.complain(key, escaped(what)+" is no number", "write a length")
		return false
	case math.Abs(mm) > longest:
		b.complain(key, escaped(what)+" is beyond %s, which nothing here is", "check the figure and its unit", longest)
		return false
	}
	return true
}

// fromZero says whether a length is one of 0 or more.
func (b *builder) fromZero(key, what string, mm float64) bool {
	if !b.number(key, what, mm) {
		return false
	}
	if mm < 0 {
		b.complain(key, escaped(what)+" is %s, less than 0", "write 0 or more", mm)
	}
	return mm >= 0
}

// overZero says whether a length is one of more than 0.
func (b *builder) overZero(key, what string, mm float64) bool {
	if !b.number(key, what, mm) {
		return false
	}
	const mend = "write more than 0"
	switch {
	case mm == 0:
		b.complain(key, escaped(what)+" is 0", mend)
	case mm < 0:
		b.complain(key, escaped(what)+" is %s, less than 0", mend, mm)
	}
	return mm > 0
}

// angle says whether an angle is a number.
func (b *builder) angle(key, what string, a s1.Angle) bool {
	if !finite(a.Degrees()) {
		b.complain(key, escaped(what)+" is no number", "write an angle in degrees")
		return false
	}
	return true
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// all says whether all of what was checked is right; unlike && it lets every
// check be made.
func all(checks ...bool) bool {
	for _, ok := range checks {
		if !ok {
			return false
		}
	}
	return true
}
