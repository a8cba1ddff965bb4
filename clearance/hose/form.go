package hose

import (
	"math"

	"github.com/golang/geo/r3"
)

// Form is one bend of a run as a person forms it, going along from the run's
// beginning.
type Form struct {
	// Straight is how far the run goes straight before it, from the end of the bend
	// before or from the beginning, mm; Start is where it begins along the run.
	Straight, Start float64
	Turn            float64 // by how much, radians
	Radius          float64 // to the centre line, mm
	// Side is the unit direction that it bends toward, square to the run before it.
	Side r3.Vector
	// Roll is by how much its plane is turned from that of the bend before, about the
	// run, clockwise as seen looking along it, radians from -pi to pi; 0 of the first.
	Roll float64
}

// Forms lists the bends of a run in order; bends that follow each other in one plane
// without a straight are one. tail is the straight after the last.
func (r Run) Forms() (forms []Form, tail float64) {
	const together = 1e-6 // mm, and radians: rounding
	var normal r3.Vector
	along, end := 0.0, 0.0
	for _, p := range r.Tube(0).Pieces {
		along = p.Start + p.Length
		if !p.Bend {
			continue
		}
		_, in := p.At(0)
		_, out := p.At(p.Length)
		side := out.Sub(in.Mul(out.Dot(in))).Normalize()
		n := in.Cross(side)
		f := Form{Straight: p.Start - end, Start: p.Start, Turn: p.Length / p.radius, Radius: p.radius, Side: side}
		end = p.Start + p.Length
		if k := len(forms); k > 0 {
			f.Roll = math.Atan2(normal.Cross(n).Dot(in), normal.Dot(n))
			if f.Straight < together && math.Abs(f.Roll) < together && math.Abs(f.Radius-forms[k-1].Radius) < together {
				forms[k-1].Turn += f.Turn
				continue
			}
		}
		normal = n
		forms = append(forms, f)
	}
	return forms, along - end
}

// Loops says whether a bend of the run turns by more than half a circle.
func (r Run) Loops() bool {
	forms, _ := r.Forms()
	for _, f := range forms {
		if f.Turn > math.Pi+straightTurn {
			return true
		}
	}
	return false
}

// Elbow is a moulded elbow with two straight legs that joins two ends.
type Elbow struct {
	Angle  float64 // the moulded angle, radians: 45 or 90 degrees
	Off    float64 // by how much the ends are off that angle, radians
	Miss   float64 // by how much their axes miss each other, mm
	In     float64 // from the beginning to the corner where the legs' middles meet, mm
	Out    float64 // from there to the end
	Radius float64 // the widest that the shorter leg has room for, to the centre line, mm
}

const (
	// elbowOff is how far the ends may be off a moulded angle: what any hose gives at
	// its two clamps, five degrees; common practice, no source.
	elbowOff = 5 * math.Pi / 180
	// elbowMiss is how far the axes may miss each other, in outside diameters: legs
	// that are a few diameters long give that much; common practice, no source.
	elbowMiss = 0.25
)

// Elbow says whether a moulded 45 or 90 degree elbow would join the ends: their axes
// meet, but for a quarter of the outside diameter, at that angle, but for 5 degrees,
// ahead of the one and behind the other by at least the straight that they keep.
func (e Ends) Elbow(outside, straight float64) (Elbow, bool) {
	turn := e.Leave.Angle(e.Arrive).Radians()
	var b Elbow
	for _, b.Angle = range []float64{math.Pi / 4, math.Pi / 2} {
		if b.Off = turn - b.Angle; math.Abs(b.Off) > elbowOff {
			continue
		}
		n := e.Leave.Cross(e.Arrive) // of length sin(turn), over 0.6 here
		w := e.To.Sub(e.From)
		b.In = w.Cross(e.Arrive).Dot(n) / n.Norm2()
		b.Out = e.To.Sub(e.From.Add(e.Leave.Mul(b.In))).Dot(e.Arrive)
		b.Miss = math.Abs(w.Dot(n)) / n.Norm()
		b.Radius = (math.Min(b.In, b.Out) - straight) / math.Tan(b.Angle/2)
		return b, b.Miss <= elbowMiss*outside && b.Radius > outside/2
	}
	return Elbow{}, false
}
