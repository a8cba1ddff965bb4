package empty

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// An optimum of the instances in testdata, which were solved by exhaustion with
// another program; the rule is in each file.
type optimum struct {
	Volume float64
	Area   float64
	Box    [][]int64
}

type instanceFile struct {
	Instances []struct {
		ID           string
		Domain       [2][]int64
		Points       [][]int64
		Boxes        [][2][]int64
		Opt          optimum
		Q            []int64
		OptContainsQ *optimum `json:"opt_contains_q"`
		MinDims      []int64  `json:"min_dims"`
		OptMinDims   *optimum `json:"opt_min_dims"`
		CapDims      []int64  `json:"cap_dims"`
		OptCapDims   *optimum `json:"opt_cap_dims"`
	}
}

// box makes a box of two corners; of the plane where they have two coordinates.
func box(lo, hi []int64) (b Box) {
	if len(lo) == 2 {
		return Flat(lo[0], lo[1], hi[0], hi[1])
	}
	copy(b.Lo[:], lo)
	copy(b.Hi[:], hi)
	return b
}

// TestSolvedInstances goes through every instance and every condition of it.
func TestSolvedInstances(t *testing.T) {
	for file, count := range map[string]int{"anchored": 137, "anchored_boxes": 48, "free": 56, "rect2d": 73} {
		data, err := os.ReadFile(filepath.Join("testdata", file+".json"))
		require.NoError(t, err)
		var f instanceFile
		require.NoError(t, json.Unmarshal(data, &f))
		require.Len(t, f.Instances, count)
		for _, in := range f.Instances {
			p := Problem{Domain: box(in.Domain[0], in.Domain[1]), Free: file == "free"}
			for _, q := range in.Points {
				p.Blocks = append(p.Blocks, box(q, q))
			}
			for _, b := range in.Boxes {
				p.Blocks = append(p.Blocks, box(b[0], b[1]))
			}
			solves(t, in.ID, p, &in.Opt)
			if in.OptContainsQ != nil {
				q := p
				at := Point{in.Q[0], in.Q[1], p.Domain.Lo[2]}
				q.Holds = &Box{at, at}
				solves(t, in.ID+" holds q", q, in.OptContainsQ)
				q = p
				q.Min = Size(in.MinDims)
				solves(t, in.ID+" least sizes", q, in.OptMinDims)
				q = p
				q.Max = Size(in.CapDims)
				solves(t, in.ID+" greatest sizes", q, in.OptCapDims)
			}
		}
	}
}

// solves checks Best, and Enumerate where it applies, against an optimum.
func solves(t *testing.T, name string, p Problem, want *optimum) {
	t.Helper()
	volume := want.Volume + want.Area
	a, err := Best(context.Background(), p, Effort{})
	require.NoError(t, err, name)
	require.True(t, a.Proved, name)
	require.Equal(t, volume > 0, a.Found(), name)
	require.InDelta(t, volume, a.Value.Float(), 1e-9*volume, name)
	if p.Free {
		return
	}
	rooms, err := Enumerate(context.Background(), p, Guard{})
	require.NoError(t, err, name)
	var best float64
	for _, r := range p.Pick(rooms, 1, 0) {
		best = p.worth(r.Size()).Float()
	}
	require.InDelta(t, volume, best, 1e-9*volume, name)
}

// flat is the greatest area among points of the plane, times scale; everything
// is rounded to the integer.
func flat(t *testing.T, domain Box, scale float64, xy ...float64) Answer {
	t.Helper()
	p := Problem{Domain: domain}
	for i := 0; i < len(xy); i += 2 {
		x, y := int64(math.Round(scale*xy[i])), int64(math.Round(scale*xy[i+1]))
		p.Blocks = append(p.Blocks, Flat(x, y, x, y))
	}
	a, err := Best(context.Background(), p, Effort{})
	require.NoError(t, err)
	require.True(t, a.Proved)
	return a
}

