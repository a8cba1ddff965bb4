package job

import (
	"fmt"
	"strings"

	"elbowroom/solid"
)

// fittings reads the necks, outlets and the like.
func (r *reader) fittings(s section) {
	s.each("fittings", func(n node) {
		f := solid.Fitting{Within: r.job.Tank.Within}
		u := r.section(n, "name", "side", "at", "within", "tilt", "hole", "bore", "use", "stack", "keep_open")
		u.need([2]string{"name", "fill"}, [2]string{"side", "top"}, [2]string{"at", "middle, or as in [3, 1 7/8]"})
		u.text("name", &f.Name)
		r.twice(r.fittingAt, f.Name, u.value["name"], "fitting")
		u.fittingSide(&f)
		u.length("within", fromZero, &f.Within)
		u.tilt(&f)
		u.length("hole", fromZero, &f.Hole)
		u.length("bore", overZero, &f.Bore)
		u.use(&f)
		u.stack(&f)
		u.keepOpen(&f)
		if len(f.Stack) == 0 && f.Hole == 0 {
			r.complain(n, "neither a stack nor a hole is given", "add the stack, as in stack: [{name: neck, diameter: 1 3/4, length: 1}]")
		}
		r.job.Tank.Fittings = append(r.job.Tank.Fittings, f)
	})
}

// fittingSide reads the side and the place on it.
func (s section) fittingSide(f *solid.Fitting) {
	n, ok := s.get("side")
	if !ok {
		return
	}
	if f.Side, ok = s.r.side(n); !ok {
		return
	}
	if f.Side == solid.Back {
		s.r.complain(n, "the back stands against the mounting face, so nothing can come out of it", "use top, bottom, left, right or front")
		f.Side = solid.NoSide
		return
	}
	if at, ok := s.get("at"); ok {
		s.r.spot(at, f)
	}
}

// starts are the edges that [a, b] is measured from, in the order written.
func starts(side solid.Side) [2]solid.Side {
	switch side.Axis() {
	case 0:
		return [2]solid.Side{solid.Back, solid.Bottom}
	case 1:
		return [2]solid.Side{solid.Left, solid.Back}
	}
	return [2]solid.Side{solid.Left, solid.Bottom}
}

// spot reads a place on a side: middle, [a, b] or {right: 2, back: 1 7/8}.
func (r *reader) spot(n node, f *solid.Fitting) {
	from := starts(f.Side)
	switch {
	case n.kind == scalar && strings.EqualFold(n.text, "middle"):
		return
	case n.kind == mapping:
		r.spotFromEdges(n, f)
		return
	case n.kind != list || len(n.items) != 2:
		r.complain(n, fmt.Sprintf("a place on the %s is two lengths, from its %s and from its %s", f.Side, from[0], from[1]),
			fmt.Sprintf("write it as [3, 1 7/8], as {%s: 3, %s: 1 7/8}, or as middle", from[0], from[1]))
		return
	}
	for i, item := range n.items {
		r.offset(item, from[i], f)
	}
}

// offset reads one offset from an edge of the fitting's side.
func (r *reader) offset(n node, from solid.Side, f *solid.Fitting) {
	k := 0
	if f.Side.Axes()[1] == from.Axis() {
		k = 1
	}
	if strings.EqualFold(n.text, "middle") {
		f.At[k] = solid.Offset{}
		return
	}
	if v, ok := r.length(n, unlimited); ok {
		f.At[k] = solid.Offset{From: from, By: v}
	}
}

// spotFromEdges reads {right: 2, back: 1 7/8}: one edge along each axis.
func (r *reader) spotFromEdges(n node, f *solid.Fitting) {
	var edges []string
	for _, side := range solid.Sides() {
		if side.Axis() != f.Side.Axis() {
			edges = append(edges, side.String())
		}
	}
	s := r.section(n, edges...)
	var along [3]string
	clash := false
	for _, name := range edges {
		m, ok := s.get(name)
		if !ok {
			continue
		}
		from, _ := solid.ParseSide(name)
		if other := along[from.Axis()]; other != "" {
			r.complain(m, fmt.Sprintf("%s and %s are along the same line", other, name), "give one of them, and one edge the other way")
			clash = true
			continue
		}
		along[from.Axis()] = name
		r.offset(m, from, f)
	}
	if len(s.value) != len(n.keys) || clash {
		return
	}
	for _, axis := range f.Side.Axes() {
		if along[axis] == "" {
			pair := [3]string{"left or right", "bottom or top", "back or front"}[axis]
			r.complain(n, "only one edge is given", "say also how far from its "+pair+", or write "+strings.Fields(pair)[0]+": middle")
		}
	}
}

func (s section) tilt(f *solid.Fitting) {
	n, ok := s.get("tilt")
	if !ok {
		return
	}
	u := s.r.section(n, "by", "toward")
	u.need([2]string{"by", "10deg"}, [2]string{"toward", "back, the side that the axis leans to"})
	if u.angle("by", fromZero, &f.Tilt.By) && f.Tilt.By.Degrees() >= 90 {
		s.r.complain(u.value["by"], "a fitting that leans 90 degrees or more lies in its side", "write less")
	}
	m, ok := u.get("toward")
	if !ok {
		return
	}
	if f.Tilt.Toward, ok = s.r.side(m); ok && f.Side != solid.NoSide && f.Tilt.Toward.Axis() == f.Side.Axis() {
		s.r.complain(m, fmt.Sprintf("a fitting on the %s cannot lean toward the %s", f.Side, f.Tilt.Toward), "name a side that borders on it")
	}
}

// stack reads the cylinders, from the side outward.
func (s section) stack(f *solid.Fitting) {
	s.each("stack", func(n node) {
		e := solid.Element{}
		u := s.r.section(n, "name", "diameter", "length", "fitted")
		u.need([2]string{"name", "neck"}, [2]string{"diameter", "1 3/4"}, [2]string{"length", "1"})
		u.text("name", &e.Name)
		u.length("diameter", overZero, &e.Diameter)
		u.length("length", overZero, &e.Length)
		if _, _, ok := u.choice("fitted", "after"); ok {
			e.After = true
		}
		f.Stack = append(f.Stack, e)
	})
}

// not complains of keys that have no place here.
func (s section) not(what, mend string, keys ...string) {
	for _, key := range keys {
		if n, there := s.value[key]; there {
			s.r.complain(n, what+key, mend)
		}
	}
}
