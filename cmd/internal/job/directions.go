package job

import (
	"strings"

	"github.com/golang/geo/r3"

	"elbowroom/survey/table"
)

// axis reads a direction along an axis, +x to -z, under key.
func (s section) axis(key string, into *r3.Vector) (given bool) {
	n, ok := s.get(key)
	if ok {
		if v, ok := s.r.axis(n); ok {
			*into = v
			return true
		}
	}
	return false
}

func (r *reader) axis(n node) (r3.Vector, bool) {
	t, ok := r.word(n, "a direction")
	if !ok {
		return r3.Vector{}, false
	}
	v, known := map[string]r3.Vector{
		"+x": {X: 1}, "-x": {X: -1}, "+y": {Y: 1}, "-y": {Y: -1}, "+z": {Z: 1}, "-z": {Z: -1},
	}[strings.ToLower(t)]
	if known {
		return v, true
	}
	mend := "write +x (right), -x (left), +y (up the face), -y (down), +z (out of the face) or -z (into it)"
	if len(t) == 1 && strings.Contains("xyz", strings.ToLower(t)) {
		mend = "write +" + t + " or -" + t
	}
	r.complain(n, table.Quote(n.text)+" is not a direction", mend)
	return r3.Vector{}, false
}

// direction reads an axis, or [x, y, z], under key; it has length 1.
func (s section) direction(key string, into *r3.Vector) (given bool) {
	n, ok := s.get(key)
	if !ok || n.kind != list {
		return s.axis(key, into)
	}
	v, ok := s.r.vector(n, unlimited, "x", "y", "z")
	if ok && v.Norm() == 0 {
		s.r.complain(n, "[0, 0, 0] points nowhere", "write how far it goes along x, y and z, as in [0, -1, 1]")
		return false
	}
	if ok {
		*into = v.Normalize()
	}
	return ok
}
