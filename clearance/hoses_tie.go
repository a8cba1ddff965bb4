package clearance

import (
	"elbowroom/clearance/hose"
)

// openSwing is a line that is not proven, since nobody knows how the hose hangs.
type openSwing struct {
	target swingTarget
	u      float64
	swings *Swings
}

// tieSteps is into how many parts a stretch is cut to look for a tie.
const tieSteps = 12

// adviseTies looks for a tie for each hose that swings too freely: the first from its
// beginning, since that leaves it the most play, with which every line would be proven
// that is not; where there is none, one for each by itself.
func (c *checker) adviseTies(laid []*hoseThing) {
	for _, h := range laid {
		if h == nil {
			continue
		}
		for _, w := range h.swungs {
			if w == nil || len(w.open) == 0 || len(w.stretches) != 1 {
				continue
			}
			tie := c.tieFor(h, w, w.open)
			for k, o := range w.open {
				if o.swings.Tie = tie; tie == nil && len(w.open) > 1 {
					o.swings.Tie = c.tieFor(h, w, w.open[k:k+1])
				}
			}
		}
	}
}

func (c *checker) tieFor(h *hoseThing, w *swung, lines []openSwing) *Tie {
	s := w.stretches[0]
	if len(s.from.joints) > 0 {
		return nil
	}
	for k := 1; k < tieSteps; k++ {
		along := s.from.afterAt + (s.to.beforeAt-s.from.afterAt)*float64(k)/tieSteps
		if tied := w.tiedAt(h, along); tied.reaches() && c.settles(h, tied, lines) {
			at, _ := h.whole.At(along)
			return &Tie{At: c.pose.world(at), Along: along}
		}
	}
	return nil
}

// tiedAt is the same with a tie so far along the hose; all of its slack stays beyond.
func (w *swung) tiedAt(h *hoseThing, along float64) *swung {
	s := *w.stretches[0]
	at, way := h.whole.At(along)
	s.sweeps = map[string]*hose.Sweep{}
	s.from = ending{after: hose.Hold{At: at, Way: way}, afterAt: along, mark: -1}
	s.swing.From, s.swing.Length = s.from.after, s.to.beforeAt-along+w.slack
	out := *w
	out.stretches = []*stretch{&s}
	out.rigids = []rigidRun{{to: along}, w.rigids[len(w.rigids)-1]}
	return &out
}

// reaches says whether the stretch is long enough at each of some positions.
func (w *swung) reaches() bool {
	s := w.stretches[0]
	for _, at := range w.m.some() {
		pose := w.m.poseOf(s.to.joints, at)
		e := hose.Ends{From: s.swing.From.At, Leave: s.swing.From.Way, To: pose.Move(s.swing.To.At), Arrive: pose.Turn(s.swing.To.Way)}
		runs := hose.Shortest(e, hose.Limits{Radius: s.swing.Radius})
		if len(runs) == 0 || runs[0].Length() > s.swing.Length {
			return false
		}
	}
	return true
}

// some lists positions of a motion: both ends and the middle of each joint's range, with
// each other's.
func (m *moving) some() (list [][]float64) {
	list = [][]float64{nil}
	for _, j := range m.joints {
		var longer [][]float64
		for _, at := range list {
			for _, x := range [3]float64{j.From, (j.From + j.To) / 2, j.To} {
				longer = append(longer, append(at[:len(at):len(at)], x))
			}
		}
		list = longer
	}
	return list
}

// settles says whether every open line would be proven.
func (c *checker) settles(h *hoseThing, w *swung, lines []openSwing) bool {
	for _, o := range lines {
		if near := c.swingBound(h, w, o.target); near.bound < o.target.gap+guard*o.u {
			return false
		}
	}
	return true
}
