package largest

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"elbowroom/clearance"
	"elbowroom/solid"
)

// led is a box that clears with its way in too: the one given where it has one, else the
// largest that goes straight out to one side, found by giving way to what is in the way
// there. Where there is none the report says that no way in was found.
func (s *search) led(ctx context.Context, f found, box Box) (found, Box, error) {
	whole, err := s.checked(ctx, f, true)
	if err != nil || whole.Report.Verdict == clearance.Clears {
		return f, whole, err
	}
	var best found
	var kept *owed
	by, plain := 0, s.task.owed
	for way := range clearance.WaysOut {
		if g, ok := s.lead(ctx, f, way, best.value); ok {
			best, kept, by = g.found, g.owed, way
		}
	}
	g, ok := found{}, false
	if best.frame != nil {
		// What it was asked too much is taken back, with what is in its way held against it.
		s.task.owed = kept
		g, ok = s.allot([]found{best})
	}
	least := 0.0
	if ok {
		least = g.value
	}
	if tried, way, better := s.straightOut(f, least); better {
		g, by, kept, ok = tried, way, plain, true
	}
	if !ok {
		return f, whole, nil
	}
	o := *plain
	o.way = by + 1
	s.task.owed = &o
	if more, ok := s.grown(g); ok {
		g = more
	}
	s.task.owed = kept
	led, err := s.checked(ctx, g, true)
	return g, led, err
}

// straightOut is the largest of the smaller boxes within one that keeps all that is owed
// and has a straight way out; ok is false where none is larger than a value.
func (s *search) straightOut(f found, least float64) (out found, way int, ok bool) {
	q := *s
	for _, stand := range s.shrunk(f.stand) {
		if q.best = (found{}); s.value(stand.Size()) <= least {
			return out, 0, false
		}
		a, err := solid.Build(f.frame.judge.Tank(stand))
		for way := range clearance.WaysOut {
			if err != nil || len(clearance.WayOut(s.task.space, a, s.task.rules, way)) > 0 {
				continue
			}
			if _, ok := q.judge(f.frame, stand); ok {
				return q.best, way, true
			}
		}
	}
	return out, 0, false
}

// shrunk are the boxes within another, narrower by some shares on some of its axes, in
// the middle or to one end; the largest first.
func (s *search) shrunk(stand clearance.Stand) (out []clearance.Stand) {
	out = append(out, stand)
	for axis := range 3 {
		for _, t := range out {
			size := components(t.Size().Vector())[axis]
			for _, share := range [...]float64{0.12, 0.25} {
				by := share * size
				if axis == 2 {
					out = s.shift(out, s.root, t, axis, 0, -by)
					continue
				}
				for _, low := range [...]float64{0, by / 2, by} {
					out = s.shift(out, s.root, t, axis, low, low-by)
				}
			}
		}
	}
	slices.SortStableFunc(out, func(a, b clearance.Stand) int {
		return cmp.Compare(s.value(b.Size()), s.value(a.Size()))
	})
	return out
}

// out says whether a box has the way out that is owed.
func (s *search) out(f *frame, stand clearance.Stand) bool {
	o := s.task.owed
	if o == nil || o.way == 0 || s.value(stand.Size()) <= s.best.value {
		return true
	}
	a, err := solid.Build(f.judge.Tank(stand))
	return err == nil && len(clearance.WayOut(s.task.space, a, s.task.rules, o.way-1)) == 0
}

// mostLeads is how often a box gives way to what is in its way out.
const mostLeads = 8

type leading struct {
	found found
	owed  *owed
}

// lead gives way to what is in one way out until nothing is; ok is false where no box
// better than a value does.
func (s *search) lead(ctx context.Context, f found, way int, least float64) (out leading, ok bool) {
	q := *s
	q.task.owed = s.task.owed.copied()
	o := q.task.owed
	for range mostLeads {
		if ctx.Err() != nil {
			return out, false
		}
		a, err := solid.Build(f.frame.judge.Tank(f.stand))
		if err != nil {
			return out, false
		}
		inWay := clearance.WayOut(s.task.space, a, s.task.rules, way)
		if len(inWay) == 0 {
			return leading{f, o}, f.value > least
		}
		for _, w := range inWay {
			if c, ok := dueOf(f.frame, f.stand, w.Line, s.task); ok {
				c.short += 0.1 // rounding, and what slides along it
				o.put(clearance.Pair{Part: w.Part, Feature: fmt.Sprint(w.Feature, way, w.Piece)}, c)
			}
		}
		risk := o.risk
		o.risk = math.Inf(1)
		q.best = found{}
		ok := q.mend(f.frame.strict(1-(1-s.sure())/evenly), s.root, f.stand)
		o.risk = risk
		if !ok || q.best.value <= least {
			return out, false
		}
		f = q.best
	}
	return out, false
}

// copied is one of its own.
func (o *owed) copied() *owed {
	c := *o
	c.dues = append([]due(nil), o.dues...)
	c.at = map[clearance.Pair]int{}
	for k, i := range o.at {
		c.at[k] = i
	}
	return &c
}
