package clearance

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/survey"
)

// pull adds the tapes of a measure, as long as they are between the given places.
func (s scene) pull(t *testing.T, m Measure, places map[string]r3.Vector, off func(within float64) float64) scene {
	t.Helper()
	q := s
	q.readings.Tapes = append([]survey.Tape(nil), s.readings.Tapes...)
	for _, tape := range m.Tapes {
		a, ok := places[tape[0]]
		require.True(t, ok, tape[0])
		b, ok := places[tape[1]]
		require.True(t, ok, tape[1])
		q.tape(tape[0], tape[1], a.Sub(b).Norm()+off(m.Within), m.Within)
	}
	return q
}

// weakStud is the cube with a stud whose tapes all come from one side, so near the
// gap that no reading can settle the line.
func weakStud() (scene, map[string]r3.Vector) { return weakStuds(v(106.1, 50, 50)) }

// weakStuds is the same with studs S, S2.. at such places.
func weakStuds(at ...r3.Vector) (scene, map[string]r3.Vector) {
	s := scene{tank: box100(), rules: Rules{LookedAt: allSides, AcceptSingle: true}}
	places := map[string]r3.Vector{
		"A": v(-200, -150, 0), "B": v(-180, 240, 10), "C": v(-220, 60, 60), "D": v(-190, 40, -40), "E": v(-150, 100, 20),
		"F": v(120, 200, 450), "G": v(300, 220, 60),
	}
	for _, name := range []string{"A", "B", "C", "D", "E", "F", "G"} {
		s.mark("", name, places[name], 0.2)
	}
	for i, p := range at {
		name, feature := "S", "stud"
		if i > 0 {
			name, feature = fmt.Sprint("S", i+1), fmt.Sprint("stud", i+1)
		}
		places[name] = p
		s.readings.Features = append(s.readings.Features, dots(feature))
		s.readings.Points = append(s.readings.Points, survey.Point{Feature: feature, Mark: name})
		for _, from := range []string{"A", "B", "C", "D", "E"} {
			s.tape(from, name, places[from].Sub(p).Norm(), 1.5)
		}
	}
	return s, places
}

func forMark(list []Measure, mark string) (Measure, bool) {
	for _, m := range list {
		if m.Mark == mark {
			return m, true
		}
	}
	return Measure{}, false
}

// The reading for a weak mark leaves what it is said to leave: by its stated
// uncertainty, and by the scatter of surveys taken again with it.
func TestReadingForAWeakMarkKeepsItsPromise(t *testing.T) {
	s, places := weakStud()
	rep := s.check(t)
	require.Equal(t, []Because{Near}, rep.Because)
	m, ok := forMark(rep.MeasureNext, "S")
	require.True(t, ok, "%+v", rep.MeasureNext)
	assert.Equal(t, NewTape, m.Kind)
	assert.Equal(t, []Pair{{"body", "stud"}}, m.For)
	assert.False(t, m.Unchecked)
	space := s.checker(t).space
	k, _ := space.Mark("S")
	before := space.Spread(k)
	assert.InDelta(t, before.Worst, m.U, 1e-9)
	assert.Less(t, m.Left, worthIt*m.U)

	along := func(c *survey.Space) float64 {
		d := c.Covariance(k, k)
		w := [3]float64{before.Toward.X, before.Toward.Y, before.Toward.Z}
		sum := 0.0
		for i := range w {
			for j := range w {
				sum += w[i] * w[j] * d.At(i, j)
			}
		}
		return math.Sqrt(sum)
	}
	exact := func(float64) float64 { return 0 }
	assert.InEpsilon(t, m.Left, along(s.pull(t, m, places, exact).checker(t).space), 1e-3)

	rng := rand.New(rand.NewPCG(63, 64))
	scatter := func(with bool) float64 {
		squares := 0.0
		const n = 600
		for range n {
			q := remeasured(s, rng)
			if with {
				q = q.pull(t, m, places, exact)
			} else {
				q.readings.Tapes = append([]survey.Tape(nil), q.readings.Tapes...)
			}
			for i := range q.readings.Tapes {
				q.readings.Tapes[i].Length.Value += q.readings.Tapes[i].Limit.U() * rng.NormFloat64()
			}
			off := q.checker(t).space.Marks[k].At.Sub(places["S"]).Dot(before.Toward)
			squares += off * off / n
		}
		return math.Sqrt(squares)
	}
	// The standard error of a standard deviation from 600 draws is 2.9 %.
	assert.InEpsilon(t, m.U, scatter(false), 0.09)
	assert.InEpsilon(t, m.Left, scatter(true), 0.09)
}

