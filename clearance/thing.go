package clearance

import (
	"github.com/golang/geo/r3"

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
	// carry adds to the checker's sum how a figure moves that changes by
	// by·(move of the thing's point at) as the box is made and placed, and
	// appends to g how it moves with marks of the thing's own.
	carry(c *checker, g survey.Gradient, spot int, at, by r3.Vector) survey.Gradient
}

// partThing is a part of the box.
type partThing struct{ solid.Part }

func (p partThing) label() string { return p.Name }

func (p partThing) asks(_ *checker, feature GapUsed) (float64, string) {
	if p.Kind == solid.KeepOpenPart {
		return 0, ""
	}
	return feature.Gap, feature.Name
}

func (p partThing) least(q piece) float64 { return shape.Gap(p.Solid, q.solid) }

func (p partThing) distance(s shape.Convex) (shape.Nearest, int) {
	return shape.Distance(p.Solid, s), 0
}

func (p partThing) carry(c *checker, g survey.Gradient, _ int, at, by r3.Vector) survey.Gradient {
	c.carried(at, by, p.Share(at, c.assembly.Tank.Size), p.Fitting)
	return g
}
