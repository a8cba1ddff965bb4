package hose

import (
	"math"

	"github.com/golang/geo/r3"
)

// Elastic is a shape that a springy hose rests in between two clamped ends.
type Elastic struct {
	Points []r3.Vector // of its centre line, evenly spaced along it
	Radius float64     // the least bend radius, mm
	At     int         // the point where it is
	Energy float64     // of bending: the integral of the squared curvature, 1/mm
}

// Rest gives the shapes in which a hose of a given length can rest between its ends,
// held there by clamps, with nothing else touching it: the least energy first. It is
// an even rod that bends, does not stretch and may turn in its clamps (Euler's
// elastica, in space). Weight, the set that a hose has from its coil, and the
// pressure that straightens it are left out. There may be several (it can bow to either
// side); they are looked for from bows to six sides, and from none. None come back
// where the length is less than the distance.
//
// The rod is cut into parts of equal length; the ends are clamped by half parts, so
// that the least radius is right to the second order of a part (see the tests). Its
// energy is made least under the lengths' constraints by the method of multipliers,
// each step a damped Newton step with a banded Cholesky factor.
func Rest(e Ends, length float64, parts int) []Elastic {
	if !(length > e.To.Sub(e.From).Norm()) || parts < 4 {
		return nil
	}
	var out []Elastic
	for _, bow := range e.bows() {
		r := newRod(e, length, parts, bow)
		if !r.settle() {
			continue
		}
		if s := r.shape(); !known(out, s, length) {
			out = append(out, s)
		}
	}
	for i := 1; i < len(out); i++ {
		for j := i; j > 0 && out[j].Energy < out[j-1].Energy; j-- {
			out[j], out[j-1] = out[j-1], out[j]
		}
	}
	return out
}

// bows are the directions in which the first guesses bow out.
func (e Ends) bows() []r3.Vector {
	apart := e.To.Sub(e.From)
	if apart == (r3.Vector{}) {
		apart = e.Leave
	}
	// From the side to which the ends turn, so that mirrored ends have mirrored guesses.
	u := e.Leave.Sub(e.Arrive)
	u = u.Sub(apart.Mul(u.Dot(apart) / apart.Norm2()))
	if u.Norm() < 1e-3 { // the ends prefer no side
		u = apart.Ortho()
	}
	u = u.Normalize()
	v := apart.Cross(u).Normalize()
	out := []r3.Vector{{}}
	for k := range 6 {
		sin, cos := math.Sincos(float64(k) * math.Pi / 3)
		out = append(out, u.Mul(cos).Add(v.Mul(sin)))
	}
	return out
}

// known says whether a shape is among others: everywhere within a hundredth of its
// length, far over what is left when a shape is settled, or as a mirrored bow of the
// same energy and least radius to six figures.
func known(list []Elastic, s Elastic, length float64) bool {
	for _, o := range list {
		if math.Abs(o.Energy-s.Energy) < 1e-6*s.Energy && math.Abs(o.Radius-s.Radius) < 1e-6*s.Radius {
			return true
		}
		far := 0.0
		for i := range s.Points {
			far = math.Max(far, s.Points[i].Sub(o.Points[i]).Norm())
		}
		if far < 0.01*length {
			return true
		}
	}
	return false
}

// rod is a chain of points, in lengths of the rod; x[0] and the last are held.
type rod struct {
	ends   Ends // scaled
	length float64
	h      float64
	x      []r3.Vector
	pull   []float64 // multiplier of each part's length
	stiff  float64   // what a part's stretch costs
	n      int       // unknowns
	hess   [][band + 1]float64
	grad   []float64
}

// band is how far an unknown reaches in the Hessian: two points of three coordinates.
const band = 8

func newRod(e Ends, length float64, parts int, bow r3.Vector) *rod {
	r := &rod{ends: e, length: length, h: 1 / float64(parts), n: 3 * (parts - 1)}
	r.ends.From, r.ends.To = e.From.Mul(1/length), e.To.Mul(1/length)
	r.x, r.pull = make([]r3.Vector, parts+1), make([]float64, parts)
	r.hess, r.grad = make([][band + 1]float64, r.n), make([]float64, r.n)
	// Of the order of the sharpest bend's, so that neither rules the step; and so stiff
	// that a slack of a thousandth buckles it (at 4 pi2, clamped) before it shortens.
	r.stiff = 40 / (r.h * r.h * r.h)
	chord := r.ends.To.Sub(r.ends.From).Norm()
	high := 0.6 * math.Sqrt(math.Max(0, 1-chord)) // a shallow arch of that rise is about that much longer
	for i := range r.x {
		t := float64(i) * r.h
		r.x[i] = r.ends.hermite(t).Add(bow.Mul(high * math.Sin(math.Pi*t) * math.Sin(math.Pi*t)))
	}
	return r
}

