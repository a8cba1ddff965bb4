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
	own    found   // at the tank's own turn, where others are looked at too
	floor  float64 // the greatest value of what was given up
	pops   int
	work   int // see usualWork
	// mendAt is the node at which a box is mended next, and mendWait for how many
	// nodes after a mending that led to nothing better none is.
	mendAt, mendWait int
	rough            bool // lines are judged by their nearest places alone
	looks            int
	enough           float64 // stop at a box of that value
	wanted           float64 // stop where nothing better than that is left
	takes, stands    []hull  // what each part can take up in a node, and where it stands of a box: scratch
	holds            solid.Capacities
}

// usualWork is how many nodes are cut for an Effort of 1, and judgeWork how many
// cuts take as long as one judgement: a hand survey takes hundreds to thousands.
const (
	usualWork = 20000
	judgeWork = 10
)

// closeEnough is by what share a box found may fall short of the bound for the search to
// end: well under the half percent that the answer promises on hand surveys, since what
// several places of a line cost together comes off the box yet.
const closeEnough = 0.002

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
	return s.holds.At(size)
}

// size is the size of the largest of a node's boxes that keeps the aspect.
func (s *search) size(n *node) solid.Size { return s.aspected(n.size(s.bounds)) }

// settle tightens a node and gives it its key; ok is false where nothing is left
// that could be better than the best.
func (s *search) settle(n *node) bool {
	if !n.tighten(s.bounds) {
		return false
	}
	if !s.keen(n) {
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
	s.heap, s.mendAt, s.mendWait, s.work = heap{}, s.pops, 0, 0
	s.root.key = math.Inf(1)
	if !s.settle(s.root) {
		return nil
	}
	s.start(s.root)
	return s.on(ctx, func() bool {
		return s.best.value >= s.bound()*(1-closeEnough) || s.best.value >= s.enough
	})
}

// on goes on with a search until it is done, nothing better is left, or its work is
// done. The error is that of ctx.
func (s *search) on(ctx context.Context, done func() bool) error {
	limit := int(usualWork * s.task.limits.Effort)
	for len(s.heap.nodes) > 0 && s.work < limit {
		if err := ctx.Err(); err != nil {
			return err
		}
		if done() {
			return nil
		}
		n := s.heap.pop()
		if n.key <= math.Max(s.best.value, s.wanted) {
			return nil
		}
		s.pops++
		s.work++
		s.look(n)
	}
	return nil
}

// start puts a node on the heap by parts of few degrees: what more of them hide is more
// than a cut shows.
func (s *search) start(n *node) {
	if n.cell.half() <= firstTurn {
		s.push(n)
		return
	}
	for _, c := range s.frames.halves(n.cell) {
		m := *n
		if m.cell = c; s.settle(&m) {
			s.start(&m)
		}
	}
}

// firstTurn is half of the widest range of turns that is looked at in one.
const firstTurn = degree / 3

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
	if !s.settle(n) {
		return
	}
	stand := s.stand(n)
	f := n.cell.frame
	if dives(s.pops) {
		s.dive(n)
	}
	if s.lift(n, f, stand) {
		return
	}
	inside, out := s.within(n, f, stand)
	if children := s.placesCut(n, f, stand, mostTried); children != nil {
		if out && mostKey(inside) < mostKey(children) {
			children = inside
		}
		if s.narrow(n, children) {
			return
		}
		for _, c := range children {
			s.push(c)
		}
		return
	}
	if n.cell.half() > leastTurn {
		s.divide(n)
		return
	}
	s.judged(n, f, stand, inside, out)
}

// judged judges a node's largest box by its lines, where no place is known to be in its
// way, and cuts off what cannot be.
func (s *search) judged(n *node, f *frame, stand clearance.Stand, inside []*node, out bool) {
	lines := f.judge.LinesBut(stand, s.task.slips, s.quiet(n, f))
	s.looks++
	s.work += judgeWork
	worst := worstOf(lines)
	var children []*node
	switch {
	case worst <= reach && !out:
		all, ok := s.judge(f, stand)
		if ok {
			return
		}
		if by := worstOf(all); by > reach {
			lines, worst = all, by // a mark that may be nearest falls short
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

// slowTurn is the share of a node's value that a cut leaves at least for its range of
// turns to be halved instead: what the turn may hide is more than what the cut shows.
const slowTurn = 0.998

// narrow halves a node's turns where a cut leads hardly farther; ok says that it did.
func (s *search) narrow(n *node, children []*node) (ok bool) {
	if n.cell.half() <= leastTurn || mostKey(children) <= slowTurn*n.key {
		return false
	}
	s.divide(n)
	return true
}
