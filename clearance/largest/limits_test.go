package largest

import (
	"context"
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/clearance"
	"elbowroom/solid"
	"elbowroom/survey"
)

// small is a bay of a few exact dots, quick to solve.
func small() scene {
	s := exactBox()
	s.feature(survey.FeatureSpec{Name: "dots", Shape: survey.Dots}, 0,
		v(100, 80, 60), v(220, 150, 90), v(50, 170, 40), v(250, 40, 120), v(180, 100, 140))
	s.gap("dots", 3)
	s.limits.Room = room(0, 300, 0, 200, 0, 150)
	return s
}

func TestLimitsHold(t *testing.T) {
	s := small()
	s.limits.Min = solid.Size{Height: 120}
	s.limits.Max = solid.Size{Height: 120, Width: 200}
	a := s.solve(t)
	size := a.Free[0].Tank.Size
	assert.InDelta(t, 120, size.Height, 1e-6)
	assert.LessOrEqual(t, size.Width, 200+1e-6)

	s = small()
	s.limits.Aspect = v(2, 1, 1)
	size = s.solve(t).Free[0].Tank.Size
	assert.InDelta(t, 2, size.Width/size.Height, 1e-6)
	assert.InDelta(t, 1, size.Depth/size.Height, 1e-6)

	s = small()
	whole := s.solve(t).Free[0]
	s.limits.Step = 25.4 / 16
	b := s.solve(t).Free[0]
	for _, x := range []float64{b.Tank.Size.Width, b.Tank.Size.Height, b.Tank.Size.Depth, b.At.X, b.At.Y} {
		steps := x / s.limits.Step
		assert.InDelta(t, math.Round(steps), steps, 1e-6)
	}
	assert.LessOrEqual(t, b.OutsideL, whole.OutsideL)
	assert.Greater(t, b.OutsideL, 0.9*whole.OutsideL)
	rep, ok := s.check(t, b.Tank)
	require.True(t, ok)
	assert.True(t, sureAlone(rep))
}

// The boxes of Top are none beaten by another, and the least box of a capacity holds
// it and is least.
func TestFrontAndLeast(t *testing.T) {
	s := small()
	s.limits.Top = 4
	a := s.solve(t)
	require.Greater(t, len(a.Free), 2)
	for i, b := range a.Free {
		for k, c := range a.Free {
			if i == k {
				continue
			}
			x, y := b.Tank.Size, c.Tank.Size
			assert.False(t, x.Width <= y.Width && x.Height <= y.Height && x.Depth <= y.Depth, "%v is beaten by %v", x, y)
		}
		if i > 0 {
			assert.LessOrEqual(t, b.OutsideL, a.Free[i-1].OutsideL*(1+closeEnough))
		}
	}
	best := a.Free[0]
	for axis, least := range map[int]Least{2: Shallow, 1: Short, 0: Narrow} {
		q := small()
		q.limits.Capacity, q.limits.Least = best.OutsideL/2, least
		b := q.solve(t).Free[0]
		assert.GreaterOrEqual(t, b.OutsideL, best.OutsideL/2-1e-9)
		assert.LessOrEqual(t, b.Tank.Size.Along(axis), best.Tank.Size.Along(axis)+1e-6)
		q.limits.Max = solid.Size{}
		most := b.Tank.Size.Along(axis) - 2
		switch axis {
		case 0:
			q.limits.Max.Width = most
		case 1:
			q.limits.Max.Height = most
		default:
			q.limits.Max.Depth = most
		}
		q.limits.Capacity = 0
		assert.Less(t, q.solve(t).AtMost, best.OutsideL/2*(1+2*closeEnough), "axis %d", axis)
	}
}

