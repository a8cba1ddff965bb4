package hose

import (
	"math"

	"github.com/golang/geo/r3"
)

// Along is where along the run each of its corners' bends begins and ends, mm; where
// nothing bends both are the same.
func (r Run) Along() (starts, ends []float64) {
	along := 0.0
	for i, b := range r.Bends {
		starts = append(starts, along)
		if b.Back > 0 {
			along += b.Radius * b.Turn
		}
		ends = append(ends, along)
		if i+1 < len(r.Bends) {
			along += r.Bends[i+1].From.Sub(b.To).Norm()
		}
	}
	return starts, ends
}

// Middle is the middle of a bend, or its corner where nothing bends.
func (b Bend) Middle(corner r3.Vector) r3.Vector {
	if b.Back == 0 {
		return corner
	}
	return b.At(corner, 0.5)
}

// At is the place of the centre line that far along, and the direction of travel there:
// that of the nearest end beyond it.
func (t Tube) At(along float64) (at, way r3.Vector) {
	for k, p := range t.Pieces {
		if along <= p.Start+p.Length || k == len(t.Pieces)-1 {
			return p.At(math.Min(math.Max(along-p.Start, 0), p.Length))
		}
	}
	return at, way
}
