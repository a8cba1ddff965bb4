package report

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"
	"unicode"

	"github.com/golang/geo/r2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/clearance"
	"elbowroom/solid"
	"elbowroom/survey/length"
)

// someSizes are invented answers: names that could steer what they are written
// into, every verdict, a size that cannot be made, one that is left open.
func someSizes() *clearance.Sizes {
	s := &clearance.Sizes{Title: "tank <1> & \"more\"\x1b", Unit: length.MM, Wanted: 0.975, Known: true}
	for w := 200.0; w <= 300; w += 20 {
		for h := 100.0; h <= 180; h += 20 {
			z := clearance.Sized{Candidate: clearance.Candidate{Size: solid.Size{Width: w, Height: h, Depth: 90}, At: r2.Point{X: 5, Y: 7}}, Lines: true}
			z.CapacityL = w * h * 90 / 1e6
			spare := 400 - w - h
			z.Spare = clearance.Narrow{Part: "=cap <b>", Feature: "lid & \"co\"", Clearance: spare/4 + 15, Gap: 15}
			z.Least = clearance.Narrow{Part: "body", Feature: "rail", Clearance: spare / 8, Gap: 0}
			switch {
			case w == 300 && h == 180:
				z = clearance.Sized{Candidate: z.Candidate, NoBox: &solid.Problem{What: "the top is %s short", Lengths: []float64{3}}}
			case spare < -10:
				z.Verdict, z.Sure, z.SureIs = clearance.Fouls, 1e-9, "at most"
				z.Decides.Line = clearance.Pair{Part: "body", Feature: "rail"}
			case spare < 10:
				z.Verdict, z.Sure, z.SureIs = clearance.Tight, 0.02, "at most"
				z.Decides.Hose = "long hose"
			case spare < 30:
				z.Verdict, z.Sure, z.SureIs = clearance.Unproven, 0.9749, "at most"
				z.Decides = clearance.Decider{Side: solid.Left, Because: clearance.Unmeasured}
			case spare < 50:
				z.Verdict, z.Sure, z.SureIs, z.Open = clearance.Unproven, 0.96, "at least", true
				z.Decides.Because = clearance.Together
			default:
				z.Verdict, z.Sure, z.SureIs = clearance.Clears, 0.9999, "at least"
			}
			if z.Verdict == clearance.Clears && spare == 60 || z.Verdict == clearance.Unproven && z.NoBox == nil && spare == 20 {
				s.Best = append(s.Best, len(s.All))
			}
			s.All = append(s.All, z)
		}
	}
	s.Asked = len(s.All)
	return s
}

func written(t *testing.T, write func(w io.Writer) error) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, write(&b))
	return b.String()
}

func TestSizesText(t *testing.T) {
	s := someSizes()
	got := written(t, func(w io.Writer) error { return SizesText(w, s, Options{}) })
	golden(t, "sizes.txt", got)
	for _, r := range got {
		assert.True(t, r == '\n' || unicode.IsPrint(r), "%U", r)
	}
	// Every row has a word in each column before the last, so that it can be sorted.
	_, table, _ := strings.Cut(got, "All sizes:\n")
	for _, line := range strings.Split(strings.TrimSpace(table), "\n")[1:] {
		assert.GreaterOrEqual(t, len(strings.Fields(line)), 11, line)
		assert.Contains(t, []string{"*", "-"}, strings.Fields(line)[0], line)
		assert.Contains(t, []string{"clears", "unproven", "tight", "fouls", "none"}, strings.Fields(line)[4], line)
	}
}

func TestSizesStoppedAndUnchecked(t *testing.T) {
	s := someSizes()
	s.All, s.Best, s.Known = s.All[:1], nil, false
	s.All[0].At = r2.Point{X: -5, Y: 7}
	s.Unchecked = []clearance.Unchecked{{What: "levels"}, {What: "wall", Kind: clearance.UncheckedMark, Mark: "W4"}}
	got := written(t, func(w io.Writer) error { return SizesText(w, s, Options{}) })
	assert.Contains(t, got, "1 size: 1 clears, 0 unproven, 0 tight and 0 foul.\nStopped after 1 of 30 sizes: the rest is not here.\n")
	assert.Contains(t, got, "No size can clear: levels and wall (mark W4 needs a tape) are not checked yet.")
	assert.Contains(t, strings.ReplaceAll(got, "\n", " "), "litres: its outside volume")
	assert.NotContains(t, got, "Best")
	none := &clearance.Sizes{Asked: 4}
	assert.Contains(t, written(t, func(w io.Writer) error { return SizesText(w, none, Options{}) }), "0 sizes")
	assert.Contains(t, written(t, func(w io.Writer) error { return SizesJSON(w, none) }), `"sizes": []`)
	wellFormed(t, written(t, func(w io.Writer) error { return SizesSVG(w, none, length.Style{}) }))
}

