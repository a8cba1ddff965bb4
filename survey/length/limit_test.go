package length

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestParseLimit(t *testing.T) {
	tests := []struct {
		text string
		want Limit
	}{
		{"1/16", Limit{1.5875, 1.5875}},
		{"±1/16", Limit{1.5875, 1.5875}},
		{"± 1/16 in", Limit{1.5875, 1.5875}},
		{"+/-1/16", Limit{1.5875, 1.5875}},
		{"+/- 3 mm", Limit{3, 3}},
		{"+-1/16", Limit{1.5875, 1.5875}},
		{"+ / - 1/16", Limit{1.5875, 1.5875}},
		{"3 mm", Limit{3, 3}},
		{"1' 1/2\"", Limit{317.5, 317.5}},
		{"⅛", Limit{3.175, 3.175}},
		{"0", Limit{}},
		{"0 mm", Limit{}},
		{"±0", Limit{}},
		{"+0 -0", Limit{}},
		{"+0 -1/8", Limit{0, 3.175}},
		{"-1/8 +0", Limit{0, 3.175}},
		{"+1/8 -0", Limit{3.175, 0}},
		{"+1/16 -1/8", Limit{1.5875, 3.175}},
		{"-1/8 +1/16", Limit{1.5875, 3.175}},
		{"+1 1/4 -1-1/8", Limit{31.75, 28.575}},
		{"+0/-1/8", Limit{0, 3.175}},
		{"+1/16/-1/8", Limit{1.5875, 3.175}},
		{"+1/16, -1/8", Limit{1.5875, 3.175}},
		{"+0 - 1/8", Limit{0, 3.175}},
		{"+0 −1/8", Limit{0, 3.175}},
		{"+0 -3 mm", Limit{0, 3}},
		{"+3 mm -0", Limit{3, 0}},
		{"+1/16 in -3 mm", Limit{1.5875, 3}},
		{`+1/16" -1/8"`, Limit{1.5875, 3.175}},
		{"+.005 -.000", Limit{0.127, 0}},
	}
	for _, test := range tests {
		got, err := ParseLimit(test.text, Inch, false)
		if assert.NoError(t, err, "%q", test.text) {
			assert.Equal(t, test.want, got, "%q", test.text)
		}
	}
	got, err := ParseLimit("+0,5 -1,5", MM, true)
	require.NoError(t, err)
	assert.Equal(t, Limit{0.5, 1.5}, got)
}

func TestLimitMistakes(t *testing.T) {
	for _, test := range []struct{ text, want string }{
		{"", "a limit is missing; write it as in 1/16, or +0 -1/8 where the two sides differ"},
		{"-1/16", `"-1/16" is a limit below zero; write 1/16 for both ways, or +0 -1/16`},
		{"-7-1/4", `"-7-1/4" is a limit below zero; write 7-1/4 for both ways, or +0 -7-1/4`},
		{"+1/8", `"+1/8" is a limit one way only; write 1/8 for both ways, or +1/8 -0`},
		{"+0-1/8", `"+0-1/8" has no blank between its sides; write +0 -1/8`},
		{"+7-1/4", `"+7-1/4" has no blank between its sides; write +7 -1/4`},
		{"-1/8+0", `"-1/8+0" has no blank between its sides; write -1/8 +0`},
		{"+.005-.000", `"+.005-.000" has no blank between its sides; write +.005 -.000`},
		{"+1/8 +1/16", `"+1/8 +1/16" has both its sides on the same side; write it as in 1/16, or +0 -1/8 where the two sides differ`},
		{"-1/8 -0", `"-1/8 -0" has both its sides on the same side; write it as in 1/16, or +0 -1/8 where the two sides differ`},
		{"+1/16 -1/8 in", `"+1/16 -1/8 in" has a unit on one side only; write it on both sides, or on neither`},
		{"+1/16 -3 mm", `"+1/16 -3 mm" has a unit on one side only; write it on both sides, or on neither`},
		{"1/8 -0", `"1/8 -0" can be read in more than one way; write +1/8 -0, or one limit as in 1/16`},
		{"7 -1/4", `"7 -1/4" can be read in more than one way; write +7 -1/4, or one limit as in 1/16`},
		{"±-1/8", `"±-1/8" is not a limit; write it as in 1/16, or +0 -1/8 where the two sides differ`},
		{"±", `"±" is not a limit; write it as in 1/16, or +0 -1/8 where the two sides differ`},
		{"-", `"-" is not a limit; write it as in 1/16, or +0 -1/8 where the two sides differ`},
		{"+", `"+" is not a limit; write it as in 1/16, or +0 -1/8 where the two sides differ`},
		{"~1/16", `"~1/16" is not one length; write it as in 1/16, or +0 -1/8 where the two sides differ`},
		{"abc", `"abc" is not a length; write it as in 1/16, or +0 -1/8 where the two sides differ`},
		{"n/a", `"n/a" is not a length; leave the cell blank if it is the job's own limit`},
		{"+1/8 -x", `"x" is not a length; leave the cell blank if it is the job's own limit`},
		{"+1/8 -1/y", `"1/y" is not a length; write it as in 1/16, or +0 -1/8 where the two sides differ`},
		{"5%", `"5%" has an unknown unit, %; write it in mm, cm, m, in or ft`},
		{"17/16", `"17/16" can be read in more than one way; write 1 7/16 or 1 1/16`},
		{"16-Jan", `"16-Jan" is a date, as a spreadsheet makes of a fraction; format the column as text and write it again`},
		{"0,5", `"0,5" is not a length; write the decimal point as 0.5, or separate the columns with ;`},
	} {
		got, err := ParseLimit(test.text, Inch, false)
		assert.EqualError(t, err, test.want)
		assert.IsType(t, &Mistake{}, err)
		assert.Zero(t, got, "%q", test.text)
	}
	_, err := ParseLimit("x", Inch, false)
	assert.EqualError(t, err.(*Mistake).Alone(), `"x" is not a length; write it as in 1/16, or +0 -1/8 where the two sides differ`)
}

