package empty

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
)

// Guard stops an enumeration that grows too long. The zero Guard is ready to use.
type Guard struct {
	Alive int // rectangles carried at one depth; zero: 200,000
	Rooms int // rooms listed; zero: 2,000,000

	Beat Value // list only rooms worth more than this; the zero Value: all worth anything
}

// TooMany is the error of an enumeration that its guard stopped. The rooms that
// came with it are all of those whose depth is at most Depth, and no others.
type TooMany struct {
	Depth       int64 // micrometres above the plane
	Blocks, Of  int   // blocks taken in, and how many there are
	Alive, List int   // rectangles carried, and rooms listed, when it stopped
}

func (e *TooMany) Error() string {
	return fmt.Sprintf("too many maximal boxes: %d listed and %d more open after %d of %d obstacles; the list is complete up to %.3f mm deep",
		e.List, e.Alive, e.Blocks, e.Of, float64(max(e.Depth, 0))/1000)
}

// ErrFree is the error of Enumerate and NewScan for a problem whose box need not
// stand.
var ErrFree = errors.New("this is only for boxes that stand on the plane")

// Enumerate lists every maximal room of a standing box, shallow ones first: the
// empty boxes on the plane that can grow on no face, as far as they reach the
// least sizes, hold what they must and are worth anything.
//
// A standing room has five faces, and an obstacle is a rectangle that shows up
// at a depth. So the obstacles are taken in by depth, and the maximal empty
// rectangles of those taken in are carried along: one that an obstacle cuts is a
// room of just that depth, and its up to four parts are carried on where they
// are maximal, which is read from the obstacles whose edges bear their shortened
// sides. Each obstacle adds at most four rectangles for each one before it, so n
// obstacles have at most 4n^2 + 1 rooms. The rectangle list is that of A. Naamad,
// D. T. Lee, W.-L. Hsu, Discrete Applied Mathematics 8 (1984) 267-277.
//
// The error is one of the problem's own, ErrFree, that of the context or a
// *TooMany.
func Enumerate(ctx context.Context, p Problem, g Guard) ([]Box, error) {
	if err := p.Err(); err != nil {
		return nil, err
	}
	if p.Free {
		return nil, ErrFree
	}
	if g.Alive == 0 {
		g.Alive = 200_000
	}
	if g.Rooms == 0 {
		g.Rooms = 2_000_000
	}
	l := newList(p.whole(), g)
	for i := range l.rects {
		if i%256 == 255 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		l.insert(i)
		if l.alive.count > g.Alive || len(l.rooms) > g.Rooms {
			return l.stopped(i)
		}
	}
	l.alive.tidy()
	for _, r := range l.alive.alive {
		l.emit(r, l.Domain.Hi[2]-l.Domain.Lo[2])
	}
	return l.rooms, nil
}

// A rect is a rectangle of the plane: the numbers of its edges among all edges.
type rect struct{ x0, x1, y0, y1 int32 }

func (r rect) hits(o rect) bool {
	return o.x0 < r.x1 && o.x1 > r.x0 && o.y0 < r.y1 && o.y1 > r.y0
}

// An alive rect is empty and maximal since an obstacle at depth born.
type alive struct {
	rect
	born int64
}

// A list carries the maximal rectangles of the obstacles taken in.
type list struct {
	Problem
	guard Guard
	rects []rect  // obstacles, shallow first
	depth []int64 // at which each shows up
	x, y  []int64 // coordinates of the edges
	alive strips
	rooms []Box
	cut   []alive

	// The obstacles taken in by the number of an edge: those that end there,
	// and those that begin there.
	endX, beginX, endY, beginY [][]rect
}

func newList(p Problem, g Guard) *list {
	l := &list{Problem: p, guard: g}
	floor := p.Domain.Lo[2]
	type shown struct {
		Box
		depth int64
	}
	var all []shown
	for _, b := range p.Blocks {
		if p.Domain.Hits(b) {
			all = append(all, shown{clip(b, p.Domain), max(b.Lo[2]-floor, 0)})
		}
	}
	slices.SortStableFunc(all, func(a, b shown) int { return cmp.Compare(a.depth, b.depth) })
	l.x, l.y = []int64{p.Domain.Lo[0], p.Domain.Hi[0]}, []int64{p.Domain.Lo[1], p.Domain.Hi[1]}
	for _, b := range all {
		l.x, l.y = append(l.x, b.Lo[0], b.Hi[0]), append(l.y, b.Lo[1], b.Hi[1])
	}
	l.x, l.y = distinct(l.x), distinct(l.y)
	for _, b := range all {
		l.rects = append(l.rects, rect{number(l.x, b.Lo[0]), number(l.x, b.Hi[0]), number(l.y, b.Lo[1]), number(l.y, b.Hi[1])})
		l.depth = append(l.depth, b.depth)
	}
	l.endX, l.beginX = make([][]rect, len(l.x)), make([][]rect, len(l.x))
	l.endY, l.beginY = make([][]rect, len(l.y)), make([][]rect, len(l.y))
	l.alive = newStrips(len(l.x), len(l.y))
	l.carry(rect{0, int32(len(l.x) - 1), 0, int32(len(l.y) - 1)}, 0)
	return l
}

