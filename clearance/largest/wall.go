package largest

import (
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/clearance"
)

// wall gives children of a node for a piece of a feature that fills a whole corner
// or end of it, beyond a plane.
//
// Along some axes, the way normal points, take q and everything beyond it; along
// the others everything that a box of the node can take up. Where all that is in the
// piece (it is convex, so that eight corners tell), a box whose faces along those
// axes all come within t of q has a corner that is no farther than |t| from the
// piece. So with |t| what is needed each child keeps t off q along one of the axes:
// none of the other sides of q can help.
func (s *search) wall(n *node, f *frame, c core, h clearance.Held, d need, l plane) (children []*node, ok bool) {
	normal := components(l.normal)
	if c.anyRound() {
		return nil, false
	}
	var on [3]bool
	var base, way [3]float64 // from the far end of the part, across it
	wanted, whole := d.any(), 0.0
	for a, by := range normal {
		_, highest := c.high.at(n, a)
		lowest, _ := c.low.at(n, a)
		base[a], way[a] = (lowest+highest)/2, 0
		if on[a] = math.Abs(by) > slight; !on[a] {
			continue
		}
		whole += by * by
		base[a], way[a] = lowest, highest-lowest
		if by < 0 {
			base[a], way[a] = highest, lowest-highest
		}
	}
	whole = math.Sqrt(whole)
	// The plane that is square to normal where it touches the piece.
	n3, b3, w3 := vector(normal), vector(base), vector(way)
	across := n3.Dot(w3)
	if across <= 0 {
		return nil, false
	}
	q := b3.Add(w3.Mul(math.Min(1, math.Max(0, n3.Dot(l.touch.Sub(b3))/across))))
	q = q.Add(n3.Mul(1e-9 * (1 + math.Abs(n3.Dot(l.touch))))) // within it in spite of rounding
	if !s.fills(n, f, c, h, q, normal, on) {
		return nil, false
	}
	at := components(q)
	for a, by := range normal {
		if !on[a] {
			continue
		}
		x := side{axis: a}
		if by > 0 {
			x.high = 1
		}
		children = s.child(children, n, &c, x, at, wanted*math.Abs(by)/whole)
	}
	return children, true
}

// slight is under which share of a normal along an axis a wall counts as lying along it.
const slight = 1e-3

// fills says whether a piece holds all that lies beyond q.
func (s *search) fills(n *node, f *frame, c core, h clearance.Held, q r3.Vector, normal [3]float64, on [3]bool) bool {
	var ends [3][2]float64
	for a, x := range components(q) {
		_, highest := c.high.at(n, a)
		lowest, _ := c.low.at(n, a)
		ends[a] = [2]float64{lowest, highest}
		switch {
		case on[a] && normal[a] > 0:
			ends[a][0] = x
		case on[a]:
			ends[a][1] = x
		}
	}
	for k := range 8 {
		at := r3.Vector{X: ends[0][k&1], Y: ends[1][k>>1&1], Z: ends[2][k>>2&1]}
		if f.judge.Closest(h.Feature, h.Piece, at) != at {
			return false
		}
	}
	return true
}

// plane is one through a place of a piece; its unit normal points from the part to
// the piece.
type plane struct{ normal, touch r3.Vector }

// planes are those of a line: square to the way in which it is nearest, and, of a
// piece that goes on behind, the piece's own.
func (f *frame) planes(h clearance.Held, piece []int) (out []plane) {
	p := h.Pins[0]
	out = append(out, plane{p.Normal, p.OnFeature.Add(p.Normal.Mul(f.grow[h.Feature]))})
	behind := f.judge.Behind(h.Feature)
	if behind == (r3.Vector{}) || len(piece) < 3 {
		return out
	}
	at := f.nodes[h.Feature]
	square := at[piece[1]].Sub(at[piece[0]]).Cross(at[piece[2]].Sub(at[piece[0]]))
	if square.Dot(behind) < 0 {
		square = square.Mul(-1)
	}
	if square.Dot(behind) == 0 {
		return out
	}
	return append(out, plane{square.Normalize(), at[piece[0]]})
}
