package network

import (
	"github.com/golang/geo/r3"
)

// TieKind is what a tie measures.
type TieKind int

// The kinds. With d = Mark - From, e the unit vector from From to To, and n the
// direction Dir made square to e:
//
//	Offset    Dir · d, from the datum where From is None
//	Distance  |d|, and the shared error where it has one
//	Along     e · d
//	Probe     n · d
//	Sideways  (e x n) · d
//	Common    the shared error itself, held near Value
const (
	Offset TieKind = iota
	Distance
	Along
	Probe
	Sideways
	Common
)

// None stands for no mark.
const None = -1

// Tie is one measured number of a network. Lengths are in mm.
type Tie struct {
	Kind           TieKind
	Mark, From, To int
	Dir            r3.Vector // Offset: of length 1; Probe, Sideways: any length
	Leans          []Lean    // what turns Dir; nil: it stands
	Shared         int       // counts from 1: the shared error in it; 0: none
	Value, U       float64   // U, the standard uncertainty, is above zero
}

// pull is how far a tie's value moves for each mm that one block moves.
type pull struct {
	block int
	by    r3.Vector
}

// value is what the tie would read with the marks at p and the shared errors.
func (t *Tie) value(p []r3.Vector, shared []float64) float64 {
	switch t.Kind {
	case Common:
		return shared[t.Shared-1]
	case Offset:
		return t.Dir.Dot(t.from(p))
	case Distance:
		v := t.from(p).Norm()
		if t.Shared > 0 {
			v += shared[t.Shared-1]
		}
		return v
	}
	e, n, _, _ := t.axes(p)
	d := t.from(p)
	switch t.Kind {
	case Along:
		return e.Dot(d)
	case Probe:
		return n.Dot(d)
	}
	return e.Cross(n).Dot(d)
}

func (t *Tie) from(p []r3.Vector) r3.Vector {
	if t.From == None {
		return p[t.Mark]
	}
	return p[t.Mark].Sub(p[t.From])
}

// axes are e and n with the lengths that they were divided by.
func (t *Tie) axes(p []r3.Vector) (e, n r3.Vector, f, s float64) {
	e = p[t.To].Sub(p[t.From])
	f = e.Norm()
	e = over(e, f)
	dir := t.dir(p)
	n = dir.Sub(e.Mul(dir.Dot(e)))
	s = n.Norm()
	return e, over(n, s), f, s
}

func over(v r3.Vector, by float64) r3.Vector {
	if by == 0 {
		return r3.Vector{}
	}
	return v.Mul(1 / by)
}

// pulls are the derivatives of value, appended to dst. marks is the number of
// marks, after which the blocks of the shared errors come.
func (t *Tie) pulls(p []r3.Vector, dst []pull) []pull {
	marks := len(p)
	switch t.Kind {
	case Common:
		return append(dst, pull{marks + t.Shared - 1, r3.Vector{X: 1}})
	case Offset:
		dst = append(dst, pull{t.Mark, t.Dir})
		if t.From != None {
			dst = append(dst, pull{t.From, t.Dir.Mul(-1)})
		}
		return dst
	case Distance:
		e := t.from(p)
		e = over(e, e.Norm())
		dst = append(dst, pull{t.Mark, e}, pull{t.From, e.Mul(-1)})
		if t.Shared > 0 {
			dst = append(dst, pull{marks + t.Shared - 1, r3.Vector{X: 1}})
		}
		return dst
	}
	by, turn, dir := t.leaning(p)
	return t.lean(dir, append(dst, pull{t.Mark, by}, pull{t.To, turn}, pull{t.From, by.Mul(-1).Sub(turn)}))
}

// leaning is how a depth's number moves with its mark, with the far end of the
// straightedge, and with Dir.
//
// With f = To - From, de = (I - eeᵀ) df/|f|, and n = s/|s|, s = T - (T·e) e:
// dn = (I - nnᵀ) ds/|s| and ds = -(T·de) e - (T·e) de, so that for any k
// k·dn = -de · [T (h·e) + h (T·e)]/|s| with h = k - (k·n) n. With T itself,
// ds = (I - eeᵀ) dT, so that k·dn = dT · (I - eeᵀ) h/|s|.
func (t *Tie) leaning(p []r3.Vector) (by, turn, dir r3.Vector) {
	e, n, f, s := t.axes(p)
	d := t.from(p)
	square := func(v r3.Vector) r3.Vector { return over(v.Sub(e.Mul(v.Dot(e))), f) }
	at := t.dir(p)
	swing := func(k r3.Vector) (turn, dir r3.Vector) {
		h := k.Sub(n.Mul(k.Dot(n)))
		return square(over(at.Mul(h.Dot(e)).Add(h.Mul(at.Dot(e))), -s)), over(h.Sub(e.Mul(h.Dot(e))), s)
	}
	switch t.Kind {
	case Along:
		return e, square(d), dir
	case Probe:
		turn, dir = swing(d)
		return n, turn, dir
	}
	turn, dir = swing(d.Cross(e))
	return e.Cross(n), square(n.Cross(d)).Add(turn), dir
}

// bad says what cannot be used in a tie of a network of so many marks.
func (t *Tie) bad() string {
	switch {
	case !finite(t.Value):
		return "the observed value is not a finite number"
	case !(t.U > 0) || !finite(t.U):
		return "the standard uncertainty is not a number above zero"
	case !finite(t.Dir.Norm()):
		return "the direction is not a finite one"
	}
	return ""
}
