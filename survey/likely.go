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

// slipOdds is how much likelier a slip must make what is read than chance does
// for the reading to be doubted: Neyman and Pearson's test, beside that of |w|,
// which knows nothing of what slips do. By Bayes' rule it leaves even odds where
// one reading in sixteen is a slip; hands are told of that slip in one of ten.
// Right readings seldom come so near to where a slip would have put them: it
// adds one false alarm to ten of the test of |w|.
const slipOdds = 15

// leastOff is from how many standard deviations off a slip can be so likely: if
// it were fitted to a hair, and three slips in ten led there. The likeliest, a
// fraction left out, comes to two in ten, with three ticks within reach.
var leastOff = math.Sqrt(2 * math.Log(slipOdds/0.3))

// likelySlip says that a slip of the catalogue explains a reading so much better
// than chance does, though it may be within what chance explains: an inch tape
// that is 3 mm short of the others, its eighth left out. fitted and u are what
// the rest makes of it.
func (s *search) likelySlip(l int, fitted, u float64) bool {
	if t := s.ties[l]; t.Kind == network.Common || t.Kind == network.Sideways || u > nothingKnown*t.U {
		return false
	}
	miss := (s.ties[l].Value - fitted) / u
	if math.Abs(miss) < leastOff {
		return false
	}
	options := s.options(l, fitted, u)
	if odds(options, miss) <= slipOdds {
		return false // as almost always: the habit is asked of the few that are left
	}
	read, _ := s.read(l)
	s.byHabit(l, read, options)
	return odds(options, miss) > slipOdds
}

// odds is how much likelier the options make a reading that is so many standard
// deviations off than chance does.
func odds(options []option, miss float64) (sum float64) {
	for _, o := range options {
		sum += math.Exp((miss*miss - o.alone) / 2)
	}
	return sum
}

// anyLikelySlip looks for one among the readings that are not set aside. Without
// a reading the rest is as far from it as its residual over its redundancy, and
// the difference as uncertain as the reading over its root.
func (s *search) anyLikelySlip(adjusted *network.Adjusted) bool {
	for l, t := range s.ties {
		if s.w(adjusted, l) < leastOff {
			continue
		}
		r := adjusted.Redundancy[l]
		if s.likelySlip(l, t.Value+adjusted.Residuals[l]/r, t.U/math.Sqrt(r)) {
			return true
		}
	}
	return false
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
