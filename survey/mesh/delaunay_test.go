package mesh_test

import (
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"elbowroom/survey/mesh"

	"github.com/golang/geo/r2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// sets are point sets that are hard in one way each. All are of up to n points.
var sets = map[string]func(r *rand.Rand, n int) []r2.Point{
	"random": func(r *rand.Rand, n int) []r2.Point {
		return repeat(n, func(int) r2.Point { return r2.Point{X: 500 * r.Float64(), Y: 300 * r.Float64()} })
	},
	"grid": func(r *rand.Rand, n int) []r2.Point {
		side := int(math.Sqrt(float64(n)))
		return repeat(side*side, func(i int) r2.Point {
			return r2.Point{X: 0.1 * float64(i%side), Y: 0.1 * float64(i/side)}
		})
	},
	"whole numbers, many alike": func(r *rand.Rand, n int) []r2.Point {
		return repeat(n, func(int) r2.Point { return r2.Point{X: float64(r.IntN(6)), Y: float64(r.IntN(6))} })
	},
	"circle": func(r *rand.Rand, n int) []r2.Point {
		return repeat(n, func(i int) r2.Point {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			return r2.Point{X: 10_000 + 250*cos, Y: 250 * sin}
		})
	},
	"line but for a last digit": func(r *rand.Rand, n int) []r2.Point {
		return repeat(n, func(i int) r2.Point {
			x := 100 + 10*r.Float64()
			return r2.Point{X: x, Y: math.Nextafter(x/3, float64(1000*r.IntN(2)))}
		})
	},
	"two columns": func(r *rand.Rand, n int) []r2.Point {
		return repeat(n, func(i int) r2.Point { return r2.Point{X: float64(i % 2), Y: float64(i / 2)} })
	},
	"grid turned": func(r *rand.Rand, n int) []r2.Point {
		side := int(math.Sqrt(float64(n)))
		sin, cos := math.Sincos(r.Float64())
		return repeat(side*side, func(i int) r2.Point {
			x, y := 25.4*float64(i%side), 25.4*float64(i/side)
			return r2.Point{X: x*cos - y*sin, Y: x*sin + y*cos}
		})
	},
	"far and near": func(r *rand.Rand, n int) []r2.Point {
		return repeat(n, func(int) r2.Point {
			size := math.Pow(10, float64(r.IntN(40)-20))
			return r2.Point{X: size * r.NormFloat64(), Y: size * r.NormFloat64()}
		})
	},
}

func repeat(n int, at func(i int) r2.Point) []r2.Point {
	out := make([]r2.Point, n)
	for i := range out {
		out[i] = at(i)
	}
	return out
}

// names gives the sets in a fixed order, so that a seed means the same each time.
func names() []string {
	var out []string
	for name := range sets {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}

// assertDelaunay checks, in fractions and by trying every point, that triangles
// are counter-clockwise, have nothing inside their circles, fill the hull, and
// are as many as Euler says: 2n - 2 - (points on the rim), n being the places.
func assertDelaunay(t *testing.T, points []r2.Point, triangles [][3]int) {
	t.Helper()
	first := mesh.SamePlace(points)
	var places []int
	for i := range points {
		if first[i] == i {
			places = append(places, i)
		}
	}
	area := new(big.Rat)
	for _, k := range triangles {
		a, b, c := points[k[0]], points[k[1]], points[k[2]]
		twice := area2(a, b, c)
		area.Add(area, twice)
		assert.Positive(t, twice.Sign(), "%v is not counter-clockwise", k)
		for _, i := range places {
			assert.LessOrEqual(t, inCircle(a, b, c, points[i]), 0, "%d is inside the circle of %v", i, k)
		}
		for _, i := range k {
			assert.Equal(t, i, first[i], "a triangle has the repeat %d", i)
		}
	}
	hull := mesh.Hull(points)
	whole := new(big.Rat)
	for i := 2; i < len(hull); i++ {
		whole.Add(whole, area2(points[hull[0]], points[hull[i-1]], points[hull[i]]))
	}
	assert.Zero(t, area.Cmp(whole), "the triangles do not fill the hull")
	rim := 0
	for _, i := range places {
		for k := range hull {
			next := hull[(k+1)%len(hull)]
			if i == hull[k] || i != next && area2(points[hull[k]], points[next], points[i]).Sign() == 0 {
				rim++
				break
			}
		}
	}
	assert.Len(t, triangles, 2*len(places)-2-rim, "Euler")
}

func TestDelaunayAgainstBruteForce(t *testing.T) {
	for _, name := range names() {
		t.Run(name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(5, 6))
			for n := 3; n <= 15; n++ {
				points := sets[name](r, n)
				triangles, err := mesh.Delaunay(points)
				if err != nil {
					assert.Equal(t, mesh.ErrCollinear, err)
					assert.LessOrEqual(t, len(mesh.Hull(points)), 2)
					continue
				}
				assertDelaunay(t, points, triangles)
			}
		})
	}
}

