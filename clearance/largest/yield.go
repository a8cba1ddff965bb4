package largest

import (
	"context"
	"math"
	"slices"

	"elbowroom/clearance"
)

// yielded is what came of giving way: boxes with a Report, or none.
type yielded struct {
	clears Box // the largest of which Check says clears
	joint  Box // the largest whose lines all hold at once
	last   Box // the last that was checked
	found  found
}

const (
	// mostRounds is how many boxes Check is asked about while it says no, each time with
	// what it said of the one before held against the next.
	mostRounds = 12
	// mostGains is how many larger ones it is asked about once it says yes.
	mostGains = 3
	// leastGain is the share of a box's value that is worth asking for.
	leastGain = 0.001
	// mostStarts is how many boxes are followed at a time.
	mostStarts = 4
)

// yield looks for the largest box of which Check says clears, from boxes of which each
// line alone is sure. Each round makes the best box that keeps all that is known so far,
// asks Check, and gives way to what Check says of it on that one's own terms: to a line
// that only Check sees by its clearance there, to all lines together by the sum of their
// risks. slips asks of the lines that hang on a reading taken once that they withstand
// an inch misread in it.
//
// What comes out was confirmed by Check. No bound is claimed for it: a larger one may
// stand elsewhere, where no start led.
func (s *search) yield(ctx context.Context, free []found, slips bool) (y yielded, err error) {
	q := *s
	q.task.slips, q.task.owed = slips, &owed{risk: 1 - s.sure()}
	err = q.follow(ctx, &y, q.scatter(free))
	s.looks = q.looks
	return y, err
}

// follow does the rounds of yield from some starts, with what is owed already.
func (s *search) follow(ctx context.Context, y *yielded, starts []found) error {
	gains, before := 0, clearance.Stand{}
	for range mostRounds {
		if err := ctx.Err(); err != nil {
			return err
		}
		f, ok := s.allot(starts)
		if !ok {
			break
		}
		box, err := s.checked(ctx, f, false)
		if err == nil && box.Report.Verdict == clearance.Clears && s.task.rules.WayIn.Asked {
			f, box, err = s.led(ctx, f, box)
		}
		if err != nil {
			return err
		}
		gained := y.take(s, box, f)
		all := s.task.owed.learn(f.frame, f.stand, box.Report, s.task)
		if gained {
			gains++
		}
		if y.found.frame != nil && box.Report.Verdict != clearance.Clears {
			s.task.owed.halve(y.found.stand, f.stand, !all)
		}
		if !s.goesOn(y, box, gained && gains <= mostGains, f.stand != before) {
			break
		}
		before = f.stand
		starts = append([]found{f}, starts[:min(len(starts), mostStarts)]...)
		if y.found.frame != nil {
			starts = append(starts, y.found)
		}
	}
	if y.found.frame != nil {
		s.task.owed.whole()
		y.clears.Stops = s.stops(y.found)
	}
	return nil
}

// goesOn says whether another round may come to something, and sets what the lines may
// risk together in it.
func (s *search) goesOn(y *yielded, box Box, gained, moved bool) bool {
	o, r := s.task.owed, box.Report
	switch {
	case r.Verdict == clearance.Clears:
		o.kept = o.risk
		return gained && o.spend(r)
	case !s.clearing() && jointly(r):
		return false // what hangs on single readings is another question
	case !slices.ContainsFunc(r.Lines, unclear) && sureEach(r) && r.SureIs == "about" && !jointly(r):
		// All lines clear, one by one: more is asked of all together; while there is
		// something to gain, half as much more as of the one that clears.
		outside := s.task.limits.Outside
		if y.clears.Report == nil || o.risk <= o.kept {
			o.risk *= 0.8
			return y.clears.Report == nil || box.Value(outside) > y.clears.Value(outside)*(1+leastGain)
		}
		o.risk = (o.risk + o.kept) / 2
		return box.Value(outside) > y.clears.Value(outside)*(1+leastGain)
	}
	return moved // else there is nothing more to give way to
}

