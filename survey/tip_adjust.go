package survey

import (
	"elbowroom/survey/length"
)

// tips moves marks that were touched with a ball from the ball's centre to the
// spot that it touched, feature by feature, once all stand in the mounting
// frame. Where the side is not safe the mark stays and its limit is widened: an
// error of its own along each axis.
func (a *adjuster) tips() {
	s := a.space
	done := make([]bool, len(s.Marks))
	for _, spec := range a.readings.Features {
		var balls []Ball
		var marks []int
		some := false
		for _, m := range a.members[spec.Name] {
			if !s.Marks[m].Located {
				continue
			}
			tip := a.tipOf(m)
			some = some || tip > 0
			marks = append(marks, m)
			balls = append(balls, Ball{Mark: s.Marks[m].Name, Centre: s.Marks[m].At, Tip: tip, U: s.Uncertainty(m), Pos: s.Marks[m].Pos})
		}
		if !some {
			continue
		}
		touches, doubts := Touches(spec, balls, a.readings.Style)
		s.Doubts = append(s.Doubts, doubts...)
		for k, m := range marks {
			if balls[k].Tip == 0 || done[m] {
				continue
			}
			done[m] = true
			s.Marks[m].At = touches[k].At
			a.widen(m, touches[k].Widen)
		}
	}
}

// tipOf is the radius of the ball that a mark was touched with; 0 where any of
// its readings was without one.
func (a *adjuster) tipOf(m int) float64 {
	if len(a.points[m]) == 0 {
		return 0
	}
	tip := a.readings.Points[a.points[m][0]].Tip
	for _, i := range a.points[m] {
		if a.readings.Points[i].Tip != tip {
			return 0
		}
	}
	return tip
}

// widen gives a mark an error of its own, within a limit, along each axis.
func (a *adjuster) widen(m int, limit float64) {
	if limit <= 0 || len(a.space.Marks[m].Rows) == 0 {
		return
	}
	u := length.Limit{Plus: limit, Minus: limit}.U()
	row := a.space.Marks[m].Rows[0]
	for axis := range 3 {
		a.space.Marks[m].by[axis] = Merge(append(a.space.Marks[m].by[axis], Term{len(a.space.sources), u}))
		a.space.sources = append(a.space.sources, Source{row, axis, u})
	}
}
