package solid

import "fmt"

// bracket makes a bracket's part.
func (b *builder) bracket(i int) {
	k := b.tank.Brackets[i]
	key := fmt.Sprintf("brackets[%d]", i)
	if sound := all(b.span(k, 0, key), b.span(k, 1, key), b.span(k, 2, key)); !sound || !b.sized {
		return
	}
	if k.inside(b.tank.Size) {
		b.complain(key, k.label()+" lies wholly inside the body",
			"measure it from the body's lower left back corner: what is left of that, under it or behind it is less than 0")
	}
	b.parts = append(b.parts, Part{
		Name: k.Name, Kind: BracketPart, Fitting: -1, Solid: boxBetween(k.Min, k.Max), Follow: k.follow(b.tank.Size),
	})
}

// span says whether a bracket has a size along an axis.
func (b *builder) span(k Bracket, axis int, key string) bool {
	name := [3]string{"x", "y", "z"}[axis]
	key += "." + name
	lo, hi := along(k.Min, axis), along(k.Max, axis)
	if sound := all(b.number(key, "the first "+name, lo), b.number(key, "the second "+name, hi)); !sound {
		return false
	}
	const mend = "write the lesser first, then the greater, as in [0, 1/8]"
	switch {
	case lo == hi:
		b.complain(key, k.label()+" starts and ends at %s, so it has no size along "+name, mend, lo)
	case lo > hi:
		b.complain(key, k.label()+" runs from %s back to %s", mend, lo, hi)
	}
	return lo < hi
}

// inside says whether nothing of the bracket sticks out of a box of that size: it
// is then no bracket, and would be checked against nothing.
func (k Bracket) inside(size Size) bool {
	for axis := 0; axis < 3; axis++ {
		if along(k.Min, axis) < -reach || along(k.Max, axis) > size.Along(axis)+reach {
			return false
		}
	}
	return true
}
