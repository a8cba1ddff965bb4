package solid

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestWhichFittingIsWhat(t *testing.T) {
	up := v(0, 1, 0)
	barb := []Element{{Name: "barb", Diameter: 20, Length: 20}}
	cap := []Element{{Name: "cap", Diameter: 20, Length: 20, After: true}}
	tank := box200()
	tank.Fittings = []Fitting{
		{Name: "low", Side: Right, At: Spot{{From: Bottom, By: 20}, {}}, Stack: barb},
		{Name: "heater", Side: Left, At: Spot{{From: Bottom, By: 50}, {}}, Stack: barb},
		{Name: "front cap", Side: Front, At: Spot{{}, {From: Top, By: 20}}, Stack: cap},
		{Name: "filler", Side: Top, At: Spot{{}, {}}, Stack: cap},
	}
	i, ok := tank.Fill(up)
	require.True(t, ok)
	assert.Equal(t, "filler", tank.Fittings[i].Name, "the highest with a cap")
	i, ok = tank.Outlet(up, nil)
	require.True(t, ok)
	assert.Equal(t, "low", tank.Fittings[i].Name, "the lowest")
	i, _ = tank.Outlet(up, []string{"heater"})
	assert.Equal(t, "heater", tank.Fittings[i].Name, "one that a hose leaves")
	// Upside down the front cap is the higher.
	i, _ = tank.Fill(up.Mul(-1))
	assert.Equal(t, "front cap", tank.Fittings[i].Name)
	// What the job says goes first.
	tank.Fittings[2].Use, tank.Fittings[1].Use, tank.Fittings[0].Use = FillUse, OutletUse, VentUse
	i, _ = tank.Fill(up)
	assert.Equal(t, "front cap", tank.Fittings[i].Name)
	i, _ = tank.Outlet(up, []string{"low"})
	assert.Equal(t, "heater", tank.Fittings[i].Name)
	assert.Equal(t, []int{0}, tank.Vents())
	_, ok = Tank{}.Fill(up)
	assert.False(t, ok)
	_, ok = Tank{}.Outlet(up, nil)
	assert.False(t, ok)
}

func TestOpening(t *testing.T) {
	tank := box200().with(Fitting{Name: "out", Side: Right, At: Spot{{From: Bottom, By: 30}, {From: Back, By: 40}}, Hole: 24})
	tank.Sheet = 2
	o, ok := tank.Opening(0)
	require.True(t, ok)
	assert.Equal(t, v(198, 30, 40), o.Middle, "at the inner skin")
	low, high := o.Extent(v(0, 1, 0))
	assert.InDelta(t, 18, low, 1e-12)
	assert.InDelta(t, 42, high, 1e-12)
	// The bore is what counts, and one that leans opens in an oval, farther along.
	tank.Fittings[0].Bore = 16
	tank.Fittings[0].Tilt = Tilt{By: 30 * s1.Degree, Toward: Top}
	o, _ = tank.Opening(0)
	assert.InDelta(t, 30-2*math.Tan(math.Pi/6), o.Middle.Y, 1e-12)
	low, high = o.Extent(v(0, 1, 0))
	assert.InDelta(t, 16/math.Cos(math.Pi/6), high-low, 1e-12)
	low, high = o.Extent(v(0, 0, 1))
	assert.InDelta(t, 16, high-low, 1e-12)
	assert.InDelta(t, 196*116*76, tank.Inside().Volume(), 1e-6)
	assert.Equal(t, r3.Vector{X: 198}, r3.Vector{X: o.Middle.X})
}
