package clearance

import (
	"math"
	"slices"

	"github.com/golang/geo/r3"

	"elbowroom/clearance/hose"
	"elbowroom/solid"
)

// hoseBackOnto drafts a hose against an element of its own fitting, where it turns back:
// one that never turns by more than a right angle from how it left only goes farther
// away; nor where it comes back so far off that nothing can undo it. It counts from where it turns back on, and from where it has left the fitting
// (see leftBehind).
func (c *checker) hoseBackOnto(h *hoseThing, part solid.Part) []draft {
	back, turns := h.turnsBack()
	if !turns {
		return nil
	}
	gap, name := c.partGap(part)
	radius := math.Inf(1)
	if least, _, bent := h.run.Least(); bent {
		radius = least
	}
	first, _ := h.whole.Legs()
	from := max(first, back, leftBehind(h.whole.Radius+gap, radius))
	h.tube = h.whole.Between(from, h.whole.Length())
	defer func() { h.tube = h.whole }()
	if len(h.tube.Pieces) == 0 {
		return nil
	}
	d := c.hoseToPart(h, part, gap, name)
	if d.main.settled(gap) {
		return nil // it turns back, but nowhere near
	}
	return []draft{d}
}

// leftBehind is how far along a line that bends no tighter than a radius has gone so far
// away from the plane that it left squarely: at least radius sin(along/radius).
func leftBehind(away, radius float64) float64 {
	if math.IsInf(radius, 1) {
		return away
	}
	if away >= radius {
		return math.Max(away, radius*math.Pi/2)
	}
	return radius * math.Asin(away/radius)
}

// turnsBack says where along it, mm, the hose first goes against the direction in which it
// left. Bends are of a third of a circle at most: it is looked at their ends and at places
// between; the last before is told, which is early.
func (h *hoseThing) turnsBack() (along float64, turns bool) {
	// looks are along a bend, 4 degrees apart; what turns by less than rounding over a right
	// angle comes no nearer over a metre than a limit is reached.
	const looks, rounding = 30, 1e-9
	var leave r3.Vector
	for k, p := range h.whole.Pieces {
		if k == 0 {
			_, leave = p.At(0)
		}
		for i := range looks + 1 {
			if _, way := p.At(p.Length * float64(i) / looks); way.Dot(leave) < -rounding {
				return p.Start + p.Length*float64(max(0, i-1))/looks, true
			}
		}
	}
	return 0, false
}

// offItsFitting looks again for a run that was found where it comes back onto the
// hose's own fitting, with that in the way. An element counts from where a hose that bends
// as tightly as it may has left it behind; where the hose is thicker than its bends are
// wide there is no such place, and it is left to the line.
func (c *checker) offItsFitting(h *hoseThing, w hose.Wish, f hose.Found, names []string) (hose.Found, []string) {
	if !f.Any {
		return f, names
	}
	h.run = f.Run
	h.lay()
	back, turns := h.turnsBack()
	if !turns {
		return f, names
	}
	past := w
	past.Obstacles = slices.Clip(w.Obstacles)
	radius, sure := h.spec.bendCentre(), guard*c.endsSpread(h)
	rest := h.whole.Between(back, h.whole.Length())
	onto := false
	for _, p := range c.assembly.Parts {
		gap, _ := c.partGap(p)
		away := h.spec.Outside/2 + gap + sure + 1 // mm, so that it is not just so
		if p.Kind == solid.ElementPart && p.Fitting == h.fitting && away < radius {
			past.Obstacles = append(past.Obstacles, hose.Obstacle{Solid: p.Solid, Gap: gap + sure, FirstLeg: true, Start: leftBehind(away, radius)})
			names = append(names, p.Name)
			onto = onto || rest.Least(p.Solid) < gap+sure && distanceOf(rest, p) < gap+sure
		}
	}
	if !onto {
		return f, names
	}
	if again := hose.Find(past); again.Any {
		return again, names
	}
	return f, names
}

// distanceOf is what a tube keeps from a part.
func distanceOf(t hose.Tube, p solid.Part) float64 {
	n, _ := t.Distance(p.Solid)
	return n.Signed
}
