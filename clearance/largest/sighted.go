package largest

import (
	"math"
	"slices"

	"elbowroom/clearance"
)

// mostSights is how many boxes are looked at for one all of whose sides are measured.
const mostSights = 80

// sighted is the largest box found from one by moving sides, of which every side counts as
// measured and every line keeps what it owes: where something could hide in front of a
// side, that side is made narrower than to reach there, or moved in; the largest of what
// comes of that goes on. ok is false where none was found.
func (s *search) sighted(start found) (best found, ok bool) {
	f := start.frame
	open := []clearance.Stand{start.stand}
	for range mostSights {
		if len(open) == 0 {
			break
		}
		at := 0
		for i := range open {
			if s.value(open[i].Size()) > s.value(open[at].Size()) {
				at = i
			}
		}
		stand := open[at]
		open = slices.Delete(open, at, at+1)
		if lines := s.lines(f, s.rest(f, stand), true); worstOf(lines) > reach {
			if s.step(f, s.root, &stand, lines, 1.1) {
				open = append(open, stand)
			}
			continue
		}
		u, unseen := f.judge.Unseen(s.rest(f, stand))
		if !unseen {
			q := *s
			q.best = found{}
			if _, ok := q.judge(f, stand); ok {
				return q.best, true
			}
			continue
		}
		if math.IsInf(u.Hidden, 1) {
			return best, false
		}
		open = append(open, s.narrower(f, stand, u)...)
	}
	return best, false
}

// narrower are boxes that no longer have what a side is short of in front of it.
func (s *search) narrower(f *frame, stand clearance.Stand, u clearance.Unseen) (out []clearance.Stand) {
	lo, hi, at := components(stand.Lo), components(stand.Hi), components(u.At)
	most, gap := f.judge.HiddenAtMost()
	// What hides is too large by so much; as far in from it as that it is not.
	more := math.Max(2, (u.Hidden-most)/2)
	for _, axis := range u.Side.Axes() {
		out = s.shift(out, s.root, stand, axis, math.Max(0, at[axis]-lo[axis])+more, 0)
		out = s.shift(out, s.root, stand, axis, 0, math.Min(0, at[axis]-hi[axis])-more)
	}
	axis, by := u.Side.Axis(), math.Max(gap, more)
	if u.Side.Far() {
		return s.shift(out, s.root, stand, axis, 0, -by)
	}
	return s.shift(out, s.root, stand, axis, by, 0)
}
