package solid

import (
	"fmt"
	"math"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"elbowroom/solid/shape"
)

// keepOpen makes the parts of a fitting's keep-open volumes. Cylinders, boxes and
// a hand round a cap start at the outer end of its stack.
func (b *builder) keepOpen(i int, s seat, end r3.Vector, key string) {
	f := b.tank.Fittings[i]
	start := s.at
	if len(f.Stack) == 0 { // from the paint, which is no part of the room
		coat := f.Side.Out().Mul(b.tank.Coat)
		start, end = start.Add(coat), end.Add(coat)
	}
	for j, k := range f.KeepOpen {
		u := k.Usual(f)
		about := clockOf(f.Side, s.axis)
		about.At = end
		if k.Kind == Driver || k.Kind == Spanner {
			out, ok := b.placeOn(f, u, fmt.Sprintf("%s.keep_open[%d]", key, j))
			if !ok {
				continue
			}
			about.At = start.Add(s.axis.Mul(out))
		}
		p := Part{Name: f.Name + " " + k.Name, Kind: KeepOpenPart, Fitting: i, Follow: s.follow, Aside: k.Aside, Origins: k.Origins(f)}
		p.fill(about, u, f)
		b.parts = append(b.parts, p)
	}
}

// Turns says whether the volume may stand in more than one way: see Turning.
func (k KeepOpen) Turns() bool {
	switch k.Kind {
	case BoxRoom:
		return k.AnyClock
	case Driver: // either way round
		return true
	case Spanner:
		return !k.ClockFixed
	}
	return false
}

// fill gives a part the shape of a keep-open volume with its usual sizes filled in.
func (p *Part) fill(about clock, k KeepOpen, f Fitting) {
	t := Turning{About: about.At, Axis: about.Axis, Twelve: about.twelve}
	switch k.Kind {
	case PlainRoom:
		t.Ways = [][]shape.Convex{{shape.Cylinder{Foot: about.At, Axis: about.Axis.Mul(k.Length), Across: k.Diameter / 2}}}
	case CapRoom:
		cap := f.last().Length
		t.Ways = [][]shape.Convex{{shape.Cylinder{Foot: about.At.Sub(about.Axis.Mul(cap)), Axis: about.Axis.Mul(cap + k.Length), Across: k.Diameter / 2}}}
	case BoxRoom:
		t.Ways, t.Any = [][]shape.Convex{{about.box(k.Size)}}, k.AnyClock
	case Driver:
		t.Ways, t.Any = about.driver(k), !k.ClockFixed
	case Spanner:
		t.Ways, t.Any, t.Sweep = [][]shape.Convex{about.spanner(k)}, !k.ClockFixed, k.Sweep
		t.Cores = [][]shape.Convex{about.bars(k)}
	}
	if t.Cores == nil {
		t.Cores = t.Ways
	}
	t.Clock = k.Clock
	if t.Any {
		t.Clock = 0
	}
	*p = p.turned(t, 0, t.Clock)
	if t.Any || len(t.Ways) > 1 {
		t.measure()
		p.Turning = &t
	}
}

// last is the outermost element, the zero Element where there is none.
func (f Fitting) last() Element {
	if len(f.Stack) == 0 {
		return Element{}
	}
	return f.Stack[len(f.Stack)-1]
}

// element is the one that a tool is on, and how far out its foot is.
func (f Fitting) element(on string) (e Element, foot float64, ok bool) {
	for i, e := range f.Stack {
		if e.Name == on || on == "" && i == len(f.Stack)-1 {
			return e, foot, true
		}
		foot += e.Length
	}
	return Element{}, 0, on == ""
}

// placeOn is how far out along the axis the middle of a driver or a spanner is.
func (b *builder) placeOn(f Fitting, k KeepOpen, key string) (out float64, ok bool) {
	e, foot, found := f.element(k.On)
	if !found {
		b.complain(key+".on", f.label()+" has no element "+escaped(k.On), "name one of its stack, or leave it out for the outermost")
		return 0, false
	}
	switch {
	case k.OutGiven:
		return k.Out, true
	case len(f.Stack) > 0:
		return foot + e.Length/2, true
	case k.Kind == Spanner: // on the side itself
		return k.Thick / 2, true
	}
	return k.Diameter / 2, true
}

