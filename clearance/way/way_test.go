package way

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/solid/shape"
)

// block is a box between two corners.
func block(name string, lx, ly, lz, hx, hy, hz float64) Thing {
	return Thing{Name: name, Needs: 1, Solid: shape.Box{
		Corner: r3.Vector{X: lx, Y: ly, Z: lz}, Edges: [3]r3.Vector{{X: hx - lx}, {Y: hy - ly}, {Z: hz - lz}},
	}}
}

// bay is a box 100 by 60 by 40 on a wall, in a room, with things in the way.
func bay(things ...Thing) Scene {
	wall := block("wall", -2000, -2000, -2000, 2000, 2000, 0)
	wall.Needs = 0
	return Scene{
		Parts:  []Part{{"body", shape.Box{Edges: [3]r3.Vector{{X: 100}, {Y: 60}, {Z: 40}}}}},
		Things: append([]Thing{wall}, things...),
		Pivot:  r3.Vector{X: 50, Y: 30, Z: 20},
		Room:   shape.Span{Low: [3]float64{-150, -150, 0}, High: [3]float64{250, 210, 200}},
	}
}

// shut holds the box in on the sides named; the fifth, the front, leaves a slot.
func shut(open string) []Thing {
	all := map[string]Thing{
		"left":   block("left", -120, -140, 0, -20, 200, 200),
		"right":  block("right", 120, -140, 0, 240, 200, 200),
		"bottom": block("bottom", -140, -140, 0, 240, -20, 200),
		"top":    block("top", -140, 80, 0, 240, 200, 200),
		"front":  block("front", -140, -140, 60, 240, 200, 100),
	}
	var list []Thing
	for _, side := range []string{"left", "right", "bottom", "top", "front"} {
		if side != open {
			list = append(list, all[side])
		}
	}
	return list
}

func TestStraightOut(t *testing.T) {
	ways := map[string]r3.Vector{"left": {X: -1}, "right": {X: 1}, "bottom": {Y: -1}, "top": {Y: 1}, "front": {Z: 1}}
	for open, way := range ways {
		got, err := Find(context.Background(), bay(shut(open)...))
		require.NoError(t, err)
		require.True(t, got.OK, open)
		require.Len(t, got.Path, 2, open)
		assert.Equal(t, Pose{}, got.Path[1], "it ends at home")
		assert.InDelta(t, 1, got.Path[0].Shift.Normalize().Dot(way), 1e-12, open)
		proved(t, bay(shut(open)...), got.Path)
	}
}

// A lip over the front leaves 50 mm below: down first, then out.
func TestUnderALip(t *testing.T) {
	s := bay(append(shut("front"), block("lip", -140, 10, 45, 240, 200, 100))...)
	s.Things[3] = block("bottom", -140, -140, 0, 240, -60, 200)
	got, err := Find(context.Background(), s)
	require.NoError(t, err)
	require.True(t, got.OK)
	assert.Greater(t, len(got.Path), 2)
	proved(t, s, got.Path)
}

// Between a shelf and a ledge the box comes out only on edge: it is 60 high and 40
// deep, and the slot 50 high.
func TestOnlyByATurn(t *testing.T) {
	if testing.Short() {
		t.Skip("it reckons long, one thing after the other")
	}
	s := bay(
		block("left", -60, -140, 0, -30, 200, 200), block("right", 130, -140, 0, 160, 200, 200),
		block("bottom", -140, -140, 0, 240, -60, 200), block("top", -140, 120, 0, 240, 200, 200),
		block("shelf", -140, 55, 130, 240, 200, 160), block("ledge", -140, -140, 130, 240, 5, 160),
	)
	got, err := Find(context.Background(), s)
	require.NoError(t, err)
	require.True(t, got.OK)
	turned := false
	for _, p := range got.Path {
		turned = turned || p.Turn.Norm() > 0.5
	}
	assert.True(t, turned)
	proved(t, s, got.Path)
	t.Log(got.Path, got.Spent)
}

