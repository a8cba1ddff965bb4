package largest

import (
	"context"
	"math"

	"github.com/golang/geo/r2"

	"elbowroom/clearance"
	"elbowroom/solid"
)

// found is a box that keeps every line's sure.
type found struct {
	stand clearance.Stand
	frame *frame
	value float64
	lines []clearance.Held
}

// search is one branch and bound.
type search struct {
	task   task
	frames *frames
	room   [3]Range
	bounds bounds
	root   *node
	heap   heap
	seen   map[[2 * faces]float64]bool
	best   found
	floor  float64 // the greatest value of what was given up
	pops   int
	// mendAt is the node at which a box is mended next, and mendWait for how many
	// nodes after a mending that led to nothing better none is.
	mendAt, mendWait int
	rough            bool // lines are judged by their nearest places alone
	looks            int
	enough           float64 // stop at a box of that value
	wanted           float64 // stop where nothing better than that is left
}

// usualPops is how many nodes are looked at for an Effort of 1: a hand survey
// takes tens to hundreds.
const usualPops = 1000

// closeEnough is by what share a box found may fall short of the bound for the search to
// end: under the half percent that the answer promises on hand surveys.
const closeEnough = 0.004

// cell is a range of turns, seen from its middle.
type cell struct {
	from, to float64
	frame    *frame
	parts    [2]*cell // its halves, once made
}

func (c *cell) half() float64 { return (c.to - c.from) / 2 }

// value of a box of that size, litres.
func (s *search) value(size solid.Size) float64 {
	if s.task.limits.Outside {
		return size.Width * size.Height * size.Depth / 1e6
	}
	t := s.task.tank
	t.Size = size
	v, _ := t.Capacity()
	return v
}

// size is the size of the largest of a node's boxes that keeps the aspect.
func (s *search) size(n *node) solid.Size { return s.aspected(n.size(s.bounds)) }

// settle tightens a node and gives it its key; ok is false where nothing is left
// that could be better than the best.
func (s *search) settle(n *node) bool {
	if !n.tighten(s.bounds) {
		return false
	}
	n.key = math.Min(n.key, s.value(s.size(n)))
	return n.key > math.Max(s.best.value, s.wanted) && n.key > 0
}

// push adds a node that was not seen before.
func (s *search) push(n *node) {
	var key [2 * faces]float64
	copy(key[:], n.from[:])
	copy(key[faces:], n.to[:])
	if n.cell == s.root.cell && n.near == 0 {
		if s.seen[key] {
			return
		}
		s.seen[key] = true
	}
	s.heap.push(n)
}

// run looks for the best box. The error is that of ctx.
func (s *search) run(ctx context.Context) error {
	s.seen = map[[2 * faces]float64]bool{}
	s.heap, s.mendAt, s.mendWait = heap{}, 0, 0
	s.root.key = math.Inf(1)
	if !s.settle(s.root) {
		return nil
	}
	s.push(s.root)
	limit := int(usualPops * s.task.limits.Effort)
	for len(s.heap.nodes) > 0 && s.pops < limit {
		if err := ctx.Err(); err != nil {
			return err
		}
		if s.best.value >= s.bound()*(1-closeEnough) || s.best.value >= s.enough {
			return nil
		}
		n := s.heap.pop()
		if n.key <= math.Max(s.best.value, s.wanted) {
			return nil
		}
		s.pops++
		s.look(n)
	}
	return nil
}

// bound is no less than the value of any box that could be better.
func (s *search) bound() float64 {
	most := math.Max(s.best.value, s.floor)
	if len(s.heap.nodes) > 0 {
		most = math.Max(most, s.heap.nodes[0].key)
	}
	return most
}

// look judges a node's largest box and cuts off what cannot be.
func (s *search) look(n *node) {
	stand := s.stand(n)
	f := n.cell.frame
	if s.lift(n, f, stand) {
		return
	}
	inside, out := s.within(n, f, stand)
	lines := f.judge.Lines(stand, false, s.task.slips)
	s.looks++
	worst := worstOf(lines)
	var children []*node
	switch {
	case worst <= reach && !out:
		if s.take(f, stand) {
			return
		}
	case worst < nearMiss || s.pops%mendEvery == 0:
		s.tryMend(f, n, stand)
	}
	if worst > reach {
		children = s.cut(n, f, stand, lines)
	}
	if out && (children == nil || mostKey(inside) < mostKey(children)) {
		children = append([]*node{}, inside...)
	}
	s.spread(n, f, stand, lines, children)
}

