package largest

import (
	"math"

	"github.com/golang/geo/r2"

	"elbowroom/clearance"
	"elbowroom/solid"
)

// judge keeps a box if it is better than the best and every line of it reaches sure,
// its rivals drawn with it. It gives the lines; ok says that they do.
func (s *search) judge(f *frame, stand clearance.Stand) (lines []clearance.Held, ok bool) {
	stand = s.rest(f, stand)
	if _, by := s.outside(f, stand); by > reach || !s.allowed(stand) {
		return nil, false
	}
	for _, all := range [2]bool{false, true} {
		if all && s.rough {
			break
		}
		lines = s.lines(f, stand, all)
		s.looks++
		if worstOf(lines) > reach {
			return lines, false
		}
	}
	if _, err := solid.Build(f.judge.Tank(stand)); err != nil {
		return lines, false
	}
	if !s.affords(lines) || !s.measured(f, stand) || !s.out(f, stand) {
		return lines, false
	}
	if v := s.value(stand.Size()); v > s.best.value {
		s.best = found{stand, f, v, lines}
	}
	return lines, true
}

func (s *search) slips() bool { return s.task.slips }

// rest puts a box back to where it stands in truth: on the mark that holds it off
// the face, or at its stand-off.
func (s *search) rest(f *frame, stand clearance.Stand) clearance.Stand {
	stand.StandOff = s.standOff(stand)
	stand.Lo.Z, _ = f.judge.Out(r2.Point{X: stand.Lo.X, Y: stand.Lo.Y}, r2.Point{X: stand.Hi.X, Y: stand.Hi.Y}, stand.StandOff)
	return stand
}

// mostMends is how often a box is moved or made smaller before it is given up.
const mostMends = 40

// mend makes a box smaller, or moves it, where its lines fall short, until they
// do not; what comes out is taken if it is better than the best.
func (s *search) mend(f *frame, n *node, stand clearance.Stand) bool {
	all := false
	for turn := range mostMends {
		stand = s.tuck(f, stand)
		if s.value(stand.Size()) <= s.best.value {
			return false
		}
		var lines []clearance.Held
		if !all {
			lines = s.lines(f, s.rest(f, stand), false)
			s.looks++
			all = worstOf(lines) <= reach
		}
		if all {
			var ok bool
			if lines, ok = s.judge(f, stand); ok {
				return true
			}
			if worstOf(lines) <= reach {
				return false // it cannot be built
			}
		}
		if !s.step(f, n, &stand, lines, 1+0.1*float64(turn)) {
			return false
		}
	}
	return false
}

// step moves the face that costs least for the line that falls shortest, by more than
// that is short of: a witness that slides along an edge would else be followed for ever.
func (s *search) step(f *frame, n *node, stand *clearance.Stand, lines []clearance.Held, more float64) bool {
	var worst clearance.Held
	worst.Short = reach
	for _, h := range lines {
		if h.Short > worst.Short {
			worst = h
		}
	}
	if worst.Short <= reach {
		return false
	}
	worst.Short *= more
	// A face that moves out brings back what another one was moved in for: only
	// where nothing else helps.
	best, most, larger := *stand, math.Inf(-1), true
	now := s.value(stand.Size())
	for _, t := range s.steps(f, n, *stand, worst) {
		v := s.value(t.Size())
		if grown := v > now; larger && !grown || larger == grown && v > most {
			best, most, larger = t, v, grown
		}
	}
	*stand = best
	return !math.IsInf(most, -1)
}

// steepest is from which share of a direction along an axis on a move along it
// helps: less would take moves of ten times what is short.
const steepest = 0.1

// steps are the moves of a face, or of the whole box, that give a line what it is
// short of.
func (s *search) steps(f *frame, n *node, stand clearance.Stand, h clearance.Held) []clearance.Stand {
	var out []clearance.Stand
	if c, ok := s.task.owed.due(h); ok {
		return s.ceded(n, stand, c, h.Short)
	}
	if h.Feature < 0 && !h.Bends { // room for a hand against another part: a larger or smaller box
		for a := range 3 {
			out = s.shift(out, n, stand, a, 0, -h.Short)
			out = s.shift(out, n, stand, a, h.Short, 0)
		}
		return out
	}
	normal := components(h.Pins[h.By].Normal)
	follow := components(h.Follow)
	body := h.Part >= 0 && f.judge.Model().Parts[h.Part].Kind == solid.Body
	for a, by := range normal {
		if math.Abs(by) < steepest*h.Pins[h.By].Normal.Norm() || by == 0 {
			continue
		}
		share := follow[a]
		if body {
			share = 0
			if by > 0 {
				share = 1
			}
		}
		move := -(h.Short + reach/10) / by // of the part along the axis
		if share > 0 {
			out = s.shift(out, n, stand, a, 0, move/share)
		}
		if share < 1 {
			out = s.shift(out, n, stand, a, move/(1-share), 0)
		}
	}
	if len(out) > 0 {
		return out
	}
	for a, by := range normal { // nothing smaller helps: beside it
		if math.Abs(by) >= steepest*h.Pins[h.By].Normal.Norm() && by != 0 {
			move := -(h.Short + reach/10) / by
			out = s.shift(out, n, stand, a, move, move)
		}
	}
	return out
}

// shift moves the faces along an axis, where the search's limits allow it.
func (s *search) shift(to []clearance.Stand, n *node, stand clearance.Stand, axis int, low, high float64) []clearance.Stand {
	lo, hi := components(stand.Lo), components(stand.Hi)
	lo[axis] += low
	hi[axis] += high
	const fine = 1e-9 // rounding of a place
	r := s.root
	switch d := hi[axis] - lo[axis]; {
	case d < s.bounds.min[axis]-fine, d > s.bounds.max[axis]+fine:
		return to
	case lo[axis] < r.from[axis]-fine, lo[axis] > r.to[axis]+fine, hi[axis] < r.from[axis+3]-fine, hi[axis] > r.to[axis+3]+fine:
		return to
	}
	stand.Lo, stand.Hi = vector(lo), vector(hi)
	if s.task.limits.Aspect != (vec{}) {
		size := s.aspected(stand.Size())
		stand.Hi = stand.Lo.Add(size.Vector())
	}
	return append(to, stand)
}

// mostWait is for how many nodes none is mended at most.
const mostWait = 127

// tryMend is mend for a node of the search, less and less often while nothing
// better comes of it.
func (s *search) tryMend(f *frame, n *node, stand clearance.Stand) {
	if s.pops < s.mendAt {
		return
	}
	before := s.best.value
	s.mend(f, n, stand)
	if s.best.value > before {
		s.mendWait = 0
		return
	}
	s.mendWait = min(2*s.mendWait+7, mostWait)
	if s.best.frame == nil {
		s.mendWait = min(s.mendWait, 3)
	}
	s.mendAt = s.pops + s.mendWait
}

// allowed says whether a box keeps the limits of sizes and the room.
func (s *search) allowed(stand clearance.Stand) bool {
	lo, hi := components(stand.Lo), components(stand.Hi)
	for a := range 3 {
		d := hi[a] - lo[a]
		if d < s.bounds.min[a]-reach || d > s.bounds.max[a]+reach {
			return false
		}
		if lo[a] < s.root.from[a]-reach || hi[a] > s.root.to[a+3]+reach {
			return false
		}
	}
	if s.task.limits.Aspect == (vec{}) || s.task.limits.Step > 0 {
		return true
	}
	kept := s.aspected(stand.Size())
	return stand.Size().Vector().Sub(kept.Vector()).Norm() <= reach
}
