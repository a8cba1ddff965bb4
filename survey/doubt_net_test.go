package survey

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/survey/length"
)

func says(s *Space) []string {
	var out []string
	for _, d := range s.Doubts {
		out = append(out, d.Says)
	}
	return out
}

func TestWeakMarksSayWhy(t *testing.T) {
	b := newBay(3, math.Sqrt(3))
	for _, c := range []struct {
		name string
		x, y float64
	}{{"A", 0, 0}, {"B", 500, 0}, {"C", 500, 300}, {"D", 0, 300}} {
		b.within = 0
		b.known("", c.name, c.x, c.y, 0)
	}
	b.known("wall", "W1", 0, 0, 0)
	b.known("wall", "W2", 100, 0, 0)
	b.known("wall", "W3", 0, 100, 0)
	b.within = 1e-3
	b.blank("things", "T2", 250, 150, 5)
	for _, from := range []string{"A", "B", "C", "D"} {
		b.tape(from, "T2")
	}
	for i := range b.readings.Tapes {
		b.readings.Tapes[i].Limit = length.Limit{Plus: math.Sqrt(3), Minus: math.Sqrt(3)}
	}
	s := b.adjust(t)
	m, _ := s.Mark("T2")
	assert.InDelta(t, 29, s.Spread(m).U.Z, 0.5)
	assert.Equal(t, []string{"marks A, B, C and D lie in one plane: z of T2 is only good to 29.0 mm; add a tape from a mark off the plane, or a depth"}, says(s))
}

func TestTwoPlacesAreAskedFor(t *testing.T) {
	b := newBay(3, 1)
	b.known("", "A", 0, 0, 0)
	b.known("", "B", 500, 0, 0)
	b.known("", "C", 500, 300, 0)
	b.blank("things", "T", 250, 150, 105)
	for _, from := range []string{"A", "B", "C"} {
		b.tape(from, "T")
	}
	assert.Equal(t, "tape.csv:2:4: to: the tapes of T fit two places alike, on either side of A, B and C, and nothing says which side is right; tape it from a mark off their plane, give a depth, or name the side with frame: {out_toward: ..}", problems(t, b))
	b.readings.Features[0].Mount = true
	for _, m := range []string{"A", "B", "C"} {
		for i, p := range b.readings.Points {
			if p.Mark == m {
				b.readings.Points[i].Feature = "wall"
			}
		}
	}
	b.near(t, b.adjust(t), 5)
}

func TestTapesThatReadLong(t *testing.T) {
	b := newBay(6, 1).corners()
	for i := range 4 {
		name := fmt.Sprintf("T%d", i)
		b.blank("things", name, 120+80*float64(i), 150, 180)
		for _, from := range []string{"A", "B", "C", "D", "E", "F"} {
			b.tape(from, name)
		}
	}
	assert.NotContains(t, fmt.Sprint(says(b.adjust(t))), "read long")
	b.tape("A", "C")
	b.tape("B", "D")
	b.tape("B", "E")
	b.tape("A", "F")
	b.tape("C", "F")
	for i := range b.readings.Tapes {
		b.readings.Tapes[i].Length.Value += 3
	}
	s := b.adjust(t)
	require.NotEmpty(t, s.Doubts)
	assert.Contains(t, fmt.Sprint(says(s)), "the tapes read long on the whole")
	for _, d := range s.Doubts {
		assert.Equal(t, strings.Contains(d.Says, "on the whole"), d.Severity == Remark, d.Says)
	}
}

// A probe along its straightedge says nothing.
func TestProbeAlongItsStraightedge(t *testing.T) {
	b := newBay(1, 1).corners()
	b.depth("things", "P", "A", "C", 100, 50, r3.Vector{Z: 1})
	b.readings.Depths[0].To = "B"
	b.readings.Depths[0].Toward = r3.Vector{X: 1}
	assert.Equal(t, "depth.csv:2:1: toward: the probe at P goes the way that its straightedge lies, from A to B; name the axis that it went along square to that", problems(t, b))
}
