package solid

import (
	"fmt"
	"math"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"elbowroom/solid/shape"
)

// seat is a fitting's place resolved: the middle of its foot on the drawn
// outside, its unit axis, and by how much it follows the sizes.
type seat struct {
	at, axis, follow r3.Vector
}

// fitting makes a fitting's parts and its port.
func (b *builder) fitting(i int) {
	f := b.tank.Fittings[i]
	key := fmt.Sprintf("fittings[%d]", i)
	sound := b.figures(f, key)
	s, placed := b.seat(f, key)
	if !sound || !placed || !b.sized {
		return
	}
	b.stand(i, s, key)
	end := b.stack(i, s, key)
	b.ports = append(b.ports, Port{At: end, Axis: s.axis, Follow: s.follow})
	b.keepOpen(i, s, end, key)
}

// stack makes the parts of a fitting's elements, and returns the middle of the
// outer end.
func (b *builder) stack(i int, s seat, key string) r3.Vector {
	f := b.tank.Fittings[i]
	foot := s.at
	for j, e := range f.Stack {
		drawn := shape.Cylinder{Foot: foot, Axis: s.axis.Mul(e.Length), Across: e.Diameter / 2}
		foot = foot.Add(drawn.Axis)
		p := Part{Name: f.Name + " " + e.Name, Kind: ElementPart, Fitting: i, Follow: s.follow, Solid: drawn, After: e.After}
		if j == 0 {
			p.Solid = sunk(drawn, f.Tilt.By)
		}
		b.parts = append(b.parts, p)
		b.element(fmt.Sprintf("%s.stack[%d]", key, j), p.Name, drawn)
	}
	return foot
}

// sunk is the first element of a fitting that leans, drawn out into the body by
// the tangent of the lean: its foot is cut to the side, and a square end would
// leave a wedge of it out where it leans away from. What is drawn out lies under
// the side, no farther out than the foot, and twice the radius by the sine of the
// lean deep.
func sunk(c shape.Cylinder, lean s1.Angle) shape.Cylinder {
	by := c.Axis.Normalize().Mul(c.Across * math.Tan(lean.Radians()))
	c.Foot, c.Axis = c.Foot.Sub(by), c.Axis.Add(by)
	return c
}

// seat resolves where a fitting stands.
func (b *builder) seat(f Fitting, key string) (seat, bool) {
	if f.Side < Left || f.Side > Front || f.Side == Back {
		what := f.label() + " stands on no side"
		if f.Side == Back {
			what = f.label() + " stands on the back, which is against the face"
		}
		b.complain(key+".side", what, "use top, bottom, left, right or front")
		return seat{}, false
	}
	var s seat
	if n := f.Side.Axis(); f.Side.Far() {
		s.at, s.follow = Axis(n).Mul(b.tank.Size.Along(n)), Axis(n)
	}
	placed := true
	for k, axis := range f.Side.Axes() {
		if !b.isOn(f, k, key) {
			placed = false
			continue
		}
		from, follow := f.At[k].resolve(b.tank.Size.Along(axis))
		s.at = s.at.Add(Axis(axis).Mul(from))
		s.follow = s.follow.Add(Axis(axis).Mul(follow))
	}
	leans := b.leans(f, key)
	s.axis = f.Tilt.axis(f.Side)
	return s, placed && leans
}

// resolve is the offset's place along an axis from the held corner, and by how
// much it moves for each millimetre that the whole turns out larger.
func (o Offset) resolve(whole float64) (at, follow float64) {
	switch {
	case o.From == NoSide:
		return whole/2 + o.By, 0.5
	case o.From.Far():
		return whole - o.By, 1
	}
	return o.By, 0
}

// axis is the unit vector along a fitting that leans so on a side.
func (t Tilt) axis(side Side) r3.Vector {
	if t.By == 0 {
		return side.Out()
	}
	sin, cos := math.Sincos(t.By.Radians())
	return side.Out().Mul(cos).Add(t.Toward.Out().Mul(sin))
}
