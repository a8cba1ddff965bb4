package survey

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sync"

	"elbowroom/survey/length"
	"elbowroom/survey/slip"
)

// wrongEnd is a mark that may be taken for the one that was taped from, and what
// a tape from it reads, mm.
type wrongEnd struct {
	mark   string
	away   float64
	weight float64 // as slip.WrongMarks has it
}

// mix draws what was written for a right reading, and what a suggestion must
// say to mend it: the reading, or for a wrong end the mark. ok is false for a
// slip that cannot befall it.
type mix func(r *rand.Rand, right Coordinate, others []wrongEnd) (wrong, mend string, kind int, ok bool)

// equally draws all kinds equally likely.
func equally(r *rand.Rand, right Coordinate, others []wrongEnd) (wrong, mend string, kind int, ok bool) {
	kind, mend = r.IntN(kinds), right.Text
	other := others[r.IntN(len(others))]
	for other.weight < 0.5 { // beside it
		other = others[r.IntN(len(others))]
	}
	if kind == wrongMarkKind {
		mend = other.mark
	}
	wrong, ok = misreading(r, kind, right.Text, []float64{other.away})
	return wrong, mend, kind, ok
}

// byCatalogue draws a slip of the catalogue with the catalogue's own priors, and
// the wrong mark at an end with its own. What changes the reading by less than
// its limit is no misreading, and not drawn.
func byCatalogue(r *rand.Rand, right Coordinate, others []wrongEnd) (wrong, mend string, kind int, ok bool) {
	return drawn(r, slip.Catalogue(right.Text, right.Value, length.Inch, false), right, others)
}

// written lists, for each right reading in sixteenths of an inch, what the
// catalogue says may be written for it: of each text up to the longest here the
// catalogue holds what was meant by it, and this is that turned round.
var written = sync.OnceValue(func() map[int][]slip.Slip {
	out := map[int][]slip.Slip{}
	for n := 1; n < 60*16; n++ {
		text := sixteenths(float64(n) * 25.4 / 16)
		value := inchCell(text).Value
		for _, s := range slip.Catalogue(text, value, length.Inch, false) {
			meant := s.Value / 25.4 * 16
			if math.Abs(meant-math.Round(meant)) < 1e-6 {
				n := int(math.Round(meant))
				out[n] = append(out[n], slip.Slip{Name: s.Name, Text: text, Value: value, Prior: s.Prior})
			}
		}
	}
	return out
})

// otherScales are the slips of the scale: what the tape's millimetres read,
// written as inches, and its centimetres.
func otherScales(right float64) (list []slip.Slip) {
	for _, text := range [2]string{fmt.Sprintf("%.0f", right), fmt.Sprintf("%.1f", right/10)} {
		value := inchCell(text).Value
		for _, s := range slip.Catalogue(text, value, length.Inch, false) {
			if math.Abs(s.Value-right) <= 0.5 {
				list = append(list, slip.Slip{Name: s.Name, Text: text, Value: value, Prior: s.Prior})
			}
		}
	}
	return list
}

// byHand draws what the catalogue says that a hand writes for a right reading,
// as likely as the catalogue says, the wrong mark at an end among it.
func byHand(r *rand.Rand, right Coordinate, others []wrongEnd) (wrong, mend string, kind int, ok bool) {
	list := append(otherScales(right.Value), written()[int(math.Round(right.Value/25.4*16))]...)
	return drawn(r, list, right, others)
}

// drawn draws one of the list by its prior. What changes the reading by less
// than its limit is no misreading, and not drawn.
func drawn(r *rand.Rand, list []slip.Slip, right Coordinate, others []wrongEnd) (wrong, mend string, kind int, ok bool) {
	sum := wrongMark
	for _, s := range list {
		sum += s.Prior
	}
	at := r.Float64() * sum
	for _, s := range list {
		if at -= s.Prior; at < 0 {
			return s.Text, right.Text, 0, math.Abs(s.Value-right.Value) >= math.Sqrt(3)
		}
	}
	weights := 0.0
	for _, o := range others {
		weights += o.weight
	}
	at, other := r.Float64()*weights, others[0]
	for _, other = range others {
		if at -= other.weight; at < 0 {
			break
		}
	}
	return sixteenths(other.away), other.mark, wrongMarkKind, math.Abs(other.away-right.Value) >= math.Sqrt(3)
}

// The slips that are told of, each as likely: an inch burned or taken off for
// nothing, ten, a foot, two digits swapped, a fraction's numerator or
// denominator, millimetres or centimetres for inches, the fraction dropped,
// another mark, the tape's body.
var toldKinds = []string{"inch", "ten", "foot", "digits", "terms", "mm", "cm", "dropped", "mark", "body"}

// The list that such trials have been made with before: an inch, ten and a foot,
// either way, two digits swapped, eighths for sixteenths or the other way, the
// fraction on the wrong side of the inch, and millimetres for inches, each as
// likely. With |w| beyond 3.29, 1 mm a tape and base marks in one plane it is
// seen in 0.94, 0.95 and 0.97 with four, five and six tapes, and the greatest
// |w| is at the wrong one in 0.82 and 0.96 with five and six.
var listedKinds = []string{"inch", "inch", "ten", "ten", "foot", "foot", "digits", "size", "side", "mm"}

// of draws from a list of kinds.
func of(list []string) mix {
	return func(r *rand.Rand, right Coordinate, others []wrongEnd) (wrong, mend string, kind int, ok bool) {
		draw := list[r.IntN(len(list))]
		if draw == "mark" {
			for {
				if other := others[r.IntN(len(others))]; other.weight >= 0.5 { // beside it
					return sixteenths(other.away), other.mark, wrongMarkKind, true
				}
			}
		}
		wrong, ok = ofKind(r, draw, right)
		return wrong, right.Text, 0, ok
	}
}

func ofKind(r *rand.Rand, kind string, right Coordinate) (wrong string, ok bool) {
	n := int(math.Round(right.Value / 25.4 * 16))
	rest := n % 16
	ticks := func(n int) (string, bool) { return sixteenths(float64(n) * 25.4 / 16), rest > 0 }
	switch kind {
	case "cm":
		return fmt.Sprintf("%.1f", right.Value/10), true
	case "size": // so many ticks, taken for ticks of twice the size or half
		if r.IntN(2) == 0 {
			wrong, ok = ticks(n + rest)
			return wrong, ok && rest < 8
		}
		wrong, ok = ticks(n - rest/2)
		return wrong, ok && rest%2 == 0
	case "side": // counted back, the inch lowered or not
		if r.IntN(2) == 0 {
			return ticks(n + 16 - 2*rest)
		}
		return ticks(n + 2*(16-rest))
	}
	return misreading(r, map[string]int{"inch": 0, "ten": 1, "foot": 2, "digits": 3, "terms": 4, "dropped": 5, "body": 8, "mm": 9}[kind], right.Text, nil)
}

// beyond leaves out what changes a reading by less than its limit: the reading
// is then as good as it says that it is, and that is no misreading.
func beyond(m mix) mix {
	return func(r *rand.Rand, right Coordinate, others []wrongEnd) (wrong, mend string, kind int, ok bool) {
		wrong, mend, kind, ok = m(r, right, others)
		return wrong, mend, kind, ok && math.Abs(inchCell(wrong).Value-right.Value) >= math.Sqrt(3)
	}
}
