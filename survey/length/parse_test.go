package length

import (
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestParse(t *testing.T) {
	tests := []struct {
		text string
		bare Unit
		want float64
	}{
		// Each spelling of a whole, a decimal and a fraction.
		{"7", Inch, 177.8},
		{"7", MM, 7},
		{"7", CM, 70},
		{"7", Metre, 7000},
		{"7", Foot, 2133.6},
		{"0", Inch, 0},
		{"-0", Inch, 0},
		{"007", MM, 7},
		{"7.25", Inch, 184.15},
		{".080", Inch, 2.032},
		{"7 1/4", Inch, 184.15},
		{"7  1/4", Inch, 184.15},
		{"7-1/4", Inch, 184.15},
		{"7¼", Inch, 184.15},
		{"7 ¼", Inch, 184.15},
		{"7-¼", Inch, 184.15},
		{"1/4", Inch, 6.35},
		{"¼", Inch, 6.35},
		{"1/4", MM, 0.25},
		{"0/8", Inch, 0},
		{"7 0/8", Inch, 177.8},
		{"1/3", Inch, 25.4 / 3},
		{"1 1/2", Foot, 457.2},

		// Units.
		{`7 1/4"`, MM, 184.15},
		{`7 1/4 "`, MM, 184.15},
		{`7¼"`, MM, 184.15},
		{"7 1/4''", MM, 184.15},
		{"7.25in", MM, 184.15},
		{"7.25 in", MM, 184.15},
		{"7.25 in.", MM, 184.15},
		{"7.25 inch", MM, 184.15},
		{"7.25 inches", MM, 184.15},
		{"7-1/4in", MM, 184.15},
		{"1'", MM, 304.8},
		{"1 ft", MM, 304.8},
		{"1ft.", MM, 304.8},
		{"1 foot", MM, 304.8},
		{"2 feet", MM, 609.6},
		{"1.5 ft", MM, 457.2},
		{"1 1/2'", MM, 457.2},
		{"184mm", Inch, 184},
		{"184 mm", Inch, 184},
		{"184 millimetres", Inch, 184},
		{"1 millimeter", Inch, 1},
		{"18.4 cm", Inch, 184},
		{"18.4 centimeters", Inch, 184},
		{"0.184 m", Inch, 184},
		{"0.184 metres", Inch, 184},
		{"1 meter", Inch, 1000},
		{"7 1/4 mm", Inch, 7.25},

		// Feet and inches.
		{`1' 3 1/2"`, MM, 393.7},
		{`1'3 1/2"`, MM, 393.7},
		{`1'3"`, MM, 381},
		{`1'-3"`, MM, 381},
		{`1'-3 1/2"`, MM, 393.7},
		{`1'-3-1/2"`, MM, 393.7},
		{`1'3½"`, MM, 393.7},
		{`1' 1/2"`, MM, 317.5},
		{`1' 0"`, MM, 304.8},
		{`1' 11 31/32"`, MM, 304.8 + 11.96875*25.4},
		{`1' 3.5"`, MM, 393.7},
		{`0' 6"`, MM, 152.4},
		{"1ft 3-1/2in", MM, 393.7},
		{"1ft3in", MM, 381},
		{"1 ft. 3 in.", MM, 381},
		{"1 foot 3 1/2 inches", MM, 393.7},
		{"1' 3 1/2''", MM, 393.7},

		// Signs hold for the whole length.
		{"-3/8", Inch, -9.525},
		{"+3/8", Inch, 9.525},
		{"-7 1/4", Inch, -184.15},
		{"-7-1/4", Inch, -184.15},
		{"- 7 1/4", Inch, -184.15},
		{"+7.25", Inch, 184.15},
		{`-1' 3"`, MM, -381},
		{"-0.184 m", MM, -184},

		// Upper case.
		{"7 IN", MM, 177.8},
		{"7 In.", MM, 177.8},
		{"184 MM", Inch, 184},
		{"2 M", Inch, 2000},
		{"1 FT 3 IN", MM, 381},
		{"1 Foot 3 Inches", MM, 381},

		// Characters that look or mean the same.
		{"7⁄8", Inch, 22.225},
		{"7∕8", Inch, 22.225},
		{"1 ³⁄₈", Inch, 34.925},
		{"1³⁄₈", Inch, 34.925},
		{"¹¹⁄₁₆ in", MM, 17.4625},
		{"⅟8", Inch, 3.175},
		{"3⅟8", Inch, 79.375},
		{"7 1/4″", MM, 184.15},
		{"7 1/4”", MM, 184.15},
		{"7 1/4“", MM, 184.15},
		{"7 1/4′′", MM, 184.15},
		{"1′ 3½″", MM, 393.7},
		{"1’ 3 1/2”", MM, 393.7},
		{"1‘ 3“", MM, 381},
		{"1’ 3’’", MM, 381},
		{"−3/8", Inch, -9.525},
		{"–3/8", Inch, -9.525},
		{"7–1/4", Inch, 184.15},
		{"7‑1/4", Inch, 184.15},
		{"１２.５ mm", Inch, 12.5},

		// Blanks of all kinds.
		{"  7 1/4\t", Inch, 184.15},
		{"7\u00a01/4", Inch, 184.15},
		{"7\u20091/4\u202fin", MM, 184.15},
		{"\ufeff7\u200b", Inch, 177.8},
		{"7 1/4\n", Inch, 184.15},

		// As long as a length may be.
		{"100 m", Inch, 100_000},
		{"-100 m", Inch, -100_000},
	}
	for _, test := range tests {
		got, err := Parse(test.text, test.bare, false)
		if assert.NoError(t, err, "%q", test.text) {
			assert.Equal(t, test.want, got, "%q", test.text)
		}
		assert.False(t, got == 0 && math.Signbit(got), "%q is minus nothing", test.text)
	}
}

func TestParseEveryFractionCharacter(t *testing.T) {
	for r, want := range map[rune]*big.Rat{
		'¼': big.NewRat(1, 4), '½': big.NewRat(1, 2), '¾': big.NewRat(3, 4),
		'⅐': big.NewRat(1, 7), '⅑': big.NewRat(1, 9), '⅒': big.NewRat(1, 10),
		'⅓': big.NewRat(1, 3), '⅔': big.NewRat(2, 3),
		'⅕': big.NewRat(1, 5), '⅖': big.NewRat(2, 5), '⅗': big.NewRat(3, 5), '⅘': big.NewRat(4, 5),
		'⅙': big.NewRat(1, 6), '⅚': big.NewRat(5, 6),
		'⅛': big.NewRat(1, 8), '⅜': big.NewRat(3, 8), '⅝': big.NewRat(5, 8), '⅞': big.NewRat(7, 8),
		'↉': big.NewRat(0, 3),
	} {
		part, _ := want.Float64()
		got, err := Parse(string(r), MM, false)
		require.NoError(t, err, "%c", r)
		assert.Equal(t, part, got, "%c", r)

		whole, _ := new(big.Rat).Add(want, big.NewRat(12, 1)).Float64()
		got, err = Parse("12"+string(r), MM, false)
		require.NoError(t, err, "12%c", r)
		assert.Equal(t, whole, got, "12%c", r)
	}
}

func TestParseDecimalComma(t *testing.T) {
	for text, want := range map[string]float64{
		"12,5":       12.5,
		"12,5 mm":    12.5,
		"12.5":       12.5,
		"-0,5 cm":    -5,
		",5":         0.5,
		"1,250":      1.25,
		`1' 3,5"`:    393.7,
		"12,5 in":    317.5,
		"7 1/4 in":   184.15,
		"1.250 m":    1250,
		"+12,125 in": 307.975,
	} {
		got, err := Parse(text, MM, true)
		require.NoError(t, err, "%q", text)
		assert.Equal(t, want, got, "%q", text)
	}
}

// A decimal in millimetres is what the standard library reads, bit for bit.
func TestParseDecimalsLikeTheLibrary(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 1))
	for range 20_000 {
		text := strconv.FormatFloat(random.Float64()*2000-1000, 'f', random.IntN(16), 64)
		want, err := strconv.ParseFloat(text, 64)
		require.NoError(t, err)
		got, err := Parse(text, MM, false)
		require.NoError(t, err, text)
		assert.True(t, want == got, "%s: %v, want %v", text, got, want)
	}
}

