package report

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/clearance"
	"elbowroom/survey/length"
)

func jsonText(t *testing.T, r *clearance.Report) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, JSON(&b, r))
	return b.String()
}

// object is a decoded JSON object.
type decoded = map[string]any

func decode(t *testing.T, r *clearance.Report) decoded {
	t.Helper()
	var d decoded
	require.NoError(t, json.Unmarshal([]byte(jsonText(t, r)), &d))
	return d
}

func TestJSON(t *testing.T) {
	full := design()
	full.Hoses, full.Unchecked, full.Doubts, full.WayIn = hosed().Hoses, asked().Unchecked, doubted().Doubts, asked().WayIn
	golden(t, "full.json", jsonText(t, full))
	golden(t, "nothing.json", jsonText(t, &clearance.Report{}))
}

// The keys in the order in which the layout has them.
func TestJSONHasEveryKeyInOrder(t *testing.T) {
	full := design()
	full.Hoses, full.Unchecked, full.Doubts, full.WayIn = hosed().Hoses, asked().Unchecked, doubted().Doubts, asked().WayIn
	got := jsonText(t, full)
	keys := []string{
		"schema", "title", "units", "verdict", "because", "sure", "sure_is",
		"box", "width_mm", "height_mm", "depth_mm", "capacity_l", "dry_kg", "full_kg",
		"clearances", "part", "feature", "when", "at_deg", "clearance_mm", "u_mm", "gap_mm", "sure", "verdict", "because", "on_part", "on_feature", "marks",
		"motions", "on_purpose", "part", "feature",
		"hoses", "name", "length_mm", "cut_mm", "least_bend_radius_mm", "bend_radius_mm", "verdict",
		"sides", "part", "side", "nearest_mm", "looked_at", "cover", "hidden_mm", "verdict",
		"way_in", "found", "least_clearance_mm", "u_mm", "part", "feature", "at", "on_part", "on_feature", "marks",
		"steps", "not_looked_at", "hidden_mm", "hidden_at", "starts_outside", "aside", "verdict", "because", "stuck", "levels",
		"measure_next", "what", "why", "within_mm", "doubts", "file", "line", "says", "suggests", "cautions",
	}
	from := 0
	for _, key := range keys {
		i := strings.Index(got[from:], `"`+key+`":`)
		require.GreaterOrEqual(t, i, 0, key)
		from += i + 1
	}
}

func TestJSONDoesNotRound(t *testing.T) {
	r := design()
	r.Lines[0].Clearance = 8.249999999999998
	d := decode(t, r)
	line := d["clearances"].([]any)[0].(decoded)
	assert.Equal(t, 8.249999999999998, line["clearance_mm"])
	assert.Equal(t, r.Lines[0].U, line["u_mm"])
	assert.Equal(t, r.Lines[0].Sure, line["sure"])
	assert.Equal(t, []any{100.0, 208.5, 30.0}, line["on_feature"])
	assert.Equal(t, r.Sure, d["sure"])
	assert.Equal(t, "in", d["units"])
	assert.Equal(t, in(8.5), d["box"].(decoded)["width_mm"])
	assert.Equal(t, r.Box.Capacity, d["box"].(decoded)["capacity_l"])
	assert.Equal(t, in(3.25), d["sides"].([]any)[0].(decoded)["hidden_mm"])
}

func TestJSONIsNullWhereNothingIsKnown(t *testing.T) {
	r := plain()
	r.Box.Known = false
	r.Lines[0].U, r.Lines[0].Clearance, r.Sure = math.NaN(), math.Inf(1), math.NaN()
	r.Hoses = hosed().Hoses
	d := decode(t, r)
	assert.Nil(t, d["sure"])
	assert.Nil(t, d["way_in"])
	for _, key := range []string{"capacity_l", "dry_kg", "full_kg"} {
		assert.Nil(t, d["box"].(decoded)[key], key)
	}
	line := d["clearances"].([]any)[0].(decoded)
	for _, key := range []string{"u_mm", "clearance_mm", "at_deg", "because"} {
		assert.Contains(t, line, key)
		assert.Nil(t, line[key], key)
	}
	left := d["sides"].([]any)[0].(decoded)
	assert.Nil(t, left["nearest_mm"])
	assert.Nil(t, left["hidden_mm"])
	hoses := d["hoses"].([]any)
	assert.Nil(t, hoses[3].(decoded)["least_bend_radius_mm"], "straight")
	assert.NotNil(t, hoses[3].(decoded)["length_mm"])
	assert.Nil(t, hoses[4].(decoded)["length_mm"], "not checked")
}

