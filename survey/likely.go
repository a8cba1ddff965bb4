package survey

import (
	"math"

	"elbowroom/survey/network"
	"elbowroom/survey/slip"
)

// What a reading may have been meant to say is weighed by how well it fits, by
// how often hands make that slip, and by how this hand writes: where all tapes
// are in sixteenths, one in thirty-seconds is not what was meant, and a decimal
// point among fractions comes from another scale.

// stylesOf is how the readings are written, one a tie.
func (s *search) stylesOf() []slip.Style {
	out := make([]slip.Style, len(s.ties))
	for l, t := range s.ties {
		if t.Kind == network.Common || t.Kind == network.Sideways {
			continue // nobody wrote it
		}
		c, _ := s.read(l)
		if unit, comma, ok := unitOf(c); ok {
			out[l] = slip.StyleOf(c.Text, unit, comma)
		}
	}
	return out
}

// habit is what the other readings show.
func (s *search) habit(l int) (h slip.Habit) {
	if s.styles == nil {
		s.styles = s.stylesOf()
	}
	for i, style := range s.styles {
		if s.nets.rows[i] != s.nets.rows[l] {
			h.See(style)
		}
	}
	return h
}

// meanings are the slips of a cell.
func (s *search) meanings(l int, c Coordinate) []slip.Slip {
	if s.listed == nil {
		s.listed = map[int][]slip.Slip{}
	}
	list, known := s.listed[l]
	if !known {
		list = s.catalogue(l, c)
		s.listed[l] = list
	}
	return list
}

// hopeless is how much costlier than the best an option is that no habit saves:
// the least share, of 64ths among a thousand readings in halves, is 2^-15, and
// twice its logarithm 21.
const hopeless = 40

// byHabit adds to the options' costs what the habit makes of them.
func (s *search) byHabit(l int, c Coordinate, options []option) {
	unit, comma, ok := unitOf(c)
	if !ok {
		return
	}
	least := math.Inf(1)
	for _, o := range options {
		least = math.Min(least, o.alone)
	}
	habit := s.habit(l)
	asWritten := habit.Share(s.styles[l])
	for i := range options {
		if o := &options[i]; o.alone < least+hopeless {
			o.alone -= 2 * math.Log(habit.Share(slip.StyleOf(o.text, unit, comma))/asWritten)
		}
	}
}

// pool gives each option the likelihood of all that are within the reading's
// limit of it: whichever of them was meant, it puts the reading right.
func pool(options []option, limit float64) {
	for i := range options {
		least, sum := math.Inf(1), 0.0
		near := func(o option) bool { return math.Abs(o.value-options[i].value) <= limit }
		for _, o := range options {
			if near(o) {
				least = math.Min(least, o.alone)
			}
		}
		for _, o := range options {
			if near(o) {
				sum += math.Exp((least - o.alone) / 2)
			}
		}
		options[i].cost = least - 2*math.Log(sum)
	}
}
