package survey

import (
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/survey/network"
)

// A probe that goes along the mounting frame turns with the marks that the frame
// hangs on: terms against moved readings.
func TestProbesTurnWithTheFrame(t *testing.T) {
	if testing.Short() {
		t.Skip("it reckons long, one thing after the other")
	}
	free := tapeOnly(4, 1e-4)
	free.depth("things", "P", "B2", "E3", 150, 200, r3.Vector{Y: 1})
	moveEvery(t, free, 1e-6)

	taped := tapeOnly(4, 1e-4)
	taped.depth("things", "P", "B2", "E3", 150, 200, r3.Vector{Y: 1})
	taped.tape("P", "B4")
	taped.tape("P", "E1")
	moveEvery(t, taped, 1e-6)

	onFace := tapeOnly(4, 1e-4) // the face's plane hangs on the depth as well
	onFace.depth("wall", "P", "B1", "B2", 300, 110, r3.Vector{Y: 1})
	onFace.readings.Points = append(onFace.readings.Points, Point{Feature: "wall", Mark: "P"})
	onFace.tape("P", "B4")
	onFace.tape("P", "E1")
	moveEvery(t, onFace, 1e-6)

	given := newBay(5, 1e-4).corners() // coordinates in the file's own axes
	given.depth("things", "P", "A", "F", 150, 200, r3.Vector{X: 1})
	given.tape("P", "C")
	given.readings.Frame = &Frame{Origin: "A", XToward: "B", OutToward: "F"}
	moveEvery(t, given, 1e-6)
}

// The residuals are those of probes along the frame in which the marks are
// given, though its plane weighs the face's marks by their uncertainty.
func TestProbesGoAlongTheLastFrame(t *testing.T) {
	b := tapeOnly(4, 3)
	b.depth("things", "P", "B2", "E3", 150, 200, r3.Vector{Y: 1})
	b.tape("P", "B4")
	b.tape("P", "E1")
	s := b.adjust(t)
	at := func(name string) r3.Vector {
		m, ok := s.Mark(name)
		require.True(t, ok)
		return s.Marks[m].At
	}
	e := at("E3").Sub(at("B2")).Normalize()
	n := r3.Vector{Y: 1}
	n = n.Sub(e.Mul(n.Dot(e))).Normalize()
	d := at("P").Sub(at("B2"))
	for l, tie := range s.net.adjusted.Net.Ties {
		fitted := tie.Value + s.net.adjusted.Residuals[l]
		switch tie.Kind {
		case network.Probe:
			assert.InDelta(t, n.Dot(d), fitted, 1e-6)
		case network.Sideways:
			assert.InDelta(t, e.Cross(n).Dot(d), fitted, 1e-6)
		}
	}
}
