package length

import (
	"math"
	"strconv"
	"strings"
)

// Free is a clearance in millimetres: it rounds down (toward minus infinity).
type Free float64

// Needed is a needed gap, an outside size or an uncertainty in millimetres: it
// rounds up (toward plus infinity).
type Needed float64

// Place is a position in millimetres: it rounds to the nearest.
type Place float64

// Figure is a length of one of the kinds above; the kind decides the rounding.
type Figure interface {
	mm() float64
	round(steps float64) float64
}

func (f Free) mm() float64   { return float64(f) }
func (n Needed) mm() float64 { return float64(n) }
func (p Place) mm() float64  { return float64(p) }

func (Free) round(steps float64) float64   { return math.Floor(steps) }
func (Needed) round(steps float64) float64 { return math.Ceil(steps) }
func (Place) round(steps float64) float64  { return math.Round(steps) }

// onStep is how near a step a length in millimetres counts as on it: the
// project's one tolerance for reaching a limit. Float64 noise of lengths up to
// Longest is 1e5 times smaller, and no tape shows it.
const onStep = 1e-6

// Style says how lengths print. The zero Style prints millimetres to 0.1 mm;
// centimetres print to 0.01, metres to 0.0001 and decimal inches to 0.001. Feet
// print as feet and inches.
type Style struct {
	Unit    Unit
	Parts   int  // inches print to 1/Parts, up to 1/1024 [32]
	Decimal bool // inches print as decimals
}

// Print gives the figure with its unit, as in "5/16 in" or "7.9 mm". What is
// not a number prints as "-".
func (s Style) Print(f Figure) string {
	bare := s.Bare(f)
	if bare == "-" || s.Unit == Foot {
		return bare
	}
	return bare + " " + s.Unit.String()
}

// Bare gives the figure without its unit, as in "5/16". Feet keep theirs, since
// a figure in feet has two: "1 ft 3 1/2 in".
func (s Style) Bare(f Figure) string {
	steps := s.steps(f)
	if math.IsNaN(steps) || math.IsInf(steps, 0) {
		return "-"
	}
	sign := ""
	if steps < 0 {
		sign = "-"
	}
	steps = math.Abs(steps)
	if s.Unit == Foot {
		return sign + s.feet(steps)
	}
	return sign + s.amount(steps)
}

// Step is the smallest difference that the style shows, in millimetres.
func (s Style) Step() float64 {
	switch s.Unit {
	case Inch, Foot:
		return Inch.MM() / s.perInch()
	}
	return 0.1
}

// finest is the most parts of an inch that print: 1/1024 in is 0.025 mm, which
// no rule shows, and is still far coarser than onStep.
const finest = 1024

// perInch is the number of steps in an inch.
func (s Style) perInch() float64 {
	switch {
	case s.Decimal:
		return 1000
	case 0 < s.Parts && s.Parts <= finest:
		return float64(s.Parts)
	}
	return 32
}

// steps is the figure in whole steps, rounded to its kind's side, but to the
// nearest step if it is within onStep of it.
func (s Style) steps(f Figure) float64 {
	step := s.Step()
	nearest := math.Round(f.mm() / step)
	if math.Abs(f.mm()-nearest*step) <= onStep {
		return nearest
	}
	return f.round(f.mm() / step)
}

// feet writes whole steps of an inch as feet and inches.
func (s Style) feet(steps float64) string {
	perFoot := 12 * s.perInch()
	feet, rest := math.Trunc(steps/perFoot), math.Mod(steps, perFoot)
	if feet == 0 {
		return s.amount(rest) + " in"
	}
	ft := strconv.FormatFloat(feet, 'f', 0, 64) + " ft"
	if rest == 0 {
		return ft
	}
	return ft + " " + s.amount(rest) + " in"
}

// amount writes whole steps, not negative, in inches or in the metric unit.
func (s Style) amount(steps float64) string {
	switch s.Unit {
	case CM:
		return decimal(steps, 2)
	case Metre:
		return decimal(steps, 4)
	case Inch, Foot:
		if s.Decimal {
			return decimal(steps, 3)
		}
		return fraction(steps, s.perInch())
	}
	return decimal(steps, 1)
}

// decimal writes steps of 10 to the minus places.
func decimal(steps float64, places int) string {
	d := strconv.FormatFloat(steps, 'f', 0, 64)
	if len(d) <= places {
		d = strings.Repeat("0", places+1-len(d)) + d
	}
	return d[:len(d)-places] + "." + d[len(d)-places:]
}

// fraction writes steps of 1/parts as a reduced mixed number.
func fraction(steps, parts float64) string {
	whole, rest := math.Trunc(steps/parts), math.Mod(steps, parts)
	w := strconv.FormatFloat(whole, 'f', 0, 64)
	if rest == 0 {
		return w
	}
	n, d := int(rest), int(parts)
	g := gcd(n, d)
	part := strconv.Itoa(n/g) + "/" + strconv.Itoa(d/g)
	if whole == 0 {
		return part
	}
	return w + " " + part
}

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
