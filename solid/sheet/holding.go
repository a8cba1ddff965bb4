// Package sheet knows folded sheet metal: what a box of it holds and weighs.
package sheet

import (
	"math"
	"strings"

	"github.com/golang/geo/r3"
)

// Bends is a number of bent edges of one length, mm.
type Bends struct {
	Count  int
	Length float64
}

// Box is a folded box: outside size, sheet thickness and inside bend radius in
// mm, its bent edges by the axis that they run along, and the sheet's density
// in kg/m3.
type Box struct {
	Size         r3.Vector
	Sheet        float64
	InsideRadius float64
	Bends        [3]Bends
	Density      float64
}

// Holding is what a box holds and weighs. Fittings, weld beads and hoses are
// not in the masses.
type Holding struct {
	CapacityL float64   // to the brim, litres
	DryKg     float64   // sheet and brackets
	FullKg    float64   // and its contents to the brim
	Centre    r3.Vector // centre of gravity of the full box, box frame, mm
}

// corner is the share of a square corner that rounding it off takes: a square
// of side r less a quarter disc.
const corner = 1 - math.Pi/4

// Hold works out what a box holds. contents is the density of what fills it,
// kg/m3. A bent edge takes (1 - pi/4) r2 of its length off: inside with the
// inside radius, outside with that and the sheet. Where bends along two axes
// meet in a corner the two are taken off both, which understates the capacity
// by less than r3 a corner.
func Hold(b Box, contents float64) Holding {
	inner := b.Size.Sub(r3.Vector{X: 1, Y: 1, Z: 1}.Mul(2 * b.Sheet))
	inside := inner.X * inner.Y * inner.Z
	outside := b.Size.X * b.Size.Y * b.Size.Z
	outer := b.InsideRadius + b.Sheet
	for _, e := range b.Bends {
		inside -= float64(e.Count) * corner * b.InsideRadius * b.InsideRadius * math.Max(0, e.Length-2*b.Sheet)
		outside -= float64(e.Count) * corner * outer * outer * e.Length
	}
	inside = math.Max(0, inside)
	// 1 l = 1e6 mm3; kg = mm3 * kg/m3 / 1e9.
	dry := math.Max(0, outside-inside) * b.Density / 1e9
	return Holding{
		CapacityL: inside / 1e6,
		DryKg:     dry,
		FullKg:    dry + inside*contents/1e9,
		Centre:    b.Size.Mul(0.5),
	}
}

// With adds a solid plate between two extreme corners.
func (h Holding) With(lo, hi r3.Vector, density float64) Holding {
	d := hi.Sub(lo)
	kg := d.X * d.Y * d.Z * density / 1e9
	middle := lo.Add(hi).Mul(0.5)
	h.Centre = h.Centre.Mul(h.FullKg).Add(middle.Mul(kg)).Mul(1 / (h.FullKg + kg))
	h.DryKg += kg
	h.FullKg += kg
	return h
}

// Density is of the alloy, kg/m3, by its series. Typical values of the
// Aluminum Association as in handbooks: 5052 2680 (seen); 3003 2730, 6061 2700,
// 1100 2710, 2024 2780 (from memory). An alloy that is not known counts 2700.
func Density(alloy string) float64 {
	series, _, _ := strings.Cut(alloy, "-")
	switch series {
	case "5052":
		return 2680
	case "3003":
		return 2730
	case "1100":
		return 2710
	case "2024":
		return 2780
	}
	return 2700
}
