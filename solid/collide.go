package solid

import (
	"fmt"

	"github.com/golang/geo/r3"

	"elbowroom/solid/shape"
)

// collisions complains of fittings that cannot both be there, and of elements
// that would stand in the body.
func (b *builder) collisions() {
	for j, s := range b.standing {
		b.intoBody(s)
		for _, earlier := range b.standing[:j] {
			b.apart(s, earlier)
		}
	}
}

// intoBody complains of the elements of a fitting that leans which dip into the
// body: all but the first, whose foot is cut to it.
func (b *builder) intoBody(s standing) {
	if b.tank.Fittings[s.fitting].Tilt.By == 0 || len(s.elements) == 0 {
		return
	}
	body := boxBetween(r3.Vector{}, b.tank.Size.Vector())
	for _, e := range s.elements[1:] {
		if by := deep(e.solid, body); by > 0 {
			b.complain(e.key, escaped(e.name)+" dips into the body by %s or more", "lengthen what is under it, or lean the fitting less", by)
		}
	}
}

// apart complains where two fittings overlap: at their feet, else where their
// elements run deepest into each other.
func (b *builder) apart(s, earlier standing) {
	f, g := b.tank.Fittings[s.fitting], b.tank.Fittings[earlier.fitting]
	if f.Side == g.Side {
		if by := s.foot.overlap(earlier.foot); by > reach {
			what := fmt.Sprintf("on the %s, %s overlaps %s by %%s", f.Side, f.label(), g.label())
			b.complain(s.key+".at", what, "move one of them", by)
			return
		}
	}
	var most float64
	var mine, other element
	for _, e := range s.elements {
		for _, o := range earlier.elements {
			if by := deep(e.solid, o.solid); by > most {
				most, mine, other = by, e, o
			}
		}
	}
	if most > 0 {
		b.complain(mine.key, escaped(mine.name)+" runs into "+escaped(other.name)+" by %s or more", "move or lean one of them away", most)
	}
}

// deep is how deep two solids surely overlap, or 0.
func deep(a, b shape.Convex) float64 {
	if shape.Gap(a, b) > 0 {
		return 0
	}
	n := shape.Distance(a, b)
	if n.Signed < -reach-n.Within {
		return -n.Signed
	}
	return 0
}
