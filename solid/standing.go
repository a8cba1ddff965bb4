package solid

import (
	"fmt"
	"math"

	"elbowroom/solid/shape"
)

// standing is a fitting in its place, to be held against the others.
type standing struct {
	fitting  int
	key      string
	foot     foot
	elements []element
}

// element is one of a stack as drawn.
type element struct {
	key, name string
	solid     shape.Cylinder
}

// foot is what a fitting takes of its side: its middle and half its extent along
// the side's two axes. It is a circle, or an ellipse where the fitting leans.
type foot struct{ at, half [2]float64 }

// stand notes a fitting and complains where its foot hangs over an edge.
func (b *builder) stand(i int, s seat, key string) {
	f := b.tank.Fittings[i]
	t := footOf(f, s)
	b.standing = append(b.standing, standing{fitting: i, key: key, foot: t})
	for k, axis := range f.Side.Axes() {
		whole, pair := b.tank.Size.Along(axis), ends(axis)
		if across := 2 * t.half[k]; across > whole+reach {
			what := fmt.Sprintf("%s is %%s across where it stands, and the %s is only %%s from %s to %s", f.label(), f.Side, pair[0], pair[1])
			b.complain(f.widest(key), what, "make the fitting smaller or the box larger", across, whole)
			continue
		}
		over := [2]float64{t.half[k] - t.at[k], t.at[k] + t.half[k] - whole}
		for e, edge := range pair {
			if over[e] > reach {
				b.complain(key+".at", fmt.Sprintf("%s hangs over the %s edge of the %s by %%s", f.label(), edge, f.Side), "move it in", over[e])
			}
		}
	}
}

// element notes an element of the fitting that was noted last.
func (b *builder) element(key, name string, c shape.Cylinder) {
	s := &b.standing[len(b.standing)-1]
	s.elements = append(s.elements, element{key, name, c})
}

// footOf takes the wider of the hole and the first element. Both run along the
// axis, so where that leans they meet the side in an oval.
func footOf(f Fitting, s seat) foot {
	radius := f.Hole / 2
	if len(f.Stack) > 0 {
		radius = math.Max(radius, f.Stack[0].Diameter/2)
	}
	var t foot
	for k, axis := range f.Side.Axes() {
		t.at[k], t.half[k] = along(s.at, axis), radius
		if along(s.axis, axis) != 0 {
			t.half[k] /= s.axis.Dot(f.Side.Out())
		}
	}
	return t
}

// widest is the key of what the foot's size comes from.
func (f Fitting) widest(key string) string {
	if len(f.Stack) > 0 && f.Stack[0].Diameter >= f.Hole {
		return key + ".stack[0].diameter"
	}
	return key + ".hole"
}

// overlap is the least that two feet on one side have to move apart, 0 or less
// where they do not overlap. It is the least, over all directions, of what both
// reach along that less the way between their middles.
func (t foot) overlap(o foot) float64 {
	dx, dy := math.Abs(o.at[0]-t.at[0]), math.Abs(o.at[1]-t.at[1])
	spare := func(angle float64) float64 {
		sin, cos := math.Sincos(angle)
		return math.Hypot(t.half[0]*cos, t.half[1]*sin) + math.Hypot(o.half[0]*cos, o.half[1]*sin) - dx*cos - dy*sin
	}
	// Both lie square to the axes, so that the direction is between them.
	return least(spare, 0, math.Pi/2)
}

// least is the least value of a smooth f from lo to hi: the best of a row of
// places, then a golden section between its neighbours, 40 steps of which leave
// 4e-9 of the spacing.
func least(f func(float64) float64, lo, hi float64) float64 {
	const steps, golden = 90, 0.6180339887498949 // (sqrt 5 - 1) / 2
	step := (hi - lo) / steps
	best := 0
	for i := 1; i <= steps; i++ {
		if f(lo+float64(i)*step) < f(lo+float64(best)*step) {
			best = i
		}
	}
	low, high := math.Max(lo, lo+float64(best-1)*step), math.Min(hi, lo+float64(best+1)*step)
	for i := 0; i < 40; i++ {
		a, c := high-golden*(high-low), low+golden*(high-low)
		if f(a) < f(c) {
			high = c
		} else {
			low = a
		}
	}
	return math.Min(f((low+high)/2), f(lo+float64(best)*step))
}
