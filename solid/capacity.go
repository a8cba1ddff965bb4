package solid

import "elbowroom/solid/sheet"

// Capacity is what the tank holds to the brim of its body, in litres, as Build
// gives it, without building it: it grows with each outside size. ok is false
// without a sheet. A size that the sheet leaves nothing of, or that its bends take
// up, holds nothing.
func (t Tank) Capacity() (litres float64, ok bool) {
	if t.Sheet <= 0 {
		return 0, false
	}
	b := builder{tank: t}
	folded := b.folded()
	for axis := range 3 {
		if whole := t.Size.Along(axis); 2*t.Sheet >= whole || folded.Taken(axis) > whole+reach {
			return 0, true
		}
	}
	return sheet.Hold(folded, 0).CapacityL, true
}
