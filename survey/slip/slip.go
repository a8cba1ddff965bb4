// Package slip knows the slips of the hand with a tape: given what a person
// wrote, it lists what they may have meant. It holds no survey: which of them
// fits the other readings is for the adjustment to say.
package slip

import (
	"math/big"
	"sort"

	"elbowroom/survey/length"
)

// Slip is one thing that a person may have meant by what they wrote.
type Slip struct {
	// Name says in a plain phrase what went wrong, as in "an inch burned".
	Name string
	// Text is the cell as that person would have written it right.
	Text  string
	Value float64 // of Text, mm
	// Prior is about how likely it is that a slip with a length of Value makes
	// the text of it that was written. Where several slips lead to one value it
	// is their sum, and Name is the likeliest of them.
	Prior float64
}

// Catalogue lists the slips by which text may have come to be written for
// another length: likeliest first, each value once, none of them what text says
// now. Each Text is in the style of text: a mixed fraction stays one, as do
// decimals, a decimal comma, and units. Only a slip of the unit or of the tape's
// scale changes the unit.
//
// text is a length that length.Parse reads as value (mm), given the unit of bare
// numbers and whether a comma is a decimal point. What it cannot take apart has
// no slips. Lengths keep their sign and stay above zero; for a sign that was
// lost see Sign.
func Catalogue(text string, value float64, unit length.Unit, comma bool) []Slip {
	w, ok := take(text, unit, comma)
	if !ok {
		return nil
	}
	c := catalogue{written: w, was: w.amount(), value: value, unit: unit, comma: comma, at: map[float64]int{}}
	c.offsets()
	c.digits()
	c.fractions()
	c.units()
	c.points()
	return c.sorted()
}

// Sign is the slip of a minus that was lost or put in by mistake. It is none of
// a tape's slips, whose lengths have no sign, but of a coordinate's. ok is false
// for 0 and for what cannot be taken apart.
func Sign(text string, value float64, unit length.Unit, comma bool) (s Slip, ok bool) {
	w, ok := take(text, unit, comma)
	if !ok || value == 0 {
		return Slip{}, false
	}
	c := catalogue{written: w, value: value, unit: unit, comma: comma, at: map[float64]int{}}
	name := "a minus put in by mistake"
	if value > 0 {
		w.lead, name = "-", "a minus lost"
	} else {
		w.lead = ""
	}
	c.add(name, w.text(), signLost)
	if len(c.slips) == 0 {
		return Slip{}, false
	}
	return c.slips[0], true
}

// catalogue gathers slips.
type catalogue struct {
	written
	was   *big.Rat // the number as written
	value float64  // as written, mm
	unit  length.Unit
	comma bool
	slips []Slip
	at    map[float64]int // the slip of each value
	best  []float64       // the likeliest single way to each slip's value
}

// add takes one slip, if its text is a length above zero and another one than
// what was written.
func (c *catalogue) add(name, text string, prior float64) {
	value, err := length.Parse(text, c.unit, c.comma)
	if err != nil || value == c.value || value == 0 || prior <= 0 {
		return
	}
	i, known := c.at[value]
	if !known {
		c.at[value] = len(c.slips)
		c.slips = append(c.slips, Slip{name, text, value, prior})
		c.best = append(c.best, prior)
		return
	}
	c.slips[i].Prior += prior
	if prior > c.best[i] {
		c.best[i] = prior
		c.slips[i].Name, c.slips[i].Text = name, text
	}
}

// shifted takes the slip of a length that was so much off, in the unit of the
// number: what was meant is the amount and by.
func (c *catalogue) shifted(name string, by *big.Rat, prior float64) {
	if text, ok := c.with(new(big.Rat).Add(c.was, by)); ok {
		c.add(name, text, prior)
	}
}

func (c *catalogue) sorted() []Slip {
	sort.SliceStable(c.slips, func(i, j int) bool {
		a, b := c.slips[i], c.slips[j]
		if a.Prior != b.Prior {
			return a.Prior > b.Prior
		}
		return a.Value < b.Value
	})
	return c.slips
}
