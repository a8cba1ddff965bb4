package network

import (
	"math"

	"github.com/golang/geo/r3"
)

// Elsewhere looks for another place of one mark that its ties fit about as well,
// the other marks held: mirrored in the plane of those, or wherever lateration
// leads. worse is by how much the sum of squares there is greater (it may be
// less). ok is false where there is none.
func (a *Adjusted) Elsewhere(m int) (at r3.Vector, worse float64, ok bool) {
	s := starter{none: make([]float64, a.Net.Shared), net: a.Net, Start: Start{At: append([]r3.Vector(nil), a.At...), Placed: make([]bool, a.Net.Marks)}}
	for i := range s.Placed {
		s.Placed[i] = true
	}
	s.ties = make([][]int, a.Net.Marks)
	for l, t := range a.Net.Ties {
		if t.Kind == Common {
			continue
		}
		if t.Shared > 0 { // settle knows of no shared errors
			s.net.Ties = append([]Tie(nil), a.Net.Ties...)
		}
		if t.Mark == m || t.From == m || t.Kind > Distance && t.To == m {
			s.ties[m] = append(s.ties[m], l)
		}
	}
	if a.Net.Shared > 0 {
		for _, l := range s.ties[m] {
			if t := &s.net.Ties[l]; t.Shared > 0 {
				t.Value -= a.Common[t.Shared-1]
				t.Shared = 0
			}
		}
	}
	ties := s.local(m)
	var known []r3.Vector
	for _, t := range ties {
		if t.Kind == Distance {
			known = append(known, a.At[t.other(m)])
		}
	}
	if len(known) < 2 {
		return at, 0, false
	}
	now := s.settle(m, a.At[m], ties)
	guesses := s.guesses(m, ties)
	c, axes, _ := principalAxes(known)
	if len(known) > 2 {
		h := a.At[m].Sub(c).Dot(axes[2])
		guesses = append(guesses, a.At[m].Sub(axes[2].Mul(2*h)))
	}
	worse = math.Inf(1)
	for _, p := range guesses {
		got := s.settle(m, p, ties)
		if got.at.Sub(now.at).Norm() < samePlace*s.reach(m, now.at)+samePlace {
			continue
		}
		if got.miss-now.miss < worse {
			at, worse, ok = got.at, got.miss-now.miss, true
		}
	}
	return at, worse, ok
}
