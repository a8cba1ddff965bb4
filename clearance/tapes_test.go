package clearance

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/solid/shape"
	"elbowroom/survey"
)

func (s scene) tapes(t *testing.T) *Tapes {
	t.Helper()
	space, err := survey.Adjust(s.readings)
	require.NoError(t, err)
	return NewTapes(space)
}

func (t *Tapes) between(tb testing.TB, from, to string) (a, b int) {
	tb.Helper()
	a, ok := t.space.Mark(from)
	require.True(tb, ok, from)
	b, ok = t.space.Mark(to)
	require.True(tb, ok, to)
	return a, b
}

// bayOfThings has one of everything that can be in a tape's way, and marks
// around. Each mark is good to 1.5 mm (0.87 standard).
func bayOfThings() scene {
	var s scene
	s.feature(survey.FeatureSpec{Name: "wall", Shape: survey.Face, Mount: true}, 1.5,
		v(0, 0, 0), v(300, 0, 0), v(0, 200, 0), v(300, 200, 0), v(150, 100, 0))
	s.feature(survey.FeatureSpec{Name: "block", Shape: survey.Block}, 1.5,
		v(100, 50, 40), v(200, 50, 40), v(100, 150, 40), v(200, 150, 40), v(100, 50, 90), v(200, 50, 90), v(100, 150, 90), v(200, 150, 90))
	s.feature(survey.FeatureSpec{Name: "lip", Shape: survey.Edge, Behind: v(0, 1, 0)}, 1.5, v(0, 220, 60), v(300, 220, 60))
	s.feature(survey.FeatureSpec{Name: "sheet", Shape: survey.Skin}, 1.5, v(350, 0, 0), v(350, 200, 0), v(350, 0, 100), v(350, 200, 100))
	s.feature(survey.FeatureSpec{Name: "pipe", Shape: survey.Tube, Diameter: 30}, 1.5, v(-40, -50, 60), v(-40, 250, 60))
	s.feature(survey.FeatureSpec{Name: "hose", Shape: survey.Tube, Diameter: 30, Run: true}, 1.5, v(0, -60, 120), v(300, -60, 120))
	s.mark("", "left", v(20, 100, 65), 1.5)
	s.mark("", "right", v(280, 100, 65), 1.5)
	s.mark("", "above", v(150, 100, 130), 1.5)
	s.mark("", "roof", v(150, 320, 20), 1.5)
	s.mark("", "out", v(400, 100, 50), 1.5)
	s.mark("", "far", v(-100, 100, 60), 1.5)
	s.mark("", "under", v(420, 100, -120), 1.5)
	s.mark("", "low", v(150, -120, 120), 1.5)
	return s
}

func TestStraight(t *testing.T) {
	tapes := bayOfThings().tapes(t)
	for _, c := range []struct {
		from, to string
		straight bool
		why      string
	}{
		{"left", "right", false, "through the block"},
		{"left", "above", true, "over its edge"},
		{"left", "block1", true, "to its corner"},
		{"left", "block4", false, "to a corner behind it, through the block itself"},
		{"block5", "block8", true, "along its own face"},
		{"above", "roof", false, "through what is behind the lip"},
		{"left", "lip1", true, "to the lip from below"},
		{"lip1", "lip2", true, "along the lip"},
		{"right", "out", false, "through the sheet, which is thin"},
		{"right", "sheet3", true, "to the sheet's corner"},
		{"left", "far", false, "through the pipe"},
		{"left", "pipe2", true, "to its own pipe"},
		{"wall1", "wall4", true, "along the wall"},
		{"wall3", "under", false, "through what is behind the wall"},
		{"wall5", "above", false, "through the block"},
		{"wall1", "left", true, "off the wall"},
		{"above", "low", true, "where only a hose is to run"},
	} {
		a, b := tapes.between(t, c.from, c.to)
		assert.Equal(t, c.straight, tapes.Straight(a, b), "%s to %s: %s", c.from, c.to, c.why)
		assert.Equal(t, c.straight, tapes.Straight(b, a), "%s to %s: %s", c.to, c.from, c.why)
	}
}

