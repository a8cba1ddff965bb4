package largest

import (
	"math"

	"elbowroom/clearance"
	"elbowroom/solid"
)

// sidesOf are the sides that a box can grow on, with their faces.
func sidesOf() []struct {
	side solid.Side
	face int
} {
	return []struct {
		side solid.Side
		face int
	}{{solid.Left, 0}, {solid.Right, 3}, {solid.Top, 4}, {solid.Bottom, 1}, {solid.Front, 5}}
}

// nudges are by how much a side is pushed out to see what stops it, mm: the first
// that something stops tells.
func nudges() []float64 { return []float64{0.4, 1.6, 6.4, 25.4} }

// stops says what stops each side of a box.
func (s *search) stops(f found) (out []Stop) {
	for _, x := range sidesOf() {
		out = append(out, s.stop(f, x.side, x.face))
	}
	return out
}

func (s *search) stop(f found, side solid.Side, face int) Stop {
	stop := Stop{Side: side, Free: true}
	for _, step := range nudges() {
		stand, ok := s.pushed(f.stand, face, step)
		if !ok {
			stop.Free, stop.Limit = false, s.limit(f, face, step)
			return stop
		}
		h, short := s.stopper(f, stand)
		if !short {
			continue
		}
		stop.Free = false
		stop.Part, stop.Feature, stop.Marks = h.Name, h.Against, f.frame.judge.Marks(h, h.By)
		if c, ok := s.task.owed.due(h); ok {
			stop.When, stop.Marks = c.when, c.marks
		}
		if s.task.limits.Worth {
			s.worth(f, &stop, h)
		}
		return stop
	}
	return stop
}

// stopper is the line that falls shortest of a box that was pushed out.
func (s *search) stopper(f found, stand clearance.Stand) (worst clearance.Held, short bool) {
	worst.Short = reach
	for _, all := range [2]bool{false, true} {
		for _, h := range s.lines(f.frame, s.rest(f.frame, stand), all) {
			if h.Short > worst.Short {
				worst, short = h, true
			}
		}
		s.looks++
		if short {
			break
		}
	}
	return worst, short
}

// limit says what stops a face that no feature does.
func (s *search) limit(f found, face int, step float64) string {
	a := face % 3
	if d := f.stand.Size().Along(a); d+step > s.bounds.max[a] {
		return "the greatest size asked for"
	}
	return "the room"
}

// Half an inch is how far a feature is moved to see what that is worth, and a 32nd
// of one how closely marks are taken again.
const (
	halfInch     = 25.4 / 2
	thirtySecond = 25.4 / 32
)

// worth works out what moving the feature that stops a side, and taking its marks
// again, is worth: the box is let grow from where it is, so that a better place
// farther off is not found.
func (s *search) worth(f found, stop *Stop, h clearance.Held) {
	_, due := s.task.owed.due(h)
	if h.Feature < 0 && !due {
		return
	}
	stop.Worth = true
	stop.Moved = s.gain(f, h.Against, halfInch)
	if due {
		return
	}
	u := h.Pins[0].U
	less := f.frame.k * (u - f.frame.judge.Retaken(h, thirtySecond))
	if stop.RetakenOK = less > reach; stop.RetakenOK {
		stop.Retaken = s.gain(f, h.Against, less)
	}
}

// gain is by how much a box grows where a feature's gap is less.
func (s *search) gain(f found, feature string, less float64) float64 {
	idle := 0.0 // what it grows by for nothing
	if s.task.owed != nil && less > 0 {
		idle = s.gain(f, feature, 0)
	}
	eased := *f.frame
	eased.places = nil // what is needed differs
	eased.judge = f.frame.judge.Strict(f.frame.judge.Sure(), map[string]float64{feature: less}).Quick()
	q := *s
	q.best, q.rough = f, s.task.owed == nil
	q.best.frame = &eased
	q.best.value = s.value(f.stand.Size())
	if s.task.owed != nil {
		q.task.owed = s.task.owed.eased(feature, less)
	}
	q.grow([]float64{12, 6, 3, 1.5, 0.7, 0.3, 0.1})
	s.looks = q.looks
	return math.Max(0, q.best.value-s.value(f.stand.Size())-idle)
}
