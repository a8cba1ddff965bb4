package level

import (
	"math"

	"github.com/golang/geo/r3"
)

// Opening is a flat round or oval opening in the wall, where it opens into the
// space: its middle and two half axes, which are square to each other. The zero
// Opening is a point.
type Opening struct {
	Middle r3.Vector
	Half   [2]r3.Vector
}

// Extent is the lowest and the highest height of the opening's rim.
func (o Opening) Extent(up r3.Vector) (low, high float64) {
	by := math.Hypot(o.Half[0].Dot(up), o.Half[1].Dot(up))
	at := o.Middle.Dot(up)
	return at - by, at + by
}

// Filled is how much can be filled in while the openings let air out, and Air
// what is left of it: the volume under and over the highest point of any of their rims.
//
// Liquid poured in through a neck rises; air leaves as long as some of an
// opening stands above the surface. Once the highest point of the last rim is
// covered, what is above it stays. That it is squeezed a little by what stands
// in the neck is left out. Without an opening nothing can be filled in.
func (s Space) Filled(up r3.Vector, openings ...Opening) (filled, air float64) {
	whole := s.Volume()
	rim, ok := highest(up, openings)
	if !ok {
		return 0, whole
	}
	filled = math.Min(whole, s.Under(up, rim))
	return filled, whole - filled
}

// AirAtMost bounds the air that stays at any lean of no more than turn, radians, from
// up: nothing moves farther against the highest opening's rim, in height, than the
// farthest corner is from it, times the turn.
func (s Space) AirAtMost(up r3.Vector, turn float64, openings ...Opening) float64 {
	whole := s.Volume()
	if len(openings) == 0 {
		return whole
	}
	best, rim := 0, math.Inf(-1)
	for i, o := range openings {
		if _, high := o.Extent(up); high > rim {
			best, rim = i, high
		}
	}
	return whole - math.Min(whole, s.Under(up, rim-s.from(openings[best])*turn))
}

// from bounds how far any corner is from any place of an opening's rim.
func (s Space) from(o Opening) float64 {
	most := 0.0
	for _, f := range s.faces {
		for _, v := range f {
			most = math.Max(most, v.Sub(o.Middle).Norm2())
		}
	}
	return math.Sqrt(most) + math.Max(o.Half[0].Norm(), o.Half[1].Norm())
}

// Over is how far the space rises over the highest point of any of the
// openings' rims: 0 where air from everywhere finds its way out.
func (s Space) Over(up r3.Vector, openings ...Opening) float64 {
	_, high := s.Extent(up)
	rim, ok := highest(up, openings)
	if !ok {
		low, _ := s.Extent(up)
		return high - low
	}
	return math.Max(0, high-rim)
}

func highest(up r3.Vector, openings []Opening) (rim float64, ok bool) {
	rim = math.Inf(-1)
	for _, o := range openings {
		_, high := o.Extent(up)
		rim = math.Max(rim, high)
	}
	return rim, len(openings) > 0
}

// Left is how much stays when the space drains through the opening: what lies
// below the lowest point of its rim.
func (s Space) Left(up r3.Vector, o Opening) float64 {
	low, _ := o.Extent(up)
	return s.Under(up, low)
}

// LeftAtMost bounds Left at any lean of no more than turn, radians, from up: see
// AirAtMost.
func (s Space) LeftAtMost(up r3.Vector, turn float64, o Opening) float64 {
	low, _ := o.Extent(up)
	return s.Under(up, low+s.from(o)*turn)
}

// Depth is how far below the surface of a volume the whole of the opening is;
// below 0 some of it is in the air.
func (s Space) Depth(up r3.Vector, volume float64, o Opening) float64 {
	_, high := o.Extent(up)
	return s.Level(up, volume) - high
}

// DepthAtLeast is a lower bound of Depth at any lean of no more than turn, radians, from
// up. Nothing of the space moves farther against a place of the rim, in height, than it is from it, times the
// turn; so neither does the surface of a volume.
func (s Space) DepthAtLeast(up r3.Vector, turn, volume float64, o Opening) float64 {
	return s.Depth(up, volume, o) - s.from(o)*turn
}

// Lean leans the space so that toward goes down by an angle, radians: what up
// becomes in the space's frame. toward is a unit vector square to up.
func Lean(up, toward r3.Vector, angle float64) r3.Vector {
	sin, cos := math.Sincos(angle)
	return up.Mul(cos).Sub(toward.Mul(sin))
}

// leanWithin times the way to the farthest corner, some hundredths of a millimetre, is how near the surface an
// opening counts as uncovered: a hundredth of a degree, finer than a level shows.
const leanWithin = 0.01 * math.Pi / 180

// Uncovered is the least lean toward a side, radians, at which some of the
// opening comes out of a volume of liquid; ok is false where it stays under up to
// a right angle. The lean is never too large; at it the opening is
// under by no more than leanWithin times the way to the farthest corner.
//
// By DepthAtLeast the opening cannot be uncovered before so many radians more (sphere
// tracing, Hart 1996).
func (s Space) Uncovered(up, toward r3.Vector, volume float64, o Opening) (lean float64, ok bool) {
	if len(s.faces) == 0 {
		return 0, true
	}
	far := s.from(o)
	for lean <= math.Pi/2 {
		under := s.Depth(Lean(up, toward, lean), volume, o)
		if under <= far*leanWithin {
			return lean, true
		}
		lean += under / far
	}
	return 0, false
}
