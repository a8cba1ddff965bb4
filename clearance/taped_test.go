package clearance

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/survey"
	"elbowroom/survey/length"
	"elbowroom/survey/table"
)

// tape pulls a tape between two marks, with an error.
func (s *scene) tape(from, to string, mm, within float64) {
	s.readings.Tapes = append(s.readings.Tapes, survey.Tape{
		From: from, To: to, Length: survey.Coordinate{Value: mm, Given: true},
		Limit: length.Limit{Plus: within, Minus: within},
		Pos:   table.Pos{File: "tape.csv", Line: len(s.readings.Tapes) + 2, Column: 1},
	})
}

// taped is the cube with a stud beside it whose place is known from tapes alone,
// from marks that all lie on its far side.
func taped(gap float64) scene {
	s := scene{tank: box100(), rules: Rules{LookedAt: allSides, AcceptSingle: true}}
	marks := map[string]r3.Vector{"A": v(-200, -150, 0), "B": v(300, -160, 20), "C": v(-180, 240, 10), "D": v(280, 250, -10), "E": v(40, 30, 400)}
	for _, name := range []string{"A", "B", "C", "D", "E"} {
		s.mark("", name, marks[name], 0.2)
	}
	stud := v(100+gap, 50, 50)
	s.readings.Features = append(s.readings.Features, dots("stud"))
	p := survey.Point{Feature: "stud", Mark: "S", Pos: table.Pos{File: "points.csv", Line: 9, Column: 1}}
	s.readings.Points = append(s.readings.Points, p)
	for _, name := range []string{"A", "C", "E"} {
		s.tape(name, "S", marks[name].Sub(stud).Norm(), 1.5)
	}
	// One more, from almost straight above, so that the mark is placed but weakly.
	s.tape("D", "S", marks["D"].Sub(stud).Norm(), 4)
	return s
}

// The tape that is named must settle the line when it is pulled as well as is
// asked, and must not when it is pulled somewhat worse.
func TestNewTapeSettlesTheLine(t *testing.T) {
	s := taped(7.2)
	rep := s.check(t)
	require.Equal(t, Unproven, rep.Verdict)
	require.NotEmpty(t, rep.MeasureNext)
	m := rep.MeasureNext[0]
	require.Contains(t, []MeasureKind{NewTape, TakeAgain}, m.Kind)
	require.NotEmpty(t, m.Tapes)
	try := func(within float64) Verdict {
		q := s
		q.readings.Tapes = append([]survey.Tape(nil), s.readings.Tapes...)
		space := s.checker(t).space
		from, _ := space.Mark(m.Tapes[0][0])
		to, _ := space.Mark(m.Tapes[0][1])
		q.tape(m.Tapes[0][0], m.Tapes[0][1], space.Marks[from].At.Sub(space.Marks[to].At).Norm(), within)
		return q.check(t).Verdict
	}
	assert.Equal(t, Clears, try(m.Within*0.98))
}

// Clearances of taped marks: the stated uncertainty against 2,000 surveys taken again.
func TestTapedClearancesAgainstSimulatedSurveys(t *testing.T) {
	s := taped(30)
	want := allLines(s.checker(t))["body against stud"]
	rng := rand.New(rand.NewPCG(51, 52))
	var sum, squares float64
	const n = 2000
	for range n {
		q := remeasured(s, rng)
		q.readings.Tapes = append([]survey.Tape(nil), s.readings.Tapes...)
		for i := range q.readings.Tapes {
			q.readings.Tapes[i].Length.Value += q.readings.Tapes[i].Limit.U() * rng.NormFloat64()
		}
		off := allLines(q.checker(t))["body against stud"].main.value - want.main.value
		sum += off
		squares += off * off
	}
	mean := sum / n
	// The standard error of a standard deviation from 2,000 draws is 1.6 %.
	assert.InEpsilon(t, math.Sqrt(squares/n-mean*mean), want.main.u, 0.05)
}

// A tape that passes in front of a side is evidence: what could hide there is smaller.
func TestTautTapeIsEvidence(t *testing.T) {
	s := scene{tank: box100()}
	s.mark("", "A", v(103, -300, 50), 0.1)
	s.mark("", "B", v(103, 400, 50), 0.1)
	hidden := func() SideLine {
		for _, side := range s.check(t).Sides {
			if side.Side.String() == "right" {
				return side
			}
		}
		return SideLine{}
	}
	assert.False(t, hidden().HiddenOK)
	s.tape("A", "B", 700, 1)
	side := hidden()
	assert.True(t, side.HiddenOK)
	// The line passes half way up the side, within the gap: from its edges it is
	// 50 away, and 3 more out or in.
	assert.InDelta(t, 2*math.Hypot(50, 3), side.Hidden, hiddenShare*102)
	assert.InDelta(t, 1, side.Cover, 1e-9)
}
