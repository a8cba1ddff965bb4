package report

import (
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/clearance"
	"elbowroom/clearance/hose"
)

// ledHose is a found run of two bends, 27 mm thick.
func ledHose() clearance.Hose {
	h := clearance.Hose{
		Name: "drain", Length: in(10), Cut: in(10.5), Least: in(2.5), Bent: true, Wanted: in(2.5), Checked: true, Sure: 1,
		Verdict: clearance.Clears, Outside: in(1), LeastCentre: in(3),
	}
	h.From, h.To, h.Led, h.Direct = "outlet", "pump", true, true
	h.Forms = []hose.Form{
		{Straight: in(1), Start: in(1), Turn: math.Pi / 2, Radius: in(3), Side: r3.Vector{Y: -1}},
		{Straight: in(2), Start: in(7), Turn: math.Pi / 4, Radius: in(3), Side: r3.Vector{X: 1}, Roll: math.Pi / 2},
	}
	h.Tail = in(0.5)
	return h
}

func hoseText(t *testing.T, h clearance.Hose) string {
	t.Helper()
	r := plain()
	r.Hoses = []clearance.Hose{h}
	var b strings.Builder
	require.NoError(t, HoseText(&b, r, nil, Options{Width: 400}))
	return b.String()
}

func TestHoseInDetail(t *testing.T) {
	h := ledHose()
	text := hoseText(t, h)
	assert.Contains(t, text, "clears - drain bends to 2 1/2 (to its inside), wants 2 1/2 in")
	assert.Contains(t, text, "Cut it 10 1/2 in: 10 in along its middle and 1/2 in of slack.")
	assert.Contains(t, text, "2 1/2 in to the inside, which is 3 in to the centre; wanted 2 1/2 in (to its inside)")
	assert.Contains(t, text, "1. 1 in straight, then bend 90 degrees down the face, radius 2 1/2 in to the inside")
	assert.Contains(t, text, "2. 2 in straight, then turned 90 degrees clockwise (looking along the hose), bend 45 degrees")
	assert.Contains(t, text, "then 1/2 in straight to pump.")
	assert.Contains(t, text, "None of 45 or 90 degrees would do")
	h.Forms[1].Roll = -math.Pi / 2
	assert.Contains(t, hoseText(t, h), "anticlockwise")
	h.Forms[1].Roll = math.Pi
	assert.Contains(t, hoseText(t, h), "the opposite way, bend 45 degrees")
	h.Forms[1].Roll = 0
	assert.Contains(t, hoseText(t, h), "the same way, bend 45 degrees")
	h.HasElbow, h.Elbow = true, hose.Elbow{Angle: math.Pi / 2, Off: 3 * math.Pi / 180, Miss: in(0.125), In: in(4), Out: in(5), Radius: in(3)}
	assert.Contains(t, hoseText(t, h), "One of 90 degrees would do: 4 in from outlet to its corner, 5 in from there to pump, any radius up to 3 in to the centre; the ends are 3 degrees off its angle and 1/8 in aside, which its legs give.")
}

func TestHoseLeftToItself(t *testing.T) {
	h := ledHose()
	h.Free = []clearance.FreeShape{{Elastic: hose.Elastic{Radius: in(2.75)}, Margin: in(-1), Near: "loom"}}
	h.Easy = in(11)
	text := hoseText(t, h)
	assert.Contains(t, text, "it would bend to 2 1/4 in (to its inside), tighter than the run as drawn: hold it to that with a clip, or cut it about 11 in.")
	assert.Contains(t, text, "nearer to loom than its gap and what being sure takes, by 1 in")
	h.Free[0].Radius = in(3.5)
	assert.Contains(t, hoseText(t, h), "it would bend to 3 in (to its inside), which is gentle enough.")
}

func TestHoseThatDoesNotDo(t *testing.T) {
	h := ledHose()
	h.Verdict = clearance.Tight
	h.Moves = []clearance.HoseMove{{Motion: "engine rocks", NeedsAtLeast: in(1), NeedsAtMost: in(1.25), Has: in(0.5)}}
	text := hoseText(t, h)
	assert.Contains(t, text, "tight - drain: too short for the motion engine rocks")
	assert.Contains(t, text, "it needs up to 1 1/4 in more than at rest and has 1/2 in of slack: give it 3/4 in more.")
	r := plain()
	r.Hoses, r.Verdict = []clearance.Hose{h}, clearance.Tight
	var b strings.Builder
	require.NoError(t, Text(&b, r, Options{Width: 400}))
	assert.Contains(t, b.String(), "drain: too short for the motion engine rocks: give it 3/4 in more")

	h = ledHose()
	h.Verdict, h.Fights = clearance.Tight, true
	assert.Contains(t, hoseText(t, h), "its two ends fight each other")
	assert.Contains(t, hoseText(t, h), "turn the fitting")
	h = ledHose()
	h.Verdict, h.Because, h.Crowded, h.Pinch, h.Short = clearance.Unproven, clearance.Near, true, "beam", in(0.25)
	assert.Contains(t, hoseText(t, h), "unproven - drain: no run was found that clears; the best is 1/4 in short at beam")
}

// Names from files steer no terminal, and nothing that is unknown is a number.
func TestHoseJSON(t *testing.T) {
	h := ledHose()
	h.Fights, h.Verdict = true, clearance.Tight
	r := plain()
	r.Hoses = []clearance.Hose{h, {Name: "a\x1b[1mb", HoseRun: clearance.HoseRun{From: "x\x1b"}, Because: clearance.NotChecked}}
	var b strings.Builder
	require.NoError(t, HoseJSON(&b, r, nil))
	assert.Contains(t, b.String(), `"length_mm":null,"cut_mm":null,"least_bend_radius_mm":null`)
	assert.NotContains(t, b.String(), "\x1b")
	b.Reset()
	require.NoError(t, HoseJSON(&b, r, []string{"drain"}))
	assert.Equal(t, 1, strings.Count(b.String(), `"name"`))
	b.Reset()
	require.NoError(t, HoseText(&b, r, nil, Options{}))
	assert.NotContains(t, b.String(), "\x1b")
}
