package survey

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Critical values: 3.29 and 4.13 of Baarda's test at 0.001 with a power of 0.80,
// and the least error that is seen at a redundancy of 1/2: 5.84 sigma.
func TestLeastErrorThatIsSeen(t *testing.T) {
	assert.InDelta(t, 4.13215, seenBy, 0.0001)
	assert.InDelta(t, 17.0746, seenBy*seenBy, 0.001)
	a, b := point("things", "A", 10, 0, 0, 1), point("things", "A", 10.2, 0, 0, 1)
	s := adjust(t, Readings{Features: loose, Points: []Point{a, b}})
	got := s.Adjustment.Readings[0]
	u := 1 / math.Sqrt(3)
	assert.InDelta(t, 0.5, got.Redundancy, 1e-12)
	assert.InDelta(t, 5.84*u, got.Seen, 0.005*u)
	assert.InDelta(t, 0.1, got.Residual, 1e-12)
	assert.InDelta(t, 0.1/(u*math.Sqrt(0.5)), got.W, 1e-9)
	mark, moves, ok := s.Unseen(0)
	require.True(t, ok)
	assert.Zero(t, mark)
	assert.InDelta(t, got.Seen/2, moves, 1e-12, "half of it goes into the mean")
	assert.Equal(t, 3., s.Adjustment.Redundancy)
	assert.InDelta(t, 2*0.01/(u*u)/3, s.Adjustment.VarianceFactor, 1e-9)
}

// An error of the size that just goes unseen moves the mark as Unseen says.
func TestUnseenAgainstAMovedReading(t *testing.T) {
	b := newBay(12, 1e-2).corners()
	b.blank("things", "T1", 200, 150, 180)
	for _, from := range []string{"A", "B", "C", "D", "F"} {
		b.tape(from, "T1")
	}
	s := b.adjust(t)
	row := 6 + 2
	_, moves, ok := s.Unseen(row)
	require.True(t, ok)
	b.readings.Tapes[2].Length.Value += s.Adjustment.Readings[row].Seen
	after := b.adjust(t)
	most := 0.0
	for m := range s.Marks {
		most = math.Max(most, after.Marks[m].At.Sub(s.Marks[m].At).Norm())
	}
	assert.InEpsilon(t, most, moves, 1e-3)
	// Nothing checks a mark by three tapes.
	b.readings.Tapes = b.readings.Tapes[:3]
	s = b.adjust(t)
	_, _, ok = s.Unseen(row)
	assert.False(t, ok)
	assert.True(t, math.IsInf(s.Adjustment.Readings[row].Seen, 1))
}

// The same in a mounting frame, whose origin stays where it is though nothing
// but the frame holds the marks.
func TestUnseenInTheFrame(t *testing.T) {
	b := tapeOnly(3, 1e-3)
	s := b.adjust(t)
	origin, _ := s.Mark(b.readings.Frame.Origin)
	tried := 0
	for row, strength := range s.Adjustment.Readings {
		mark, moves, ok := s.Unseen(row)
		if !ok || strength.Redundancy < 0.1 {
			continue
		}
		tried++
		pull := b.readings
		pull.Tapes = slices.Clone(pull.Tapes)
		pull.Tapes[row].Length.Value += strength.Seen
		after, err := Adjust(pull)
		require.NoError(t, err)
		assert.Less(t, after.Marks[origin].At.Norm(), 1e-9)
		most := 0.0
		for m := range s.Marks {
			most = math.Max(most, after.Marks[m].At.Sub(s.Marks[m].At).Norm())
		}
		assert.InEpsilon(t, most, moves, 1e-3)
		assert.InEpsilon(t, most, after.Marks[mark].At.Sub(s.Marks[mark].At).Norm(), 1e-3)
		assert.NotEqual(t, origin, mark)
	}
	assert.Greater(t, tried, 5)
}

// A number of a reading that the others hardly check is not what its strength is
// of, however much its rounding stands out.
func TestHardlyCheckedNumbers(t *testing.T) {
	var s Strength
	s.take(1e-9, 1, 1e-19, 1)
	s.take(0.5, 1, 0.5, 2)
	s.take(1e-9, 1, 1e-19, 3)
	assert.Equal(t, 0.5, s.Redundancy)
	assert.Equal(t, 2, s.tie)
}

// x, y and z of one row are one suspect, and the likeliest stands for it.
func TestOneSuspectARow(t *testing.T) {
	s := search{adjuster: &adjuster{nets: &build{rows: []int{7, 7, 7, 8, 9, 9}}}}
	assert.Equal(t, []int{1, 3, 4}, s.oneARow([]int{0, 1, 2, 3, 4, 5}, 1))
	assert.Equal(t, []int{2}, s.oneARow([]int{0, 1, 2}, 2))
}

func TestZeroAdjustment(t *testing.T) {
	s, err := Adjust(Readings{})
	require.NoError(t, err)
	assert.Equal(t, 1., s.Adjustment.Chance)
	assert.Zero(t, s.Adjustment.VarianceFactor)
}
