package slip

import (
	"fmt"
	"math/rand/v2"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/survey/length"
)

// catalogueOf reads text first, as a caller does.
func catalogueOf(t *testing.T, text string, unit length.Unit, comma bool) []Slip {
	t.Helper()
	value, err := length.Parse(text, unit, comma)
	require.NoError(t, err, text)
	return Catalogue(text, value, unit, comma)
}

// named finds the texts of a kind of slip.
func named(slips []Slip, name string) []string {
	var out []string
	for _, s := range slips {
		if s.Name == name {
			out = append(out, s.Text)
		}
	}
	return out
}

// What is meant, kind by kind, in the style of what was written.
func TestCatalogueKinds(t *testing.T) {
	for _, c := range []struct {
		text  string
		unit  length.Unit
		name  string
		meant []string
	}{
		{"14 3/8", length.Inch, "an inch burned", []string{"13 3/8"}},
		{`14 3/8"`, length.Inch, "an inch burned", []string{`13 3/8"`}},
		{"14.375in", length.MM, "an inch burned", []string{"13.375in"}},
		{"7-1/4 in.", length.MM, "an inch burned", []string{"6-1/4 in."}},
		{"7¼", length.Inch, "an inch burned", []string{"6¼"}},
		{`1' 0 1/2"`, length.Inch, "an inch burned", []string{`11 1/2"`}},
		{"2 ft 3 in", length.Inch, "an inch burned", []string{"2 ft 2 in"}},
		{"1 1/4", length.Inch, "an inch burned", []string{"1/4"}},
		{"1.50", length.Inch, "an inch burned", []string{"0.50"}},
		{"-7 1/4", length.Inch, "an inch burned", []string{"-6 1/4"}},
		{"14 4/8", length.Inch, "an inch burned", []string{"13 4/8"}}, // the fraction stays as it was written
		{"184", length.MM, "a centimetre burned", []string{"174"}},
		{"18,4", length.CM, "a centimetre burned", []string{"17,4"}},
		{"0.184 m", length.MM, "a centimetre burned", []string{"0.174 m"}},
		{"6 3/8", length.Inch, "an inch taken off for nothing", []string{"7 3/8"}},
		{"9 3/8", length.Inch, "a burned inch added", []string{"7 3/8"}},
		{"24 3/8", length.Inch, "ten inches burned", []string{"14 3/8"}},
		{"284", length.MM, "ten centimetres burned", []string{"184"}},
		{"284", length.MM, "ten burned centimetres added", []string{"84"}},

		{"7", length.Inch, "hook play", []string{"6 15/16"}}, // 7 1/16 is rather a fraction left out
		{"7 1/4", length.Inch, "hook play", []string{"7 3/16", "7 5/16"}},
		{"14.375", length.Inch, "hook play", []string{"14.3125", "14.4375"}},
		{"18.4 cm", length.MM, "hook play", []string{"18.3 cm", "18.5 cm"}},

		{"27 1/4", length.Inch, "a foot miscounted", []string{"15 1/4", "39 1/4"}},
		{`2' 3"`, length.Inch, "a foot miscounted", []string{`1' 3"`, `3' 3"`}},
		{"2500", length.MM, "a metre miscounted", []string{"1500", "3500"}},

		{"14 3/8", length.Inch, "two digits swapped", []string{"41 3/8"}},
		{"1102", length.MM, "two digits swapped", []string{"1012", "1120"}},
		{"14.37", length.Inch, "two digits swapped", []string{"13.47", "14.73", "41.37"}},
		{"10", length.Inch, "two digits swapped", nil}, // nobody writes 01
		{"7 13/16", length.Inch, "two digits swapped", nil},
		{`21' 3"`, length.Inch, "two digits swapped", []string{`12' 3"`}},
		{"14 1/4", length.Inch, "a wrong tens digit", []string{"24 1/4"}}, // 4 1/4 is rather ten inches burned
		{"384", length.MM, "a wrong hundreds digit", nil},                 // rather ten centimetres

		{"19 1/4", length.Inch, "a 6 read as a 9", []string{"16 1/4"}},
		{"61 1/4", length.Inch, "a 9 read as a 6", []string{"91 1/4"}},
		{"16 1/4", length.Inch, "a 9 read as a 6", nil}, // rather the tape's body: both are 3 in
		{"1.69", length.Inch, "a 6 read as a 9", []string{"1.66"}},
		{"91 1/2", length.Inch, "read upside down", []string{"16 1/2"}},
		{"186", length.MM, "read upside down", []string{"981"}},
		{"17", length.Inch, "read upside down", nil},

		{"14 1/4", length.Inch, "a wrong numerator", []string{"14 3/4"}}, // also: counted back
		{"14 3/16", length.Inch, "a wrong numerator", []string{"14 1/16", "14 5/16", "14 7/16", "14 9/16"}},
		{"14 1/8", length.Inch, "a wrong denominator", []string{"14 1/4", "14 1/32", "14 1/2"}}, // 14 1/16 is rather hook play,
		{"14 3/8", length.Inch, "a wrong denominator", []string{"14 3/16", "14 3/4", "14 3/32"}},
		{"7⅜", length.Inch, "a wrong denominator", []string{"7 3/16", "7¾", "7 3/32"}},
		{"7 1/3", length.Inch, "a wrong denominator", nil},
		{"18", length.CM, "the millimetres left out", []string{"18.1", "18.2", "18.3", "18.4", "18.5", "18.6", "18.7", "18.8", "18.9"}},
		{"7 3/8", length.Inch, "the fraction counted back from the inch mark", []string{"6 5/8"}},
		{"7 3/16", length.Inch, "the fraction counted back from the next inch", []string{"7 13/16"}},

		{"184", length.Inch, "millimetres, not inches", []string{"184 mm"}},
		{`18.4"`, length.Inch, "centimetres, not inches", []string{"18.4 cm"}},
		{"7.25", length.MM, "inches, not millimetres", []string{"7.25 in"}},
		{"18.4cm", length.Inch, "inches, not centimetres", []string{"18.4in"}},
		{"7 1/4", length.Inch, "millimetres, not inches", nil}, // a fraction is of an inch
		{"14.375", length.Inch, "the decimal point moved", []string{"1.4375", "143.75"}},
		{"184", length.MM, "the decimal point moved", []string{"18.4"}}, // 1840 is rather 184 cm,
		{".5", length.Inch, "the decimal point moved", []string{".05", "5"}},
		{"0.5", length.Inch, "the decimal point moved", []string{"0.05"}}, // 5.0 is rather two digits swapped,
		{"18,4", length.CM, "the decimal point moved", []string{"184"}},   // 1,84 cm is rather 18,4 mm,

		{"14 3/8", length.Inch, "the tape's body not added", []string{"17 3/8", "16 7/8", "17 1/8", "17 1/2", "17 5/8", "17 7/8"}},
		{"140", length.MM, "the tape's body not added", []string{"210", "215", "220", "200", "205", "225"}},
		{"12.5 m", length.MM, "the tape's body not added", []string{"12.57 m", "12.575 m", "12.58 m", "12.56 m", "12.565 m", "12.585 m"}},
	} {
		comma := regexp.MustCompile(`\d,\d`).MatchString(c.text)
		assert.Equal(t, c.meant, named(catalogueOf(t, c.text, c.unit, comma), c.name), "%s, %s: %s", c.text, c.unit, c.name)
	}
}

