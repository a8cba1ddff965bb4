package survey

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A block that is as thick every way has no plane that fits best, and is a block.
func TestCubeIsABlock(t *testing.T) {
	r := Readings{Features: []FeatureSpec{{Name: "cube", Shape: Block}}}
	for k := range 8 {
		r.Points = append(r.Points, point("cube", string(rune('A'+k)), float64(k&1)*40, float64(k>>1&1)*40, float64(k>>2)*40, 0.5))
	}
	s, err := Adjust(r)
	require.NoError(t, err)
	assert.Len(t, s.Features[0].Pieces, 1)
	assert.Empty(t, s.Doubts)
}
