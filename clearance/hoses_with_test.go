package clearance

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/clearance/hose"
)

// A pump on an engine that rocks, while the frame that it is on bounces: the hose needs
// what both take together, and its lines say where both are.
func TestHoseToAThingThatRocksOnOneThatBounces(t *testing.T) {
	s := hoseToEngine(0.05, 3)
	alone := s.hose(t).Moves[0]
	s.feature(dots("frame"), 0.1, v(500, -300, 50))
	s.rules.Motions = append(s.rules.Motions, Motion{Name: "bounces", Moves: []string{"frame"}, Along: v(0, 1, 0), From: -6, To: 2})
	s.rules.Motions[0].With = []string{"bounces"}
	rep := checked{s.check(t)}
	require.Len(t, rep.Hoses[0].Moves, 1)
	both := rep.Hoses[0].Moves[0]
	assert.Greater(t, both.NeedsAtLeast, alone.NeedsAtLeast+3, "6 mm down, across a straight at 45 degrees")
	l, ok := rep.when("hose", "frame", "rocks")
	require.True(t, ok)
	require.Len(t, l.At, 2)
	assert.Equal(t, "bounces", l.At[1].Motion)
	c := s.checker(t)
	m := &c.motions[0]
	e := c.ends(c.laidHose(s.rules.Hoses[0]))
	rng := rand.New(rand.NewPCG(61, 62))
	for range 300 {
		at := make([]float64, 2)
		for i, j := range m.joints {
			at[i] = j.From + (j.To-j.From)*rng.Float64()
		}
		pose := m.joints.At(at)
		q := e
		q.To, q.Arrive = pose.Move(e.To), pose.Turn(e.Arrive)
		assert.LessOrEqual(t, shortestOf(q, 70)-rep.Hoses[0].Length, both.NeedsAtMost)
	}
}

// Of one motion by itself it is what path.needs says, with both counted in the same way.
func TestNeedsOfOneMotion(t *testing.T) {
	s := hoseToEngine(0, 3)
	c := s.checker(t)
	e := c.ends(c.laidHose(s.rules.Hoses[0]))
	p, ok := c.pathOf(s.rules.Motions[0])
	require.True(t, ok)
	l := hose.Limits{Radius: 70, Straight: 30}
	length := s.hose(t).Length
	want, got := p.needs(e, l, length), c.motions[0].needsWith(e, l, length, false)
	assert.InDelta(t, want.NeedsAtLeast, got.NeedsAtLeast, 1e-9)
	assert.InDelta(t, want.NeedsAtMost, got.NeedsAtMost, 1e-9)
}

// A mark of a measured run that goes along while both ends stand still makes two
// stretches that swing.
func TestRunTiedToAThingThatMoves(t *testing.T) {
	s := hosed(0.1, v(400, -200, 50), v(230, 50, 50), v(330, -50, 50), v(400, -120, 50))
	s.mark("", "front", v(430, -250, 0), 0.1)
	s.mark("", "rear", v(430, -250, 100), 0.1)
	s.feature(dots("arm"), 0.1, v(360, 80, 50))
	s.mark("arm", "run2", v(330, -50, 50), 0.1)
	s.feature(dots("clip"), 0.1, v(250, -140, 50))
	by := math.Pi / 180
	s.rules.Motions = []Motion{{Name: "rocks", Moves: []string{"arm"}, About: [2]string{"front", "rear"}, From: -by, To: by}}
	s.rules.Hoses[0].Slack = 0.02
	c := s.checker(t)
	h, ok := c.hose(s.rules.Hoses[0])
	require.True(t, ok)
	w := c.swungBy(h, &c.motions[0])
	require.NotNil(t, w)
	require.Len(t, w.stretches, 2)
	require.Len(t, w.rigids, 3)
	l, ok := checked{s.check(t)}.when("hose", "clip", "rocks")
	require.True(t, ok)
	assert.Equal(t, Clears, l.Verdict)
}
