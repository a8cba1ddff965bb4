package largest

import (
	"context"
	"math"

	"elbowroom/clearance"
	"elbowroom/solid"
)

// prove looks for the largest box of which Check says clears, and for what asking
// for all lines together costs. It starts from the boxes that nothing contradicts
// and asks more of every line until all of them together reach sure; with
// accept_single off also that each withstands an inch misread.
func (s *search) prove(ctx context.Context, a *Answer, free []found) error {
	if s.task.limits.Capacity > 0 {
		return s.proveLeast(ctx, a, free[0])
	}
	best := free[0].value
	joint, _, ok, err := s.together(ctx, free, false)
	if err != nil {
		return err
	}
	if ok {
		a.Joint, a.JointCosts = true, best-joint.Value(a.Outside)
	}
	proven, report := joint, joint.Report
	if !s.task.rules.AcceptSingle && (report == nil || report.Verdict != clearance.Clears) {
		if proven, _, _, err = s.together(ctx, free, true); err != nil {
			return err
		}
		report = proven.Report
	}
	if report == nil {
		report = a.Free[0].Report
	}
	if report.Verdict == clearance.Clears {
		a.Proven = &proven
		return nil
	}
	a.Why = hindrances(report)
	return nil
}

// risks are by how many the chance of a line's failing is divided, one after the
// other, until all lines together reach sure: with n lines that decide n is enough.
func risks() []float64 { return []float64{1, 1.5, 2, 3, 4, 6, 8, 12, 20, 40} }

// together finds the largest box near those found whose lines all hold at once;
// slips asks that they withstand an inch misread too. ok is false where there is
// none; the report is then of the last that was tried.
func (s *search) together(ctx context.Context, free []found, slips bool) (best Box, f found, ok bool, err error) {

	sure := free[0].frame.judge.Sure()
	for _, by := range risks() {
		if err := ctx.Err(); err != nil {
			return best, f, false, err
		}
		q := s.stricter(1-(1-sure)/by, slips)
		for _, start := range free {
			q.mend(start.frame.strict(1-(1-sure)/by), s.root, start.stand)
		}
		if q.best.frame == nil { // nothing near by: look everywhere
			if err := q.anew(ctx, 1-(1-sure)/by); err != nil {
				return best, f, false, err
			}
		}
		s.looks = q.looks
		if q.best.frame == nil {
			continue
		}
		q.grow([]float64{2, 0.5, 0.1})
		s.looks = q.looks
		found := s.shop(q.best)
		if best, err = s.checked(ctx, found, false); err != nil {
			return best, f, false, err
		}
		if best.Report.Verdict == clearance.Clears && s.task.rules.WayIn.Asked {
			if best, err = s.checked(ctx, found, true); err != nil {
				return best, f, false, err
			}
		}
		if best.Report.Verdict == clearance.Clears || !slips && jointly(best.Report) {
			best.Stops = q.stops(q.best)
			s.looks = q.looks
			return best, found, true, nil
		}
		if slips && !soluble(best.Report) {
			return best, found, false, nil
		}
	}
	return best, f, false, nil
}

// stricter is a search that asks more of every line.
func (s *search) stricter(sure float64, slips bool) *search {
	q := *s
	q.best, q.task.slips = found{}, slips
	return &q
}

// jointly says whether every line holds, all at once.
func jointly(r *clearance.Report) bool { return r.Sure >= r.Wanted }

// soluble says whether asking more of the lines may make the box clear: no side,
// and nothing that was not checked, stands in the way.
func soluble(r *clearance.Report) bool {
	for _, b := range r.Because {
		if b == clearance.Unmeasured || b == clearance.NotChecked {
			return false
		}
	}
	return true
}

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
	if len(out) == 0 {
		out = append(out, Hindrance{Because: clearance.Together, Side: solid.NoSide})
	}
	return out
}

// anew searches everywhere, with more asked of every line.
func (s *search) anew(ctx context.Context, sure float64) error {
	c := s.root.cell
	s.frames = &frames{task: s.task, sure: sure, made: map[float64]*frame{}}
	if _, err := s.frames.at((c.from + c.to) / 2); err != nil {
		return err
	}
	s.root = &node{cell: s.frames.cell(c.from, c.to)}
	s.whole()
	s.floor, s.pops, s.mendAt, s.mendWait = 0, 0, 0, 0
	if err := s.run(ctx); err != nil {
		return err
	}
	s.lastTry()
	return nil
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
		box, _, ok, err := q.together(ctx, []found{start}, !s.task.rules.AcceptSingle)
		s.looks = q.looks
		if err != nil {
			return err
		}
		if ok && box.Report.Verdict == clearance.Clears && box.Value(a.Outside) >= s.task.limits.Capacity {
			a.Proven, a.Joint = &box, true
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
