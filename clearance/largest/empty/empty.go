// Package empty finds the largest and the maximal empty boxes among points and
// axis-parallel blocks, exactly.
//
// Everything is integer micrometres: a length is an int64, a size is compared
// through its 128-bit product, and no answer depends on a rounding. A block is
// a closed box that may have no thickness (a point, a line, a plate); a box is
// empty when no block reaches into its open inside, so touching is allowed.
// A reading with its guard band is a block too: see Around.
//
// A box either stands on the plane z = Domain.Lo[2] and grows towards +z (the
// rule), or is free in all three directions (Problem.Free). In the plane: a
// domain one micrometre deep, see Flat.
//
// There are three ways in. Best proves one optimum, under least, greatest and
// held sizes and any value that does not fall as the box grows; Enumerate lists
// every maximal standing box, for trade-offs between width, height and depth;
// and Scan does for millions of points what Best does for hundreds.
package empty

import "fmt"

// Point is a place in micrometres: x, y, z.
type Point [3]int64

// Size is width (x), height (y) and depth (z) in micrometres.
type Size [3]int64

// Box is the closed box from Lo to Hi, in micrometres.
type Box struct{ Lo, Hi Point }

// Reach is the greatest coordinate in micrometres, either side of zero: the
// product of three sizes of twice that stays under 2^123.
const Reach = 1 << 40

// Around is the block of a reading at p that a box must stay half away from in
// each direction: its gap plus its guard band. It holds the ball of that radius,
// so a box that keeps off the block keeps the distance in every direction.
func Around(p, half Point) Box {
	var b Box
	for a := range p {
		b.Lo[a], b.Hi[a] = p[a]-half[a], p[a]+half[a]
	}
	return b
}

// Flat makes a domain or a block of the plane: one micrometre deep, so that
// volumes are areas in square micrometres.
func Flat(x0, y0, x1, y1 int64) Box {
	return Box{Lo: Point{x0, y0, 0}, Hi: Point{x1, y1, 1}}
}

// Size is what the box measures in each direction.
func (b Box) Size() Size {
	return Size{b.Hi[0] - b.Lo[0], b.Hi[1] - b.Lo[1], b.Hi[2] - b.Lo[2]}
}

// Hits says whether a block reaches into the open inside of the box.
func (b Box) Hits(block Box) bool { return b.hits(&block) }

func (b *Box) hits(block *Box) bool {
	return block.Lo[0] < b.Hi[0] && block.Hi[0] > b.Lo[0] &&
		block.Lo[1] < b.Hi[1] && block.Hi[1] > b.Lo[1] &&
		block.Lo[2] < b.Hi[2] && block.Hi[2] > b.Lo[2]
}

// Holds says whether all of the other box lies in this one.
func (b Box) Holds(other Box) bool {
	for a := range b.Lo {
		if other.Lo[a] < b.Lo[a] || other.Hi[a] > b.Hi[a] {
			return false
		}
	}
	return true
}

func (b Box) String() string {
	return fmt.Sprintf("x %d..%d, y %d..%d, z %d..%d um", b.Lo[0], b.Hi[0], b.Lo[1], b.Hi[1], b.Lo[2], b.Hi[2])
}

// A face is one of the six: 2*axis for the lower, 2*axis+1 for the upper.
type face int

func (f face) axis() int   { return int(f) / 2 }
func (f face) upper() bool { return f%2 == 1 }

// beside is the box with face f drawn back until the block no longer reaches in.
func (b Box) beside(block *Box, f face) Box {
	if a := f.axis(); f.upper() {
		b.Hi[a] = block.Lo[a]
	} else {
		b.Lo[a] = block.Hi[a]
	}
	return b
}

// at is the coordinate of a face.
func (b Box) at(f face) int64 {
	if f.upper() {
		return b.Hi[f.axis()]
	}
	return b.Lo[f.axis()]
}

// with is the box with face f at another coordinate.
func (b Box) with(f face, at int64) Box {
	if f.upper() {
		b.Hi[f.axis()] = at
	} else {
		b.Lo[f.axis()] = at
	}
	return b
}
