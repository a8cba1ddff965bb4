package empty

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// scanned is the points of a scan in millimetres.
func scanned(n int, at func(*rand.Rand) Point, seed uint64) []float32 {
	rng := rand.New(rand.NewPCG(seed, 3))
	xyz := make([]float32, 0, 3*n)
	for range n {
		for _, v := range at(rng) {
			xyz = append(xyz, float32(v)/1000)
		}
	}
	return xyz
}

func anywhere(rng *rand.Rand) (p Point) {
	for a, s := range bench.Size() {
		p[a] = rng.Int64N(s*12/10+1) - s/10
	}
	return p
}

// blocksOf is what a scan's points are to Best: the whole micrometres on either
// side of each, and the gap.
func blocksOf(xyz []float32, keep Point) (all []Box) {
	for i := 0; i+2 < len(xyz); i += 3 {
		var b Box
		for a := range 3 {
			v := float64(xyz[i+a]) * 1000
			b.Lo[a], b.Hi[a] = int64(math.Floor(v))-keep[a], int64(math.Ceil(v))+keep[a]
		}
		all = append(all, b)
	}
	return all
}

func scanOf(t testing.TB, p Problem, keep Point, xyz []float32) *Scan {
	t.Helper()
	s, err := NewScan(p, keep)
	require.NoError(t, err)
	s.Add32(xyz, 1000)
	return s
}

// A scan has the answer that Best has of its points, whatever is asked of the
// box, and none of the points is in it.
func TestScanAgainstBest(t *testing.T) {
	for seed := range uint64(150) {
		rng := rand.New(rand.NewPCG(seed, 5))
		p := Problem{Domain: bench}
		at := anywhere
		if seed%2 == 0 {
			at = bayPoint
		}
		xyz := scanned(20+rng.IntN(500), at, seed)
		keep := Point{rng.Int64N(4) * 1500, rng.Int64N(4) * 1500, rng.Int64N(3) * 4000}
		if seed%3 == 0 {
			p.Blocks = strewn(rng, 3, bench, 3, 1)
		}
		if seed%5 == 0 {
			p.Ignore = 1
		}
		if seed%4 < 2 {
			wishes(rng, &p, 300*mm)
		}
		s := scanOf(t, p, keep, xyz)
		got, err := s.Best(context.Background(), Effort{})
		require.NoError(t, err)
		q := p
		q.Blocks = append(blocksOf(xyz, keep), p.Blocks...)
		require.True(t, got.Proved, "seed %d", seed)
		require.Equal(t, best(t, q).Value, got.Value, "seed %d", seed)
		if got.Found() && p.Ignore == 0 {
			checkAnswer(t, "scan", q, got)
		}
		assert.Equal(t, len(got.Ignored), p.Ignore*min(len(got.Ignored), 1))
	}
}

// The face that a point stops is at the last whole micrometre before it, and a
// point on a whole micrometre may be touched.
func TestScanIsExactToTheMicrometre(t *testing.T) {
	p := Problem{Domain: Box{Hi: Point{1000, 1000, 1000}}}
	for at, want := range map[float64]int64{700: 700, 700.25: 700, 699.75: 699, -3: 1000, 1000: 1000, 999.5: 999} {
		s, err := NewScan(p, Point{})
		require.NoError(t, err)
		s.Add([]float64{0.5, 0.5, at / 1000}, 1000)
		a, err := s.Best(context.Background(), Effort{})
		require.NoError(t, err)
		depth := int64(0)
		if a.Room.Size()[0] == 1000 && a.Room.Size()[1] == 1000 {
			depth = a.Room.Size()[2]
		}
		assert.Equal(t, want, depth, "point at %v", at)
	}
}

func TestHalves(t *testing.T) {
	for v, want := range map[float64][2]int32{0: {0, 0}, 3: {3, 3}, 3.25: {3, 4}, -3: {-3, -3}, -3.25: {-4, -3}, -0.5: {-1, 0}} {
		half := halves(v)
		assert.Equal(t, want, [2]int32{below(half), above(half)}, "%v", v)
	}
}

