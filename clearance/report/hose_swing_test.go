package report

import (
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/clearance"
)

// swingingHose is a hose of which a line in a motion is not proven.
func swingingHose() *clearance.Report {
	r := plain()
	h := ledHose()
	h.Moves = []clearance.HoseMove{{Motion: "engine rocks", Has: in(0.5), Free: in(2.75), Kept: in(2.75)}}
	r.Hoses, r.Verdict = []clearance.Hose{h}, clearance.Unproven
	r.Lines = []clearance.Line{{
		Part: "drain", Feature: "loom", When: "engine rocks", At: []clearance.Position{{Motion: "engine rocks", Turns: true, At: math.Pi / 180}},
		Clearance: -in(0.25), Gap: in(0.5), Verdict: clearance.Unproven, Because: clearance.Near,
		Swings: &clearance.Swings{Unknown: in(1.5), Holds: [2]string{"outlet", "pump"}, Tie: &clearance.Tie{At: r3.Vector{X: in(1), Y: in(2), Z: in(3)}, Along: in(4)}},
	}}
	return r
}

func TestSwingingHose(t *testing.T) {
	r := swingingHose()
	text := func() string {
		var b strings.Builder
		require.NoError(t, HoseText(&b, r, nil, Options{Width: 600}))
		require.NoError(t, Text(&b, r, Options{Width: 600}))
		return b.String()
	}
	got := text()
	assert.Contains(t, got, "it swings, and may touch")
	assert.Contains(t, got, "it swings between outlet and pump, and where it hangs there is not known to better than 1 1/2 in")
	assert.Contains(t, got, "tie it at x 1, y 2, z 3, 4 in along it, to something that stands still")
	assert.Contains(t, got, "left to itself it would bend to 2 1/4 in to its inside somewhere in it, tighter than it may")
	assert.Contains(t, got, "so long as it does not stretch and bends no tighter than 2 1/4 in to its inside.")
	assert.NotContains(t, got, "overlaps loom")
	r.Lines[0].Swings.Tie = nil
	assert.Contains(t, text(), "no tie was found that would settle it")
	r.Lines[0].Clearance, r.Lines[0].Verdict, r.Lines[0].Because = in(0.75), clearance.Clears, clearance.NoReason
	got = text()
	assert.Contains(t, got, "at least 3/4 clear, wants 1/2 in - clears")
	assert.NotContains(t, got, "tie it")
}

func TestSwingsInJSON(t *testing.T) {
	var b strings.Builder
	require.NoError(t, JSON(&b, swingingHose()))
	assert.Regexp(t, `"swings":\{"unknown_mm":38.09\d+,"tie_mm":\[25.4,50.8,76.1\d+\],"tie_along_mm":101.6\}`, b.String())
}