// Two of the rectangles that the CGAL project publishes as test data of its
// Inscribed_areas package (gold_data2, gold_data3), and its example
// largest_empty_rectangle.cpp, whose output was had from release 5.5.1.
func TestPublishedRectangles(t *testing.T) {
	const scale = 1_000_000
	domain := Flat(0, 0, 10*scale, 10*scale)
	a := flat(t, domain, scale, 0.286407, 2.26952, 1.05632, 2.75946, 1.94289, 3.45938, 2.57281, 9.782,
		5.25584, 0.426392, 9.38538, 1.33629, 9.89865, 9.31538)
	assert.Equal(t, Flat(1942890, 426392, 9385380, 9782000), a.Room)
	a = flat(t, domain, scale, 1, 1, 2, 2, 3, 3, 4, 4, 5, 5)
	assert.Equal(t, 50e12, a.Value.Float())
	a = flat(t, domain, scale, 1, 1, 2, 2, 3, 3, 4, 4)
	assert.Equal(t, 60e12, a.Value.Float())
	a = flat(t, domain, scale, 6, 1, 1, 8, 9, 5, 5, 9)
	assert.Equal(t, Flat(1*scale, 1*scale, 9*scale, 9*scale), a.Room)
}

// lattice is the Fibonacci lattice of m points on the square of m by m, repeated
// as often as asked.
func lattice(m, before, repeat int64) Problem {
	p := Problem{Domain: Flat(0, 0, m*repeat, m*repeat)}
	for i := range m * repeat {
		for k := range repeat {
			x, y := i, before*i%m+k*m
			p.Blocks = append(p.Blocks, Flat(x, y, x, y))
		}
	}
	return p
}

// The largest empty rectangle of a Fibonacci lattice. On the torus it has an
// area of 2/m exactly: S. Breneis, A. Hinrichs, "Fibonacci lattices have minimal
// dispersion on the two-dimensional torus", arXiv 1905.03856 (2019). A rectangle
// of the torus is one of the plane that the lattice covers again and again, no
// side over the period. Within the square: by exhaustion in exact fractions.
func TestFibonacciLattice(t *testing.T) {
	for _, c := range []struct{ m, before, num, den int64 }{
		{5, 3, 9, 25}, {8, 5, 15, 64}, {13, 8, 25, 169}, {21, 13, 40, 441}, {34, 21, 33, 578}, {55, 34, 0, 0},
	} {
		torus := lattice(c.m, c.before, 3)
		torus.Max = Size{c.m, c.m}
		a, err := Best(context.Background(), torus, Effort{})
		require.NoError(t, err)
		assert.Equal(t, 2*c.m, int64(a.Value.Float()), "torus, m = %d", c.m)
		if c.den > 0 {
			a, err = Best(context.Background(), lattice(c.m, c.before, 1), Effort{})
			require.NoError(t, err)
			assert.Equal(t, c.num*c.m*c.m, int64(a.Value.Float())*c.den, "square, m = %d", c.m)
		}
	}
}

// A grid of k^3 points at i/(k+1) leaves a box of 1/(k+1) of the cube; a row of
// it is one between two layers.
func TestGridInCube(t *testing.T) {
	for k := int64(1); k <= 3; k++ {
		p := Problem{Domain: Box{Hi: Point{k + 1, k + 1, k + 1}}, Free: true}
		for i := range k * k * k {
			q := Point{1 + i%k, 1 + i/k%k, 1 + i/k/k}
			p.Blocks = append(p.Blocks, Box{q, q})
		}
		a, err := Best(context.Background(), p, Effort{})
		require.NoError(t, err)
		assert.Equal(t, float64((k+1)*(k+1)), a.Value.Float())
	}
}

// Any n points leave a rectangle of at least 2/n on the torus: M. Ullrich, "A
// lower bound for the dispersion on the torus", arXiv 1510.04617.
func TestLowerBoundOnTheTorus(t *testing.T) {
	const size = 10_000
	for n := 2; n <= 30; n += 4 {
		once := uniform(n, Flat(0, 0, size-1, size-1), uint64(n))
		torus := Problem{Domain: Flat(0, 0, 3*size, 3*size), Max: Size{size, size}}
		for _, b := range once {
			for k := range int64(9) {
				x, y := b.Lo[0]+k%3*size, b.Lo[1]+k/3*size
				torus.Blocks = append(torus.Blocks, Flat(x, y, x, y))
			}
		}
		a, err := Best(context.Background(), torus, Effort{})
		require.NoError(t, err)
		assert.GreaterOrEqual(t, a.Value.Float(), 2*float64(size*size)/float64(n))
	}
}