func TestScanLeavesOut(t *testing.T) {
	s, err := NewScan(Problem{Domain: bench}, Point{1000, 1000, 1000})
	require.NoError(t, err)
	nan, inf := math.NaN(), math.Inf(1)
	s.Add([]float64{nan, 1, 1, 1, nan, 1, 1, 1, nan, inf, 1, 1, 1, -inf, 1, 1e300, 1, 1, // not places
		-1, 5, 5, 601, 5, 5, 5, 5, 301, 5, 5, -1, // just too far off
		-0.9995, 5, 5, 600.9995, 5, 5, 5, 5, 300.9995, 5, 5, -0.9995, // just not
		7, 7}, 1000)
	assert.Equal(t, 10, s.Left)
	assert.Equal(t, 4, s.Len())
	assert.Equal(t, 4, s.Inside(bench))
	assert.Equal(t, 0, s.Inside(Box{Hi: bench.Hi, Lo: Point{1000, 6 * mm, 1000}}))
}

func TestScansThatCannotBeSearched(t *testing.T) {
	_, err := NewScan(Problem{Domain: bench, Free: true}, Point{})
	assert.ErrorIs(t, err, ErrFree)
	_, err = NewScan(Problem{}, Point{})
	assert.ErrorIs(t, err, ErrDomain)
	_, err = NewScan(Problem{Domain: bench}, Point{-1})
	assert.ErrorIs(t, err, ErrKeep)
	_, err = NewScan(Problem{Domain: bench}, Point{0, 0, scanReach})
	assert.ErrorIs(t, err, ErrScanReach)
	_, err = NewScan(Problem{Domain: Box{Hi: Point{scanReach, scanReach, scanReach}}}, Point{})
	assert.NoError(t, err)
}

// Points may come in pieces and after a search, in either precision.
func TestScanInPieces(t *testing.T) {
	xyz := scanned(3000, bayPoint, 4)
	whole := scanOf(t, Problem{Domain: bench}, Point{}, xyz)
	want, err := whole.Best(context.Background(), Effort{})
	require.NoError(t, err)
	s := scanOf(t, Problem{Domain: bench}, Point{}, xyz[:600])
	before, err := s.Best(context.Background(), Effort{})
	require.NoError(t, err)
	assert.False(t, want.Value.over(before.Value))
	double := make([]float64, 0, len(xyz))
	for _, v := range xyz[600:] {
		double = append(double, float64(v))
	}
	s.Add(double[:3000], 1000)
	s.Add(double[3000:], 1000)
	got, err := s.Best(context.Background(), Effort{})
	require.NoError(t, err)
	assert.Equal(t, want.Room, got.Room)
}

// A scan of 200,000 points is searched to the proof with a few hundred of them,
// and one that is nothing but noise stops with a bound that holds.
func TestLargeScan(t *testing.T) {
	xyz := scanned(200_000, bayPoint, 6)
	s := scanOf(t, Problem{Domain: bench}, Point{}, xyz)
	a, err := s.Best(context.Background(), Effort{})
	require.NoError(t, err)
	require.True(t, a.Proved)
	assert.Less(t, a.Nodes, 500)
	grown := a.Room
	for f := range face(6) {
		if at := grown.at(f); f != 4 && at != bench.at(f) {
			assert.Positive(t, s.Inside(grown.with(f, at+2*int64(f&1)-1)), "face %d", f)
		}
	}

	noise := scanOf(t, Problem{Domain: bench}, Point{}, scanned(20_000, anywhere, 6))
	stopped, err := noise.Best(context.Background(), Effort{Nodes: 500})
	require.NoError(t, err)
	assert.False(t, stopped.Proved)
	assert.True(t, stopped.Found())
	whole, err := noise.Best(context.Background(), Effort{Nodes: 5000})
	require.NoError(t, err)
	assert.False(t, whole.Value.over(stopped.AtMost))
	assert.False(t, stopped.Value.over(whole.AtMost))
}
