package shape

import (
	"testing"

	"github.com/golang/geo/r3"
)

// benchmarkApart measures pairs that are apart, as nearly all are.
func benchmarkApart(b *testing.B, first, second func(m maker) Convex) {
	m := newMaker(1)
	var pairs [][2]Convex
	for len(pairs) < 256 {
		if p, q := first(m), second(m); Distance(p, q).Signed > 0 {
			pairs = append(pairs, [2]Convex{p, q})
		}
	}
	b.ReportAllocs()
	b.ResetTimer()
	for i := 0; i < b.N; i++ {
		Distance(pairs[i%256][0], pairs[i%256][1])
	}
}

func aBox(m maker) Convex      { return m.box(300) }
func aCylinder(m maker) Convex { return m.cylinder(300) }
func aHull(n int) func(m maker) Convex {
	return func(m maker) Convex { return m.hull(n, 300) }
}

func BenchmarkPointBox(b *testing.B)         { benchmarkApart(b, aBox, aHull(1)) }
func BenchmarkPointCylinder(b *testing.B)    { benchmarkApart(b, aCylinder, aHull(1)) }
func BenchmarkSegmentBox(b *testing.B)       { benchmarkApart(b, aBox, aHull(2)) }
func BenchmarkSegmentCylinder(b *testing.B)  { benchmarkApart(b, aCylinder, aHull(2)) }
func BenchmarkSegmentSegment(b *testing.B)   { benchmarkApart(b, aHull(2), aHull(2)) }
func BenchmarkTriangleBox(b *testing.B)      { benchmarkApart(b, aBox, aHull(3)) }
func BenchmarkTriangleCylinder(b *testing.B) { benchmarkApart(b, aCylinder, aHull(3)) }
func BenchmarkBlockBox(b *testing.B)         { benchmarkApart(b, aBox, aHull(20)) }
func BenchmarkBlockCylinder(b *testing.B)    { benchmarkApart(b, aCylinder, aHull(20)) }

func benchmarkOverlap(b *testing.B, first, second func(m maker) Convex) {
	m := newMaker(1)
	var pairs [][2]Convex
	for len(pairs) < 64 {
		p, q := first(m), second(m)
		q = Prepare(moved(q, Distance(p, q).Normal.Mul(-Distance(p, q).Signed-10)))
		if Distance(p, q).Signed < 0 {
			pairs = append(pairs, [2]Convex{p, q})
		}
	}
	b.ReportAllocs()
	b.ResetTimer()
	for i := 0; i < b.N; i++ {
		Distance(pairs[i%64][0], pairs[i%64][1])
	}
}

func BenchmarkOverlapTriangleBox(b *testing.B)      { benchmarkOverlap(b, aBox, aHull(3)) }
func BenchmarkOverlapTriangleCylinder(b *testing.B) { benchmarkOverlap(b, aCylinder, aHull(3)) }
func BenchmarkOverlapBlockBox(b *testing.B)         { benchmarkOverlap(b, aBox, aHull(20)) }

// BenchmarkTouchingBoxes is the slow way: signs by exact arithmetic.
func BenchmarkTouchingBoxes(b *testing.B) {
	x := Box{Edges: [3]r3.Vector{{X: 2}, {Y: 3}, {Z: 4}}}
	y := Box{Corner: r3.Vector{X: 2, Y: 1}, Edges: x.Edges}
	for i := 0; i < b.N; i++ {
		Distance(x, y)
	}
}

// BenchmarkTank is 20 parts against 500 pieces of features, every pair, though Gap
// would rule out most.
func BenchmarkTank(b *testing.B) {
	m := newMaker(1)
	var parts, pieces []Convex
	for i := 0; i < 10; i++ {
		parts = append(parts, m.box(100), m.cylinder(100))
	}
	for i := 0; i < 500; i++ {
		pieces = append(pieces, m.hull(1+i%3, 300))
	}
	b.ReportAllocs()
	b.ResetTimer()
	for i := 0; i < b.N; i++ {
		for _, p := range parts {
			for _, q := range pieces {
				Distance(p, q)
			}
		}
	}
}

func BenchmarkGap(b *testing.B) {
	m := newMaker(1)
	p, q := Convex(m.box(300)), Convex(m.hull(3, 300))
	for i := 0; i < b.N; i++ {
		Gap(p, q)
	}
}

func BenchmarkFaces40(b *testing.B) {
	h := newMaker(1).hull(40, 300)
	for range b.N {
		Faces(h.Points)
	}
}

// BenchmarkFacesOfLattice has many points in one plane, which needs exact signs.
func BenchmarkFacesOfLattice(b *testing.B) {
	points := lattice(3)
	for range b.N {
		Faces(points)
	}
}

func BenchmarkTwoCylinders(b *testing.B)        { benchmarkApart(b, aCylinder, aCylinder) }
func BenchmarkOverlapTwoCylinders(b *testing.B) { benchmarkOverlap(b, aCylinder, aCylinder) }
