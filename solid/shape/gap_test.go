package shape

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestGapIsALowerBound(t *testing.T) {
	m := newMaker(51)
	useful := 0
	for range 5000 {
		a, b := m.anyShape(200), m.anyShape(200)
		gap, n := Gap(a, b), Distance(a, b)
		require.LessOrEqual(t, gap, n.Signed, literal(a, b))
		require.InDelta(t, gap, Gap(b, a), 1e-9)
		if gap > n.Signed/2 {
			useful++
		}
	}
	assert.Greater(t, useful, 1500, "a bound that is far off is of no use")
}

func TestGapOfSwept(t *testing.T) {
	wall := Hull{Points: []r3.Vector{{X: -1}, {X: 1}}, Behind: r3.Vector{Z: -1}}
	ball := Hull{Points: []r3.Vector{{Z: 10}}, Grow: 2}
	assert.InDelta(t, 7, Gap(wall, ball), 1e-9)
	assert.InDelta(t, 7, Gap(ball, Prepare(wall)), 1e-9)
	assert.True(t, math.IsInf(Gap(wall, wall), -1))
}

func TestBoundsHoldTheShape(t *testing.T) {
	m := newMaker(52)
	for range 500 {
		c := m.anyShape(200)
		middle, radius := c.Bounds()
		for range 20 {
			p := c.Support(m.within(1))
			require.LessOrEqual(t, p.Distance(middle)+c.Radius(), radius*(1+1e-12))
		}
	}
}
