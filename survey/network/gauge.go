package network

import (
	"github.com/golang/geo/r3"
)

// Gauge turns the start values of a network that nothing fixes so that its first
// mark is the origin, the second lies along x and the third in the plane z = 0,
// y up, and pins those six coordinates. Shape, and all that does not depend on
// where the axes are, comes out the same for any three marks that are not on one
// line. ok is false where they are.
func (net *Net) Gauge(at []r3.Vector, marks [3]int) (ok bool) {
	o, x, t := at[marks[0]], at[marks[1]].Sub(at[marks[0]]), at[marks[2]].Sub(at[marks[0]])
	z := x.Cross(t)
	// Marks within a thousandth of a line hold no axis.
	if z.Norm() <= 1e-3*x.Norm2() || x.Norm() == 0 {
		return false
	}
	e := [3]r3.Vector{x.Normalize(), {}, z.Normalize()}
	e[1] = e[2].Cross(e[0])
	for i, p := range at {
		d := p.Sub(o)
		at[i] = r3.Vector{X: d.Dot(e[0]), Y: d.Dot(e[1]), Z: d.Dot(e[2])}
	}
	net.Pinned = make([][3]bool, net.Marks)
	net.Pinned[marks[0]] = [3]bool{true, true, true}
	net.Pinned[marks[1]] = [3]bool{false, true, true}
	net.Pinned[marks[2]] = [3]bool{false, false, true}
	at[marks[0]] = r3.Vector{}
	at[marks[1]].Y, at[marks[1]].Z, at[marks[2]].Z = 0, 0, 0
	return true
}
