package report

import (
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/clearance"
	"elbowroom/survey"
	"elbowroom/survey/length"
)

const degree = math.Pi / 180

// moved is a report with lines in motions, one that cannot be checked, and one that slides
// on another.
func moved() *clearance.Report {
	shut := clearance.Position{Motion: "hatch shuts", Turns: true, At: -42.04 * degree}
	r := unproven([]clearance.Because{clearance.Near, clearance.NotChecked}, clearance.Line{
		Part: "fill cap", Feature: "hatch", When: "hatch shuts", At: []clearance.Position{shut},
		Clearance: in(0.33), U: in(0.06), Gap: in(0.25), Sure: 0.91, NotTouching: 1,
		Because: clearance.Near, Toward: upward, Marks: []string{"H3", "H4"}})
	slid := clearance.Position{Motion: "tray slides", At: in(4)}
	rock := clearance.Position{Motion: "engine rocks", Turns: true, At: 1 * degree}
	r.Lines = append(r.Lines, clearance.Line{
		Part: "body", Feature: "tray", When: "tray slides", At: []clearance.Position{slid, rock},
		Clearance: in(-0.11), U: in(0.01), Gap: 6, Verdict: clearance.Fouls, AtLeast: true, Toward: rightward, Marks: []string{"T1"}})
	r.Unchecked = []clearance.Unchecked{
		{What: "throttle", Moves: []string{"lever"}, Mark: "spindle", Kind: clearance.UncheckedMotion, Pos: at("job.yaml", 17)},
	}
	r.Doubts = []survey.Doubt{{Pos: at("job.yaml", 18), Weight: 9, Says: "h1 and h2, the axis of flap, are 1/16 in apart"}}
	r.Travels = []clearance.Travel{
		{Position: shut, Mark: "H3", Goes: in(6.47), Toward: r3.Vector{Y: -1}},
		{Position: rock, Mark: "E4", Goes: in(0.3), Toward: r3.Vector{X: 0.6, Z: 0.8}},
		{Position: clearance.Position{Motion: "engine rocks", Turns: true, At: -1e-9}, Mark: "E4", Goes: in(0.3), Toward: r3.Vector{X: -0.6, Z: -0.8}},
		{Position: slid, Mark: "T<1>", Goes: in(4), Toward: rightward},
	}
	return r
}

func TestMotionsInWords(t *testing.T) {
	text := worded(t, moved(), Options{})
	for _, want := range []string{
		"fill cap under hatch (hatch shuts, at -42 degrees)",
		"body overlaps tray (tray slides, at 4 in, engine rocks at 1 degree) by at least 1/8",
		"hatch shuts: at -42 degrees H3 goes 6 1/2 in down.",
		"engine rocks: at 1 degree E4 goes 5/16 in away from the face and to the right; at 0 degrees E4 goes 5/16 in toward the face and to the left.",
		"tray slides: at 4 in T<1> goes 4 in to the right.",
		"the motion throttle (spindle of its axis has no place yet)",
	} {
		assert.Contains(t, text, want)
	}
}

// worded is a report's text with its line breaks taken out.
func worded(t *testing.T, r *clearance.Report, o Options) string {
	t.Helper()
	var b strings.Builder
	require.NoError(t, Text(&b, r, o))
	return strings.Join(strings.Fields(b.String()), " ")
}

func TestWaysInWords(t *testing.T) {
	for _, test := range []struct {
		up   string
		way  r3.Vector
		want string
	}{
		{"+y", r3.Vector{Y: 1}, "up"},
		{"+y", r3.Vector{Y: -1}, "down"},
		{"+y", r3.Vector{Z: 1}, "away from the face"},
		{"+y", r3.Vector{Z: -1}, "toward the face"},
		{"+y", r3.Vector{X: -1}, "to the left"},
		{"+y", r3.Vector{X: 0.6, Y: -0.8}, "down and to the right"},
		{"+y", r3.Vector{X: 0.2, Y: -0.98}, "down"},
		{"+y", r3.Vector{X: 0.5, Y: 0.6, Z: 0.62}, "away from the face, up and to the right"},
		{"+z", r3.Vector{Z: 1}, "up"},
		{"+z", r3.Vector{Y: -1}, "toward its bottom"},
		{"-z", r3.Vector{Z: 1}, "down"},
		{"-y", r3.Vector{Y: 1}, "down"},
	} {
		p := newPage(&clearance.Report{Unit: length.MM}, Options{Up: test.up})
		assert.Equal(t, test.want, p.way(test.way), "%v, up %s", test.way, test.up)
	}
}

func TestMotionsInJSON(t *testing.T) {
	d := decode(t, moved())
	motions := d["motions"].([]any)
	require.Len(t, motions, 3, "each once, by its farther end")
	shuts := motions[0].(decoded)
	assert.Equal(t, "hatch shuts", shuts["name"])
	farthest := shuts["farthest"].(decoded)
	assert.Equal(t, "H3", farthest["mark"])
	assert.InDelta(t, in(6.47), farthest["goes_mm"], 1e-9)
	assert.Equal(t, []any{0.0, -1.0, 0.0}, farthest["toward"])
	assert.InDelta(t, -42.04, farthest["at_deg"], 1e-9)
	assert.Nil(t, farthest["at_mm"])
	tray := motions[2].(decoded)["farthest"].(decoded)
	assert.Nil(t, tray["at_deg"])
	assert.InDelta(t, in(4), tray["at_mm"], 1e-9)

	for _, entry := range d["clearances"].([]any) {
		l := entry.(decoded)
		_, slides := l["at_mm"]
		with, goes := l["with"]
		switch l["when"] {
		case "hatch shuts":
			assert.InDelta(t, -42.04, l["at_deg"], 1e-9)
			assert.False(t, slides || goes)
		case "tray slides":
			assert.Nil(t, l["at_deg"])
			assert.InDelta(t, in(4), l["at_mm"], 1e-9)
			assert.Equal(t, "engine rocks", with.([]any)[0].(decoded)["name"])
			assert.InDelta(t, 1, with.([]any)[0].(decoded)["at_deg"], 1e-9)
		case "throttle":
			assert.Equal(t, "lever", l["feature"])
			assert.Equal(t, "not checked", l["because"])
		default:
			assert.Nil(t, l["at_deg"])
			assert.False(t, slides || goes)
		}
	}
	assert.Equal(t, []any{}, decode(t, &clearance.Report{})["motions"])
}
