package network_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"elbowroom/survey/network"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
)

func place(mark int, p r3.Vector, u float64) []network.Tie {
	var ties []network.Tie
	for k, v := range [3]float64{p.X, p.Y, p.Z} {
		ties = append(ties, network.Tie{Kind: network.Offset, Mark: mark, From: network.None, Dir: axis(k), Value: v, U: u})
	}
	return ties
}

func axis(k int) r3.Vector { return [3]r3.Vector{{X: 1}, {Y: 1}, {Z: 1}}[k] }

func tape(a, b int, length, u float64) network.Tie {
	return network.Tie{Kind: network.Distance, Mark: b, From: a, Value: length, U: u}
}

// everyKind is a network with all kinds of ties, a repeat and two shared errors,
// with errors on each.
func everyKind(r *rand.Rand) (net network.Net, truth []r3.Vector) {
	for range 12 {
		truth = append(truth, r3.Vector{X: 600 * r.Float64(), Y: 400 * r.Float64(), Z: 300 * r.Float64()})
	}
	net = network.Net{Marks: len(truth), Shared: 2}
	for m := range 5 {
		net.Ties = append(net.Ties, place(m, truth[m], 1)...)
	}
	for m := 5; m < 11; m++ {
		for k := range 5 {
			t := tape((m+k+1)%m, m, 0, 1)
			t.Value = truth[m].Sub(truth[t.From]).Norm()
			t.Shared = 1 + m%2
			net.Ties = append(net.Ties, t, t)
		}
	}
	for s := range 2 {
		net.Ties = append(net.Ties, network.Tie{Kind: network.Common, Shared: s + 1, U: 0.5})
	}
	// The last mark by probe from a straightedge.
	e := truth[1].Sub(truth[0]).Normalize()
	n := r3.Vector{X: 0.2, Y: -0.1, Z: 1}
	n = n.Sub(e.Mul(n.Dot(e))).Normalize()
	truth[11] = truth[0].Add(e.Mul(70)).Add(n.Mul(90))
	for k, v := range [3]float64{70, 90, 0} {
		net.Ties = append(net.Ties, network.Tie{Kind: network.Along + network.TieKind(k), Mark: 11, From: 0, To: 1, Dir: r3.Vector{X: 0.2, Y: -0.1, Z: 1}, Value: v, U: 0.7})
	}
	for l := range net.Ties {
		net.Ties[l].Value += net.Ties[l].U * r.NormFloat64()
	}
	return net, truth
}

// oracle linearises the network at its solution by central differences and
// solves it densely.
func oracle(t *testing.T, a *network.Adjusted) network.Solution {
	t.Helper()
	n := 3*a.Net.Marks + a.Net.Shared
	at := func(x []float64) []float64 {
		p := make([]r3.Vector, a.Net.Marks)
		for i := range p {
			p[i] = r3.Vector{X: x[3*i], Y: x[3*i+1], Z: x[3*i+2]}
		}
		return a.Net.Values(p, x[3*a.Net.Marks:])
	}
	var x []float64
	for _, p := range a.At {
		x = append(x, p.X, p.Y, p.Z)
	}
	x = append(x, a.Common...)
	j := mat.NewDense(len(a.Net.Ties), n, nil)
	b, u := make([]float64, len(a.Net.Ties)), make([]float64, len(a.Net.Ties))
	now := at(x)
	for l, tie := range a.Net.Ties {
		b[l], u[l] = tie.Value-now[l], tie.U
	}
	for k := range n {
		const h = 1e-3
		keep := x[k]
		x[k] = keep + h
		up := at(x)
		x[k] = keep - h
		down := at(x)
		x[k] = keep
		for l := range up {
			j.Set(l, k, (up[l]-down[l])/(2*h))
		}
	}
	s, err := network.Solve(j, b, u)
	require.NoError(t, err)
	return s
}

