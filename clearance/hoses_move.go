package clearance

import (
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/clearance/hose"
)

// HoseMove is what a motion of a hose's end asks of its length.
type HoseMove struct {
	Motion string
	// Needs is by how much the hose must be longer than at rest so that it keeps its
	// bend radius all through the motion, mm: NeedsAtLeast somewhere, and nowhere more
	// than NeedsAtMost. At is where it needs most, radians or mm.
	NeedsAtLeast, NeedsAtMost float64
	At                        float64
	// Has is the slack that the hose is cut with, mm.
	Has float64
	// Lost says that at At no run that does not loop keeps the bend radius.
	Lost bool
	// Free is the least bend radius to the centre line, mm, that the hose takes by itself in
	// the motion: in its easiest rest between its holds, at the ends and the middle of the
	// range. 0: not known. Kept is the radius that what is proven of where it swings takes it
	// to keep.
	Free, Kept float64
}

// Short is how much longer than asked for the hose should be cut, mm; 0: it is long
// enough.
func (m HoseMove) Short() float64 { return math.Max(0, m.NeedsAtMost-m.Has) }

// surelyShort is how much must be missing to say so, mm: less is made up by how the
// hose sits on its fittings.
const surelyShort = 1

// judgeSlack takes the motions into a hose's verdict: one that is surely too short
// bends tighter than it may somewhere in the motion, or comes off.
func (h *Hose) judgeSlack() {
	if !h.Checked || h.Fights {
		return
	}
	for _, m := range h.Moves {
		switch {
		case m.NeedsAtLeast > m.Has+surelyShort:
			h.Verdict, h.Because = Tight, NoReason
			return
		case (m.Lost || m.Short() > 0) && h.Verdict == Clears:
			h.Verdict, h.Because = Unproven, Near
		}
	}
}

// hoseMoves works out each motion that takes a hose's end along. The box, and the
// fitting on it, stand still.
func (c *checker) hoseMoves(h *hoseThing, out *Hose) []HoseMove {
	var list []HoseMove
	for i := range c.motions {
		m := c.motions[i].spec
		if !c.movesWith(m, h.end) {
			continue
		}
		limits := hose.Limits{Radius: h.spec.bendCentre(), Straight: h.spec.Straight}
		if len(c.motions[i].joints) > 1 {
			move := c.motions[i].needsWith(c.endOf(h), limits, out.Length, !h.led || !out.Direct)
			move.Motion, move.Has = m.Name, out.Cut-out.Length
			move.take(h.swungs[i])
			list = append(list, move)
			continue
		}
		path, ok := c.pathOf(m)
		if !ok {
			continue
		}
		move := path.needs(c.endOf(h), limits, out.Length)
		if !h.led || !out.Direct {
			move.NeedsAtMost = path.mostNeeded(c.endOf(h), limits.Radius)
		}
		move.Motion, move.Has = m.Name, out.Cut-out.Length
		move.take(h.swungs[i])
		list = append(list, move)
	}
	return list
}

// endOf are a hose's ends, with the direction in which a measured run arrives.
func (c *checker) endOf(h *hoseThing) hose.Ends {
	e := c.ends(h)
	if h.spec.Arrives == (r3.Vector{}) {
		n := len(h.run.Points)
		e.Arrive = h.run.Points[n-1].Sub(h.run.Points[n-2]).Normalize()
	}
	return e
}

// path is a motion in the box's frame: about an axis, or along a direction.
type path struct {
	foot, axis r3.Vector // unit axis
	turns      bool
	from, to   float64
}

func (c *checker) pathOf(m Motion) (path, bool) {
	p := path{from: m.From, to: m.To}
	if m.Along != (r3.Vector{}) {
		p.axis = c.pose.turnIn(m.Along).Normalize()
		return p, true
	}
	a, okA := c.space.Mark(m.About[0])
	b, okB := c.space.Mark(m.About[1])
	if !okA || !okB || !c.space.Marks[a].Located || !c.space.Marks[b].Located {
		return p, false
	}
	p.turns, p.foot = true, c.pose.local(c.space.Marks[a].At)
	p.axis = c.pose.local(c.space.Marks[b].At).Sub(p.foot).Normalize()
	return p, p.axis != (r3.Vector{})
}

// moved takes a hose's far end along to a position of the motion.
func (p path) moved(e hose.Ends, at float64) hose.Ends {
	if !p.turns {
		e.To = e.To.Add(p.axis.Mul(at))
		return e
	}
	e.To = p.foot.Add(p.turn(e.To.Sub(p.foot), at))
	e.Arrive = p.turn(e.Arrive, at)
	return e
}

// turn is Rodrigues' rotation.
func (p path) turn(v r3.Vector, by float64) r3.Vector {
	sin, cos := math.Sincos(by)
	return v.Mul(cos).Add(p.axis.Cross(v).Mul(sin)).Add(p.axis.Mul(p.axis.Dot(v) * (1 - cos)))
}

// speed bounds how fast the length of the shortest run can change with the position,
// mm for a radian or mm. As its end moves by dP and its direction turns by da, the
// length changes by the straight's direction times dP and by da times the distance of
// the end from the straight's line, radius (1 - cos angle of the arc): two radii at
// most. So long as the same run goes on existing, which between positions near each
// other is taken for granted.
func (p path) speed(e hose.Ends, radius float64) float64 {
	if !p.turns {
		return 1
	}
	arm := e.To.Sub(p.foot)
	return arm.Sub(p.axis.Mul(p.axis.Dot(arm))).Norm() + 2*radius
}

// positions is how many positions of a motion are tried between its ends.
const positions = 24

// needs holds the shortest run at each position against the length at rest. No hose
// shorter than that keeps its bend radius there, whichever way it is led (but where the
// shortest loops: it may then be beaten by a helix, and nothing is said).
func (p path) needs(e hose.Ends, l hose.Limits, length float64) HoseMove {
	var m HoseMove
	step := (p.to - p.from) / positions
	for k := 0; k <= positions; k++ {
		at := p.from + step*float64(k)
		runs := hose.Shortest(p.moved(e, at), l)
		if len(runs) == 0 || runs[0].Loops() {
			m.Lost, m.At = true, at
			return m
		}
		if need := runs[0].Length() - length; need > m.NeedsAtLeast {
			m.NeedsAtLeast, m.At = need, at
		}
	}
	m.NeedsAtMost = m.NeedsAtLeast + step/2*p.speed(e, l.Radius)
	return m
}

// mostNeeded bounds what a run that is held to its way, or led round something, needs
// more than at rest: as far as its end goes, and twice the radius for each radian that
// it turns.
func (p path) mostNeeded(e hose.Ends, radius float64) float64 {
	most := 0.0
	for k := 0; k <= positions; k++ {
		q := p.moved(e, p.from+(p.to-p.from)*float64(k)/positions)
		most = math.Max(most, q.To.Sub(e.To).Norm()+2*radius*q.Arrive.Angle(e.Arrive).Radians())
	}
	return most
}

// LeastWanted is the least bend radius to the centre line that is asked for, mm.
func (h Hose) LeastWanted() float64 {
	if h.ToCentre {
		return h.Wanted
	}
	return h.Wanted + h.Outside/2
}
