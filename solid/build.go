package solid

import (
	"fmt"
	"math"

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
	// Name is "body", a bracket's name, or a fitting's and its element's, as in
	// "fill cap". No two parts have the same.
	Name  string
	Kind  Kind
	Solid shape.Convex
	// Follow is by how much the part moves along x, y, z for each millimetre
	// that the width, height and depth turn out larger: the held corner stays,
	// the far sides move by all of it. The body's own points move with their
	// share of each size instead: see Share.
	Follow r3.Vector
	// Fitting is the index of the fitting that the part belongs to, or -1.
	Fitting int
	Aside   []string // features that are out of the way for a keep-open volume
	After   bool     // fitted after the box is in
	// More are further convex pieces of a keep-open volume; its Solid is the first.
	More []shape.Convex
	// Turning is set for a keep-open volume that may stand in more than one way;
	// its Solid and More are the first of them. See Part.Turned.
	Turning *Turning
	// Origins say where the sizes of a keep-open volume come from that the job
	// does not give; none: it gives all.
	Origins []string
}

// Share is by how much a point of the part (box frame) moves along x, y, z for
// each millimetre that the width, height and depth turn out larger than size.
func (p Part) Share(at r3.Vector, size Size) r3.Vector {
	if p.Kind != Body {
		return p.Follow
	}
	return r3.Vector{X: share(at.X, size.Width), Y: share(at.Y, size.Height), Z: share(at.Z, size.Depth)}
}

// share is how far along the whole x lies, from 0 to 1; paint lies beyond.
func share(x, whole float64) float64 {
	if whole <= 0 {
		return 0
	}
	return math.Min(1, math.Max(0, x/whole))
}

// Port is where a hose leaves a fitting: the middle of the outer end of its
// stack, the unit direction out of it, and Follow as of a part.
type Port struct {
	At, Axis r3.Vector
	Follow   r3.Vector
}

// Assembly is all parts of the candidate in place, in the box's frame. It does
// not change once built.
type Assembly struct {
	Tank  Tank
	Parts []Part // the body, brackets, then each fitting's elements and keep-open volumes
	Ports []Port // one for each fitting
	// Holding is the capacity and the masses. Without a sheet Known is false,
	// and it means nothing.
	Holding sheet.Holding
	Known   bool
}

// Build makes the assembly of a tank. The error is Problems, all of them.
func Build(t Tank) (*Assembly, error) {
	b := builder{tank: t.clone()}
	b.box()
	for i := range t.Brackets {
		b.bracket(i)
	}
	for i := range t.Fittings {
		b.fitting(i)
	}
	b.names()
	b.collisions()
	if len(b.problems) > 0 {
		return nil, b.problems
	}
	a := &Assembly{Tank: b.tank, Parts: b.parts, Ports: b.ports}
	if t.Sheet > 0 {
		a.Holding, a.Known = b.holding(), true
	}
	return a, nil
}

type builder struct {
	tank     Tank
	sized    bool // the box has a size, so that what stands on it can be placed
	parts    []Part
	ports    []Port
	standing []standing
	problems Problems
}

// box makes the body: the sharp outside envelope grown by the coat. Weld beads
// live in the corners, so that rounding the bends off would promise room that is
// not there.
func (b *builder) box() {
	t := b.tank
	b.sized = all(
		b.overZero("box.width", "the width", t.Size.Width),
		b.overZero("box.height", "the height", t.Size.Height),
		b.overZero("box.depth", "the depth", t.Size.Depth),
	)
	made := all(
		b.fromZero("box.sheet", "the sheet", t.Sheet),
		b.fromZero("box.inside_radius", "the inside radius", t.InsideRadius),
	)
	b.fromZero("box.coat", "the coat", t.Coat)
	b.place()
	limited := b.fromZero("box.within", "within", t.Within)
	if !b.sized {
		return
	}
	if limited {
		b.limit()
	}
	if made {
		b.metal()
	}
	grow := r3.Vector{X: t.Coat, Y: t.Coat, Z: t.Coat}
	b.parts = append(b.parts, Part{
		Name: "body", Kind: Body, Fitting: -1,
		Solid: boxBetween(grow.Mul(-1), t.Size.Vector().Add(grow)),
	})
}

// place checks the figures by which the box stands: that they are figures. A
// datum may be any way off, and a box tried out may be pushed into its face.
func (b *builder) place() {
	p := b.tank.Place
	if !finite(p.At.X) || !finite(p.At.Y) {
		b.complain("box.at", "the corner's place is no number", "write two lengths, right and up from the datum")
	}
	b.number("box.stand_off", "the stand-off", p.StandOff)
	b.angle("box.turn", "the turn", p.Turn)
	b.fromZero("box.placed_within", "placed_within", p.Within)
}

// sizeNames are the sizes by their axis.
func sizeNames() [3]string { return [3]string{"width", "height", "depth"} }

// limit complains of one that would let the box vanish.
func (b *builder) limit() {
	t := b.tank
	for axis, name := range sizeNames() {
		if whole := t.Size.Along(axis); t.Within >= whole {
			b.complain("box.within", "the "+name+" may turn out %s off, and is only %s", "write how near each size will be to its drawing", t.Within, whole)
		}
	}
}

// metal complains of a sheet that cannot be folded to the box.
func (b *builder) metal() {
	t := b.tank
	for axis, name := range sizeNames() {
		whole := t.Size.Along(axis)
		if t.Sheet > 0 && 2*t.Sheet >= whole {
			b.complain("box."+name, "two thicknesses of %s leave nothing inside", "check the sheet and the "+name, t.Sheet)
			continue
		}
		if taken := b.folded().Taken(axis); taken > whole+reach {
			b.complain("box.inside_radius", "bends of inside radius %s leave no flat: they take %s of the "+name+", which is %s",
				"use a smaller radius, or a larger box", t.InsideRadius, taken, whole)
		}
	}
	if _, known := sheet.Density(t.Alloy); t.Sheet > 0 && !known {
		b.complain("box.alloy", fmt.Sprintf("%q is no aluminium alloy that is known here", escaped(t.Alloy)), "write its four figures, as in 5052-H32, or leave it out")
	}
}

// boxBetween is the box between its two extreme corners.
func boxBetween(lo, hi r3.Vector) shape.Box {
	d := hi.Sub(lo)
	return shape.Box{Corner: lo, Edges: [3]r3.Vector{{X: d.X}, {Y: d.Y}, {Z: d.Z}}}
}
