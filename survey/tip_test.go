package survey

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/survey/length"
)

// grid is balls of one radius that touch a surface z = height(x, y) on its upper
// side, in a grid of n by n, step mm apart.
func grid(n int, step, tip float64, height func(x, y float64) (z float64, normal r3.Vector)) (balls []Ball, spots []r3.Vector) {
	for i := range n {
		for j := range n {
			x, y := step*float64(i), step*float64(j)
			z, normal := height(x, y)
			spot := r3.Vector{X: x, Y: y, Z: z}
			spots = append(spots, spot)
			balls = append(balls, Ball{Mark: "M", Centre: spot.Add(normal.Mul(tip)), Tip: tip, U: 0.1})
		}
	}
	return balls, spots
}

func leaning(degrees float64) func(x, y float64) (float64, r3.Vector) {
	a := degrees * math.Pi / 180
	return func(x, y float64) (float64, r3.Vector) {
		return x * math.Tan(a), r3.Vector{X: -math.Sin(a), Z: math.Cos(a)}
	}
}

func mm() length.Style { return length.Style{Unit: length.MM} }

// A ball of 5 mm on a face that leans by 7.5 degrees: moved along the approach
// it would be off by 2.5 (1/cos 7.5° - 1) = 0.02157 mm, as published for
// coordinate measuring; along the normal it is off by nothing.
func TestTipAgainstPublishedError(t *testing.T) {
	balls, spots := grid(4, 30, 2.5, leaning(7.5))
	for _, shape := range []Shape{Face, Skin, Block, Dots} {
		touches, doubts := Touches(FeatureSpec{Shape: shape}, balls, mm())
		require.Empty(t, doubts, shape)
		for i, touch := range touches {
			require.True(t, touch.Moved)
			assert.InDelta(t, 0, touch.At.Sub(spots[i]).Norm(), 1e-9, shape)
			alongApproach := balls[i].Centre.Sub(r3.Vector{Z: 2.5})
			off := alongApproach.Z - alongApproach.X*math.Tan(7.5*math.Pi/180)
			assert.InDelta(t, 0.02157, off, 5e-6)
		}
	}
}

// On a ball of 500 mm the neighbours' normals are within a few degrees, and the
// spot is found to what Widen says.
func TestTipOnACurve(t *testing.T) {
	const radius = 500.0
	dome := func(x, y float64) (float64, r3.Vector) {
		n := r3.Vector{X: x - 60, Y: y - 60, Z: math.Sqrt(radius*radius - (x-60)*(x-60) - (y-60)*(y-60))}.Mul(1 / radius)
		return radius * (n.Z - 1), n
	}
	balls, spots := grid(5, 30, 3, dome)
	touches, doubts := Touches(FeatureSpec{Shape: Skin}, balls, mm())
	require.Empty(t, doubts)
	for i, touch := range touches {
		require.True(t, touch.Moved)
		off := touch.At.Sub(spots[i]).Norm()
		assert.LessOrEqual(t, off, touch.Widen)
		assert.Less(t, touch.Widen, 1.0, "much less than the radius")
	}
	assert.InDelta(t, 0, touches[12].At.Sub(spots[12]).Norm(), 1e-9, "at the top all is even")
}

// Which side is free: away from what is behind, else out of the mounting face.
func TestTipSide(t *testing.T) {
	flat := func(float64, float64) (float64, r3.Vector) { return 0, r3.Vector{Z: 1} }
	balls, _ := grid(3, 20, 2, flat)
	for _, c := range []struct {
		behind r3.Vector
		z      float64
	}{{r3.Vector{}, 0}, {r3.Vector{Z: -1}, 0}, {r3.Vector{Z: 1}, 4}} {
		touches, doubts := Touches(FeatureSpec{Shape: Face, Behind: c.behind}, balls, mm())
		assert.Empty(t, doubts)
		assert.InDelta(t, c.z, touches[0].At.Z, 1e-12, "behind %v", c.behind)
	}
	touches, doubts := Touches(FeatureSpec{Shape: Face, Behind: r3.Vector{X: 1}}, balls, mm())
	require.Len(t, doubts, len(balls), "x runs along the face and decides nothing")
	assert.Contains(t, doubts[0].Says, "say what is behind it")
	assert.False(t, touches[0].Moved)
}

// Where the normal is not safe the reading stays, is widened by the radius, and
// a doubt says why.
func TestTipNotSafe(t *testing.T) {
	at := func(points ...r3.Vector) (balls []Ball) {
		for _, p := range points {
			balls = append(balls, Ball{Mark: "E4", Centre: p, Tip: 3.175, U: 0.1})
		}
		return balls
	}
	flat := []r3.Vector{{}, {X: 50}, {Y: 50}, {X: 50, Y: 50}}
	ridge := []r3.Vector{}
	for y := range 3 {
		for _, x := range []float64{-40, -20, 0, 20, 40} {
			ridge = append(ridge, r3.Vector{X: x, Y: 20 * float64(y), Z: -math.Abs(x)})
		}
	}
	line := []r3.Vector{{}, {X: 10}, {X: 20}, {X: 30}, {X: 40}}
	for _, c := range []struct {
		shape  Shape
		points []r3.Vector
		why    string
	}{
		{Edge, flat, "an edge may be touched from any side"},
		{Tube, flat, "a tube may be touched from any side"},
		{Skin, flat[:3], "it has 2 of the 3 neighbours that it takes"},
		{Face, flat[:2], "it takes three marks or more"},
		{Face, line, "the marks around it lie in one line"},
		{Skin, line, "the marks around it lie in one line"},
		{Skin, []r3.Vector{{}, {X: 50}, {Y: 50}, {X: 20, Y: 20, Z: 60}}, "the marks around it disagree by"},
	} {
		touches, doubts := Touches(FeatureSpec{Shape: c.shape}, at(c.points...), mm())
		require.NotEmpty(t, doubts, c.why)
		assert.Contains(t, doubts[0].Says, "E4 was touched with a ball of 3.2 mm radius, and which way it was touched cannot be told: "+c.why)
		assert.Equal(t, Touch{At: c.points[0], Widen: 3.175}, touches[0])
	}
	touches, doubts := Touches(FeatureSpec{Shape: Skin}, at(ridge...), mm())
	for i, p := range ridge {
		if p.X == 0 {
			assert.False(t, touches[i].Moved, "on the ridge")
		}
	}
	require.NotEmpty(t, doubts)
	assert.Regexp(t, `the marks around it disagree by \d\d degrees`, doubts[0].Says)
}

