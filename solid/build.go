package solid

import (
	"fmt"
	"math"
	"strings"

	"github.com/golang/geo/r3"

	"elbowroom/solid/shape"
	"elbowroom/solid/sheet"
)

// Kind tells the kinds of parts apart.
type Kind int

// The kinds of parts.
const (
	Body Kind = iota
	BracketPart
	ElementPart
	KeepOpenPart
)

// Part is one solid of the candidate in the box's frame.
type Part struct {
	Name  string
	Kind  Kind
	Solid shape.Convex
	// Follow is by how much the part moves along x, y, z for each millimetre
	// that the width, height and depth turn out larger: the held corner stays,
	// the far sides move by all of it. The body's own points move with their
	// share of each size instead (Share).
	Follow r3.Vector
	// Fitting is the index of the fitting that the part belongs to, or -1.
	Fitting int
	Aside   []string // features that are out of the way for a keep-open volume
	After   bool     // fitted after the box is in
}

// Share is by how much a point of the part at p (box frame) moves along x, y, z
// for each millimetre that the width, height and depth turn out larger.
func (p Part) Share(at r3.Vector, size Size) r3.Vector {
	if p.Kind != Body {
		return p.Follow
	}
	share := func(x, whole float64) float64 { return math.Min(1, math.Max(0, x/whole)) }
	return r3.Vector{X: share(at.X, size.Width), Y: share(at.Y, size.Height), Z: share(at.Z, size.Depth)}
}

// Port is where a hose leaves a fitting: the middle of the outer end of its
// stack, and the direction out of it.
type Port struct {
	At, Axis r3.Vector
	Follow   r3.Vector
}

// Assembly is all parts of the candidate in place, in the box's frame. It does
// not change once built.
type Assembly struct {
	Tank  Tank
	Parts []Part
	Ports []Port // one for each fitting
	// Holding is the capacity and the masses; ok is false without a sheet.
	Holding sheet.Holding
	Known   bool
}

// Problem is one thing wrong with a tank: the key that it stands under, as in
// "fittings[1].at", what is wrong, and how to mend it. What has a %s for each
// of Lengths (mm), so that the caller can word them in the job's unit.
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

// Problems is everything wrong with a tank.
type Problems []Problem

// Error gives one line a problem.
func (p Problems) Error() string {
	lines := make([]string, len(p))
	for i, q := range p {
		millimetres := func(mm float64) string { return fmt.Sprintf("%.4g mm", mm) }
		lines[i] = fmt.Sprintf("%s: %s; %s", q.Key, q.Text(millimetres), q.Mend)
	}
	return strings.Join(lines, "\n")
}

// Build makes the assembly of a tank. The error is Problems, all of them.
func Build(t Tank) (*Assembly, error) {
	b := builder{tank: t}
	b.body()
	for i := range t.Brackets {
		b.bracket(i)
	}
	for i := range t.Fittings {
		b.fitting(i)
	}
	if len(b.problems) > 0 {
		return nil, b.problems
	}
	a := &Assembly{Tank: t, Parts: b.parts, Ports: b.ports}
	if t.Sheet > 0 {
		a.Holding, a.Known = b.holding(), true
	}
	return a, nil
}

type builder struct {
	tank     Tank
	parts    []Part
	ports    []Port
	problems Problems
}

// complain takes what with a %s for each length.
func (b *builder) complain(key, what, mend string, lengths ...float64) {
	b.problems = append(b.problems, Problem{key, what, mend, lengths})
}

// body is the sharp outside envelope grown by the coat: weld beads live in the
// corners, so rounding the bends off would promise room that is not there.
func (b *builder) body() {
	t := b.tank
	names := [3]string{"width", "height", "depth"}
	for axis, name := range names {
		if along := t.Size.Along(axis); !(along > 0) {
			b.complain("box."+name, "the box has no "+name, "write its outside "+name+", after bending")
		} else if 2*t.Sheet >= along {
			b.complain("box."+name, "two thicknesses of %s leave nothing inside", "check the sheet and the "+name, t.Sheet)
		}
	}
	if len(b.problems) > 0 {
		return
	}
	grow := r3.Vector{X: t.Coat, Y: t.Coat, Z: t.Coat}
	b.parts = append(b.parts, Part{
		Name: "body", Kind: Body, Fitting: -1,
		Solid: boxBetween(grow.Mul(-1), t.Size.Vector().Add(grow)),
	})
}

// boxBetween is the box between its two extreme corners.
func boxBetween(lo, hi r3.Vector) shape.Box {
	d := hi.Sub(lo)
	return shape.Box{Corner: lo, Edges: [3]r3.Vector{{X: d.X}, {Y: d.Y}, {Z: d.Z}}}
}

func (b *builder) bracket(i int) {
	k := b.tank.Brackets[i]
	key := fmt.Sprintf("brackets[%d]", i)
	for axis, name := range [3]string{"x", "y", "z"} {
		if lo, hi := along(k.Min, axis), along(k.Max, axis); !(hi > lo) {
			b.complain(key+"."+name, "the bracket has no size along "+name, "write the lesser first, then the greater, as in [0, 1/8]")
			return
		}
	}
	b.parts = append(b.parts, Part{
		Name: k.Name, Kind: BracketPart, Fitting: -1, Solid: boxBetween(k.Min, k.Max),
	})
}

func along(v r3.Vector, axis int) float64 { return v.Dot(Axis(axis)) }

// holding adds up capacity and mass.
func (b *builder) holding() sheet.Holding {
	t := b.tank
	h := sheet.Hold(sheet.Box{
		Size: t.Size.Vector(), Sheet: t.Sheet, InsideRadius: t.InsideRadius,
		Bends: t.Construction.bends(t.Size), Density: sheet.Density(t.Alloy),
	}, t.Holds.density())
	for _, k := range t.Brackets {
		h = h.With(k.Min, k.Max, sheet.Density(t.Alloy))
	}
	return h
}

// bends lists the bent edges' outside lengths by the axis that they run along.
func (c Construction) bends(s Size) [3]sheet.Bends {
	switch c {
	case WrapAndEnds:
		// A wrap of left, bottom, right and top with an end at the back and at
		// the front: four bends along the depth (the seam lies in a flat).
		return [3]sheet.Bends{2: {Count: 4, Length: s.Depth}}
	case PanAndLid:
		// A pan of the front with the four sides folded back from it, closed
		// by the back: two bends along the width, two along the height.
		return [3]sheet.Bends{0: {Count: 2, Length: s.Width}, 1: {Count: 2, Length: s.Height}}
	}
	// Two channels: left-bottom-right bends twice along the depth,
	// back-top-front twice along the width.
	return [3]sheet.Bends{0: {Count: 2, Length: s.Width}, 2: {Count: 2, Length: s.Depth}}
}

// density is of the contents in kg/m3, the heavier where it may vary; 0 where
// it is not known.
func (c Contents) density() float64 {
	switch c {
	case Coolant:
		// 50 % glycol by mass at 20 degrees C, the cold and heavier state:
		// 1079 kg/m3 (maker's table, also 66.55 lb/ft3 = 1066 at 70 F by volume
		// in ASHRAE Fundamentals).
		return 1079
	case OilVapour:
		// What collects is oil and water; water is the heavier: 998.2 kg/m3 at
		// 20 degrees C (Tanaka 2001).
		return 998.2
	}
	return 0
}
