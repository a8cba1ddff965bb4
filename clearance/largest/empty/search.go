package empty

import (
	"container/heap"
	"context"
	"slices"
)

// A search is the state of one branch and bound.
type search struct {
	Problem
	blocks  []Box // the problem's, and those that more has found
	found   map[Box]int32
	more    lookout
	allowed func(Box) bool // which empty rooms count; nil: all
	open    nodes
	best    node    // the best empty room
	value   Value   // of best; a room must beat it
	nodes   int     // looked into
	kept    []int32 // what drawIn is filling
}

// A lookout finds obstacles in a room that the search was not told of; nil:
// there are none. The ignored ones are not to be found again.
type lookout func(room Box, ignored []Box) []Box

// A node is all boxes of a kind: within room, the faces at most as far drawn
// back as limit says. Its own room is the largest of them.
type node struct {
	room    Box
	limit   Box     // the lower faces are at most at Lo, the upper at least at Hi
	near    []int32 // the obstacles that may reach in
	ignored []Box   // those that reach into every box of the node
	value   Value   // of the room
}

func newSearch(p Problem) *search {
	s := &search{Problem: p.whole(), blocks: slices.Clip(p.Blocks), found: map[Box]int32{}}
	root := node{room: s.Domain, limit: Box{Lo: s.Domain.Hi, Hi: s.Domain.Lo}}
	for i := range s.blocks {
		root.near = append(root.near, int32(i))
	}
	if s.Holds != nil {
		root.limit = *s.Holds
	}
	if !s.Free {
		root.limit.Lo[2] = root.room.Lo[2]
	}
	root.value = s.worth(root.room.Size())
	if root.value.over(Value{}) {
		s.open = nodes{root}
	}
	return s
}

// run searches until the proof is done, the context ends or the effort is spent.
// Until there is a box it follows the most promising branch down: the first
// value is wanted soon, to draw the other rooms in by it.
func (s *search) run(ctx context.Context, e Effort) {
	for len(s.open) > 0 && s.open[0].value.over(s.value) {
		n, more := heap.Pop(&s.open).(node), true
		for more {
			if s.nodes%64 == 0 && ctx.Err() != nil || e.Nodes > 0 && s.nodes >= e.Nodes {
				heap.Push(&s.open, n)
				return
			}
			n, more = s.look(n)
			if more && s.value.over(Value{}) {
				heap.Push(&s.open, n)
				more = false
			}
		}
	}
	s.open = nil
}

// answer is what the search has: its best room grown until it can grow no
// further, which in a search that was stopped may be worth more than it was.
func (s *search) answer() Answer {
	a := Answer{Nodes: s.nodes}
	if s.value.over(Value{}) {
		a.Room, a.Ignored = s.grown(s.best.room, s.best.ignored), s.best.ignored
		a.Size, _ = s.Fit(a.Room.Size())
		a.Value = s.worth(a.Room.Size())
	}
	a.AtMost, a.Proved = a.Value, true
	if len(s.open) > 0 && s.open[0].value.over(a.Value) {
		a.AtMost, a.Proved = s.open[0].value, false
	}
	return a
}

// look takes one node: it draws the room in as far as must be, and then either
// has an empty room, or branches on a block in it. It returns the most promising
// branch, if there is one; the others are put with the open nodes.
func (s *search) look(n node) (next node, ok bool) {
	s.nodes++
	if !s.drawIn(&n) {
		return n, false
	}
	for len(n.near) == 0 {
		if !s.ask(&n) {
			s.take(n)
			return n, false
		}
		if !s.drawIn(&n) {
			return n, false
		}
	}
	if s.value.over(Value{}) && len(s.open) > 0 && s.open[0].value.over(n.value) {
		return n, true
	}
	return s.branch(n)
}

// ask looks for obstacles in an empty-looking room that nobody told of yet.
func (s *search) ask(n *node) bool {
	if s.more == nil {
		return false
	}
	n.near = nil
	for _, b := range s.more(n.room, n.ignored) {
		i, known := s.found[b]
		if !known {
			i = int32(len(s.blocks))
			s.found[b] = i
			s.blocks = append(s.blocks, b)
		}
		n.near = append(n.near, i)
	}
	return len(n.near) > 0
}

