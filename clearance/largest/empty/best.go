package empty

import (
	"context"
	"slices"
)

// Answer is a proved optimum, or how far a search came that was stopped.
type Answer struct {
	Room    Box   // empty, and cannot grow on any face; the box is made inside it
	Size    Size  // of the box: Problem.Fit of the room
	Value   Value // what that size is worth
	Ignored []Box // obstacles that reach into the room: at most Problem.Ignore places
	AtMost  Value // proved: no empty box is worth more. Equal to Value when Proved
	Proved  bool
	Nodes   int // rooms looked into
}

// Found says whether there is a box at all. When there is none and Proved is
// set, there cannot be one.
func (a Answer) Found() bool { return a.Value != Value{} }

// Effort limits a search. The zero Effort searches until the proof is done.
type Effort struct {
	Nodes int // rooms to look into at most; zero: no limit
}

// Best finds the box of the greatest value among all that fit the problem, and
// proves it. The error is one of the problem's own (Problem.Err); a context
// that ends, or Effort, leaves an Answer that is not Proved but still holds: the
// room is empty and nothing beats AtMost.
//
// The method is best-first branch and bound on rooms with an obstacle inside as
// the pivot: T. M. Breuel, "Two geometric algorithms for layout analysis",
// Document Analysis Systems 2002. Three things are added here. The branches
// share no box (each forbids what the ones before it allow), so that nothing is
// seen twice. Each face carries the furthest place it may be drawn back to,
// from the least sizes and from the value that has to be beaten; an obstacle
// that leaves one way out is taken at once, and one that leaves none ends the
// room. And values are compared as integers.
func Best(ctx context.Context, p Problem, e Effort) (Answer, error) {
	if err := p.Err(); err != nil {
		return Answer{}, err
	}
	s := newSearch(p)
	s.run(ctx, e)
	return s.answer(), nil
}

// Different finds up to n boxes, the best first, each the best of those that
// share at most overlap of their rooms (common volume over joint volume, 0 to
// 1) with every one before it. Rooms that can grow do not count.
func Different(ctx context.Context, p Problem, n int, overlap float64, e Effort) ([]Answer, error) {
	if err := p.Err(); err != nil {
		return nil, err
	}
	var all []Answer
	for len(all) < n {
		s := newSearch(p)
		s.allowed = func(room Box) bool {
			return s.grown(room, nil) == room && !slices.ContainsFunc(all, func(a Answer) bool { return Overlap(a.Room, room) > overlap })
		}
		s.run(ctx, e)
		a := s.answer()
		if !a.Found() {
			break
		}
		all = append(all, a)
		if !a.Proved {
			break
		}
	}
	return all, nil
}

// Overlap is the common volume of two boxes over their joint volume, 0 to 1.
func Overlap(a, b Box) float64 {
	var common Box
	for i := range a.Lo {
		common.Lo[i], common.Hi[i] = max(a.Lo[i], b.Lo[i]), min(a.Hi[i], b.Hi[i])
	}
	both := Volume(common.Size()).Float()
	if both == 0 {
		return 0
	}
	return both / (Volume(a.Size()).Float() + Volume(b.Size()).Float() - both)
}

// Stops lists, for each face of a room (2*axis for the lower, 2*axis+1 for the
// upper), the blocks that keep it from growing there, by index.
func (p Problem) Stops(room Box) [6][]int {
	var stops [6][]int
	for f := range face(6) {
		grown := room
		if f.upper() {
			grown.Hi[f.axis()]++
		} else {
			grown.Lo[f.axis()]--
		}
		for i, b := range p.Blocks {
			if grown.Hits(b) && !room.Hits(b) {
				stops[f] = append(stops[f], i)
			}
		}
	}
	return stops
}
