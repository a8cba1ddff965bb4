package network_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"elbowroom/survey/network"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// motion is a turn by the orthogonal matrix of three axes, and a shift.
type motion struct {
	x, y, z, shift r3.Vector
}

func randomMotion(r *rand.Rand, far float64) motion {
	z := randomVector(r, 1).Normalize()
	x := z.Ortho()
	return motion{x, z.Cross(x), z, randomVector(r, far)}
}

func (m motion) turn(v r3.Vector) r3.Vector {
	return m.x.Mul(v.X).Add(m.y.Mul(v.Y)).Add(m.z.Mul(v.Z))
}

func (m motion) move(v r3.Vector) r3.Vector { return m.turn(v).Add(m.shift) }

func (m motion) all(points []r3.Vector) []r3.Vector {
	out := make([]r3.Vector, len(points))
	for i, p := range points {
		out[i] = m.move(p)
	}
	return out
}

func randomVector(r *rand.Rand, size float64) r3.Vector {
	return r3.Vector{X: size * r.NormFloat64(), Y: size * r.NormFloat64(), Z: size * r.NormFloat64()}
}

// sheet is n points on a 400 by 250 rectangle, off z = 0 by rough.
func sheet(r *rand.Rand, n int, rough float64) []r3.Vector {
	points := make([]r3.Vector, n)
	for i := range points {
		points[i] = r3.Vector{X: 400 * r.Float64(), Y: 250 * r.Float64(), Z: rough * r.NormFloat64()}
	}
	return points
}

func fit(t *testing.T, points []r3.Vector, u []float64) network.Plane {
	t.Helper()
	p, err := network.FitPlane(points, u)
	require.NoError(t, err)
	return p
}

func assertNear(t *testing.T, want, got r3.Vector, within float64) {
	t.Helper()
	assert.LessOrEqual(t, want.Sub(got).Norm(), within, "want %v, got %v", want, got)
}

// A grid of 5 by 5, z = (4 + 2x + y)/3 rounded to 0.01. Source: lesson code
// plane.txt of the OSGeoLabBp tutorials (CC0); the normal was computed from it.
func TestPlaneOfAGrid(t *testing.T) {
	var points []r3.Vector
	for x := range 5 {
		for y := range 5 {
			z := math.Round(100*float64(4+2*x+y)/3) / 100
			points = append(points, r3.Vector{X: float64(x), Y: float64(y), Z: z})
		}
	}
	p := fit(t, points, nil)
	assertNear(t, r3.Vector{X: 2, Y: 2, Z: 3.3332}, p.Centre, 1e-12)
	assertNear(t, r3.Vector{X: -.53448, Y: -.26732, Z: .80179}, p.Normal, 1e-5)
	assert.Less(t, p.Flatness(), 0.01)
}

// A pattern of heights that is at right angles to 1, x and y is left over whole,
// wherever the plane stands and in whatever unit.
func TestPlaneOfAnExactConstruction(t *testing.T) {
	r := rand.New(rand.NewPCG(61, 62))
	pattern := []float64{1, -2, 1, -2, 4, -2, 1, -2, 1} // second difference both ways
	for _, unit := range []float64{1e-100, 0.001, 1, 1000, 1e100} {
		for range 20 {
			m := randomMotion(r, 10_000*unit)
			var points []r3.Vector
			for i, v := range pattern {
				points = append(points, m.move(r3.Vector{
					X: 150 * unit * float64(i%3), Y: 80 * unit * float64(i/3), Z: 0.3 * unit * v}))
			}
			p := fit(t, points, nil)
			side := math.Copysign(1, p.Normal.Dot(m.z))
			// 1e-11: 10 m stored within 2e-12 mm, three coordinates, sums of nine.
			for i, v := range pattern {
				assert.InDelta(t, side*0.3*v, p.Residuals[i]/unit, 1e-11)
			}
			assert.InDelta(t, 1.8, p.Flatness()/unit, 2e-11)
			assertNear(t, m.z.Mul(side), p.Normal, 1e-13)
			assert.InDelta(t, 1, math.Abs(p.S.Dot(m.x)), 1e-12)
			assertNear(t, p.Normal, p.S.Cross(p.T), 4e-15)
			assert.InEpsilon(t, 150*math.Sqrt(2./3), p.SpreadS/unit, 1e-12)
			assert.InEpsilon(t, 80*math.Sqrt(2./3), p.SpreadT/unit, 1e-12)
			assert.InEpsilon(t, 0.6, p.SpreadN/unit, 1e-10)
		}
	}
}

