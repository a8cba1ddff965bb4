package shape

import (
	"math"

	"github.com/golang/geo/r3"
)

// Arc is a circular arc that is tangent to the legs From-Corner and Corner-To
// at From and To, which are equally far from Corner. Where the three lie on a
// line it is straight.
type Arc struct{ From, Corner, To r3.Vector }

// arcWithin is how near the distance to an arc is found, mm.
const arcWithin = 1e-7

// arcSteps bounds the pieces that are looked at. Each halving makes a sagitta a
// quarter, and only pieces that still can be the nearest are halved: a few
// dozen do, but where a whole arc is equally near (a concentric cylinder) all
// pieces must be halved, and Within says what is left.
const arcSteps = 4096

// DistanceArc is the signed distance from a tube of a radius round an arc to a
// convex shape. Apart, it is found to within 1e-7 mm as a rule, and Within says
// how well. Overlapping, the depth is that of the deepest of the arc's pieces:
// never more than the truth.
//
// The arc is cut into pieces. A piece lies no farther from its chord than its
// sagitta, so that the chord's distance less the sagitta is a lower bound, and
// the distance of the piece's middle an upper one.
func DistanceArc(a Arc, radius float64, b Convex) Nearest {
	best := distanceAt(a, 0.5, radius, b)
	queue := []arcPiece{a.piece(0, 1, radius, b)}
	least := queue[0].least
	for steps := 0; steps < arcSteps && len(queue) > 0; steps++ {
		k := 0
		for i := range queue {
			if queue[i].least < queue[k].least {
				k = i
			}
		}
		p := queue[k]
		least = p.least
		if best.Signed-least <= arcWithin {
			break
		}
		queue[k] = queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		middle := (p.from + p.to) / 2
		for _, half := range [2]arcPiece{a.piece(p.from, middle, radius, b), a.piece(middle, p.to, radius, b)} {
			if n := distanceAt(a, (half.from+half.to)/2, radius, b); n.Signed < best.Signed {
				best = n
			}
			if half.least < best.Signed {
				queue = append(queue, half)
			}
		}
	}
	best.Within = math.Max(best.Within, best.Signed-least)
	return best
}

type arcPiece struct {
	from, to float64
	least    float64
}

// piece bounds the distance of the arc from one share of its length to another.
func (a Arc) piece(from, to, radius float64, b Convex) arcPiece {
	turn, r := a.bend()
	sagitta := 0.0
	if turn > 0 {
		sagitta = r * (1 - math.Cos(turn*(to-from)/2))
	}
	n := Distance(Hull{Points: []r3.Vector{a.at(from), a.at(to)}, Grow: radius}, b)
	return arcPiece{from, to, n.Signed - sagitta - n.Within}
}

func distanceAt(a Arc, t, radius float64, b Convex) Nearest {
	return Distance(Hull{Points: []r3.Vector{a.at(t)}, Grow: radius}, b)
}

// bend is the angle that the arc turns by, and its radius.
func (a Arc) bend() (turn, radius float64) {
	in, out := a.Corner.Sub(a.From), a.To.Sub(a.Corner)
	turn = in.Angle(out).Radians()
	if turn < 1e-9 || in.Norm() == 0 { // straighter than rounding can tell
		return 0, 0
	}
	return turn, in.Norm() / math.Tan(turn/2)
}

// at is the point of the arc at a share of its length.
func (a Arc) at(t float64) r3.Vector {
	turn, radius := a.bend()
	if turn == 0 {
		return a.From.Add(a.To.Sub(a.From).Mul(t))
	}
	in, out := a.Corner.Sub(a.From).Normalize(), a.To.Sub(a.Corner).Normalize()
	side := out.Sub(in.Mul(out.Dot(in))).Normalize()
	sin, cos := math.Sincos(turn * t)
	return a.From.Add(in.Mul(radius * sin)).Add(side.Mul(radius * (1 - cos)))
}
