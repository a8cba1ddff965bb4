package level

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The value at 0 C is printed; the others follow from the formula as printed
// (IP Standard Methods, appendix G, Bettin and Spieweck).
func TestWaterByItsFormula(t *testing.T) {
	for _, c := range [][2]float64{
		{0, 999.840}, {4, 999.972}, {20, 998.203}, {25, 997.043}, {40, 992.212}, {60, 983.191}, {80, 971.785}, {100, 958.345},
	} {
		got, ok := Water.Density(c[0])
		require.True(t, ok)
		assert.InDelta(t, c[1], got, 0.0005, "%g C", c[0])
	}
}

// CIPM 2001 (Tanaka et al., Metrologia 38, 301; the coefficients from memory): another
// fit, for heavier water, 0 to 40 C. The two agree within 0.006, the formula's own uncertainty.
func TestWaterAgainstTanaka(t *testing.T) {
	tanaka := func(t float64) float64 {
		return 999.974950 * (1 - (t-3.983035)*(t-3.983035)*(t+301.797)/(522528.9*(t+69.34881)))
	}
	for _, c := range [][2]float64{{0, 999.8428}, {4, 999.9749}, {20, 998.2067}, {25, 997.0470}, {40, 992.2152}} {
		assert.InDelta(t, c[1], tanaka(c[0]), 0.0001, "%g C", c[0])
		got, _ := Water.Density(c[0])
		assert.InDelta(t, c[1], got, 0.006, "%g C", c[0])
	}
}

// Saturated water, mol/dm3 at K (Perry's Chemical Engineers' Handbook, 9th
// edition, table 2-135, after IAPWS-95), with 18.015268 g/mol. At saturation the
// pressure is below 1 atm, which makes 0.05 kg/m3; the fifth figure is another 0.01.
func TestWaterAgainstSteamTables(t *testing.T) {
	for _, c := range [][3]float64{{280, 55.501, 999.87}, {300, 55.315, 996.51}, {320, 54.919, 989.38}, {350, 54.049, 973.71}, {370, 53.321, 960.59}} {
		want := c[1] * 18.015268
		assert.InDelta(t, c[2], want, 0.006)
		got, _ := Water.Density(c[0] - 273.15)
		assert.InDelta(t, want, got, 0.06, "%g K", c[0])
	}
}

// ASHRAE Fundamentals, ethylene glycol 50 % by volume, as copied in a heating
// design manual, page 113, table 5-16; and 0 % by the same table against the formula.
func TestGlycolByItsTable(t *testing.T) {
	half := map[float64]float64{40: 67.47, 70: 67.05, 100: 66.55, 150: 65.53, 180: 64.80, 200: 64.27, 220: 63.70, 250: 62.78}
	for f, want := range half {
		got, ok := HalfGlycol.Density(celsius(f))
		require.True(t, ok, "%g F", f)
		assert.InDelta(t, want*16.01846, got, 0.001, "%g F", f)
	}
	none := map[float64]float64{40: 62.42, 70: 62.31, 100: 62.00, 150: 61.20, 180: 60.57, 200: 60.13}
	for f, want := range none {
		got, ok := Water.Density(celsius(f))
		require.True(t, ok)
		assert.InDelta(t, want, got/16.01846, 0.025, "%g F", f)
	}
}

// Between the table's values it is a little low, never high: the table bends down.
func TestGlycolBetweenTheTable(t *testing.T) {
	table := glycolTable()
	for i := 1; i+1 < len(table); i++ {
		before := (table[i][1] - table[i-1][1]) / (table[i][0] - table[i-1][0])
		after := (table[i+1][1] - table[i][1]) / (table[i+1][0] - table[i][0])
		assert.Greater(t, before, after, "at %g F", table[i][0])
		h := table[i+1][0] - table[i][0]
		assert.Less(t, h*(before-after)/8*16.01846, 0.4)
	}
	got, _ := HalfGlycol.Density(celsius(85))
	assert.InDelta(t, 66.80*16.01846, got, 1e-3)
}

func TestExpansion(t *testing.T) {
	for _, c := range []struct {
		fluid     Coolant
		cold, hot float64 // F
		want      float64
	}{
		{HalfGlycol, 70, 200, 0.0433},
		{HalfGlycol, 40, 220, 0.0592}, // the "about 6 %" by which systems are sized
		{Water, 70, 200, 0.0363},      // by ASHRAE's table; by Kell's formula 0.0366
	} {
		got, ok := c.fluid.Expansion(celsius(c.cold), celsius(c.hot))
		require.True(t, ok)
		delta := 0.00005
		if c.fluid == Water {
			delta = 0.0004 // two figures of the table behind the point
		}
		assert.InDelta(t, c.want, got, delta)
	}
	// Half by mass is another mixture: 1090 at 0 C and 1042 at 80 C (a maker's
	// table) make 4.61 %. By volume it is another figure, within the same range.
	assert.InDelta(t, 0.0461, 1090./1042-1, 0.00005)
	byVolume, ok := HalfGlycol.Expansion(5, 80)
	require.True(t, ok)
	byMass := (1090-(1090-1079)*5./20)/1042 - 1
	assert.InDelta(t, byMass, byVolume, 0.006)
	assert.Greater(t, byMass-byVolume, 0.001)
}

func TestTemperaturesBeyondTheData(t *testing.T) {
	for _, c := range []struct {
		fluid Coolant
		at    float64
	}{{HalfGlycol, 4}, {HalfGlycol, 122}, {Water, -1}, {Water, 101}} {
		_, ok := c.fluid.Density(c.at)
		assert.False(t, ok)
		_, ok = c.fluid.Expansion(20, c.at)
		assert.False(t, ok)
	}
	from, to := HalfGlycol.Known()
	assert.InDelta(t, 4.44, from, 0.01)
	assert.InDelta(t, 121.11, to, 0.01)
	_, ok := HalfGlycol.Density(to)
	assert.True(t, ok)
}
