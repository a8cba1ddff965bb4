package empty

import (
	"math/rand/v2"
)

// mm is a millimetre.
const mm = 1000

var bench = Box{Hi: Point{600 * mm, 400 * mm, 300 * mm}}

func points(n int, at func() Point) []Box {
	out := make([]Box, n)
	for i := range out {
		p := at()
		out[i] = Box{p, p}
	}
	return out
}

func uniform(n int, domain Box, seed uint64) []Box {
	rng := rand.New(rand.NewPCG(seed, 1))
	s := domain.Size()
	return points(n, func() (p Point) {
		for a := range p {
			p[a] = domain.Lo[a] + rng.Int64N(s[a]+1)
		}
		return p
	})
}

// bayPoint is a place on the surfaces of a bay of 600 x 400 x 300 mm seen from
// the wall it is fixed to: an engine before it, a lip along the bottom, a hood
// that slopes, a tower at the left and a hose across; with 1 mm of noise.
func bayPoint(rng *rand.Rand) Point {
	u, v := rng.Float64(), rng.Float64()
	var x, y, z float64
	switch k := rng.Float64(); {
	case k < 0.35: // the engine, rough
		x, y = 600*u, 320*v
		z = 220 + 20*float64(int(7*u+3*v)%3)
	case k < 0.5: // the lip
		x, y, z = 600*u, 40, 120*v
	case k < 0.75: // the hood
		x, y, z = 600*u, 330+20*u-0.25*300*v, 300*v
	case k < 0.9: // the tower
		x, y, z = 110+8*v, 400*u, 300*v
	case k < 0.95: // the tower's front
		x, y, z = 110*u, 400*v, 40
	default: // the hose
		x, y, z = 600*u, 250+30*u+10*v, 180-40*u+10*v
	}
	return Point{int64(1000 * (x + rng.NormFloat64())), int64(1000 * (y + rng.NormFloat64())), int64(1000 * max(z+rng.NormFloat64(), 0))}
}

func bay(n int, seed uint64) []Box {
	rng := rand.New(rand.NewPCG(seed, 2))
	return points(n, func() Point { return bayPoint(rng) })
}

// crossed is the adversary: two stairs of points in opposite corners of a wall,
// one all below the other, so that every step of the one meets every step of the
// other: a quarter of n^2 rectangles are alive at once.
func crossed(n int) []Box {
	var all []Box
	half := int64(n / 2)
	for i := range half {
		t := (i + 1) * 290 * mm / (half + 1)
		p := Point{t, 200*mm + t*200/300, 1*mm + i}
		q := Point{300*mm + t, t * 200 / 300, 150*mm + i}
		all = append(all, Box{p, p}, Box{q, q})
	}
	return all
}
