package clearance

import (
	"math"
	"slices"

	"github.com/golang/geo/r3"

	"elbowroom/clearance/hose"
	"elbowroom/solid"
)

// hoses drafts the hoses' lines and bends.
func (j *Judge) hoses(all, slips, bends bool) []Held {
	c := j.c
	var out []Held
	for i, spec := range c.rules.Hoses {
		h, ok := c.hose(spec)
		if !ok {
			continue
		}
		held := j.bends(h)
		held.Hose, held.Follow = i, h.follow
		out = append(out, held)
		if bends {
			continue
		}
		for k := range c.features {
			o := &c.features[k]
			if len(o.pieces) == 0 {
				continue
			}
			if c.holds(o, h.end) {
				gap, _ := h.asks(c, o.gap)
				if !h.withoutEnd(c.endOff(h, gap)) {
					h.tube = h.whole
					continue
				}
			}
			if held, near := j.hold(h, o, all, slips); near {
				held.Hose, held.Follow = i, h.follow
				out = append(out, held)
			}
			h.tube = h.whole
		}
	}
	return out
}

// start is how much a place on the hose moves with the start of its run.
func (h *hoseThing) start(which int, at r3.Vector) float64 {
	s, p := h.tube.Pieces[which], h.run.Points
	switch {
	case s.Bend && s.Corner == 1:
		before, _ := h.mixBend(s.Corner, at)
		return before
	case !s.Bend && s.Corner == 0:
		leg := p[1].Sub(p[0])
		return 1 - math.Min(1, math.Max(0, at.Sub(p[0]).Dot(leg)/leg.Norm2()))
	}
	return 0
}

// bends is the line of a hose's bends: the bend radius against the least one.
func (j *Judge) bends(h *hoseThing) Held {
	out := Held{Part: -1, Feature: -1, Bends: true, Name: h.spec.Name, Against: "its bends", Gap: h.spec.BendRadius}
	out.d.line.Gap = out.Gap
	radius, _, bent := h.run.Least()
	if !h.spec.ToCentre {
		radius -= h.spec.Outside / 2
	}
	out.d.main.value = radius
	if bent {
		out.d.main = j.c.leastFigure(h, radius)
	}
	out.Pins = []Pin{{Clearance: radius, U: out.d.main.u, OnPart: h.run.Points[0], OnFeature: h.run.Points[1], Normal: h.slope()}}
	return out
}

// slope is how much the least bend radius shrinks as the start of the run moves.
func (h *hoseThing) slope() r3.Vector {
	const step = 1e-3 // as in leastFigure
	points := slices.Clone(h.run.Points)
	var by [3]float64
	for a := range 3 {
		d := solid.Axis(a).Mul(step)
		points[0] = h.run.Points[0].Add(d)
		more, _, _ := hose.Round(points, h.spec.Straight).Least()
		points[0] = h.run.Points[0].Sub(d)
		less, _, _ := hose.Round(points, h.spec.Straight).Least()
		if by[a] = (less - more) / (2 * step); math.IsNaN(by[a]) || math.IsInf(by[a], 0) {
			by[a] = 0 // straight on one side
		}
	}
	return r3.Vector{X: by[0], Y: by[1], Z: by[2]}
}

// MostBend bounds from above the bend radius that a hose's run can have while its
// fitting is within off of a place in the judge's frame. It is the least of what
// each leg allows. known is false where there is no run, or off is too far to tell.
//
// The first turn is the angle between two legs; while the fitting is within off of
// its place the first leg, of length l, points within asin(off/l) of where it did.
func (j *Judge) MostBend(hose int, from r3.Vector, off float64) (radius float64, known bool) {
	c := j.c
	spec := c.rules.Hoses[hose]
	if j.runs == nil {
		j.runs = make([][]r3.Vector, len(c.rules.Hoses))
		for i, spec := range c.rules.Hoses {
			if thing, ok := c.hose(spec); ok {
				j.runs[i] = thing.run.Points
			}
		}
	}
	p := j.runs[hose]
	if len(p) < 3 {
		return 0, false
	}
	p[0] = from
	radius = math.Inf(1)
	last := len(p) - 2
	first := p[1].Sub(p[0]).Norm()
	tangents := make([]float64, len(p))
	for i := 1; i+1 < len(p); i++ {
		turn := p[i].Sub(p[i-1]).Angle(p[i+1].Sub(p[i])).Radians()
		if i == 1 {
			if off >= first {
				return 0, false
			}
			turn = math.Max(0, turn-math.Asin(off/first))
		}
		tangents[i] = math.Tan(turn / 2)
	}
	for k := 0; k+1 < len(p); k++ {
		room := p[k+1].Sub(p[k]).Norm()
		if k == 0 {
			room += off - spec.Straight
		}
		if k == last {
			room -= spec.Straight
		}
		if need := tangents[k] + tangents[k+1]; need > 0 {
			radius = math.Min(radius, math.Max(0, room)/need)
		}
	}
	if !spec.ToCentre {
		radius -= spec.Outside / 2
	}
	return radius, true
}
