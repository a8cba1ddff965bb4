package length

import (
	"math"
	"strconv"
	"strings"
)

// MostSteps is how many lengths ParseSteps makes at most: no rule has as many
// marks.
const MostSteps = 100_000

const mendSteps = "write it as in 7..10:1/4 (from 7 to 10 in steps of 1/4)"

// ParseSteps reads one length or several in equal steps: 7..10:1/4 is 7, 7 1/4
// and so on to 10, which is left out where no step reaches it. A bare number has
// the unit bare. The result is in millimetres, least first, never empty. The error
// is always a *Mistake.
func ParseSteps(text string, bare Unit) ([]float64, error) {
	from, rest, several := strings.Cut(strings.ReplaceAll(text, "…", ".."), "..")
	if !several {
		mm, err := alone(text, bare)
		if err == nil {
			return []float64{mm}, nil
		}
		if strings.Contains(text, ":") || dashed(text) {
			return nil, mistake(text, "is not a row of lengths", mendSteps)
		}
		return nil, err
	}
	to, step, stepped := strings.Cut(rest, ":")
	if !stepped {
		return nil, mistake(text, "has no step", mendSteps)
	}
	var mm [3]float64
	for i, part := range [3]string{from, to, step} {
		var err error
		if mm[i], err = alone(part, bare); err != nil {
			return nil, err
		}
	}
	return row(text, mm[0], mm[1], mm[2])
}

// alone is Parse for a text that is no cell of a table.
func alone(text string, bare Unit) (float64, error) {
	mm, err := Parse(text, bare, false)
	if m, ok := err.(*Mistake); ok {
		return 0, m.Alone()
	}
	return mm, nil
}

// dashed says whether a text is two numbers with a dash between that are no whole
// number and its fraction: 7-10.
func dashed(text string) bool {
	a, b, ok := strings.Cut(plain(text), "-")
	if !ok {
		return false
	}
	_, first := strconv.ParseFloat(strings.TrimSpace(a), 64)
	_, second := strconv.ParseFloat(strings.TrimSpace(b), 64)
	return first == nil && second == nil
}

// row is the lengths themselves.
func row(text string, from, to, step float64) ([]float64, error) {
	switch {
	case from > to:
		return nil, mistake(text, "runs from the greater to the lesser", "write the lesser first, as in 7..10:1/4")
	case step <= 0:
		return nil, mistake(text, "has a step of 0 or less", "write a step of more than 0, as in 7..10:1/4")
	}
	last := math.Floor((to - from + onStep) / step)
	if last >= MostSteps {
		return nil, mistake(text, "makes more than "+strconv.Itoa(MostSteps)+" lengths", "take a larger step")
	}
	out := make([]float64, 0, int(last)+1)
	for k := 0.0; k <= last; k++ {
		// Rounded to the ten thousand-millionth of a millimetre, to be the same number
		// as the length written by itself: float64 is good to 2e-11 here (see Longest).
		out = append(out, math.Round((from+k*step)*1e10)/1e10)
	}
	return out, nil
}
