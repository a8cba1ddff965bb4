package report

import "elbowroom/solid"

// sideName is a side's name, with which one is up where that is not the top.
func (p *page) sideName(s solid.Side) string {
	axis, far := p.upAxis()
	switch usual := axis == 1 && far; {
	case usual || s == solid.NoSide || s.Axis() != axis:
		return s.String()
	case s.Far() == far:
		return s.String() + " (up)"
	}
	return s.String() + " (down)"
}

// upAxis is the axis that is up, and whether up is its far way.
func (p *page) upAxis() (axis int, far bool) {
	for axis := range 3 {
		for _, far := range [2]bool{true, false} {
			if p.o.Up == axisName(axis, far) {
				return axis, far
			}
		}
	}
	return 1, true
}

// axisName is a direction along an axis as the job writes it.
func axisName(axis int, far bool) string {
	return chosen(far, "+", "-") + string("xyz"[axis])
}

// toward words a direction along an axis of the mounting face.
func (p *page) toward(axis int, far bool) string {
	upAxis, upFar := p.upAxis()
	switch {
	case axis == upAxis:
		return chosen(far == upFar, "up", "down")
	case axis == 0:
		return "to the " + chosen(far, "right", "left")
	}
	return "toward its " + chosen(far, "top", "bottom")
}