func TestJSONEmptyListsAreLists(t *testing.T) {
	d := decode(t, &clearance.Report{Unit: length.MM})
	for _, key := range []string{"because", "clearances", "motions", "on_purpose", "hoses", "sides", "measure_next", "doubts", "cautions"} {
		assert.Equal(t, []any{}, d[key], key)
	}
	assert.Equal(t, decoded{}, d["levels"])
}

// Whatever was not checked has an unproven line.
func TestJSONUnchecked(t *testing.T) {
	r := asked()
	d := decode(t, r)
	lines := d["clearances"].([]any)[len(r.Lines):]
	require.Len(t, lines, len(r.Unchecked))
	var whens []any
	for _, l := range lines {
		line := l.(decoded)
		assert.Equal(t, "unproven", line["verdict"])
		assert.Equal(t, "not checked", line["because"])
		assert.Nil(t, line["clearance_mm"])
		assert.Nil(t, line["sure"])
		assert.NotEmpty(t, line["part"])
		assert.NotEmpty(t, line["feature"])
		whens = append(whens, line["when"])
	}
	assert.Equal(t, []any{"engine rocks", "hatch shuts", "at rest", "at rest"}, whens)
	assert.Equal(t, decoded{
		"found": false, "least_clearance_mm": nil, "u_mm": nil, "part": nil, "feature": nil, "at": nil, "on_part": nil, "on_feature": nil, "marks": []any{},
		"steps": []any{}, "not_looked_at": []any{}, "hidden_mm": nil, "hidden_at": nil, "starts_outside": true, "aside": []any{}, "verdict": "unproven", "because": "not checked",
		"stuck": decoded{"at": []any{0.0, 0.0, 63.5}, "to_go_mm": 114.3, "toward": []any{0.0, 0.0, 1.0}, "part": "fill neck", "feature": "lip", "clearance_mm": 2.54, "needs_mm": in(0.099)},
	}, d["way_in"])
	found := decode(t, entered())["way_in"].(decoded)
	assert.InDelta(t, in(0.05), found["u_mm"], 1e-9)
	assert.InDeltaSlice(t, []any{0.0, -50.8, 0.0, 20.0, 0.0, 0.0}, found["at"], 1e-9)
	assert.InDelta(t, in(3.2), found["hidden_mm"], 1e-9)
	assert.Equal(t, []any{"L1", "L2"}, found["marks"])
	steps := found["steps"].([]any)
	assert.InDeltaSlice(t, []any{0.254, -50.8, 228.6, 30.0, 0.0, 0.0}, steps[0], 1e-9)
	assert.Equal(t, []any{0.0, 0.0, 0.0}, steps[3])
}

func TestJSONKeepsNamesAndShowsNothingRaw(t *testing.T) {
	r := nasty()
	r.Title = "a\x00b\u009b2J\u202e<b>\U000e0001"
	got := jsonText(t, r)
	for _, c := range got {
		assert.True(t, c == '\n' || unicode.IsPrint(c), "%U", c)
	}
	d := decode(t, r)
	assert.Equal(t, r.Title, d["title"])
	line := d["clearances"].([]any)[0].(decoded)
	assert.Equal(t, r.Lines[0].Part, line["part"])
	assert.Equal(t, r.Lines[0].Feature, line["feature"])
	assert.Equal(t, r.Lines[0].Marks[2], line["marks"].([]any)[2], "a long name is whole")
}

// full is a disk without room.
type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errors.New("no room") }

func TestWritersTellOfWhatTheyCannotWrite(t *testing.T) {
	assert.ErrorContains(t, JSON(fullDisk{}, plain()), "no room")
	assert.ErrorContains(t, Text(fullDisk{}, plain(), Options{}), "no room")
}