// hermite is the cubic between the ends, leaving and arriving with a speed of their
// distance.
func (e Ends) hermite(t float64) r3.Vector {
	speed := e.To.Sub(e.From).Norm()
	a, b := e.Leave.Mul(speed), e.Arrive.Mul(speed)
	return e.From.Mul((1 + 2*t) * (1 - t) * (1 - t)).Add(a.Mul(t * (1 - t) * (1 - t))).
		Add(e.To.Mul(t * t * (3 - 2*t))).Add(b.Mul(t * t * (t - 1)))
}

const (
	// stretched is how far off its length a part may stay, as a share of it.
	stretched = 1e-7
	mostRound = 12
	mostInner = 60
)

// settle finds a rest of the rod.
func (r *rod) settle() bool {
	for round := 0; round < mostRound; round++ {
		r.minimise()
		worst := 0.0
		for i := range r.pull {
			g := r.stretch(i)
			worst = math.Max(worst, math.Abs(g)/r.h)
			r.pull[i] += r.stiff * g
		}
		if worst < stretched {
			return true
		}
	}
	return false
}

// stretch is half of (length2 - h2)/h of a part: its stretch, to first order.
func (r *rod) stretch(i int) float64 {
	return (r.x[i+1].Sub(r.x[i]).Norm2() - r.h*r.h) / (2 * r.h)
}

// cost is the energy of bending with the multipliers' terms.
func (r *rod) cost() float64 {
	sum := r.bending()
	for i := range r.pull {
		g := r.stretch(i)
		sum += g * (r.pull[i] + r.stiff*g/2)
	}
	return sum
}

// bending is half the integral of the squared curvature.
func (r *rod) bending() float64 {
	sum, last := 0.0, len(r.x)-1
	for i := 1; i < last; i++ {
		sum += r.kink(i).Norm2() / 2
	}
	a, b := r.clamp()
	return (sum + a.Norm2() + b.Norm2()) / (r.h * r.h * r.h)
}

// kink is the second difference at a point.
func (r *rod) kink(i int) r3.Vector { return r.x[i-1].Add(r.x[i+1]).Sub(r.x[i].Mul(2)) }

// clamp is how far the first and last parts are off the clamps' directions: half of
// a second difference, over half a part.
func (r *rod) clamp() (a, b r3.Vector) {
	last := len(r.x) - 1
	a = r.x[1].Sub(r.x[0]).Sub(r.ends.Leave.Mul(r.h))
	b = r.x[last].Sub(r.x[last-1]).Sub(r.ends.Arrive.Mul(r.h))
	return a, b
}

// minimise goes to the bottom of cost by damped Newton steps.
func (r *rod) minimise() {
	damp := 0.0
	scale := 1 / (r.h * r.h * r.h)
	now := r.cost()
	before := append([]r3.Vector(nil), r.x...)
	for step := 0; step < mostInner; step++ {
		r.slopes()
		move, ok := r.newton(damp * scale)
		if !ok {
			damp = math.Max(4*damp, 1e-3)
			continue
		}
		copy(before, r.x)
		size := r.apply(move)
		then := r.cost()
		if !(then <= now) {
			copy(r.x, before)
			if size < 1e-10 { // of the rod's length: rounding
				return
			}
			damp = math.Max(4*damp, 1e-3)
			continue
		}
		now = then
		if damp /= 4; damp < 1e-4 {
			damp = 0
		}
		if size < 1e-11 {
			return
		}
	}
}

func (r *rod) apply(move []float64) (size float64) {
	for i := 1; i < len(r.x)-1; i++ {
		d := r3.Vector{X: move[3*i-3], Y: move[3*i-2], Z: move[3*i-1]}
		r.x[i] = r.x[i].Add(d)
		size = math.Max(size, d.Norm())
	}
	return size
}

