package sheet

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The edges between two sides that the tests name.
var (
	leftBottom  = Edge{Along: 2, Far: [2]bool{false, false}}
	bottomRight = Edge{Along: 2, Far: [2]bool{true, false}}
	topRight    = Edge{Along: 2, Far: [2]bool{true, true}}
	backBottom  = Edge{Along: 0, Far: [2]bool{false, false}}
	bottomFront = Edge{Along: 0, Far: [2]bool{false, true}}
	backTop     = Edge{Along: 0, Far: [2]bool{true, false}}
	topFront    = Edge{Along: 0, Far: [2]bool{true, true}}
	backLeft    = Edge{Along: 1, Far: [2]bool{false, false}}
	backRight   = Edge{Along: 1, Far: [2]bool{true, false}}
)

// construction is a way to bend a box, and how it looks cut in slices: across
// which axis, and what a slice lacks at the near and the far end of the other two
// axes, given what the roundings take at its distance from the near end and from
// the far end of the first.
type construction struct {
	bent  []Edge
	axis  int
	lacks func(near, far float64) [2][2]float64
}

var constructions = map[string]construction{
	"none bent": {nil, 1, func(_, _ float64) [2][2]float64 { return [2][2]float64{} }},
	"one bent":  {[]Edge{topRight}, 1, func(_, far float64) [2][2]float64 { return [2][2]float64{{0, far}, {}} }},
	"two that meet": {[]Edge{backLeft, backBottom}, 2,
		func(near, _ float64) [2][2]float64 { return [2][2]float64{{near, 0}, {near, 0}} }},
	// Level slices: near the bottom the sides draw in, near the top front and back.
	"two channels": {[]Edge{leftBottom, bottomRight, backTop, topFront}, 1,
		func(near, far float64) [2][2]float64 { return [2][2]float64{{near, near}, {far, far}} }},
	// Level slices: front and back draw in near the bottom and near the top.
	"wrap": {[]Edge{backBottom, bottomFront, topFront, backTop}, 1,
		func(near, far float64) [2][2]float64 { return [2][2]float64{{}, {near + far, near + far}} }},
	// Upright slices: near the back all four sides draw in.
	"pan": {[]Edge{backLeft, backRight, backBottom, backTop}, 2,
		func(near, _ float64) [2][2]float64 { return [2][2]float64{{near, near}, {near, near}} }},
}

// A cube of 100 mm of 2 mm sheet, inside radius 3, as two channels, by hand.
func TestHoldByHand(t *testing.T) {
	box := Box{
		Size: r3.Vector{X: 100, Y: 100, Z: 100}, Sheet: 2, InsideRadius: 3,
		Bent: constructions["two channels"].bent, Density: 2680,
	}
	h := Hold(box, 1000)
	// 96 x 96 x 96 = 884736 mm3, less four bends of 96 mm at 9 (1 - pi/4) = 1.931417 mm2.
	assert.InDelta(t, 0.883994336, h.CapacityL, 1e-9)
	// 1000000 mm3, less four bends of 100 mm at 25 (1 - pi/4) = 5.365046 mm2, less
	// the inside: 113859.646 mm3 at 2680 kg/m3.
	assert.InDelta(t, 0.305143851, h.DryKg, 1e-9)
	assert.InDelta(t, 0.305143851+0.883994336, h.FullKg, 1e-9)
	assert.True(t, h.Filled)

	h = Hold(box, 0)
	assert.Equal(t, h.DryKg, h.FullKg)
	assert.False(t, h.Filled)
}

// A US gallon is 231 cubic inches exactly, 3.785411784 litres (NIST Handbook 44,
// appendix C). 7 x 11 x 3 inches inside, folded sharp, hold one.
func TestHoldsAGallon(t *testing.T) {
	const inch, sheet = 25.4, 2.032
	box := Box{Size: r3.Vector{X: 7*inch + 2*sheet, Y: 11*inch + 2*sheet, Z: 3*inch + 2*sheet}, Sheet: sheet}
	assert.InDelta(t, 3.785411784, Hold(box, 0).CapacityL, 1e-12)
}

// A wrap with ends as it lies on the bench: a strip as long as the middle of the
// sheet all round, and two flats that fill its inside.
func TestWrapWeighsItsPieces(t *testing.T) {
	const w, h, d, sheet, radius = 216, 127, 95, 2, 4
	flats := 2*(h-2*(radius+sheet)) + 2*(d-2*(radius+sheet))
	strip := (float64(flats) + 2*math.Pi*(radius+sheet/2.0)) * sheet * w
	ends := 2 * sheet * ((h-2*sheet)*(d-2*sheet) - (4-math.Pi)*radius*radius)
	got := Hold(Box{Size: r3.Vector{X: w, Y: h, Z: d}, Sheet: sheet, InsideRadius: radius, Bent: constructions["wrap"].bent, Density: 2680}, 0)
	assert.InDelta(t, (strip+ends)*2680e-9, got.DryKg, 1e-12)
}

