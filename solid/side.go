package solid

import "github.com/golang/geo/r3"

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

// names are the sides' names by their number.
func names() [7]string {
	return [7]string{"no side", "left", "right", "bottom", "top", "back", "front"}
}

// String is the side's name in lower case.
func (s Side) String() string {
	if s < NoSide || s > Front {
		s = NoSide
	}
	return names()[s]
}

// ParseSide finds a side by its name in lower case.
func ParseSide(name string) (Side, bool) {
	for _, s := range Sides() {
		if s.String() == name {
			return s, true
		}
	}
	return NoSide, false
}

// Axis is the axis that the side lies across: 0 for left and right, 1 for bottom
// and top, 2 for back and front. It means nothing for NoSide.
func (s Side) Axis() int { return (int(s) - 1) / 2 }

// Axes are the two axes along the side, in the order x before y before z. They
// mean nothing for NoSide.
func (s Side) Axes() [2]int {
	switch s.Axis() {
	case 0:
		return [2]int{1, 2}
	case 1:
		return [2]int{0, 2}
	}
	return [2]int{0, 1}
}

// Far says whether the side is the one away from the held corner: right, top
// and front move when the box turns out larger than drawn.
func (s Side) Far() bool { return s == Right || s == Top || s == Front }

// Out is the unit vector out of the side; zero for NoSide.
func (s Side) Out() r3.Vector {
	switch {
	case s == NoSide:
		return r3.Vector{}
	case s.Far():
		return Axis(s.Axis())
	}
	return Axis(s.Axis()).Mul(-1)
}

// borders says whether two sides share an edge.
func (s Side) borders(t Side) bool {
	return s != NoSide && t != NoSide && s.Axis() != t.Axis()
}

// ends are the two sides across an axis, the near one first.
func ends(axis int) [2]Side {
	return [3][2]Side{{Left, Right}, {Bottom, Top}, {Back, Front}}[axis]
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

// along is v's component along axis 0, 1 or 2.
func along(v r3.Vector, axis int) float64 { return [3]float64{v.X, v.Y, v.Z}[axis] }
