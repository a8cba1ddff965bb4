package report

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"elbowroom/clearance"
	"elbowroom/solid"
	"elbowroom/survey/length"
)

// loose takes the glue out of a figure.
func loose(s string) string { return strings.ReplaceAll(s, string(glue), " ") }

func TestPercentNeverFlatters(t *testing.T) {
	for _, c := range []struct {
		share, wanted float64
		want          string
	}{
		{0.41, 0.975, "41 %"},
		{0.57, 0.975, "57 %"}, // 0.57*100 is a hair under 57 in float64
		{0.29, 0.975, "29 %"},
		{0.9749, 0.975, "97.4 %"},
		{math.Nextafter(0.975, 0), 0.975, "97.4 %"},
		{0.975, 0.975, "97.5 %"},
		{0.9999, 0.975, "99.9 %"},
		{1, 0.975, "99.9 %"},
		{0.99949, 0.9995, "99.9 %"},
		{0.0009, 0.975, "0 %"},
		{0, 0.975, "0 %"},
		{math.NaN(), 0.975, "-"},
	} {
		assert.Equal(t, c.want, loose(percentDown(c.share, c.wanted)), "%v of %v", c.share, c.wanted)
	}
}

func TestTenthsOfWholeTenths(t *testing.T) {
	for k := range 1001 {
		share := float64(k) / 1000
		assert.Equal(t, float64(k), tenths(share))
		assert.Equal(t, float64(k), math.Ceil(share*1000))
	}
}

func TestPercentAtMostStaysTrue(t *testing.T) {
	for share, want := range map[float64]string{
		0.4127: "at most 41.3 %", 0.41: "at most 41 %", 0.57: "at most 57 %",
		0.97499: "just under 97.5 %", 0.9741: "just under 97.5 %", 0.974: "at most 97.4 %",
		1e-9: "at most 0.1 %", 0: "at most 0.1 %",
	} {
		assert.Equal(t, want, loose(percentAtMost(share, 0.975)), share)
	}
}

func TestFiguresRoundToTheSafeSide(t *testing.T) {
	p := newPage(&clearance.Report{Unit: length.Inch}, Options{})
	assert.Equal(t, "5/16", loose(p.free(in(0.3437))))
	assert.Equal(t, "11/32", loose(p.need(in(0.3126))))
	assert.Equal(t, "1/32 in", loose(p.limit(in(0.033))))
	assert.Equal(t, "1/64 in", loose(p.limit(in(1./64))), "never to 0")
	assert.Equal(t, "2.31 litres (2.44 US quarts)", loose(p.capacity(2.3149)))
	assert.Equal(t, "3.78 litres (3.99 US quarts)", loose(p.capacity(3.78)))
	// 231 cubic inches are a US gallon exactly.
	assert.Equal(t, "3.78 litres (1.00 US gallons)", loose(p.capacity(231*25.4*25.4*25.4/1e6)))
	// 1 lb = 0.45359237 kg exactly.
	assert.Equal(t, "0.46 kg (1.0 lb)", loose(p.mass(0.45359237)))
	p.style.Unit = length.MM
	assert.Equal(t, "2.31 litres", loose(p.capacity(2.3149)))
}

func TestSideNamesSayWhichIsUp(t *testing.T) {
	p := newPage(&clearance.Report{}, Options{})
	assert.Equal(t, "front", p.sideName(solid.Front))
	assert.Equal(t, "up", p.toward(1, true))
	assert.Equal(t, "to the left", p.toward(0, false))
	p.o.Up = "+z"
	assert.Equal(t, "front (up)", p.sideName(solid.Front))
	assert.Equal(t, "back (down)", p.sideName(solid.Back))
	assert.Equal(t, "top", p.sideName(solid.Top))
	assert.Equal(t, "toward its top", p.toward(1, true))
	p.o.Up = "-x"
	assert.Equal(t, "left (up)", p.sideName(solid.Left))
	assert.Equal(t, "down", p.toward(0, true))
	p.o.Up = "+q" // as good as not given
	assert.Equal(t, "up", p.toward(1, true))
	assert.Equal(t, "left", p.sideName(solid.Left))
}

func TestClean(t *testing.T) {
	for text, want := range map[string]string{
		"fill cap":         "fill cap",
		" a\r\nb\tc ":      "a b c",
		"\x1b[31mred":      "\ufffd[31mred",
		"a\u202eb\u200fc":  "a\ufffdb\ufffdc",
		"\u009b2J":         "\ufffd2J",
		"日本語 Ö 🙂 <b>&":     "日本語 Ö 🙂 <b>&",
		"bad \xff\xfe end": "bad \ufffd\ufffd end",
	} {
		assert.Equal(t, strings.Join(strings.Fields(want), " "), strings.Join(strings.Fields(Clean(text)), " "), "%q", text)
	}
	assert.Equal(t, "(no name)", name("\n"))
	assert.Equal(t, longestName, width(name(strings.Repeat("x", 500))))
	assert.LessOrEqual(t, width(name(strings.Repeat("日", 500))), longestName)
}

// Every trigger that a check can set has its text, and no text is lost.
func TestCautions(t *testing.T) {
	for _, trigger := range CautionTriggers() {
		text, ok := CautionText(trigger)
		assert.True(t, ok)
		assert.True(t, strings.HasSuffix(text, "."), text)
		assert.Equal(t, []string{text}, Cautions([]clearance.Caution{{Trigger: trigger}}))
	}
	assert.Equal(t, []string{"cap pressure", "line", "hot", "motion", "battery", "wiring", "sheet", "always"}, CautionTriggers())
	assert.Equal(t, []string{"own words", "unheard of"}, Cautions([]clearance.Caution{{Trigger: "hot", Text: "own words"}, {Trigger: "unheard of"}}))
}

// Up and down are of the machine as it stands, within 45 degrees.
func TestBetween(t *testing.T) {
	p := newPage(&clearance.Report{}, Options{})
	l := clearance.Line{Toward: upward}
	assert.Equal(t, "under", p.between(l))
	l.Toward = upward.Mul(-1)
	assert.Equal(t, "over", p.between(l))
	l.Toward = upward.Add(rightward.Mul(1.1)).Normalize()
	assert.Equal(t, "to", p.between(l))
	p.o.Up = "+z"
	l.Toward = outward
	assert.Equal(t, "under", p.between(l))
	p.o.Up = "-z"
	assert.Equal(t, "over", p.between(l))
}

// A clearance through zero is never worded as more than it is.
func TestStandingThroughZero(t *testing.T) {
	p := newPage(&clearance.Report{Unit: length.Inch, Wanted: 0.975}, Options{})
	for mm, want := range map[float64]string{
		-1:    "body overlaps lip by at least 1/16, must not touch",
		-1e-5: "body overlaps lip by at least 1/32, must not touch",
		-1e-9: "body to lip: they touch, must not touch",
		0:     "body to lip: they touch, must not touch",
		1e-9:  "body to lip: they touch, must not touch",
		1e-5:  "body to lip: less than 1/32 clear, must not touch",
		0.79:  "body to lip: less than 1/32 clear, must not touch",
		0.8:   "body to lip: 1/32 clear, must not touch",
	} {
		l := clearance.Line{Part: "body", Feature: "lip", Clearance: mm, AtLeast: mm < 0}
		assert.Equal(t, want, loose(p.standing(l)), mm)
	}
}
