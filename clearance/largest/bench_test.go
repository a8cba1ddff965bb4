package largest

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"

	"elbowroom/survey"
)

// hundreds is a bay of so many readings over the demo's kinds of feature: a face, a lip,
// a lid, an engine, a pipe, a loom, and posts on the right.
func hundreds(n int) scene {
	rng := rand.New(rand.NewPCG(31, 32))
	jit := func(x, y, z float64) r3.Vector {
		return v(x+2*rng.NormFloat64(), y+2*rng.NormFloat64(), z+2*rng.NormFloat64())
	}
	s := bay(0)
	s.readings = survey.Readings{}
	share := n / 10
	list := func(k int, at func(a, b float64) r3.Vector) (out []r3.Vector) {
		side := int(math.Ceil(math.Sqrt(float64(k))))
		for i := range k {
			out = append(out, at(float64(i%side)/float64(side-1), float64(i/side)/float64(side-1)))
		}
		return out
	}
	along := func(k int, at func(a float64) r3.Vector) (out []r3.Vector) {
		for i := range k {
			out = append(out, at(float64(i)/float64(k-1)))
		}
		return out
	}
	s.feature(survey.FeatureSpec{Name: "wall", Shape: survey.Face, Mount: true}, 1.5,
		list(share, func(a, b float64) r3.Vector { return v(400*a-40, 300*b-40, 0.3*rng.NormFloat64()) })...)
	s.feature(survey.FeatureSpec{Name: "lip", Shape: survey.Edge, Round: 3, Behind: v(0, 1, 0)}, 1.5,
		along(share, func(a float64) r3.Vector { return jit(400*a-40, 190, 40) })...)
	s.feature(survey.FeatureSpec{Name: "lid", Shape: survey.Skin, Behind: v(0, 1, 0)}, 1.5,
		list(2*share, func(a, b float64) r3.Vector { return jit(400*a-40, 245, 300*b-20) })...)
	s.feature(survey.FeatureSpec{Name: "engine", Shape: survey.Block}, 1.5,
		list(share, func(a, b float64) r3.Vector { return jit(300*a, -60+300*b, 180+80*math.Sin(9*a*b)) })...)
	s.feature(survey.FeatureSpec{Name: "pipe", Shape: survey.Tube, Diameter: 8}, 1.5,
		along(share, func(a float64) r3.Vector { return jit(5, 300*a-50, 20) })...)
	s.feature(survey.FeatureSpec{Name: "loom", Shape: survey.Dots, Round: 5}, 1.5,
		along(share, func(a float64) r3.Vector { return jit(400*a-40, -5, 30) })...)
	s.feature(survey.FeatureSpec{Name: "posts", Shape: survey.Dots}, 1.5,
		list(n-8*share, func(a, b float64) r3.Vector { return jit(310+60*a, 300*b-40, 20+200*a) })...)
	return s
}

func bench(b *testing.B, s scene) {
	space, err := survey.Adjust(s.readings)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	var looks int
	for b.Loop() {
		a, err := Solve(context.Background(), space, s.tank, s.rules, s.limits)
		if err != nil {
			b.Fatal(err)
		}
		looks = a.Looked
	}
	b.ReportMetric(float64(looks), "boxes")
}

func BenchmarkBare500(b *testing.B) {
	s := hundreds(500)
	s.tank.Fittings, s.tank.Brackets = nil, nil
	bench(b, s)
}

func BenchmarkAssembly500(b *testing.B) { bench(b, hundreds(500)) }

func BenchmarkTurned500(b *testing.B) {
	s := hundreds(500)
	s.limits.Turn = Range{-5 * degree, 5 * degree, true}
	bench(b, s)
}

// thousands is points alone, as a scan has them, around a body without fittings.
func thousands(n int) scene {
	rng := rand.New(rand.NewPCG(1, 2))
	s := exactBox()
	var dots []r3.Vector
	for range n {
		p := v(600*rng.Float64(), 400*rng.Float64(), 1+299*rng.Float64())
		if d := p.Sub(v(300, 200, 0)); math.Abs(d.X) > 150 || math.Abs(d.Y) > 100 || d.Z > 150 {
			dots = append(dots, p)
		}
	}
	s.feature(survey.FeatureSpec{Name: "dots", Shape: survey.Dots}, 0.5, dots...)
	s.gap("dots", 3)
	s.limits.Room = room(0, 600, 0, 400, 0, 300)
	s.limits.Outside = true
	return s
}

func BenchmarkPoints5000(b *testing.B) { bench(b, thousands(5000)) }

func BenchmarkSearchPoints5000(b *testing.B) { search1(b, thousands(5000)) }

func BenchmarkSearchTurned500(b *testing.B) {
	s := hundreds(500)
	s.limits.Turn = Range{-5 * degree, 5 * degree, true}
	space, err := survey.Adjust(s.readings)
	if err != nil {
		b.Fatal(err)
	}
	s.limits.Effort, s.limits.Top = 1, 1
	for b.Loop() {
		q, err := newSearch(task{space: space, tank: s.tank, rules: s.rules, limits: s.limits})
		if err == nil {
			err = q.sweep(context.Background())
		}
		if err != nil || q.best.frame == nil {
			b.Fatal(fmt.Sprint(err, q.best.value))
		}
		b.ReportMetric(q.best.value, "litres")
	}
}

// Only the search and the bound, without Check's reports and the box within evidence.
func BenchmarkSearchAssembly500(b *testing.B) { search1(b, hundreds(500)) }

func BenchmarkSearchBare500(b *testing.B) {
	s := hundreds(500)
	s.tank.Fittings, s.tank.Brackets = nil, nil
	search1(b, s)
}

func search1(b *testing.B, s scene) {
	space, err := survey.Adjust(s.readings)
	if err != nil {
		b.Fatal(err)
	}
	s.limits.Effort, s.limits.Top = 1, 1
	b.ReportAllocs()
	for b.Loop() {
		q, err := newSearch(task{space: space, tank: s.tank, rules: s.rules, limits: s.limits})
		if err == nil {
			err = q.run(context.Background())
		}
		if err != nil || q.best.frame == nil {
			b.Fatal(fmt.Sprint(err, q.best.value))
		}
		b.ReportMetric(float64(q.pops), "nodes")
		b.ReportMetric(100*(1-q.best.value/q.bound()), "%gap")
	}
}