func clip(b, to Box) Box {
	for a := range b.Lo {
		b.Lo[a], b.Hi[a] = max(b.Lo[a], to.Lo[a]), min(b.Hi[a], to.Hi[a])
	}
	return b
}

func distinct(v []int64) []int64 {
	slices.Sort(v)
	return slices.Compact(v)
}

func number(sorted []int64, v int64) int32 {
	i, _ := slices.BinarySearch(sorted, v)
	return int32(i)
}

// insert takes an obstacle in: the rectangles that it cuts become rooms, and
// their parts are carried on.
func (l *list) insert(i int) {
	b, depth := l.rects[i], l.depth[i]
	l.endX[b.x1], l.beginX[b.x0] = append(l.endX[b.x1], b), append(l.beginX[b.x0], b)
	l.endY[b.y1], l.beginY[b.y0] = append(l.endY[b.y1], b), append(l.beginY[b.y0], b)
	l.cut = l.alive.cut(b, l.cut[:0])
	for _, r := range l.cut {
		if depth > r.born {
			l.emit(r, depth)
		}
		l.parts(r.rect, b, depth)
	}
}

// parts carries on the maximal ones of the four parts of a rectangle beside b.
func (l *list) parts(r, b rect, depth int64) {
	if x := (rect{r.x0, b.x0, r.y0, r.y1}); x.x0 < x.x1 && l.bearY(x) {
		l.carry(x, depth)
	}
	if x := (rect{b.x1, r.x1, r.y0, r.y1}); x.x0 < x.x1 && l.bearY(x) {
		l.carry(x, depth)
	}
	if y := (rect{r.x0, r.x1, r.y0, b.y0}); y.y0 < y.y1 && l.bearX(y) {
		l.carry(y, depth)
	}
	if y := (rect{r.x0, r.x1, b.y1, r.y1}); y.y0 < y.y1 && l.bearX(y) {
		l.carry(y, depth)
	}
}

// bearX says whether obstacles, or the domain's edges, bear both x sides.
func (l *list) bearX(r rect) bool {
	return (r.x0 == 0 || crossY(l.endX[r.x0], r)) && (int(r.x1) == len(l.x)-1 || crossY(l.beginX[r.x1], r))
}

func (l *list) bearY(r rect) bool {
	return (r.y0 == 0 || crossX(l.endY[r.y0], r)) && (int(r.y1) == len(l.y)-1 || crossX(l.beginY[r.y1], r))
}

func crossX(obstacles []rect, r rect) bool {
	for _, o := range obstacles {
		if o.x0 < r.x1 && o.x1 > r.x0 {
			return true
		}
	}
	return false
}

func crossY(obstacles []rect, r rect) bool {
	for _, o := range obstacles {
		if o.y0 < r.y1 && o.y1 > r.y0 {
			return true
		}
	}
	return false
}

// carry takes a rectangle into the list, if it can become a room that is wanted.
func (l *list) carry(r rect, born int64) {
	if _, ok := l.wanted(r, l.Domain.Hi[2]-l.Domain.Lo[2]); ok {
		l.alive.add(alive{r, born})
	}
}

func (l *list) emit(r alive, depth int64) {
	if room, ok := l.wanted(r.rect, depth); ok {
		l.rooms = append(l.rooms, room)
	}
}

// wanted is the room over a rectangle, and whether the problem asks for such.
func (l *list) wanted(r rect, depth int64) (Box, bool) {
	floor := l.Domain.Lo[2]
	room := Box{Lo: Point{l.x[r.x0], l.y[r.y0], floor}, Hi: Point{l.x[r.x1], l.y[r.y1], floor + depth}}
	return room, l.worth(room.Size()).over(l.guard.Beat) && (l.Holds == nil || room.Holds(*l.Holds))
}

// stopped gives up after obstacle i: the rooms shallower than the next obstacle
// are complete.
func (l *list) stopped(i int) ([]Box, error) {
	e := &TooMany{Depth: l.depth[i], Blocks: i + 1, Of: len(l.rects), Alive: l.alive.count}
	if i+1 < len(l.rects) && l.depth[i+1] == l.depth[i] {
		e.Depth--
	}
	floor := l.Domain.Lo[2]
	l.rooms = slices.DeleteFunc(l.rooms, func(b Box) bool { return b.Hi[2]-floor > e.Depth })
	e.List = len(l.rooms)
	return l.rooms, e
}