// The fraction left out: any sixteenth may have become 7, each as likely.
func TestFractionLeftOut(t *testing.T) {
	slips := catalogueOf(t, "7", length.Inch, false)
	at := map[string]float64{}
	for _, s := range slips {
		at[s.Text] = s.Prior
	}
	for n := 1; n < 16; n++ {
		text, ok := written{whole: "7", scale: length.Inch}.with(rat(7*16+int64(n), 16))
		require.True(t, ok)
		assert.Contains(t, at, text)
	}
	assert.Contains(t, at, "7 3/16")
	assert.InDelta(t, fractionDropped, at["7 1/2"], 1e-12)
	assert.Equal(t, `1' 3 1/2"`, find(catalogueOf(t, `1' 3"`, length.Inch, false), 15.5*25.4).Text)
}

func find(slips []Slip, value float64) Slip {
	for _, s := range slips {
		if s.Value > value-1e-9 && s.Value < value+1e-9 {
			return s
		}
	}
	return Slip{}
}

// Ten inches burned and a wrong tens digit are one value: one slip, with both
// their chances, under the likelier name.
func TestOneSlipForEachValue(t *testing.T) {
	s := find(catalogueOf(t, "24 3/8", length.Inch, false), 14.375*25.4)
	assert.Equal(t, "ten inches burned", s.Name)
	assert.InDelta(t, tenBurned+tensWrong, s.Prior, 1e-12)
}

