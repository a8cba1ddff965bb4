package clearance

import (
	"cmp"
	"math"
	"slices"

	"elbowroom/clearance/motion"
)

// travels says how far and which way each motion by itself takes the mark that it takes
// farthest, at each end of its range.
func (c *checker) travels() []Travel {
	var out []Travel
	for i := range c.motions {
		m := &c.motions[i]
		var ends []Travel
		for _, at := range farEnds(m.joints[0]) {
			if t, ok := c.farthest(m, at); ok {
				ends = append(ends, t)
			}
		}
		// Both ways alike, it is the first, whatever the rounding.
		goes := func(t Travel) float64 { return math.Round(t.Goes / reach) }
		slices.SortStableFunc(ends, func(a, b Travel) int { return cmp.Compare(goes(b), goes(a)) })
		out = append(out, ends...)
	}
	return out
}

// farEnds are the positions on either side of rest where a joint has gone farthest: half
// way round, of a turn that goes on past that.
func farEnds(j motion.Joint) (ends []float64) {
	from, to := j.From, j.To
	if j.Turns() {
		from, to = math.Max(from, -math.Pi), math.Min(to, math.Pi)
	}
	if to > 0 {
		ends = append(ends, to)
	}
	if from < 0 && (from > -math.Pi || to < math.Pi) {
		ends = append(ends, from)
	}
	return ends
}

// farthest finds the mark that a motion's own joint takes farthest from rest; of equals
// the first. ok is false where it moves no mark.
func (c *checker) farthest(m *moving, position float64) (t Travel, ok bool) {
	pose := m.joints[0].At(position)
	t.Position = Position{m.spec.Name, m.joints[0].Turns(), position}
	for k := range c.features {
		o := &c.features[k]
		if !m.moves(o) {
			continue
		}
		for i, n := range o.feature.Nodes {
			by := pose.Move(o.nodes[i]).Sub(o.nodes[i])
			if n.Planar || by.Norm() <= t.Goes+reach {
				continue
			}
			t.Mark, t.Goes, t.Toward, ok = c.space.Marks[n.Mark].Name, by.Norm(), c.pose.turnOut(by.Normalize()), true
		}
	}
	return t, ok
}
