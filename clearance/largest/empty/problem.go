package empty

import (
	"errors"
	"fmt"
	"math/bits"
)

// Problem is what a box is wanted for. Lengths are micrometres.
type Problem struct {
	Domain Box   // where the box may be; it stands on z = Domain.Lo[2]
	Blocks []Box // what it keeps off
	Free   bool  // it need not stand: both z faces are free

	Holds *Box // what the box must hold; nil: nothing

	Min    Size // least sizes; zero: none
	Max    Size // greatest sizes; zero: none. The same as Min: held
	Step   Size // sizes come in whole steps of this; zero: any micrometre
	Aspect Size // proportions between the sizes; zero: that size is not tied

	// Ignore is how many obstacles may reach into the box all the same, as if
	// they were noise; the same place counts once. The best that this can give
	// is an upper bound of what stray points cost, not a box to build.
	Ignore int

	// Value is what a size is worth; nil: Volume. It must not fall when a size
	// grows; on this the proof rests. The zero Value rules a size out.
	Value func(Size) Value
}

// Problems that cannot be searched.
var (
	ErrDomain = errors.New("the domain has no inside")
	ErrReach  = fmt.Errorf("a coordinate is over %.0f m from the origin", Reach/1e6)
	ErrSizes  = errors.New("a least size is over the greatest, or a size is below zero")
	ErrHolds  = errors.New("what the box must hold is not all in the domain")
)

// Err says what keeps the problem from being searched, or nil.
func (p Problem) Err() error {
	for _, b := range append([]Box{p.Domain}, p.Blocks...) {
		for a := range b.Lo {
			if b.Lo[a] < -Reach || b.Hi[a] > Reach || b.Lo[a] > Reach || b.Hi[a] < -Reach {
				return ErrReach
			}
		}
	}
	for a := range p.Min {
		switch {
		case p.Domain.Lo[a] >= p.Domain.Hi[a]:
			return ErrDomain
		case p.Min[a] < 0 || p.Max[a] < 0 || p.Step[a] < 0 || p.Aspect[a] < 0 || p.Aspect[a] > Reach,
			p.Max[a] > 0 && p.Min[a] > p.Max[a]:
			return ErrSizes
		}
	}
	if p.Holds != nil && !p.Domain.Holds(*p.Holds) {
		return ErrHolds
	}
	return nil
}

// Fit is the size of the box that is made of an empty room: room cut to the
// greatest sizes, to the proportions and down to whole steps. ok is false when
// a least size is not reached.
func (p Problem) Fit(room Size) (s Size, ok bool) { return p.fit(room) }

func (p *Problem) fit(room Size) (s Size, ok bool) {
	s = room
	for a := range s {
		if p.Max[a] > 0 {
			s[a] = min(s[a], p.Max[a])
		}
	}
	s = p.inProportion(s)
	for a := range s {
		if p.Step[a] > 0 {
			s[a] -= s[a] % p.Step[a]
		}
		if s[a] < p.Min[a] || s[a] <= 0 {
			return Size{}, false
		}
	}
	return s, true
}

// inProportion is the largest size of the wanted proportions within s, rounded
// down to the micrometre.
func (p *Problem) inProportion(s Size) Size {
	tight := -1
	for a, share := range p.Aspect {
		if share > 0 && (tight < 0 || product(s[a], p.Aspect[tight]).Compare(product(s[tight], share)) < 0) {
			tight = a
		}
	}
	if tight < 0 || s[tight] <= 0 {
		return s
	}
	scale, of := uint64(s[tight]), uint64(p.Aspect[tight])
	for a, share := range p.Aspect {
		if share > 0 {
			hi, lo := bits.Mul64(scale, uint64(share))
			q, _ := bits.Div64(hi%of, lo, of)
			s[a] = int64(q)
		}
	}
	return s
}

func product(a, b int64) Value {
	hi, lo := bits.Mul64(uint64(max(a, 0)), uint64(max(b, 0)))
	return Value{Hi: hi, Lo: lo}
}

// whole is the problem with what follows from its parts written out: a box that
// holds another is no smaller.
func (p Problem) whole() Problem {
	if p.Holds != nil {
		for a, s := range p.Holds.Size() {
			p.Min[a] = max(p.Min[a], s)
		}
	}
	return p
}

// worth is the value of the box made of an empty room.
func (p *Problem) worth(room Size) Value {
	s, ok := p.fit(room)
	switch {
	case !ok:
		return Value{}
	case p.Value == nil:
		return Volume(s)
	}
	return p.Value(s)
}

// Place is where the box of the answer's size stands in its room: at is the
// place nearest the lower corner, and it may slide from there by slack in each
// direction. It holds what it must; one that stands does not leave its plane.
func (p Problem) Place(room Box) (at Box, slack Size) {
	s, _ := p.Fit(room.Size())
	for a := range s {
		least, most := room.Lo[a], room.Hi[a]-s[a]
		if p.Holds != nil {
			least, most = max(least, p.Holds.Hi[a]-s[a]), min(most, p.Holds.Lo[a])
		}
		if a == 2 && !p.Free {
			least, most = room.Lo[a], room.Lo[a]
		}
		at.Lo[a], at.Hi[a], slack[a] = least, least+s[a], most-least
	}
	return at, slack
}