// What a person meant is found again, text and all, whatever slip made of it
// what they wrote. The slips here are made on numbers, not by the catalogue.
func TestWhatWasMeantIsFound(t *testing.T) {
	random := rand.New(rand.NewPCG(31, 7))
	mixed := func(sixteenths int) string {
		text, ok := written{whole: "0", scale: length.Inch}.with(rat(int64(sixteenths), 16))
		require.True(t, ok)
		return text
	}
	for range 100 {
		n := 16*(14+random.IntN(40)) + 1 + random.IntN(15)
		whole, part := n/16*16, n%16
		for name, wrong := range map[string]int{
			"an inch burned": n + 16, "ten inches burned": n + 160, "a foot miscounted": n - 192,
			"hook play": n + 1, "the fraction left out": whole, "the tape's body not added": n - 48,
			"counted back from the inch mark": whole + 32 - part, // 6 5/8 written 7 3/8
			"counted back from the next inch": whole + 16 - part, // 7 5/8 written 7 3/8
		} {
			if wrong == n || wrong <= 0 {
				continue
			}
			got := find(catalogueOf(t, mixed(wrong), length.Inch, false), float64(n)/16*25.4)
			require.Equal(t, mixed(n), got.Text, "%s: %s written for %s", name, mixed(wrong), mixed(n))
			require.Positive(t, got.Prior)
		}
	}
}

var styles = []struct {
	unit  length.Unit
	comma bool
	write func(r *rand.Rand) string
}{
	{length.Inch, false, func(r *rand.Rand) string { return fmt.Sprintf("%d %d/16", r.IntN(99), 1+r.IntN(15)) }},
	{length.Inch, false, func(r *rand.Rand) string { return fmt.Sprintf(`%d-%d/8"`, 1+r.IntN(99), 1+r.IntN(7)) }},
	{length.Inch, false, func(r *rand.Rand) string {
		return fmt.Sprintf("%d%c", r.IntN(60), []rune("¼½¾⅛⅜⅝⅞⅓")[r.IntN(8)])
	}},
	{length.Inch, false, func(r *rand.Rand) string { return fmt.Sprintf("%d.%03d", r.IntN(60), 125*r.IntN(8)) }},
	{length.Inch, false, func(r *rand.Rand) string { return fmt.Sprintf(`%d' %d %d/4"`, 1+r.IntN(9), r.IntN(12), 1+r.IntN(3)) }},
	{length.Inch, false, func(r *rand.Rand) string { return fmt.Sprintf(`%dft %d.%din`, 1+r.IntN(9), r.IntN(12), r.IntN(10)) }},
	{length.Inch, false, func(r *rand.Rand) string { return fmt.Sprintf("-%d %d/32 in", 1+r.IntN(60), 1+r.IntN(31)) }},
	{length.MM, false, func(r *rand.Rand) string { return fmt.Sprintf("%d", 1+r.IntN(3000)) }},
	{length.CM, true, func(r *rand.Rand) string { return fmt.Sprintf("%d,%d cm", r.IntN(300), 1+r.IntN(9)) }},
	{length.Metre, false, func(r *rand.Rand) string { return fmt.Sprintf("%d.%03d", r.IntN(4), 1+r.IntN(999)) }},
	{length.Foot, false, func(r *rand.Rand) string { return fmt.Sprintf("%d 1/%d", 1+r.IntN(9), 2+r.IntN(15)) }},
}

// The promises of Catalogue, over all styles.
func TestCatalogueHoldsItsPromises(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	for i, s := range styles {
		for range 25 {
			text := s.write(random)
			slips := catalogueOf(t, text, s.unit, s.comma)
			require.NotEmpty(t, slips, "style %d: %s", i, text)
			promises(t, text, slips, s.unit, s.comma)
		}
	}
}

// Only a slip of the unit changes what stands behind the number.
var unitSlip = regexp.MustCompile(`, not `)

