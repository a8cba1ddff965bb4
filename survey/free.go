package survey

import (
	"math"

	"github.com/golang/geo/r3"
)

// frees lists the lines that tapes, straightedges and probes lay along: where
// they lay nothing else is. They count as thin, and a doubtful reading counts
// for nothing.
func (a *adjuster) frees() {
	s := a.space
	s.Free = make([]FreeLine, 0, len(a.ties)+len(a.readings.Depths))
	add := func(t tieRow, from, to r3.Vector) {
		s.Free = append(s.Free, FreeLine{From: from, To: to, Pos: s.Rows[t.row].Pos})
	}
	for _, t := range a.ties {
		from, to, end := &s.Marks[t.from], &s.Marks[t.to], &s.Marks[t.mark]
		if !from.Located || !to.Located || !end.Located || math.Abs(s.Adjustment.Readings[t.row].W) > critical {
			continue
		}
		if t.kind == Tapes {
			add(t, from.At, end.At)
			continue
		}
		add(t, from.At, to.At)
		edge := to.At.Sub(from.At)
		foot := from.At.Add(edge.Mul(end.At.Sub(from.At).Dot(edge) / edge.Norm2()))
		add(t, foot, end.At)
	}
}
