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
