package mesh_test

import (
	"encoding/binary"
	"errors"
	"math"
	"testing"

	"elbowroom/survey/mesh"

	"github.com/golang/geo/r2"
	"github.com/stretchr/testify/assert"
)

func FuzzDelaunay(f *testing.F) {
	add := func(v ...float64) {
		var data []byte
		for _, x := range v {
			data = binary.LittleEndian.AppendUint64(data, math.Float64bits(x))
		}
		f.Add(data)
	}
	add(0, 0, 1, 0, 1, 1, 0, 1)
	add(0, 0, 1, 1, 2, 2, 3, 3, 3, 3.0000000000000004)
	add(0, 0, 1e300, 0, 0, 1e300, 5e-324, 5e-324, -1e-300, 1e308)
	add(0, 0, math.NaN(), 1)
	add(5, 0, 3, 4, 0, 5, -3, 4, -5, 0, 0, -5, 0, 0)
	f.Fuzz(func(t *testing.T, data []byte) {
		var points []r2.Point
		for ; len(data) >= 16 && len(points) < 16; data = data[16:] {
			points = append(points, r2.Point{
				X: math.Float64frombits(binary.LittleEndian.Uint64(data)),
				Y: math.Float64frombits(binary.LittleEndian.Uint64(data[8:])),
			})
		}
		triangles, err := mesh.Delaunay(points)
		var unknown *mesh.NotFinite
		switch {
		case errors.As(err, &unknown):
		case err != nil:
			assert.LessOrEqual(t, len(mesh.Hull(points)), 2)
		default:
			assertDelaunay(t, points, triangles)
		}
	})
}
