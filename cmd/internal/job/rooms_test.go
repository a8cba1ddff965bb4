package job

import (
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/solid"
	"elbowroom/solid/level"
)

// roomsOf reads a job with keep-open volumes on a barb.
func roomsOf(t *testing.T, rooms string) []solid.KeepOpen {
	t.Helper()
	j, err := small(t, "box:", "fittings: [{name: out, side: right, at: middle, stack: [{name: bung, diameter: 1, length: 1/2}, {name: barb, diameter: 3/4, length: 1}], keep_open: ["+rooms+"]}]\nbox:")
	require.NoError(t, err)
	return j.Tank.Fittings[0].KeepOpen
}

func TestRooms(t *testing.T) {
	for _, c := range []struct {
		text string
		want solid.KeepOpen
	}{
		{"kind: cylinder, diameter: 2, length: 3", solid.KeepOpen{Diameter: 2 * in, Length: 3 * in}},
		{"kind: box, size: [3, 2, 4]", solid.KeepOpen{Kind: solid.BoxRoom, Size: r3.Vector{X: 3 * in, Y: 2 * in, Z: 4 * in}}},
		{"kind: box, size: [3, 2, 4], clock: any", solid.KeepOpen{Kind: solid.BoxRoom, Size: r3.Vector{X: 3 * in, Y: 2 * in, Z: 4 * in}, AnyClock: true}},
		{"kind: cap", solid.KeepOpen{Kind: solid.CapRoom}},
		{"kind: cap, length: 2", solid.KeepOpen{Kind: solid.CapRoom, Length: 2 * in}},
		{"kind: driver", solid.KeepOpen{Kind: solid.Driver}},
		{"kind: driver, clock: any, clamp: 1 1/16, on: bung", solid.KeepOpen{Kind: solid.Driver, AnyClock: true, Clamp: 1.0625 * in, On: "bung"}},
		{"kind: driver, clock: 135deg, out: 1", solid.KeepOpen{Kind: solid.Driver, Clock: 135 * s1.Degree, ClockFixed: true, Out: in, OutGiven: true}},
		{"kind: driver, clock: 4:30", solid.KeepOpen{Kind: solid.Driver, Clock: 135 * s1.Degree, ClockFixed: true}},
		{"kind: driver, clock: 12:00", solid.KeepOpen{Kind: solid.Driver, ClockFixed: true}},
		{"kind: spanner, handle: 6, thick: 1/2, sweep: 30deg", solid.KeepOpen{Kind: solid.Spanner, Handle: 6 * in, Thick: in / 2, Sweep: 30 * s1.Degree}},
		{"kind: spanner, hex: 1, start: 9:00, wide: 3/4, head: 2", solid.KeepOpen{Kind: solid.Spanner, Hex: in, Clock: 270 * s1.Degree, ClockFixed: true, Wide: 0.75 * in, Head: 2 * in}},
		// ASME B1.20.1: L2 of 1/2 is .5337 in.
		{"kind: spanner, hex: 1/2 NPT, start: any", solid.KeepOpen{Kind: solid.Spanner, Hex: 0.875 * in, Travel: (0.80*0.840 + 6.8) / 14 * in, Thread: "1/2"}},
	} {
		c.want.Name = "r"
		got := roomsOf(t, "{name: r, "+c.text+"}")
		require.Len(t, got, 1, c.text)
		assert.InDelta(t, c.want.Clock.Degrees(), got[0].Clock.Degrees(), 1e-12, c.text)
		assert.InDelta(t, c.want.Travel, got[0].Travel, 1e-9, c.text)
		assert.InDelta(t, c.want.Hex, got[0].Hex, 1e-9, c.text)
		got[0].Clock, got[0].Travel, got[0].Hex = c.want.Clock, c.want.Travel, c.want.Hex
		assert.Equal(t, c.want, got[0], c.text)
	}
}

// A clamp goes round the hose that leaves the fitting, unless the job says what it goes round.
func TestClampGoesRoundTheHose(t *testing.T) {
	j, err := small(t, "box:", `fittings: [{name: out, side: right, at: middle, hole: 1, keep_open: [{name: a, kind: driver}, {name: b, kind: driver, clamp: 2}, {name: c, kind: cap}]}]
hoses: [{name: hose, from: out, to: E1, arrives: -y, outside: 1 1/4, bend_radius: 3}]
box:`)
	require.NoError(t, err)
	rooms := j.Tank.Fittings[0].KeepOpen
	assert.Equal(t, []float64{1.25 * in, 2 * in, 0}, []float64{rooms[0].Clamp, rooms[1].Clamp, rooms[2].Clamp})
}

func TestWhatAFittingIsFor(t *testing.T) {
	j, err := small(t, "box:", "fittings: [{name: a, side: top, at: middle, hole: 1, bore: 3/4, use: vent}, {name: b, side: left, at: middle, hole: 1, use: fill}]\nbox:")
	require.NoError(t, err)
	assert.Equal(t, solid.VentUse, j.Tank.Fittings[0].Use)
	assert.Equal(t, 0.75*in, j.Tank.Fittings[0].Bore)
	assert.Equal(t, solid.FillUse, j.Tank.Fittings[1].Use)
}

func TestLevelKeys(t *testing.T) {
	read := func(keys, top string) (l struct {
		asked, swells        bool
		coolant              level.Coolant
		cold, hot, all, fill float64
	}) {
		j, err := small(t, "box: {", top+"box: {"+keys)
		require.NoError(t, err)
		r := j.Rules.Levels
		l.asked, l.swells, l.coolant, l.cold, l.hot, l.all, l.fill = r.Asked, r.Swells, r.Coolant, r.Cold, r.Hot, r.System, r.Fill
		return l
	}
	assert.False(t, read("", "").asked)
	assert.False(t, read("holds: coolant, ", "").asked, "nobody asks")
	assert.True(t, read("holds: coolant, ", "up: +y\n").asked)
	assert.True(t, read("holds: coolant, fill: 85%, ", "").asked)
	assert.True(t, read("holds: oil vapour, fill: 50%, ", "").asked)
	assert.False(t, read("holds: oil vapour, fill: 50%, ", "").swells)
	assert.False(t, read("holds: oil vapour, ", "up: +y\n").asked)
	assert.False(t, read("holds: battery, ", "up: {pitch: 10deg}\n").asked, "no liquid to stand")
	assert.False(t, read("", "up: {pitch: 10deg}\n").asked)
	assert.True(t, read("holds: coolant, ", "up: {pitch: 10deg}\n").asked)
	assert.True(t, read("fill: 50%, ", "").asked)
	l := read("holds: coolant, fill: 85%, ", "")
	assert.Equal(t, []float64{20, 120, 0, 0.85}, []float64{l.cold, l.hot, l.all, l.fill})
	l = read("holds: coolant, fill: 85%, system: 2 gal, coolant: {cold: 50 F, hot: 212°F}, ", "")
	assert.InDeltaSlice(t, []float64{10, 100, 2 * 3.785411784}, []float64{l.cold, l.hot, l.all}, 1e-9)
	l = read("holds: coolant, fill: 85%, system: 8 qt, coolant: {glycol: 0%}, ", "")
	assert.Equal(t, level.Water, l.coolant)
	assert.InDeltaSlice(t, []float64{20, 100, 2 * 3.785411784}, []float64{l.cold, l.hot, l.all}, 1e-9)
}
