package solid

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
)

// Which edges each construction bends, told by the two sides that meet there and
// which of its pieces holds both.
func TestConstructionsBendWhereTwoSidesAreOnePiece(t *testing.T) {
	type piece []Side // in the order in which they follow around it
	for c, want := range map[Construction][]piece{
		TwoChannels:     {{Left, Bottom, Right}, {Back, Top, Front}},
		WrapAndEnds:     {{Back, Bottom, Front, Top, Back}},
		PanAndLid:       {{Left, Back, Right}, {Bottom, Back, Top}},
		Construction(9): {{Left, Bottom, Right}, {Back, Top, Front}},
	} {
		bent := c.bent()
		count := 0
		for _, p := range want {
			for i := 1; i < len(p); i++ {
				assert.Contains(t, bent, edge(p[i-1], p[i]), "%d: %s to %s", c, p[i-1], p[i])
				count++
			}
		}
		assert.Len(t, bent, count)
	}
	assert.Equal(t, edge(Top, Left), edge(Left, Top))
	assert.Equal(t, [2]bool{false, true}, edge(Left, Top).Far)
	assert.Equal(t, 2, edge(Left, Top).Along)
}

// A box of 200 x 120 x 80 of 2 mm sheet, inside radius 3, by hand: inside 196 x
// 116 x 76 mm, less a bend's 9 (1 - pi/4) mm2 by the length of each.
func TestCapacityOfEachConstruction(t *testing.T) {
	const whole, bend = 196 * 116 * 76, 9 * (1 - math.Pi/4)
	for c, long := range map[Construction]float64{
		TwoChannels: 2*76 + 2*196,
		WrapAndEnds: 4 * 196,
		PanAndLid:   2*116 + 2*196,
	} {
		want := whole - bend*long
		if c == PanAndLid { // two bends meet at each corner of the back: 27 (5/3 - pi/2) mm3 was taken twice
			want += 4 * 27 * (5.0/3 - math.Pi/2)
		}
		tank := box200()
		tank.Sheet, tank.InsideRadius, tank.Construction = 2, 3, c
		a := build(t, tank)
		assert.True(t, a.Known)
		assert.InDelta(t, want/1e6, a.Holding.CapacityL, 1e-12, "construction %d", c)
	}
}

// What the contents weigh, full to the brim of the body.
func TestFullMass(t *testing.T) {
	for holds, density := range map[Contents]float64{Nothing: 0, Coolant: 1079, OilVapour: 998.2, Battery: 0, Electronics: 0} {
		tank := box200()
		tank.Sheet, tank.Alloy, tank.Holds = 2, "5052-H32", holds
		h := build(t, tank).Holding
		// Inside radius 0: the inside is 196 x 116 x 76 mm sharp; outside, the four
		// bends are rounded to the 2 mm of the sheet. At 2680 kg/m3.
		const inside = 196 * 116 * 76
		const shell = 200*120*80 - (2*80+2*200)*4*(1-math.Pi/4) - inside
		assert.InDelta(t, shell*2680e-9, h.DryKg, 1e-12)
		assert.InDelta(t, shell*2680e-9+inside*density/1e9, h.FullKg, 1e-9)
		assert.Equal(t, density > 0, h.Filled)
	}
}

// Coolant is half glycol. By volume, at 70 degrees F: 67.05 lb/ft3 (ASHRAE
// Fundamentals, as copied in a heating design manual, table 5-16); by mass, at 20
// degrees C: 1079 kg/m3 (a maker's table). The heavier counts, and they are near.
func TestCoolantIsTheHeavierOfTwoTables(t *testing.T) {
	const poundsPerCubicFoot = 0.45359237 / (0.3048 * 0.3048 * 0.3048) // exact by definition
	ashrae := 67.05 * poundsPerCubicFoot
	assert.InDelta(t, 1074.04, ashrae, 0.01)
	assert.Equal(t, math.Max(ashrae, 1079), Coolant.density())
	assert.InEpsilon(t, ashrae, Coolant.density(), 0.006)
}

// Water at 20 degrees C by the formula of Bettin and Spieweck (as printed in the IP
// Standard Methods, appendix G).
func TestOilVapourCountsAsWater(t *testing.T) {
	const c = 20.0
	water := (999.83952 + 16.952577*c - 7.9905127e-3*c*c - 46.241757e-6*c*c*c +
		105.84601e-9*c*c*c*c - 281.03006e-12*c*c*c*c*c) / (1 + 16.887236e-3*c)
	assert.InDelta(t, water, OilVapour.density(), 0.01)
}

// A bracket adds its mass, and pulls the centre its way; an empty box's too.
func TestBracketsInTheHolding(t *testing.T) {
	for _, holds := range []Contents{Nothing, Coolant} {
		tank := box200()
		tank.Sheet, tank.Alloy, tank.Holds = 2, "5052", holds
		bare := build(t, tank).Holding
		tank.Brackets = []Bracket{{Name: "tab", Min: v(-50, 0, 0), Max: v(0, 120, 10)}}
		h := build(t, tank).Holding
		const tab = 50 * 120 * 10 * 2680e-9
		assert.InDelta(t, bare.DryKg+tab, h.DryKg, 1e-12)
		assert.InDelta(t, bare.FullKg+tab, h.FullKg, 1e-12)
		assert.Equal(t, bare.CapacityL, h.CapacityL)
		want := r3.Vector{X: -25, Y: 60, Z: 5}.Mul(tab).Add(bare.Centre.Mul(bare.FullKg)).Mul(1 / (bare.FullKg + tab))
		near(t, want, h.Centre)
	}
}

func TestNoSheetNoHolding(t *testing.T) {
	tank := sound()
	tank.Sheet = 0
	a := build(t, tank)
	assert.False(t, a.Known)
	assert.Zero(t, a.Holding)
}