// No plane nearby has a lesser weighted sum of squares.
func TestPlaneIsTheBest(t *testing.T) {
	r := rand.New(rand.NewPCG(63, 64))
	for range 50 {
		points := randomMotion(r, 1000).all(sheet(r, 4+r.IntN(10), 20))
		u := make([]float64, len(points))
		for i := range u {
			u[i] = 0.2 + r.Float64()
		}
		p := fit(t, points, u)
		cost := func(centre, normal r3.Vector) (sum float64) {
			for i, q := range points {
				d := q.Sub(centre).Dot(normal.Normalize()) / u[i]
				sum += d * d
			}
			return sum
		}
		best := cost(p.Centre, p.Normal)
		for range 50 {
			assert.GreaterOrEqual(t, cost(p.Centre.Add(randomVector(r, 0.1)), p.Normal.Add(randomVector(r, 1e-3))), best)
		}
	}
}

// A repeat counts as a second point, and so does half the variance.
func TestPlaneWeights(t *testing.T) {
	points := sheet(rand.New(rand.NewPCG(65, 66)), 7, 5)
	repeated := fit(t, append([]r3.Vector{points[3]}, points...), nil)
	weighted := fit(t, points, []float64{1, 1, 1, math.Sqrt(0.5), 1, 1, 1})
	assertNear(t, repeated.Normal, weighted.Normal, 1e-14)
	assertNear(t, repeated.Centre, weighted.Centre, 1e-12)
	assert.InDeltaSlice(t, repeated.Residuals[1:], weighted.Residuals, 1e-12)
	at := r3.Vector{X: 700, Y: -20, Z: 3}
	h := repeated.Influence(at, nil)
	assert.InDelta(t, h[0]+h[4], weighted.Influence(at, nil)[3], 1e-13)
}

// Influence and Tilt are the derivative of the fit, however rough the points.
func TestInfluenceIsTheDerivative(t *testing.T) {
	r := rand.New(rand.NewPCG(67, 68))
	for _, rough := range []float64{0, 1, 40} {
		points := randomMotion(r, 500).all(sheet(r, 8, rough))
		u := []float64{1, 2, 1, 0.5, 1, 1, 3, 1}
		p := fit(t, points, u)
		at := p.Centre.Add(p.S.Mul(300)).Add(p.T.Mul(-200))
		h := p.Influence(at, nil)
		assert.InDelta(t, 1, floats.Sum(h), 1e-12)
		for j := range points {
			const step = 1e-3
			moved := func(by float64) network.Plane {
				out := append([]r3.Vector(nil), points...)
				out[j] = out[j].Add(p.Normal.Mul(by))
				return fit(t, out, u).Facing(p.Centre.Add(p.Normal.Mul(1000)))
			}
			up, down := moved(step), moved(-step)
			// Height over the plane falls as the plane rises. The difference of
			// two steps of 1e-3 is right to about 1e-13/1e-3 and to the third
			// order, (1e-3/100)².
			assert.InDelta(t, h[j], (down.Height(at)-up.Height(at))/(2*step), 1e-8)
			turned := up.Normal.Sub(down.Normal).Mul(1 / (2 * step))
			assertNear(t, p.Tilt(j).Cross(p.Normal), turned, 1e-10)
			assert.InDelta(t, 0, p.Tilt(j).Dot(p.Normal), 1e-16)
			shown := (up.Residuals[j] - down.Residuals[j]) / (2 * step)
			assert.InDelta(t, p.Redundancy(j), shown, 1e-8)
		}
	}
}

// The scatter of 10,000 simulated measurements, every mark off in all three
// directions, is what Influence and Tilt say.
func TestInfluencePredictsTheScatter(t *testing.T) {
	const trials = 10_000
	r := rand.New(rand.NewPCG(69, 70))
	points := randomMotion(r, 2000).all(sheet(r, 9, 1.5))
	u := make([]float64, len(points))
	for i := range u {
		u[i] = 0.5 + 1.5*r.Float64()
	}
	p := fit(t, points, u)
	places := []r3.Vector{
		p.Centre,
		p.Centre.Add(p.S.Mul(250)).Add(p.T.Mul(150)),
		p.Centre.Add(p.S.Mul(-400)).Add(p.T.Mul(60)),
	}
	heights, tilts := make([]float64, len(places)), [2]float64{}
	measured := make([]r3.Vector, len(points))
	for range trials {
		for i, q := range points {
			measured[i] = q.Add(randomVector(r, u[i]))
		}
		again := fit(t, measured, u).Facing(p.Centre.Add(p.Normal.Mul(1000)))
		for k, at := range places {
			// Along p.Normal from the place to the plane.
			d := again.Height(at) / again.Normal.Dot(p.Normal)
			heights[k] += d * d
		}
		turn := p.Normal.Cross(again.Normal)
		tilts[0] += turn.Dot(p.S) * turn.Dot(p.S)
		tilts[1] += turn.Dot(p.T) * turn.Dot(p.T)
	}
	// A deviation from N trials is itself uncertain by 1/sqrt(2N), 0.7 %.
	for k, at := range places {
		var variance float64
		for j, h := range p.Influence(at, nil) {
			variance += h * h * u[j] * u[j]
		}
		assert.InEpsilon(t, math.Sqrt(variance), math.Sqrt(heights[k]/trials), 0.03, "place %d", k)
	}
	for k, axis := range []r3.Vector{p.S, p.T} {
		var variance float64
		for j := range points {
			along := p.Tilt(j).Dot(axis) * u[j]
			variance += along * along
		}
		assert.InEpsilon(t, math.Sqrt(variance), math.Sqrt(tilts[k]/trials), 0.03, "axis %d", k)
	}
}

