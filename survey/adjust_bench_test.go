package survey

import (
	"fmt"
	"testing"

	"github.com/golang/geo/r3"

	"elbowroom/survey/network"
)

// hundred is a survey of four known marks on the wall and a hundred by tape.
func hundred() *bay {
	b := newBay(5, 1)
	b.known("wall", "A", 0, 0, 0)
	b.known("wall", "B", 500, 0, 0)
	b.known("wall", "C", 500, 300, 0)
	b.known("wall", "D", 0, 300, 0)
	for i := range 100 {
		name := fmt.Sprintf("T%d", i)
		b.blank("things", name, 600*b.random.Float64(), 400*b.random.Float64(), 100+200*b.random.Float64())
		for _, from := range []string{"A", "B", "C", "D"} {
			b.tape(from, name)
		}
	}
	for i := range 15 {
		b.tape(fmt.Sprintf("T%d", 5*i), fmt.Sprintf("T%d", 6*i+2))
	}
	return b
}

// free500 is a survey of 500 marks, each taped to the nearest before it.
func free500() *bay {
	b := newBay(2, 1)
	var names []string
	for i := range 500 {
		name := fmt.Sprintf("M%d", i)
		feature, z := "things", 1000*b.random.Float64()
		if i < 6 {
			feature, z = "wall", 0
		}
		b.blank(feature, name, 3000*b.random.Float64(), 2000*b.random.Float64(), z)
		taped := map[string]bool{}
		for range min(5, i) {
			best := ""
			for _, n := range names {
				if !taped[n] && (best == "" || b.truth[n].Sub(b.truth[name]).Norm() < b.truth[best].Sub(b.truth[name]).Norm()) {
					best = n
				}
			}
			taped[best] = true
			b.tape(best, name)
		}
		names = append(names, name)
	}
	b.readings.Frame = &Frame{Origin: "M0", XToward: "M1", OutToward: "M300"}
	return b
}

func BenchmarkAdjust104Marks415Tapes(b *testing.B) {
	r := hundred().readings
	for b.Loop() {
		if _, err := Adjust(r); err != nil {
			b.Fatal(err)
		}
	}
}

// The same, and then the covariance of every coordinate with every mark, those
// that no tape joins as well.
func BenchmarkAdjust104MarksAllPairs(b *testing.B) {
	r := hundred().readings
	for b.Loop() {
		s, err := Adjust(r)
		if err != nil {
			b.Fatal(err)
		}
		p, row := s.net.adjusted.Spreader(), make([]r3.Vector, len(s.net.marks))
		for k := range s.net.marks {
			for axis := range 3 {
				p.Reply([]network.Mover{{Mark: k, By: unit(axis)}}, row)
			}
		}
	}
}

func BenchmarkAdjust500MarksUnknown(b *testing.B) {
	r := free500().readings
	for b.Loop() {
		s, err := Adjust(r)
		if err != nil {
			b.Skip(err)
		}
		b.ReportMetric(s.Adjustment.VarianceFactor, "factor")
	}
}
