package hose

import (
	"math"
	"slices"

	"github.com/golang/geo/r3"
)

// Loops gives the runs of three arcs of the least radius between ends that lie in
// one plane with both their directions, shortest first: the kin of Shortest for ends
// close together (the words RLR and LRL of Dubins, On curves of minimal length, 1957).
// The middle arc turns by more than half a circle. Whether a hose has room to pass
// itself there is another question: see Tube.Own.
func Loops(e Ends, l Limits) []Run {
	in := e.drawnIn(l.Straight)
	n, ok := in.plane()
	if !ok {
		return nil
	}
	var runs []Run
	for _, up := range [2]r3.Vector{n, n.Mul(-1)} {
		a, b := in.From.Add(up.Cross(in.Leave).Mul(l.Radius)), in.To.Add(up.Cross(in.Arrive).Mul(l.Radius))
		apart := b.Sub(a)
		d := apart.Norm()
		if d == 0 || d > 4*l.Radius {
			continue
		}
		out := up.Cross(apart.Mul(1 / d)).Mul(math.Sqrt(4*l.Radius*l.Radius - d*d/4))
		middle := a.Add(b).Mul(0.5)
		for _, m := range [2]r3.Vector{middle.Add(out), middle.Sub(out)} {
			runs = append(runs, threeArcs(e, in, [3]r3.Vector{a, m, b}, up, l.Radius))
		}
	}
	slices.SortStableFunc(runs, byLength)
	return runs
}

// threeArcs goes anticlockwise (seen from up) about the first and last centre and
// clockwise about the middle one.
func threeArcs(e, in Ends, centres [3]r3.Vector, up r3.Vector, radius float64) Run {
	at, way := in.From, in.Leave
	t := newTracer(e.From)
	stops := [3]r3.Vector{centres[0].Add(centres[1]).Mul(0.5), centres[1].Add(centres[2]).Mul(0.5), in.To}
	for k, centre := range centres {
		about := up
		if k == 1 {
			about = up.Mul(-1)
		}
		side := about.Cross(way)
		spoke := stops[k].Sub(centre)
		angle := math.Atan2(spoke.Dot(way), -spoke.Dot(side))
		if angle < -straightTurn {
			angle += 2 * math.Pi
		}
		t.arc(at, way, angle, radius, side)
		sin, cos := math.Sincos(angle)
		at, way = stops[k], way.Mul(cos).Add(side.Mul(sin))
	}
	return t.end(e.To)
}

// plane is the unit normal of the plane that holds both ends and their directions.
func (e Ends) plane() (n r3.Vector, ok bool) {
	apart := e.To.Sub(e.From)
	size := apart.Norm()
	n = e.Leave.Cross(e.Arrive)
	if n.Norm() < flat {
		n = e.Leave.Cross(apart.Mul(1 / math.Max(size, flat)))
	}
	if n.Norm() < flat {
		n = e.Leave.Ortho() // all in one line: any plane
	}
	n = n.Normalize()
	return n, math.Abs(n.Dot(apart)) <= flat*size && math.Abs(n.Dot(e.Arrive)) <= flat
}

// flat is how far, in radians, directions may be out of one plane and count as in
// it: over a metre a hundred-thousandth of a millimetre, a rounding error.
const flat = 1e-8