// A plane that its own readings leave to turn is not safe: marks 2 mm apart that
// are good to 1 mm.
func TestTipTiltOfAPoorPlane(t *testing.T) {
	flat := func(float64, float64) (float64, r3.Vector) { return 0, r3.Vector{Z: 1} }
	balls, _ := grid(2, 2, 1, flat)
	for i := range balls {
		balls[i].U = 1
	}
	_, doubts := Touches(FeatureSpec{Shape: Face}, balls, mm())
	assert.Len(t, doubts, 4)
	for i := range balls {
		balls[i].U = 0.01
	}
	touches, doubts := Touches(FeatureSpec{Shape: Face}, balls, mm())
	assert.Empty(t, doubts)
	assert.Positive(t, touches[0].Widen)
}

// Without a ball nothing moves, and what has no radius widens nothing.
func TestTipZero(t *testing.T) {
	touches, doubts := Touches(FeatureSpec{}, nil, length.Style{})
	assert.Empty(t, touches)
	assert.Empty(t, doubts)
	touches, doubts = Touches(FeatureSpec{Shape: Edge}, []Ball{{Centre: r3.Vector{X: 1}}}, length.Style{})
	assert.Equal(t, []Touch{{At: r3.Vector{X: 1}}}, touches)
	assert.Empty(t, doubts)
}

// Moving all about moves the touched spots with it.
func TestTipTurnsWithTheSurvey(t *testing.T) {
	random := rand.New(rand.NewPCG(8, 9))
	balls, _ := grid(4, 25, 2, func(x, y float64) (float64, r3.Vector) {
		n := r3.Vector{X: 2 * (x - 40) / 800, Y: 2 * (y - 40) / 800, Z: 1}.Normalize()
		return -((x-40)*(x-40) + (y-40)*(y-40)) / 800, n
	})
	behind := r3.Vector{Z: -1}
	want, _ := Touches(FeatureSpec{Shape: Skin, Behind: behind}, balls, mm())
	for range 20 {
		x := r3.Vector{X: random.NormFloat64(), Y: random.NormFloat64(), Z: random.NormFloat64()}.Normalize()
		y := x.Ortho()
		z := x.Cross(y)
		turn := func(v r3.Vector) r3.Vector { return x.Mul(v.X).Add(y.Mul(v.Y)).Add(z.Mul(v.Z)) }
		shift := r3.Vector{X: 100 * random.NormFloat64()}
		turned := append([]Ball(nil), balls...)
		for i := range turned {
			turned[i].Centre = turn(balls[i].Centre).Add(shift)
		}
		got, _ := Touches(FeatureSpec{Shape: Skin, Behind: turn(behind)}, turned, mm())
		for i := range want {
			require.Equal(t, want[i].Moved, got[i].Moved)
			require.InDelta(t, 0, turn(want[i].At).Add(shift).Sub(got[i].At).Norm(), 1e-9)
			require.InDelta(t, want[i].Widen, got[i].Widen, 1e-9)
		}
	}
}

// On a pipe of 60 mm with marks 23 degrees apart each mark's neighbours lie near
// one plane, but the planes of two marks beside each other are 23 degrees apart:
// too far to say which way either faces. At 10 degrees apart all is well.
func TestTipNeighboursDisagree(t *testing.T) {
	pipe := func(step float64) (balls []Ball) {
		for i := -2; i <= 2; i++ {
			for k := range 5 {
				a := step * float64(i) * math.Pi / 180
				arc := 30 * step * math.Pi / 180
				balls = append(balls, Ball{Mark: "P", Centre: r3.Vector{X: 33 * math.Sin(a), Y: arc * float64(k), Z: 33 * math.Cos(a)}, Tip: 3, U: 0.05})
			}
		}
		return balls
	}
	const middle = 12
	touches, doubts := Touches(FeatureSpec{Shape: Skin}, pipe(10), mm())
	require.True(t, touches[middle].Moved, doubts)
	assert.InDelta(t, 30, touches[middle].At.Z, 1e-9)
	touches, doubts = Touches(FeatureSpec{Shape: Skin}, pipe(23), mm())
	assert.False(t, touches[middle].Moved)
	require.NotEmpty(t, doubts)
	assert.Contains(t, doubts[len(doubts)/2].Says, "the marks around it disagree by 23 degrees")
}
