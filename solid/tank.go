// Package solid turns a tank as drawn into an assembly of named convex parts.
//
// Its frame is the box's own: the origin at the lower left back corner of the
// outside as drawn, x along the width to the right, y along the height up, z
// along the depth out of the mounting face. Lengths are millimetres. Where the
// box stands in the space is no business of this package.
package solid

import (
	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
)

// Side is one of the six sides of the body. The zero Side is none of them.
type Side int

// The sides. Front is the side that faces away from the mounting face.
const (
	NoSide Side = iota
	Left
	Right
	Bottom
	Top
	Back
	Front
)

// Sides lists the six sides in the order in which they are reported.
func Sides() [6]Side { return [6]Side{Left, Right, Top, Bottom, Front, Back} }

var sideNames = [...]string{"no side", "left", "right", "bottom", "top", "back", "front"}

// String is the side's name in lower case.
func (s Side) String() string { return sideNames[s] }

// ParseSide finds a side by its name.
func ParseSide(name string) (Side, bool) {
	for s := Left; s <= Front; s++ {
		if sideNames[s] == name {
			return s, true
		}
	}
	return NoSide, false
}

// Axis is the side's axis: 0 for left and right, 1 for bottom and top, 2 for
// back and front.
func (s Side) Axis() int { return (int(s) - 1) / 2 }

// Far says whether the side is the one away from the held corner: right, top
// and front move when the box turns out larger than drawn.
func (s Side) Far() bool { return s == Right || s == Top || s == Front }

// Out is the unit vector out of the side.
func (s Side) Out() r3.Vector {
	v := Axis(s.Axis())
	if s.Far() {
		return v
	}
	return v.Mul(-1)
}

// Axis is the unit vector along axis 0, 1 or 2.
func Axis(i int) r3.Vector {
	switch i {
	case 0:
		return r3.Vector{X: 1}
	case 1:
		return r3.Vector{Y: 1}
	}
	return r3.Vector{Z: 1}
}

// Size is the outside size of the body as drawn, after bending, in millimetres.
type Size struct{ Width, Height, Depth float64 }

// Vector gives the size as (width, height, depth).
func (s Size) Vector() r3.Vector { return r3.Vector{X: s.Width, Y: s.Height, Z: s.Depth} }

// Along gives the size along axis 0, 1 or 2.
func (s Size) Along(axis int) float64 {
	switch axis {
	case 0:
		return s.Width
	case 1:
		return s.Height
	}
	return s.Depth
}

// Tank is the box as drawn with all that is fixed to it, and where it is to be
// bolted. It is a plain value: copy it and change the copy to try another size.
type Tank struct {
	Size  Size
	Place Place
	// Within is how near each outside size will be to its drawing, mm: the
	// true size is within +- that. 0 means exact.
	Within float64
	Coat   float64 // thickness of paint on each outside surface, mm

	Sheet        float64 // thickness of the sheet, mm; 0: not given
	InsideRadius float64 // of the bends, mm
	Alloy        string  // as in "5052-H32"; blank: not given
	Construction Construction
	Holds        Contents

	Brackets []Bracket
	Fittings []Fitting
}

// Place is where the box is bolted to its face.
type Place struct {
	// At is the lower left corner on the face, from the datum, mm.
	At r2.Point
	// StandOff is how far the back is out from the face, mm.
	StandOff float64
	// Turn is about the face's normal through the middle of the footprint,
	// anticlockwise as seen facing it.
	Turn s1.Angle
	// Within is how near its place the box will be bolted, along x, y, z, mm.
	Within float64
}

// Bracket is a plate or block fixed to the box, with its two extreme corners
// measured from the box's lower left back corner, mm.
type Bracket struct {
	Name     string
	Min, Max r3.Vector
}

// Fitting is a neck, an outlet or the like on one side of the box.
type Fitting struct {
	Name   string
	Side   Side
	At     Spot
	Within float64 // how near its place on the side it will be, both ways, mm
	Tilt   Tilt
	Hole   float64 // diameter, mm; 0: that of the first element
	Stack  []Element
	// KeepOpen are volumes from the outer end of the stack outward that a hand
	// or a tool needs.
	KeepOpen []KeepOpen
}

// Spot is a place on a side: one offset along each of the side's two axes, in
// the order x before y before z.
type Spot [2]Offset

// Offset is a distance from an edge of a side, the edge named by the side that
// it borders on. From NoSide means the middle; By then moves it toward plus.
type Offset struct {
	From Side
	By   float64 // mm
}

// Tilt leans a fitting's axis toward a side. The zero Tilt is square to it.
type Tilt struct {
	By     s1.Angle
	Toward Side
}

// Element is one cylinder of a fitting's stack.
type Element struct {
	Name     string
	Diameter float64 // mm
	Length   float64 // mm
	After    bool    // fitted after the box is in
}

// KeepOpen is a volume that must be free for a hand or a tool.
type KeepOpen struct {
	Name     string
	Kind     KeepOpenKind
	Diameter float64 // mm
	Length   float64 // mm
	Aside    []string
	// Handle and Thick are a spanner's length and thickness, mm, and Sweep the
	// angle that it needs to swing through.
	Handle, Thick float64
	Sweep         s1.Angle
	// Clock is where a driver comes from, about the fitting's axis; it counts
	// where ClockFixed is set, else any way round will do.
	Clock      s1.Angle
	ClockFixed bool
}

// KeepOpenKind tells what the volume is for.
type KeepOpenKind int

// The kinds: a plain cylinder on the fitting's axis, a driver across a hose
// clamp, a spanner's swing.
const (
	PlainRoom KeepOpenKind = iota
	Driver
	Spanner
)

// Construction is how the box is made of folded pieces.
type Construction int

// The constructions. Two channels: one is left, bottom and right, the other
// back, top and front.
const (
	TwoChannels Construction = iota
	WrapAndEnds
	PanAndLid
)

// Contents is what the box holds.
type Contents int

// The contents.
const (
	Nothing Contents = iota
	Coolant
	OilVapour
	Battery
	Electronics
)