func promises(t *testing.T, text string, slips []Slip, unit length.Unit, comma bool) {
	t.Helper()
	was, err := length.Parse(text, unit, comma)
	require.NoError(t, err)
	style, ok := take(text, unit, comma)
	require.True(t, ok)
	seen := map[float64]bool{}
	last := 1.0
	for _, s := range slips {
		value, err := length.Parse(s.Text, unit, comma)
		require.NoError(t, err, "%s -> %s", text, s.Text)
		require.Equal(t, value, s.Value, "%s -> %s", text, s.Text)
		require.NotEqual(t, was, s.Value, "%s -> %s", text, s.Text)
		require.NotZero(t, s.Value)
		require.Equal(t, was > 0, s.Value > 0, "%s -> %s: the sign stays", text, s.Text)
		require.False(t, seen[s.Value], "%s -> %s: twice", text, s.Text)
		require.LessOrEqual(t, s.Prior, last, "%s -> %s: likeliest first", text, s.Text)
		require.Positive(t, s.Prior)
		require.NotEmpty(t, s.Name)
		seen[s.Value], last = true, s.Prior
		if !unitSlip.MatchString(s.Name) {
			w, ok := take(s.Text, unit, comma)
			require.True(t, ok)
			require.Equal(t, style.tail, w.tail, "%s -> %s: the unit stays", text, s.Text)
			require.False(t, style.point != "" && w.den+w.glyph != "", "%s -> %s: decimals stay decimals", text, s.Text)
			require.False(t, style.den+style.glyph != "" && w.point != "", "%s -> %s: a fraction stays one", text, s.Text)
		}
	}
	require.Equal(t, slips, Catalogue(text, was, unit, comma), "the same again")
}

func TestSign(t *testing.T) {
	for text, want := range map[string]Slip{
		"3 1/4":  {"a minus lost", "-3 1/4", -82.55, signLost},
		"-3 1/4": {"a minus put in by mistake", "3 1/4", 82.55, signLost},
		"−3¼":    {"a minus put in by mistake", "3¼", 82.55, signLost},
	} {
		value, err := length.Parse(text, length.Inch, false)
		require.NoError(t, err)
		got, ok := Sign(text, value, length.Inch, false)
		assert.True(t, ok)
		assert.Equal(t, want, got)
	}
	_, ok := Sign("0", 0, length.Inch, false)
	assert.False(t, ok)
}

func TestRows(t *testing.T) {
	assert.True(t, Copied("7 1/4", `7.25"`, length.Inch, false))
	assert.False(t, Copied("7 1/4", "7 1/8", length.Inch, false))
	assert.False(t, Copied("seven", "seven", length.Inch, false))
	s, ok := Line("7 1/4", "8 1/2", length.Inch, false)
	assert.True(t, ok)
	assert.Equal(t, Slip{"written one line off", "8 1/2", 8.5 * 25.4, lineOff}, s)
	for _, neighbour := range []string{"7 1/4", "", "x", "0"} {
		_, ok = Line("7 1/4", neighbour, length.Inch, false)
		assert.False(t, ok, neighbour)
	}
}

func TestNothingToSay(t *testing.T) {
	for _, text := range []string{"", "seven", "7..8", "4-Jan"} {
		assert.Empty(t, Catalogue(text, 0, length.Inch, false), text)
	}
}

// FuzzCatalogue: whatever was written, the promises hold.
func FuzzCatalogue(f *testing.F) {
	for _, text := range []string{"14 3/8\"", "14.375", "7¼", "7-1/4", "1' 3 1/2\"", "184 mm", "18,4", ".5", "-3/8", "0", "7 ³⁄₈", "７", "1ft 3-1/2in", "0000.10 m", "99999", "7 4/8", "6 1/3"} {
		f.Add(text, 3, false)
		f.Add(text, 0, true)
	}
	f.Fuzz(func(t *testing.T, text string, unit int, comma bool) {
		u := length.Unit((unit%5 + 5) % 5)
		value, err := length.Parse(text, u, comma)
		if err != nil {
			require.Empty(t, Catalogue(text, value, u, comma))
			return
		}
		if slips := Catalogue(text, value, u, comma); len(slips) > 0 && value != 0 {
			promises(t, text, slips, u, comma)
		}
	})
}