// Large sets: each side inside is shared by two triangles, and neither has the
// other's corner inside its circle, which makes the whole Delaunay. One side in
// twelve is reckoned, as fractions are slow.
func TestDelaunayOfThousands(t *testing.T) {
	for _, name := range names() {
		t.Run(name, func(t *testing.T) {
			points := sets[name](rand.New(rand.NewPCG(7, 8)), 3000)
			triangles, err := mesh.Delaunay(points)
			require.NoError(t, err)
			opposite := make(map[[2]int]int)
			for _, k := range triangles {
				for i := range k {
					side := [2]int{k[i], k[(i+1)%3]}
					_, twice := opposite[side]
					require.False(t, twice, "two triangles on one side of %v", side)
					opposite[side] = k[(i+2)%3]
				}
			}
			for side, c := range opposite {
				if d, inside := opposite[[2]int{side[1], side[0]}]; inside && side[0] < side[1] && (side[0]+side[1])%12 == 0 {
					assert.LessOrEqual(t, inCircle(points[side[0]], points[side[1]], points[c], points[d]), 0)
				}
			}
		})
	}
}

// places gives triangles by where their corners are: each from its least corner,
// in rising order.
func places(points []r2.Point, triangles [][3]int) [][3]r2.Point {
	less := func(p, q r2.Point) int {
		return slices.Compare([]float64{p.X, p.Y}, []float64{q.X, q.Y})
	}
	out := make([][3]r2.Point, len(triangles))
	for i, k := range triangles {
		p := [3]r2.Point{points[k[0]], points[k[1]], points[k[2]]}
		for less(p[0], p[1]) > 0 || less(p[0], p[2]) > 0 {
			p = [3]r2.Point{p[1], p[2], p[0]}
		}
		out[i] = p
	}
	slices.SortFunc(out, func(p, q [3]r2.Point) int { return slices.CompareFunc(p[:], q[:], less) })
	return out
}

// The same places in another order give the same triangles, ties and all.
func TestDelaunayOrderDoesNotMatter(t *testing.T) {
	for _, name := range names() {
		r := rand.New(rand.NewPCG(9, 10))
		points := sets[name](r, 49)
		triangles, err := mesh.Delaunay(points)
		require.NoError(t, err)
		want := places(points, triangles)
		for range 10 {
			r.Shuffle(len(points), func(i, j int) { points[i], points[j] = points[j], points[i] })
			triangles, err = mesh.Delaunay(points)
			require.NoError(t, err)
			assert.Equal(t, want, places(points, triangles), name)
			assert.True(t, slices.IsSortedFunc(triangles, func(s, t [3]int) int { return slices.Compare(s[:], t[:]) }))
		}
	}
}

func TestDelaunayByHand(t *testing.T) {
	points := []r2.Point{{X: 10}, {}, {X: 10}, {Y: 10}, {X: 11, Y: 10}, {}}
	triangles, err := mesh.Delaunay(points)
	require.NoError(t, err)
	assert.Equal(t, [][3]int{{0, 3, 1}, {0, 4, 3}}, triangles)
	assert.Equal(t, []int{0, 1, 0, 3, 4, 1}, mesh.SamePlace(points))
	assert.Equal(t, []int{0, 0}, mesh.SamePlace([]r2.Point{{X: math.Copysign(0, -1)}, {}}))
}

func TestDelaunayErrors(t *testing.T) {
	for name, test := range map[string]struct {
		points []r2.Point
		want   string
	}{
		"none":      {nil, "the points lie on one line, so no triangle joins them"},
		"two":       {[]r2.Point{{}, {X: 1}}, "the points lie on one line, so no triangle joins them"},
		"line":      {[]r2.Point{{X: 3, Y: 1}, {}, {X: 6, Y: 2}, {X: -9, Y: -3}, {X: 300, Y: 100}}, "the points lie on one line, so no triangle joins them"},
		"one place": {make([]r2.Point, 5), "the points lie on one line, so no triangle joins them"},
		"unknown":   {[]r2.Point{{}, {X: 1}, {Y: math.NaN()}}, "point 2: a coordinate is not a finite number"},
		"infinite":  {[]r2.Point{{}, {X: math.Inf(-1)}, {Y: 1}}, "point 1: a coordinate is not a finite number"},
	} {
		t.Run(name, func(t *testing.T) {
			triangles, err := mesh.Delaunay(test.points)
			assert.EqualError(t, err, test.want)
			assert.Nil(t, triangles)
		})
	}
}

func BenchmarkDelaunay1000(b *testing.B) {
	for _, name := range []string{"random", "grid", "circle"} {
		b.Run(name, func(b *testing.B) {
			points := sets[name](rand.New(rand.NewPCG(11, 12)), 1000)
			for b.Loop() {
				if _, err := mesh.Delaunay(points); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
