package largest

import (
	"math"

	"elbowroom/clearance"
)

// polish pushes the faces of the best box out as far as they go, by steps that get
// finer, unless it is as good as proved already.
func (s *search) polish() {
	if s.best.frame == nil || s.best.value >= s.bound()*(1-closeEnough) {
		return
	}
	s.grow([]float64{2, 0.5, 0.1, 0.02})
}

// grow pushes each face of the best box out by each of the steps while the box
// keeps sure, and then the next.
func (s *search) grow(steps []float64) {
	for _, step := range steps {
		for again := true; again; {
			again = false
			for face := range faces {
				again = s.push1(face, step) || again
			}
		}
	}
}

// push1 pushes a face of the best box out by a step; ok is false where it cannot.
func (s *search) push1(face int, step float64) (ok bool) {
	before := s.best
	next, ok := s.pushed(before.stand, face, step)
	if !ok || s.value(next.Size()) <= before.value {
		return false
	}
	_, ok = s.judge(before.frame, next)
	return ok && s.best.value > before.value
}

// pushed is a box with a face farther out, where the limits allow it.
func (s *search) pushed(stand clearance.Stand, face int, step float64) (clearance.Stand, bool) {
	low, high := 0.0, step
	if face < 3 {
		low, high = -step, 0
	}
	if face == 2 && !s.task.limits.StandOff.Given {
		return stand, false
	}
	out := s.shift(nil, s.root, stand, face%3, low, high)
	if len(out) == 0 {
		return stand, false
	}
	return out[0], true
}

// shop rounds a box to the step of the shop's sizes, to the safe side: it lies
// within the box found. Where its fittings then come too near, it is made smaller
// by a step, or moved, until they do not.
func (s *search) shop(f found) found {
	step := s.task.limits.Step
	if step <= 0 {
		return f
	}
	lo, hi := components(f.stand.Lo), components(f.stand.Hi)
	for a := range 3 {
		size := floor(hi[a]-lo[a], step)
		at := lo[a]
		if a < 2 || s.task.limits.StandOff.Given {
			if at = ceil(lo[a], step); at+size > hi[a]+reach {
				if other := floor(hi[a]-size, step); other >= lo[a]-reach {
					at = other
				} else {
					size -= step
				}
			}
		}
		lo[a], hi[a] = at, at+size
	}
	start := f.stand
	start.Lo, start.Hi = vector(lo), vector(hi)
	q := *s
	q.best = found{}
	for _, t := range s.around(start, step) {
		q.judge(f.frame, t)
	}
	if q.best.frame == nil {
		return f
	}
	s.looks = q.looks
	return q.best
}

// around lists boxes near one on the grid of the shop's sizes: itself, moved by a
// step, and smaller by one or two.
func (s *search) around(start clearance.Stand, step float64) (out []clearance.Stand) {
	for _, less := range [][3]float64{{}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {1, 1, 0}, {1, 1, 1}, {2, 2, 1}} {
		for x := -1; x <= 1; x++ {
			for y := -1; y <= 1; y++ {
				t := start
				t.Lo.X, t.Lo.Y = t.Lo.X+float64(x)*step, t.Lo.Y+float64(y)*step
				t.Hi.X = t.Lo.X + start.Hi.X - start.Lo.X - less[0]*step
				t.Hi.Y = t.Lo.Y + start.Hi.Y - start.Lo.Y - less[1]*step
				t.Hi.Z = start.Hi.Z - less[2]*step
				d := components(t.Hi.Sub(t.Lo))
				ok := true
				for a := range 3 {
					ok = ok && d[a] > 0 && d[a] >= s.bounds.min[a]-reach
				}
				if ok {
					out = append(out, t)
				}
			}
		}
	}
	return out
}

// floor and ceil round to a step; what is within reach of one counts as on it.
func floor(x, step float64) float64 { return math.Floor((x+reach)/step) * step }
func ceil(x, step float64) float64  { return math.Ceil((x-reach)/step) * step }
