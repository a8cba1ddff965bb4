// Package level answers how a liquid stands in a box: the volume under a tilted
// surface, the surface of a given volume, the air that an opening cannot let out
// and the liquid that it cannot let off, and how much a coolant swells with heat.
//
// It knows geometry at rest and nothing else: no flow, no pump, no splashing, no
// surface tension. Lengths are millimetres, volumes mm3, densities kg/m3,
// temperatures degrees Celsius. Up is a unit vector in the box's frame, and a height is a
// place's component along it.
package level

import (
	"math"
	"slices"
	"sort"

	"github.com/golang/geo/r3"
)

// Space is the inside of a vessel as a convex polyhedron: its faces, each a
// polygon seen anticlockwise from outside. The zero Space is empty.
type Space struct {
	faces [][]r3.Vector
}

// Box is the space between two extreme corners; empty where a corner of hi is not
// beyond that of lo.
func Box(lo, hi r3.Vector) Space {
	if !(lo.X < hi.X && lo.Y < hi.Y && lo.Z < hi.Z) {
		return Space{}
	}
	at := func(i int) r3.Vector {
		v := lo
		if i&1 != 0 {
			v.X = hi.X
		}
		if i&2 != 0 {
			v.Y = hi.Y
		}
		if i&4 != 0 {
			v.Z = hi.Z
		}
		return v
	}
	var s Space
	for _, f := range [6][4]int{{0, 4, 6, 2}, {1, 3, 7, 5}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 2, 3, 1}, {4, 5, 7, 6}} {
		s.faces = append(s.faces, []r3.Vector{at(f[0]), at(f[1]), at(f[2]), at(f[3])})
	}
	return s
}

// Extent is the lowest and the highest height of the space, 0 and 0 of an empty one.
func (s Space) Extent(up r3.Vector) (low, high float64) {
	if len(s.faces) == 0 {
		return 0, 0
	}
	low, high = math.Inf(1), math.Inf(-1)
	for _, f := range s.faces {
		for _, v := range f {
			low, high = math.Min(low, v.Dot(up)), math.Max(high, v.Dot(up))
		}
	}
	return low, high
}

// Volume adds up the pyramids from one corner over every face (the divergence
// theorem for a polyhedron).
func (s Space) Volume() float64 {
	six, _ := s.moments()
	return six / 6
}

// moments is six times the volume, and 24 times its first moment about the first
// corner.
func (s Space) moments() (six float64, moment r3.Vector) {
	if len(s.faces) == 0 {
		return 0, r3.Vector{}
	}
	apex := s.faces[0][0]
	for _, f := range s.faces {
		a := f[0].Sub(apex)
		for i := 1; i+1 < len(f); i++ {
			b, c := f[i].Sub(apex), f[i+1].Sub(apex)
			d := a.Dot(b.Cross(c))
			six += d
			moment = moment.Add(a.Add(b).Add(c).Mul(d))
		}
	}
	return six, moment
}

// Middle is the centre of the space's volume; ok is false where it has none.
func (s Space) Middle() (middle r3.Vector, ok bool) {
	six, moment := s.moments()
	if !(six > 0) {
		return r3.Vector{}, false
	}
	return s.faces[0][0].Add(moment.Mul(1 / (4 * six))), true
}

// Below is what of the space lies below a height: each face is cut at the
// surface (Sutherland and Hodgman 1974), and the surface closes the cut.
func (s Space) Below(up r3.Vector, height float64) Space {
	var out Space
	var rim []r3.Vector
	for _, f := range s.faces {
		kept := cut(nil, f, up, height)
		if len(kept) < 3 || s.inSurface(kept, up, height) {
			continue // what lies in the surface closes the cut with the rest of it
		}
		out.faces = append(out.faces, kept)
		for _, v := range kept {
			if onSurface(v, up, height) {
				rim = append(rim, v)
			}
		}
	}
	if lid := around(rim, up); len(lid) >= 3 && len(out.faces) > 0 {
		out.faces = append(out.faces, lid)
	}
	return out
}

// inSurface says whether a face lies in the surface.
func (s Space) inSurface(face []r3.Vector, up r3.Vector, height float64) bool {
	for _, v := range face {
		if !onSurface(v, up, height) {
			return false
		}
	}
	return true
}

