package survey

import (
	"fmt"
	"math"
	"strings"
	"unicode"
)

// farOut is how many times the spread of a feature's other marks a coordinate
// must be away to look like a slip of the hand.
const farOut = 20

// someWay is how far outside the other marks, in their spreads, a coordinate
// must be before a unit mixed up or two numbers swapped are thought of.
const someWay = 3

// fewest is how many other marks it takes to speak of their spread.
const fewest = 3

// slips doubts readings that look like a slip of the hand: one coordinate far
// away from the feature's others, a unit mixed up, x and y swapped. Only a
// doubt: an odd feature may be just so.
func (a *adjuster) slips() {
	for i := range a.space.Features {
		f := &a.space.Features[i]
		if f.Spec.Run {
			continue
		}
		for k, n := range f.Nodes {
			if !n.Planar {
				a.slip(f, k)
			}
		}
	}
}

// others tells where the other marks of a feature are along one axis: the
// least, the greatest, the mean and the standard deviation.
type others struct {
	lo, hi, mean, spread float64
	n                    int
}

func (a *adjuster) others(f *Feature, but, axis int) others {
	o := others{lo: math.Inf(1), hi: math.Inf(-1)}
	var squares float64
	for k, n := range f.Nodes {
		if k == but || n.Planar {
			continue
		}
		x := along(a.space.Marks[n.Mark].At, axis)
		o.lo, o.hi = math.Min(o.lo, x), math.Max(o.hi, x)
		o.n++
		d := x - o.mean
		o.mean += d / float64(o.n)
		squares += d * (x - o.mean)
	}
	o.spread = math.Sqrt(squares / math.Max(1, float64(o.n-1)))
	return o
}

// outside is how far x is outside the others' range, in their spreads; a spread
// is never less than the reading's own uncertainty u.
func (o others) outside(x, u float64) float64 {
	return math.Max(0, math.Max(o.lo-x, x-o.hi)) / math.Max(1e-9, math.Max(o.spread, u))
}

func (a *adjuster) slip(f *Feature, k int) {
	m := f.Nodes[k].Mark
	if a.space.frame != nil || len(a.points[m]) == 0 {
		return // in a frame of its own the numbers are no longer those of the file
	}
	p := a.readings.Points[a.points[m][0]]
	var o [3]others
	var out [3]float64
	for axis := range o {
		o[axis] = a.others(f, k, axis)
		if o[axis].n < fewest {
			return
		}
		out[axis] = o[axis].outside(along(a.space.Marks[m].At, axis), p.Limit.U())
	}
	if out[0] > someWay && out[1] > someWay && a.swapped(m, p, o) {
		return
	}
	for axis := range o {
		if out[axis] > someWay && p.Base == "" && a.mixedUnit(m, p, axis, o[axis]) {
			continue
		}
		if out[axis] > farOut && f.Plane == nil { // out of a flat is doubted with the flat
			a.doubt(Doubt{Pos: p.At[axis].Pos, Weight: 20 + math.Min(out[axis], 1000), Says: fmt.Sprintf("%s of %s reads %s, far from the rest of %s: a slip?", axisName(axis), a.space.Marks[m].Name, p.At[axis].Text, f.Spec.Name)})
		}
	}
}

func axisName(axis int) string { return [3]string{"x", "y", "z"}[axis] }

// swapped says, and doubts, that x and y the other way round would fit in.
func (a *adjuster) swapped(m int, p Point, o [3]others) bool {
	at := a.space.Marks[m].At
	if o[0].outside(at.Y, p.Limit.U()) > 1 || o[1].outside(at.X, p.Limit.U()) > 1 {
		return false
	}
	a.doubt(Doubt{Pos: p.At[0].Pos, Weight: 30, Says: fmt.Sprintf("x and y of %s look swapped: %s and %s the other way round would fit in with the rest", a.space.Marks[m].Name, p.At[0].Text, p.At[1].Text), Suggests: p.At[1].Text})
	return true
}

// mixedUnit says, and doubts, that a bare number was meant in the other of inch
// and millimetre.
func (a *adjuster) mixedUnit(m int, p Point, axis int, o others) bool {
	const inch = 25.4
	text := p.At[axis].Text
	if strings.ContainsFunc(text, func(r rune) bool { return unicode.IsLetter(r) || strings.ContainsRune("'\"′″”’", r) }) {
		return false // it names its unit
	}
	x := p.At[axis].Value
	for _, c := range [2]struct {
		meant float64
		unit  string
	}{{x / inch, "mm"}, {x * inch, "in"}} {
		// A range of no width is stretched by a tenth of the value: nobody measures the like.
		if meant := c.meant; meant == 0 || o.outside(meant, math.Abs(meant)/10) > 0.5 {
			continue
		}
		a.doubt(Doubt{Pos: p.At[axis].Pos, Weight: 25, Says: fmt.Sprintf("%s of %s reads %s; as %s %s it would fit in with the rest", axisName(axis), a.space.Marks[m].Name, text, text, c.unit), Suggests: text + " " + c.unit})
		return true
	}
	return false
}