// take keeps an empty room if it is the best so far.
func (s *search) take(n node) {
	if n.value.over(s.value) && (s.allowed == nil || s.allowed(n.room)) {
		s.best, s.value = n, n.value
	}
}

// drawIn draws the room of a node in until every obstacle in it leaves at least
// two ways. It is false when no box of the node can beat the best.
func (s *search) drawIn(n *node) bool {
	for again := true; again; {
		again = false
		near := s.kept[:0]
		if n.value = s.worth(n.room.Size()); !n.value.over(s.value) {
			return false
		}
		s.tighten(n)
		for _, i := range n.near {
			b := &s.blocks[i]
			if !n.room.hits(b) {
				continue
			}
			ways, only := n.waysOut(b)
			switch {
			case ways == 0 && slices.Contains(n.ignored, *b):
			case ways == 0 && len(n.ignored) >= s.Ignore:
				return false
			case ways == 0:
				n.ignored = append(n.ignored[:len(n.ignored):len(n.ignored)], *b)
			case ways == 1 && len(n.ignored) >= s.Ignore:
				n.room = n.room.beside(b, only)
				again = true
			default:
				near = append(near, i)
			}
		}
		n.near, s.kept = near, near
	}
	n.near = slices.Clone(n.near)
	return true
}

// waysOut counts the faces that may be drawn back past a block in the room.
func (n *node) waysOut(b *Box) (ways int, last face) {
	for a := range 3 {
		if b.Hi[a] <= n.limit.Lo[a] {
			ways, last = ways+1, face(2*a)
		}
		if b.Lo[a] >= n.limit.Hi[a] {
			ways, last = ways+1, face(2*a+1)
		}
	}
	return ways, last
}

// tighten sets how far each face may be drawn back, all others where they are,
// for a box that still beats the best.
func (s *search) tighten(n *node) {
	size := n.room.Size()
	for a := range size {
		least := s.least(size, a)
		n.limit.Lo[a] = min(n.limit.Lo[a], n.room.Hi[a]-least)
		n.limit.Hi[a] = max(n.limit.Hi[a], n.room.Lo[a]+least)
	}
}

// branch puts a node's boxes into new nodes: one for each way out past an
// obstacle, the better ones without the boxes of the worse, and, where one more
// may be ignored, one for the boxes that it reaches into. It returns the best of
// the ways out and puts the others with the open nodes.
func (s *search) branch(n node) (best node, ok bool) {
	b := &s.blocks[s.pivot(&n)]
	for _, f := range s.waysByValue(&n, b) {
		c := node{room: n.room.beside(b, f), limit: n.limit, near: n.near, ignored: n.ignored}
		if c.value = s.worth(c.room.Size()); c.value.over(s.value) {
			if ok {
				heap.Push(&s.open, best)
			}
			best, ok = c, true
		}
		if a := f.axis(); f.upper() {
			n.limit.Hi[a] = max(n.limit.Hi[a], b.Lo[a]+1)
		} else {
			n.limit.Lo[a] = min(n.limit.Lo[a], b.Hi[a]-1)
		}
	}
	if len(n.ignored) < s.Ignore {
		heap.Push(&s.open, n)
	}
	return best, ok
}

// waysByValue are the faces that may be drawn back past a block, the one that
// leaves least first.
func (s *search) waysByValue(n *node, b *Box) []face {
	var ways [6]face
	var values [6]Value
	count := 0
	for f := range face(6) {
		if a := f.axis(); f.upper() && b.Lo[a] < n.limit.Hi[a] || !f.upper() && b.Hi[a] > n.limit.Lo[a] {
			continue
		}
		value := s.worth(n.room.beside(b, f).Size())
		at := count
		for ; at > 0 && values[at-1].over(value); at-- {
			ways[at], values[at] = ways[at-1], values[at-1]
		}
		ways[at], values[at] = f, value
		count++
	}
	return ways[:count]
}
