package hose

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Right, then up: the second bend's plane is a quarter turn from the first's, against
// the clock as seen along the hose.
func TestFormsInOrder(t *testing.T) {
	r := Round([]r3.Vector{v(0, 0, 0), v(0, 100, 0), v(100, 100, 0), v(100, 100, 300)}, 60)
	forms, tail := r.Forms()
	require.Len(t, forms, 2)
	assert.InDelta(t, 60, forms[0].Straight, 1e-9)
	assert.InDelta(t, 40, forms[0].Radius, 1e-9)
	assert.InDelta(t, math.Pi/2, forms[0].Turn, 1e-12)
	assert.Less(t, forms[0].Side.Sub(v(1, 0, 0)).Norm(), 1e-12)
	assert.Zero(t, forms[0].Roll)
	assert.InDelta(t, 60+40*math.Pi/2+forms[1].Straight, forms[1].Start, 1e-9)
	assert.Less(t, forms[1].Side.Sub(v(0, 0, 1)).Norm(), 1e-12)
	// Going +x, the first bends toward where -y ... +x came from: its plane's normal is
	// -z, the second's (x cross z) is -y: a quarter turn about +x.
	assert.InDelta(t, math.Pi/2, math.Abs(forms[1].Roll), 1e-12)
	// Laid out by its forms alone the run ends where it ends.
	at, way := layOut(v(0, 0, 0), v(0, 1, 0), forms, tail)
	assert.Less(t, at.Sub(v(100, 100, 300)).Norm(), 1e-9)
	assert.Less(t, way.Sub(v(0, 0, 1)).Norm(), 1e-9)
}

// layOut forms a run as a person does: straight, roll the plane clockwise as seen
// along it, bend.
func layOut(at, way r3.Vector, forms []Form, tail float64) (r3.Vector, r3.Vector) {
	side := forms[0].Side
	for _, f := range forms {
		at = at.Add(way.Mul(f.Straight))
		sin, cos := math.Sincos(f.Roll) // right-handed about the way is clockwise along it
		side = side.Mul(cos).Add(way.Cross(side).Mul(sin))
		st, ct := math.Sincos(f.Turn)
		at = at.Add(way.Mul(f.Radius * st)).Add(side.Mul(f.Radius * (1 - ct)))
		way, side = way.Mul(ct).Add(side.Mul(st)), side.Mul(ct).Sub(way.Mul(st))
	}
	return at.Add(way.Mul(tail)), way
}

func TestRunsLaidOutByTheirForms(t *testing.T) {
	for seed := uint64(0); seed < 60; seed++ {
		w := cluttered(seed)
		for _, r := range Shortest(w.Ends, w.Limits) {
			forms, tail := r.Forms()
			at, way := layOut(w.Ends.From, w.Ends.Leave, forms, tail)
			assert.Less(t, at.Sub(w.Ends.To).Norm(), 1e-6)
			assert.Less(t, way.Sub(w.Ends.Arrive).Norm(), 1e-8)
			assert.LessOrEqual(t, len(forms), 2, "an arc is one bend, however it is drawn")
		}
	}
}

func TestElbow(t *testing.T) {
	e := Ends{v(0, 0, 0), v(1, 0, 0), v(80, -120, 2), v(0, -1, 0)}
	b, ok := e.Elbow(27, 10)
	require.True(t, ok)
	assert.InDelta(t, math.Pi/2, b.Angle, 1e-12)
	assert.InDelta(t, 80, b.In, 1e-9)
	assert.InDelta(t, 120, b.Out, 1e-9)
	assert.InDelta(t, 2, b.Miss, 1e-9)
	assert.InDelta(t, 70, b.Radius, 1e-9)
	e.To.Z = 8
	_, ok = e.Elbow(27, 10)
	assert.False(t, ok, "the axes miss by more than a quarter of it")
	e = Ends{v(0, 0, 0), v(1, 0, 0), v(200, 100, 0), heading(48)}
	b, ok = e.Elbow(27, 10)
	require.True(t, ok)
	assert.InDelta(t, math.Pi/4, b.Angle, 1e-12)
	assert.InDelta(t, 3, b.Off*180/math.Pi, 1e-9)
	e.To = v(-200, 100, 0)
	_, ok = e.Elbow(27, 10)
	assert.False(t, ok, "behind")
	_, ok = Ends{v(0, 0, 0), v(1, 0, 0), v(200, 0, 0), v(1, 0, 0)}.Elbow(27, 10)
	assert.False(t, ok, "straight")
}

func TestTubeThatRunsIntoItself(t *testing.T) {
	// Four corners of a square, and out through the side that it came in by.
	line := []r3.Vector{v(0, 0, 0), v(200, 0, 0), v(200, 200, 0), v(0, 200, 0), v(0, -100, 0)}
	assert.InDelta(t, -20, Round(line, 20).Tube(20).Own(60), 1e-6)
	line[4].X = 40 // past its beginning by 40 less its ends: it crosses x at about 27
	assert.Less(t, Round(line, 20).Tube(20).Own(60), 0.0)
	for i := range line {
		line[i].Z = 15 * float64(i)
	}
	assert.Equal(t, math.Inf(1), Round(line, 20).Tube(20).Own(60), "it passes over itself")
	assert.Equal(t, math.Inf(1), Round(line[:4], 20).Tube(20).Own(60))
}