// A fraction is the nearest float64 to its exact value, whatever its spelling.
// The oracle is arithmetic of 200 binary digits, rounded once at the end.
func TestParseFractionsExactly(t *testing.T) {
	random := rand.New(rand.NewPCG(2, 2))
	for range 2_000 {
		whole, den := random.IntN(3000), 2+random.IntN(127)
		num := 1 + random.IntN(den-1)
		exact := new(big.Float).SetPrec(200).SetInt64(int64(whole*den+num) * 254)
		want, _ := exact.Quo(exact, big.NewFloat(float64(den*10))).Float64()
		for _, form := range []string{"%d %d/%d", "%d-%d/%d", `%d %d/%d"`, "%d-%d/%din", "%d  %d⁄%d inches"} {
			text := fmt.Sprintf(form, whole, num, den)
			if form == "%d-%d/%d" && whole == 0 || form == "%d-%d/%din" && whole == 0 {
				continue
			}
			got, err := Parse(text, Inch, false)
			require.NoError(t, err, text)
			assert.True(t, want == got, "%s: %v, want %v", text, got, want)
			got, err = Parse("-"+text, Inch, false)
			require.NoError(t, err, text)
			assert.True(t, -want == got, "-%s: %v", text, got)
		}
	}
}

func TestUnits(t *testing.T) {
	for name, want := range map[string]struct {
		unit Unit
		mm   float64
	}{"mm": {MM, 1}, "cm": {CM, 10}, "m": {Metre, 1000}, "in": {Inch, 25.4}, "ft": {Foot, 304.8}} {
		got, ok := ParseUnit(name)
		assert.True(t, ok, name)
		assert.Equal(t, want.unit, got, name)
		assert.Equal(t, want.mm, got.MM(), name)
		assert.Equal(t, name, got.String())
	}
	for _, name := range []string{"", "inch", "MM", "yd", "\""} {
		_, ok := ParseUnit(name)
		assert.False(t, ok, name)
	}
	assert.Equal(t, MM, Unit(0), "the zero Unit")
}
