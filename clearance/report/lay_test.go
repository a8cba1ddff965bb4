package report

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/clearance"
)

// A depth to take, in JSON in mm, with where the rule stands beyond the end of the
// straightedge; one that settles a line is the line's remedy.
func TestDepthToTakeInWords(t *testing.T) {
	d := clearance.Depth{Mark: "S", From: "B1", To: "B4", Toward: r3.Vector{Y: -1}, Along: -50.8, Probe: 20}
	pair := clearance.Pair{Part: "body", Feature: "stud"}
	keys := measuresJSON([]clearance.Measure{{Kind: clearance.NewDepth, Depth: d, Within: 25.4 / 32, For: []clearance.Pair{pair}}})[0]
	assert.Equal(t, "lay the straightedge across B1 and B4 and read the rule square to it, toward -y, about 51 mm beyond B1, to S", keys.What)
	assert.Equal(t, "body against stud", keys.Why)
	assert.InDelta(t, 25.4/32, float64(*keys.Within), 1e-12)
	for axis, want := range map[r3.Vector]string{{X: 1}: "+x", {X: -1}: "-x", {Y: 1}: "+y", {Z: 1}: "+z", {Z: -1}: "-z"} {
		assert.Equal(t, want, alongAxis(axis))
	}
}

// The first thing that would help a mark that tapes leave known least next to the
// plane that they come from is a depth.
func TestSurveyAsksForADepthNearThePlane(t *testing.T) {
	const points = "feature,mark,x,y,z\nwall,A,0,0,0\nwall,B,12,0,0\nwall,C,12,8,0\nwall,D,0,8,0\nwall,E,6,-2,0\nlip,L1,0,20,1\nlip,L2,12,20,1\n,T2,,,\n"
	const tapes = "from,to,tape\nA,T2,7.2284\nB,T2,7.2284\nC,T2,7.2284\nD,T2,7.2284\nE,T2,6.0208\n"
	v := spoken(t, "points.csv", points, "tape.csv", tapes)
	var b strings.Builder
	require.NoError(t, SurveyText(&b, v, Options{}))
	text := strings.Join(strings.Fields(b.String()), " ")
	assert.Contains(t, text, "T2 is known least along z, give or take 11/16 in: lay the straightedge across A and C and read the rule square to it, toward +z, about 7 7/32 in from A, to T2, to 1/32 in: that would make it 1/16, if both can lie there and the rule meets it square.")

	b.Reset()
	require.NoError(t, SurveyJSON(&b, v))
	var keys struct {
		Next []struct {
			What, Why string
			Within    float64 `json:"within_mm"`
		} `json:"measure_next"`
	}
	require.NoError(t, json.Unmarshal([]byte(b.String()), &keys))
	require.Len(t, keys.Next, 1)
	assert.Equal(t, "lay the straightedge across A and C and read the rule square to it, toward +z, about 183 mm from A, to T2", keys.Next[0].What)
	assert.Equal(t, "T2 is known to give or take 17.1 mm at worst, and 1.6 mm with it", keys.Next[0].Why)
	assert.Equal(t, 25.4/32, keys.Next[0].Within)
}
