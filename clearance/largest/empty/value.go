package empty

import (
	"cmp"
	"math"
	"math/bits"
)

// Value is what a size is worth: 128 bits without a sign, Hi the upper half.
// The zero Value is worth nothing and is never an answer.
type Value struct{ Hi, Lo uint64 }

// Compare is -1, 0 or 1.
func (v Value) Compare(other Value) int {
	if v.Hi != other.Hi {
		return cmp.Compare(v.Hi, other.Hi)
	}
	return cmp.Compare(v.Lo, other.Lo)
}

func (v Value) over(other Value) bool {
	return v.Hi > other.Hi || v.Hi == other.Hi && v.Lo > other.Lo
}

// Float is the value as a float64, within a part in 2^52 of it.
func (v Value) Float() float64 {
	return float64(v.Hi)*(1<<64) + float64(v.Lo)
}

// Volume is width times height times depth in cubic micrometres, exactly. A
// size that is not positive is worth nothing.
func Volume(s Size) Value {
	if s[0] <= 0 || s[1] <= 0 || s[2] <= 0 {
		return Value{}
	}
	hi, lo := bits.Mul64(uint64(s[0]), uint64(s[1]))
	upper, low := bits.Mul64(lo, uint64(s[2]))
	return Value{Hi: hi*uint64(s[2]) + upper, Lo: low}
}

// Measured turns a figure of the caller's own (litres to the rim, the area of
// sheet) into a Value in the same order; zero, less than zero and not a number
// are worth nothing.
func Measured(v float64) Value {
	if !(v > 0) {
		return Value{}
	}
	return Value{Lo: math.Float64bits(v)}
}