// For flat points a plane is a linear problem, and Solve must say the same of
// its uncertainty and of what is checked.
func TestPlaneAgreesWithSolve(t *testing.T) {
	r := rand.New(rand.NewPCG(71, 72))
	points := sheet(r, 10, 0)
	a, u := mat.NewDense(10, 3, nil), make([]float64, 10)
	for i, q := range points {
		u[i] = 0.3 + r.Float64()
		a.SetRow(i, []float64{1, q.X, q.Y})
	}
	linear, err := network.Solve(a, make([]float64, 10), u)
	require.NoError(t, err)
	p := fit(t, points, u)
	for _, at := range []r3.Vector{{}, {X: 400}, {X: -300, Y: 900}} {
		row := mat.NewVecDense(3, []float64{1, at.X, at.Y})
		var variance float64
		for j, h := range p.Influence(at, nil) {
			variance += h * h * u[j] * u[j]
		}
		assert.InEpsilon(t, mat.Inner(row, linear.Covariance, row), variance, 1e-11)
	}
	for j := range points {
		assert.InDelta(t, linear.Redundancy[j], p.Redundancy(j), 1e-13)
	}
}

// Three points check nothing, four in a rectangle share one degree of freedom.
func TestPlaneRedundancy(t *testing.T) {
	p := fit(t, []r3.Vector{{}, {X: 300}, {Y: 200, Z: 10}}, nil)
	for j := range 3 {
		assert.InDelta(t, 0, p.Redundancy(j), 1e-14)
	}
	p = fit(t, []r3.Vector{{}, {X: 300}, {X: 300, Y: 200}, {Y: 200}}, nil)
	for j := range 4 {
		assert.InDelta(t, 0.25, p.Redundancy(j), 1e-14)
	}
}

func TestNormalPointsUpOrOut(t *testing.T) {
	square := []r3.Vector{{}, {X: 1}, {X: 1, Y: 1}, {Y: 1}}
	for name, test := range map[string]struct {
		x, y, want r3.Vector // where x and y of the square go
	}{
		"level":          {r3.Vector{X: 1}, r3.Vector{Y: 1}, r3.Vector{Z: 1}},
		"level, turned":  {r3.Vector{Y: 1}, r3.Vector{X: 1}, r3.Vector{Z: 1}},
		"facing y":       {r3.Vector{X: 1}, r3.Vector{Z: 1}, r3.Vector{Y: 1}},
		"facing x":       {r3.Vector{Z: 1}, r3.Vector{Y: 1}, r3.Vector{X: 1}},
		"leaning":        {r3.Vector{X: 1}, r3.Vector{Y: .6, Z: .8}, r3.Vector{Y: -.8, Z: .6}},
		"y before x":     {r3.Vector{X: .6, Y: .8}, r3.Vector{Z: 1}, r3.Vector{X: -.8, Y: .6}},
		"nearly upright": {r3.Vector{X: 1}, r3.Vector{Y: -1e-9, Z: 1}, r3.Vector{Y: 1, Z: 1e-9}},
		"not by a hair":  {r3.Vector{X: 1}, r3.Vector{Y: 1e-9, Z: 1}, r3.Vector{Y: -1, Z: 1e-9}},
		"within noise":   {r3.Vector{X: 1}, r3.Vector{Y: 1e-17, Z: 1}, r3.Vector{Y: 1}},
	} {
		t.Run(name, func(t *testing.T) {
			m := motion{x: test.x, y: test.y}
			assertNear(t, test.want, fit(t, m.all(square), nil).Normal, 1e-15)
		})
	}
}

func TestFacing(t *testing.T) {
	points := sheet(rand.New(rand.NewPCG(73, 74)), 6, 3)
	p := fit(t, points, nil)
	below := r3.Vector{X: 10, Y: 900, Z: -500}
	q := p.Facing(below)
	assert.Positive(t, q.Height(below))
	assert.Negative(t, p.Height(below))
	assertNear(t, p.Normal.Mul(-1), q.Normal, 0)
	assertNear(t, q.Normal, q.S.Cross(q.T), 4e-15)
	assert.Equal(t, p.Flatness(), q.Flatness())
	for j, at := range points {
		assert.Equal(t, -p.Residuals[j], q.Residuals[j])
		assert.InDelta(t, q.Height(at), q.Residuals[j], 1e-12)
		assert.Equal(t, p.Redundancy(j), q.Redundancy(j))
		assertNear(t, p.Tilt(j).Mul(-1), q.Tilt(j), 0)
	}
	assert.Equal(t, p.Influence(below, nil), q.Influence(below, nil))
	assert.Equal(t, q, q.Facing(below))
	assert.Equal(t, p, q.Facing(r3.Vector{Z: 500}))
}

