package length

import (
	"errors"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// mistakes are texts that are no lengths, with the exact complaint, in a job in
// inches whose columns are separated by commas.
var mistakes = []struct{ text, what, mend string }{
	// Nothing, or a word for it.
	{"", "a length is missing", "write it as in 7 1/4, 7.25 in or 184 mm"},
	{"  ", "a length is missing", "write it as in 7 1/4, 7.25 in or 184 mm"},
	{"x", `"x" is not a length`, "leave the cell blank if it was not measured"},
	{"NaN", `"NaN" is not a length`, "leave the cell blank if it was not measured"},
	{"-inf", `"-inf" is not a length`, "leave the cell blank if it was not measured"},
	{"Infinity", `"Infinity" is not a length`, "leave the cell blank if it was not measured"},
	{"n/a", `"n/a" is not a length`, "leave the cell blank if it was not measured"},
	{"-", `"-" is not a length`, "leave the cell blank if it was not measured"},
	{"?", `"?" is not a length`, "leave the cell blank if it was not measured"},

	// No number at all.
	{"abc", `"abc" is not a length`, "write it as in 7 1/4, 7.25 in or 184 mm"},
	{"+", `"+" is not a length`, "write it as in 7 1/4, 7.25 in or 184 mm"},
	{"7x4", `"7x4" is not a length`, "write it as in 7 1/4, 7.25 in or 184 mm"},
	{"$7", `"$7" is not a length`, "write it as in 7 1/4, 7.25 in or 184 mm"},
	{"7²", `"7²" is not a length`, "write it as in 7 1/4, 7.25 in or 184 mm"},
	{"٧", `"٧" is not a length`, "write it as in 7 1/4, 7.25 in or 184 mm"},
	{"7/", `"7/" is not a length`, "write it as in 7 1/4, 7.25 in or 184 mm"},
	{"1/4-1/2", `"1/4-1/2" is not a length`, "write it as in 7 1/4, 7.25 in or 184 mm"},
	{"7½/2", `"7½/2" is not a length`, "write it as in 7 1/4, 7.25 in or 184 mm"},
	{"1/½", `"1/½" is not a length`, "write it as in 7 1/4, 7.25 in or 184 mm"},
	{"7 quux in", `"7 quux in" is not a length`, "write it as in 7 1/4, 7.25 in or 184 mm"},

	// Commas.
	{"12,5", `"12,5" is not a length`, "write the decimal point as 12.5, or separate the columns with ;"},
	{"-12,5 mm", `"-12,5 mm" is not a length`, "write the decimal point as -12.5 mm, or separate the columns with ;"},
	{"0,250", `"0,250" is not a length`, "write the decimal point as 0.250, or separate the columns with ;"},
	{"1,250", `"1,250" can be read in more than one way`, "write 1.250 or 1250"},
	{"1,234.5", `"1,234.5" has a mark between its thousands`, "write 1234.5"},
	{"12,5,3", `"12,5,3" is not a length`, "write it as in 7 1/4, 7.25 in or 184 mm"},
	{"1.234,5", `"1.234,5" has a mark between its thousands`, "write 1234,5"},
	{"1'234.5", `"1'234.5" has a mark between its thousands`, "write 1234.5"},
	{"7, 5", `"7, 5" is not a length`, "write it as in 7 1/4, 7.25 in or 184 mm"},

	// What a spreadsheet makes of a fraction.
	{"4-Jan", `"4-Jan" is a date, as a spreadsheet makes of a fraction`, "format the column as text and write it again"},
	{"Jan-04", `"Jan-04" is a date, as a spreadsheet makes of a fraction`, "format the column as text and write it again"},
	{"4. Jan", `"4. Jan" is a date, as a spreadsheet makes of a fraction`, "format the column as text and write it again"},
	{"04-janv.", `"04-janv." is a date, as a spreadsheet makes of a fraction`, "format the column as text and write it again"},
	{"4-Jan-2026", `"4-Jan-2026" is a date, as a spreadsheet makes of a fraction`, "format the column as text and write it again"},
	{"Jan 4, 2026", `"Jan 4, 2026" is a date, as a spreadsheet makes of a fraction`, "format the column as text and write it again"},
	{"01/04/2026", `"01/04/2026" is a date, as a spreadsheet makes of a fraction`, "format the column as text and write it again"},
	{"1/4/2026", `"1/4/2026" is a date, as a spreadsheet makes of a fraction`, "format the column as text and write it again"},
	{"1/4/26", `"1/4/26" is a date, as a spreadsheet makes of a fraction`, "format the column as text and write it again"},
	{"2026-01-04", `"2026-01-04" is a date, as a spreadsheet makes of a fraction`, "format the column as text and write it again"},
	{"2026-01-04 00:00:00", `"2026-01-04 00:00:00" is a date, as a spreadsheet makes of a fraction`, "format the column as text and write it again"},
	{"04.01.2026", `"04.01.2026" is a date, as a spreadsheet makes of a fraction`, "format the column as text and write it again"},
	{"04.01.", `"04.01." is a date, as a spreadsheet makes of a fraction`, "format the column as text and write it again"},
	{"01/04", `"01/04" is a date, as a spreadsheet makes of a fraction`, "format the column as text and write it again"},
	{"1/08", `"1/08" is a date, as a spreadsheet makes of a fraction`, "format the column as text and write it again"},
	{"7 01/04", `"7 01/04" is a date, as a spreadsheet makes of a fraction`, "format the column as text and write it again"},
	{"7:25", `"7:25" is a time of day, as a spreadsheet may make of a number`, "format the column as text and write it again"},
	{"7:25:00 AM", `"7:25:00 AM" is a time of day, as a spreadsheet may make of a number`, "format the column as text and write it again"},

	// What else a spreadsheet writes.
	{"#VALUE!", `"#VALUE!" is a spreadsheet's complaint, not a length`, "write the length itself in that cell"},
	{"####", `"####" is a spreadsheet's complaint, not a length`, "write the length itself in that cell"},
	{"=7+1/4", `"=7+1/4" is a spreadsheet's formula`, "write the length itself in that cell"},
	{"'7 1/4", `"'7 1/4" has a mark in front`, "write it without the mark"},
	{`"7 1/4`, `“"7 1/4” has a mark in front`, "write it without the mark"},
	{"(7 1/4)", `"(7 1/4)" is in brackets`, "write -7 1/4 if it is below zero"},
	{"7-", `"7-" has its sign at the end`, "write -7"},
	{"7 1/4 -", `"7 1/4 -" has its sign at the end`, "write -7 1/4"},

	// Numbers for machines.
	{"1e3", `"1e3" has an exponent`, "write all its digits, as in 1250 or 0.025"},
	{"1E+05", `"1E+05" has an exponent`, "write all its digits, as in 1250 or 0.025"},
	{"1.5e-3 mm", `"1.5e-3 mm" has an exponent`, "write all its digits, as in 1250 or 0.025"},
	{"0x1F", `"0x1F" is not a length`, "write it in plain digits, as in 7.25"},

	// Slips of the finger.
	{"1O", `"1O" has a letter among its digits`, "write 0 for O, and 1 for l or I"},
	{"l5", `"l5" has a letter among its digits`, "write 0 for O, and 1 for l or I"},
	{"--7", `"--7" has two signs`, "write one sign, in front"},
	{"-+7", `"-+7" has two signs`, "write one sign, in front"},
	{"1 / 4", `"1 / 4" has a blank in its fraction`, "write 1/4"},
	{"7 1 /4", `"7 1 /4" has a blank in its fraction`, "write 7 1/4"},
	{"7 1/ 4 in", `"7 1/ 4 in" has a blank in its fraction`, "write 7 1/4 in"},
	{"1//4", `"1//4" has more than one slash`, "write it as in 7 1/4"},
	{"7 1/4/8", `"7 1/4/8" has more than one slash`, "write it as in 7 1/4"},
	{"7.", `"7." has no digit after its point`, "write 7 or 7.0"},
	{"7. in", `"7. in" has no digit after its point`, "write 7 or 7.0"},
	{"-7.", `"-7." has no digit after its point`, "write -7 or -7.0"},
	{"7.5.", `"7.5." has no digit after its point`, "write 7.5"},
	{"7 1/4.", `"7 1/4." has no digit after its point`, "write 7 1/4"},
	{"12,", `"12," has no digit after its point`, "write 12 or 12.0"},

	// More or less than one length.
	{"±1/16", `"±1/16" is a limit, not a length`, "write one number here, and how near it is under within"},
	{"+/-1/16", `"+/-1/16" is a limit, not a length`, "write one number here, and how near it is under within"},
	{"7 ± 1/16", `"7 ± 1/16" is not one length`, "write one number here, and how near it is under within"},
	{"~7", `"~7" is not one length`, "write one number here, and how near it is under within"},
	{"<7", `"<7" is not one length`, "write one number here, and how near it is under within"},
	{"7..10", `"7..10" is not one length`, "write one number here, and how near it is under within"},
	{"7 to 10", `"7 to 10" is not one length`, "write one number here, and how near it is under within"},
	{"7 25", `"7 25" is more than one number`, "write one, as in 7.25 or 7 1/4"},
	{"1 234,5", `"1 234,5" is more than one number`, "write one, as in 7.25 or 7 1/4"},
	{"7 1/4 1/8", `"7 1/4 1/8" is more than one number`, "write one, as in 7.25 or 7 1/4"},
	{"¼2", `"¼2" is more than one number`, "write one, as in 7.25 or 7 1/4"},
	{"7¼¼", `"7¼¼" is more than one number`, "write one, as in 7.25 or 7 1/4"},
	{"½7", `"½7" is more than one number`, "write one, as in 7.25 or 7 1/4"},
	{"7\n1/4\n1/8", `"7 1/4 1/8" is more than one number`, "write one, as in 7.25 or 7 1/4"},

	// Dashes.
	{"7-8", `"7-8" is not a length`, "write 7/8 if it is a fraction"},
	{"3-8 in", `"3-8 in" is not a length`, "write 3/8 in if it is a fraction"},
	{"7 1-4", `"7 1-4" is not a length`, "write 7 1/4 if it is a fraction"},
	{"7 - 1/4", `"7 - 1/4" can be read in more than one way`, "write 7 1/4 if the dash only joins them"},
	{"7 -1/4", `"7 -1/4" can be read in more than one way`, "write 7 1/4 if the dash only joins them"},
	{"7- 1/4", `"7- 1/4" can be read in more than one way`, "write 7 1/4 if the dash only joins them"},
	{"-7 - 1/4 in", `"-7 - 1/4 in" can be read in more than one way`, "write -7 1/4 in if the dash only joins them"},
	{`1' - 3"`, `“1' - 3"” can be read in more than one way`, `write 1' 3" if the dash only joins them`},
	{`1' -3"`, `“1' -3"” can be read in more than one way`, `write 1' 3" if the dash only joins them`},
	{"0-1/8", `"0-1/8" can be read in more than one way`, "write 1/8 or -1/8"},

	// Fractions.
	{"7.5 1/4", `"7.5 1/4" has both a decimal point and a fraction`, "write one of them, as in 7.25 or 7 1/4"},
	{"7.5/8", `"7.5/8" has both a decimal point and a fraction`, "write one of them, as in 7.25 or 7 1/4"},
	{"1/2.5", `"1/2.5" has both a decimal point and a fraction`, "write one of them, as in 7.25 or 7 1/4"},
	{"71/4", `"71/4" can be read in more than one way`, "write 7 1/4 or 17 3/4"},
	{"15/8", `"15/8" can be read in more than one way`, "write 1 5/8 or 1 7/8"},
	{"5/4", `"5/4" has a fraction of one or more`, "write 1 1/4"},
	{"4/4", `"4/4" has a fraction of one or more`, "write 1"},
	{"112/16", `"112/16" can be read in more than one way`, "write 1 12/16, 11 2/16 or 7"},
	{"101/4", `"101/4" can be read in more than one way`, "write 10 1/4 or 25 1/4"},
	{"7 5/4", `"7 5/4" has a fraction of one or more`, "write 8 1/4"},
	{"7 8/4", `"7 8/4" has a fraction of one or more`, "write 9"},
	{"1/0", `"1/0" has a fraction over 0`, "write the fraction again, as in 1/4"},
	{"7 1/0", `"7 1/0" has a fraction over 0`, "write the fraction again, as in 1/4"},

	// Feet and inches.
	{"1'3", `"1'3" has no unit after the feet`, `write 1' 3" if those are inches`},
	{"1' 3 1/2", `"1' 3 1/2" has no unit after the feet`, `write 1' 3 1/2" if those are inches`},
	{"1ft 3", `"1ft 3" has no unit after the feet`, `write 1ft 3" if those are inches`},
	{`1.5' 3"`, `“1.5' 3"” has part of a foot before the inches`, "write whole feet, then inches"},
	{`1 1/2' 3"`, `“1 1/2' 3"” has part of a foot before the inches`, "write whole feet, then inches"},
	{`1/2' 3"`, `“1/2' 3"” has part of a foot before the inches`, "write whole feet, then inches"},
	{`1' 12"`, `“1' 12"” has 12 in or more after the feet`, "write it all in inches, or less than 12 in after the feet"},
	{`1' 15"`, `“1' 15"” has 12 in or more after the feet`, "write it all in inches, or less than 12 in after the feet"},
	{"1' 12 1/2 in", `"1' 12 1/2 in" has 12 in or more after the feet`, "write it all in inches, or less than 12 in after the feet"},
	{`1' 15/8"`, `“1' 15/8"” can be read in more than one way`, "write 1 5/8 or 1 7/8"},
	{`1' 3.5.2"`, `“1' 3.5.2"” is not a length`, `write it as in 1' 3 1/2"`},

	// Units.
	{`7" 1/4`, `“7" 1/4” has its unit in the middle`, `write 7 1/4"`},
	{"7 in 1/4", `"7 in 1/4" has its unit in the middle`, "write 7 1/4 in"},
	{"18 cm 4 mm", `"18 cm 4 mm" has two units`, "write it in one unit, or in feet and then inches"},
	{"1m20cm", `"1m20cm" has two units`, "write it in one unit, or in feet and then inches"},
	{"7 in mm", `"7 in mm" has two units`, "write it in one unit, or in feet and then inches"},
	{`3" 1'`, `“3" 1'” has two units`, "write it in one unit, or in feet and then inches"},
	{"in 7", `"in 7" has its unit in front`, "write 7 in"},
	{"mm184", `"mm184" has its unit in front`, "write 184 mm"},
	{"7 yd", `"7 yd" has an unknown unit, yd`, "write it in mm, cm, m, in or ft"},
	{"10deg", `"10deg" has an unknown unit, deg`, "write it in mm, cm, m, in or ft"},
	{"10°", `"10°" has an unknown unit, °`, "write it in mm, cm, m, in or ft"},
	{"5%", `"5%" has an unknown unit, %`, "write it in mm, cm, m, in or ft"},
	{"16 psi", `"16 psi" has an unknown unit, psi`, "write it in mm, cm, m, in or ft"},
	{"7 thou", `"7 thou" has an unknown unit, thou`, "write it in mm, cm, m, in or ft"},

	// Too long.
	{"400 ft", `"400 ft" is longer than 100 m`, "check the number and its unit"},
	{"-100.0001 m", `"-100.0001 m" is longer than 100 m`, "check the number and its unit"},
	{"1234567890123456789012345678901234567890123456789012345678901234567890", `"1234567890123456789012345678901234567890..." is too long for a length`, "write it as in 7 1/4, 7.25 in or 184 mm"},

	// Characters that do not print.
	{"7 1/4\x00", "\"7 1/4�\" has a character that does not print", "write it again, without it"},
	{"\u202e7", "\"�7\" has a character that does not print", "write it again, without it"},
}

func TestMistakes(t *testing.T) {
	for _, test := range mistakes {
		got, err := Parse(test.text, Inch, false)
		var m *Mistake
		if !assert.True(t, errors.As(err, &m), "%q was read as %v", test.text, got) {
			continue
		}
		assert.Equal(t, test.what, m.What, "%q", test.text)
		assert.Equal(t, test.mend, m.Mend, "%q", test.text)
		assert.Equal(t, test.what+"; "+test.mend, err.Error())
		assert.Zero(t, got)
	}
}

// What a mend says to write can be read. Not tried are mends that give an
// example or a rule.
func TestMendsCanBeRead(t *testing.T) {
	said := regexp.MustCompile(`^write (?:the decimal point as )?([-+]?\d.*?)(?: if .*|, or separate.*)?$`)
	tried := 0
	for _, test := range mistakes {
		m := said.FindStringSubmatch(test.mend)
		if m == nil || strings.Contains(test.mend, " for ") {
			continue
		}
		for _, text := range regexp.MustCompile(`, | or `).Split(m[1], -1) {
			_, err := Parse(text, Inch, strings.Contains(text, ","))
			assert.NoError(t, err, "%q says: %s", test.text, test.mend)
			tried++
		}
	}
	assert.Greater(t, tried, 40, "mends tried")
}

func TestMistakesWithDecimalComma(t *testing.T) {
	for _, test := range []struct{ text, want string }{
		{"1.234,5", `"1.234,5" has a mark between its thousands; write 1234,5`},
		{"1,234.5", `"1,234.5" has a mark between its thousands; write 1234.5`},
		{"1.234.567", `"1.234.567" has a mark between its thousands; write 1234567`},
		{"12,5,3", `"12,5,3" is not a length; write it as in 7 1/4, 7.25 in or 184 mm`},
		{"12,", `"12," has no digit after its point; write 12 or 12.0`},
		{"12,5 yd", `"12,5 yd" has an unknown unit, yd; write it in mm, cm, m, in or ft`},
		{"4-Jan", `"4-Jan" is a date, as a spreadsheet makes of a fraction; format the column as text and write it again`},
	} {
		_, err := Parse(test.text, MM, true)
		assert.EqualError(t, err, test.want)
	}
}

func TestMistakeAlone(t *testing.T) {
	for _, test := range []struct{ text, want string }{
		{"12,5", `"12,5" is not a length; write the decimal point as 12.5`},
		{"n/a", `"n/a" is not a length; write it as in 7 1/4, 7.25 in or 184 mm`},
		{"4-Jan", `"4-Jan" is a date, as a spreadsheet makes of a fraction; write it as in 7 1/4, 7.25 in or 184 mm`},
		{"#REF!", `"#REF!" is a spreadsheet's complaint, not a length; write it as in 7 1/4, 7.25 in or 184 mm`},
		{"~7", `"~7" is not one length; write one number, as in 7 1/4`},
		{"71/4", `"71/4" can be read in more than one way; write 7 1/4 or 17 3/4`},
	} {
		_, err := Parse(test.text, Inch, false)
		var m *Mistake
		require.True(t, errors.As(err, &m), test.text)
		before := *m
		assert.EqualError(t, m.Alone(), test.want)
		assert.Equal(t, before, *m, "Alone changes nothing")
	}
}

// No complaint speaks of the program's inside.
func TestMistakesSpeakPlainly(t *testing.T) {
	for _, test := range mistakes {
		for _, word := range []string{"invalid", "strconv", "parse", "syntax", "float", "regexp", "big.Rat"} {
			assert.NotContains(t, strings.ToLower(test.what+test.mend), word)
		}
		assert.NotContains(t, test.what+test.mend, "\n")
		assert.NotContains(t, test.mend, "$")
	}
}
