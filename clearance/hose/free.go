package hose

import (
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/solid/shape"
)

// Rests is the least distance less gap of a hose that lies in a shape of its own, and
// the obstacle that it is of, -1 without any: of the chain through its points, less by
// how far the hose may bow out between two of them. An obstacle does not count over as
// much of either end as it does not for the run that was wished for, at least.
func (w *Wish) Rests(s Elastic) (margin float64, worst int) {
	margin, worst = math.Inf(1), -1
	n := len(s.Points) - 1
	if n < 1 {
		return margin, worst
	}
	part := s.Points[1].Sub(s.Points[0]).Norm()
	bow := part * part / (8 * s.Radius)
	ends := math.Max(w.Limits.Straight, w.Outside)
	for i := range w.Obstacles {
		o := &w.Obstacles[i]
		start, last := o.Start, o.End
		if o.FirstLeg {
			start = math.Max(start, ends)
		}
		if o.LastLeg {
			last = math.Max(last, ends)
		}
		for k := range n {
			if float64(k)*part < start || float64(n-k-1)*part < last {
				continue
			}
			link := shape.Hull{Points: []r3.Vector{s.Points[k], s.Points[k+1]}, Grow: w.Outside / 2}
			if d := o.from(link) - o.Gap - bow; d < margin {
				margin, worst = d, i
			}
		}
	}
	return margin, worst
}

func (o *Obstacle) from(link shape.Hull) float64 {
	if o.Solid != nil {
		return shape.Distance(link, o.Solid).Signed
	}
	n, _ := o.Tube.Distance(link)
	return n.Signed
}
