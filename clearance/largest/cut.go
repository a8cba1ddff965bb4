package largest

import (
	"math"

	"elbowroom/clearance"
	"elbowroom/solid"
)

// mostLines is how many lines that fall short are tried for a cut, worst first.
const mostLines = 8

// cut gives the children of the cut that leaves least: of all places that are too
// near, the one whose best child is worst. nil where there is none.
func (s *search) cut(n *node, f *frame, stand clearance.Stand, lines []clearance.Held) (best []*node) {
	least := math.Inf(1)
	better := func(children []*node, ok bool) {
		key := 0.0
		for _, c := range children {
			key = math.Max(key, c.key)
			ok = ok && !c.holds(stand)
		}
		if ok && key < least {
			least, best = key, append([]*node{}, children...)
		}
	}
	for _, h := range shortest(lines) {
		if h.Bends && n.cell.half() == 0 {
			better(s.bent(n, f, stand, h))
		}
		if h.Part < 0 || h.Feature < 0 {
			continue
		}
		part := f.judge.Model().Parts[h.Part]
		tank := f.judge.Model().Tank
		piece := s.task.space.Features[h.Feature].Pieces[h.Piece].Nodes
		middle := stand.Lo.Add(stand.Hi).Mul(0.5)
		if part.Kind != solid.Body {
			middle = h.Pins[0].OnPart
		}
		toward := h.Pins[0].OnFeature.Sub(stand.Lo)
		if n.cell.half() == 0 {
			c := coreOf(part, tank, toward)
			for _, l := range f.planes(h, piece) {
				children, ok := s.wall(n, f, c, h, s.need(n, f, c, h, -1), l)
				if ok && len(children) <= 1 && mostKey(children) < slow*n.key {
					return append([]*node{}, children...) // nothing to choose: all beyond is solid
				}
				better(children, ok)
			}
		}
		for i, p := range f.spots(h, piece, middle) {
			c := coreOf(part, tank, p.at.Sub(stand.Lo))
			if i == 0 && len(piece) > 1 && n.cell.half() == 0 {
				better(s.common(n, f, c, h, piece, stand))
			}
			d := s.need(n, f, c, h, p.node)
			d.slack, d.turn = s.slack(n, p.at), n.cell.half()
			if i == 0 {
				s.sharpen(&d, n, f, &c, h, p.at)
			}
			better(s.cover(n, c, p.at, d, stand))
		}
	}
	return best
}

// well is how far within what every box takes up the place nearest to it is looked for,
// mm: it is found roughly, and is to be straight off a face where one is.
const well = 2

// common gives the children of the cut off the place of a piece that is nearest to what
// every box of a node takes up of a part.
func (s *search) common(n *node, f *frame, c core, h clearance.Held, piece []int, stand clearance.Stand) (children []*node, ok bool) {
	var inner hull
	for a := range 3 {
		_, inner.low[a] = c.low.at(n, a)
		inner.high[a], _ = c.high.at(n, a)
		wide := inner.high[a] - inner.low[a]
		if wide < 0 {
			return nil, false
		}
		wide = min(well, wide/4)
		inner.low[a], inner.high[a] = inner.low[a]+wide, inner.high[a]-wide
	}
	at := f.nodes[h.Feature]
	nodes := make([]vec, len(piece))
	for i, k := range piece {
		nodes[i] = at[k]
	}
	pin := h.Pins[0]
	q, _ := nearest(nodes, f.judge.Behind(h.Feature), &inner, pin.OnFeature.Add(pin.Normal.Mul(f.grow[h.Feature])))
	d := s.need(n, f, c, h, -1)
	s.sharpen(&d, n, f, &c, h, q)
	return s.cover(n, c, q, d, stand)
}

// slack is how far a place may be nearer at another turn of the node's.
func (s *search) slack(n *node, at vec) float64 {
	if n.cell.half() == 0 {
		return 0
	}
	return 2 * math.Hypot(at.X, at.Y) * math.Sin(n.cell.half()/2)
}

// shortest are the lines that fall short, worst first.
func shortest(lines []clearance.Held) []clearance.Held {
	var out []clearance.Held
	for _, h := range lines {
		if h.Short > reach {
			out = append(out, h)
		}
	}
	for i := range out {
		for k := i; k > 0 && out[k].Short > out[k-1].Short; k-- {
			out[k], out[k-1] = out[k-1], out[k]
		}
	}
	if len(out) > mostLines {
		out = out[:mostLines]
	}
	return out
}
