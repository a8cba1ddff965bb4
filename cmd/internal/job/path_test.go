package job

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/clearance"
)

// A step is an offset in the file's unit, and behind it a turn in degrees, its unit
// written or not: three numbers, axis times angle.
func TestOwnPath(t *testing.T) {
	j, err := small(t, "box:", "way_in: {path: [[0, -2 1/2, 12 mm, -90deg, 0, 0], [0,-2,9,30,0,-40.5], [1,2, 3,0,0,0], [0, 0, 0]]}\nbox:")
	require.NoError(t, err)
	const degree = math.Pi / 180
	want := []clearance.Step{
		{Shift: r3.Vector{Y: -2.5 * in, Z: 12}, Turn: r3.Vector{X: -90 * degree}},
		{Shift: r3.Vector{Y: -2 * in, Z: 9 * in}, Turn: r3.Vector{X: 30 * degree, Z: -40.5 * degree}},
		{Shift: r3.Vector{X: in, Y: 2 * in, Z: 3 * in}},
		{},
	}
	require.Len(t, j.Rules.WayIn.Path, len(want))
	for i, w := range want {
		got := j.Rules.WayIn.Path[i]
		assert.InDelta(t, 0, got.Shift.Sub(w.Shift).Norm()+got.Turn.Sub(w.Turn).Norm(), 1e-12, "step %d", i)
	}
	// Six noughts are home too, and half a turn is one if a step says which way round.
	j, err = small(t, "box:", "way_in: {path: [[0, 0, 12, 0, 0, 180], [0, 0, 12, 0, 0, 90], [0, 0, 0, 0, 0, 0]]}\nbox:")
	require.NoError(t, err)
	assert.InDelta(t, math.Pi, j.Rules.WayIn.Path[0].Turn.Z, 1e-15)
}
