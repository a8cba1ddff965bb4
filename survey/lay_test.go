package survey

import (
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
)

// What a straightedge and rule would read, and how it moves with the marks,
// against its geometry and moved marks.
func TestLay(t *testing.T) {
	s := &Space{Marks: []Mark{{At: r3.Vector{X: 100, Y: 3, Z: -40}}, {At: r3.Vector{X: 10}}, {At: r3.Vector{X: 310}}}}
	along, probe, aside := Lay{Mark: 0, From: 1, To: 2, Toward: r3.Vector{Z: -1}}.Reads(s)
	assert.InDelta(t, 90, along, 1e-12)
	assert.InDelta(t, 40, probe, 1e-12)
	assert.InDelta(t, 3, aside, 1e-12)
	rng := rand.New(rand.NewPCG(81, 82))
	for range 50 {
		for i := range s.Marks {
			s.Marks[i].At = r3.Vector{X: 300 * rng.Float64(), Y: 300 * rng.Float64(), Z: 300 * rng.Float64()}
		}
		l := Lay{Mark: 2, From: 0, To: 1, Toward: r3.Vector{Y: 1}}
		for axis, g := range l.Gradients(s) {
			by := map[int]r3.Vector{}
			for _, pull := range g {
				by[pull.Mark] = by[pull.Mark].Add(pull.By)
			}
			for m := range s.Marks {
				way := r3.Vector{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()}
				const step = 1e-4
				read := func(far float64) float64 {
					moved := &Space{Marks: append([]Mark(nil), s.Marks...)}
					moved.Marks[m].At = moved.Marks[m].At.Add(way.Mul(far))
					a, p, d := l.Reads(moved)
					return [3]float64{a, p, d}[axis]
				}
				assert.InDelta(t, (read(step)-read(-step))/(2*step), by[m].Dot(way), 1e-5)
			}
		}
	}
}
