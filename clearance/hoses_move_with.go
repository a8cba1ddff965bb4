package clearance

import (
	"math"

	"elbowroom/clearance/hose"
)

// needsWith is path.needs for a motion that goes with others: the end is taken through a
// grid of all their positions. Of each joint it counts how far it is from one to the
// next, as path.speed has it.
func (m *moving) needsWith(e hose.Ends, l hose.Limits, length float64, held bool) HoseMove {
	// As many positions as one motion by itself has are too many of several together.
	steps := positions
	if len(m.joints) > 1 {
		steps = max(4, positions/(2*len(m.joints)))
	}
	var out HoseMove
	between, most := 0.0, 0.0
	at, k := make([]float64, len(m.joints)), make([]int, len(m.joints))
	for more := true; more; more = nextOf(k, steps) {
		for i, j := range m.joints {
			at[i] = j.From + (j.To-j.From)*float64(k[i])/float64(steps)
		}
		between = math.Max(between, m.between(e, l.Radius, at, steps))
		pose := m.joints.At(at)
		q := e
		q.To, q.Arrive = pose.Move(e.To), pose.Turn(e.Arrive)
		most = math.Max(most, q.To.Sub(e.To).Norm()+2*l.Radius*q.Arrive.Angle(e.Arrive).Radians())
		runs := hose.Shortest(q, l)
		if len(runs) == 0 || runs[0].Loops() {
			out.Lost, out.At = true, at[0]
			return out
		}
		if need := runs[0].Length() - length; need > out.NeedsAtLeast {
			out.NeedsAtLeast, out.At = need, at[0]
		}
	}
	out.NeedsAtMost = out.NeedsAtLeast + between
	if held {
		out.NeedsAtMost = most + between
	}
	return out
}

// between is how much the length needed may differ half way to the next positions.
func (m *moving) between(e hose.Ends, radius float64, at []float64, steps int) float64 {
	sum := 0.0
	for i, j := range m.joints {
		speed := 1.0
		if j.Turns() {
			arm := m.joints[:i].At(at[:i]).Move(e.To).Sub(j.On)
			speed = arm.Cross(j.Axis).Norm() + 2*radius
		}
		sum += speed * (j.To - j.From) / float64(2*steps)
	}
	return sum
}

// nextOf counts on, each from 0 to most; false where it is through.
func nextOf(k []int, most int) bool {
	for i := range k {
		if k[i]++; k[i] <= most {
			return true
		}
		k[i] = 0
	}
	return false
}
