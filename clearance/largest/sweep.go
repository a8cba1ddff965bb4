package largest

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// sweep searches at turns no more than a degree apart, each for what is better than
// the best of those before: that finds the box; the search over ranges of turns then
// bounds it.
func (s *search) sweep(ctx context.Context) error {
	c := s.root.cell
	if c.half() <= leastTurn {
		return nil
	}
	// The tank's own turn first, else the middle: the better the first box, the less is
	// left of the others.
	first := s.task.tank.Place.Turn.Radians()
	own := first >= c.from && first <= c.to
	if !own {
		first = (c.from + c.to) / 2
	}
	if err := s.at(ctx, first, 1); err != nil {
		return err
	}
	if own {
		s.own = s.best
	}
	steps := int(math.Ceil((c.to - c.from) / degree))
	var turns []float64
	for i := 0; i <= steps; i++ {
		turns = append(turns, c.from+(c.to-c.from)*float64(i)/float64(steps))
	}
	slices.SortStableFunc(turns, func(x, y float64) int { return cmp.Compare(math.Abs(x-first), math.Abs(y-first)) })
	for _, turn := range turns {
		if err := s.at(ctx, turn, sweepShare); err != nil {
			return err
		}
	}
	return nil
}

// sweepShare is the share of the usual work that is done at each other turn: what a range of
// turns may hold more is left to the search over ranges.
const sweepShare = 0.05

// at searches at one turn, with a share of the usual work.
func (s *search) at(ctx context.Context, turn, share float64) error {
	if _, err := s.frames.at(turn); err != nil {
		return err
	}
	q := *s
	q.root = &node{cell: &cell{from: turn, to: turn, frame: s.frames.made[turn]}}
	q.whole()
	q.floor, q.pops = 0, 0
	q.task.limits.Effort *= share
	if err := q.run(ctx); err != nil {
		return err
	}
	s.best, s.looks = q.best, q.looks
	return nil
}

// finer looks between the degrees on either side of the best turn.
func (s *search) finer(ctx context.Context) error {
	c := s.root.cell
	if c.half() <= leastTurn || s.best.frame == nil {
		return nil
	}
	for step := degree / 2; step > degree/20; step /= 2 {
		middle := s.best.frame.turn
		for _, turn := range [2]float64{middle - step, middle + step} {
			if turn >= c.from && turn <= c.to {
				if err := s.at(ctx, turn, sweepShare); err != nil {
					return err
				}
			}
		}
	}
	return nil
}
