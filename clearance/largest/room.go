package largest

import (
	"math"

	"elbowroom/clearance"
	"elbowroom/solid"
)

// ranges are where the body may be, on the face as drawn and out from it: the room,
// and where that is open as far as the outermost marks.
func (s *search) ranges() [3]Range {
	out := s.task.limits.Room
	f := s.root.cell.frame
	for a := range 3 {
		if out[a].Given {
			continue
		}
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, nodes := range f.nodes {
			for _, at := range nodes {
				x := components(f.judge.Unturned(at))[a]
				lo, hi = math.Min(lo, x), math.Max(hi, x)
			}
		}
		out[a] = Range{From: lo, To: hi}
	}
	return out
}

// whole is the node of all boxes in the room. A turned box keeps within the room's
// edges by its corners: see outside.
func (s *search) whole() {
	n := s.root
	s.room = s.ranges()
	for a := range 3 {
		n.from[a], n.to[a] = s.room[a].From, s.room[a].To
	}
	if s.turned() {
		lo, hi := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
		for k := range 4 {
			x, y := s.room[0].From, s.room[1].From
			if k&1 == 1 {
				x = s.room[0].To
			}
			if k&2 == 2 {
				y = s.room[1].To
			}
			at := n.cell.frame.judge.Turned(point(x, y))
			slack := s.slack(n, vec{X: x, Y: y})
			lo[0], hi[0] = math.Min(lo[0], at.X-slack), math.Max(hi[0], at.X+slack)
			lo[1], hi[1] = math.Min(lo[1], at.Y-slack), math.Max(hi[1], at.Y+slack)
		}
		for a := range 2 {
			n.from[a], n.to[a] = lo[a], hi[a]
		}
	}
	for a := range 3 {
		n.from[a+3], n.to[a+3] = n.from[a], n.to[a]
	}
	off := s.task.tank.Place.StandOff
	n.from[2], n.to[2] = off, off
	if r := s.task.limits.StandOff; r.Given {
		n.from[2], n.to[2] = r.From, r.To
	}
	for _, p := range n.cell.frame.judge.Proud(n.from[2]) {
		n.to[2] = math.Max(n.to[2], p.Z)
	}
}

// turned says whether any box of the search is turned.
func (s *search) turned() bool {
	c := s.root.cell
	return c.from != 0 || c.to != 0
}

// edge is an edge of the room as a turned box sees it: its corners keep
// normal·corner at most at.
type edge struct{ x, y, at float64 }

func (s *search) edges(f *frame) [4]edge {
	x, y := f.judge.Turned(point(1, 0)), f.judge.Turned(point(0, 1))
	return [4]edge{
		{x.X, x.Y, s.room[0].To}, {-x.X, -x.Y, -s.room[0].From},
		{y.X, y.Y, s.room[1].To}, {-y.X, -y.Y, -s.room[1].From},
	}
}

// over is how far a box's corner is beyond an edge.
func (e edge) over(stand clearance.Stand) float64 {
	x, y := stand.Lo.X, stand.Lo.Y
	if e.x > 0 {
		x = stand.Hi.X
	}
	if e.y > 0 {
		y = stand.Hi.Y
	}
	return e.x*x + e.y*y - e.at
}

// outside is the edge that a turned box is farthest beyond.
func (s *search) outside(f *frame, stand clearance.Stand) (worst edge, by float64) {
	if !s.turned() {
		return worst, 0
	}
	for _, e := range s.edges(f) {
		if over := e.over(stand); over > by {
			worst, by = e, over
		}
	}
	return worst, by
}

// within cuts a node whose largest box has a corner beyond an edge of the room: of
// what the corner is beyond it, one of its two coordinates has to give up its share
// at least.
func (s *search) within(n *node, f *frame, stand clearance.Stand) (children []*node, out bool) {
	e, by := s.outside(f, stand)
	by -= s.slack(n, s.farthest(stand))
	if by <= reach {
		return nil, false
	}
	// In proportion to the sizes, so that each child loses as much.
	sizes := [2]float64{stand.Hi.X - stand.Lo.X, stand.Hi.Y - stand.Lo.Y}
	whole := math.Abs(e.x)*sizes[0] + math.Abs(e.y)*sizes[1]
	for axis, x := range [2]float64{e.x, e.y} {
		if x == 0 {
			continue
		}
		m := *n
		give := by*sizes[axis]/whole - loose
		if x > 0 {
			m.to[axis+3] = math.Min(m.to[axis+3], components(stand.Hi)[axis]-give)
		} else {
			m.from[axis] = math.Max(m.from[axis], components(stand.Lo)[axis]+give)
		}
		if s.settle(&m) {
			children = append(children, &m)
		}
	}
	return children, true
}

// farthest is the corner of a box that is farthest from the datum.
func (s *search) farthest(stand clearance.Stand) vec {
	return vec{
		X: math.Max(math.Abs(stand.Lo.X), math.Abs(stand.Hi.X)),
		Y: math.Max(math.Abs(stand.Lo.Y), math.Abs(stand.Hi.Y)),
	}
}

// tuck makes a turned box smaller until its corners are in the room.
func (s *search) tuck(f *frame, stand clearance.Stand) clearance.Stand {
	for range 8 { // each takes one edge, which may bring the next
		e, by := s.outside(f, stand)
		if by <= 0 {
			break
		}
		give := by * (1 + 1e-12)
		switch {
		case math.Abs(e.x) >= math.Abs(e.y) && e.x > 0:
			stand.Hi.X -= give / e.x
		case math.Abs(e.x) >= math.Abs(e.y):
			stand.Lo.X -= give / e.x
		case e.y > 0:
			stand.Hi.Y -= give / e.y
		default:
			stand.Lo.Y -= give / e.y
		}
	}
	return stand
}

// open lists the sides of the best box that nothing measured stops: they reach as
// far as the outermost mark, in a direction that has no room.
func (s *search) open(stand clearance.Stand) (sides []solid.Side) {
	if s.turned() {
		return nil
	}
	low := [3]solid.Side{solid.Left, solid.Bottom, solid.NoSide}
	high := [3]solid.Side{solid.Right, solid.Top, solid.Front}
	for a := range 3 {
		if s.room[a].Given {
			continue
		}
		if low[a] != solid.NoSide && components(stand.Lo)[a] <= s.room[a].From+reach {
			sides = append(sides, low[a])
		}
		if components(stand.Hi)[a] >= s.room[a].To-reach {
			sides = append(sides, high[a])
		}
	}
	return sides
}
