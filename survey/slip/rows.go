package slip

import "elbowroom/survey/length"

// Copied says that a row may be a copy of the row before it: both are the same
// length. What was meant cannot be known from it, so there is no Slip: the
// reading is to be taken again. Of two rows between the same two marks it means
// nothing, since those are a repeat.
func Copied(text, before string, unit length.Unit, comma bool) bool {
	a, errA := length.Parse(text, unit, comma)
	b, errB := length.Parse(before, unit, comma)
	return errA == nil && errB == nil && a == b
}

// Line is the slip of a length that was written one line off: it belongs to the
// neighbouring row, and the neighbour's to this one. ok is false where the two
// are the same, or the neighbour is no length above zero.
func Line(text, neighbour string, unit length.Unit, comma bool) (s Slip, ok bool) {
	value, err := length.Parse(text, unit, comma)
	if err != nil {
		return Slip{}, false
	}
	c := catalogue{value: value, unit: unit, comma: comma, at: map[float64]int{}}
	c.add("written one line off", neighbour, lineOff)
	if len(c.slips) == 0 {
		return Slip{}, false
	}
	return c.slips[0], true
}
