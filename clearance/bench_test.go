package clearance

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"elbowroom/solid"
	"elbowroom/survey"

	"github.com/golang/geo/r3"
)

// hundreds is a survey of 500 readings over every kind of feature, and a tank
// of 20 parts. lip is how far the lip is above the body.
func hundreds(lip float64) scene {
	rng := rand.New(rand.NewPCG(31, 32))
	jit := func(x, y, z float64) r3.Vector {
		return v(x+rng.NormFloat64(), y+rng.NormFloat64(), z+rng.NormFloat64())
	}
	grid := func(n int, at func(s, t float64) r3.Vector) []r3.Vector {
		side := int(math.Sqrt(float64(n)))
		var out []r3.Vector
		for i := range n {
			rows := (n + side - 1) / side
			out = append(out, at(float64(i%side)/float64(side-1), float64(i/side)/float64(rows-1)))
		}
		return out
	}
	s := scene{rules: Rules{LookedAt: allSides, AcceptSingle: true}}
	s.feature(survey.FeatureSpec{Name: "wall", Shape: survey.Face, Mount: true}, 1.5,
		grid(80, func(a, b float64) r3.Vector { return v(500*a-80, 350*b-80, 0.3*rng.NormFloat64()) })...)
	s.feature(survey.FeatureSpec{Name: "lid", Shape: survey.Skin, Behind: v(0, 1, 0)}, 1.5,
		grid(100, func(a, b float64) r3.Vector { return jit(500*a-80, 300, 300*b) })...)
	s.feature(survey.FeatureSpec{Name: "lip", Shape: survey.Edge, Behind: v(0, 1, 0)}, 1.5,
		grid(40, func(a, b float64) r3.Vector { return v(40+240*(a*8+b*4)/12, 180+lip, 30+0.1*rng.Float64()) })...)
	s.feature(survey.FeatureSpec{Name: "engine", Shape: survey.Block}, 1.5,
		grid(40, func(a, b float64) r3.Vector { return jit(300*a, -100+300*b, 260+80*math.Sin(9*a*b)) })...)
	s.feature(survey.FeatureSpec{Name: "pipe", Shape: survey.Tube, Diameter: 8}, 1.5,
		grid(40, func(a, b float64) r3.Vector { return v(-60, 350*(a*6+b)/7-80, 20) })...)
	s.feature(dots("cloud"), 1.5, grid(199, func(a, b float64) r3.Vector { return jit(430+40*a, 300*b-50, 250*a) })...)
	s.feature(dots("stone"), 1.5, v(100, 31.3-lip, 60))
	s.tank = solid.Tank{Size: solid.Size{Width: 240, Height: 150, Depth: 110}, Within: 1, Place: solid.Place{StandOff: 6, Within: 1}}
	s.tank.Place.At.X, s.tank.Place.At.Y = 40, 30
	for i := range 5 {
		f := solid.Fitting{Name: fmt.Sprint("f", i), Side: solid.Right, At: solid.Spot{{From: solid.Bottom, By: 15 + 30*float64(i)}, {}}, Within: 1}
		f.Stack = []solid.Element{{Name: "a", Diameter: 24, Length: 12}, {Name: "b", Diameter: 18, Length: 20}}
		f.KeepOpen = []solid.KeepOpen{{Name: "hand", Diameter: 26, Length: 40}}
		s.tank.Fittings = append(s.tank.Fittings, f)
	}
	for i := range 4 {
		at := 50 * float64(i)
		s.tank.Brackets = append(s.tank.Brackets, solid.Bracket{Name: fmt.Sprint("tab", i), Min: v(at, -20, 0), Max: v(at+30, 0, 4)})
	}
	return s
}

func benchmark(b *testing.B, lip float64, is string) {
	s := hundreds(lip)
	c := s.checker(&testing.T{})
	if n := len(s.readings.Points); n != 500 || len(c.assembly.Parts) != 20 {
		b.Fatalf("%d readings, %d parts", n, len(c.assembly.Parts))
	}
	b.ReportAllocs()
	for b.Loop() {
		rep, err := Check(context.Background(), c.space, c.assembly, s.rules)
		if err != nil || rep.SureIs != is {
			b.Fatal(err, rep.SureIs, rep.Sure)
		}
	}
}

// 500 readings and 20 parts: where the cheap bounds settle the joint
// probability, and where it must be sampled.
func BenchmarkCheckBounds(b *testing.B)  { benchmark(b, 40, "at least") }
func BenchmarkCheckSampled(b *testing.B) { benchmark(b, 9.8, "about") }
