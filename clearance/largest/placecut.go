package largest

import (
	"math"

	"elbowroom/clearance"
)

// mostTried is how many of the places that are too near are tried for a cut: with 3 the
// search takes twice as many nodes, with 48 as many.
const mostTried = 24

// inWay is a place that is too near.
type inWay struct {
	loss  float64 // see loss; of one that may be too near how near it is
	keep  int     // of the places'
	at    vec
	node  int // of the feature; -1: between nodes
	piece int
	way   vec // to it, where the part is off it
}

// foremost are the places that are worst in the way, the worst first.
type foremost [mostTried]inWay

func (top *foremost) add(w inWay) {
	for k := range top {
		if w.loss > top[k].loss {
			copy(top[k+1:], top[k:])
			top[k] = w
			return
		}
	}
}

// loss is what a box loses at least, of one of its sizes, for a place to be off a part.
func (s *search) loss(n *node, c *core, h *hull, size, at [3]float64, need float64) float64 {
	loss := math.Inf(1)
	for a := range 3 {
		by := need
		if c.round[a] {
			by += c.radius
		}
		if n.from[a] < n.to[a] || c.low.share[a] != 0 {
			loss = min(loss, (by+at[a]-h.low[a])/size[a])
		}
		loss = min(loss, (by+h.high[a]-at[a])/size[a])
	}
	return loss
}

// placesCut gives the children of the best of the cuts off the places that are most in
// the way of a node's largest box, of which no more than tried are tried; nil where none
// is. It leaves in the node what may be too near to one of its boxes.
func (s *search) placesCut(n *node, f *frame, stand clearance.Stand, tried int) (best []*node) {
	p := s.placesOf(f)
	s.takes, s.stands = s.takes[:0], s.stands[:0]
	for i := range p.keeps {
		s.takes = append(s.takes, p.keeps[i].core.takes(n))
		s.stands = append(s.stands, p.keeps[i].core.stands(stand))
	}
	var sure, maybe foremost
	s.marksIn(n, f, stand, &sure, &maybe)
	s.piecesIn(n, f, stand, &sure, &maybe)
	if best = s.bestCut(n, f, stand, sure[:tried]); best != nil {
		return best
	}
	best = s.bestCut(n, f, stand, maybe[:min(tried, maybeTried)])
	if best != nil && mostKey(best) > n.key-maybeShare*(n.key-s.best.value) {
		return nil // it leads hardly farther: the judge knows better
	}
	return best
}

// Of the places that may be too near few are tried, since these take long, and a cut
// counts that takes a tenth off what is still to prove.
const (
	maybeTried = 4
	maybeShare = 0.1
)

// bestCut gives the children of the best of the cuts off some places.
func (s *search) bestCut(n *node, f *frame, stand clearance.Stand, places []inWay) (best []*node) {
	least := math.Inf(1)
	for _, x := range places {
		if x.loss <= 0 {
			break
		}
		c := &f.places.keeps[x.keep].core
		d := s.needed(n, f, x)
		better := func(children []*node, ok bool) {
			key := 0.0
			for _, child := range children {
				key += math.Pow(child.key/n.key, sharpness)
				ok = ok && !child.holds(stand)
			}
			if ok && key < least {
				least, best = key, append([]*node{}, children...)
			}
		}
		better(s.cover(n, *c, x.at, d, stand))
		if x.node < 0 && n.cell.half() == 0 {
			s.walled(n, f, x, d, better)
		}
	}
	return best
}

// walled tries the cuts along a piece that goes on behind, see wall.
func (s *search) walled(n *node, f *frame, x inWay, d need, better func([]*node, bool)) {
	h := f.places.keeps[x.keep].held
	h.Piece = x.piece
	if f.judge.Behind(h.Feature) == (vec{}) {
		return
	}
	h.Pins = []clearance.Pin{{Normal: x.way.Normalize(), OnFeature: x.at}}
	piece := s.task.space.Features[h.Feature].Pieces[x.piece].Nodes
	for i, l := range f.planes(h, piece) {
		if i == 0 && x.way == (vec{}) {
			continue // no direction to it: it is within the part
		}
		l.touch = l.touch.Sub(l.normal.Mul(f.grow[h.Feature]))
		if i > 0 {
			l.touch = f.nodes[h.Feature][piece[0]]
		}
		better(s.wall(n, f, f.places.keeps[x.keep].core, h, d, l))
	}
}

// sharpness weighs a cut's children: their number counts where they are nearly as good,
// and not where they are not. With 8 or 40 the search takes half as many nodes again.
const sharpness = 24

// needed is what a part needs from a place that is in its way.
func (s *search) needed(n *node, f *frame, x inWay) need {
	k := &f.places.keeps[x.keep]
	h := k.held
	h.Piece = x.piece
	if x.node < 0 {
		way := x.way
		if way == (vec{}) {
			g := s.stands[x.keep]
			way = x.at.Sub(vector(g.low).Add(vector(g.high)).Mul(0.5))
		}
		h.Pins = []clearance.Pin{{Normal: way.Normalize()}}
	}
	d := s.needOf(f, h)
	if x.node >= 0 || x.way != (vec{}) || x.loss < deep {
		d = s.need(n, f, k.core, h, x.node)
	}
	d.slack, d.turn = s.slack(n, x.at), n.cell.half()
	if x.way != (vec{}) {
		s.sharpen(&d, n, f, &k.core, h, x.at)
	}
	return d
}