// The blocks against dense QR with numeric derivatives: nothing left to move,
// the same residuals, redundancy, covariance, and figures' variances.
func TestNetAgainstDense(t *testing.T) {
	for seed := range uint64(10) {
		r := rand.New(rand.NewPCG(seed, 71))
		net, truth := everyKind(r)
		start := append([]r3.Vector(nil), truth...)
		for i := range start {
			start[i] = start[i].Add(randomVector(r, 20))
		}
		got, err := net.Adjust(start)
		require.NoError(t, err)
		require.True(t, got.Settled)
		got.Strengths()
		want := oracle(t, got)
		for _, x := range want.X {
			assert.InDelta(t, 0, x, 1e-6)
		}
		assert.Equal(t, want.DegreesOfFreedom, got.Freedom)
		assert.InEpsilon(t, want.SumSquares, got.SumSquares, 1e-8)
		assert.InDeltaSlice(t, want.Redundancy, got.Redundancy, 1e-7)
		for i := range net.Marks {
			b := got.Block(i, i)
			for k := range 3 {
				for l := range 3 {
					assert.InDelta(t, want.Covariance.At(3*i+k, 3*i+l), b[3*k+l], 1e-6)
				}
			}
		}
		b := got.Block(5, got.Net.Ties[15].From)
		assert.InDelta(t, want.Covariance.At(15, 3*got.Net.Ties[15].From+1), b[1], 1e-6)
		// A figure of several marks, by its terms.
		g := []network.Mover{{Mark: 2, By: randomVector(r, 1)}, {Mark: 8, By: randomVector(r, 1)}, {Mark: 11, By: randomVector(r, 1)}}
		gradient := mat.NewVecDense(3*net.Marks+net.Shared, nil)
		for _, m := range g {
			for k := range 3 {
				gradient.SetVec(3*m.Mark+k, m.By.Dot(axis(k)))
			}
		}
		terms := make([]float64, len(net.Ties))
		got.Spreader().Terms(g, terms)
		variance := 0.0
		for _, v := range terms {
			variance += v * v
		}
		assert.InEpsilon(t, mat.Inner(gradient, want.Covariance, gradient), variance, 1e-6)
	}
}

// Six anchors within a metre of height. Source: A. Norrdine, "An algebraic
// solution to the multilateration problem", IPIN 2012, inputs of the author's
// test script; the solutions were computed from them elsewhere.
func TestWeakHeight(t *testing.T) {
	anchors := []r3.Vector{{X: 27.297, Y: -4.953, Z: 1.47}, {X: 20.693, Y: -4.849, Z: 1.93}, {X: 22.590, Y: .524, Z: 1.2}, {X: 17.113, Y: -3.003, Z: 2.17}, {X: 22.554, Y: 4.727, Z: 1.77}, {X: 22.447, Y: -7.880, Z: 1.6}}
	ranges := []float64{3.652, 7.036, 4.586, 9.960, 7.542, 7.883}
	for _, c := range []struct {
		off       [6]float64
		want      r3.Vector
		deviation float64
		sd        [3]float64
	}{
		{want: r3.Vector{X: 26.7827, Y: -1.3992, Z: 0.7564}, deviation: 0.0626},
		{off: [6]float64{3: .12, 4: .14}, want: r3.Vector{X: 26.7840, Y: -1.3287, Z: 1.4526}, deviation: 0.0185, sd: [3]float64{.0122, .0116, .1839}},
	} {
		net, start := multilateration(anchors, ranges, c.off[:])
		got, err := net.Adjust(start)
		require.NoError(t, err)
		assertNear(t, c.want, got.At[6], 0.0001)
		s := math.Sqrt(got.SumSquares / float64(got.Freedom))
		assert.InDelta(t, c.deviation, s, 0.00005)
		b := got.Block(6, 6)
		for k, want := range c.sd {
			if want > 0 {
				assert.InDelta(t, want, s*math.Sqrt(b[4*k]), 0.0001)
			}
		}
	}
}

// multilateration is a network of one mark, the last, by ranges to pinned
// anchors, and its start by network.Laterate.
func multilateration(anchors []r3.Vector, ranges, off []float64) (network.Net, []r3.Vector) {
	n := len(anchors)
	net := network.Net{Marks: n + 1, Pinned: make([][3]bool, n+1)}
	for i := range anchors {
		net.Pinned[i] = [3]bool{true, true, true}
		r := ranges[i]
		if off != nil {
			r -= off[i]
		}
		net.Ties = append(net.Ties, tape(i, n, r, 1))
	}
	found := network.Laterate(anchors, ranges, nil)
	return net, append(append([]r3.Vector(nil), anchors...), found[0])
}

