package main

import (
	"math"
	"math/rand/v2"

	"github.com/golang/geo/r3"

	"elbowroom/solid/shape"
)

// contactKinds are the ways to lay points about a box, in its own coordinates:
// 0 to 1 along each edge is the box.
var contactKinds = []struct {
	name string
	make func(r *rand.Rand, n int) []r3.Vector
}{
	{"loose", func(r *rand.Rand, n int) []r3.Vector { return each(n, func() r3.Vector { return loose(r, 1.5) }) }},
	{"near", near},
	{"grid", func(r *rand.Rand, n int) []r3.Vector { return each(n, func() r3.Vector { return grid(r) }) }},
	{"side", side},
	{"inside", inside},
	{"edge", edge},
	{"needle", needle},
	{"flat", flat},
	{"line", line},
	{"giant", giant},
}

func each(n int, f func() r3.Vector) []r3.Vector {
	out := make([]r3.Vector, n)
	for i := range out {
		out[i] = f()
	}
	return out
}

func loose(r *rand.Rand, reach float64) r3.Vector {
	return inCube(r, reach).Add(r3.Vector{X: 0.5, Y: 0.5, Z: 0.5})
}

// near is a small shape anywhere about the box.
func near(r *rand.Rand, n int) []r3.Vector {
	at, reach := loose(r, 1.2), math.Exp(-5*r.Float64())
	return each(n, func() r3.Vector { return at.Add(inCube(r, reach)) })
}

// grid is on the box's corners, edges' middles and the like, or a step outside.
func grid(r *rand.Rand) r3.Vector {
	steps := []float64{-1, -0.5, 0, 0, 0.25, 0.5, 1, 1, 1.5, 2}
	f := func() float64 { return steps[r.IntN(len(steps))] }
	return r3.Vector{X: f(), Y: f(), Z: f()}
}

func set(v *r3.Vector, axis int, to float64) { *[3]*float64{&v.X, &v.Y, &v.Z}[axis] = to }
func get(v r3.Vector, axis int) float64      { return [3]float64{v.X, v.Y, v.Z}[axis] }

// eighth is a multiple of 1/8 between from and to.
func eighth(r *rand.Rand, from, to float64) float64 {
	return from + float64(r.IntN(int((to-from)*8)+1))/8
}

// side stands on one side of the box from outside, with one point on it or
// more.
func side(r *rand.Rand, n int) []r3.Vector {
	axis, end := r.IntN(3), float64(r.IntN(2))
	on := 1 + r.IntN(n)
	i := 0
	return each(n, func() r3.Vector {
		p := r3.Vector{X: eighth(r, -0.5, 1.5), Y: eighth(r, -0.5, 1.5), Z: eighth(r, -0.5, 1.5)}
		off := 0.0
		if i++; i > on {
			off = eighth(r, 0, 2)
		}
		set(&p, axis, end+(2*end-1)*off)
		return p
	})
}

// inside dips from a side into the box, or only into its boundary.
func inside(r *rand.Rand, n int) []r3.Vector {
	out := side(r, n)
	out[0] = r3.Vector{X: eighth(r, 0, 1), Y: eighth(r, 0, 1), Z: eighth(r, 0, 1)}
	return out
}

// edge crosses an edge of the box, or a corner, at a point between two of its
// own, and lies outside.
func edge(r *rand.Rand, n int) []r3.Vector {
	axis, u, v := r.IntN(3), float64(r.IntN(2)), float64(r.IntN(2))
	at := eighth(r, 0, 1)
	place := func(x, y, z float64) (p r3.Vector) {
		set(&p, axis, x)
		set(&p, (axis+1)%3, u+(2*u-1)*y)
		set(&p, (axis+2)%3, v+(2*v-1)*z)
		return p
	}
	out := make([]r3.Vector, 0, n)
	x, y, z := eighth(r, -1, 1), eighth(r, 0, 1), eighth(r, 0, 1)
	out = append(out, place(at+x, y, -z))
	if n > 1 {
		out = append(out, place(at-x, -y, z))
	}
	for len(out) < n {
		out = append(out, place(eighth(r, -0.5, 1.5), eighth(r, 0, 1.5), eighth(r, 0, 1.5)))
	}
	return out
}

// needle is a shape about a line, thinner by up to 1e15 than it is long.
func needle(r *rand.Rand, n int) []r3.Vector {
	a, b := grid(r), loose(r, 1.5)
	if r.IntN(2) == 0 {
		b = grid(r)
	}
	thick := math.Pow(10, -15*r.Float64())
	return each(n, func() r3.Vector {
		t := [4]float64{0, 1, 0.5, r.Float64()}[r.IntN(4)]
		return a.Mul(1 - t).Add(b.Mul(t)).Add(inCube(r, thick*float64(r.IntN(2))))
	})
}

// flat is on one plane, often that of a side.
func flat(r *rand.Rand, n int) []r3.Vector {
	axis := r.IntN(3)
	at := [4]float64{0, 1, 0.5, -0.25}[r.IntN(4)]
	tilt := float64(r.IntN(3) - 1)
	return each(n, func() r3.Vector {
		p := r3.Vector{X: eighth(r, -1, 2), Y: eighth(r, -1, 2), Z: eighth(r, -1, 2)}
		set(&p, axis, at+tilt*get(p, (axis+1)%3))
		return p
	})
}

// line is on one line, with repeats.
func line(r *rand.Rand, n int) []r3.Vector {
	a, d := grid(r), grid(r)
	return each(n, func() r3.Vector { return a.Add(d.Mul(eighth(r, -1, 1))) })
}

// giant has points on the grid and others up to a million boxes away.
func giant(r *rand.Rand, n int) []r3.Vector {
	reach := math.Pow(10, 6*r.Float64())
	return each(n, func() r3.Vector {
		if r.IntN(2) == 0 {
			return grid(r)
		}
		return grid(r).Mul(reach)
	})
}

// inBox turns the box's own coordinates into the frame.
func inBox(b shape.Box, p r3.Vector) r3.Vector {
	return b.Corner.Add(b.Edges[0].Mul(p.X)).Add(b.Edges[1].Mul(p.Y)).Add(b.Edges[2].Mul(p.Z))
}

// leastStep is the step off a coordinate of 0, mm: as far below one rounding
// step at 1 mm as that is below 1 mm. The least float64 would ask for distances
// that float64 cannot hold.
const leastStep = 0x1p-104

// shifts move points off their place: not at all, by single rounding steps, or
// by 1e-15 to 1e-9 mm.
var shifts = []struct {
	name string
	make func(r *rand.Rand, points []r3.Vector)
}{
	{"as made", func(*rand.Rand, []r3.Vector) {}},
	{"one step", func(r *rand.Rand, points []r3.Vector) {
		p := &points[r.IntN(len(points))]
		axis, way := r.IntN(3), 2*r.IntN(2)-1
		at := get(*p, axis)
		if at == 0 {
			at = float64(way) * leastStep
		} else {
			at = math.Nextafter(at, math.Inf(way))
		}
		set(p, axis, at)
	}},
	{"a hair", func(r *rand.Rand, points []r3.Vector) {
		by := direction(r).Mul(math.Pow(10, -15+6*r.Float64()))
		for i := range points {
			points[i] = points[i].Add(by)
		}
	}},
}
