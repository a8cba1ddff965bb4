package survey

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What a slip hides of a mark, against the survey done again with a slip that just goes
// unseen in one number after the other.
func TestHidesAgainstSlips(t *testing.T) {
	make := func() *bay {
		b := newBay(5, math.Sqrt(3)) // u = 1 mm
		b.corners()
		b.blank("things", "T", 210, 140, 160)
		for _, from := range []string{"A", "B", "C", "D", "E", "F"} {
			b.tape(from, "T")
		}
		for _, pair := range baseTapes {
			b.tape(pair[0], pair[1])
		}
		return b
	}
	s, err := Adjust(make().readings)
	require.NoError(t, err)
	k, ok := s.Mark("T")
	require.True(t, ok)
	hides := s.Hides()
	most := 0.0
	for l, source := range s.net.source {
		row := s.Rows[s.sources[source].Row]
		slip := seenBy * s.sources[source].U / math.Sqrt(s.net.adjusted.Redundancy[l])
		b := make()
		if row.Kind == Tapes {
			for i := range b.readings.Tapes {
				if b.readings.Tapes[i].Length.Pos.Line == row.Pos.Line {
					b.readings.Tapes[i].Length.Value += slip
				}
			}
		} else {
			for i := range b.readings.Points {
				p := &b.readings.Points[i]
				if p.Pos.Line == row.Pos.Line {
					p.At[s.sources[source].Axis].Value += slip
				}
			}
		}
		off, err := Adjust(b.readings)
		require.NoError(t, err)
		m, _ := off.Mark("T")
		by := off.Marks[m].At.Sub(s.Marks[k].At).Norm()
		most = math.Max(most, by)
		assert.LessOrEqual(t, by, 1.05*hides[k]+1e-6, "%s %v", row.Kind, row.Pos)
	}
	assert.InEpsilon(t, most, hides[k], 0.05)

	alone := make()
	alone.readings.Tapes = alone.readings.Tapes[:3] // nothing checks three tapes of a mark
	s, err = Adjust(alone.readings)
	require.NoError(t, err)
	k, _ = s.Mark("T")
	assert.True(t, math.IsInf(s.Hides()[k], 1))
}