// Three anchors have two exact solutions. Source: as TestWeakHeight, example A.
func TestTwoSolutions(t *testing.T) {
	anchors := []r3.Vector{{X: 27.297, Y: -4.953, Z: 1.47}, {X: 25.475, Y: -6.124, Z: 2.36}, {X: 22.590, Y: .524, Z: 1.2}}
	ranges := []float64{3.851, 3.875, 3.514}
	found := network.Laterate(anchors, ranges, nil)
	require.Len(t, found, 2)
	want := []r3.Vector{{X: 24.31229, Y: -2.52045, Z: 1.53649}, {X: 24.35062, Y: -2.48109, Z: 1.66673}}
	if found[0].Z > found[1].Z {
		found[0], found[1] = found[1], found[0]
	}
	for i, p := range found {
		assertNear(t, want[i], p, 0.00001)
		for k, a := range anchors {
			assert.InDelta(t, ranges[k], p.Sub(a).Norm(), 1e-9)
		}
	}
}

// Distance intersection in the plane: the start must not lead to the mirror
// minimum at (-2237.9, -367.6). Source: Ghilani, "Adjustment Computations",
// example 14.1, from memory; the solution was computed elsewhere.
func TestDistanceIntersection(t *testing.T) {
	anchors := []r3.Vector{{X: 865.40, Y: 4527.15}, {X: 2432.55, Y: 2047.25}, {X: 2865.22, Y: 27.15}}
	net, start := multilateration(anchors, []float64{6049.00, 4736.83, 5446.49}, nil)
	net.Pinned[3][2] = true
	start[3].Z = 0
	got, err := net.Adjust(start)
	require.NoError(t, err)
	assertNear(t, r3.Vector{X: 6861.32, Y: 3727.82}, got.At[3], 0.01)
	for i, v := range []float64{-.037, .077, -.047} {
		assert.InDelta(t, v, got.Residuals[i], 0.0011)
	}
	s := math.Sqrt(got.SumSquares / float64(got.Freedom))
	assert.InDelta(t, 0.098, s, 0.0011)
	b := got.Block(3, 3)
	assert.InDelta(t, 0.078, s*math.Sqrt(b[0]), 0.002)
	assert.InDelta(t, 0.154, s*math.Sqrt(b[4]), 0.002)
	assert.Zero(t, b[8], "a pinned coordinate has no variance")
	// The mirror minimum is there, and hundreds of feet worse.
	wrong, err := net.Adjust(append(append([]r3.Vector(nil), anchors...), r3.Vector{X: -2000}))
	require.NoError(t, err)
	assertNear(t, r3.Vector{X: -2237.9, Y: -367.6}, wrong.At[3], 0.1)
	assert.Greater(t, wrong.SumSquares, 1e4)
}

// The weak height near the plane of four marks: 500 by 300 apart, tapes good to
// 1 mm, a mark in front of their middle.
func TestHeightNearThePlaneOfItsMarks(t *testing.T) {
	anchors := []r3.Vector{{}, {X: 500}, {X: 500, Y: 300}, {Y: 300}}
	for _, c := range []struct{ z, want float64 }{{5, 29}, {10, 14.5}, {20, 7.3}, {50, 2.9}, {100, 1.5}, {200, 0.9}} {
		p := r3.Vector{X: 250, Y: 150, Z: c.z}
		var ranges []float64
		for _, a := range anchors {
			ranges = append(ranges, p.Sub(a).Norm())
		}
		net, start := multilateration(anchors, ranges, nil)
		start[4] = p
		got, err := net.Adjust(start)
		require.NoError(t, err)
		b := got.Block(4, 4)
		assert.InDelta(t, c.want, math.Sqrt(b[8]), 0.06*c.want)
		if c.z <= 100 {
			assert.InDelta(t, 0.6, math.Sqrt(b[0]), 0.05)
		}
	}
}

func TestFreeMarksAreNamed(t *testing.T) {
	anchors := []r3.Vector{{}, {X: 500}, {X: 500, Y: 300}, {Y: 300, Z: 40}}
	net := network.Net{Marks: 7}
	for i, a := range anchors {
		net.Ties = append(net.Ties, place(i, a, 1)...)
		net.Ties = append(net.Ties, tape(i, 4, 400, 1))
	}
	net.Ties = append(net.Ties, tape(0, 5, 300, 1), tape(1, 5, 300, 1), tape(4, 6, 100, 1))
	start := append(append([]r3.Vector(nil), anchors...), r3.Vector{X: 200, Y: 100, Z: 200}, r3.Vector{X: 250, Y: 10, Z: 160}, r3.Vector{X: 210, Y: 120, Z: 300})
	_, err := net.Adjust(start)
	var free *network.Undetermined
	require.ErrorAs(t, err, &free)
	assert.Equal(t, []int{5, 6}, free.Columns)
}

