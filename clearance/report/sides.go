package report

import "elbowroom/solid"

// usualUp is the axis that is up when the job does not say.
const usualUp = "+y"

// sideName is a side's name, with which one is up where that is not the top.
func (p *page) sideName(s solid.Side) string {
	up := p.o.Up
	if up == "" || up == usualUp || s == solid.NoSide {
		return s.String()
	}
	switch axis := s.Axis(); {
	case up == axisName(axis, s.Far()):
		return s.String() + " (up)"
	case up == axisName(axis, !s.Far()):
		return s.String() + " (down)"
	}
	return s.String()
}

// axisName is a direction along an axis as the job writes it.
func axisName(axis int, far bool) string {
	return chosen(far, "+", "-") + string("xyz"[axis])
}

// toward words a direction along an axis of the mounting face.
func (p *page) toward(axis int, far bool) string {
	up := p.o.Up
	if up == "" {
		up = usualUp
	}
	switch {
	case up == axisName(axis, far):
		return "up"
	case up == axisName(axis, !far):
		return "down"
	case axis == 0:
		return "to the " + chosen(far, "right", "left")
	}
	return "toward its " + chosen(far, "top", "bottom")
}