// The number of maximal empty rectangles of n points in a square in general
// position depends on the order of their ordinates only; its mean over all n!
// orders: 1, 4, 8, 38/3, 107/6, 117/5, 293/10 for n = 0 to 6, at least 4n and at
// most 13, 19, 25, 32 for n = 3 to 6, by counting them all in exact fractions.
func TestMeanNumberOfMaximalRectangles(t *testing.T) {
	means := [][2]int{{1, 1}, {4, 1}, {8, 1}, {38, 3}, {107, 6}, {117, 5}, {293, 10}}
	most := []int{1, 4, 8, 13, 19, 25, 32}
	for n, mean := range means {
		count, orders, least, greatest := 0, 0, math.MaxInt, 0
		permute(n, nil, func(order []int) {
			p := Problem{Domain: Flat(0, 0, int64(n)+1, int64(n)+1)}
			for x, y := range order {
				p.Blocks = append(p.Blocks, Flat(int64(x)+1, int64(y)+1, int64(x)+1, int64(y)+1))
			}
			rooms, err := Enumerate(context.Background(), p, Guard{})
			require.NoError(t, err)
			count, orders = count+len(rooms), orders+1
			least, greatest = min(least, len(rooms)), max(greatest, len(rooms))
		})
		assert.Equal(t, mean[0]*orders, mean[1]*count, "n = %d", n)
		assert.Equal(t, max(4*n, 1), least)
		assert.Equal(t, most[n], greatest)
	}
}

func permute(n int, order []int, see func([]int)) {
	if len(order) == n {
		see(order)
		return
	}
next:
	for y := range n {
		for _, used := range order {
			if used == y {
				continue next
			}
		}
		permute(n, append(order[:len(order):len(order)], y), see)
	}
}

// penScan is a real laser scan in the plane of a pen with two boxes: 361 points
// in metres (examples of libpointmatcher, BSD-3), where it lies beside the
// project; it is not part of it.
func penScan(t *testing.T) []float64 {
	t.Helper()
	name := filepath.Join("..", "..", "..", "..", "shared", "data", "scans", "pen_two_boxes_2d.csv")
	if dir := os.Getenv("ELBOWROOM_SCANS"); dir != "" {
		name = filepath.Join(dir, filepath.Base(name))
	}
	data, err := os.ReadFile(name)
	if err != nil {
		t.Skip("the scan of a pen is not here; set ELBOWROOM_SCANS to its folder: ", name)
	}
	var xy []float64
	for _, field := range strings.Fields(strings.ReplaceAll(string(data), ",", " ")) {
		var v float64
		_, err := fmt.Sscan(field, &v)
		require.NoError(t, err)
		xy = append(xy, v)
	}
	require.Len(t, xy, 2*361)
	return xy
}

// The largest empty rectangle of the scan within the rectangle that bounds it,
// by exhaustion: 1.361053 m2, x 0.286 to 2.142385, y -0.376841 to 0.356333.
// Scaled to a tenth of a micrometre, in which its digits are whole numbers.
func TestPenScan(t *testing.T) {
	xy := penScan(t)
	const scale = 1e7
	lo, hi := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for i, v := range xy {
		lo[i%2], hi[i%2] = min(lo[i%2], v), max(hi[i%2], v)
	}
	at := func(v float64) int64 { return int64(math.Round(v * scale)) }
	domain := Flat(at(lo[0]), at(lo[1]), at(hi[0]), at(hi[1]))
	a := flat(t, domain, scale, xy...)
	assert.InDelta(t, 1.361053, a.Value.Float()/scale/scale, 5e-7)
	assert.Equal(t, [4]float64{0.286, 2.142385, -0.376841, 0.356333},
		[4]float64{six(a.Room.Lo[0]), six(a.Room.Hi[0]), six(a.Room.Lo[1]), six(a.Room.Hi[1])})
}

// six is a length in tenths of a micrometre in metres, to six places.
func six(v int64) float64 { return math.Round(float64(v)/10) / 1e6 }
