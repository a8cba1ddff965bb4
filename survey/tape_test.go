package survey

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/survey/length"
)

// The figures of the published tables for 1, 3, 5 and 10 m (Directive
// 2014/32/EU, MI-008: makers' tables that quote it).
func TestTapeLimit(t *testing.T) {
	for class, want := range map[string][4]float64{
		"I":   {0.2, 0.4, 0.6, 1.1},
		"II":  {0.5, 0.9, 1.3, 2.3},
		"III": {1.0, 1.8, 2.6, 4.6},
	} {
		f := TapeFacts{Class: class}
		for i, metres := range [4]float64{1, 3, 5, 10} {
			assert.InDelta(t, want[i], f.Limit(1000*metres), 1e-12, "%s at %g m", class, metres)
			assert.InDelta(t, want[i], f.Limit(1000*metres-999), 1e-12, "%s: rounded up to %g m", class, metres)
			assert.Greater(t, f.Limit(1000*metres+1), want[i])
		}
		assert.Equal(t, f.Limit(1), f.Limit(0), "no tape is better than over its first metre")
	}
	assert.Zero(t, TapeFacts{}.Limit(5000))
	// 3 m in inches and back is 3 m all the same.
	assert.InDelta(t, 0.9, TapeFacts{Class: "II"}.Limit(3000/25.4*25.4+1e-9), 1e-12)
}

// 0.2943 N/m over 3 m at 20 N: 0.2943² 3³ / (24 20²) m, worked by hand.
func TestSagAndWarmth(t *testing.T) {
	assert.InDelta(t, 0.2436, sag(3000), 1e-4)
	assert.InDelta(t, 8*sag(1000), sag(2000), 1e-12, "by the cube of the span")
	assert.InDelta(t, 0.23, warmth(1000), 1e-12)
}

func TestTapeDoubts(t *testing.T) {
	read := func(mm float64) Tape {
		return Tape{From: "A", To: "B", Length: Coordinate{Value: mm}, Limit: sixteenth}
	}
	r := Readings{Style: length.Style{Unit: length.MM}, Tapes: []Tape{read(300), read(1700)}}
	assert.Empty(t, r.TapeDoubts(), "at the size of a bay neither matters")
	r.Tapes = append(r.Tapes, read(5000), read(4000))
	r.Tapes[2].To = "C"
	got := r.TapeDoubts()
	require.Len(t, got, 2)
	assert.Equal(t, "the tape from A to C reads about 1.2 mm long if it hung free: hold it up in the middle, or pull harder", got[0].Says)
	assert.Equal(t, "the tape from A to C is off by about 1.2 mm if it was 20 °C warmer or colder than the room it was checked in", got[1].Says)
	r.Tapes[2].Limit = length.Limit{}
	r.Tapes[3].Limit = length.Limit{}
	assert.Empty(t, r.TapeDoubts(), "a length that is said to be exact is not doubted")
}
