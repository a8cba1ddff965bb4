package way

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/require"

	"elbowroom/solid/shape"
)

// Wherever the parts are on a way, what is swept holds them; a way along an axis sweeps no
// more than that.
func TestSweepHoldsTheParts(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	s := bay()
	s.Parts = append(s.Parts, Part{"neck", shape.Cylinder{Foot: r3.Vector{X: 50, Y: 60, Z: 20}, Axis: r3.Vector{Y: 25}, Across: 15}})
	for n := range 60 {
		a, b := randomPose(r), randomPose(r)
		if n%3 == 0 {
			b.Turn = a.Turn
		}
		p := Along(s, []Pose{a, b, {}})
		swept := p.Sweep(25)
		for _, l := range p.legs {
			for k := range 301 {
				m := l.at(float64(k)/300, s.Pivot)
				for _, part := range s.Parts {
					within(t, swept, shape.SpanOf(m.shape(part.Solid)))
				}
			}
		}
	}
	out := Along(s, []Pose{{Shift: r3.Vector{Z: 300}}, {}})
	require.Equal(t, []shape.Span{
		{High: [3]float64{100, 60, 340}}, {Low: [3]float64{35, 60, 5}, High: [3]float64{65, 85, 335}},
	}, out.Sweep(25))
	require.Equal(t, shape.Span{High: [3]float64{100, 85, 40}}, out.Home())
}

// within says that one of the spans holds another.
func within(t *testing.T, spans []shape.Span, in shape.Span) {
	t.Helper()
	for _, s := range spans {
		held := true
		for axis := range 3 {
			held = held && s.Low[axis] <= in.Low[axis]+1e-9 && s.High[axis] >= in.High[axis]-1e-9
		}
		if held {
			return
		}
	}
	require.Fail(t, "not held", "%v", in)
}

// A leg's span holds its parts all along, however far they turn.
func TestSpanOfALeg(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	s := bay()
	c := ready(s)
	for range 200 {
		l := between(randomPose(r), randomPose(r))
		spans := c.sweep(l)
		for k := range 101 {
			within(t, spans[:1], shape.SpanOf(l.at(float64(k)/100, s.Pivot).shape(s.Parts[0].Solid)))
		}
	}
}

// What is said of how low a part comes is what sampling finds, to a hundredth.
func TestDeepestAgainstSampling(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	s := bay()
	s.Parts = append(s.Parts, Part{"neck", shape.Cylinder{Foot: r3.Vector{X: 50, Y: 60, Z: 20}, Axis: r3.Vector{Y: 25}, Across: 15}})
	for range 60 {
		path := []Pose{randomPose(r), randomPose(r), {}}
		p := Along(s, path)
		for i, part := range s.Parts {
			got := p.Deepest(i, 3)
			least := math.Inf(1)
			for _, l := range p.legs {
				for k := range 2001 {
					least = math.Min(least, shape.SpanOf(l.at(float64(k)/2000, s.Pivot).shape(part.Solid)).Low[2]-3)
				}
			}
			require.LessOrEqual(t, got.Lower, least+1e-9)
			require.InDelta(t, least, got.Near.Signed, 2*fine)
			m := between(got.At, got.At).at(0, s.Pivot)
			require.InDelta(t, got.Near.Signed, shape.SpanOf(m.shape(part.Solid)).Low[2]-3, 1e-9)
			require.InDelta(t, 0, m.point(got.Home(got.Near.OnA)).Sub(got.Near.OnA).Norm(), 1e-9)
		}
	}
}
