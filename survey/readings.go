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
	// Tip is the radius of the ball that touched the feature, mm: the coordinates
	// are those of its centre (Touches). 0: of the spot itself.
	Tip  float64
	Note string
	Pos  table.Pos
	// FeaturePos, MarkPos and BasePos are the places of those cells.
	FeaturePos, MarkPos, BasePos table.Pos
}

// Tape is one row of a tape file: a straight taped distance between two marks.
// The same two marks again, either way round, are a repeat.
type Tape struct {
	From, To            string
	Length              Coordinate   // always given and over 0
	Limit               length.Limit // the true distance is within it
	Note                string
	Pos, FromPos, ToPos table.Pos
}

// Depth is one row of a depth file: a straightedge laid from one mark to
// another, and a probe square to it that touched a third.
type Depth struct {
	Feature  string // blank: a reference mark
	Mark     string // blank: an unnamed mark, shown as feature#line
	From, To string
	// Along is how far from From the probe stood (below 0: before it), Probe how
	// far it went, not below 0. Both are always given.
	Along, Probe Coordinate
	// Toward is which way it went, of length 1, in the mounting frame. What of
	// it lies along the straightedge does not count.
	Toward r3.Vector
	// Limit is that of Probe. Along, and the probe's stand square to the edge,
	// are good to its half either way.
	Limit length.Limit
	Note  string
	// FeaturePos to ToPos are the places of those cells.
	Pos, FeaturePos, MarkPos, FromPos, ToPos table.Pos
}

// TapeFacts is what is known of the tape itself.
type TapeFacts struct {
	// Class is the tape's accuracy class, I, II or III; blank: not known, and
	// nothing is added to the readings' own limits.
	Class string
	// Zero is the half limit of an error of the hook, in mm, that all tape
	// readings of a file share; 0: none.
	Zero float64
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
	Points    []Point
	Tapes     []Tape
	Depths    []Depth
	TapeFacts TapeFacts
	// Without are rows that are to count for nothing: each is the file and line
	// of a row.
	Without  []table.Pos
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
	Weight   float64
	Severity Severity
}

// Severity is what a doubt calls in question. The zero Severity is Suspect, so
// that a forgotten one is never passed over.
type Severity int

// The severities.
const (
	// Suspect: something that was read or written may be wrong, or the readings
	// do not fit together. To be looked at before anything is built on them.
	Suspect Severity = iota
	// Remark: how good something is, or what was taken for granted, as its
	// uncertainty says already. Nothing need be wrong.
	Remark
)
