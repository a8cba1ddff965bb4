package way

import (
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/solid/shape"
)

// Home is the span of the assembly at home, along its own axes.
func (p Passage) Home() shape.Span {
	all := shape.SpanOf(p.course.Parts[0].Solid)
	for _, part := range p.course.Parts[1:] {
		all = all.Join(shape.SpanOf(part.Solid))
	}
	return all
}

// Sweep is room that the parts go through, home and all, along the assembly's own axes:
// spans that between them hold each part all the way, and not much else. A leg along one
// axis needs one for each part; any other is cut into stretches on which no point goes
// farther than longest, mm.
func (p Passage) Sweep(longest float64) []shape.Span {
	var out []shape.Span
	c := p.course
	for _, l := range p.legs {
		pieces := 1
		if d := l.shift; !l.straight() || math.Max(math.Abs(d.X), math.Max(math.Abs(d.Y), math.Abs(d.Z))) < d.Norm() {
			pieces = 1 + int((d.Norm()+l.turn.Norm()*c.farthest())/longest)
		}
		for k := range pieces {
			from, to := l.at(float64(k)/float64(pieces), c.Pivot), l.at(float64(k+1)/float64(pieces), c.Pivot)
			for i, part := range c.Parts {
				s := shape.SpanOf(from.shape(part.Solid)).Join(shape.SpanOf(to.shape(part.Solid)))
				out = append(out, widened(s, l.turn.Mul(1/float64(pieces)), c.reach[i]))
			}
		}
	}
	return out
}

// RoomAround is a span along the assembly's own axes that holds the room.
func (s Scene) RoomAround() shape.Span {
	around := shape.Box{Corner: s.along(r3.Vector{X: s.Room.Low[0], Y: s.Room.Low[1], Z: s.Room.Low[2]})}
	for k, a := range s.axes() {
		around.Edges[k] = a.Mul(s.Room.High[k] - s.Room.Low[k])
	}
	return shape.SpanOf(around)
}