// onSurface says whether a corner that is not above the surface lies in it: a cut is
// placed within a few units in the last place, 2^-53, of what it comes from.
func onSurface(v, up r3.Vector, height float64) bool {
	const few = 1e-14
	return v.Dot(up) >= height-few*(math.Abs(height)+v.Norm())
}

// cut appends the part of a polygon below a height.
func cut(kept, f []r3.Vector, up r3.Vector, height float64) []r3.Vector {
	for i, v := range f {
		w := f[(i+1)%len(f)]
		a, b := height-v.Dot(up), height-w.Dot(up)
		if a >= 0 {
			kept = append(kept, v)
		}
		if (a < 0) != (b < 0) && a != 0 && b != 0 {
			kept = append(kept, v.Add(w.Sub(v).Mul(a/(a-b))))
		}
	}
	return kept
}

// Under is the volume below a height. From a point in the surface the pyramids
// over what is left of the faces make it up: over the surface they are flat.
func (s Space) Under(up r3.Vector, height float64) float64 {
	var scratch [12]r3.Vector
	apex, six := up.Mul(height), 0.0
	for _, f := range s.faces {
		six += pyramids(cut(scratch[:0], f, up, height), apex)
	}
	return six / 6
}

// pyramids is six times the volume over a face seen from an apex.
func pyramids(f []r3.Vector, apex r3.Vector) float64 {
	if len(f) < 3 {
		return 0
	}
	six, a := 0.0, f[0].Sub(apex)
	for i := 1; i+1 < len(f); i++ {
		six += a.Dot(f[i].Sub(apex).Cross(f[i+1].Sub(apex)))
	}
	return six
}

// around puts the corners of a convex polygon square to up in order,
// anticlockwise as seen from above. A corner may stand twice.
func around(rim []r3.Vector, up r3.Vector) []r3.Vector {
	if len(rim) < 3 {
		return nil
	}
	middle := r3.Vector{}
	for _, v := range rim {
		middle = middle.Add(v)
	}
	middle = middle.Mul(1 / float64(len(rim)))
	e := up.Ortho()
	f := up.Cross(e)
	angle := func(v r3.Vector) float64 { d := v.Sub(middle); return math.Atan2(d.Dot(f), d.Dot(e)) }
	for i := 1; i < len(rim); i++ { // a rim has at most a dozen corners
		for k := i; k > 0 && angle(rim[k]) < angle(rim[k-1]); k-- {
			rim[k], rim[k-1] = rim[k-1], rim[k]
		}
	}
	return rim
}

// Level is the height of the surface of a volume in the space: the lowest for 0
// or less, the highest for all there is or more.
//
// Between the heights of two corners the volume under the surface is a cubic in
// the height, since the surface's corners move straight; four volumes give that cubic.
func (s Space) Level(up r3.Vector, volume float64) float64 {
	steps := s.steps(up)
	if len(steps) == 0 {
		return 0
	}
	under := func(h float64) float64 { return s.Under(up, h) }
	k := sort.Search(len(steps)-1, func(i int) bool { return under(steps[i+1]) >= volume })
	if k >= len(steps)-1 {
		return steps[len(steps)-1]
	}
	lo, wide := steps[k], steps[k+1]-steps[k]
	v := [4]float64{under(lo), under(lo + wide/3), under(lo + 2*wide/3), under(steps[k+1])}
	return lo + wide*share(v, volume)
}

// steps are the heights of the corners, lowest first, each once.
func (s Space) steps(up r3.Vector) []float64 {
	var all []float64
	for _, f := range s.faces {
		for _, v := range f {
			all = append(all, v.Dot(up))
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// share is where, from 0 to 1, the cubic through v at 0, 1/3, 2/3 and 1 reaches a
// value. It grows from one end to the other, so the place is found by halving, to
// the last bit in 53 steps.
func share(v [4]float64, value float64) float64 {
	// Newton's divided differences, in thirds.
	a, b, c := v[1]-v[0], (v[2]-2*v[1]+v[0])/2, (v[3]-3*v[2]+3*v[1]-v[0])/6
	lo, hi := 0.0, 1.0
	for range 53 {
		t := (lo + hi) / 2
		if x := 3 * t; v[0]+x*(a+(x-1)*(b+(x-2)*c)) < value {
			lo = t
		} else {
			hi = t
		}
	}
	return (lo + hi) / 2
}