// wall is four known marks with so many others in front, four tapes each, and
// fifteen tapes between those.
func wall(r *rand.Rand, n int) (network.Net, []r3.Vector) {
	truth := []r3.Vector{{}, {X: 500}, {X: 500, Y: 300, Z: 30}, {Y: 300}}
	net := network.Net{Marks: n + 4}
	for i, a := range truth {
		net.Ties = append(net.Ties, place(i, a, 0.5)...)
	}
	for m := 4; m < n+4; m++ {
		truth = append(truth, r3.Vector{X: 600 * r.Float64(), Y: 400 * r.Float64(), Z: 100 + 200*r.Float64()})
		for k := range 4 {
			net.Ties = append(net.Ties, tape(k, m, truth[m].Sub(truth[k]).Norm()+r.NormFloat64(), 1))
		}
	}
	for k := range 15 {
		a, b := 4+5*k, 6+6*k
		net.Ties = append(net.Ties, tape(a, b, truth[a].Sub(truth[b]).Norm()+r.NormFloat64(), 1))
	}
	return net, truth
}

func BenchmarkAdjust104Marks(b *testing.B) {
	net, truth := wall(rand.New(rand.NewPCG(1, 1)), 100)
	for i := 4; i < len(truth); i++ {
		truth[i] = truth[i].Add(r3.Vector{X: 3, Y: -4, Z: 5})
	}
	for b.Loop() {
		a, err := net.Adjust(truth)
		require.NoError(b, err)
		a.Strengths()
	}
}

// free is a network of marks without any known: each taped to neighbours.
func free(r *rand.Rand, n, tapes int) (network.Net, []r3.Vector) {
	var truth []r3.Vector
	for range n {
		truth = append(truth, r3.Vector{X: 3000 * r.Float64(), Y: 2000 * r.Float64(), Z: 1000 * r.Float64()})
	}
	net := network.Net{Marks: n}
	add := func(a, b int) {
		net.Ties = append(net.Ties, tape(a, b, truth[a].Sub(truth[b]).Norm()+r.NormFloat64(), 1))
	}
	for m := 1; m < n; m++ {
		// The nearest of the marks before it.
		for _, k := range nearest(truth[:m], truth[m], 5) {
			add(k, m)
		}
	}
	for len(net.Ties) < tapes {
		a := r.IntN(n)
		for _, k := range nearest(truth, truth[a], 12)[8:] {
			add(k, a)
		}
	}
	return net, truth
}

func nearest(marks []r3.Vector, p r3.Vector, n int) []int {
	var out []int
	for len(out) < min(n, len(marks)) {
		best := -1
		for i, q := range marks {
			used := q == p
			for _, k := range out {
				used = used || k == i
			}
			if !used && (best < 0 || q.Sub(p).Norm() < marks[best].Sub(p).Norm()) {
				best = i
			}
		}
		if best < 0 {
			break
		}
		out = append(out, best)
	}
	return out
}

// adjustFree starts from nothing and holds the first three marks in their plane.
func adjustFree(net network.Net) (*network.Adjusted, error) {
	start := net.Start(network.Start{At: make([]r3.Vector, net.Marks), Placed: make([]bool, net.Marks)}, nil)
	net.Gauge(start.At, [3]int{0, 1, 2})
	return net.Adjust(start.At)
}

// Marks of which nothing but tapes is known come out in the right shape, up to
// its mirror image.
func TestFreeNetworkFindsItsShape(t *testing.T) {
	for seed := range uint64(20) {
		r := rand.New(rand.NewPCG(seed, 73))
		net, truth := free(r, 30, 150)
		got, err := adjustFree(net)
		require.NoError(t, err)
		assert.Less(t, got.SumSquares, 2.5*float64(got.Freedom), "seed %d", seed)
		assert.Equal(t, len(net.Ties)-3*30+6, got.Freedom)
		for k := range 200 {
			a, b := k%30, (7*k+3)%30
			assert.InDelta(t, truth[a].Sub(truth[b]).Norm(), got.At[a].Sub(got.At[b]).Norm(), 15, "seed %d", seed)
		}
	}
}

func BenchmarkAdjust500MarksFree(b *testing.B) {
	net, _ := free(rand.New(rand.NewPCG(2, 1)), 500, 2500)
	for b.Loop() {
		a, err := adjustFree(net)
		require.NoError(b, err)
		a.Strengths()
		b.ReportMetric(a.SumSquares/float64(a.Freedom), "factor")
		b.ReportMetric(float64(a.Steps), "steps")
	}
}
