package network

import "github.com/golang/geo/r3"

// Reply writes, one a mark, the covariance of a figure and each mark's place, in
// the figure's unit times mm: N y = g for the figure's gradient g. Of two figures
// the covariance is the sum of the one's gradient times the other's reply.
func (s *Spreader) Reply(g []Mover, into []r3.Vector) {
	place := s.a.factor.place
	clear(s.x)
	for _, m := range g {
		at := 3 * place[m.Mark]
		for k, by := range [3]float64{m.By.X, m.By.Y, m.By.Z} {
			if !s.a.model.pinned(m.Mark, k) {
				s.x[at+k] += by
			}
		}
	}
	s.a.factor.solve(s.x)
	for i := range into {
		y := s.x[3*place[i]:]
		into[i] = r3.Vector{X: y[0], Y: y[1], Z: y[2]}
	}
}
