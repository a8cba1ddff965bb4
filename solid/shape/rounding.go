package shape

import (
	"math"

	"github.com/golang/geo/r3"
)

// ulp is 2^-53, the greatest relative error of one rounding.
const ulp = 1.0 / (1 << 53)

// slackOf bounds the rounding in (b - a) . n for corners b and a whose
// coordinates stay below size. In roundings of size: a box's corner is a sum of
// four, 3, twice; their difference 2; products and sums 4 of 2; n's own length 3
// of 2; choosing the wrong corner 4, twice; all times sqrt 3 for three
// coordinates: (6 + 2 + 8 + 6 + 8) sqrt 3 < 64.
func slackOf(size float64) float64 { return 64 * ulp * size }

// slackBetween is slackOf for two cores. With a ray it is twice that: a sweep that
// ends just past the other core, at most 2 sqrt 3 of size away, is as good as one
// without end (whatever of it lies farther on is nearer a step back toward where
// it came from), so a direction that leans into the ray by level is wrong by no
// more than level times that: 35 roundings of size. Two rays that run nearly side
// by side may both be long there; then the bound grows with one over their angle,
// which is left out.
func slackBetween(a, b *core) float64 {
	slack := slackOf(max(a.size, b.size))
	if a.ray != (r3.Vector{}) || b.ray != (r3.Vector{}) {
		slack *= 2
	}
	return slack
}

// level is how far a unit direction may lean into a ray and still count as
// square to it: the rounding of a dot product of two unit vectors, 3 products
// and 2 sums, twice over for the two's own rounding.
const level = 10 * ulp

// largest is the size of the greatest coordinate.
func largest(v r3.Vector) float64 {
	return max(math.Abs(v.X), math.Abs(v.Y), math.Abs(v.Z))
}

// unit is v at length 1, or zero for zero; it neither overflows nor underflows
// where v.Norm2 would.
func unit(v r3.Vector) r3.Vector {
	most := largest(v)
	if most == 0 {
		return r3.Vector{}
	}
	return r3.Vector{X: v.X / most, Y: v.Y / most, Z: v.Z / most}.Normalize()
}

// mostSize keeps products of four lengths clear of the largest float64, 2^1024.
const mostSize = 1 << 200

// measurable says that the kernel can work with the coordinates: they are
// numbers, and not beyond all measure.
func measurable(vectors ...r3.Vector) bool {
	for _, v := range vectors {
		if !(largest(v) < mostSize) {
			return false
		}
	}
	return true
}
