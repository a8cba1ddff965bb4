package clearance

import (
	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"elbowroom/solid"
	"elbowroom/survey"
	"elbowroom/survey/length"
	"elbowroom/survey/table"
)

// Verdict is the answer of a line or of the whole job. The zero Verdict is
// Unproven, so that a forgotten one never reads as a pass.
type Verdict int

// The verdicts.
const (
	Unproven Verdict = iota // too close to call, or not known
	Clears                  // surely keeps the gap
	Tight                   // surely keeps less than the gap, but may not touch
	Fouls                   // surely overlaps
)

var verdictNames = [...]string{"unproven", "clears", "tight", "fouls"}

// String is the verdict's word.
func (v Verdict) String() string { return verdictNames[v] }

// Because says why something is unproven. The zero Because gives no reason.
type Because int

// The reasons, in the order in which they are listed.
const (
	NoReason Because = iota
	Near             // too close to call
	Unmeasured
	OneReading // hangs on a reading taken once
	NotChecked
	Together // each line alone is sure enough, all at once are not
)

var becauseNames = [...]string{"", "near", "unmeasured", "one reading", "not checked", "together"}

// String is the reason's word.
func (b Because) String() string { return becauseNames[b] }

// Report is the answer to one job.
type Report struct {
	Title   string
	Unit    length.Unit
	Verdict Verdict
	Because []Because
	Sure    float64 // the joint probability that every line holds
	SureIs  string  // "about", "at least" or "at most"
	Wanted  float64 // the job's sure
	Box     Box
	// Lines is every part against every feature, worst first.
	Lines     []Line
	OnPurpose []Contact
	// Travels are how far the motions take things: of each motion the ends of its range
	// that are not at rest, the farther first.
	Travels []Travel
	Hoses   []Hose
	Sides   []SideLine
	// Rooms are what hands and tools need, and from where they can come.
	Rooms  []Room
	Levels Levels
	// WayIn is nil where the job does not ask for one.
	WayIn *WayIn
	// Unchecked are lines that nobody checked: motions without an axis, marks without
	// a place.
	Unchecked   []Unchecked
	MeasureNext []Measure
	Doubts      []survey.Doubt
	Cautions    []Caution
	Move        *Move // the best move on the face, nil where none helps
	// TakenOnce is how many readings decide a line and were taken once.
	TakenOnce int
	Flats     []Flat
	Gaps      []GapUsed
	Overlaps  bool // some line overlaps: depths are said to be at least
}

// Box is the candidate as reported.
type Box struct {
	Size     solid.Size // outside, as drawn
	Capacity float64    // litres; see Known
	DryKg    float64
	FullKg   float64
	Centre   r3.Vector // of gravity when full, from the lower left back corner, mm
	Known    bool      // false: no sheet given, so no capacity and no mass
	Filled   bool      // false: what fills the box is not known, so no full mass
	Corner   r3.Vector // where the lower left back corner stands, mounting frame, mm
}

// Line is a part against a feature (or, for a keep-open volume, another part).
type Line struct {
	Part, Feature string
	When          string // "at rest", or a motion's name
	// At is where in a motion the clearance is least: the motion's own position, then
	// those of the motions that it goes with; nil at rest.
	At          []Position
	Clearance   float64
	U           float64
	Gap         float64
	GapName     string // the named gap that Gap is, or blank
	Sure        float64
	NotTouching float64 // the probability that it does not overlap (P0)
	Verdict     Verdict
	Because     Because
	OnPart      r3.Vector // witness points, mounting frame, mm
	OnFeature   r3.Vector
	Toward      r3.Vector // unit, from the part to the feature
	Marks       []string  // that decide it, weightiest first
	AtLeast     bool      // the clearance is an overlap whose depth may be more
	Own         bool      // Feature is another part of the assembly
	Swings      *Swings   // the hose swings in the motion; nil: it does not
	// Single lists the readings whose slip of an inch would undo the line and
	// that nothing checks.
	Single []Reading
	// Shares lists what the variance is made of, greatest first.
	Shares []Share
	// Short is how many mm more of clearance each of its places by itself needs for the
	// line to clear, an inch misread included; 0 or less: none.
	Short float64
}

// Position is where in a motion something stands.
type Position struct {
	Motion string
	Turns  bool
	At     float64 // radians where it turns, else mm; 0 is as measured
}

// Travel says how far and which way a motion by itself takes the mark that it takes
// farthest, at an end of its range (or half way round, where it goes farther than that).
type Travel struct {
	Position
	Mark   string
	Goes   float64   // mm in a straight line from where it was measured
	Toward r3.Vector // unit, mounting frame
}

// Reading names one reading of a mark.
type Reading struct {
	Mark string
	Tape [2]string // the two ends of a tape; blank: coordinates or a depth
	Pos  table.Pos
	row  int
}

