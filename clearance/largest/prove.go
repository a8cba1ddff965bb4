package largest

import (
	"context"
	"math"

	"elbowroom/clearance"
	"elbowroom/solid"
)

// prove looks for the largest box of which Check says clears, and for what asking
// for all lines together costs.
func (s *search) prove(ctx context.Context, a *Answer, free []found) error {
	if s.task.limits.Capacity > 0 {
		return s.proveLeast(ctx, a, free[0])
	}
	asFound, err := s.cleared(ctx, a, free)
	if err != nil {
		return err
	}
	if !better(a.Free[0], asFound.clears, s) { // nothing is larger
		a.Proven, a.Joint = &asFound.clears, true
		return nil
	}
	y, err := s.yield(ctx, free, false)
	if err != nil {
		return err
	}
	if y.joint.Report != nil {
		a.Joint, a.JointCosts = true, math.Max(0, free[0].value-y.joint.Value(a.Outside))
	}
	never := len(a.Free[0].Report.Unchecked) > 0 // whatever its size
	if y.clears.Report == nil && !never {
		slips := !s.task.rules.AcceptSingle
		if slips {
			if y, err = s.yield(ctx, free, slips); err != nil {
				return err
			}
		}
		if y.clears.Report == nil {
			q := *s
			q.task.slips = slips
			if y, err = q.retreat(ctx, free[0], y); err != nil {
				return err
			}
			s.looks = q.looks
		}
	}
	if asFound.clears.Report != nil && better(asFound.clears, y.clears, s) {
		y = asFound
	}
	switch {
	case y.clears.Report != nil:
		a.Proven = &y.clears
	case y.last.Report != nil:
		a.Why = hindrances(y.last.Report)
	default:
		a.Why = hindrances(a.Free[0].Report)
	}
	return nil
}

// cleared is the largest of the boxes that nothing contradicts of which Check says clears as they are.
func (s *search) cleared(ctx context.Context, a *Answer, free []found) (y yielded, err error) {
	for _, b := range a.Free {
		if b.Report.Verdict != clearance.Clears || !better(b, y.clears, s) {
			continue
		}
		for _, f := range free {
			if t := f.frame.judge.Tank(f.stand); t.Place != b.Tank.Place || t.Size != b.Tank.Size {
				continue
			}
			whole, err := s.checked(ctx, f, true)
			if err != nil {
				return y, err
			}
			if whole.Report.Verdict == clearance.Clears {
				whole.Stops = b.Stops
				y.clears, y.found = whole, f
			}
		}
	}
	return y, nil
}

// jointly says whether every line holds, all at once.
func jointly(r *clearance.Report) bool { return r.Sure >= r.Wanted }

// hindrances lists what keeps a box from clearing.
func hindrances(r *clearance.Report) (out []Hindrance) {
	for _, side := range r.Sides {
		if side.Verdict != clearance.Clears {
			out = append(out, Hindrance{Because: side.Because, Side: side.Side})
		}
	}
	for _, l := range r.Lines {
		if l.Verdict != clearance.Clears {
			out = append(out, Hindrance{Because: l.Because, Part: l.Part, Feature: l.Feature})
		}
	}
	for _, h := range r.Hoses {
		if h.Verdict != clearance.Clears {
			out = append(out, Hindrance{Because: h.Because, Part: h.Name, Feature: "its bends"})
		}
	}
	for _, u := range r.Unchecked {
		out = append(out, Hindrance{Because: clearance.NotChecked, Part: u.Part, Feature: u.What})
	}
	r.Levels.Each(func(v clearance.Verdict, b clearance.Because) {
		if v != clearance.Clears {
			out = append(out, Hindrance{Because: b, Part: Levels})
		}
	})
	if w := r.WayIn; w != nil && w.Verdict != clearance.Clears {
		out = append(out, Hindrance{Because: w.Because, Part: WayIn})
	}
	if len(out) == 0 {
		out = append(out, Hindrance{Because: clearance.Together, Side: solid.NoSide})
	}
	return out
}

// proveLeast looks for a box of the capacity asked for of which Check says clears,
// at sizes that grow from the least one that nothing contradicts.
func (s *search) proveLeast(ctx context.Context, a *Answer, least found) error {
	axis, held := least.axis(s.task.limits.Least)
	for _, more := range [...]float64{1, 1.02, 1.04, 1.07, 1.1, 1.15, 1.2, 1.3, 1.5} {
		q, start := *s, s.best
		if held {
			most := least.stand.Size().Along(axis) * more
			q.bounds.max[axis] = math.Min(q.bounds.max[axis], most)
			hi := components(start.stand.Hi)
			hi[axis] = math.Min(hi[axis], components(start.stand.Lo)[axis]+most)
			start.stand.Hi = vector(hi)
		}
		y, err := q.yield(ctx, []found{start}, !s.task.rules.AcceptSingle)
		s.looks = q.looks
		if err != nil {
			return err
		}
		if y.clears.Report != nil && y.clears.Value(a.Outside) >= s.task.limits.Capacity {
			a.Proven, a.Joint = &y.clears, true
			return nil
		}
		if !held {
			break
		}
	}
	a.Why = hindrances(a.Free[0].Report)
	return nil
}

// axis is the one along which a box is to be least; ok is false for none.
func (f found) axis(l Least) (axis int, ok bool) {
	axis, ok = map[Least]int{Shallow: 2, Short: 1, Narrow: 0}[l]
	return axis, ok
}
