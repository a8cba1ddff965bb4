package largest

import (
	"context"
	"math"
	"slices"

	"elbowroom/clearance"
)

// mostAsked is how often Check is asked on a retreat, a tenth of a second each.
const mostAsked = 40

// retreat is where giving way found nothing that clears: what is in the way has no plane
// to move off, as room for a tool that may stand in many ways, or a hose without a run.
// The tank as drawn is asked about, and boxes with sides moved in, the largest first;
// from one that clears the sides go out again as far as Check lets them.
func (s *search) retreat(ctx context.Context, from found, y yielded) (yielded, error) {
	frame := from.frame.strict(s.sure())
	left := mostAsked
	ask := func(stand clearance.Stand) (bool, error) {
		if left == 0 || s.value(stand.Size()) <= y.clears.Value(s.task.limits.Outside) {
			return false, nil
		}
		f := s.shop(found{stand: s.rest(frame, stand), frame: frame, value: s.value(stand.Size())})
		if _, by := s.outside(frame, f.stand); by > reach || !s.allowed(f.stand) || worstOf(s.lines(frame, f.stand, false)) > reach {
			return false, nil
		}
		left--
		box, err := s.checked(ctx, f, false)
		if err == nil && box.Report.Verdict == clearance.Clears && s.task.rules.WayIn.Asked {
			box, err = s.checked(ctx, f, true)
		}
		if err != nil || box.Report.Verdict != clearance.Clears {
			return false, err
		}
		y.clears, y.found = box, f
		return true, nil
	}
	for _, stand := range s.smaller(from) {
		if ok, err := ask(stand); err != nil {
			return y, err
		} else if ok {
			break
		}
	}
	if y.found.frame == nil {
		return y, nil
	}
	high := from.stand
	for range 5 { // halves on the way back
		low := y.found.stand
		mid := low
		mid.Lo, mid.Hi = low.Lo.Add(high.Lo).Mul(0.5), low.Hi.Add(high.Hi).Mul(0.5)
		ok, err := ask(mid)
		if err != nil {
			return y, err
		}
		if !ok {
			high = mid
		}
	}
	for _, step := range [...]float64{8, 3, 1} {
		for face := range faces {
			next, ok := s.pushed(y.found.stand, face, step)
			if !ok {
				continue
			}
			if _, err := ask(next); err != nil {
				return y, err
			}
		}
	}
	s.owe(y)
	return y, s.follow(ctx, &y, []found{y.found})
}

// owe makes what Check said of a box that clears what is owed.
func (s *search) owe(y yielded) {
	o := &owed{}
	s.task.owed = o
	o.learn(y.found.frame, y.found.stand, y.clears.Report, s.task)
	o.risk = math.Max(1-y.clears.Report.Wanted, o.base+risk(s.lines(y.found.frame, y.found.stand, true)))
}

// smaller lists the tank as drawn and boxes with sides in from another, the largest first.
func (s *search) smaller(from found) (out []clearance.Stand) {
	out = append(out, s.drawn(from.frame).stand)
	for _, share := range [...]float64{0.1, 0.2, 0.35, 0.5} {
		all := from.stand
		for face := range faces {
			size := components(from.stand.Size().Vector())[face%3]
			if face == 2 && !s.task.limits.StandOff.Given {
				continue
			}
			low, high := share*size, 0.0
			if face >= 3 {
				low, high = 0, -share*size
			}
			out = s.shift(out, s.root, from.stand, face%3, low, high)
			if half := s.shift(nil, s.root, all, face%3, low/2, high/2); len(half) > 0 {
				all = half[0]
			}
		}
		out = append(out, all)
	}
	slices.SortStableFunc(out, func(a, b clearance.Stand) int {
		x, y := s.value(a.Size()), s.value(b.Size())
		switch {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	return out
}

// sure is the job's.
func (s *search) sure() float64 { return s.root.cell.frame.judge.Sure() }