// Share is one contribution to a line's variance: a mark's readings, or the
// making or placing of the box.
type Share struct {
	Mark  string    // a mark's coordinates; blank: none
	Tape  [2]string // the two ends of a tape; blank: none
	Depth string    // the mark of a depth; blank: none
	Of    string    // "width", "place", "fill's place"
	U     float64
	Limit float64 // the present half limit, mm
	Pos   table.Pos
	// factor is how far the line moves for each mm that the mark, the size or
	// the place is off.
	factor float64
}

// Contact is a touching that is meant.
type Contact struct{ Part, Feature string }

// Hose is a hose's run.
type Hose struct {
	Name     string
	Length   float64 // centre line from the stack's end to the end mark, mm; 0 when not checked
	Cut      float64 // with the slack asked for
	Least    float64 // bend radius, by the job's convention; see Bent
	Bent     bool    // false: the run is straight, it has no bend radius
	U        float64
	Wanted   float64 // bend radius, mm
	ToCentre bool
	LeastAt  string // the mark at the tightest bend
	Verdict  Verdict
	Because  Because
	Sure     float64
	Spacing  float64 // marks at least this far apart would settle it, mm; 0: they are
	Ports    string  // what is wrong at the ends, as a sentence; blank: nothing
	Checked  bool
	Centre   []r3.Vector // points of the centre line, for drawing
	// Outside is its diameter, and LeastCentre the least bend radius to the centre
	// line whatever the job's convention; 0: straight or not checked.
	Outside, LeastCentre float64
	HoseRun
	decidedBy figure
}

// SideLine is one side of the body.
type SideLine struct {
	Side     solid.Side
	Nearest  float64 // straight out from the side to the nearest thing measured, mm; see Found
	Found    bool
	Feature  string // the nearest thing
	LookedAt bool
	Cover    float64
	Hidden   float64   // mm; see HiddenKnown
	HiddenAt r3.Vector // where, mounting frame
	HiddenOK bool      // false: nothing at all was measured there
	Verdict  Verdict
	Because  Because
}

// Measure is something to do that would settle what is unproven.
type Measure struct {
	Kind MeasureKind
	// Marks are the ones to take, weightiest first; for MakeCloser none.
	Marks []string
	// Tapes are tapes to take, from one mark to another.
	Tapes [][2]string
	// Depth is for NewDepth: the one to take.
	Depth Depth
	// Making is what must be made or placed closer, for MakeCloser.
	Making []string
	// Within is the limit that is needed, mm; 0: any.
	Within float64
	// For lists the lines that it settles; with Mark those that hang on that.
	For []Pair
	// Mark is one that is weak, or of which a reading is Unchecked by any other:
	// the reading is for it. Blank: it is for the lines themselves.
	Mark      string
	Unchecked bool
	// U and Left are the standard uncertainty of a weak mark where it is worst,
	// as it is and with the reading, mm. 0: it is not weak, or stays as it is.
	U, Left float64
	// Side and At are for Look: the side, and where a reading would do most
	// (mounting frame, mm).
	Side     solid.Side
	At       r3.Vector
	Hidden   float64 // what could be there unseen, mm across
	HiddenOK bool    // false: anything could
}

// Pair names a line: a part against a feature.
type Pair struct{ Part, Feature string }

// MeasureKind tells what to do.
type MeasureKind int

// The kinds, in the order in which they are listed.
const (
	TakeAgain    MeasureKind = iota // the same marks, more closely
	TakeOnceMore                    // marks taken once, to check them
	NewTape                         // a tape that was not pulled yet
	NewDepth                        // a depth that was not taken yet
	MakeCloser                      // no reading settles it: hold the box's making closer
	NeedsTape                       // a mark with a blank coordinate
	Look                            // a side that nobody looked at
)

// Move is a shift of the box on its face that helps most, mm.
type Move struct {
	By r2.Point
	// Clears says that with it every measured line clears.
	Clears bool
}

// Flat is a fitted face as reported.
type Flat struct {
	Feature  string
	Mount    bool
	Flatness float64 // mm
	Tilt     float64 // of the normal from the frame's nearest axis, radians
	Marks    int
	Proud    string // the mark that holds the box off the face, or blank
}

// GapUsed is a gap with where it comes from.
type GapUsed struct {
	Feature string
	Name    string
	Gap     float64
	Origin  string
}

// Caution is a fixed text and what calls for it.
type Caution struct {
	Trigger string
	Text    string
}

// figure is a quantity with its spread over independent sources.
type figure struct {
	value float64
	u     float64
	terms []survey.Term
	along r3.Vector // unit, box frame: a clearance shrinks as the box moves that way; zero for a hose, which stays
}
