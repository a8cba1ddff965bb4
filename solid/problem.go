package solid

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Problem is one thing wrong with a tank: the key that it stands under, as in
// "fittings[1].at", what is wrong, and how to mend it. What has a %s for each
// of Lengths (mm), so that the caller can word them in the job's unit; see Text.
type Problem struct {
	Key, What, Mend string
	Lengths         []float64
}

// Text is What with its lengths as print words them.
func (p Problem) Text(print func(mm float64) string) string {
	words := make([]any, len(p.Lengths))
	for i, mm := range p.Lengths {
		words[i] = print(mm)
	}
	return fmt.Sprintf(p.What, words...)
}

// Problems is everything wrong with a tank: the box first, then its brackets and
// fittings in their order, then their names, then fittings that collide.
type Problems []Problem

// Error gives one line a problem.
func (p Problems) Error() string {
	lines := make([]string, len(p))
	for i, q := range p {
		lines[i] = q.Key + ": " + q.Text(millimetres) + "; " + q.Mend
	}
	return strings.Join(lines, "\n")
}

// millimetres words a length to the nearest micrometre.
func millimetres(mm float64) string {
	return strconv.FormatFloat(math.Round(mm*1000)/1000, 'f', -1, 64) + " mm"
}

// complain takes what with a %s for each length.
func (b *builder) complain(key, what, mend string, lengths ...float64) {
	b.problems = append(b.problems, Problem{key, what, mend, lengths})
}

// escaped makes a name safe inside What: it may hold a percent sign of its own.
func escaped(name string) string { return strings.ReplaceAll(name, "%", "%%") }
