package survey

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"elbowroom/survey/length"
	"elbowroom/survey/table"
)

// A flat probed with a ball of 3 mm: the marks lie on the flat, not 3 mm off it.
func TestBallTipIsTakenOffAFlat(t *testing.T) {
	r := Readings{Features: []FeatureSpec{{Name: "wall", Shape: Face, Mount: true}, {Name: "lip", Shape: Edge}}}
	for i := range 9 {
		p := point("wall", fmt.Sprintf("B%d", i), 100*float64(i%3), 100*float64(i/3), 3, 1)
		p.Tip = 3
		r.Points = append(r.Points, p)
	}
	for i := range 2 {
		p := point("lip", fmt.Sprintf("L%d", i), 100*float64(i), 300, 40, 1)
		p.Tip = 3
		r.Points = append(r.Points, p)
	}
	s := adjust(t, r)
	for _, m := range s.Marks[:9] {
		assert.InDelta(t, 0, m.At.Z, 1e-9)
	}
	assert.InDelta(t, 0, s.Features[0].Plane.Centre.Z, 1e-9)
	// An edge has no normal to speak of: its marks stay, with a wider limit.
	lip, _ := s.Mark("L0")
	assert.Equal(t, 40.0, s.Marks[lip].At.Z)
	assert.InDelta(t, math.Sqrt((1.0+9)/3), s.Uncertainty(lip), 1e-9)
	assert.NotEmpty(t, s.Doubts)
}

// taped adds a tape to the readings.
func taped(r *Readings, from, to string, mm, within float64) {
	r.Tapes = append(r.Tapes, Tape{
		From: from, To: to, Length: Coordinate{Value: mm, Given: true, Text: fmt.Sprint(mm)},
		Limit: length.Limit{Plus: within, Minus: within},
		Pos:   table.Pos{File: "tape.csv", Line: len(r.Tapes) + 2, Column: 1},
	})
}

// bayOf is a mark amid six known ones, each taped with an error.
func bayOf(errors func(i int) float64) Readings {
	r := Readings{Features: []FeatureSpec{{Name: "things", Shape: Dots}}}
	known := [][3]float64{{0, 0, 0}, {400, 0, 10}, {0, 300, -20}, {410, 310, 0}, {200, 150, 300}, {-50, 120, 280}}
	for i, k := range known {
		r.Points = append(r.Points, point("", fmt.Sprintf("A%d", i), k[0], k[1], k[2], 0))
	}
	marks := [][3]float64{{150, 120, 80}, {260, 90, 140}}
	for m, at := range marks {
		p := point("things", fmt.Sprintf("T%d", m), 0, 0, 0, 1)
		p.At = [3]Coordinate{}
		r.Points = append(r.Points, p)
		for i, k := range known {
			d := math.Sqrt((at[0]-k[0])*(at[0]-k[0]) + (at[1]-k[1])*(at[1]-k[1]) + (at[2]-k[2])*(at[2]-k[2]))
			taped(&r, fmt.Sprintf("A%d", i), fmt.Sprintf("T%d", m), d+errors(m*6+i), 1.5)
		}
	}
	return r
}

// A rule of known length, hooked, shows the hook's offset: with a zero error
// that all tapes of the file share, it is taken off the others.
func TestHookCheckIsTakenOff(t *testing.T) {
	r := bayOf(func(int) float64 { return 1.2 })
	r.TapeFacts.Zero = 2
	r.Points = append(r.Points, point("", "rule-0", 2000, 0, 0, 0), point("", "rule-12", 2304.8, 0, 0, 0))
	for range 4 {
		taped(&r, "rule-0", "rule-12", 304.8+1.2, 0.2)
	}
	s := adjust(t, r)
	m, _ := s.Mark("T0")
	assert.InDelta(t, 150, s.Marks[m].At.X, 0.1)
	assert.InDelta(t, 120, s.Marks[m].At.Y, 0.1)
	assert.InDelta(t, 80, s.Marks[m].At.Z, 0.1)
}

func TestFirstMarkAgainLastShowsADatumThatMoved(t *testing.T) {
	r := Readings{Features: loose, Points: []Point{point("things", "A", 10, 0, 0, 1), point("things", "B", 40, 0, 0, 1), point("things", "A", 13, 0, 0, 1)}}
	s := adjust(t, r)
	assert.Contains(t, s.Doubts[0].Says, "the datum may have moved")
	r.Points = append(r.Points, point("things", "C", 40, 5, 0, 1))
	assert.NotContains(t, adjust(t, r).Doubts[0].Says, "the datum may have moved")
}
