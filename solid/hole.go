package solid

import (
	"math"
	"slices"

	"github.com/golang/geo/r3"

	"elbowroom/solid/level"
)

// Use is what a fitting is for, as far as the liquid goes.
type Use int

// The uses. NoUse leaves it to the rules of Tank.Fill and Tank.Outlet.
const (
	NoUse Use = iota
	FillUse
	OutletUse
	VentUse
	OtherUse
)

// Fill is the index of the fitting that the box is filled through: the one that
// the job says is for that, else the highest (its place on the outside, along up)
// of those with an element that is fitted after the box is in, or a hand's room
// round a cap. ok is false where there is none.
func (t Tank) Fill(up r3.Vector) (fitting int, ok bool) {
	return t.pick(FillUse, func(f Fitting) bool {
		capped := func(k KeepOpen) bool { return k.Kind == CapRoom }
		return slices.ContainsFunc(f.Stack, func(e Element) bool { return e.After }) || slices.ContainsFunc(f.KeepOpen, capped)
	}, up)
}

// Outlet is the index of the fitting that the box drains and feeds through: the
// one that the job says is for that, else the lowest of those that a hose
// leaves, else the lowest of all but the fill. ok is false where there is none.
func (t Tank) Outlet(up r3.Vector, hoses []string) (fitting int, ok bool) {
	fill, filled := t.Fill(up)
	other := func(f Fitting) bool { return !filled || f.Name != t.Fittings[fill].Name }
	down := up.Mul(-1)
	i, found := t.pick(OutletUse, func(f Fitting) bool { return other(f) && slices.Contains(hoses, f.Name) }, down)
	if found {
		return i, true
	}
	return t.pick(OutletUse, other, down)
}

// Vents are the indices of the fittings that let air out besides the fill.
func (t Tank) Vents() []int {
	var all []int
	for i, f := range t.Fittings {
		if f.Use == VentUse {
			all = append(all, i)
		}
	}
	return all
}

// pick is the fitting of a use, else the one farthest along a direction of those
// without a use that will do.
func (t Tank) pick(use Use, will func(Fitting) bool, along r3.Vector) (best int, ok bool) {
	most := math.Inf(-1)
	for i, f := range t.Fittings {
		if f.Use == use {
			return i, true
		}
		if f.Use != NoUse || !will(f) {
			continue
		}
		b := builder{tank: t}
		if s, placed := b.seat(f, ""); placed && s.at.Dot(along) > most {
			most, best, ok = s.at.Dot(along), i, true
		}
	}
	return best, ok
}

// Inside is the space inside the sheet, box frame; without a sheet all of the
// box. Bends are taken as sharp: rounded off they take away (1 - pi/4) r2 for each
// mm of their length, which the capacity counts and this does not.
func (t Tank) Inside() level.Space {
	in := r3.Vector{X: t.Sheet, Y: t.Sheet, Z: t.Sheet}
	return level.Box(in, t.Size.Vector().Sub(in))
}

// Opening is where a fitting opens into the inside, box frame: round, or oval where
// the fitting leans, at the inner skin. ok is false for a fitting that stands nowhere.
func (t Tank) Opening(fitting int) (o level.Opening, ok bool) {
	f := t.Fittings[fitting]
	b := builder{tank: t}
	s, placed := b.seat(f, "")
	radius := f.opening()
	if !placed || !(radius > 0) {
		return o, false
	}
	out := f.Side.Out()
	o.Middle = s.at.Sub(s.axis.Mul(t.Sheet / s.axis.Dot(out)))
	e := s.axis.Sub(out.Mul(s.axis.Dot(out)))
	if e.Norm2() == 0 {
		e = out.Ortho()
	}
	e = e.Normalize()
	o.Half = [2]r3.Vector{e.Mul(radius / s.axis.Dot(out)), out.Cross(e).Mul(radius)}
	return o, true
}

// opening is the clear radius of a fitting, square to its axis; 0 where none is known.
func (f Fitting) opening() float64 {
	switch {
	case f.Bore > 0:
		return f.Bore / 2
	case f.Hole > 0:
		return f.Hole / 2
	case len(f.Stack) > 0:
		return f.Stack[0].Diameter / 2
	}
	return 0
}
