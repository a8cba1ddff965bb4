package job

import (
	"fmt"
	"math"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"elbowroom/clearance"
)

// path reads the job's own way in: the box's places from the first to home.
func (r *reader) path(n node) []clearance.Step {
	var out []clearance.Step
	for _, item := range n.items {
		if s, ok := r.step(item); ok {
			out = append(out, s)
		}
	}
	if len(out) < len(n.items) {
		return nil // which is complained of
	}
	for i := 1; i < len(out); i++ {
		// Half a turn less a millionth of a degree: both ways round are as short.
		if out[i-1].TurnTo(out[i]) > (180-1e-6)*s1.Degree {
			r.complain(n.items[i], "from the step before it is half a turn, which may go either way round", "put a step between that shows which way, as a quarter turn")
		}
	}
	if k := len(out) - 1; out[k] != (clearance.Step{}) {
		r.complain(n.items[k], "the path does not end at home", "let the last offset be [0, 0, 0]")
	}
	return out
}

// stepMend shows how a step is written.
const stepMend = "write how far the box is from home along x, y, z, as in [0, 0, 12], and behind that, if it is turned there, by how many degrees about x, y, z, as in [0, 0, 12, 30deg, 0, 0]"

// step reads an offset, and the turn behind it where there is one: its axis times its
// angle in degrees, which about one axis is the turn about that.
func (r *reader) step(n node) (s clearance.Step, ok bool) {
	switch {
	case n.kind == refused:
		return s, false
	case n.kind != list || len(n.items) != 3 && len(n.items) != 6:
		r.complain(n, fmt.Sprintf("three lengths belong here, or three lengths and three angles%s", counted(n)), stepMend)
		return s, false
	case decimalCommas(n.items):
		r.complain(n, "three lengths belong here, or three lengths and three angles", listMend(n, []string{"x", "y", "z"}))
		return s, false
	}
	ok = true
	var by, turn [3]float64
	for i, item := range n.items {
		var good bool
		if i < 3 {
			by[i], good = r.length(item, unlimited)
		} else {
			turn[i-3], good = r.turn(item)
		}
		ok = ok && good
	}
	if !ok {
		return s, false
	}
	s.Shift = r3.Vector{X: by[0], Y: by[1], Z: by[2]}
	s.Turn = r3.Vector{X: turn[0], Y: turn[1], Z: turn[2]}
	// A turn of just half, written in degrees, may come out a little over.
	if angle := s.Turn.Norm(); angle > math.Pi*(1+1e-12) {
		r.complain(n, fmt.Sprintf("it is turned by %.4g degrees in all, which is more than half a turn", angle*180/math.Pi), "write the turn that is less, the other way round")
		return s, false
	}
	return s, true
}

// turn reads an angle in radians; here, where nothing else can be meant, a bare number
// is degrees.
func (r *reader) turn(n node) (float64, bool) {
	if t, ok := r.word(n, "an angle"); ok {
		if _, unit, ok := measure(t); ok && unit == "" {
			n.text = t + "deg"
		}
		a, ok := r.angle(n)
		return a.Radians(), ok
	}
	return 0, false
}

// counted says how many entries a list has.
func counted(n node) string {
	if n.kind != list {
		return ""
	}
	return fmt.Sprintf(", not %d", len(n.items))
}

// decimalCommas says whether three pairs of numbers stand close together, with more
// room between one pair and the next, as three numbers with decimal commas do.
func decimalCommas(items []node) bool {
	if len(items) != 6 {
		return false
	}
	for i := 1; i < len(items); i++ {
		before, here := items[i-1], items[i]
		if before.kind != scalar || here.kind != scalar || before.pos.Line != here.pos.Line {
			return false
		}
		together := before.pos.Column+len([]rune(before.text))+1 == here.pos.Column
		if together != (i%2 == 1) {
			return false
		}
	}
	return true
}
