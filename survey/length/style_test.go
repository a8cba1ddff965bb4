package length

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// styles are all ways to print.
var styles = []Style{
	{},
	{Unit: CM},
	{Unit: Metre},
	{Unit: Inch},
	{Unit: Inch, Parts: 64},
	{Unit: Inch, Parts: 10},
	{Unit: Inch, Decimal: true},
	{Unit: Foot},
	{Unit: Foot, Parts: 16},
	{Unit: Foot, Decimal: true},
}

func TestPrint(t *testing.T) {
	inch, inch64 := Style{Unit: Inch}, Style{Unit: Inch, Parts: 64}
	decimal, feet := Style{Unit: Inch, Decimal: true}, Style{Unit: Foot}
	tests := []struct {
		style Style
		f     Figure
		want  string
	}{
		// Inches, in 32nds.
		{inch, Free(0), "0 in"},
		{inch, Free(7.9375), "5/16 in"},
		{inch, Free(34.925), "1 3/8 in"},
		{inch, Free(-6.35), "-1/4 in"},
		{inch, Free(-34.925), "-1 3/8 in"},
		{inch, Free(25.4), "1 in"},
		{inch, Free(0.79375), "1/32 in"},
		{inch, Free(8), "5/16 in"},
		{inch, Needed(8), "11/32 in"},
		{inch, Place(8), "5/16 in"},
		{inch, Place(8.4), "11/32 in"},
		{inch, Free(-8), "-11/32 in"},
		{inch, Needed(-8), "-5/16 in"},
		{inch, Place(-8), "-5/16 in"},
		{inch, Free(25.3), "31/32 in"},
		{inch, Needed(25.3), "1 in"},
		{inch, Needed(0.01), "1/32 in"},
		{inch, Free(-0.01), "-1/32 in"},
		{inch, Free(0.01), "0 in"},
		{inch, Needed(-0.01), "0 in"},
		{inch, Place(-0.01), "0 in"},

		// Other parts.
		{inch64, Free(8), "5/16 in"},
		{inch64, Needed(8), "21/64 in"},
		{Style{Unit: Inch, Parts: 10}, Place(7.62), "3/10 in"},
		{Style{Unit: Inch, Parts: 1}, Needed(8), "1 in"},
		{Style{Unit: Inch, Parts: -4}, Free(8), "5/16 in"},
		{Style{Unit: Inch, Parts: math.MaxInt}, Free(8), "5/16 in"},

		// Decimal inches.
		{decimal, Free(8), "0.314 in"},
		{decimal, Needed(8), "0.315 in"},
		{decimal, Place(8), "0.315 in"},
		{decimal, Free(-8), "-0.315 in"},
		{decimal, Needed(7.9375), "0.313 in"},
		{decimal, Place(304.8), "12.000 in"},
		{decimal, Free(0), "0.000 in"},

		// Metric.
		{Style{}, Free(7.98), "7.9 mm"},
		{Style{}, Needed(7.91), "8.0 mm"},
		{Style{}, Place(7.96), "8.0 mm"},
		{Style{}, Free(-0.04), "-0.1 mm"},
		{Style{}, Needed(-0.04), "0.0 mm"},
		{Style{}, Place(-0.04), "0.0 mm"},
		{Style{}, Free(0), "0.0 mm"},
		{Style{}, Free(math.Copysign(0, -1)), "0.0 mm"},
		{Style{}, Free(0.3), "0.3 mm"},
		{Style{}, Needed(0.3), "0.3 mm"},
		{Style{Unit: CM}, Free(184.19), "18.41 cm"},
		{Style{Unit: CM}, Needed(184.11), "18.42 cm"},
		{Style{Unit: CM}, Free(0.1), "0.01 cm"},
		{Style{Unit: Metre}, Free(184.19), "0.1841 m"},
		{Style{Unit: Metre}, Place(-184.19), "-0.1842 m"},
		{Style{Unit: Metre}, Needed(12345.61), "12.3457 m"},

		// Feet.
		{feet, Free(0), "0 in"},
		{feet, Free(393.7), "1 ft 3 1/2 in"},
		{feet, Free(-393.7), "-1 ft 3 1/2 in"},
		{feet, Free(304.8), "1 ft"},
		{feet, Free(304.7), "11 31/32 in"},
		{feet, Needed(304.7), "1 ft"},
		{feet, Needed(8), "11/32 in"},
		{feet, Free(-8), "-11/32 in"},
		{Style{Unit: Foot, Decimal: true}, Place(393.7), "1 ft 3.500 in"},

		// No number.
		{inch, Free(math.NaN()), "-"},
		{Style{}, Needed(math.Inf(1)), "-"},
		{feet, Place(math.Inf(-1)), "-"},
		{Style{}, Place(math.MaxFloat64), "-"},
		{feet, Free(-math.MaxFloat64), "-"},
	}
	for _, test := range tests {
		assert.Equal(t, test.want, test.style.Print(test.f), "%T %v %+v", test.f, test.f, test.style)
	}
}

