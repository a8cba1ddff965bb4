package solid

import "elbowroom/solid/sheet"

// Capacity is what the tank holds to the brim of its body, in litres, as Build
// gives it, without building it: it grows with each outside size. ok is false
// without a sheet. A size that the sheet leaves nothing of, or that its bends take
// up, holds nothing.
func (t Tank) Capacity() (litres float64, ok bool) {
	c, ok := t.Capacities()
	if !ok {
		return 0, false
	}
	return c.At(t.Size), true
}

// Capacities gives the capacities of tanks that are alike but for their size.
type Capacities struct {
	inside sheet.Capacities
	sheet  float64
	taken  [3]float64 // of each size by bends
}

// Capacities works out what the capacities of tanks like this one have in common. ok
// is false without a sheet.
func (t Tank) Capacities() (c Capacities, ok bool) {
	if t.Sheet <= 0 {
		return c, false
	}
	b := builder{tank: t}
	folded := b.folded()
	c.inside, c.sheet = folded.Capacities(), t.Sheet
	for axis := range 3 {
		c.taken[axis] = folded.Taken(axis)
	}
	return c, true
}

// At is Capacity at a size.
func (c *Capacities) At(size Size) float64 {
	for axis := range 3 {
		if whole := size.Along(axis); 2*c.sheet >= whole || c.taken[axis] > whole+reach {
			return 0
		}
	}
	return c.inside.At(size.Vector())
}
