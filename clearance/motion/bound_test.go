package motion

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"

	"elbowroom/solid/shape"
)

// Each bound by itself, in cells of all sizes: no position in the cell is below it.
func TestBoundsHoldThroughoutTheirCell(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	way := func() r3.Vector {
		return r3.Vector{X: random.NormFloat64(), Y: random.NormFloat64(), Z: random.NormFloat64()}.Normalize()
	}
	for n := range 1000 {
		var chain Chain
		var c cell
		wide := math.Pow(10, -3*random.Float64())
		for range 1 + n%3 {
			if random.IntN(3) == 0 {
				chain = append(chain, Slide(way(), -1000, 1000))
				c.half = append(c.half, 100*wide*random.Float64())
			} else {
				on := way().Mul(100 * random.Float64())
				j, _ := Turn(on, on.Add(way()), -10, 10)
				chain = append(chain, j)
				c.half = append(c.half, 3*wide*random.Float64())
			}
			c.middle = append(c.middle, 4*random.Float64()-2)
		}
		still := shape.Convex(shape.Cylinder{Foot: way().Mul(30), Axis: way().Mul(80), Across: 25})
		piece := shape.Hull{Points: []r3.Vector{way().Mul(90), way().Mul(120), way().Mul(100)}, Grow: 3}
		switch n % 5 {
		case 3:
			piece.Behind = way()
		case 4:
			still = shape.Hull{Points: []r3.Vector{way().Mul(20), way().Mul(30)}, Behind: way()}
		}
		pose, levers := chain.place(c, nil)
		at := Moved(piece, pose)
		middle := shape.Distance(still, at)
		swing := 0.0
		for _, l := range levers {
			if l.turns {
				swing += l.half
			}
		}
		plain := middle.Signed - middle.Within - travel(still, at, levers)
		stands, goes := standing(still, at, levers, middle.Normal, swing), carried(still, at, levers, middle.Normal, swing)
		for range 40 {
			position := append([]float64(nil), c.middle...)
			for i, h := range c.half {
				position[i] += h * max(-1, min(1, 3*random.Float64()-1.5)) // often at an end
			}
			got := shape.Distance(still, Moved(piece, chain.At(position))).Signed
			assert.GreaterOrEqual(t, got, plain-rounding, "scene %d: travel", n)
			assert.GreaterOrEqual(t, got, stands-rounding, "scene %d: a plane that stands", n)
			assert.GreaterOrEqual(t, got, goes-rounding, "scene %d: a plane that is carried", n)
		}
	}
}

// At a least within the range, where the distance is level, the bound is off by the square of
// the cell's width only.
func TestBoundIsOfSecondOrder(t *testing.T) {
	wall := shape.Box{Corner: r3.Vector{X: 150, Y: -500, Z: -500}, Edges: [3]r3.Vector{{X: 10}, {Y: 1000}, {Z: 1000}}}
	p := shape.Hull{Points: []r3.Vector{{X: 100}}}
	j, _ := Turn(r3.Vector{}, r3.Vector{Z: 1}, -1, 1)
	for _, half := range []float64{0.1, 0.01, 0.001} {
		pose, levers := Chain{j}.place(cell{[]float64{0}, []float64{half}}, nil)
		at := Moved(p, pose)
		bound := lower(wall, at, levers, shape.Distance(wall, at))
		assert.InDelta(t, 50, bound, 1.01*50*half*half+2*rounding)
	}
}
