package survey

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Of two equal readings of u = 1 mm each has redundancy 1/2: an error is seen
// from 4.13/sqrt(1/2) mm on and moves the mark by half of that. What is read once
// may be anywhere; so may what is measured from it.
func TestUnseenMoves(t *testing.T) {
	limit := math.Sqrt(3) // u = 1 mm
	r := Readings{Features: loose, Points: []Point{
		point("things", "twice", 10, 0, 0, limit), point("things", "twice", 10, 0, 0, limit),
		point("things", "once", 40, 0, 0, limit),
		point("things", "exact", 70, 0, 0, 0),
		point("things", "from once", 5, 0, 0, limit), point("things", "from once", 5, 0, 0, limit),
	}}
	r.Points[4].Base, r.Points[5].Base = "once", "once"
	s := adjust(t, r)
	moves := s.UnseenMoves()
	of := func(name string) float64 {
		m, ok := s.Mark(name)
		require.True(t, ok)
		return moves[m]
	}
	assert.InDelta(t, seenBy*math.Sqrt2/2, of("twice"), 1e-9)
	assert.True(t, math.IsInf(of("once"), 1))
	assert.True(t, math.IsInf(of("from once"), 1))
	assert.Zero(t, of("exact"))
	d, ok := s.Unchecked(moves)
	require.True(t, ok)
	assert.Equal(t, Remark, d.Severity)
	assert.Equal(t, "little or nothing checks where once and from once are: a slip in a reading may have moved them far and not show", d.Says)

	_, ok = adjust(t, Readings{Features: loose, Points: r.Points[:2]}).Unchecked([]float64{1})
	assert.False(t, ok)
}

// In a network it is what adjusting again makes of a reading that is off by just
// what goes unseen: of every number of every reading, and of each mark.
func TestUnseenMovesByBruteForce(t *testing.T) {
	b := newBay(7, math.Sqrt(3))
	b.corners()
	b.blank("things", "T", 200, 150, 160)
	for _, from := range []string{"A", "B", "C", "D", "E", "F"} {
		b.tape(from, "T")
	}
	for _, pair := range baseTapes {
		b.tape(pair[0], pair[1])
	}
	s, err := Adjust(b.readings)
	require.NoError(t, err)
	moves := s.UnseenMoves()
	checked, seen := s.seenSources()
	most := make([]float64, len(moves))
	const step = 0.1 // mm: small enough to be linear
	for k, source := range s.sources {
		row := s.Rows[source.Row]
		r := b.readings
		r.Points, r.Tapes = append([]Point(nil), r.Points...), append([]Tape(nil), r.Tapes...)
		for i := range r.Points {
			if r.Points[i].Pos == row.Pos {
				r.Points[i].At[source.Axis].Value += step
			}
		}
		for i := range r.Tapes {
			if r.Tapes[i].Pos == row.Pos {
				r.Tapes[i].Length.Value += step
			}
		}
		again, err := Adjust(r)
		require.NoError(t, err)
		for m := range most {
			by := again.Marks[m].At.Sub(s.Marks[m].At).Norm() / step * seen[k]
			if !checked[k] && by > 2*s.Spread(m).Worst {
				by = math.Inf(1)
			}
			most[m] = math.Max(most[m], by)
		}
	}
	finite := 0
	for m := range moves {
		if math.IsInf(most[m], 1) {
			assert.True(t, math.IsInf(moves[m], 1), s.Marks[m].Name)
			continue
		}
		finite++
		assert.InDelta(t, most[m], moves[m], 0.01*most[m], s.Marks[m].Name)
	}
	assert.Positive(t, finite)
}

// A mark of a flat is checked square to it, not along it: a reading that moves
// another mark only by its height counts as checked.
func TestFlatChecksSquareToIt(t *testing.T) {
	s := &Space{
		Rows:    []Row{{}},
		sources: []Source{{0, 0, 2}, {0, 1, 2}, {0, 2, 2}},
		checked: []float64{0, 0, 0},
	}
	s.Rows[0].addFlat(r3.Vector{Z: 1}, 0.25, 2)
	checked, seen := s.seenSources()
	assert.Equal(t, []bool{false, false, true}, checked)
	assert.Equal(t, []float64{aSlip, aSlip, seenBy * 2 / 0.5}, seen)
}

// Repeats 2 mm apart, each of u = 1 mm, are apart by 2/sqrt(2) of what chance
// makes of them; exact readings and other bases do not count.
func TestRepeats(t *testing.T) {
	limit := math.Sqrt(3)
	r := Readings{Features: loose, Points: []Point{
		point("things", "A", 10, 5, 0, limit), point("things", "A", 12, 7, 2, limit),
		point("things", "B", 40, 0, 0, 0), point("things", "B", 40, 0, 0, 0),
	}}
	got := adjust(t, r).Adjustment.Repeats
	assert.Equal(t, 1, got.N)
	assert.InDelta(t, math.Sqrt2, got.Share, 1e-12)
}

// The first tape of a file that no longer agrees when it is pulled again last
// says so.
func TestFirstTapeAgainLast(t *testing.T) {
	b := newBay(7, math.Sqrt(3))
	b.corners()
	b.blank("things", "T", 200, 150, 160)
	for _, from := range []string{"A", "B", "C", "D", "E", "F", "A"} {
		b.tape(from, "T")
	}
	last := &b.readings.Tapes[6].Length
	last.Value += 13
	last.Text = ""
	s, err := Adjust(b.readings)
	require.NoError(t, err)
	require.NotEmpty(t, s.Doubts)
	assert.Contains(t, s.Doubts[0].Says, "the first tape was pulled again last")
	for _, d := range s.Doubts {
		assert.NotContains(t, d.Says, "stands", "no flat is blamed for a tape")
	}
}

// What all tapes of a file are long by is found and told, to its uncertainty.
func TestZeros(t *testing.T) {
	r := bayOf(func(int) float64 { return 1.2 })
	r.TapeFacts.Zero = 2
	r.Points = append(r.Points, point("", "rule-0", 2000, 0, 0, 0), point("", "rule-12", 2304.8, 0, 0, 0))
	taped(&r, "rule-0", "rule-12", 304.8+1.2, 0.2)
	zeros := adjust(t, r).Zeros()
	require.Len(t, zeros, 1)
	assert.InDelta(t, 1.2, zeros[0].Long, 0.1)
	assert.InDelta(t, 0.2/math.Sqrt(3), zeros[0].U, 0.03)
}
