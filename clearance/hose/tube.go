package hose

import (
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/solid/shape"
)

// Tube is the hose on its run: round pieces around the legs and bends of its centre
// line. The zero Tube is nothing, infinitely far.
type Tube struct {
	Pieces []Piece
	Radius float64 // half the outside diameter, mm
}

// Piece is a leg or a bend of a tube.
type Piece struct {
	// Corner is the bend's point of the run, or that at which a leg begins.
	Corner int
	Bend   bool
	// Arc is the centre line; of a leg it is straight.
	Arc shape.Arc
	// Start is how far along the run the piece begins, Length how long it is, mm.
	Start, Length float64
	radius        float64 // of a bend
	// bound holds the piece: a leg itself, a bend's triangle grown.
	bound shape.Hull
}

// Tube puts a hose of that outside diameter on the run.
func (r Run) Tube(outside float64) Tube {
	t := Tube{Radius: outside / 2}
	along := 0.0
	for i := range r.Points {
		if b := r.Bends[i]; b.Back > 0 {
			t.add(Piece{Corner: i, Bend: true, Start: along, Length: b.Radius * b.Turn, radius: b.Radius,
				Arc: shape.Arc{From: b.From, Corner: r.Points[i], To: b.To}})
			along += b.Radius * b.Turn
		}
		if i+1 < len(r.Points) {
			from, to := r.Bends[i].To, r.Bends[i+1].From
			length := to.Sub(from).Norm()
			if length > legOfNothing || len(r.Points) == 2 {
				t.add(Piece{Corner: i, Start: along, Length: length, Arc: straightArc(from, to)})
			}
			along += length
		}
	}
	return t
}

// legOfNothing is the length below which a leg between two bends is left out, mm:
// the bends' ends are there anyway.
const legOfNothing = 1e-6

func straightArc(from, to r3.Vector) shape.Arc {
	return shape.Arc{From: from, Corner: from.Add(to).Mul(0.5), To: to}
}

func (t *Tube) add(p Piece) {
	p.bound = shape.Hull{Points: []r3.Vector{p.Arc.From, p.Arc.To}, Grow: t.Radius}
	if p.Bend {
		p.bound.Points = append(p.bound.Points, p.Arc.Corner)
	}
	t.Pieces = append(t.Pieces, p)
}

// Length is how long the tube is along its middle, mm.
func (t Tube) Length() float64 {
	if len(t.Pieces) == 0 {
		return 0
	}
	last := t.Pieces[len(t.Pieces)-1]
	return last.Start + last.Length
}

// Between is the tube from one length along the run to another, mm.
func (t Tube) Between(from, to float64) Tube {
	out := Tube{Radius: t.Radius}
	for _, p := range t.Pieces {
		a, b := math.Max(from-p.Start, 0), math.Min(to-p.Start, p.Length)
		switch {
		case a == 0 && b == p.Length:
			out.Pieces = append(out.Pieces, p)
		case a < b:
			out.add(p.between(a, b))
		}
	}
	return out
}

func (p Piece) between(a, b float64) Piece {
	q := p
	q.Start, q.Length = p.Start+a, b-a
	from, way := p.At(a)
	to, _ := p.At(b)
	q.Arc = straightArc(from, to)
	if p.Bend {
		q.Arc.Corner = from.Add(way.Mul(p.radius * math.Tan((b-a)/p.radius/2)))
	}
	return q
}

// At is the place of the centre line that far along the piece, and the direction
// of travel there.
func (p Piece) At(along float64) (at, way r3.Vector) {
	in := p.Arc.Corner.Sub(p.Arc.From).Normalize()
	if !p.Bend {
		return p.Arc.From.Add(in.Mul(along)), in
	}
	out := p.Arc.To.Sub(p.Arc.Corner)
	side := out.Sub(in.Mul(out.Dot(in))).Normalize()
	sin, cos := math.Sincos(along / p.radius)
	half := math.Sin(along / p.radius / 2)
	at = p.Arc.From.Add(in.Mul(p.radius * sin)).Add(side.Mul(2 * p.radius * half * half))
	return at, in.Mul(cos).Add(side.Mul(sin))
}

// Least is a cheap lower bound of the tube's distance to a shape.
func (t Tube) Least(q shape.Convex) float64 {
	least := math.Inf(1)
	for _, p := range t.Pieces {
		least = math.Min(least, shape.Gap(p.bound, q))
	}
	return least
}

// Distance is the signed distance to a shape, and the index of the nearest piece.
func (t Tube) Distance(q shape.Convex) (best shape.Nearest, which int) {
	best.Signed = math.Inf(1)
	for k, p := range t.Pieces {
		if shape.Gap(p.bound, q) >= best.Signed {
			continue
		}
		var n shape.Nearest
		if p.Bend {
			n = shape.DistanceArc(p.Arc, t.Radius, q)
		} else {
			n = shape.Distance(p.bound, q)
		}
		if n.Signed < best.Signed {
			best, which = n, k
		}
	}
	return best, which
}

// DistanceTube is the signed distance to another tube, and the indices of the
// nearest pieces.
func (t Tube) DistanceTube(o Tube) (best shape.Nearest, which, other int) {
	best.Signed = math.Inf(1)
	for i, p := range t.Pieces {
		for k, q := range o.Pieces {
			if shape.Gap(p.bound, q.bound) >= best.Signed {
				continue
			}
			if n := shape.DistanceArcs(p.Arc, t.Radius, q.Arc, o.Radius); n.Signed < best.Signed {
				best, which, other = n, i, k
			}
		}
	}
	return best, which, other
}

// Own is how deep the tube runs into itself, below 0, mm; Inf where it does not. It
// looks at stretches so far apart along it that its bends, no tighter than radius to
// the centre line, do not keep them apart anyway.
//
// Two places s apart along a line of that curvature at most are at least
// 2 radius sin(s / 2 radius) apart, up to half a circle (Schur's theorem), so those
// nearer along it than where that is the tube's width need no look.
func (t Tube) Own(radius float64) float64 {
	const cuts = 8 // stretches of a half circle
	if turn := t.turned(); turn < math.Pi && 2*t.Radius/math.Cos(turn/2) < math.Pi*radius {
		return math.Inf(1) // places s apart along it are at least s cos(turn/2) apart
	}
	apart := 2 * radius * math.Asin(math.Min(1, t.Radius/radius))
	step := math.Pi * radius / cuts
	whole := t.Length()
	var list []Tube
	for k := 0; float64(k)*step < whole; k++ {
		list = append(list, t.Between(float64(k)*step, math.Min(whole, float64(k+1)*step)))
	}
	least := math.Inf(1)
	first := 1 + int(math.Ceil(apart/step))
	for i := range list {
		for j := i + first; j < len(list); j++ {
			if list[i].apart(list[j]) {
				continue
			}
			if n, _, _ := list[i].DistanceTube(list[j]); n.Signed < math.Min(0, least) {
				least = n.Signed
			}
		}
	}
	return least
}

// apart says, by a cheap bound, that two tubes do not meet.
func (t Tube) apart(o Tube) bool {
	for _, p := range t.Pieces {
		if o.Least(p.bound) < 0 {
			return false
		}
	}
	return true
}

// turned is by how much the tube turns in all.
func (t Tube) turned() float64 {
	sum := 0.0
	for _, p := range t.Pieces {
		if p.Bend {
			sum += p.Length / p.radius
		}
	}
	return sum
}
