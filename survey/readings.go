package survey

import (
	"github.com/golang/geo/r3"

	"elbowroom/survey/length"
	"elbowroom/survey/table"
)

// Shape is what a feature's marks stand for.
type Shape int

// The shapes. The zero Shape is none.
const (
	NoShape Shape = iota
	Face
	Edge
	Skin
	Block
	Tube
	Dots
)

var shapeNames = [...]string{"no shape", "face", "edge", "skin", "block", "tube", "dots"}

// String is the shape's name.
func (s Shape) String() string { return shapeNames[s] }

// ParseShape finds a shape by its name.
func ParseShape(name string) (Shape, bool) {
	for s := Face; s <= Dots; s++ {
		if shapeNames[s] == name {
			return s, true
		}
	}
	return NoShape, false
}

// ShapeNames lists the names that ParseShape knows.
func ShapeNames() []string { return append([]string(nil), shapeNames[1:]...) }

// FeatureSpec is what the job says of a feature: what its marks stand for.
type FeatureSpec struct {
	Name  string
	Shape Shape
	Mount bool // the face that the box is bolted to
	// Behind is the direction of all that is solid beyond the feature; zero:
	// only what its shape says.
	Behind   r3.Vector
	Round    float64   // half the thickness of an edge or a dot, mm
	Diameter float64   // of a tube, mm
	Touched  r3.Vector // the side of the tube that the marks were taken on; zero: its centre line
	Run      bool      // a hose's measured run: no obstacle
	Pos      table.Pos
}

// Coordinate is one of a point's three numbers, in mm. Given is false for a
// blank cell: not measured directly.
type Coordinate struct {
	Value float64
	Given bool
	Text  string
	Pos   table.Pos
}

// Point is one row of a points file: a mark's coordinates from its base.
type Point struct {
	Feature string // blank: a reference mark
	Mark    string // blank: an unnamed mark
	At      [3]Coordinate
	Limit   length.Limit // the true value is within it, each coordinate alike
	Base    string       // the mark that the coordinates were taken from; blank: the datum
	Note    string
	Pos     table.Pos
	// FeaturePos, MarkPos and BasePos are the places of those cells.
	FeaturePos, MarkPos, BasePos table.Pos
}

// Frame says how readings in any axes are moved into the mounting frame: the
// origin at one mark, x toward another along the mount's face, and z along the
// normal of the mount's plane on the side of the third.
type Frame struct {
	Origin, XToward, OutToward string
	Pos                        table.Pos
}

// Readings is everything that was measured, with what the job says of it.
type Readings struct {
	Points   []Point
	Features []FeatureSpec
	Frame    *Frame
	Doubts   []Doubt // found while reading
	// Style is how lengths are worded in problems and doubts.
	Style length.Style
	// LeftOut are rows that could not be read. They count for nothing, but what
	// they name is known to be named; one without names may have named anything.
	LeftOut []Point
	Unread  []Unread // files that are not used yet
}

// Doubt is something about the readings that may be wrong, but need not be.
type Doubt struct {
	Pos      table.Pos
	Says     string
	Suggests string // the corrected text of the cell alone; blank: none
	// Weight puts the worst doubt first; it has no unit.
	Weight float64
}
