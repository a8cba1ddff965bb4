package job

import (
	"fmt"
	"math"

	"github.com/golang/geo/r1"
	"github.com/golang/geo/r3"

	"elbowroom/survey/length"
)

// roomHoldsBox complains of a room that does not hold the box's body at its place: out of
// such a room the box would be before it moved.
func (r *reader) roomHoldsBox(s section) {
	n, ok := s.get("room")
	if !ok || r.job.Tank.Size.Vector() == (r3.Vector{}) {
		return
	}
	t := r.job.Tank
	size, at := t.Size, t.Place.At
	sin, cos := math.Sincos(t.Place.Turn.Radians())
	sin, cos = math.Abs(sin), math.Abs(cos)
	// The box turns about the middle of its footprint.
	wide, high := size.Width*cos+size.Height*sin, size.Width*sin+size.Height*cos
	around := func(middle, across float64) r1.Interval {
		return r1.Interval{Lo: middle - across/2, Hi: middle + across/2}
	}
	box := [3]r1.Interval{
		around(at.X+size.Width/2, wide), around(at.Y+size.Height/2, high),
		{Lo: t.Place.StandOff, Hi: t.Place.StandOff + size.Depth},
	}
	u := r.section(n, "x", "y", "z")
	const rounding = 1e-6 // as for every limit of a length, mm
	for k, key := range [3]string{"x", "y", "z"} {
		span := r.job.Later.Room[k]
		if !span.Given || span.From-rounding <= box[k].Lo && box[k].Hi <= span.To+rounding {
			continue
		}
		style := r.job.Readings.Style
		r.complain(u.value[key], fmt.Sprintf("the box, which is to stand from %s %s to %s %s, is not inside it", key, style.Print(length.Place(box[k].Lo)), key, style.Print(length.Place(box[k].Hi))),
			"write the room in which the box is to stand and move, from the datum")
	}
}
