package solid

import (
	"elbowroom/solid/sheet"
)

// Construction is how the box is made of folded pieces. The words are the
// trade's; which sides each piece takes is settled here.
type Construction int

const (
	// TwoChannels: one is left, bottom and right, the other back, top and front.
	TwoChannels Construction = iota
	// WrapAndEnds: back, bottom, front and top are one strip, its seam in a
	// flat; left and right are flat ends.
	WrapAndEnds
	// PanAndLid: the pan is the back, which is bolted on, with left, right,
	// bottom and top folded out from it; the front is the lid, a flat.
	PanAndLid
)

// bent lists the edges that are bends.
func (c Construction) bent() []sheet.Edge {
	switch c {
	case WrapAndEnds:
		return []sheet.Edge{edge(Back, Bottom), edge(Bottom, Front), edge(Front, Top), edge(Top, Back)}
	case PanAndLid:
		return []sheet.Edge{edge(Back, Left), edge(Back, Right), edge(Back, Bottom), edge(Back, Top)}
	}
	return []sheet.Edge{edge(Left, Bottom), edge(Bottom, Right), edge(Back, Top), edge(Top, Front)}
}

// edge is the one between two sides.
func edge(a, b Side) sheet.Edge {
	if a.Axis() > b.Axis() {
		a, b = b, a
	}
	return sheet.Edge{Along: 3 - a.Axis() - b.Axis(), Far: [2]bool{a.Far(), b.Far()}}
}

// Contents is what the box holds.
type Contents int

// The contents.
const (
	Nothing Contents = iota // not said
	Coolant
	OilVapour
	Battery
	Electronics
)

// density is of the contents in kg/m3, the heavier where it may vary; 0 where it
// is not known.
func (c Contents) density() float64 {
	switch c {
	case Coolant:
		// Half ethylene glycol, half water, filled cold. By mass, at 20 degrees
		// C: 1079 (a maker's table; 1030 at 100 degrees C). By volume, at 70
		// degrees F: 67.05 lb/ft3, 1074 kg/m3 (ASHRAE Fundamentals, as copied in
		// a heating design manual, table 5-16).
		return 1079
	case OilVapour:
		// What collects is oil and water, of which water is the heavier: 998.2
		// at 20 degrees C (Bettin and Spieweck's formula).
		return 998.2
	}
	return 0
}

// folded is the body as sheet. Without a sheet there is none.
func (b *builder) folded() sheet.Box {
	t := b.tank
	density, _ := sheet.Density(t.Alloy)
	return sheet.Box{
		Size: t.Size.Vector(), Sheet: t.Sheet, InsideRadius: t.InsideRadius,
		Bent: t.Construction.bent(), Density: density,
	}
}

// holding adds up capacity and mass.
func (b *builder) holding() sheet.Holding {
	box := b.folded()
	h := sheet.Hold(box, b.tank.Holds.density())
	for _, k := range b.tank.Brackets {
		h = h.With(k.Min, k.Max, box.Density)
	}
	return h
}