// room says whether a keep-open volume's figures are right, its usual sizes filled in.
func (b *builder) room(k KeepOpen, key, whose string) bool {
	sound := all(b.angle(key+".clock", "the clock"+whose, k.Clock), b.number(key+".out", "the place"+whose, k.Out))
	switch k.Kind {
	case Spanner:
		return all(sound,
			b.overZero(key+".handle", "the handle"+whose, k.Handle),
			b.overZero(key+".thick", "the thickness"+whose, k.Thick),
			b.fromZero(key+".wide", "the handle's width"+whose, k.Wide),
			b.fromZero(key+".head", "the head"+whose, k.Head),
			b.fromZero(key+".hex", "the hex"+whose, k.Hex),
			b.fromZero(key+".hex", "the travel"+whose, k.Travel),
			b.sweep(key+".sweep", k.Sweep, whose),
		)
	case BoxRoom:
		return all(sound,
			b.overZero(key+".size", "the first size"+whose, k.Size.X),
			b.overZero(key+".size", "the second size"+whose, k.Size.Y),
			b.overZero(key+".size", "the third size"+whose, k.Size.Z),
		)
	}
	return all(sound,
		b.overZero(key+".diameter", "the diameter"+whose, k.Diameter),
		b.overZero(key+".length", "the length"+whose, k.Length),
		b.fromZero(key+".clamp", "the clamp"+whose, k.Clamp),
	)
}

// sweep says whether an angle is one that a spanner can swing through.
func (b *builder) sweep(key string, a s1.Angle, whose string) bool {
	if !b.angle(key, "the sweep"+whose, a) {
		return false
	}
	if a <= 0 || a > 360*s1.Degree {
		b.complain(key, "the sweep"+whose+" is "+degrees(a), "write more than 0deg, up to 360deg")
		return false
	}
	return true
}

// clock is a place on a fitting's axis with the directions that its clock angles go by.
type clock struct {
	At, Axis, twelve r3.Vector
}

// Twelve is where 12 o'clock is on a side, looking at it from outside: up the face
// on left, right and front; toward the back on top and bottom. 3 o'clock is then
// to the looker's right.
func Twelve(side Side) r3.Vector {
	if side == Top || side == Bottom {
		return Back.Out()
	}
	return Top.Out()
}

// clockOf turns a side's clock with a fitting that leans: 12 o'clock is as near
// the side's as it can be square to the axis.
func clockOf(side Side, axis r3.Vector) clock {
	up := Twelve(side)
	up = up.Sub(axis.Mul(up.Dot(axis)))
	return clock{Axis: axis, twelve: up.Normalize()}
}

func (c clock) three() r3.Vector { return c.twelve.Cross(c.Axis) }

// box is one on the axis, its foot at the place.
func (c clock) box(size r3.Vector) shape.Convex {
	corner := c.At.Sub(c.three().Mul(size.X / 2)).Sub(c.twelve.Mul(size.Y / 2))
	return shape.Box{Corner: corner, Edges: [3]r3.Vector{c.three().Mul(size.X), c.twelve.Mul(size.Y), c.Axis.Mul(size.Z)}}
}

// driver is its line at 12 o'clock. A worm clamp's screw lies along the band, so that the driver
// comes in square to the axis and past it, by half of what the
// clamp goes round and the screw's height on the band; to the right or to the
// left of the axis, since the clamp can be put on either way round.
func (c clock) driver(k KeepOpen) [][]shape.Convex {
	var ways [][]shape.Convex
	by := k.Clamp/2 + screwOver
	for _, side := range [2]float64{1, -1} {
		foot := c.At.Add(c.three().Mul(side * by))
		ways = append(ways, []shape.Convex{shape.Cylinder{Foot: foot, Axis: c.twelve.Mul(k.Length), Across: k.Diameter / 2}})
	}
	return ways
}

