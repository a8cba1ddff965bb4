package length

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestParseSteps(t *testing.T) {
	for _, c := range []struct {
		text string
		bare Unit
		want []float64
	}{
		{"7", Inch, []float64{177.8}},
		{" 7 1/4 ", Inch, []float64{184.15}},
		{"7..8:1/4", Inch, []float64{177.8, 184.15, 190.5, 196.85, 203.2}},
		{"7 .. 8 : 3/8", Inch, []float64{177.8, 187.325, 196.85}}, // 8 is on no step
		{"7…7 1/2:1/4", Inch, []float64{177.8, 184.15, 190.5}},
		{"100mm..12cm:10", MM, []float64{100, 110, 120}},
		{"0.1..0.7:0.1", CM, []float64{1, 2, 3, 4, 5, 6, 7}}, // as written, without the rounding of sums
		{"5..5:1", MM, []float64{5}},
		{"-3/8..3/8:3/8", Inch, []float64{-9.525, 0, 9.525}},
		{"7-1/4..7-1/2:1/4", Inch, []float64{184.15, 190.5}},
	} {
		got, err := ParseSteps(c.text, c.bare)
		require.NoError(t, err, c.text)
		assert.Equal(t, c.want, got, c.text)
	}
}

// Each step is the very number that the length written by itself is.
func TestStepsAreLengths(t *testing.T) {
	list, err := ParseSteps("0..12:1/64", Inch)
	require.NoError(t, err)
	require.Len(t, list, 12*64+1)
	for k, mm := range list {
		alone, err := Parse(Style{Unit: Inch, Parts: 64}.Print(Place(mm)), Inch, false)
		require.NoError(t, err)
		assert.Equal(t, alone, mm, "step %d", k)
	}
}

func TestParseStepsMistakes(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"", `a length is missing; write it as in 7 1/4, 7.25 in or 184 mm`},
		{"7-10", `"7-10" is not a row of lengths; write it as in 7..10:1/4 (from 7 to 10 in steps of 1/4)`},
		{"7:10", `"7:10" is not a row of lengths; write it as in 7..10:1/4 (from 7 to 10 in steps of 1/4)`},
		{"7..10", `"7..10" has no step; write it as in 7..10:1/4 (from 7 to 10 in steps of 1/4)`},
		{"7..10:", `a length is missing; write it as in 7 1/4, 7.25 in or 184 mm`},
		{"10..7:1/4", `"10..7:1/4" runs from the greater to the lesser; write the lesser first, as in 7..10:1/4`},
		{"7..10:0", `"7..10:0" has a step of 0 or less; write a step of more than 0, as in 7..10:1/4`},
		{"7..10:-1", `"7..10:-1" has a step of 0 or less; write a step of more than 0, as in 7..10:1/4`},
		{"7..1o:1/4", `"1o" has a letter among its digits; write 0 for O, and 1 for l or I`},
		{"0..1m:0.001", `"0..1m:0.001" makes more than 100000 lengths; take a larger step`},
	} {
		bare := Inch
		if c.text == "0..1m:0.001" {
			bare = MM
		}
		_, err := ParseSteps(c.text, bare)
		require.Error(t, err, c.text)
		assert.Equal(t, c.want, err.Error(), c.text)
	}
}

func FuzzParseSteps(f *testing.F) {
	for _, text := range []string{"7", "7..10:1/4", "7…8:1/8", "7-10", "..:", "1..2..3:1", "0..1e9:1", "-1..1:0.001mm"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		list, err := ParseSteps(text, Inch)
		if err != nil {
			_, ok := err.(*Mistake)
			require.True(t, ok)
			return
		}
		require.NotEmpty(t, list)
		require.LessOrEqual(t, len(list), MostSteps)
		for i, mm := range list {
			require.False(t, math.IsNaN(mm) || math.Abs(mm) > Longest+1)
			if i > 0 {
				require.GreaterOrEqual(t, mm, list[i-1])
			}
		}
	})
}
