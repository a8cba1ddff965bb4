package clearance

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/solid"
	"elbowroom/solid/shape"
	"elbowroom/survey"
)

// hosed is the cube with an outlet in the middle of its right side, whose barb
// ends at (130, 50, 50), and a hose through the marks to an end.
func hosed(within float64, end r3.Vector, run ...r3.Vector) scene {
	s := scene{tank: box100(), rules: Rules{LookedAt: allSides, AcceptSingle: true}}
	s.tank.Fittings = []solid.Fitting{{Name: "outlet", Side: solid.Right, Stack: []solid.Element{{Name: "barb", Diameter: 20, Length: 30}}}}
	s.feature(survey.FeatureSpec{Name: "run", Shape: survey.Tube, Run: true}, within, run...)
	s.mark("", "pump", end, within)
	s.rules.Hoses = []HoseSpec{{Name: "hose", From: "outlet", To: "pump", Along: "run", Outside: 20, BendRadius: 60}}
	return s
}

func (s scene) hose(t *testing.T) Hose {
	t.Helper()
	rep := s.check(t)
	require.Len(t, rep.Hoses, 1)
	return rep.Hoses[0]
}

func TestHoseRoundOneCorner(t *testing.T) {
	// Legs of 100 and 150 at a right angle: the largest arc has a radius of 100
	// to the centre line, 90 to the inside.
	s := hosed(0, v(230, -100, 50), v(230, 50, 50))
	h := s.hose(t)
	assert.InDelta(t, 90, h.Least, 1e-6)
	assert.InDelta(t, 100*math.Pi/2+50, h.Length, 1e-6)
	assert.Equal(t, "run1", h.LeastAt)
	assert.Equal(t, Clears, h.Verdict)
	s.rules.Hoses[0].ToCentre = true
	assert.InDelta(t, 100, s.hose(t).Least, 1e-6)
	s.rules.Hoses[0].Straight = 50
	assert.InDelta(t, 50, s.hose(t).Least, 1e-6)
	assert.Equal(t, Tight, s.hose(t).Verdict, "surely short of 60")
	s.rules.Hoses[0].Slack = 0.05
	assert.InDelta(t, s.hose(t).Length*1.05, s.hose(t).Cut, 1e-9)
}

func TestStraightHoseHasNoBendRadius(t *testing.T) {
	h := hosed(0, v(400, 50, 50), v(230, 50, 50)).hose(t)
	assert.False(t, h.Bent)
	assert.Equal(t, Clears, h.Verdict)
	assert.InDelta(t, 270, h.Length, 1e-9)
}

func TestHoseMarksTooCloseForTheirAccuracy(t *testing.T) {
	// Marks 25 mm apart, each good to 1.7 mm, cannot speak for a radius of 70.
	s := hosed(3, v(285, -20, 50), v(160, 50, 50), v(185, 50, 50), v(209, 45, 50), v(232, 35, 50), v(255, 20, 50))
	h := s.hose(t)
	assert.Equal(t, Unproven, h.Verdict)
	assert.Equal(t, Near, h.Because)
	want := math.Sqrt(math.Sqrt(6) * math.Sqrt(3) * 70 / 0.15)
	assert.InDelta(t, want, h.Spacing, 1e-6)
}

func TestHoseKinkedAtItsEnds(t *testing.T) {
	s := hosed(0.1, v(250, -200, 50), v(250, 110, 50))
	h := s.hose(t)
	assert.Equal(t, Unproven, h.Verdict)
	assert.Equal(t, "it leaves outlet 27 degrees off its axis", h.Ports)
	s = hosed(0.1, v(250, -200, 50), v(250, 50, 50))
	s.rules.Hoses[0].Arrives = v(1, 0, 0)
	assert.Equal(t, "it arrives at pump 90 degrees off its direction", s.hose(t).Ports)
	s.rules.Hoses[0].Arrives = v(0, -1, 0)
	assert.Empty(t, s.hose(t).Ports)
}

func TestHoseWithoutARunIsNotChecked(t *testing.T) {
	s := hosed(0, v(250, -100, 50), v(250, 50, 50))
	s.rules.Hoses[0].Along = ""
	rep := s.check(t)
	assert.Equal(t, Unproven, rep.Verdict)
	assert.Equal(t, NotChecked, rep.Hoses[0].Because)
	assert.False(t, rep.Hoses[0].Checked)
}

// The tightest bend's uncertainty against 10,000 runs taken again.
func TestBendUncertaintyAgainstSimulatedRuns(t *testing.T) {
	s := hosed(1.5, v(240, -180, 80), v(250, 50, 50), v(255, -80, 60))
	s.tank.Within, s.tank.Place.Within = 1, 1
	c := s.checker(t)
	h, ok := c.hose(s.rules.Hoses[0])
	require.True(t, ok)
	var out Hose
	c.bends(h, &out)
	rng := rand.New(rand.NewPCG(21, 22))
	var sum, squares float64
	const n = 10000
	for range n {
		q := remeasured(s, rng).checker(t)
		again, _ := q.hose(s.rules.Hoses[0])
		radius, _, _ := again.run.Least()
		off := radius - 10 - out.Least
		sum += off
		squares += off * off
	}
	mean := sum / n
	assert.InEpsilon(t, math.Sqrt(squares/n-mean*mean), out.U, 0.05)
}

// The clearance of the whole tube against points, by sampling its centre line densely.
func TestHoseClearanceAgainstSampledCentreLine(t *testing.T) {
	if testing.Short() {
		t.Skip("it reckons long, one thing after the other")
	}
	s := hosed(0, v(240, -180, 80), v(250, 50, 50), v(255, -80, 60))
	rng := rand.New(rand.NewPCG(23, 24))
	c := s.checker(t)
	h, _ := c.hose(s.rules.Hoses[0])
	line := h.run.Trace(1e-6)
	for trial := 0; trial < 200; trial++ {
		at := v(130+200*rng.Float64(), -180+250*rng.Float64(), 120*rng.Float64())
		want := math.Inf(1)
		for i := 1; i < len(line); i++ {
			n := shape.Distance(shape.Hull{Points: []r3.Vector{line[i-1], line[i]}}, shape.Hull{Points: []r3.Vector{at}})
			want = math.Min(want, n.Signed)
		}
		got, _ := h.distance(shape.Hull{Points: []r3.Vector{at}})
		assert.InDelta(t, want-10, got.Signed, 2e-6)
	}
}

func TestHoseTouchesWhereItEndsOnPurpose(t *testing.T) {
	s := hosed(0.1, v(230, -100, 50), v(230, 50, 50))
	s.feature(dots("spigot"), 0.1, v(245, -99, 50))
	s.mark("spigot", "pump", v(230, -100, 50), 0.1)
	rep := s.check(t)
	assert.Contains(t, rep.OnPurpose, Contact{"hose", "spigot"})
	// Over the rest of its run it keeps its gap: the last straight begins at
	// y -50, 50 above the mark.
	l := rep.line("hose", "spigot")
	assert.Greater(t, l.Clearance, 30.0)
	assert.Equal(t, 10.0, l.Gap)
	assert.Equal(t, "hose", l.GapName)
}