func TestShutIn(t *testing.T) {
	if testing.Short() {
		t.Skip("it reckons long, one thing after the other")
	}
	got, err := Find(context.Background(), bay(shut("")...))
	require.NoError(t, err)
	require.False(t, got.OK)
	assert.NotEmpty(t, got.Stuck.Thing)
	assert.NotEqual(t, "wall", got.Stuck.Thing)
	assert.Equal(t, "body", got.Stuck.Part)
	assert.InDelta(t, 1, got.Stuck.Clearance, 0.1, "it comes as near as it may")
	assert.Positive(t, got.Stuck.Left)
	t.Log(got.Stuck, got.Spent)
}

func TestGivenUp(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err := Find(ctx, bay(shut("")...))
	assert.ErrorIs(t, err, context.Canceled)
}

// proved samples a path densely: no part comes nearer to a thing than it needs.
func proved(t *testing.T, s Scene, path []Pose) {
	t.Helper()
	c := ready(s)
	for i := 1; i < len(path); i++ {
		l := between(path[i-1], path[i])
		for k := 0; k <= 400; k++ {
			m := l.at(float64(k)/400, c.Pivot)
			for p, part := range s.Parts {
				for q, thing := range s.Things {
					n := shape.Distance(m.shape(part.Solid), thing.Solid)
					require.GreaterOrEqual(t, n.Signed, c.needs[p][q]-1e-6, "%s at %d of leg %d", thing.Name, k, i)
				}
			}
		}
	}
	assert.Equal(t, Pose{}, path[len(path)-1])
	_, left := c.nearestExit(c.span(path[0]))
	assert.Zero(t, left, "it starts outside")
}

// randomPose is up to 200 mm and a third of a turn away.
func randomPose(r *rand.Rand) Pose {
	v := func(by float64) r3.Vector {
		return r3.Vector{X: by * (2*r.Float64() - 1), Y: by * (2*r.Float64() - 1), Z: by * (2*r.Float64() - 1)}
	}
	return Pose{Shift: v(200), Turn: v(1.2)}
}

// A leg that is said to be clear is so wherever it is looked at, and one that is not
// has a place, on the leg, where the need is not kept by more than what is not proved.
func TestLegsAgainstSampling(t *testing.T) {
	if testing.Short() {
		t.Skip("it reckons long, one thing after the other")
	}
	r := rand.New(rand.NewPCG(1, 2))
	clear, blocked := 0, 0
	for n := 0; n < 240; n++ {
		s := bay(block("a", 150, -40, 20, 190, 90, 80), block("b", -60, 100, 0, 130, 130, 60))
		s.Parts = append(s.Parts, Part{"neck", shape.Cylinder{Foot: r3.Vector{X: 50, Y: 60, Z: 20}, Axis: r3.Vector{Y: 25}, Across: 15}})
		c := ready(s)
		a, b := randomPose(r), randomPose(r)
		if n%3 == 0 {
			b.Turn = a.Turn
		}
		l := between(a, b)
		h, ok := c.clear(l)
		worst := math.Inf(1)
		for k := 0; k <= 200; k++ {
			m := l.at(float64(k)/200, c.Pivot)
			for p, part := range s.Parts {
				for q, thing := range s.Things {
					worst = math.Min(worst, shape.Distance(m.shape(part.Solid), thing.Solid).Signed-c.needs[p][q])
				}
			}
		}
		if ok {
			clear++
			require.GreaterOrEqual(t, worst, -1e-6, "leg %d", n)
			continue
		}
		blocked++
		require.Less(t, h.near.Signed, c.needs[h.part][h.thing]+finest, "leg %d", n)
		at := l.at(h.at, c.Pivot).shape(s.Parts[h.part].Solid)
		require.InDelta(t, h.near.Signed, shape.Distance(at, s.Things[h.thing].Solid).Signed, 1e-9)
	}
	assert.Greater(t, clear, 20)
	assert.Greater(t, blocked, 30)
}