func unclear(l clearance.Line) bool { return l.Verdict != clearance.Clears }

// clearing says whether the search asks all that Check does, and not only that the lines
// hold together.
func (s *search) clearing() bool { return s.task.slips || s.task.rules.AcceptSingle }

// take keeps a box that was checked; gained says that it is the largest that clears, by
// enough to go on.
func (y *yielded) take(s *search, box Box, f found) (gained bool) {
	y.last = box
	if jointly(box.Report) && better(box, y.joint, s) {
		y.joint = box
	}
	if box.Report.Verdict != clearance.Clears || !better(box, y.clears, s) {
		return false
	}
	outside := s.task.limits.Outside
	gained = y.clears.Report == nil || box.Value(outside) > y.clears.Value(outside)*(1+leastGain)
	y.clears, y.found = box, f
	return gained
}

// better says whether a box is larger than another, or that is none.
func better(a, b Box, s *search) bool {
	return b.Report == nil || a.Value(s.task.limits.Outside) > b.Value(s.task.limits.Outside)
}

// spend allows as much more risk as Check has shown the lines to have in common: their
// joint chance of failing is less than the sum. false where there is nothing to spend.
func (o *owed) spend(r *clearance.Report) bool {
	joint := 1 - r.Sure
	if r.SureIs == "at least" { // it is but a bound: it may be drawn once the sum is larger
		o.risk = math.Max(o.risk, 1.2*(1-r.Wanted))
		return true
	}
	const careful = 0.97
	more := o.risk * math.Min(1.5, (1-r.Wanted)/math.Max(joint, 1e-6)*careful)
	if more < o.risk*1.02 {
		return false
	}
	o.risk = more
	return true
}

// scatter makes starts of boxes: they themselves, and with one side moved in and the
// others out, from where another box may come out as the largest.
func (s *search) scatter(free []found) (out []found) {
	q := *s
	try := func(f *frame, stand clearance.Stand) {
		q.best = found{}
		if q.mend(f, s.root, stand) && !slices.ContainsFunc(out, func(o found) bool { return o.stand == q.best.stand }) {
			out = append(out, q.best)
		}
	}
	o := *s.task.owed
	o.risk = math.Inf(1)
	q.task.owed = &o
	for _, start := range append(slices.Clone(free), s.drawn(free[0].frame)) {
		f := start.frame.strict(start.frame.judge.Sure())
		try(f, start.stand)
		for face := range faces {
			for _, share := range [...]float64{0.1, 0.25, 0.45} {
				if stand, ok := s.nudged(start.stand, face, share); ok {
					try(f, stand)
				}
			}
		}
	}
	s.looks = q.looks
	slices.SortStableFunc(out, func(a, b found) int {
		switch {
		case a.value > b.value:
			return -1
		case a.value < b.value:
			return 1
		}
		return 0
	})
	return out[:min(len(out), mostStarts)]
}

// drawn is the tank as it is drawn, in the frame of another.
func (s *search) drawn(f *frame) found {
	t := s.task.tank
	at := f.judge.Turned(t.Place.At)
	lo := vec{X: at.X, Y: at.Y, Z: t.Place.StandOff}
	stand := clearance.Stand{Lo: lo, Hi: lo.Add(t.Size.Vector()), StandOff: t.Place.StandOff}
	return found{stand: stand, frame: f, value: s.value(t.Size)}
}

// nudged is a box with a face in by a share of its size, and the other faces out by half
// of that where the limits allow it.
func (s *search) nudged(stand clearance.Stand, face int, share float64) (clearance.Stand, bool) {
	size := components(stand.Size().Vector())
	for other := range faces {
		if other != face {
			if next, ok := s.pushed(stand, other, share/2*size[other%3]); ok {
				stand = next
			}
		}
	}
	by := share * size[face%3]
	low, high := by, 0.0
	if face >= 3 {
		low, high = 0, -by
	}
	out := s.shift(nil, s.root, stand, face%3, low, high)
	if len(out) == 0 {
		return stand, false
	}
	return out[0], true
}

