package solid

import (
	"fmt"
	"math"
	"strings"

	"github.com/golang/geo/r3"

	"elbowroom/solid/shape"
)

// Axes are the side's two axes in the order x before y before z.
func (s Side) Axes() [2]int {
	switch s.Axis() {
	case 0:
		return [2]int{1, 2}
	case 1:
		return [2]int{0, 2}
	}
	return [2]int{0, 1}
}

// far is the side at the plus end of an axis.
func far(axis int) Side { return [3]Side{Right, Top, Front}[axis] }

// seat is a fitting's place resolved: the middle of its foot on the drawn
// outside, its axis, and by how much it follows the sizes.
type seat struct {
	at, axis, follow r3.Vector
}

func (b *builder) fitting(i int) {
	f := b.tank.Fittings[i]
	key := fmt.Sprintf("fittings[%d]", i)
	at, ok := b.seat(f, key)
	b.lengths(f, key)
	if ok {
		b.overhang(f, at, key)
	}
	foot := at.at
	for _, e := range f.Stack {
		b.cylinder(f.Name+" "+e.Name, ElementPart, i, at, foot, e.Diameter, e.Length)
		b.parts[len(b.parts)-1].After = e.After
		foot = foot.Add(at.axis.Mul(e.Length))
	}
	b.ports = append(b.ports, Port{At: foot, Axis: at.axis, Follow: at.follow})
	for _, k := range f.KeepOpen {
		if k.Kind != PlainRoom {
			continue // a driver's and a spanner's room: not checked yet, and reported so
		}
		b.cylinder(f.Name+" "+k.Name, KeepOpenPart, i, at, foot, k.Diameter, k.Length)
		b.parts[len(b.parts)-1].Aside = k.Aside
	}
}

func (b *builder) cylinder(name string, kind Kind, fitting int, s seat, foot r3.Vector, diameter, length float64) {
	b.parts = append(b.parts, Part{
		Name: name, Kind: kind, Fitting: fitting, Follow: s.follow,
		Solid: shape.Cylinder{Foot: foot, Axis: s.axis.Mul(length), Across: diameter / 2},
	})
}

// seat resolves where a fitting stands.
func (b *builder) seat(f Fitting, key string) (seat, bool) {
	if f.Side == NoSide || f.Side == Back {
		b.complain(key+".side", "a fitting cannot stand on "+f.Side.String(), "use top, bottom, left, right or front; the back is against the face")
		return seat{axis: r3.Vector{Y: 1}}, false
	}
	size := b.tank.Size
	out := f.Side.Out()
	var s seat
	if f.Side.Far() {
		n := f.Side.Axis()
		s.at = s.at.Add(Axis(n).Mul(size.Along(n)))
		s.follow = s.follow.Add(Axis(n))
	}
	for k, axis := range f.Side.Axes() {
		o := f.At[k]
		from, follows := 0.0, 0.0
		sign := 1.0
		switch {
		case o.From == NoSide:
			from, follows = size.Along(axis)/2, 0.5
		case o.From.Axis() != axis:
			b.complain(key+".at", fmt.Sprintf("%s has no %s edge", f.Side, o.From), "measure from the edges of that side")
			return seat{axis: out}, false
		case o.From.Far():
			from, follows, sign = size.Along(axis), 1, -1
		}
		s.at = s.at.Add(Axis(axis).Mul(from + sign*o.By))
		s.follow = s.follow.Add(Axis(axis).Mul(follows))
	}
	s.axis = out
	if f.Tilt.By != 0 {
		if f.Tilt.Toward == NoSide || f.Tilt.Toward.Axis() == f.Side.Axis() {
			b.complain(key+".tilt", fmt.Sprintf("a fitting on the %s cannot lean toward %s", f.Side, f.Tilt.Toward), "name a side that borders on it")
			return s, false
		}
		sin, cos := math.Sincos(f.Tilt.By.Radians())
		s.axis = out.Mul(cos).Add(f.Tilt.Toward.Out().Mul(sin))
	}
	return s, true
}

// lengths complains of elements that are no solid.
func (b *builder) lengths(f Fitting, key string) {
	check := func(at, name string, diameter, length float64) {
		if !(diameter > 0) {
			b.complain(at+".diameter", escaped(name)+" has no diameter", "write one")
		}
		if !(length > 0) {
			b.complain(at+".length", escaped(name)+" has no length", "write one, or leave the element out")
		}
	}
	for j, e := range f.Stack {
		check(fmt.Sprintf("%s.stack[%d]", key, j), e.Name, e.Diameter, e.Length)
	}
	for j, k := range f.KeepOpen {
		if k.Kind == PlainRoom {
			check(fmt.Sprintf("%s.keep_open[%d]", key, j), k.Name, k.Diameter, k.Length)
		}
	}
	if f.hole() <= 0 && len(f.Stack) == 0 {
		b.complain(key+".stack", escaped(f.Name)+" has neither a stack nor a hole", "give it at least one element with diameter and length")
	}
}

// hole is the diameter of the fitting's hole.
func (f Fitting) hole() float64 {
	if f.Hole > 0 || len(f.Stack) == 0 {
		return f.Hole
	}
	return f.Stack[0].Diameter
}

// overhang complains of a hole or foot that hangs over an edge of its side.
func (b *builder) overhang(f Fitting, s seat, key string) {
	foot := f.hole()
	if len(f.Stack) > 0 {
		foot = math.Max(foot, f.Stack[0].Diameter)
	}
	for _, axis := range f.Side.Axes() {
		whole := b.tank.Size.Along(axis)
		if foot > whole {
			b.complain(key+".hole", fmt.Sprintf("%%s across does not go on the %s, which is %%s there", f.Side), "make the fitting smaller or the box larger", foot, whole)
			continue
		}
		// Touching the edge counts as on it, to 1e-6 mm (the shop's own limit of "reaching").
		const reach = 1e-6
		at := along(s.at, axis)
		if over := foot/2 - at; over > reach {
			b.complain(key+".at", overEdge(f, oppositeOf(far(axis))), "move it in", over)
		} else if over := at + foot/2 - whole; over > reach {
			b.complain(key+".at", overEdge(f, far(axis)), "move it in", over)
		}
	}
}

// oppositeOf is the side across the box.
func oppositeOf(s Side) Side {
	if s.Far() {
		return s - 1
	}
	return s + 1
}

// overEdge words the complaint, with %s for the length. A name may hold a
// percent sign of its own.
func overEdge(f Fitting, edge Side) string {
	return fmt.Sprintf("%s hangs over the %s edge of the %s by %%s", escaped(f.Name), edge, f.Side)
}

func escaped(name string) string { return strings.ReplaceAll(name, "%", "%%") }