// Against walking along the tape: where it is said to be straight no place on it
// is deep in a thing, and where it is not, some place is in one.
func TestStraightAgainstWalkingAlongIt(t *testing.T) {
	rng := rand.New(rand.NewPCG(61, 62))
	blocked := 0
	for range 300 {
		s := scene{}
		at := func() r3.Vector { return v(300*rng.Float64(), 300*rng.Float64(), 300*rng.Float64()) }
		var corners []r3.Vector
		middle := at()
		for range 6 {
			corners = append(corners, middle.Add(at().Sub(v(150, 150, 150)).Mul(0.8)))
		}
		s.feature(survey.FeatureSpec{Name: "block", Shape: survey.Block}, 0, corners...)
		p, q := at(), at()
		s.mark("", "P", p, 0)
		s.mark("", "Q", q, 0)
		tapes := s.tapes(t)
		a, b := tapes.between(t, "P", "Q")
		least := math.Inf(1)
		for k := range 1001 {
			place := shape.Hull{Points: []r3.Vector{p.Add(q.Sub(p).Mul(float64(k) / 1000))}}
			least = math.Min(least, shape.Distance(place, shape.Hull{Points: corners}).Signed)
		}
		if tapes.Straight(a, b) {
			assert.Greater(t, least, -1e-3*q.Sub(p).Norm())
		} else {
			blocked++
			assert.Less(t, least, 1e-3*q.Sub(p).Norm())
		}
	}
	assert.Greater(t, blocked, 20)
	assert.Less(t, blocked, 280)
}

func TestNewTapes(t *testing.T) {
	s := bayOfThings()
	s.tape("right", "above", 147.7, 1.5)
	s.mark("", "close", v(20, 100, 100), 1.5)
	s.mark("", "away", v(20, 100, 1100), 1.5)
	tapes := s.tapes(t)
	for _, c := range []struct {
		from, to string
		is       bool
		why      string
	}{
		{"left", "above", true, ""},
		{"right", "above", false, "there already"},
		{"left", "left", false, "itself"},
		{"left", "close", false, "shorter than 2 in"},
		{"left", "away", false, "longer than 3 ft"},
		{"left", "hose1", false, "nothing to hook on where a hose is to run"},
	} {
		a, b := tapes.between(t, c.from, c.to)
		assert.Equal(t, c.is, tapes.New(a, b), c.why)
		assert.Equal(t, c.is, tapes.New(b, a), c.why)
	}
}

// A tape that would run through something is not proposed, neither to settle a
// line nor for a weak mark; the next best is, if any helps.
func TestNoTapeThroughAThing(t *testing.T) {
	settling := taped(6.8)
	settling.mark("", "X", v(600, 50, 50), 0.2)
	weak, _ := weakStud()
	for name, c := range map[string]struct {
		scene scene
		mark  string
	}{"settling": {settling, ""}, "weak": {weak, "S"}} {
		before, ok := newTapeFor(c.scene.check(t).MeasureNext, c.mark)
		require.True(t, ok, name)
		s, tape := c.scene, before.Tapes[0]
		space := s.checker(t).space
		from, to := s.tapes(t).between(t, tape[0], tape[1])
		between := space.Marks[from].At.Add(space.Marks[to].At).Mul(0.5)
		var corners []r3.Vector
		for k := range 8 {
			corners = append(corners, between.Add(v(float64(k&1*40-20), float64(k>>1&1*40-20), float64(k>>2&1*40-20))))
		}
		s.feature(survey.FeatureSpec{Name: "lump", Shape: survey.Block}, 0.5, corners...)
		assert.False(t, s.tapes(t).Straight(from, to), name)
		for _, m := range s.check(t).MeasureNext {
			assert.NotContains(t, m.Tapes, tape, name)
			for _, pulled := range m.Tapes {
				a, b := s.tapes(t).between(t, pulled[0], pulled[1])
				assert.True(t, m.Kind != NewTape || s.tapes(t).Straight(a, b), name)
			}
		}
	}
}

func newTapeFor(list []Measure, mark string) (Measure, bool) {
	for _, m := range list {
		if m.Kind == NewTape && m.Mark == mark {
			return m, true
		}
	}
	return Measure{}, false
}
