// Package clearance holds a space against an assembly: does it go in, how sure
// is that, and which reading to take again.
package clearance

import (
	"github.com/golang/geo/r3"

	"elbowroom/solid"
	"elbowroom/survey/length"
	"elbowroom/survey/table"
)

// Rules is what the job asks for. The zero Rules asks for nothing beyond the
// usual: see each field.
type Rules struct {
	Title string
	// Unit is the job's, in which the report prints.
	Unit length.Unit
	// Sure is how sure "clears" must be, at least 0.95 [0.975].
	Sure float64
	// AcceptSingle waives the rule of one reading.
	AcceptSingle bool
	// SeenWithin is how near evidence must be for space to count as seen, mm [50.8].
	SeenWithin float64
	// HiddenAtMost is the largest unseen thing that a side may still hold, mm [50.8].
	HiddenAtMost float64
	// LookedAt lists the sides of which the user says: I looked, nothing comes
	// nearer there than what I measured.
	LookedAt []solid.Side
	// Gaps overrides named gaps, mm.
	Gaps map[string]float64
	// Asks is each feature's own gap by the feature's name; a feature that is
	// not in it asks "fixed", the mount asks 0.
	Asks    map[string]Ask
	Tried   []Tried
	Motions []Motion
	Hoses   []HoseSpec
	Levels  LevelRules
	WayIn   WayInSpec
	// Unchecked lists what the job asks for and the program cannot check yet.
	Unchecked []Unchecked
	Triggers  Triggers
}

// Ask is the gap that a feature asks for: a named gap, or a length in mm when
// Name is blank.
type Ask struct {
	Name string
	Gap  float64
	Pos  table.Pos
}

// Tried is a mock-up that went in and stood there: its space is free.
type Tried struct {
	Name     string
	At, Size r3.Vector // its lower left back corner in the mounting frame, and its size, mm
	Within   float64   // how near its place and size are known, mm
}

// Motion is a declared movement of features.
type Motion struct {
	Name  string
	Moves []string
	// About holds two marks of an axis of rotation; else Along is a direction.
	About [2]string
	Along r3.Vector
	// From and To are the range: radians about, mm along. It holds 0.
	From, To float64
	With     []string
	Pos      table.Pos
}

// HoseSpec is a hose as the job asks for it.
type HoseSpec struct {
	Name    string
	From    string // a fitting
	To      string // a mark
	Arrives r3.Vector
	Along   string // the run's feature; blank: the run is to be found
	Outside float64
	// BendRadius is the least allowed, mm, to the inside of the bend unless ToCentre.
	BendRadius float64
	ToCentre   bool
	Straight   float64 // at each end, mm
	Slack      float64 // share of the length
	Pos        table.Pos
}

// Unchecked is something that the job asks for and nobody checked.
type Unchecked struct {
	Part string // of what: "body"
	What string // a motion's name, "way in"
	Mark string // the mark that needs a tape, for UncheckedMark
	// Moves lists what a motion moves.
	Moves []string
	Kind  UncheckedKind
	Pos   table.Pos
}

// UncheckedKind tells the kinds of unchecked things apart.
type UncheckedKind int

// The kinds of things that are not checked yet.
const (
	UncheckedMotion UncheckedKind = iota
	UncheckedFile                 // readings that are not used yet: tape, depth, scan
	UncheckedMark                 // a mark with a blank coordinate: it needs a tape
)

// Triggers is what calls for a caution.
type Triggers struct {
	CapPressure float64 // kPa; 0: vented
	Holds       solid.Contents
	Sheet       bool // metal will be cut and welded
}