// What was held against a part only is told apart in every form.
func TestSizesInPart(t *testing.T) {
	s := someSizes()
	s.NotHeld, s.Some = []clearance.NotHeld{clearance.RoomToTurn, clearance.TheWayIn}, true
	z := &s.All[0]
	z.Verdict, z.Left, z.Open, z.MayClear, z.SureIs = clearance.Unproven, true, true, true, "at most"
	z.Decides = clearance.Decider{Because: clearance.NotChecked}
	text := strings.Join(strings.Fields(written(t, func(w io.Writer) error { return SizesText(w, s, Options{}) })), " ")
	assert.Contains(t, text, "One is not held against everything (in-part, below): to hold each of many sizes against room for tools and the way in takes too long")
	assert.Contains(t, text, "Some of these might be better")
	assert.Contains(t, text, "unproven 100 in-part")
	assert.Contains(t, written(t, func(w io.Writer) error { return SizesJSON(w, s) }), `"sure_is":"at most","settled":false,"in_part":true`)
	picture := written(t, func(w io.Writer) error { return SizesSVG(w, s, length.Style{}) })
	assert.Contains(t, picture, "may clear")
	assert.NotContains(t, written(t, func(w io.Writer) error { return SizesSVG(w, someSizes(), length.Style{}) }), "may clear")
	for want, d := range map[string]clearance.Decider{
		"tight: the way in": {WayIn: true}, "tight: head room for hot coolant": {Level: "head room"},
		"tight: body to pipe, as lid shuts":  {Line: clearance.Pair{Part: "body", Feature: "pipe"}, When: "lid shuts"},
		"tight: body to pipe, on the way in": {Line: clearance.Pair{Part: "body", Feature: "pipe"}, When: "way in"},
	} {
		*z = clearance.Sized{Candidate: z.Candidate, Verdict: clearance.Tight, Lines: true, Decides: d}
		assert.Contains(t, written(t, func(w io.Writer) error { return SizesText(w, s, Options{}) }), want)
	}
}

func TestSizesJSON(t *testing.T) {
	s := someSizes()
	var got struct {
		Schema int
		Sizes  []map[string]any
		Best   []int
	}
	require.NoError(t, json.Unmarshal([]byte(written(t, func(w io.Writer) error { return SizesJSON(w, s) })), &got))
	assert.Equal(t, 1, got.Schema)
	assert.Equal(t, s.Best, got.Best)
	require.Len(t, got.Sizes, len(s.All))
	for i, z := range s.All {
		keys := got.Sizes[i]
		assert.Equal(t, z.Size.Width, keys["width_mm"])
		if z.NoBox != nil {
			assert.Nil(t, keys["verdict"])
			assert.Equal(t, "the top is 3 mm short", keys["no_box"])
			continue
		}
		assert.Equal(t, z.Verdict.String(), keys["verdict"])
		assert.Equal(t, z.Least.Clearance, keys["least_clearance_mm"])
		assert.Equal(t, z.Spare.Spare(), keys["to_spare_mm"])
		assert.Equal(t, z.CapacityL, keys["capacity_l"])
		assert.Equal(t, !z.Open, keys["settled"])
	}
	s.Known = false
	assert.Contains(t, written(t, func(w io.Writer) error { return SizesJSON(w, s) }), `"capacity_l":null`)
}

func TestSizesCSV(t *testing.T) {
	rows, err := csv.NewReader(strings.NewReader(written(t, func(w io.Writer) error { return SizesCSV(w, someSizes()) }))).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 31)
	assert.Equal(t, []string{"200", "100", "90", "5", "7", "clears", "0.9999", "at least", "yes", "no", "no", "12.5", "body", "rail", "25", "'=cap <b>", "lid & \"co\"", "1.8", ""}, rows[1])
	assert.Equal(t, "the top is 3 mm short", rows[30][18])
}

// wellFormed reads a picture as XML to its end.
func wellFormed(t *testing.T, picture string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(picture))
	for {
		_, err := d.Token()
		if errors.Is(err, io.EOF) {
			return
		}
		require.NoError(t, err)
	}
}

func TestSizesSVG(t *testing.T) {
	s := someSizes()
	draw := func(style length.Style) string {
		return written(t, func(w io.Writer) error { return SizesSVG(w, s, style) })
	}
	got := draw(length.Style{})
	golden(t, "sizes.svg", got)
	wellFormed(t, got)
	assert.Equal(t, got, draw(length.Style{}), "the same bytes")
	for _, word := range []string{">C<", ">U<", ">T<", ">F<", "<circle", "tank &lt;1&gt; &amp;", "=cap &lt;b&gt;"} {
		assert.Contains(t, got, word)
	}
	assert.NotContains(t, got, "NaN")
	for _, unit := range []length.Unit{length.Inch, length.Foot, length.CM, length.Metre} {
		s.Unit = unit
		wellFormed(t, draw(length.Style{}))
	}
	s.All, s.Best = s.All[:1], nil
	one := draw(length.Style{})
	wellFormed(t, one)
	assert.NotContains(t, one, "NaN")
	assert.NotContains(t, one, "Inf")
}

func TestNiceSteps(t *testing.T) {
	for _, c := range []struct{ x, want float64 }{{0.9, 1}, {1, 1}, {1.1, 2}, {3, 5}, {6, 10}, {0.03, 0.05}, {0, 1}, {100, 100}} {
		assert.InDelta(t, c.want, nice(c.x), 1e-12, "%v", c.x)
	}
	inch := length.Style{Unit: length.Inch}
	assert.InDelta(t, 25.4/8, niceLength(2.5, inch), 1e-12)
	assert.InDelta(t, 2*25.4, niceLength(1.5*25.4, inch), 1e-12)
	assert.InDelta(t, 5, niceLength(3, length.Style{}), 1e-12)
	assert.Equal(t, []float64{-2, 0, 2}, ticks(-2, 3, 2))
}
