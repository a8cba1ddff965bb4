package largest

import (
	"context"
	"math"
)

// sweep searches at turns no more than a degree apart, each for what is better than
// the best of those before: that finds the box; the search over ranges of turns then
// bounds it.
func (s *search) sweep(ctx context.Context) error {
	c := s.root.cell
	if c.half() <= leastTurn {
		return nil
	}
	steps := int(math.Ceil((c.to - c.from) / degree))
	for i := 0; i <= steps; i++ {
		if err := s.at(ctx, c.from+(c.to-c.from)*float64(i)/float64(steps)); err != nil {
			return err
		}
	}
	return nil
}

// at searches at one turn.
func (s *search) at(ctx context.Context, turn float64) error {
	if _, err := s.frames.at(turn); err != nil {
		return err
	}
	q := *s
	q.root = &node{cell: &cell{from: turn, to: turn, frame: s.frames.made[turn]}}
	q.whole()
	q.floor, q.pops, q.mendAt, q.mendWait = 0, 0, 0, 0
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
				if err := s.at(ctx, turn); err != nil {
					return err
				}
			}
		}
	}
	return nil
}