// screwOver is how far the middle of a worm clamp's screw is over the hose, mm:
// half of the 8 mm (5/16 in) hex and the band under it. Common practice, no source.
const screwOver = 5.0

const (
	// arcOver is how far, mm, the straight pieces of a swing's rim may stand out
	// of the true arc at most: they are tangents, so that nothing of the swing is
	// outside them. A hundredth of an inch, less than anyone reads.
	arcOver = 0.254
	// widestPiece is the widest sector that is one convex piece, degrees.
	widestPiece = 120.0
)

// spanner is the swing of a handle from 12 o'clock clockwise, and of the jaws all
// round. The handle is a bar from the axis, Wide across its length; the sector between
// its first and last place is cut in convex pieces. Near the axis, within half
// of Wide, they fill what the bar does not quite sweep.
func (c clock) spanner(k KeepOpen) []shape.Convex {
	var out []shape.Convex
	foot := c.At.Sub(c.Axis.Mul(k.Thick / 2))
	rise := c.Axis.Mul(k.Thick + k.Travel)
	n := math.Ceil(k.Sweep.Degrees()/widestPiece - 1e-9)
	step := k.Sweep.Radians() / math.Max(1, n)
	for i := 0.0; i < math.Max(1, n); i++ {
		flat := c.sector(k, i*step, (i+1)*step)
		points := make([]r3.Vector, 0, 2*len(flat))
		for _, at := range flat {
			points = append(points, foot.Add(at), foot.Add(at).Add(rise))
		}
		out = append(out, shape.Hull{Points: points})
	}
	if k.Head > 0 {
		out = append(out, shape.Cylinder{Foot: foot, Axis: rise, Across: k.Head / 2})
	}
	return out
}

// bars are the handle at some of its places: at its first and its last, and between them
// four widths apart at its end, but no more than ten in all.
func (c clock) bars(k KeepOpen) []shape.Convex {
	n := math.Min(10, math.Max(2, 1+math.Ceil(k.Sweep.Radians()*k.Handle/(4*k.Wide))))
	t := Turning{About: c.At, Axis: c.Axis}
	first := shape.Box{
		Corner: c.At.Sub(c.Axis.Mul(k.Thick / 2)).Sub(c.three().Mul(k.Wide / 2)),
		Edges:  [3]r3.Vector{c.three().Mul(k.Wide), c.twelve.Mul(k.Handle), c.Axis.Mul(k.Thick + k.Travel)},
	}
	var out []shape.Convex
	for i := 0.0; i < n; i++ {
		out = append(out, t.turn(first, k.Sweep*s1.Angle(i/(n-1))))
	}
	return out
}

// sector is the rim of the handle's way from one clock angle to another, and the
// axis, as offsets square to the axis. The handle's far corners go along an arc, from beside the
// first place to beside the last; tangents hold it.
func (c clock) sector(k KeepOpen, from, to float64) []r3.Vector {
	radius := math.Hypot(k.Handle, k.Wide/2)
	beside := math.Atan2(k.Wide/2, k.Handle)
	at := func(r, angle float64) r3.Vector {
		sin, cos := math.Sincos(angle)
		return c.twelve.Mul(r * cos).Add(c.three().Mul(r * sin))
	}
	points := []r3.Vector{{}, at(radius, from-beside), at(radius, to+beside)}
	if k.Wide > 0 {
		points = append(points, at(k.Wide/2, from-math.Pi/2), at(k.Wide/2, from+math.Pi/2), at(k.Wide/2, to-math.Pi/2), at(k.Wide/2, to+math.Pi/2))
	}
	whole := to - from + 2*beside
	n := math.Max(1, math.Ceil(whole/(2*math.Acos(radius/(radius+arcOver)))))
	tangents := radius / math.Cos(whole/n/2)
	for i := 0.0; i < n; i++ {
		points = append(points, at(tangents, from-beside+(i+0.5)*whole/n))
	}
	return points
}
