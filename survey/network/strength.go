package network

import (
	"math"

	"github.com/golang/geo/r3"
)

// Block is the 3 x 3 covariance between two marks that a tie joins, or of one
// with itself, by rows, mm2. Marks that no tie joins panic: see Spread.
func (a *Adjusted) Block(i, j int) [9]float64 {
	a.invert()
	place := a.inverse.place
	v := a.inverse.at(place[i], place[j])
	for k := range 3 {
		for l := range 3 {
			if a.model.pinned(i, k) || a.model.pinned(j, l) {
				v[3*k+l] = 0
			}
		}
	}
	return v
}

func (a *Adjusted) invert() {
	if a.inverse != nil {
		return
	}
	b := newBlocks(a.factor.pattern)
	b.copyOf(&a.factor)
	b.invert()
	a.inverse = &b
}

// Strengths fills Redundancy: for tie l with derivatives a over its u,
// r = 1 - aᵀ N⁻¹ a, from the blocks of the inverse in the pattern.
func (a *Adjusted) Strengths() {
	if a.Redundancy != nil {
		return
	}
	a.invert()
	place := a.inverse.place
	a.Redundancy = make([]float64, len(a.Net.Ties))
	a.leverage = make([]float64, len(a.Net.Ties))
	// An inner product of twelve terms, each right to the rounding of the
	// inverse's blocks, of which the error grows with the number of unknowns.
	noise := 12 * float64(3*a.model.n) * epsilon
	for l, row := range a.model.rows {
		h := 0.0
		for i := range row {
			for j := range i + 1 {
				v := a.inverse.at(place[row[i].block], place[row[j].block])
				s := quadratic(row[i].by, &v, row[j].by)
				if i != j {
					s *= 2
				}
				h += s
			}
		}
		a.leverage[l] = math.Max(0, h)
		if r := 1 - h; r > noise {
			a.Redundancy[l] = math.Min(r, 1)
		}
	}
}

func quadratic(x r3.Vector, v *block, y r3.Vector) float64 {
	return x.X*(v[0]*y.X+v[1]*y.Y+v[2]*y.Z) + x.Y*(v[3]*y.X+v[4]*y.Y+v[5]*y.Z) + x.Z*(v[6]*y.X+v[7]*y.Y+v[8]*y.Z)
}

// Standardised is w of a tie, as in Solution: its residual in units of its own
// standard deviation. ok is false where nothing checks the tie.
func (a *Adjusted) Standardised(l int) (w float64, ok bool) {
	a.Strengths()
	if a.Redundancy[l] == 0 {
		return 0, false
	}
	return a.Residuals[l] / (a.Net.Ties[l].U * math.Sqrt(a.Redundancy[l])), true
}

// Mover is a figure's change for each mm that a mark moves.
type Mover struct {
	Mark int
	By   r3.Vector
}

// Spreader turns changes of figures into their ties' shares. It keeps scratch
// space: use one in each goroutine.
type Spreader struct {
	a *Adjusted
	x []float64
}

// Spreader makes one.
func (a *Adjusted) Spreader() *Spreader {
	return &Spreader{a: a, x: make([]float64, 3*a.model.n)}
}

// Terms writes, one a tie, how far the figure moves when that tie is off by one
// standard deviation. The sum of their squares is the figure's variance.
//
// With N y = g for the figure's gradient g, it is aᵀ y for the derivatives a of
// the tie over its u: one solution with the factor for all ties.
func (s *Spreader) Terms(g []Mover, into []float64) {
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
	for l, row := range s.a.model.rows {
		sum := 0.0
		for _, p := range row {
			y := s.x[3*place[p.block]:]
			sum += p.by.X*y[0] + p.by.Y*y[1] + p.by.Z*y[2]
		}
		into[l] = sum
	}
}

// Moved is how far each mark moves when a tie's value changes by one mm, in mm.
func (s *Spreader) Moved(l int, into []r3.Vector) {
	place := s.a.factor.place
	clear(s.x)
	for _, p := range s.a.model.rows[l] {
		at := 3 * place[p.block]
		u := s.a.Net.Ties[l].U
		s.x[at] += p.by.X / u
		s.x[at+1] += p.by.Y / u
		s.x[at+2] += p.by.Z / u
	}
	s.a.factor.solve(s.x)
	for i := range into {
		y := s.x[3*place[i]:]
		into[i] = r3.Vector{X: y[0], Y: y[1], Z: y[2]}
	}
}

// Hat writes H s for values s over their u: what the network fits to them.
func (s *Spreader) Hat(values, into []float64) {
	place := s.a.factor.place
	clear(s.x)
	for l, row := range s.a.model.rows {
		if values[l] == 0 {
			continue
		}
		for _, p := range row {
			at := 3 * place[p.block]
			s.x[at] += p.by.X * values[l]
			s.x[at+1] += p.by.Y * values[l]
			s.x[at+2] += p.by.Z * values[l]
		}
	}
	s.a.factor.solve(s.x)
	for l, row := range s.a.model.rows {
		sum := 0.0
		for _, p := range row {
			y := s.x[3*place[p.block]:]
			sum += p.by.X*y[0] + p.by.Y*y[1] + p.by.Z*y[2]
		}
		into[l] = sum
	}
}

// Fitted is what the network makes of a tie's value, and the standard
// uncertainty of that.
func (a *Adjusted) Fitted(l int) (value, u float64) {
	a.Strengths()
	t := a.Net.Ties[l]
	return t.Value + a.Residuals[l], t.U * math.Sqrt(a.leverage[l])
}
