package mesh_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"elbowroom/survey/mesh"
	"elbowroom/survey/network"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func skin(t *testing.T, marks []r3.Vector) mesh.Surface {
	t.Helper()
	s, err := mesh.Skin(marks, nil)
	require.NoError(t, err)
	return s
}

// grid is nx by ny marks, 50 mm apart, lifted by a height.
func grid(nx, ny int, height func(x, y float64) float64) []r3.Vector {
	var marks []r3.Vector
	for j := range ny {
		for i := range nx {
			x, y := 50*float64(i), 50*float64(j)
			marks = append(marks, r3.Vector{X: x, Y: y, Z: height(x, y)})
		}
	}
	return marks
}

// turned is the marks after one and the same odd rotation and shift.
func turned(r *rand.Rand, marks []r3.Vector) []r3.Vector {
	z := r3.Vector{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}.Normalize()
	x := z.Ortho()
	y := z.Cross(x)
	shift := r3.Vector{X: 5000 * r.NormFloat64(), Y: 5000 * r.NormFloat64(), Z: 5000 * r.NormFloat64()}
	out := make([]r3.Vector, len(marks))
	for i, m := range marks {
		out[i] = x.Mul(m.X).Add(y.Mul(m.Y)).Add(z.Mul(m.Z)).Add(shift)
	}
	return out
}

// marksOf lists the marks that have a triangle.
func marksOf(s mesh.Surface) []int {
	var out []int
	for _, t := range s.Triangles {
		out = append(out, t[:]...)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// A rough panel and an arched one are joined without a doubt however they lie,
// although rounding makes slivers of their straight rims: of the marks of a rim
// none gets a triangle of its own.
func TestSkinOfAPanel(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 16))
	for name, height := range map[string]func(x, y float64) float64{
		"flat":   func(_, _ float64) float64 { return 0 },
		"rough":  func(x, y float64) float64 { return math.Mod(7*x+3*y, 11) / 10 },
		"arched": func(x, _ float64) float64 { return 40 - (x-125)*(x-125)/400 },
		"hollow": func(x, y float64) float64 { return (x-125)*(x-125)/400 + (y-75)*(y-75)/300 },
	} {
		t.Run(name, func(t *testing.T) {
			flat := grid(6, 4, height)
			for range 200 {
				marks := turned(r, flat)
				s := skin(t, marks)
				assert.False(t, s.Doubtful(), "%+v", s.Steep)
				assert.Empty(t, s.LeftOut)
				assert.Len(t, s.Triangles, 2*5*3)
				for _, k := range s.Triangles {
					normal := marks[k[1]].Sub(marks[k[0]]).Cross(marks[k[2]].Sub(marks[k[0]]))
					assert.Positive(t, normal.Dot(s.Plane.Normal))
				}
			}
		})
	}
}

// Marks in general places are joined alike however they lie.
func TestSkinMovesWithItsMarks(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 18))
	marks := make([]r3.Vector, 40)
	for i := range marks {
		marks[i] = r3.Vector{X: 400 * r.Float64(), Y: 250 * r.Float64(), Z: 30 * r.NormFloat64()}
	}
	s := skin(t, marks)
	for range 50 {
		moved := skin(t, turned(r, marks))
		assert.Equal(t, undirected(s.Triangles), undirected(moved.Triangles))
		require.Len(t, moved.Steep, len(s.Steep))
	}
}

func undirected(triangles [][3]int) [][3]int {
	out := slices.Clone(triangles)
	for i := range out {
		slices.Sort(out[i][:])
	}
	slices.SortFunc(out, func(s, t [3]int) int { return slices.Compare(s[:], t[:]) })
	return out
}

// A valley with sides of a given slope: doubted from Steepest on.
func TestSkinDoubtsFromSteepestOn(t *testing.T) {
	for _, degrees := range []float64{0, 45, 69.9, 70.1, 85} {
		rise := 50 * math.Tan(degrees*math.Pi/180)
		s := skin(t, grid(9, 40, func(x, _ float64) float64 { return rise * float64(int(x/50)%2) }))
		assert.Equal(t, degrees > 70, s.Doubtful(), "%v degrees", degrees)
		for _, steep := range s.Steep {
			assert.InDelta(t, degrees, steep.Slope.Degrees(), 1e-9)
			assert.Greater(t, steep.Slope, mesh.Steepest)
			slant := math.Hypot(50, rise) // a right triangle with 50 mm along the valley
			assert.InEpsilon(t, 50*slant/math.Hypot(50, slant), steep.Width, 1e-9)
		}
	}
}

