package network

import (
	"math"

	"github.com/golang/geo/r3"
)

// Elsewhere looks for other places of single marks, the rest of the network held.
// It keeps scratch space: use one in each goroutine.
type Elsewhere struct{ starter }

// Elsewhere makes one.
func (a *Adjusted) Elsewhere() *Elsewhere {
	s := starter{none: make([]float64, a.Net.Shared), net: a.Net, Start: Start{At: append([]r3.Vector(nil), a.At...), Placed: make([]bool, a.Net.Marks)}}
	for i := range s.Placed {
		s.Placed[i] = true
	}
	if a.Net.Shared > 0 { // settle knows of no shared errors
		s.net.Ties = append([]Tie(nil), a.Net.Ties...)
	}
	for l := range s.net.Ties {
		if t := &s.net.Ties[l]; t.Shared > 0 && t.Kind != Common {
			t.Value -= a.Common[t.Shared-1]
			t.Shared = 0
		}
	}
	s.sortTies()
	return &Elsewhere{s}
}

// Of looks for another place of one mark that its ties fit about as well:
// mirrored in the plane of the marks that it is tied to, or wherever lateration
// leads. worse is by how much the sum of squares there is greater (it may be
// less). ok is false where there is none.
func (e *Elsewhere) Of(m int) (at r3.Vector, worse float64, ok bool) {
	s := &e.starter
	ties := s.local(m)
	known := s.known[:0]
	for _, t := range ties {
		if t.Kind == Distance {
			known = append(known, s.At[t.other(m)])
		}
	}
	s.known = known
	if len(known) < 2 {
		return at, 0, false
	}
	now := s.settle(m, s.At[m], ties)
	guesses := s.guesses(m, ties)
	if len(known) > 2 {
		c, axes, _ := principalAxes(known)
		h := s.At[m].Sub(c).Dot(axes[2])
		guesses = append(guesses, s.At[m].Sub(axes[2].Mul(2*h)))
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
