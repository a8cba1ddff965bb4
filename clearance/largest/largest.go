// Package largest finds the largest box that goes in: with its fittings, their
// keep-open volumes and their gaps, in the space as measured.
//
// The problem: over the places of the box's faces (and its turn, where that is
// asked for) make the capacity, or the outside volume, as large as can be, such
// that the clearance c of every line with its standard uncertainty u and its gap
// g reaches P(true clearance >= g) >= sure; that is c >= g + k u, k the normal
// quantile of sure.
//
// The method is a best-first branch and bound over intervals of the faces' places
// (as for empty rectangles: Breuel 2002, "Two geometric algorithms for layout
// analysis"). The key of a node is the value of its largest box, so that the
// greatest key left bounds every box not looked at. A place of a feature that is too near
// to a part of that box is cut off: each child of the node holds the part off it on one
// side, or over one of its edges, and together they hold every box of the node that could
// reach sure (cover.go says why). First come the marks and pieces that are in its way,
// in closed form (placecut.go); where none is, the box is judged by the code of
// clearance.Check itself (clearance.Judge), and the places where its lines fall short are
// cut off. What a place between marks asks for is bounded by what all boxes of a node
// have in common (sharpen.go). A size must be the larger the less there is to spare to
// the best box found, which narrows every node down (inner.go).
//
// What is proved: AtMost bounds the value of every box in the room of which every
// line's nearest place, and every mark that may be nearest when all is measured
// again, reaches sure by itself, and of which no hose surely bends too tightly. A
// hose's clearances, the room of a hand against the box's other parts, and what
// several marks of one line cost together are left out of the bound, which so stays
// an upper one; all of them hold for the boxes that are given. Where the turn is
// searched the bends are left out too. How far the bound is from the best box found
// is Gap: under half a percent on a hand survey of twenty to eighty marks, more where
// one flat stops the box at a slant, and much more where a turn is searched over
// several degrees or nothing but a hose's run stops the box.
package largest

import (
	"context"
	"errors"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"elbowroom/clearance"
	"elbowroom/solid"
	"elbowroom/survey"
)

// Limits is what the box must keep to. The zero Limits asks for the greatest
// capacity with all fittings, as the tank is turned and stood off, anywhere
// between the outermost marks.
type Limits struct {
	// Room is where the body may be at all, along the face's x and y from the
	// datum and out from it, mm. Open ranges reach to the outermost marks.
	Room [3]Range
	// Min and Max bound the outside sizes, mm [0: not]. Equal they hold one.
	Min, Max solid.Size
	// Aspect is width : height : depth, where they are to keep to that [free].
	Aspect r3.Vector
	// StandOff is the range of the stand-off, mm [the tank's own].
	StandOff Range
	// Turn is the range of the turn, radians [the tank's own].
	Turn Range
	// Step is what sizes and places are rounded to, mm [0: not].
	Step float64
	// Bare leaves off the fittings, and the hoses that leave from them.
	Bare bool
	// Outside makes the outside volume as large as can be, not the capacity.
	Outside bool
	// Top is how many boxes are wanted that no other beats in width, height
	// and depth [1].
	Top int
	// Capacity asks for the least box that holds so many litres (with Outside:
	// has that volume) instead of the largest; Least says least in what.
	Capacity float64
	Least    Least
	// Worth also works out what moving or taking again what stops a side is worth.
	Worth bool
	// Effort is how many times the usual work may be done [1].
	Effort float64
}

// Range is from one length or angle to another. The zero Range is open.
type Range struct {
	From, To float64
	Given    bool
}

// Least says in what a box of a wanted capacity is to be least.
type Least int

// In what: the outside volume, the depth, the height or the width.
const (
	Smallest Least = iota
	Shallow
	Short
	Narrow
)