// Where nothing is measured on the right, the largest box ends at the outermost mark:
// that is an error, and a room mends it.
func TestOpenSide(t *testing.T) {
	s := exactBox()
	s.feature(survey.FeatureSpec{Name: "dots", Shape: survey.Dots}, 0,
		v(0, 50, 20), v(0, 50, 60), v(100, 0, 20), v(100, 0, 60), v(100, 100, 20), v(100, 100, 60), v(50, 50, 80), v(150, 50, 80))
	space, err := survey.Adjust(s.readings)
	require.NoError(t, err)
	_, err = Solve(context.Background(), space, s.tank, s.rules, s.limits)
	var open *Open
	require.ErrorAs(t, err, &open)
	assert.Contains(t, open.Sides, solid.Right)
	s.limits.Room[0] = Range{0, 140, true}
	s.limits.Room[1] = Range{0, 100, true}
	s.limits.Room[2] = Range{0, 100, true}
	assert.NotEmpty(t, s.solve(t).Free)
}

// Two straight walls that stand at 5 degrees: the box turns with them.
func TestTurn(t *testing.T) {
	s := exactBox()
	sin, cos := math.Sincos(5 * degree)
	turned := func(x, y, z float64) (p [3]float64) { return [3]float64{x*cos - y*sin, x*sin + y*cos, z} }
	wall := func(name string, behind r2.Point, x0, y0, x1, y1 float64) {
		a, b := turned(x0, y0, -50), turned(x1, y1, -50)
		c, d := turned(x0, y0, 250), turned(x1, y1, 250)
		at := turned(behind.X, behind.Y, 0)
		s.feature(survey.FeatureSpec{Name: name, Shape: survey.Face, Behind: vector(at)}, 0, vector(a), vector(b), vector(c), vector(d))
		s.gap(name, 0)
	}
	wall("left", r2.Point{X: -1}, -100, -900, -100, 900)
	wall("right", r2.Point{X: 1}, 100, -900, 100, 900)
	wall("low", r2.Point{Y: -1}, -900, -60, 900, -60)
	wall("high", r2.Point{Y: 1}, -900, 60, 900, 60)
	s.limits.Room = room(-300, 300, -300, 300, 0, 100)
	s.limits.Turn = Range{3 * degree, 6 * degree, true}
	a := s.solve(t)
	want := 200.0 * 120 * 100 / 1e6
	b := a.Free[0]
	assert.GreaterOrEqual(t, a.AtMost, want*(1-1e-9))
	assert.InEpsilon(t, want, b.OutsideL, 0.02)
	assert.InDelta(t, 5, b.Tank.Place.Turn.Degrees(), 1)
	t.Log(a.AtMost, a.Gap, b.OutsideL, b.Tank.Place.Turn.Degrees(), a.Looked)
}

// A turned box keeps the room with its corners.
func TestTurnedRoom(t *testing.T) {
	s := exactBox()
	s.feature(survey.FeatureSpec{Name: "dots", Shape: survey.Dots}, 0, v(500, 500, 500))
	s.limits.Room = room(0, 300, 0, 200, 0, 100)
	s.limits.Turn = Range{10 * degree, 10 * degree, true}
	b := s.solve(t).Free[0]
	half := b.Tank.Size
	sin, cos := math.Sincos(10 * degree)
	wide := half.Width*cos + half.Height*sin
	high := half.Width*sin + half.Height*cos
	assert.LessOrEqual(t, wide, 300+1e-5)
	assert.LessOrEqual(t, high, 200+1e-5)
	assert.Greater(t, b.OutsideL, 2.5)
}

// Nothing fits: that is said.
func TestNone(t *testing.T) {
	s := small()
	s.limits.Min = solid.Size{Width: 290, Height: 190, Depth: 140}
	space, err := survey.Adjust(s.readings)
	require.NoError(t, err)
	_, err = Solve(context.Background(), space, s.tank, s.rules, s.limits)
	assert.ErrorIs(t, err, ErrNone)
}

// The zero values are usable.
func TestZeroValues(t *testing.T) {
	var a Answer
	_, ok := a.Best()
	assert.False(t, ok)
	assert.Zero(t, Box{}.Value(true))
	var l Limits
	assert.Equal(t, Smallest, l.Least)
	assert.Equal(t, clearance.NoReason, Hindrance{}.Because)
}