// singleStud is the cube with a stud that just three tapes place, which nothing checks.
func singleStud(gap float64) (scene, map[string]r3.Vector) {
	s := scene{tank: box100(), rules: Rules{LookedAt: allSides}}
	places := map[string]r3.Vector{
		"A": v(-50, -150, 0), "B": v(380, 240, 0), "C": v(400, -100, 0), "D": v(420, 80, 260), "E": v(60, -300, 200), "S": v(100+gap, 50, 50),
	}
	for range 2 { // so that they are checked
		for _, name := range []string{"A", "B", "C", "D", "E"} {
			s.mark(map[bool]string{true: "wall"}[places[name].Z == 0], name, places[name], 0.2)
		}
	}
	s.readings.Features = append(s.readings.Features, survey.FeatureSpec{Name: "wall", Shape: survey.Face, Mount: true})
	s.readings.Features = append(s.readings.Features, dots("stud"))
	s.readings.Points = append(s.readings.Points, survey.Point{Feature: "stud", Mark: "S"})
	for _, name := range []string{"A", "B", "C"} {
		s.tape(name, "S", places[name].Sub(places["S"]).Norm(), 1)
	}
	return s, places
}

// The tape for a mark that nothing checks checks it: the line clears, and an inch
// misread in any of the tapes is seen.
func TestReadingForAMarkThatNothingChecks(t *testing.T) {
	s, places := singleStud(15)
	rep := s.check(t)
	require.Equal(t, []Because{OneReading}, rep.Because)
	require.NotEmpty(t, rep.line("body", "stud").Single)
	for _, r := range rep.line("body", "stud").Single {
		assert.Equal(t, "S", r.Tape[1])
	}
	m, ok := forMark(rep.MeasureNext, "S")
	require.True(t, ok, "%+v", rep.MeasureNext)
	assert.Equal(t, NewTape, m.Kind)
	assert.True(t, m.Unchecked)
	with := s.pull(t, m, places, func(float64) float64 { return 0 })
	assert.Equal(t, Clears, with.check(t).Verdict)
	for _, r := range with.checker(t).space.Rows {
		if r.Kind == survey.Tapes {
			assert.GreaterOrEqual(t, r.Redundancy, survey.LeastRedundancy)
		}
	}
	for i := range with.readings.Tapes {
		for _, slip := range []float64{-aSlip, aSlip} {
			q := with
			q.readings.Tapes = append([]survey.Tape(nil), with.readings.Tapes...)
			q.readings.Tapes[i].Length.Value += slip
			assert.NotEmpty(t, q.checker(t).space.Doubts, "tape %d off by %.0f", i, slip)
		}
	}
}

// Where no tape can be pulled, the same are to be taken once more.
func TestOnceMoreWhereNoTapeHelps(t *testing.T) {
	s, _ := singleStud(15)
	for i := range s.readings.Points { // D and E are not there
		if m := s.readings.Points[i].Mark; m == "D" || m == "E" {
			s.readings.Points[i].Mark = "A"
			s.readings.Points[i].At = s.readings.Points[0].At
		}
	}
	rep := s.check(t)
	m, ok := forMark(rep.MeasureNext, "S")
	require.True(t, ok)
	assert.Equal(t, TakeOnceMore, m.Kind)
	assert.Subset(t, [][2]string{{"A", "S"}, {"B", "S"}, {"C", "S"}}, m.Tapes)
	assert.Equal(t, 1.0, m.Within)
}

// A weak mark needs no reading where its line clears, but where all lines together
// fall short.
func TestReadingForAWeakMarkOnlyWhereALineHangsOnIt(t *testing.T) {
	near := v(107.4, 50, 50) // about 98 % each
	s, _ := weakStuds(near, v(180, 50, 50))
	rep := s.check(t)
	require.Equal(t, Clears, rep.Verdict)
	assert.Empty(t, rep.MeasureNext)
	s, _ = weakStuds(near, v(180, 50, 50), v(107.6, 40, 60), v(107.45, 60, 40))
	rep = s.check(t)
	require.Equal(t, []Because{Together}, rep.Because)
	for mark, want := range map[string]bool{"S": true, "S2": false, "S3": true, "S4": false} { // S2 is far off, S4 99.4 % sure
		_, ok := forMark(rep.MeasureNext, mark)
		assert.Equal(t, want, ok, mark)
	}
}

// Only marks that an unproven line hangs on, and no more than a handful.
func TestNoFloodOfReadingsForMarks(t *testing.T) {
	s, places := weakStud()
	for i := range 20 {
		at := v(106.1, 20+3*float64(i), 30+2*float64(i))
		if i >= 10 {
			at.X += 150 // far off: no line hangs on it
		}
		name := fmt.Sprintf("W%d", i)
		feature := "w" + name
		s.readings.Features = append(s.readings.Features, dots(feature))
		s.readings.Points = append(s.readings.Points, survey.Point{Feature: feature, Mark: name})
		for _, from := range []string{"A", "B", "C", "D", "E"} {
			s.tape(from, name, places[from].Sub(at).Norm(), 1.5)
		}
	}
	rep := s.check(t)
	n := 0
	for i, m := range rep.MeasureNext {
		if m.Mark == "" {
			assert.Zero(t, n, "measure %d settles a line and stands below", i)
			continue
		}
		n++
		assert.NotContains(t, []string{"W10", "W11", "W12", "W13", "W14", "W15", "W16", "W17", "W18", "W19"}, m.Mark)
	}
	assert.Equal(t, mostForMarks, n)
}