// Answer is the largest box. It does not change once made.
type Answer struct {
	// AtMost bounds the value, litres, of any box of which every line alone
	// reaches sure: see the package.
	AtMost float64
	// Gap is by what share the best box found falls short of AtMost.
	Gap float64
	// More says that more Effort may bring the two nearer; else the bound cannot
	// tell better.
	More bool
	// Proven is the largest box found of which Check says clears; nil: none,
	// and Why says why.
	Proven *Box
	Why    []Hindrance
	// Free are the boxes that nothing measured contradicts, the largest first:
	// no line fouls or is tight, every line's clearance alone reaches sure.
	Free []Box
	// JointCosts is what asking for all lines together takes off the largest
	// of Free, litres; Joint is false where no box was found that keeps them.
	JointCosts float64
	Joint      bool
	// Outside says that values are outside volumes; so they are without a sheet.
	Outside bool
	// Looked is how many boxes were looked at.
	Looked int
	// Room is where the body was looked for, along x, y and out from the face.
	Room [3]Range
}

// Best is the largest box that nothing contradicts.
func (a *Answer) Best() (b Box, ok bool) {
	if len(a.Free) == 0 {
		return b, false
	}
	return a.Free[0], true
}

// Box is a box found.
type Box struct {
	Tank     solid.Tank // as Check takes it
	At       r2.Point   // its lower left corner, as box.at, mm
	OutsideL float64    // litres
	Capacity float64    // litres; 0 without a sheet
	Known    bool       // the capacity is known
	// Hidden is the diameter of the largest thing that could be unseen in front
	// of a side, mm; HiddenOK is false where it knows no bound.
	Hidden   float64
	HiddenOK bool
	// Report is what Check says of it.
	Report *clearance.Report
	// Stops says what stops each side but the back.
	Stops []Stop
}

// Value is the capacity, or the outside volume.
func (b Box) Value(outside bool) float64 {
	if outside || !b.Known {
		return b.OutsideL
	}
	return b.Capacity
}

// Stop is what stops a side of a box.
type Stop struct {
	Side solid.Side
	// By is what stops it: another word for the part and the feature.
	Part, Feature string
	Marks         []string
	When          string // a motion's name or "way in"; blank at rest
	// Limit says what else stops it: the room, a greatest size; blank for a feature.
	Limit string
	// Free says that nothing was found that stops it.
	Free bool
	// Moved is what moving the feature by half an inch is worth, litres, and
	// Retaken what taking the marks to within 1/32 in; Worth says that they
	// were worked out, RetakenOK that the marks are not known so well already.
	Moved, Retaken   float64
	Worth, RetakenOK bool
}

// Hindrance is a line or side that keeps the largest box from clearing.
type Hindrance struct {
	Because clearance.Because
	Side    solid.Side // of a side; NoSide for a line
	Part    string
	Feature string
}

// What a Hindrance is of where it is no part and no side.
const (
	Levels = "how the liquid stands"
	WayIn  = "way in"
)

// Open is the error where nothing bounds the box on a side.
type Open struct{ Sides []solid.Side }

func (e *Open) Error() string {
	return "nothing measured on the " + e.Sides[0].String() + ": measure it, or give a room"
}

// ErrNone says that no box at all was found in the room.
var ErrNone = errors.New("no box of these limits goes in")

// Solve finds the largest box for a tank: its size, place and, in their ranges,
// its stand-off and turn are free; all else of it holds. The error is *Open where
// nothing bounds the box, ErrNone with an answer without boxes, solid.Problems for a tank that cannot be
// built, or that of ctx.
func Solve(ctx context.Context, s *survey.Space, t solid.Tank, r clearance.Rules, l Limits) (*Answer, error) {
	if l.Bare {
		t.Fittings, r.Hoses = nil, nil
	}
	if l.Top < 1 {
		l.Top = 1
	}
	if l.Effort <= 0 {
		l.Effort = 1
	}
	if _, ok := t.Capacity(); !ok {
		l.Outside = true
	}
	return solve(ctx, task{space: s, tank: t, rules: r, limits: l})
}

// task is what is asked for.
type task struct {
	space  *survey.Space
	tank   solid.Tank
	rules  clearance.Rules
	limits Limits
	slips  bool // asks that every line withstands an inch misread
	owed   *owed
}

// degree is one, in radians.
const degree = float64(s1.Degree)