// spread puts a node's children on the heap. Where there are none, or a cut leads
// hardly farther, the node is cut in two across its turns or a hose's fitting, or
// taken apart.
func (s *search) spread(n *node, f *frame, stand clearance.Stand, lines []clearance.Held, children []*node) {
	switch {
	case children != nil && s.narrow(n, children):
	case s.bendy(lines) && (children == nil || mostKey(children) > slow*n.key) && s.halve(n, lines):
	case children == nil:
		s.tryMend(f, n, stand)
		s.part(n, stand)
	default:
		for _, c := range children {
			s.push(c)
		}
	}
}

// mendEvery is for how many nodes one is mended in any case.
const mendEvery = 16

// nearMiss is how short the worst line may fall for a box to be worth mending, mm.
const nearMiss = 4

// reach is within what of a limit counts as reaching it, mm.
const reach = 1e-6

// stand is a node's largest box in place.
func (s *search) stand(n *node) clearance.Stand {
	stand := n.largest(s.size(n))
	stand.StandOff = s.standOff(stand)
	return stand
}

// standOff is what a stand's stand-off is in the job: what is asked for, or where
// that is free the back's place.
func (s *search) standOff(stand clearance.Stand) float64 {
	if s.task.limits.StandOff.Given {
		return stand.Lo.Z
	}
	return s.task.tank.Place.StandOff
}

// lift cuts a node whose largest box is held farther out by a mark under it that
// stands proud of the face: no box over that mark stands nearer.
func (s *search) lift(n *node, f *frame, stand clearance.Stand) bool {
	out, _ := f.judge.Out(r2.Point{X: stand.Lo.X, Y: stand.Lo.Y}, r2.Point{X: stand.Hi.X, Y: stand.Hi.Y}, stand.StandOff)
	if out <= stand.Lo.Z+reach/1000 {
		return false
	}
	for _, p := range f.judge.Proud(stand.StandOff) {
		if p.Z <= stand.Lo.Z || p.X < stand.Lo.X || p.X > stand.Hi.X || p.Y < stand.Lo.Y || p.Y > stand.Hi.Y {
			continue
		}
		beside := math.Nextafter // a mark on the very edge counts as under the box
		for _, cut := range [5]struct {
			face int
			at   float64
		}{{0, beside(p.X, math.Inf(1))}, {1, beside(p.Y, math.Inf(1))}, {2, p.Z}, {3, beside(p.X, math.Inf(-1))}, {4, beside(p.Y, math.Inf(-1))}} {
			m := *n
			if cut.face < 3 {
				m.from[cut.face] = math.Max(m.from[cut.face], cut.at)
			} else {
				m.to[cut.face] = math.Min(m.to[cut.face], cut.at)
			}
			if s.settle(&m) {
				s.push(&m)
			}
		}
		return true
	}
	return false
}

func worstOf(lines []clearance.Held) float64 {
	worst := math.Inf(-1)
	for _, h := range lines {
		worst = math.Max(worst, h.Short)
	}
	return worst
}

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
		for _, p := range f.spots(h, piece, middle) {
			c := coreOf(part, tank, p.at.Sub(stand.Lo))
			d := s.need(n, f, c, h, p.node)
			d.slack, d.turn = s.slack(n, p.at), n.cell.half()
			better(s.cover(n, c, p.at, d, stand))
		}
	}
	return best
}

// slack is how far a place may be nearer at another turn of the node's.
func (s *search) slack(n *node, at vec) float64 {
	if n.cell.half() == 0 {
		return 0
	}
	return 2 * math.Hypot(at.X, at.Y) * math.Sin(n.cell.half()/2)
}

// holds says whether a box is one of the node's.
func (n *node) holds(s clearance.Stand) bool {
	lo, hi := components(s.Lo), components(s.Hi)
	for a := range 3 {
		if lo[a] < n.from[a] || lo[a] > n.to[a] || hi[a] < n.from[a+3] || hi[a] > n.to[a+3] {
			return false
		}
	}
	return true
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

// slowTurn is the share of a node's value that a cut leaves at least for its range of
// turns to be halved instead: what the turn may hide is more than what the cut shows.
const slowTurn = 0.97

// narrow halves a node's turns where a cut leads hardly farther; ok says that it did.
func (s *search) narrow(n *node, children []*node) (ok bool) {
	if n.cell.half() <= leastTurn || mostKey(children) <= slowTurn*n.key {
		return false
	}
	s.divide(n)
	return true
}