func TestLeastAgainstSampling(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for n := 0; n < 60; n++ {
		s := bay(block("a", 150, -40, 20, 190, 90, 80))
		c := ready(s)
		a, b := randomPose(r), randomPose(r)
		if n%2 == 0 {
			b.Turn = a.Turn
		}
		w := walk{c, between(a, b), 0, 1}
		at, near, lower := w.least(math.Inf(1))
		worst := math.Inf(1)
		for k := 0; k <= 1000; k++ {
			worst = math.Min(worst, w.distance(float64(k)/1000).Signed)
		}
		require.LessOrEqual(t, near.Signed, worst+fine)
		require.GreaterOrEqual(t, worst, lower-1e-9)
		require.LessOrEqual(t, near.Signed-lower, fine+1e-9)
		require.InDelta(t, near.Signed, w.distance(at).Signed, 1e-9)
	}
}

func TestPoses(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	pivot := r3.Vector{X: 1, Y: 2, Z: 3}
	for n := 0; n < 200; n++ {
		a, b := randomPose(r), randomPose(r)
		l := between(a, b)
		for _, share := range []float64{0, 0.3, 1} {
			p := l.pose(share)
			m, again := l.at(share, pivot), between(p, p).at(0, pivot)
			at := r3.Vector{X: 30, Y: -20, Z: 7}
			assert.InDelta(t, 0, m.point(at).Sub(again.point(at)).Norm(), 1e-9)
			assert.InDelta(t, 0, m.home(m.point(at)).Sub(at).Norm(), 1e-9)
			assert.InDelta(t, at.Sub(pivot).Norm(), m.point(at).Sub(pivot.Add(p.Shift)).Norm(), 1e-9, "a turn keeps lengths")
		}
		assert.InDelta(t, 0, l.pose(1).Shift.Sub(b.Shift).Norm()+l.pose(1).Turn.Sub(b.Turn).Norm(), 1e-9)
	}
	quarter := between(Pose{}, Pose{Turn: r3.Vector{Z: math.Pi / 2}}).at(1, pivot)
	assert.InDelta(t, 0, quarter.point(pivot.Add(r3.Vector{X: 1})).Sub(pivot.Add(r3.Vector{Y: 1})).Norm(), 1e-12, "right-handed")
}

func BenchmarkFind(b *testing.B) {
	s := bay(append(shut("front"), block("lip", -140, 10, 45, 240, 200, 100))...)
	s.Things[3] = block("bottom", -140, -140, 0, 240, -60, 200)
	for b.Loop() {
		_, _ = Find(context.Background(), s)
	}
}

// Shut in on all sides, it takes all the tries that it has.
func BenchmarkFindNone(b *testing.B) {
	s := bay(shut("")...)
	for b.Loop() {
		if got, err := Find(context.Background(), s); err != nil || got.OK {
			b.Fatal(err, got.OK)
		}
	}
}

// Of two ways straight out it takes the one where somebody looked, and the other where
// there is no such.
func TestWhereSomebodyLooked(t *testing.T) {
	s := bay(block("front", -140, -140, 60, 240, 200, 100), block("top", -140, 80, 0, 240, 200, 200), block("bottom", -140, -140, 0, 240, -20, 200))
	for _, c := range []struct{ unseen, out r3.Vector }{{r3.Vector{X: 1}, r3.Vector{X: -1}}, {r3.Vector{X: -1}, r3.Vector{X: 1}}} {
		s.Unseen = []r3.Vector{c.unseen}
		got, err := Find(context.Background(), s)
		require.NoError(t, err)
		require.True(t, got.OK)
		assert.InDelta(t, 1, got.Path[0].Shift.Normalize().Dot(c.out), 1e-12)
	}
	s.Unseen = []r3.Vector{{X: 1}, {X: -1}}
	got, err := Find(context.Background(), s)
	require.NoError(t, err)
	assert.True(t, got.OK)
}
