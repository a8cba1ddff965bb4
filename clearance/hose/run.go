// Package hose knows runs of hose: straight legs joined by bends. Round lays one through
// given points; Shortest and Loops join two ends by arcs of the least radius; Find also
// leads round what is in the way; Rest is how a springy hose lies that nothing holds.
// Lengths are millimetres, in any one frame.
package hose

import (
	"math"

	"github.com/golang/geo/r3"
)

// Run is a centre line through points: straight legs, rounded at each corner by
// an arc tangent to both legs. Lengths are millimetres.
type Run struct {
	Points []r3.Vector
	// Bends has one entry for each point; the first and last never bend.
	Bends []Bend
}

// Bend is the arc at a corner. A straight corner has Turn 0 and no radius.
type Bend struct {
	Turn   float64 // by how much the run turns, radians
	Radius float64 // to the centre line, mm
	// From and To are where the arc leaves one leg and meets the other; Back is
	// how far both are from the corner.
	From, To r3.Vector
	Back     float64
}

// straightTurn is the turn below which a corner counts as straight: over a leg
// of a metre it is a hundred-thousandth of a millimetre, a rounding error.
const straightTurn = 1e-8

// Round rounds a line through points with the largest arcs that its legs allow:
// the tightest arc is as wide as can be, then the next, and so on. straight is
// what must stay straight at each end before the first and after the last bend.
// Where the ends leave no room, or the run doubles back, a bend has radius 0.
func Round(points []r3.Vector, straight float64) Run {
	r := Run{Points: points, Bends: make([]Bend, len(points))}
	room := make([]float64, max(0, len(points)-1)) // what is left of each leg
	for i := range room {
		room[i] = points[i+1].Sub(points[i]).Norm()
	}
	if n := len(room); n > 0 {
		room[0] -= straight
		room[n-1] -= straight
	}
	open := r.turns()
	for len(open) > 0 {
		radius, leg := r.tightest(open, room)
		open = r.settle(open, room, radius, leg)
	}
	for i := range points {
		r.place(i)
	}
	return r
}

// turns measures the corners and gives those that bend.
func (r Run) turns() map[int]bool {
	open := map[int]bool{}
	for i := 1; i+1 < len(r.Points); i++ {
		in, out := r.Points[i].Sub(r.Points[i-1]), r.Points[i+1].Sub(r.Points[i])
		turn := in.Angle(out).Radians()
		if turn > straightTurn {
			r.Bends[i].Turn = turn
			open[i] = true
		}
	}
	return open
}

// tangent is how far back from its corner an arc of radius 1 begins.
func (b Bend) tangent() float64 { return math.Tan(b.Turn / 2) }

// tightest finds the leg that holds its open corners to the least radius, if
// they share what is left of it.
func (r Run) tightest(open map[int]bool, room []float64) (radius float64, leg int) {
	radius = math.Inf(1)
	for k, left := range room {
		need := 0.0
		for _, i := range [2]int{k, k + 1} {
			if open[i] {
				need += r.Bends[i].tangent()
			}
		}
		if need > 0 && math.Max(0, left)/need < radius {
			radius, leg = math.Max(0, left)/need, k
		}
	}
	return radius, leg
}

// settle fixes the open corners of a leg at a radius.
func (r Run) settle(open map[int]bool, room []float64, radius float64, leg int) map[int]bool {
	for _, i := range [2]int{leg, leg + 1} {
		if !open[i] {
			continue
		}
		delete(open, i)
		back := radius * r.Bends[i].tangent()
		r.Bends[i].Radius, r.Bends[i].Back = radius, back
		room[i-1] -= back
		room[i] -= back
	}
	return open
}

func (r Run) place(i int) {
	b := &r.Bends[i]
	b.From, b.To = r.Points[i], r.Points[i]
	if b.Back > 0 {
		b.From = r.Points[i].Add(r.Points[i-1].Sub(r.Points[i]).Normalize().Mul(b.Back))
		b.To = r.Points[i].Add(r.Points[i+1].Sub(r.Points[i]).Normalize().Mul(b.Back))
	}
}

// Least is the tightest bend; ok is false where the run is straight.
func (r Run) Least() (radius float64, at int, ok bool) {
	radius = math.Inf(1)
	for i, b := range r.Bends {
		if b.Turn > 0 && b.Radius < radius {
			radius, at, ok = b.Radius, i, true
		}
	}
	return radius, at, ok
}

// Length of the centre line.
func (r Run) Length() float64 {
	sum := 0.0
	for i := 1; i < len(r.Points); i++ {
		sum += r.Points[i].Sub(r.Points[i-1]).Norm()
	}
	for _, b := range r.Bends {
		sum += b.Radius*b.Turn - 2*b.Back
	}
	return sum
}

// Trace gives points along the centre line, no farther from it between them
// than sag.
func (r Run) Trace(sag float64) []r3.Vector {
	var out []r3.Vector
	for i, b := range r.Bends {
		if b.Back == 0 {
			out = append(out, r.Points[i])
			continue
		}
		// The sagitta of an arc of angle t is radius (1 - cos(t/2)).
		step := 2 * math.Acos(math.Max(0, 1-sag/b.Radius))
		n := max(1, int(math.Ceil(b.Turn/step)))
		for k := 0; k <= n; k++ {
			out = append(out, b.At(r.Points[i], float64(k)/float64(n)))
		}
	}
	return out
}

// At is the point of the arc at a corner, t from 0 to 1 along it.
func (b Bend) At(corner r3.Vector, t float64) r3.Vector {
	in, out := corner.Sub(b.From).Normalize(), b.To.Sub(corner).Normalize()
	side := out.Sub(in.Mul(out.Dot(in))).Normalize()
	sin, cos := math.Sincos(b.Turn * t)
	return b.From.Add(in.Mul(b.Radius * sin)).Add(side.Mul(b.Radius * (1 - cos)))
}

// Noise is the standard uncertainty of the curvature (1/mm) that three
// neighbouring marks give, each good to sigma across the run, at distances a and
// b. For equal distances h it is sqrt 6 sigma / h2.
//
// The turn at the middle mark is (y2-y1)/a - (y3-y2)/b, its curvature that over
// (a+b)/2.
func Noise(sigma, a, b float64) float64 {
	turn := sigma * math.Sqrt(1/(a*a)+1/(b*b)+(1/a+1/b)*(1/a+1/b))
	return 2 * turn / (a + b)
}

// noisy is the share of the curvature wanted that the noise may be, for a
// statement about the bend to stand: at 0.15 the least radius of several marks
// is low by less than a fifth in the middle of many trials, at twice the noise
// and more by a third (own simulation, in this package's tests).
const noisy = 0.15

// TooNoisy says whether marks that close together cannot speak for a bend of
// the radius wanted (to the centre line, mm).
func TooNoisy(sigma, a, b, wanted float64) bool { return Noise(sigma, a, b) > noisy/wanted }

// Spacing is how far apart marks good to sigma must be to speak for a bend of
// the radius wanted, mm.
func Spacing(sigma, wanted float64) float64 {
	return math.Sqrt(math.Sqrt(6) * sigma * wanted / noisy)
}
