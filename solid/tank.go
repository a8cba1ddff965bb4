// Package solid turns a tank as drawn into an assembly of named convex parts.
//
// Its frame is the box's own: the origin at the lower left back corner of the
// outside as drawn, x along the width to the right, y along the height up, z
// along the depth out of the mounting face. Lengths are millimetres. Where the
// box stands in the space is no business of this package.
package solid

import (
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
)

// Size is the outside size of the body as drawn, after bending, in millimetres.
type Size struct{ Width, Height, Depth float64 }

// Vector gives the size as (width, height, depth).
func (s Size) Vector() r3.Vector { return r3.Vector{X: s.Width, Y: s.Height, Z: s.Depth} }

// Along gives the size along axis 0, 1 or 2.
func (s Size) Along(axis int) float64 { return along(s.Vector(), axis) }

// Tank is the box as drawn with all that is fixed to it, and where it is to be
// bolted. It is a plain value; Resized gives a copy of another size.
type Tank struct {
	Size  Size
	Place Place
	// Within is how near each outside size will be to its drawing, mm: the
	// true size is within +- that. 0 means exact.
	Within float64
	// Coat is the thickness of paint on each outside surface of the body, mm.
	// Brackets and fittings are taken as they are drawn.
	Coat float64

	Sheet        float64 // thickness of the sheet, mm; 0: not given
	InsideRadius float64 // of the bends, mm
	Alloy        string  // as in "5052-H32"; blank: aluminium of some kind
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

// Resized is the tank with another outside size, and all that stands on it still
// in its place: fittings by their offsets, and a bracket that stands on a far
// side, or beyond it, goes with that side.
func (t Tank) Resized(size Size) Tank {
	t = t.clone()
	for i, k := range t.Brackets {
		by := size.Vector().Sub(t.Size.Vector())
		follow := k.follow(t.Size)
		by = r3.Vector{X: by.X * follow.X, Y: by.Y * follow.Y, Z: by.Z * follow.Z}
		t.Brackets[i].Min, t.Brackets[i].Max = k.Min.Add(by), k.Max.Add(by)
	}
	t.Size = size
	return t
}

// clone shares nothing with the tank.
func (t Tank) clone() Tank {
	t.Brackets = slices.Clone(t.Brackets)
	t.Fittings = slices.Clone(t.Fittings)
	for i := range t.Fittings {
		f := &t.Fittings[i]
		f.Stack = slices.Clone(f.Stack)
		f.KeepOpen = slices.Clone(f.KeepOpen)
		for k := range f.KeepOpen {
			f.KeepOpen[k].Aside = slices.Clone(f.KeepOpen[k].Aside)
		}
	}
	return t
}

// Bracket is a plate or block fixed to the box, with its two extreme corners
// measured from the box's lower left back corner, mm.
type Bracket struct {
	Name     string
	Min, Max r3.Vector
}

// follow is by how much the bracket moves along x, y, z for each millimetre that
// the width, height and depth turn out larger: all of it along an axis where it
// stands on the far side of a box of that size, or beyond, since that side is
// what it is fixed to; else nothing, since it is measured from the held corner.
func (k Bracket) follow(size Size) r3.Vector {
	var by r3.Vector
	for axis := 0; axis < 3; axis++ {
		if along(k.Min, axis) >= size.Along(axis)-reach {
			by = by.Add(Axis(axis))
		}
	}
	return by
}

// Fitting is a neck, an outlet or the like on one side of the box.
type Fitting struct {
	Name   string
	Side   Side
	At     Spot
	Within float64 // how near its place it will be, along either axis of the side, mm
	Tilt   Tilt
	Hole   float64 // diameter square to the axis, mm; 0: that of the first element
	Stack  []Element
	// Bore is the clear width inside, square to the axis, mm; 0: that of the hole.
	Bore float64
	Use  Use
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

// Tilt leans a fitting's axis from square to its side toward a side that borders
// on that. The zero Tilt is square.
type Tilt struct {
	By     s1.Angle // from 0 to under 90 degrees
	Toward Side
}

// Element is one cylinder of a fitting's stack.
type Element struct {
	Name     string
	Diameter float64 // mm
	Length   float64 // mm
	After    bool    // fitted after the box is in
}

// KeepOpen is a volume that must be free for a hand or a tool. Which fields
// count goes by Kind; see each. What is 0 and has a usual size takes that: see
// KeepOpen.Usual.
type KeepOpen struct {
	Name     string
	Kind     KeepOpenKind
	Diameter float64 // of PlainRoom, CapRoom and Driver, mm
	// Length is out from the end of the stack, of a driver out from the clamp, mm.
	Length float64
	Aside  []string
	// Size is of BoxRoom, mm: across (toward 3 o'clock), up (toward 12) and out.
	Size r3.Vector
	// Handle, Thick and Wide are a spanner's length from the fitting's axis, its
	// thickness along that and its handle's width, mm; Head is what its jaws take
	// across, all the way round. Sweep is the angle that it needs to swing through.
	Handle, Thick, Wide, Head float64
	Sweep                     s1.Angle
	// Hex is what a spanner grips, across flats, mm. Travel is how far it comes
	// out with what it unscrews, mm.
	Hex, Travel float64
	Thread      string // the pipe thread that Hex and Travel are taken from, as in "1/2"
	// Clamp is what a hose clamp goes round, mm; 0: the element that it is on.
	Clamp float64
	// On names the element that a clamp or a hex is on; blank: the outermost.
	// The tool is at its middle, or, with OutGiven, Out from the side along the axis, mm.
	On       string
	Out      float64
	OutGiven bool
	// Clock is where a driver comes from, where a spanner's handle starts to
	// swing, and where a box's up points: about the fitting's axis, clockwise from
	// 12 as seen looking at the fitting from outside; see Twelve. It counts where
	// ClockFixed is set; else any way round will do, but for a box, which stands at 12.
	Clock      s1.Angle
	ClockFixed bool
	// AnyClock lets a box stand any way round.
	AnyClock bool
}

// KeepOpenKind tells what the volume is for.
type KeepOpenKind int

// The kinds: a plain cylinder on the fitting's axis, a driver across a hose
// clamp, a spanner's swing, a box on the axis, a hand round a cap.
const (
	PlainRoom KeepOpenKind = iota
	Driver
	Spanner
	BoxRoom
	CapRoom
)
