package clearance

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A measured run that turns back and goes past its own barb, its middle 22 mm over that
// of the barb, which is 10 mm thick to each side as it is itself: 2 mm between them.
func TestHoseBackOntoItsOwnFitting(t *testing.T) {
	at := func(over float64) Line {
		s := hosed(0.1, v(-100, 50+over, 50), v(180, 50, 50), v(180, 50+over, 50))
		s.tank.Fittings[0].Stack[0].Length = 60 // the barb ends at 160
		return s.check(t).line("hose", "outlet barb")
	}
	near := at(22)
	require.Equal(t, "outlet barb", near.Feature)
	assert.InDelta(t, 2, near.Clearance, 1e-6)
	assert.Equal(t, Tight, near.Verdict)
	assert.Equal(t, Fouls, at(18).Verdict)
	assert.Equal(t, Clears, at(40).Verdict)
	// One that turns by a right angle only goes away: no line.
	assert.Equal(t, "no such line", hosed(0.1, v(230, -100, 50), v(230, 50, 50)).check(t).line("hose", "outlet barb").Part)
}

// A found run that has to go back leads round its own fitting.
func TestFoundHoseKeepsOffItsOwnFitting(t *testing.T) {
	s := led(0.1, v(-150, 115, 50), v(-1, 0, 0))
	s.tank.Fittings[0].Stack[0].Length = 120
	s.rules.Hoses[0].Outside, s.rules.Hoses[0].BendRadius = 16, 20
	rep := s.check(t)
	l := rep.line("hose", "outlet barb")
	require.Equal(t, "outlet barb", l.Feature, "it turns back")
	assert.GreaterOrEqual(t, l.Clearance, 10.0)
	assert.Equal(t, Clears, l.Verdict)
}