// slopes fills in the gradient and the Hessian's lower band.
func (r *rod) slopes() {
	clear(r.grad)
	clear(r.hess)
	k := 1 / (r.h * r.h * r.h)
	last := len(r.x) - 1
	for i := 1; i < last; i++ {
		d := r.kink(i).Mul(k)
		for p, wp := range [3]float64{1, -2, 1} {
			r.slope(i-1+p, d.Mul(wp))
			for q, wq := range [3]float64{1, -2, 1} {
				r.plain(i-1+p, i-1+q, k*wp*wq)
			}
		}
	}
	a, b := r.clamp()
	r.slope(1, a.Mul(2*k))
	r.plain(1, 1, 2*k)
	r.slope(last-1, b.Mul(-2*k))
	r.plain(last-1, last-1, 2*k)
	for i := range r.pull {
		d := r.x[i+1].Sub(r.x[i]).Mul(1 / r.h)
		force := r.pull[i] + r.stiff*r.stretch(i)
		r.slope(i, d.Mul(-force))
		r.slope(i+1, d.Mul(force))
		for p, wp := range [2]float64{-1, 1} {
			for q, wq := range [2]float64{-1, 1} {
				r.plain(i+p, i+q, wp*wq*force/r.h)
				r.outer(i+p, i+q, d, wp*wq*r.stiff)
			}
		}
	}
}

func (r *rod) held(i int) bool { return i <= 0 || i >= len(r.x)-1 }

func (r *rod) slope(i int, by r3.Vector) {
	if !r.held(i) {
		r.grad[3*i-3] += by.X
		r.grad[3*i-2] += by.Y
		r.grad[3*i-1] += by.Z
	}
}

// plain adds a multiple of the unit matrix to the block of two points.
func (r *rod) plain(i, j int, by float64) {
	if r.held(i) || r.held(j) || j > i {
		return
	}
	for a := range 3 {
		r.hess[3*i-3+a][3*(i-j)] += by
	}
}

// outer adds a multiple of d times itself.
func (r *rod) outer(i, j int, d r3.Vector, by float64) {
	if r.held(i) || r.held(j) || j > i {
		return
	}
	c := [3]float64{d.X, d.Y, d.Z}
	for a := range 3 {
		for b := range 3 {
			if back := 3*(i-j) + a - b; back >= 0 {
				r.hess[3*i-3+a][back] += by * c[a] * c[b]
			}
		}
	}
}

// newton solves (Hessian + damp) move = -gradient; ok is false where that matrix is
// not positive definite. hess[i][k] is the element in row i, k left of the diagonal.
func (r *rod) newton(damp float64) (move []float64, ok bool) {
	l := r.hess
	move = make([]float64, r.n)
	for i := range r.n {
		l[i][0] += damp
		for k := min(i, band); k >= 0; k-- { // column i-k
			j := i - k
			s := l[i][k]
			for m := max(0, i-band, j-band); m < j; m++ {
				s -= l[i][i-m] * l[j][j-m]
			}
			switch {
			case k > 0:
				l[i][k] = s / l[j][0]
			case s > 0:
				l[i][0] = math.Sqrt(s)
			default:
				return nil, false
			}
		}
		s := -r.grad[i]
		for k := 1; k <= min(i, band); k++ {
			s -= l[i][k] * move[i-k]
		}
		move[i] = s / l[i][0]
	}
	for i := r.n - 1; i >= 0; i-- {
		s := move[i]
		for k := 1; k <= band && i+k < r.n; k++ {
			s -= l[i+k][k] * move[i+k]
		}
		move[i] = s / l[i][0]
	}
	return move, true
}

// shape measures the rod as it lies.
func (r *rod) shape() Elastic {
	s := Elastic{Energy: 2 * r.bending() / r.length}
	most := -1.0
	last := len(r.x) - 1
	a, b := r.clamp()
	for i := range r.x {
		s.Points = append(s.Points, r.x[i].Mul(r.length))
		bend := 0.0
		switch i {
		case 0:
			bend = 2 * a.Norm()
		case last:
			bend = 2 * b.Norm()
		default:
			bend = r.kink(i).Norm()
		}
		if bend > most {
			most, s.At = bend, i
		}
	}
	s.Radius = r.length * r.h * r.h / most
	return s
}
