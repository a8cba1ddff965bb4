package largest

import (
	"context"
	"math"
	"sort"

	"elbowroom/solid"
)

// different is by what share a box must be wider, higher or deeper than another to
// count as really different.
const different = 0.05

// front finds boxes that no other found beats in width, height and depth, the
// largest first: the best one, then the best of those that are wider, higher or
// deeper by a share than each found before.
func (s *search) front(ctx context.Context) ([]found, error) {
	type region struct {
		min  [3]float64
		best found
	}
	out := []found{s.best}
	var open []region
	split := func(min [3]float64, f found) error {
		for a := range 3 {
			r := region{min: min}
			r.min[a] = math.Max(r.min[a], f.stand.Size().Along(a)*(1+different))
			q := *s
			q.bounds.min = r.min
			q.best, q.floor, q.pops = found{}, 0, 0
			if err := q.again(ctx); err != nil {
				return err
			}
			s.looks = q.looks
			if r.best = q.best; r.best.frame != nil {
				open = append(open, r)
			}
		}
		return nil
	}
	if err := split(s.bounds.min, s.best); err != nil {
		return nil, err
	}
	for len(out) < s.task.limits.Top && len(open) > 0 {
		sort.SliceStable(open, func(i, k int) bool { return open[i].best.value > open[k].best.value })
		next := open[0]
		open = open[1:]
		if beaten(next.best, out) {
			continue
		}
		out = append(out, next.best)
		if err := split(next.min, next.best); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// again runs a copy of a search whose limits were changed.
func (s *search) again(ctx context.Context) error {
	root := *s.root
	s.root = &root
	if err := s.run(ctx); err != nil {
		return err
	}
	s.polish()
	return nil
}

// beaten says whether one of the boxes is as large as this in every size, but for
// a share that makes no difference.
func beaten(f found, by []found) bool {
	size := f.stand.Size()
	for _, b := range by {
		other := b.stand.Size()
		worse := true
		for a := range 3 {
			worse = worse && size.Along(a) <= other.Along(a)*(1+different/5)
		}
		if worse {
			return true
		}
	}
	return false
}

// least finds the box of the capacity asked for that is least deep, high or wide:
// the size is halved in on, each time by a search for a box of that capacity. ok is
// false where not even the largest box holds it.
func (s *search) least(ctx context.Context) (best found, ok bool, err error) {
	wanted := s.task.limits.Capacity
	if s.best.value < wanted {
		return best, false, nil
	}
	best = s.best
	axis, known := best.axis(s.task.limits.Least)
	if !known {
		return s.trim(best, wanted), true, nil
	}
	lo, hi := s.bounds.min[axis], best.stand.Size().Along(axis)
	for hi-lo > math.Max(0.1, s.task.limits.Step/4) {
		if err := ctx.Err(); err != nil {
			return best, false, err
		}
		q := *s
		q.bounds.max[axis] = (lo + hi) / 2
		q.best, q.floor, q.pops = found{}, 0, 0
		q.enough, q.wanted = wanted, wanted*(1-1e-9)
		if err := q.again(ctx); err != nil {
			return best, false, err
		}
		s.looks = q.looks
		if q.best.frame != nil && q.best.value >= wanted {
			best, hi = q.best, math.Min((lo+hi)/2, q.best.stand.Size().Along(axis))
		} else {
			lo = (lo + hi) / 2
		}
	}
	return s.trimAlong(best, wanted, axis), true, nil
}

// trim takes off the longest side what the capacity asked for does not need.
func (s *search) trim(f found, wanted float64) found {
	size := f.stand.Size()
	axis := 0
	for a := range 3 {
		if size.Along(a) > size.Along(axis) {
			axis = a
		}
	}
	return s.trimAlong(f, wanted, (axis+1)%3)
}

// trimAlong takes what a capacity does not need off the longest side but the one
// along an axis.
func (s *search) trimAlong(f found, wanted float64, keep int) found {
	axis := (keep + 1) % 3
	if size := f.stand.Size(); size.Along((keep+2)%3) > size.Along(axis) {
		axis = (keep + 2) % 3
	}
	low, high := s.bounds.min[axis], f.stand.Size().Along(axis)
	for range 40 { // to the last bits of a millimetre
		middle := (low + high) / 2
		d := components(f.stand.Size().Vector())
		d[axis] = middle
		if s.value(solid.Size{Width: d[0], Height: d[1], Depth: d[2]}) >= wanted {
			high = middle
		} else {
			low = middle
		}
	}
	q := *s
	q.best = found{}
	t := f.stand
	hi := components(t.Hi)
	hi[axis] = components(t.Lo)[axis] + high
	t.Hi = vector(hi)
	if _, ok := q.judge(f.frame, t); ok {
		return q.best
	}
	return f
}