// A step of 60 mm whose foot is 2 mm out from its edge, the marks of the two
// staggered: no side of a triangle is steep, its triangles are.
func TestSkinDoubtsAStep(t *testing.T) {
	r := rand.New(rand.NewPCG(19, 20))
	var marks []r3.Vector
	for i := range 6 {
		x := 40 * float64(i)
		marks = append(marks,
			r3.Vector{X: x, Y: 150, Z: 60}, r3.Vector{X: x + 20, Y: 1, Z: 60},
			r3.Vector{X: x, Y: -1}, r3.Vector{X: x + 20, Y: -150})
	}
	for range 50 {
		s := skin(t, turned(r, marks))
		assert.True(t, s.Doubtful())
		assert.Len(t, marksOf(s), len(marks))
		assert.Len(t, s.Steep, 10)
		for _, steep := range s.Steep {
			assert.Greater(t, steep.Width, 30.)
		}
	}
}

// The wall round a flat is all that holds the marks of its foot: it stays, and
// is doubted.
func TestSkinKeepsAWallOnTheRim(t *testing.T) {
	marks := grid(5, 5, func(_, _ float64) float64 { return 100 })
	for i := range 9 {
		x := 25*float64(i) - 0.5
		marks = append(marks, r3.Vector{X: x, Y: -1}, r3.Vector{X: x + 1, Y: 201})
	}
	s := skin(t, marks)
	assert.True(t, s.Doubtful())
	assert.Len(t, marksOf(s), len(marks))
}

// Marks straight over and under another: in the frame of the marks they are left
// out and named; turned, rounding parts them and the triangles between are
// steep. Either way there is a doubt.
func TestSkinDoubtsALip(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 22))
	marks := grid(5, 3, func(_, _ float64) float64 { return 0 })
	marks = append(marks, r3.Vector{X: 100, Y: 50, Z: 30}, r3.Vector{X: 100, Y: 50, Z: -30})
	s := skin(t, marks)
	assert.True(t, s.Doubtful())
	assert.Equal(t, []mesh.Hidden{{Mark: 15, Under: 7, Rise: 30}, {Mark: 16, Under: 7, Rise: -30}}, s.LeftOut)
	for range 50 {
		s := skin(t, turned(r, marks))
		assert.True(t, s.Doubtful())
		for _, steep := range s.Steep {
			assert.LessOrEqual(t, steep.Slope, 90*s1.Degree)
		}
	}
}

// The same mark twice is left out once, and is no doubt.
func TestSkinOfARepeatedMark(t *testing.T) {
	marks := grid(3, 3, func(x, y float64) float64 { return (x + y) / 10 })
	marks = append(marks, marks[4])
	s := skin(t, marks)
	assert.Equal(t, []mesh.Hidden{{Mark: 9, Under: 4}}, s.LeftOut)
	assert.False(t, s.Doubtful())
	assert.Len(t, s.Triangles, 8)
}

// What the doubts cannot see: a shelf over a floor, marks well apart. The
// triangles join shelf and floor, and none is steep.
func TestSkinCannotSeeAStaggeredShelf(t *testing.T) {
	floor := grid(5, 5, func(_, _ float64) float64 { return 0 })
	for _, m := range grid(4, 4, func(_, _ float64) float64 { return 30 }) {
		floor = append(floor, m.Add(r3.Vector{X: 25, Y: 25}))
	}
	assert.False(t, skin(t, floor).Doubtful())
}

func TestSkinErrors(t *testing.T) {
	_, err := mesh.Skin([]r3.Vector{{}, {X: 1}}, nil)
	assert.Equal(t, network.ErrFewPoints, err)
	_, err = mesh.Skin([]r3.Vector{{}, {X: 1, Y: 1}, {X: 2, Y: 2}}, nil)
	assert.Equal(t, network.ErrCollinear, err)
	_, err = mesh.Skin([]r3.Vector{{}, {X: 1, Y: 1}, {X: math.Inf(1), Y: 2}}, nil)
	assert.EqualError(t, err, "row 2: a coordinate is unknown or beyond 1e300")
}

func TestZeroSurface(t *testing.T) {
	assert.False(t, mesh.Surface{}.Doubtful())
	assert.Equal(t, 70*s1.Degree, mesh.Steepest)
}
