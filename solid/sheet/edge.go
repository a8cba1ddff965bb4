package sheet

import (
	"math"

	"github.com/golang/geo/r3"
)

// Edge is one of the twelve edges of a box: the axis that it runs along (0, 1, 2
// for x, y, z), and whether it lies at the far end of each of the other two, in
// the order x before y before z.
type Edge struct {
	Along int
	Far   [2]bool
}

// far says whether the edge lies at the far end of an axis across it.
func (e Edge) far(axis int) bool {
	if axis > e.Along {
		axis-- // the edge's own axis has no entry
	}
	return e.Far[axis]
}

// meets says whether two edges share a corner: they run along two axes, and lie
// at the same end of the third.
func (e Edge) meets(f Edge) bool {
	if e.Along == f.Along {
		return false
	}
	third := 3 - e.Along - f.Along
	return e.far(third) == f.far(third)
}

// lump is an amount, a volume or a mass, with its first moment.
type lump struct {
	amount float64
	moment r3.Vector
}

func (l lump) plus(times float64, m lump) lump {
	return lump{l.amount + times*m.amount, l.moment.Add(m.moment.Mul(times))}
}

func lumpAt(volume float64, middle [3]float64) lump {
	return lump{volume, r3.Vector{X: middle[0], Y: middle[1], Z: middle[2]}.Mul(volume)}
}

// What rounding to a radius of 1 takes off a square corner, a square less a
// quarter disc: the area, and how far its middle is from either side. The
// square's moment is 1/2; the quarter disc's is its area pi/4 by 1 - 4/(3 pi),
// since its middle lies 4/(3 pi) from its own.
const (
	shaved     = 1 - math.Pi/4
	shavedFrom = (0.5 - math.Pi/4 + 1.0/3) / shaved
)

// What two edges rounded to a radius of 1 both take off the corner where they
// meet: its volume, and how far its middle is from the side that both border on
// and from the other two. At s from where the rounding begins, toward the side
// that both border on, each takes w = 1 - sqrt(1 - s2) of its other axis. From 0
// to 1, w2 adds up to 5/3 - pi/2, s w2 to 1/12, and w3 to 3 - 15 pi/16, half of
// which is the moment of w2 about the other sides.
const (
	twice         = 5.0/3 - math.Pi/2
	twiceFromBoth = 1 - 1.0/12/twice
	twiceFromEach = (1.5 - 15*math.Pi/32) / twice
)

// rounded is the inside of a box of a size, in from its outside by inset all
// round, with its bent edges rounded to radius.
func rounded(size r3.Vector, inset float64, bent []Edge, radius float64) lump {
	var ends [3][2]float64
	volume, middle := 1.0, [3]float64{}
	for axis, whole := range [3]float64{size.X, size.Y, size.Z} {
		ends[axis] = [2]float64{inset, whole - inset}
		volume *= whole - 2*inset
		middle[axis] = whole / 2
	}
	left := lumpAt(volume, middle)
	for i, e := range bent {
		left = left.plus(-1, e.shaving(ends, radius))
		for _, f := range bent[:i] {
			if e.meets(f) {
				left = left.plus(1, e.corner(f, ends, radius))
			}
		}
	}
	return left
}

// shaving is what rounding one edge takes off.
func (e Edge) shaving(ends [3][2]float64, radius float64) lump {
	var middle [3]float64
	for axis := range middle {
		if axis == e.Along {
			middle[axis] = (ends[axis][0] + ends[axis][1]) / 2
		} else {
			middle[axis] = inFrom(ends[axis], e.far(axis), shavedFrom*radius)
		}
	}
	long := ends[e.Along][1] - ends[e.Along][0]
	return lumpAt(shaved*radius*radius*long, middle)
}

// corner is what rounding two edges that meet takes off twice.
func (e Edge) corner(f Edge, ends [3][2]float64, radius float64) lump {
	third := 3 - e.Along - f.Along
	var middle [3]float64
	middle[e.Along] = inFrom(ends[e.Along], f.far(e.Along), twiceFromEach*radius)
	middle[f.Along] = inFrom(ends[f.Along], e.far(f.Along), twiceFromEach*radius)
	middle[third] = inFrom(ends[third], e.far(third), twiceFromBoth*radius)
	return lumpAt(twice*radius*radius*radius, middle)
}

// inFrom is the place so far in from one of two ends.
func inFrom(ends [2]float64, far bool, by float64) float64 {
	if far {
		return ends[1] - by
	}
	return ends[0] + by
}