// deep is from which share of a size on it matters little how well a place between
// marks is known.
const deep = 0.05

// asked is what a part needs from a mark in the way that it is off it at a box.
func (s *search) asked(n *node, f *frame, t *mark, h *hull) float64 {
	k := &f.places.keeps[t.keep]
	d := s.need(n, f, k.core, k.held, t.node)
	d.turn = n.cell.half()
	o := h.off(t.at)
	var sides [3]int
	for a, x := range t.at {
		if x > h.high[a] {
			sides[a] = 1
		}
	}
	if k.core.anyRound() {
		return d.rim(k.core, o, o, sides)
	}
	return d.corner(o, o, sides)
}

// marksIn adds the marks that are too near to a node's largest box, and leaves in the
// node those that may be to one of its boxes.
func (s *search) marksIn(n *node, f *frame, stand clearance.Stand, sure, maybe *foremost) {
	p := f.places
	if n.marks == nil {
		n.marks = all(len(p.marks))
	}
	size := components(stand.Size().Vector())
	left := make([]int32, 0, len(n.marks))
	turn := 2 * math.Sin(n.cell.half()/2)
	last := -1
	var outer, inner hull
	var k *keep
	for _, i := range n.marks {
		t := &p.marks[i]
		if t.keep != last {
			last = t.keep
			k = &p.keeps[last]
			slack := turn * k.far
			outer, inner = s.takes[last].widen(k.most+slack+k.core.radius), s.stands[last].widen(k.most+k.core.radius)
		}
		if !outer.holds(&t.at) {
			continue
		}
		left = append(left, i)
		if !inner.holds(&t.at) {
			continue
		}
		slack := 0.0
		if turn > 0 {
			slack = turn * math.Hypot(t.at[0], t.at[1])
		}
		h := &s.stands[last]
		off, least := k.core.off(h.off(t.at)), k.least
		if off >= least-slack-reach && h.depth(&t.at) <= slack+reach {
			if off >= k.most {
				continue
			}
			if asked := s.asked(n, f, t, h); off < asked-slack-reach {
				maybe.add(inWay{loss: asked - off, keep: last, at: vector(t.at), node: t.node})
			}
			continue
		}
		loss := s.loss(n, &k.core, h, size, t.at, least-slack)
		sure.add(inWay{loss: loss, keep: last, at: vector(t.at), node: t.node})
	}
	n.marks = left
}

func all(n int) []int32 {
	out := make([]int32, n)
	for i := range out {
		out[i] = int32(i)
	}
	return out
}

// piecesIn does the same with what is between marks.
func (s *search) piecesIn(n *node, f *frame, stand clearance.Stand, sure, maybe *foremost) {
	p := f.places
	if n.chunks == nil {
		n.chunks = all(len(p.chunks))
	}
	size := components(stand.Size().Vector())
	left := make([]int32, 0, len(n.chunks))
	turn := 2 * math.Sin(n.cell.half()/2)
	last := -1
	var outer, inner hull
	var k *keep
	var m middle
	for _, i := range n.chunks {
		l := &p.chunks[i]
		if l.keep != last {
			last = l.keep
			k = &p.keeps[last]
			h := &s.stands[last]
			outer, inner = s.takes[last].widen(k.most+turn*k.far+k.core.radius), h.widen(k.most+k.core.radius)
			m.size = size
			for a := range 3 {
				m.at[a] = (h.low[a] + h.high[a]) / 2
				if n.from[a] == n.to[a] && k.core.low.share[a] == 0 {
					m.at[a] = h.low[a]
				}
			}
		}
		if !outer.meets(&l.span) {
			continue
		}
		left = append(left, i)
		if !inner.meets(&l.span) {
			continue
		}
		q, onPart := innermost(l.nodes, l.behind, &m), vec{}
		at := components(q)
		h := &s.stands[last]
		if !inner.holds(&at) || k.core.off(h.off(at)) >= k.least-reach {
			q, onPart = nearest(l.nodes, l.behind, h, q)
			at = components(q)
		}
		slack := 0.0
		if turn > 0 {
			slack = turn * math.Hypot(q.X, q.Y)
		}
		if off := k.core.off(h.off(at)); off >= k.least-slack-reach && h.depth(&at) <= slack+reach {
			if off < k.most && turn == 0 {
				maybe.add(inWay{loss: k.most - off, keep: last, at: q, node: -1, piece: l.piece, way: q.Sub(onPart)})
			}
			continue
		}
		loss := s.loss(n, &k.core, h, size, at, k.least-slack)
		sure.add(inWay{loss: loss, keep: last, at: q, node: -1, piece: l.piece})
	}
	n.chunks = left
}
