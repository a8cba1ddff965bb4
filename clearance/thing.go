package clearance

import (
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/clearance/motion"
	"elbowroom/solid"
	"elbowroom/solid/shape"
	"elbowroom/survey"
)

// thing is what is held against a feature: a part of the box, or a hose. Its
// places and directions are in the box's frame.
type thing interface {
	label() string
	// asks is the gap of a line against a feature that asks for one.
	asks(c *checker, feature GapUsed) (mm float64, name string)
	// least is a cheap lower bound of the distance.
	least(p piece) float64
	// distance also gives the spot of the witness, which means something to carry.
	distance(s shape.Convex) (n shape.Nearest, spot int)
	// stills are what it is made of, each with its spot.
	stills() (stills []motion.Still, spots []int)
	// carry adds to the checker's sum how a figure moves that changes by
	// by·(move of the thing's point at) as the box is made and placed, and
	// appends to g how it moves with marks of the thing's own.
	carry(c *checker, g survey.Gradient, spot int, at, by r3.Vector) survey.Gradient
}

// partThing is a part of the box, with the span that holds it.
type partThing struct {
	solid.Part
	span    span
	corners []r3.Vector // of its straight-sided pieces, for rivals
}

func newPartThing(p solid.Part) partThing {
	s := spanOf(p.Solid)
	for _, q := range p.More {
		s.Span = s.Join(shape.SpanOf(q))
	}
	return partThing{Part: p, span: s}
}

// prepared is the part with the faces of its hulls found once.
func prepared(p solid.Part) solid.Part {
	p.Solid = shape.Prepare(p.Solid)
	more := make([]shape.Convex, len(p.More))
	for i, q := range p.More {
		more[i] = shape.Prepare(q)
	}
	p.More = more
	return p
}

// span is the least upright box that holds a shape.
type span struct{ shape.Span }

func spanOf(c shape.Convex) span { return span{shape.SpanOf(c)} }

// off is a lower bound of the distance between what two spans hold: minus infinity
// where they meet, since that may overlap by any depth. A thousandth of the shop's
// limit of reaching is taken off for rounding.
func (s span) off(o span) float64 {
	if by := s.Off(o.Span); by > 0 {
		return by - reach/1000
	}
	return math.Inf(-1)
}

func (p partThing) label() string { return p.Name }

func (p partThing) asks(_ *checker, feature GapUsed) (float64, string) {
	if p.Kind == solid.KeepOpenPart {
		return 0, ""
	}
	return feature.Gap, feature.Name
}

func (p partThing) least(q piece) float64 { return p.span.off(q.span) }

func (p partThing) distance(s shape.Convex) (shape.Nearest, int) {
	return partDistance(p.Part, s), 0
}

// partDistance is the distance from the nearest of a part's pieces.
func partDistance(p solid.Part, s shape.Convex) shape.Nearest {
	best := shape.Distance(p.Solid, s)
	for _, q := range p.More {
		if shape.Gap(q, s) <= best.Signed || best.Signed <= 0 {
			if n := shape.Distance(q, s); n.Signed < best.Signed {
				best = n
			}
		}
	}
	return best
}

func (p partThing) stills() ([]motion.Still, []int) {
	stills, spots := []motion.Still{motion.Solid(p.Solid)}, []int{0}
	for _, q := range p.More {
		stills, spots = append(stills, motion.Solid(q)), append(spots, 0)
	}
	return stills, spots
}

func (p partThing) carry(c *checker, g survey.Gradient, _ int, at, by r3.Vector) survey.Gradient {
	c.carried(at, by, p.Share(at.Sub(c.origin), c.assembly.Tank.Size), p.Fitting)
	return g
}
