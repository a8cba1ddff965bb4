package main

import (
	"math"
	"math/rand/v2"

	"github.com/golang/geo/r3"

	"elbowroom/solid/shape"
)

// boxKinds are the ways to make a box. In the first three the corner, the
// edges and all points corner + s E0 + t E1 + u E2 with s, t, u multiples of
// 1/8 are float64 without rounding, so that contacts made from them are exact.
var boxKinds = []struct {
	name string
	make func(*rand.Rand) shape.Box
}{
	{"unit", func(*rand.Rand) shape.Box { return along(r3.Vector{}, r3.Vector{X: 1, Y: 1, Z: 1}) }},
	{"eighths", func(r *rand.Rand) shape.Box {
		return along(eighths(r, -4000, 4000), eighths(r, 1, 3200))
	}},
	{"turned", turned},
	{"decimal", decimal},
	{"any", func(r *rand.Rand) shape.Box { return anyBox(r, 500, size) }},
	{"far", func(r *rand.Rand) shape.Box { return anyBox(r, 10000, size) }},
	{"thin", func(r *rand.Rand) shape.Box { return anyBox(r, 500, thin) }},
}

func along(corner, size r3.Vector) shape.Box {
	return shape.Box{Corner: corner, Edges: [3]r3.Vector{{X: size.X}, {Y: size.Y}, {Z: size.Z}}}
}

func eighths(r *rand.Rand, from, to int) r3.Vector {
	f := func() float64 { return float64(from+r.IntN(to-from+1)) / 8 }
	return r3.Vector{X: f(), Y: f(), Z: f()}
}

// turned is a box at an angle with edges of whole numbers that are exactly
// square to each other: the rotation by a quaternion of whole numbers, without
// its division (Euler and Rodrigues).
func turned(r *rand.Rand) shape.Box {
	q := func() float64 { return float64(r.IntN(9) - 4) }
	a, b, c, d := q(), q(), q(), q()
	if a*a+b*b+c*c+d*d == 0 {
		a = 1
	}
	columns := [3]r3.Vector{
		{X: a*a + b*b - c*c - d*d, Y: 2 * (b*c + a*d), Z: 2 * (b*d - a*c)},
		{X: 2 * (b*c - a*d), Y: a*a - b*b + c*c - d*d, Z: 2 * (c*d + a*b)},
		{X: 2 * (b*d + a*c), Y: 2 * (c*d - a*b), Z: a*a - b*b - c*c + d*d},
	}
	box := shape.Box{Corner: eighths(r, -4000, 4000)}
	for k := range columns {
		box.Edges[k] = columns[k].Mul(float64(1+r.IntN(40)) / 8)
	}
	return box
}

// decimal is a box along the axes as a job states it: thousandths of an inch or
// of a millimetre.
func decimal(r *rand.Rand) shape.Box {
	unit := [2]float64{1, 25.4}[r.IntN(2)]
	f := func(from, to float64) float64 {
		return math.Round((from+(to-from)*r.Float64())/unit*1000) / 1000 * unit
	}
	corner := r3.Vector{X: f(-500, 500), Y: f(-500, 500), Z: f(-500, 500)}
	return along(corner, r3.Vector{X: f(1, 400), Y: f(1, 400), Z: f(1, 400)})
}

func anyBox(r *rand.Rand, reach float64, size func(*rand.Rand) float64) shape.Box {
	b := shape.Box{Corner: inCube(r, reach)}
	for k, axis := range anyAxes(r) {
		b.Edges[k] = axis.Mul(size(r))
	}
	return b
}

// size is 1 to 400 mm, small ones as often as large ones.
func size(r *rand.Rand) float64 { return math.Exp(math.Log(400) * r.Float64()) }

// thin gives plates of 0.5 mm and tubes as well.
func thin(r *rand.Rand) float64 {
	if r.IntN(2) == 0 {
		return 0.5
	}
	return 50 + 1000*r.Float64()
}

func inCube(r *rand.Rand, half float64) r3.Vector {
	f := func() float64 { return half * (2*r.Float64() - 1) }
	return r3.Vector{X: f(), Y: f(), Z: f()}
}

func direction(r *rand.Rand) r3.Vector {
	return r3.Vector{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}.Normalize()
}

// anyAxes is a right-handed set of unit axes, each square to the others within
// rounding.
func anyAxes(r *rand.Rand) [3]r3.Vector {
	x := direction(r)
	z := x.Cross(direction(r)).Normalize()
	return [3]r3.Vector{x, z.Cross(x), z}
}