func TestLimitStatistics(t *testing.T) {
	assert.Zero(t, Limit{}.Half())
	assert.Zero(t, Limit{}.Shift())
	assert.Zero(t, Limit{}.U())
	even := Limit{3, 3}
	assert.Equal(t, 3.0, even.Half())
	assert.Equal(t, 0.0, even.Shift())
	assert.InDelta(t, math.Sqrt(3), even.U(), 1e-15)
	low := Limit{Plus: 0, Minus: 3}
	assert.Equal(t, 1.5, low.Half())
	assert.Equal(t, -1.5, low.Shift())
	// GUM 4.3.7, example: half-width a gives u = a/sqrt 3, since u2 = a2/3.
	assert.InDelta(t, 1.5*1.5/3, low.U()*low.U(), 1e-15)
}

// The formulas against 200,000 true values drawn evenly from the limit.
func TestLimitBySampling(t *testing.T) {
	l := Limit{Plus: 0.5, Minus: 3}
	random := rand.New(rand.NewPCG(3, 3))
	const n = 200_000
	sum, squares := 0.0, 0.0
	for range n {
		v := -l.Minus + (l.Plus+l.Minus)*random.Float64()
		sum += v
		squares += v * v
	}
	mean := sum / n
	u := math.Sqrt(squares/n - mean*mean)
	assert.InDelta(t, l.Shift(), mean, 5*l.U()/math.Sqrt(n))
	assert.InDelta(t, l.U(), u, 0.01*l.U())
}

func TestPrintLimit(t *testing.T) {
	inch, mm := Style{Unit: Inch}, Style{}
	for _, test := range []struct {
		style Style
		limit Limit
		want  string
	}{
		{inch, Limit{}, "0"},
		{mm, Limit{}, "0"},
		{inch, Limit{1.5875, 1.5875}, "±1/16 in"},
		{inch, Limit{3, 3}, "±1/8 in"},
		{inch, Limit{0, 3.175}, "+0 -1/8 in"},
		{inch, Limit{3.175, 0}, "+1/8 in -0"},
		{inch, Limit{1.5875, 3.175}, "+1/16 in -1/8 in"},
		{mm, Limit{1.5875, 3.175}, "+1.6 mm -3.2 mm"},
		{mm, Limit{3, 3}, "±3.0 mm"},
		{Style{Unit: Foot}, Limit{304.8, 304.8}, "±1 ft"},
		{mm, Limit{math.NaN(), math.NaN()}, "-"},
	} {
		assert.Equal(t, test.want, test.style.Limit(test.limit), "%+v", test.limit)
	}
}

// A printed limit, read again, is no tighter than it was, and at most a step
// wider on each side.
func TestPrintedLimitCanBeRead(t *testing.T) {
	random := rand.New(rand.NewPCG(4, 4))
	for _, style := range styles {
		for range 500 {
			l := Limit{Plus: random.Float64() * 30, Minus: random.Float64() * 30}
			if random.IntN(4) == 0 {
				l.Plus = 0
			}
			if random.IntN(4) == 0 {
				l.Minus = 0
			}
			text := style.Limit(l)
			got, err := ParseLimit(text, Metre, false)
			require.NoError(t, err, text)
			for _, side := range [][2]float64{{l.Plus, got.Plus}, {l.Minus, got.Minus}} {
				assert.GreaterOrEqual(t, side[1], side[0]-onStep, text)
				assert.Less(t, side[1], side[0]+style.Step()+onStep, text)
			}
		}
	}
}
