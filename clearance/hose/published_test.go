package hose

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Hoses of MIL-H-8794 with the least radius to the inside of the bend, in inches: FAA
// AC 43.13-1B, table 9-3, page 9-22. Out of a wall and round a quarter of a circle,
// such a hose takes (radius + half its outside) pi/2 from end to end, and no run that
// keeps the radius is shorter.
func TestQuarterBendsOfAHoseTable(t *testing.T) {
	for _, c := range []struct{ dash, outside, radius float64 }{
		{3, 0.45, 3.00}, {4, 0.52, 3.00}, {5, 0.58, 3.38}, {6, 0.67, 4.00}, {8, 0.77, 4.63}, {10, 0.92, 5.50}, {12, 1.08, 6.50},
		{16, 1.23, 7.38}, {20, 1.50, 9.00}, {24, 1.75, 11.00}, {32, 2.22, 13.25}, {40, 2.88, 24.00}, {48, 3.56, 33.00},
	} {
		r := (c.radius + c.outside/2) * 25.4
		runs := Shortest(Ends{v(0, 0, 0), v(1, 0, 0), v(r, r, 0), v(0, 1, 0)}, Limits{Radius: r})
		require.NotEmpty(t, runs)
		assert.InDelta(t, r*math.Pi/2, runs[0].Length(), 1e-6)
		forms, tail := runs[0].Forms()
		require.Len(t, forms, 1)
		assert.InDelta(t, math.Pi/2, forms[0].Turn, 1e-7)
		assert.InDelta(t, 0, forms[0].Straight+tail, 1e-5)
	}
}

// A published bend length: outside 70 mm, 450 mm to the inside, 90 degrees: 762 mm.
func TestPublishedQuarterBend(t *testing.T) {
	const r = 450 + 35
	runs := Shortest(Ends{v(0, 0, 0), v(0, 0, 1), v(0, r, r), v(0, 1, 0)}, Limits{Radius: r})
	assert.InDelta(t, 762, runs[0].Length(), 0.5)
}

// A hose maker's length page: 334 mm to the centre, 90 degrees, legs of 400 and 600 mm
// to the end faces, kept straight where they are not bent: 857 mm in all.
func TestPublishedBendWithLegs(t *testing.T) {
	r := Round([]r3.Vector{v(0, 0, 0), v(400, 0, 0), v(400, 600, 0)}, 400-334)
	forms, tail := r.Forms()
	require.Len(t, forms, 1)
	assert.InDelta(t, 66, forms[0].Straight, 1e-9)
	assert.InDelta(t, 525, forms[0].Radius*forms[0].Turn, 0.5)
	assert.InDelta(t, 266, tail, 1e-9)
	assert.InDelta(t, 857, r.Length(), 0.5)
}

// The free length of a test loop after SAE J343: pi (r + d/2) + 2 d for a half circle of
// a hose up to 22 mm thick, d in the second term no less than 25.4; half of that arc for
// thicker ones. For r 100 and d 20: 396.4 mm.
func TestPublishedLoopLength(t *testing.T) {
	loop := func(radius, outside float64) float64 {
		straight := math.Max(outside, 25.4)
		r := radius + outside/2
		e := Ends{v(0, 0, 0), v(1, 0, 0), v(0, 2*r, 0), v(-1, 0, 0)}
		if outside > 22 {
			e = Ends{v(0, 0, 0), v(1, 0, 0), v(r+straight, r+straight, 0), v(0, 1, 0)}
		}
		runs := Shortest(e, Limits{Radius: r, Straight: straight})
		require.NotEmpty(t, runs)
		return runs[0].Length()
	}
	assert.InDelta(t, 396.4, loop(100, 20), 0.05)
	assert.InDelta(t, math.Pi/2*(200+15)+2*30, loop(200, 30), 1e-6)
}