// Turning, moving and scaling the points turns, moves and scales the plane.
func TestPlaneMovesWithItsPoints(t *testing.T) {
	r := rand.New(rand.NewPCG(75, 76))
	points := sheet(r, 12, 4)
	p := fit(t, points, nil)
	at := r3.Vector{X: -50, Y: 300, Z: 20}
	for range 50 {
		m := randomMotion(r, 3000)
		q := fit(t, m.all(points), nil).Facing(m.move(p.Centre.Add(p.Normal)))
		assertNear(t, m.turn(p.Normal), q.Normal, 1e-13)
		assertNear(t, m.move(p.Centre), q.Centre, 1e-11)
		assert.InDelta(t, p.Height(at), q.Height(m.move(at)), 1e-11)
		assert.InDeltaSlice(t, p.Influence(at, nil), q.Influence(m.move(at), nil), 1e-12)
	}
}

func TestNoPlane(t *testing.T) {
	r := rand.New(rand.NewPCG(77, 78))
	line := make([]r3.Vector, 6)
	for i := range line {
		line[i] = r3.Vector{X: 0.1, Y: 0.2, Z: 0.7}.Mul(25.4 * float64(i*i))
	}
	cube := make([]r3.Vector, 8)
	for i := range cube {
		cube[i] = r3.Vector{X: float64(i & 1), Y: float64(i >> 1 & 1), Z: float64(i >> 2)}
	}
	place := r3.Vector{X: 12.7, Y: -3.1, Z: 8}
	for name, test := range map[string]struct {
		points []r3.Vector
		want   error
	}{
		"none":       {nil, network.ErrFewPoints},
		"two":        {line[:2], network.ErrFewPoints},
		"line":       {line, network.ErrCollinear},
		"three":      {line[:3], network.ErrCollinear},
		"two places": {[]r3.Vector{place, place, {X: 1}, {X: 1}}, network.ErrCollinear},
		"one place":  {[]r3.Vector{place, place, place}, network.ErrCoincident},
		"origin":     {make([]r3.Vector, 4), network.ErrCoincident},
		"cube":       {cube, network.ErrNoNormal},
		"a rod": {[]r3.Vector{{Y: 1}, {Z: 1}, {Y: -1}, {Z: -1},
			{X: 9, Y: 1}, {X: 9, Z: 1}, {X: 9, Y: -1}, {X: 9, Z: -1}}, network.ErrNoNormal},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := network.FitPlane(test.points, nil)
			assert.Equal(t, test.want, err)
			for range 100 {
				_, err := network.FitPlane(randomMotion(r, 10_000).all(test.points), nil)
				assert.Equal(t, test.want, err)
			}
		})
	}
}

// Ten metres from the origin, a line of marks with one a nanometre off it has a
// plane; nothing but rounding is taken for a line.
func TestNearlyALine(t *testing.T) {
	r := rand.New(rand.NewPCG(79, 80))
	for range 100 {
		m := randomMotion(r, 5000)
		p := fit(t, m.all([]r3.Vector{{}, {X: 100}, {X: 200}, {X: 300, Y: 1e-6}}), nil)
		assert.InDelta(t, 1, math.Abs(p.S.Dot(m.x)), 1e-12)
	}
}

func TestPlaneNamesABadRow(t *testing.T) {
	points := []r3.Vector{{}, {X: 1}, {Y: math.NaN()}}
	_, err := network.FitPlane(points, nil)
	assert.EqualError(t, err, "row 2: a coordinate is unknown or beyond 1e300")
	points[2].Y = 1e308
	_, err = network.FitPlane(points, nil)
	assert.EqualError(t, err, "row 2: a coordinate is unknown or beyond 1e300")
	points[2].Y = 1
	_, err = network.FitPlane(points, []float64{1, -1, 1})
	assert.EqualError(t, err, "row 1: the standard uncertainty is not a number above zero")
	assert.Panics(t, func() { _, _ = network.FitPlane(points, []float64{1}) })
}

func TestZeroPlane(t *testing.T) {
	var p network.Plane
	assert.Zero(t, p.Flatness())
	assert.Zero(t, p.Height(r3.Vector{X: 1}))
	assert.Empty(t, p.Influence(r3.Vector{X: 1}, nil))
	assert.Equal(t, p, p.Facing(r3.Vector{X: 1}))
}
