package solid

import (
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
)

func TestSides(t *testing.T) {
	for _, c := range []struct {
		side Side
		name string
		axis int
		axes [2]int
		out  r3.Vector
	}{
		{Left, "left", 0, [2]int{1, 2}, r3.Vector{X: -1}},
		{Right, "right", 0, [2]int{1, 2}, r3.Vector{X: 1}},
		{Bottom, "bottom", 1, [2]int{0, 2}, r3.Vector{Y: -1}},
		{Top, "top", 1, [2]int{0, 2}, r3.Vector{Y: 1}},
		{Back, "back", 2, [2]int{0, 1}, r3.Vector{Z: -1}},
		{Front, "front", 2, [2]int{0, 1}, r3.Vector{Z: 1}},
	} {
		assert.Equal(t, c.name, c.side.String())
		parsed, ok := ParseSide(c.name)
		assert.True(t, ok, c.name)
		assert.Equal(t, c.side, parsed)
		assert.Equal(t, c.axis, c.side.Axis(), c.name)
		assert.Equal(t, c.axes, c.side.Axes(), c.name)
		assert.Less(t, c.out.Distance(c.side.Out()), 1e-15, c.name)
		assert.Equal(t, c.out.X+c.out.Y+c.out.Z > 0, c.side.Far(), c.name)
		assert.Contains(t, ends(c.axis), c.side)
		assert.Contains(t, Sides(), c.side)
	}
	for _, name := range []string{"", "no side", "Top", "upper"} {
		_, ok := ParseSide(name)
		assert.False(t, ok, name)
	}
	assert.Equal(t, "no side", NoSide.String())
	assert.Equal(t, "no side", Side(9).String())
	assert.Equal(t, "no side", Side(-1).String())
	assert.Zero(t, NoSide.Out())
	assert.False(t, NoSide.Far())
	assert.True(t, Top.borders(Left))
	assert.False(t, Top.borders(Bottom))
	assert.False(t, Top.borders(NoSide))
	assert.False(t, NoSide.borders(Top))
}

func TestSize(t *testing.T) {
	s := Size{Width: 1, Height: 2, Depth: 3}
	assert.Equal(t, r3.Vector{X: 1, Y: 2, Z: 3}, s.Vector())
	assert.Equal(t, [3]float64{1, 2, 3}, [3]float64{s.Along(0), s.Along(1), s.Along(2)})
}
