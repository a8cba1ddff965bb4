// Package sheet knows folded sheet metal: what a box of it holds and weighs.
//
// Its frame is the box's own: the origin at the lower left back corner of the
// outside as drawn, x along the width to the right, y along the height up, z
// along the depth out of the mounting face. Lengths are millimetres, masses
// kilograms, densities kg/m3.
package sheet

import "github.com/golang/geo/r3"

// Box is a box folded of sheet. The zero Box holds and weighs nothing.
type Box struct {
	Size         r3.Vector // outside, after bending
	Sheet        float64   // thickness
	InsideRadius float64   // of the bends
	Bent         []Edge    // the edges that are bends; the others are welded, and sharp
	Density      float64   // of the sheet
}

// Taken is how much of the size along axis 0, 1 or 2 is bend and no flat: the
// inside radius and the sheet, at each end that has a bend.
func (b Box) Taken(axis int) float64 {
	var near, far float64
	for _, e := range b.Bent {
		switch {
		case e.Along == axis:
		case e.far(axis):
			far = b.InsideRadius + b.Sheet
		default:
			near = b.InsideRadius + b.Sheet
		}
	}
	return near + far
}

// Holding is what a box holds and weighs. Fittings, hoses, weld beads and paint
// are not in the masses, necks and bungs not in the capacity. The zero Holding
// is that of nothing.
type Holding struct {
	CapacityL float64 // to the brim of the body, litres
	DryKg     float64 // sheet and brackets
	FullKg    float64 // and the contents to the brim; DryKg where not Filled
	// Filled says that it is known what fills the box.
	Filled bool
	// Centre is the centre of gravity at FullKg.
	Centre r3.Vector
}

// Hold works out what a box holds. contents is the density of what fills it, 0
// where that is not known.
//
// The sheet is taken as it is drawn: flats, and at each bend a quarter ring from
// the inside radius to that and the sheet; where two bends meet in a corner,
// both shape it. Welded edges are taken as filled out to the sharp corner, which
// a joint with its bead comes near to.
//
// The bends must leave something flat (Taken no more than the size), and no
// three of them may meet in a corner: no sheet folds so.
func Hold(b Box, contents float64) Holding {
	inside := rounded(b.Size, b.Sheet, b.Bent, b.InsideRadius)
	shell := rounded(b.Size, 0, b.Bent, b.InsideRadius+b.Sheet).plus(-1, inside)
	dry := lump{}.plus(b.Density, shell)
	full := dry.plus(contents, inside)
	h := Holding{
		CapacityL: b.Capacity(),
		DryKg:     dry.amount / mm3InCubicMetre,
		FullKg:    full.amount / mm3InCubicMetre,
		Filled:    contents > 0,
		Centre:    b.Size.Mul(0.5),
	}
	if full.amount > 0 {
		h.Centre = full.moment.Mul(1 / full.amount)
	}
	return h
}

// One litre is 1e6 mm3 and one cubic metre 1e9 mm3, exactly.
const (
	mm3InLitre      = 1e6
	mm3InCubicMetre = 1e9
)

// Capacity is what Hold gives of a box's inside, litres, without its masses.
func (b Box) Capacity() float64 {
	c := b.Capacities()
	return c.At(b.Size)
}

// Capacities gives the capacities of boxes that are alike but for their size.
type Capacities struct {
	sheet   float64
	shaved  [3]float64 // off the inside by its bends, mm2: by its length along each axis
	corners float64    // of that twice, mm3
}

// Capacities works out what the capacities of boxes like this one have in common.
func (b Box) Capacities() Capacities {
	c, r := Capacities{sheet: b.Sheet}, b.InsideRadius
	for i, e := range b.Bent {
		c.shaved[e.Along] += shaved * r * r
		for _, f := range b.Bent[:i] {
			if e.meets(f) {
				c.corners += twice * r * r * r
			}
		}
	}
	return c
}

// At is the capacity at a size, litres.
func (c *Capacities) At(size r3.Vector) float64 {
	x, y, z := size.X-2*c.sheet, size.Y-2*c.sheet, size.Z-2*c.sheet
	return (x*y*z - c.shaved[0]*x - c.shaved[1]*y - c.shaved[2]*z + c.corners) / mm3InLitre
}

// With adds a solid plate between two extreme corners. What of it lies inside
// the box or its sheet counts twice.
func (h Holding) With(lo, hi r3.Vector, density float64) Holding {
	d := hi.Sub(lo)
	kg := d.X * d.Y * d.Z * density / mm3InCubicMetre
	if kg == 0 {
		return h
	}
	middle := lo.Add(hi).Mul(0.5)
	h.Centre = h.Centre.Mul(h.FullKg).Add(middle.Mul(kg)).Mul(1 / (h.FullKg + kg))
	h.DryKg += kg
	h.FullKg += kg
	return h
}