func TestBare(t *testing.T) {
	assert.Equal(t, "5/16", Style{Unit: Inch}.Bare(Free(8)))
	assert.Equal(t, "-1 3/8", Style{Unit: Inch}.Bare(Place(-34.925)))
	assert.Equal(t, "7.9", Style{}.Bare(Free(7.98)))
	assert.Equal(t, "0.315", Style{Unit: Inch, Decimal: true}.Bare(Needed(8)))
	assert.Equal(t, "1 ft 3 1/2 in", Style{Unit: Foot}.Bare(Free(393.7)))
	assert.Equal(t, "-", Style{Unit: Inch}.Bare(Free(math.NaN())))
}

func TestStep(t *testing.T) {
	assert.Equal(t, 0.1, Style{}.Step())
	assert.Equal(t, 0.1, Style{Unit: Metre}.Step())
	assert.Equal(t, 0.79375, Style{Unit: Inch}.Step())
	assert.Equal(t, 25.4/64, Style{Unit: Foot, Parts: 64}.Step())
	assert.Equal(t, 0.0254, Style{Unit: Inch, Decimal: true}.Step())
}

// Every step prints as itself, in every kind, also when float noise has moved it
// by up to onStep: no figure jumps a whole step.
func TestNoiseDoesNotJumpAStep(t *testing.T) {
	for _, style := range styles {
		for n := -3000; n <= 3000; n += 7 {
			on := float64(n) * style.Step()
			want := style.Print(Place(on))
			for _, noise := range []float64{0, 1e-13, -1e-13, 1e-9, -1e-9, 0.9e-6, -0.9e-6} {
				assert.Equal(t, want, style.Print(Free(on+noise)), "%d %v", n, noise)
				assert.Equal(t, want, style.Print(Needed(on+noise)), "%d %v", n, noise)
				assert.Equal(t, want, style.Print(Place(on+noise)), "%d %v", n, noise)
			}
			beyond := 2e-6
			assert.NotEqual(t, want, style.Print(Free(on-beyond)), "%d", n)
			assert.NotEqual(t, want, style.Print(Needed(on+beyond)), "%d", n)
		}
	}
}

// What is printed, read again, is within one step of the length, on the safe
// side; a place is within half a step.
func TestPrintedCanBeRead(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 5))
	for range 1_000 {
		mm := (random.Float64()*2 - 1) * math.Pow(10, float64(random.IntN(6)))
		for _, style := range styles {
			assertSafe(t, style, mm)
		}
	}
}

func assertSafe(t *testing.T, style Style, mm float64) {
	t.Helper()
	read := func(f Figure) float64 {
		text := style.Print(f)
		v, err := Parse(text, Metre, false)
		require.NoError(t, err, text)
		bare, err := Parse(style.Bare(f), style.Unit, false)
		require.NoError(t, err, text)
		require.Equal(t, v, bare, text)
		return v
	}
	step := style.Step() + onStep
	free, needed, place := read(Free(mm)), read(Needed(mm)), read(Place(mm))
	require.True(t, free <= mm+onStep && free > mm-step, "%v is free %v %+v", mm, free, style)
	require.True(t, needed >= mm-onStep && needed < mm+step, "%v needs %v %+v", mm, needed, style)
	require.LessOrEqual(t, math.Abs(place-mm), step/2, "%v is at %v %+v", mm, place, style)
}
