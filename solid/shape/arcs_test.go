package shape

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestArcsAgainstManyPoints(t *testing.T) {
	m := newMaker(51)
	const n = 120
	for i := range 300 {
		a, b := m.arc(100), m.arc(100)
		got := DistanceArcs(a, 5, b, 3)
		oa, ob := a.open(), b.open()
		sampled := math.Inf(1)
		for j := 0; j <= n; j++ {
			for k := 0; k <= n; k++ {
				sampled = math.Min(sampled, oa.at(float64(j)/n).Distance(ob.at(float64(k)/n))-8)
			}
		}
		require.LessOrEqual(t, got.Signed, sampled+1e-7, "%d", i)
		require.GreaterOrEqual(t, got.Signed, sampled-(oa.length+ob.length)/(2*n)-1e-7, "%d", i)
		require.LessOrEqual(t, got.Within, 1.1e-7)
		require.InDelta(t, 5, got.OnA.Distance(oa.at(got.Along)), 1e-9)
		back := DistanceArcs(b, 3, a, 5)
		require.InDelta(t, got.Signed, back.Signed, 2e-7, "the same both ways")
	}
}

func TestArcsKnownAnswers(t *testing.T) {
	quarter := Arc{From: r3.Vector{X: 10}, Corner: r3.Vector{X: 10, Y: 10}, To: r3.Vector{Y: 10}}
	up := func(z float64) Arc {
		by := r3.Vector{Z: z}
		return Arc{quarter.From.Add(by), quarter.Corner.Add(by), quarter.To.Add(by)}
	}
	wider := Arc{From: r3.Vector{X: 25}, Corner: r3.Vector{X: 25, Y: 25}, To: r3.Vector{Y: 25}}
	line := func(from, to r3.Vector) Arc { return Arc{from, from.Add(to).Mul(.5), to} }
	for name, c := range map[string]struct {
		a, b Arc
		want float64
	}{
		"one above the other":  {quarter, up(7), 4},
		"one around the other": {quarter, wider, 12},
		"a line past it":       {quarter, line(r3.Vector{X: 14, Y: -50}, r3.Vector{X: 14, Y: 50}), 1},
		"a line above":         {quarter, line(r3.Vector{X: -50, Z: 9}, r3.Vector{X: 50, Y: 20, Z: 9}), 6},
		"two lines that cross": {line(r3.Vector{X: -9}, r3.Vector{X: 9}), line(r3.Vector{Y: -9, Z: 4}, r3.Vector{Y: 9, Z: 4}), 1},
		"two lines in line":    {line(r3.Vector{}, r3.Vector{X: 9}), line(r3.Vector{X: 20}, r3.Vector{X: 30}), 8},
		"itself":               {quarter, quarter, -3},
	} {
		n := DistanceArcs(c.a, 2, c.b, 1)
		assert.InDelta(t, c.want, n.Signed, 2e-7+n.Within, name)
		assert.Less(t, n.Within, .02, name)
	}
}

func BenchmarkArcsApart(b *testing.B) {
	m := newMaker(53)
	p, q := m.arc(100), m.arc(100)
	b.ReportAllocs()
	for range b.N {
		DistanceArcs(p, 5, q, 5)
	}
}
