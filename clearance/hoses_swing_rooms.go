package clearance

import (
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/clearance/hose"
	"elbowroom/clearance/motion"
	"elbowroom/solid/shape"
)

// coarse is how closely the room of another swinging hose is told, mm: two that swing are
// seldom to be told apart more closely.
const coarse = 4

// swingingTarget makes a target of all the room that another swinging hose can get to.
func (t *swingTarget) swingingTarget(h, o *hoseThing, w *swung) {
	var rigid []hose.Ball
	for _, r := range w.rigids {
		rigid = append(rigid, w.balls(o, r)...)
	}
	grow := o.whole.Radius
	for _, b := range rigid {
		t.stills = append(t.stills, motion.Solid(point(b.At, b.Radius+grow)))
	}
	for _, s := range w.stretches {
		for _, b := range s.sweep(nil).Balls(4 * coarse) {
			t.stills = append(t.stills, motion.Solid(point(b.At, b.Radius+grow)))
		}
	}
	t.distance = func(_ int, from r3.Vector) float64 {
		off := math.Inf(1)
		for _, b := range rigid {
			off = math.Min(off, from.Sub(b.At).Norm()-b.Radius)
		}
		for _, s := range w.stretches {
			off = math.Min(off, s.sweep(nil).Off(from, coarse))
		}
		return off - grow
	}
	t.witness = func(_ int, from r3.Vector) shape.Nearest {
		best, off := hose.Ball{At: from}, math.Inf(1)
		for _, b := range rigid {
			if d := from.Sub(b.At).Norm() - b.Radius; d < off {
				best, off = b, d
			}
		}
		for _, s := range w.stretches {
			for _, b := range s.sweep(nil).Balls(4 * coarse) {
				if d := from.Sub(b.At).Norm() - b.Radius; d < off {
					best, off = b, d
				}
			}
		}
		return shape.Distance(point(from, h.whole.Radius), point(best.At, best.Radius+grow))
	}
}

// balls covers the middle of what goes along rigidly, all through the motion.
func (w *swung) balls(h *hoseThing, r rigidRun) (out []hose.Ball) {
	n := max(1, int(math.Ceil((r.to-r.from)/(2*coarse))))
	step := (r.to - r.from) / float64(n)
	for k := range n {
		at, _ := h.whole.At(r.from + step*(float64(k)+0.5))
		out = append(out, hose.Ball{At: at, Radius: step/2 + w.goes(at, r.joints)})
	}
	return out
}

// goes bounds how far a place goes from where it is at rest.
func (w *swung) goes(at r3.Vector, joints []int) float64 {
	far := 0.0
	for _, k := range joints {
		j := w.m.joints[k]
		most := math.Max(math.Abs(j.From), math.Abs(j.To))
		if j.Turns() {
			most = 2 * math.Sin(math.Min(most, math.Pi)/2) * at.Sub(j.On).Cross(j.Axis).Norm()
		}
		far += most
	}
	return far
}