// sliced is the volume and the middle of a rounded box, added up from slices.
func (c construction) sliced(size r3.Vector, inset, radius float64) (volume float64, middle r3.Vector) {
	const n = 100_000
	whole := [3]float64{size.X, size.Y, size.Z}
	others := [3][2]int{{1, 2}, {0, 2}, {0, 1}}[c.axis]
	long := whole[c.axis] - 2*inset
	drawn := func(from float64) float64 { // how far a rounding draws in, so far from its end
		up := math.Max(0, radius-from)
		return radius - math.Sqrt(radius*radius-up*up)
	}
	var moment [3]float64
	for i := 0; i < n; i++ {
		from := (float64(i) + 0.5) / n * long
		lacks := c.lacks(drawn(from), drawn(long-from))
		slice := long / n
		var at [3]float64
		at[c.axis] = inset + from
		for k, axis := range others {
			lo, hi := inset+lacks[k][0], whole[axis]-inset-lacks[k][1]
			at[axis] = (lo + hi) / 2
			slice *= hi - lo
		}
		volume += slice
		for axis := range moment {
			moment[axis] += slice * at[axis]
		}
	}
	return volume, r3.Vector{X: moment[0], Y: moment[1], Z: moment[2]}.Mul(1 / volume)
}

// Capacity, mass and centre of gravity against the sum of slices, with radii
// large enough that a corner left out shows: four of them are 0.9 % of the pan's
// inside.
func TestHoldAgainstSlices(t *testing.T) {
	const sheet, radius, density, contents = 3, 14, 2680, 1079
	size := r3.Vector{X: 64, Y: 50, Z: 42}
	for name, c := range constructions {
		inside, inMiddle := c.sliced(size, sheet, radius)
		outside, outMiddle := c.sliced(size, 0, radius+sheet)
		got := Hold(Box{Size: size, Sheet: sheet, InsideRadius: radius, Bent: c.bent, Density: density}, contents)
		assert.InEpsilon(t, inside/1e6, got.CapacityL, 1e-7, name)
		assert.InEpsilon(t, (outside-inside)*density/1e9, got.DryKg, 1e-7, name)
		full := (outside-inside)*density + inside*contents
		centre := outMiddle.Mul(outside * density).Add(inMiddle.Mul(inside * (contents - density))).Mul(1 / full)
		assert.InEpsilon(t, full/1e9, got.FullKg, 1e-7, name)
		assert.Less(t, centre.Distance(got.Centre), 1e-5, "%s: %v, by slices %v", name, got.Centre, centre)
	}
}

func TestTaken(t *testing.T) {
	const bend = 3 + 2
	for name, want := range map[string][3]float64{
		"none bent":     {0, 0, 0},
		"one bent":      {bend, bend, 0},
		"two that meet": {bend, bend, bend},
		"two channels":  {2 * bend, 2 * bend, 2 * bend},
		"wrap":          {0, 2 * bend, 2 * bend},
		"pan":           {2 * bend, 2 * bend, bend},
	} {
		box := Box{Sheet: 2, InsideRadius: 3, Bent: constructions[name].bent}
		assert.Equal(t, want, [3]float64{box.Taken(0), box.Taken(1), box.Taken(2)}, name)
	}
}

// Plate of 1000 x 1000 x 2 mm of 5052: 2e6 mm3 at 2.68 g/cm3 is 5.36 kg.
func TestPlateWeighs(t *testing.T) {
	density, ok := Density("5052-H32")
	require.True(t, ok)
	h := Holding{}.With(r3.Vector{}, r3.Vector{X: 1000, Y: 1000, Z: 2}, density)
	assert.InDelta(t, 5.36, h.DryKg, 1e-12)
	assert.InDelta(t, 5.36, h.FullKg, 1e-12)
	assert.Less(t, h.Centre.Distance(r3.Vector{X: 500, Y: 500, Z: 1}), 1e-9)
}

// Brackets pull the centre by their share of the mass, whether the box is full
// or empty, in whatever order.
func TestCentreWithBrackets(t *testing.T) {
	box := Box{Size: r3.Vector{X: 100, Y: 100, Z: 100}, Sheet: 2, Density: 2700}
	type plate struct{ lo, hi r3.Vector }
	plates := []plate{
		{r3.Vector{X: -50, Y: 0, Z: 0}, r3.Vector{X: 0, Y: 100, Z: 10}},
		{r3.Vector{X: 100, Y: 0, Z: 0}, r3.Vector{X: 130, Y: 20, Z: 10}},
	}
	for _, contents := range []float64{0, 1079} {
		bare := Hold(box, contents)
		mass, moment := bare.FullKg, bare.Centre.Mul(bare.FullKg)
		for _, p := range plates {
			d := p.hi.Sub(p.lo)
			kg := d.X * d.Y * d.Z * 2.7e-6
			mass, moment = mass+kg, moment.Add(p.lo.Add(p.hi).Mul(kg/2))
		}
		one := bare.With(plates[0].lo, plates[0].hi, 2700).With(plates[1].lo, plates[1].hi, 2700)
		two := bare.With(plates[1].lo, plates[1].hi, 2700).With(plates[0].lo, plates[0].hi, 2700)
		for _, h := range []Holding{one, two} {
			assert.InDelta(t, mass, h.FullKg, 1e-12)
			assert.InDelta(t, mass-bare.FullKg, h.DryKg-bare.DryKg, 1e-12)
			assert.Equal(t, bare.CapacityL, h.CapacityL)
			assert.Less(t, h.Centre.Distance(moment.Mul(1/mass)), 1e-9)
		}
	}
}

func TestZeroValues(t *testing.T) {
	assert.Equal(t, Holding{}, Hold(Box{}, 0))
	assert.Equal(t, Holding{}, Holding{}.With(r3.Vector{}, r3.Vector{}, 0), "nothing added to nothing")
	assert.Zero(t, Box{}.Taken(0))
	assert.Equal(t, r3.Vector{X: 1, Y: 2, Z: 3}, Hold(Box{Size: r3.Vector{X: 2, Y: 4, Z: 6}}, 0).Centre, "without mass, the middle")
}
