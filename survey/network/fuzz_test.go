package network_test

import (
	"encoding/binary"
	"math"
	"testing"

	"elbowroom/survey/network"

	"github.com/golang/geo/r3"
	"gonum.org/v1/gonum/floats"
)

// Whatever the numbers, there is a plane with a normal of length 1 and
// influences that add up to 1, or an error that says why not.
func FuzzFitPlane(f *testing.F) {
	bytes := func(v ...float64) (out []byte) {
		for _, x := range v {
			out = binary.LittleEndian.AppendUint64(out, math.Float64bits(x))
		}
		return out
	}
	f.Add(bytes(0, 0, 0, 1, 0, 0, 0, 1, 0), 1.)
	f.Add(bytes(0, 0, 0, 1e300, 0, 0, 0, 1e300, 0, -1e300, 5, 5), 1e-300)
	f.Add(bytes(0, 0, 0, 5e-324, 0, 0, 0, 5e-324, 0), 1e300)
	f.Add(bytes(1, 1, 1, 2, 2, 2, 3, 3, 3.0000001), 0.)
	f.Add(bytes(math.NaN(), 1, 1, 2, 2, 2, 3, 3, math.Inf(1)), 1.)
	f.Fuzz(func(t *testing.T, data []byte, first float64) {
		var points []r3.Vector
		for ; len(data) >= 24 && len(points) < 50; data = data[24:] {
			at := func(k int) float64 { return math.Float64frombits(binary.LittleEndian.Uint64(data[8*k:])) }
			points = append(points, r3.Vector{X: at(0), Y: at(1), Z: at(2)})
		}
		if len(points) == 0 {
			return
		}
		u := make([]float64, len(points))
		for i := range u {
			u[i] = 1
		}
		u[0] = first
		p, err := network.FitPlane(points, u)
		if err != nil {
			return
		}
		if math.Abs(p.Normal.Norm()-1) > 1e-12 {
			t.Fatalf("normal %v of %v", p.Normal, points)
		}
		var most float64
		for _, q := range points {
			most = max(most, math.Abs(q.X), math.Abs(q.Y), math.Abs(q.Z))
		}
		// Places are known to about 1e-16 of the greatest coordinate, and count
		// over the spreads.
		within := 1e-14 * most / p.SpreadT * (1 + p.SpreadS/p.SpreadT)
		if sum := floats.Sum(p.Influence(p.Centre.Add(p.S.Mul(p.SpreadS)), nil)); !(math.Abs(sum-1) <= 1e-12+within) {
			t.Fatalf("influences add up to %v for %v", sum, points)
		}
	})
}
