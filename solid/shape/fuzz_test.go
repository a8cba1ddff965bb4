package shape

import (
	"encoding/binary"
	"math"
	"testing"

	"github.com/golang/geo/r3"
)

// shapeFrom reads a shape from bytes: a kind, then coordinates of two bytes each,
// halves and quarters mostly, so that shapes touch often.
func shapeFrom(data []byte) (Convex, []byte) {
	next := func() float64 {
		if len(data) < 2 {
			data = nil
			return 0
		}
		x := int16(binary.LittleEndian.Uint16(data))
		data = data[2:]
		if x%7 == 0 { // now and then a size of another order
			return float64(x) * math.Pow(10, float64(x%5))
		}
		return float64(x%64) / 4
	}
	v := func() r3.Vector { return r3.Vector{X: next(), Y: next(), Z: next()} }
	if len(data) == 0 {
		return Hull{}, nil
	}
	kind := data[0]
	data = data[1:]
	switch kind % 5 {
	case 0:
		return Box{Corner: v(), Edges: axisEdges(next(), next(), next())}, data
	case 1:
		return Cylinder{Foot: v(), Axis: v(), Across: math.Abs(next())}, data
	case 2:
		u := v()
		w := u.Ortho().Mul(next())
		return Box{Corner: v(), Edges: [3]r3.Vector{u, w, u.Normalize().Cross(w.Normalize()).Mul(next())}}, data
	}
	var h Hull
	for i := 0; i <= int(kind/5)%6; i++ {
		h.Points = append(h.Points, v())
	}
	if kind%5 == 4 {
		h.Behind, h.Grow = v(), math.Abs(next())
	}
	return h, data
}

func FuzzDistance(f *testing.F) {
	m := newMaker(71)
	for range 40 {
		seed := make([]byte, 60)
		m.Read(seed)
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		a, rest := shapeFrom(data)
		b, _ := shapeFrom(rest)
		n, back := Distance(a, b), Distance(b, a)
		if math.IsInf(n.Signed, 1) && math.IsInf(back.Signed, 1) {
			return // empty
		}
		size := 1 + sizeOf(a) + sizeOf(b)
		within := 1e-9*size + n.Within + back.Within
		if math.Abs(n.Signed-back.Signed) > within {
			t.Errorf("not symmetric: %v, %v\n%s", n.Signed, back.Signed, literal(a, b))
		}
		if list := faults(a, b, n, 1e-6*size); len(list) > 0 {
			t.Errorf("%v\n%s", list, literal(a, b))
		}
		if gap := Gap(a, b); gap > n.Signed+within {
			t.Errorf("gap %v, signed %v\n%s", gap, n.Signed, literal(a, b))
		}
		if exactPair(a, b) && len(differences(a, b, 1)) <= 24 {
			if want := exactSign(a, b); want != sign(n.Signed) {
				t.Errorf("sign %d, signed %v\n%s", want, n.Signed, literal(a, b))
			}
		}
	})
}

func sizeOf(c Convex) float64 { o := open(c); return o.size }
