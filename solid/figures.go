package solid

import (
	"fmt"
	"strconv"

	"github.com/golang/geo/s1"
)

// figures says whether a fitting's own lengths and angles are right, whatever it
// stands on.
func (b *builder) figures(f Fitting, key string) bool {
	sound := all(
		b.fromZero(key+".within", "within"+of(f.Name), f.Within),
		b.fromZero(key+".hole", "the hole"+of(f.Name), f.Hole),
		b.fromZero(key+".bore", "the bore"+of(f.Name), f.Bore),
		b.number(key+".at", "the place"+of(f.Name), f.At[0].By),
		b.number(key+".at", "the place"+of(f.Name), f.At[1].By),
	)
	for j, e := range f.Stack {
		at, whose := fmt.Sprintf("%s.stack[%d]", key, j), of(f.Name, e.Name)
		sound = all(sound,
			b.overZero(at+".diameter", "the diameter"+whose, e.Diameter),
			b.overZero(at+".length", "the length"+whose, e.Length),
		)
	}
	for j, k := range f.KeepOpen {
		sound = all(sound, b.room(k.Usual(f), fmt.Sprintf("%s.keep_open[%d]", key, j), of(f.Name, k.Name)))
	}
	if f.Hole == 0 && len(f.Stack) == 0 {
		b.complain(key+".stack", f.label()+" has neither a stack nor a hole", "give it at least one element with diameter and length")
		return false
	}
	return sound
}

// isOn says whether offset k of a fitting is from an edge across that axis.
func (b *builder) isOn(f Fitting, k int, key string) bool {
	from, axis := f.At[k].From, f.Side.Axes()[k]
	if from == NoSide || from.Axis() == axis {
		return true
	}
	what := fmt.Sprintf("the %s has no %s edge", f.Side, from)
	if from.borders(f.Side) {
		pair := ends(from.Axis())
		what = fmt.Sprintf("both offsets on the %s are from %s or %s", f.Side, pair[0], pair[1])
	}
	b.complain(key+".at", what, "measure from two edges of that side that meet")
	return false
}

// leans says whether a fitting's axis points out of its side.
func (b *builder) leans(f Fitting, key string) bool {
	by := f.Tilt.By
	switch {
	case !b.angle(key+".tilt.by", "the tilt"+of(f.Name), by):
		return false
	case by < 0:
		b.complain(key+".tilt.by", f.label()+" leans by "+degrees(by)+", less than 0", "write 0 or more, and the side that it leans to under toward")
		return false
	case by >= 90*s1.Degree:
		b.complain(key+".tilt.by", f.label()+" leans by "+degrees(by)+", so it lies in its side", "write less than 90deg")
		return false
	case by > 0 && !f.Tilt.Toward.borders(f.Side):
		what := fmt.Sprintf("%s on the %s cannot lean toward the %s", f.label(), f.Side, f.Tilt.Toward)
		if f.Tilt.Toward == NoSide {
			what = f.label() + " leans toward no side"
		}
		b.complain(key+".tilt.toward", what, "name a side that borders on the "+f.Side.String())
		return false
	}
	return true
}

func degrees(a s1.Angle) string {
	return strconv.FormatFloat(a.Degrees(), 'g', 6, 64) + " degrees"
}
