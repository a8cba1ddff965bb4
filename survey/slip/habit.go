package slip

import (
	"math/bits"

	"elbowroom/survey/length"
)

// Habit is how a person writes inches, as their other readings show it. The zero
// Habit has seen none, and says little.
type Habit struct {
	decimals  int // readings with a decimal point
	fractions int // readings without
	finest    int // denominator of these: 16 where all are in sixteenths or coarser
}

// Style is how one reading is written. The zero Style is of one that is not in
// inches, or cannot be taken apart, and shows nothing.
type Style struct {
	inches  bool
	decimal bool
	den     int // of its fraction in lowest terms; 1: none
}

// StyleOf takes it from a text, as in Catalogue.
func StyleOf(text string, unit length.Unit, comma bool) Style {
	w, ok := take(text, unit, comma)
	if !ok || w.scale != length.Inch {
		return Style{}
	}
	part := w.part()
	if !onRule(part) {
		return Style{}
	}
	return Style{inches: true, decimal: w.point != "", den: int(part.Denom().Int64())}
}

// See takes in the style of one reading.
func (h *Habit) See(s Style) {
	switch {
	case !s.inches:
	case s.decimal:
		h.decimals++
	default:
		h.fractions++
		h.finest = max(h.finest, s.den)
	}
}

// Share is how likely the habit makes it that a right reading is in a style,
// over what it would be on a tape that shows just the ticks that were used: by
// the rule of succession (Laplace 1774, "Mémoire sur la probabilité des causes
// par les évènements"), (k + 1)/(n + 2) where k of n were so. Of ticks that are
// finer than any used, each is the less likely the more there are of them. 1 for
// a style that is not in inches: what was read off another scale says nothing.
func (h Habit) Share(s Style) float64 {
	n := float64(h.decimals + h.fractions)
	switch {
	case !s.inches:
		return 1
	case s.decimal:
		return (float64(h.decimals) + 1) / (n + 2)
	case h.fractions == 0 || s.den <= h.finest:
		return (float64(h.fractions) + 1) / (n + 2)
	}
	finer := bits.Len(uint(s.den)) - bits.Len(uint(h.finest))
	return (float64(h.fractions) + 1) / (n + 2) / (float64(h.fractions) + 2) / float64(int(1)<<finer)
}
