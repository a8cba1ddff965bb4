package mesh

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/stretchr/testify/assert"
)

// ulps moves x by n steps of float64.
func ulps(x float64, n int) float64 {
	for ; n > 0; n-- {
		x = math.Nextafter(x, math.Inf(1))
	}
	for ; n < 0; n++ {
		x = math.Nextafter(x, math.Inf(-1))
	}
	return x
}

// Points on a line or a circle but for a few last digits, at 10 m from the
// origin and at it: the filtered sign is the exact one, and swapping two points
// turns it.
func TestSignsNearZero(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	var lines, circles int // where plain float64 is wrong
	for range 5000 {
		far := 10_000 * float64(r.IntN(2))
		at := func(angle, radius float64) r2.Point {
			return r2.Point{
				X: ulps(far+radius*math.Cos(angle), r.IntN(3)-1),
				Y: ulps(-far+radius*math.Sin(angle), r.IntN(3)-1),
			}
		}
		angle := 7 * r.Float64()
		a, b, c := at(angle, 0), at(angle, 300*r.Float64()), at(angle, 300)
		want := exactOrient(a, b, c)
		assert.Equal(t, want, orient(a, b, c))
		assert.Equal(t, want, orient(b, c, a))
		assert.Equal(t, -want, orient(b, a, c))
		if sign((a.X-c.X)*(b.Y-c.Y)-(a.Y-c.Y)*(b.X-c.X)) != want {
			lines++
		}

		d := at(7*r.Float64(), 300)
		a, b = at(7*r.Float64(), 300), at(7*r.Float64(), 300)
		want = exactInCircle(a, b, c, d)
		assert.Equal(t, want, inCircle(a, b, c, d))
		assert.Equal(t, want, inCircle(b, c, a, d))
		assert.Equal(t, -want, inCircle(b, a, c, d))
		if plainInCircle(a, b, c, d) != want {
			circles++
		}
	}
	assert.Greater(t, lines, 250, "the table does not try the exact sign")
	assert.Greater(t, circles, 250, "the table does not try the exact sign")
}

func plainInCircle(a, b, c, d r2.Point) int {
	a, b, c = a.Sub(d), b.Sub(d), c.Sub(d)
	return sign(a.Dot(a)*b.Cross(c) + b.Dot(b)*c.Cross(a) + c.Dot(c)*a.Cross(b))
}

// Sizes whose products leave the range of float64.
func TestSignsOfExtremes(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	sizes := []float64{0, 5e-324, 1e-310, 1e-200, 1e-80, 1, 1e80, 1e200, math.MaxFloat64}
	pick := func() float64 { return sizes[r.IntN(len(sizes))] * float64(r.IntN(3)-1) }
	for range 2000 {
		var p [4]r2.Point
		for i := range p {
			p[i] = r2.Point{X: pick(), Y: pick()}
		}
		assert.Equal(t, exactOrient(p[0], p[1], p[2]), orient(p[0], p[1], p[2]))
		assert.Equal(t, exactInCircle(p[0], p[1], p[2], p[3]), inCircle(p[0], p[1], p[2], p[3]))
	}
	// Products of two, and of four, near the least float64 above 0, where a
	// rounding step is no longer a share of the value.
	for _, size := range []float64{0x1p-537, 0x1p-536, 0x1p-269, 0x1p-268} {
		for range 1000 {
			var p [4]r2.Point
			for i := range p {
				p[i] = r2.Point{X: size * (3 + r.NormFloat64()), Y: size * (3 + r.NormFloat64())}
			}
			assert.Equal(t, exactOrient(p[0], p[1], p[2]), orient(p[0], p[1], p[2]))
			assert.Equal(t, exactInCircle(p[0], p[1], p[2], p[3]), inCircle(p[0], p[1], p[2], p[3]))
		}
	}
}

func TestSignsByHand(t *testing.T) {
	a, b, c := r2.Point{}, r2.Point{X: 4}, r2.Point{X: 4, Y: 4}
	assert.Equal(t, 1, orient(a, b, c))
	assert.Equal(t, 0, orient(a, b, r2.Point{X: 9}))
	assert.Equal(t, 1, inCircle(a, b, c, r2.Point{X: 1, Y: 3.9}))
	assert.Equal(t, 0, inCircle(a, b, c, r2.Point{Y: 4}))
	assert.Equal(t, -1, inCircle(a, b, c, r2.Point{X: -1e-300, Y: 4}))
	assert.Equal(t, 1, inCircle(a, b, c, r2.Point{X: 1e-300, Y: 4}))

	// With s and e the products are (2.5 + 2.25 e) and (2.5 + 1.9 e) of the least
	// float64 above 0, and round to 2 and 3.
	const s, e = 0x1p-537, 0x1p-53
	assert.Equal(t, 1, orient(r2.Point{X: 2.5 * s, Y: (2.5 - 4*e) * s}, r2.Point{X: (1 + 2*e) * s, Y: s}, r2.Point{Y: -0.9 * e * s}))
}