// allot makes the largest box it can from the starts whose lines' risks sum up to no
// more than is owed: first each line gets an equal part of the risk, then the faces
// take what is left. Where some line cannot do with so little, the faces pay for it.
func (s *search) allot(starts []found) (best found, ok bool) {
	sure := s.sure()
	o := *s.task.owed
	q := *s
	after := 0
	var last found
	for _, by := range risks() {
		if o.sides && by != 1 && by < evenly {
			continue // it takes long
		}
		f, ok := q.mended(starts, sure, by)
		if !ok {
			continue
		}
		last = f
		q.task.owed = &o
		if f, ok = q.grown(f); !ok {
			continue
		}
		if best.frame == nil || f.value > best.value {
			best = f
		}
		if after++; after == 3 {
			break
		}
	}
	if q.task.owed = &o; best.frame == nil && last.frame != nil {
		if f, ok := q.paid(last); ok {
			best, _ = q.grown(f)
		}
	}
	s.looks = q.looks
	return best, best.frame != nil
}

// mended is the largest box that comes of mending starts with less risk for each line.
func (s *search) mended(starts []found, sure, by float64) (f found, ok bool) {
	q := *s
	loose := *s.task.owed
	loose.risk, loose.sides = math.Inf(1), false
	q.task.owed, q.best = &loose, found{}
	for _, start := range starts {
		q.mend(start.frame.strict(1-(1-sure)/by), s.root, start.stand)
	}
	s.looks = q.looks
	if q.best.frame == nil {
		return f, false
	}
	f = q.best
	f.frame = f.frame.strict(sure)
	return f, true
}

// grown is a box with its faces out as far as they go; ok is false where it does not
// keep what is owed.
func (s *search) grown(f found) (out found, ok bool) {
	q := *s
	q.best = found{}
	if s.task.owed.sides {
		if f, ok = q.sighted(f); !ok {
			return f, false
		}
	}
	if _, ok := q.judge(f.frame, f.stand); !ok {
		return f, false
	}
	q.grow([]float64{2, 0.5, 0.1})
	out = q.shop(q.best)
	s.looks = q.looks
	return out, true
}

const (
	// mostPaid is how many steps a box is made smaller by to bring the risk down.
	mostPaid = 80
	// payStep is how far a face goes in at a time, mm: growing takes back what was too much.
	payStep = 0.5
)

// paid is a box made smaller until it affords its risk, each time by the face that
// brings most for what it costs.
func (s *search) paid(f found) (out found, ok bool) {
	stand := f.stand
	lines := s.lines(f.frame, s.rest(f.frame, stand), true)
	now, value := risk(lines), s.value(stand.Size())
	for range mostPaid {
		if s.affords(lines) && worstOf(lines) <= reach {
			return found{stand: stand, frame: f.frame, value: value, lines: lines}, true
		}
		best, most := stand, 0.0
		for face := range faces {
			low, high := payStep, 0.0
			if face >= 3 {
				low, high = 0, -payStep
			}
			for _, t := range s.shift(nil, s.root, stand, face%3, low, high) {
				of := s.lines(f.frame, s.rest(f.frame, t), true)
				s.looks++
				gain := (now - risk(of)) / (value - s.value(t.Size()))
				if gain > most && worstOf(of) <= reach {
					best, most, lines = t, gain, of
				}
			}
		}
		if most == 0 {
			return f, false
		}
		stand = best
		now, value = risk(lines), s.value(stand.Size())
	}
	return f, false
}

// evenly is about how many lines decide.
const evenly = 8

// risks are by how many the chance of a line's failing is divided, one after the
// other, until all lines together reach sure: with n lines that decide n is enough.
func risks() []float64 { return []float64{1, 1.5, 2, 3, 4, 6, 8, 12, 20, 40} }
