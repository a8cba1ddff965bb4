package main

import (
	"math/rand/v2"

	"github.com/golang/geo/r3"

	"elbowroom/solid/shape"
)

// pair is two planar shapes, not grown, and how they were made.
type pair struct {
	family string
	a, b   shape.Convex
}

// counts are how many points a hull has: mostly points, segments and
// triangles, as the features of a space have them.
var counts = []int{1, 2, 2, 3, 3, 3, 3, 3, 4, 4, 5, 6, 8}

// crowd is how many points a hull has once in a while.
const crowd = 20

// newPair makes the i-th pair of a seed, whatever was made before.
func newPair(seed, i uint64) pair {
	r := rand.New(rand.NewPCG(seed, i))
	if r.IntN(10) == 0 {
		return hullPair(r)
	}
	box, contact, shift := boxKinds[r.IntN(len(boxKinds))], contactKinds[r.IntN(len(contactKinds))], shifts[r.IntN(len(shifts))]
	b := box.make(r)
	p := pair{family: box.name + " " + contact.name + " " + shift.name, a: b}
	if r.IntN(12) == 0 {
		p.family = box.name + " box " + shift.name
		p.b = secondBox(r, b, shift.make)
		return p
	}
	n := counts[r.IntN(len(counts))]
	if r.IntN(200) == 0 {
		n = crowd
	}
	points := contact.make(r, n)
	for i := range points {
		points[i] = inBox(b, points[i])
	}
	shift.make(r, points)
	p.b = shape.Hull{Points: points, Behind: behind(r, b)}
	if r.IntN(2) == 0 {
		p.a, p.b = p.b, p.a
	}
	return p
}

// behind is mostly zero, else along the axes or along an edge of the box.
func behind(r *rand.Rand, b shape.Box) r3.Vector {
	var v r3.Vector
	switch r.IntN(16) {
	case 0:
		set(&v, r.IntN(3), float64(2*r.IntN(2)-1))
	case 1:
		v = b.Edges[r.IntN(3)].Mul(float64(2*r.IntN(2) - 1))
	case 2:
		v = direction(r)
	}
	return v
}

// secondBox stands on the first one's grid, in line with it or at an angle.
func secondBox(r *rand.Rand, b shape.Box, shift func(*rand.Rand, []r3.Vector)) shape.Box {
	corner := []r3.Vector{inBox(b, grid(r))}
	shift(r, corner)
	edges := b.Edges
	if r.IntN(3) == 0 {
		edges = boxKinds[r.IntN(len(boxKinds))].make(r).Edges
	}
	for k := range edges {
		edges[k] = edges[k].Mul([4]float64{0.25, 0.5, 1, 2}[r.IntN(4)])
	}
	return shape.Box{Corner: corner[0], Edges: edges}
}

// hullPair is two hulls about one grid, or one loose place.
func hullPair(r *rand.Rand) pair {
	b := boxKinds[r.IntN(len(boxKinds))].make(r)
	shift := shifts[r.IntN(len(shifts))]
	p := pair{family: "hulls " + shift.name}
	hull := func() shape.Hull {
		points := contactKinds[r.IntN(len(contactKinds))].make(r, 1+r.IntN(6))
		for i := range points {
			points[i] = inBox(b, points[i])
		}
		shift.make(r, points)
		return shape.Hull{Points: points, Behind: behind(r, b)}
	}
	p.a, p.b = hull(), hull()
	return p
}
