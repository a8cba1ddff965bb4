package clearance

import (
	"math"
	"slices"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"elbowroom/solid"
	"elbowroom/solid/level"
)

// stance is a box as made and as it stands.
type stance struct {
	tank solid.Tank
	up   r3.Vector // in the box's frame, with the machine level
}

// leaned is up in the box's frame with the machine leaned.
func (c *checker) leaned(s stance, pitch, roll float64) r3.Vector {
	toPitch, toRoll := c.leanings()
	p, r := c.pose.turnIn(toPitch.Out()), c.pose.turnIn(toRoll.Out())
	return level.Lean(level.Lean(s.up, square(p, s.up), pitch), square(r, s.up), roll)
}

// square is a direction's part square to another, of length 1.
func square(v, to r3.Vector) r3.Vector { return v.Sub(to.Mul(v.Dot(to) / to.Norm2())).Normalize() }

// leanings are the sides toward which a pitch and a roll above 0 lean: see LevelRules.
func (c *checker) leanings() (pitch, roll solid.Side) {
	up, forward := axisOf(c.rules.Levels.Up), 2
	switch given := c.rules.Levels.Forward; {
	case given != (r3.Vector{}):
		forward = axisOf(given)
	case up == 2:
		return solid.Bottom, solid.Right // the floor's back is the box's bottom
	}
	far := [3]solid.Side{solid.Right, solid.Top, solid.Front}
	return far[forward], far[3-up-forward]
}

// axisOf is the axis that a direction along one goes along.
func axisOf(v r3.Vector) int {
	switch {
	case v.X != 0:
		return 0
	case v.Z != 0:
		return 2
	}
	return 1
}

// toward is a lean of so much as it is said: toward a side, by no less than 0.
func toward(side solid.Side, angle float64) Leaning {
	if angle < 0 {
		side, angle = opposite(side), -angle
	}
	return Leaning{side, s1.Angle(angle)}
}

func opposite(side solid.Side) solid.Side {
	for _, s := range solid.Sides() {
		if s != side && s.Axis() == side.Axis() {
			return s
		}
	}
	return solid.NoSide
}

// levels answers for the liquid.
func (c *checker) levels() Levels {
	r := c.rules.Levels
	out := Levels{Asked: r.Asked, Cold: r.Fill, Pitch: r.Pitch, Roll: r.Roll}
	if !r.Asked {
		return out
	}
	out.PitchTo, out.RollTo = c.leanings()
	s := stance{c.assembly.Tank, c.pose.turnIn(r.Up)}
	if s.tank.Sheet > 0 {
		out.Litres = s.tank.Inside().Volume() / mm3InLitre
	}
	out.Fill = c.fillLevel(s)
	out.Outlet = c.outletLevel(s)
	out.Head = c.headRoom(s)
	return out
}

// worstOf finds the most of a volume over all leans that the machine may take, as
// a share, a bound, and the lean where it was found. atMost bounds the volume at
// all leans of no more than turn from up.
func (c *checker) worstOf(s stance, atMost func(up r3.Vector, turn float64) float64) (most float64, pitch, roll Leaning) {
	const shareWithin = 0.002 // a fifth of a percent of the box
	r := c.rules.Levels
	whole := s.tank.Inside().Volume()
	under := func(a, b, turn float64) float64 { return -atMost(c.leaned(s, a, b), turn) / whole }
	atLeast, _, a, b := level.Least(level.Range{r.Pitch.Radians(), r.Roll.Radians()}, shareWithin, level.Leaning{
		At: func(a, b float64) float64 { return under(a, b, 0) }, Under: under,
	})
	toPitch, toRoll := c.leanings()
	return math.Min(1, -atLeast), toward(toPitch, a), toward(toRoll, b)
}

// openings are those that let air out: the fill, and the vents.
func openings(t solid.Tank, fill int) []level.Opening {
	var all []level.Opening
	for _, i := range append([]int{fill}, t.Vents()...) {
		if o, ok := t.Opening(i); ok {
			all = append(all, o)
		}
	}
	return all
}

func (c *checker) fillLevel(s stance) FillLevel {
	var out FillLevel
	t := s.tank
	fill, ok := t.Fill(s.up)
	if !ok {
		out.Because = NotChecked
		return out
	}
	out.Fitting = t.Fittings[fill].Name
	for _, i := range t.Vents() {
		out.Vents = append(out.Vents, t.Fittings[i].Name)
	}
	in, open := t.Inside(), openings(t, fill)
	whole := in.Volume()
	out.Over = in.Over(s.up, open...)
	out.Highest = out.Over <= t.Within+reach
	_, air := in.Filled(s.up, open...)
	out.Air = air / whole
	out.Leaned, out.ToPitch, out.ToRoll = c.worstOf(s, func(up r3.Vector, turn float64) float64 { return in.AirAtMost(up, turn, open...) })
	out.AirAt, out.AirOn = c.pocket(s, out, in, open)
	if c.rules.Levels.Fill == 0 {
		out.Verdict, out.Sure = Tight, 0
		if out.Highest {
			out.Verdict, out.Sure = Clears, 1
		}
		return out
	}
	cold := c.rules.Levels.Fill
	out.figure = c.made(s, func(s stance) float64 {
		in := s.tank.Inside()
		_, high := in.Extent(s.up)
		return high - in.Over(s.up, openings(s.tank, fill)...) - in.Level(s.up, cold*in.Volume())
	})
	out.Spare, out.U = out.figure.value, out.figure.u
	out.Sure = out.figure.probability(0)
	out.Verdict, out.Because = c.grade(out.Sure)
	return out
}

// pocket is where the air is that stays with the machine leaned farthest: its
// middle, and the side that it lies toward.
func (c *checker) pocket(s stance, f FillLevel, in level.Space, open []level.Opening) (r3.Vector, solid.Side) {
	angle := func(l Leaning) float64 {
		if toPitch, toRoll := c.leanings(); l.Side != toPitch && l.Side != toRoll {
			return -l.Angle.Radians()
		}
		return l.Angle.Radians()
	}
	up := c.leaned(s, angle(f.ToPitch), angle(f.ToRoll))
	_, high := in.Extent(up)
	rim := high - in.Over(up, open...)
	middle, ok := in.Below(up.Mul(-1), -rim).Middle()
	if !ok {
		return r3.Vector{}, solid.NoSide
	}
	centre := s.tank.Size.Vector().Mul(0.5)
	most, on := 0.0, solid.NoSide
	for _, side := range solid.Sides() {
		if math.Abs(side.Out().Dot(s.up)) > 0.7 { // up or down, within 45 degrees
			continue
		}
		if off := middle.Sub(centre).Dot(side.Out()) / s.tank.Size.Along(side.Axis()); off > most {
			most, on = off, side
		}
	}
	return c.pose.world(middle), on
}

func (c *checker) outletLevel(s stance) OutletLevel {
	var out OutletLevel
	t := s.tank
	var from []string
	for _, h := range c.rules.Hoses {
		from = append(from, h.From)
	}
	i, ok := t.Outlet(s.up, from)
	if !ok {
		return out
	}
	o, ok := t.Opening(i)
	if !ok {
		return out
	}
	out.Fitting = t.Fittings[i].Name
	in := t.Inside()
	whole := in.Volume()
	low, _ := o.Extent(s.up)
	bottom, _ := in.Extent(s.up)
	out.Over = math.Max(0, low-bottom)
	out.Lowest = out.Over <= t.Within+reach
	out.Left = in.Left(s.up, o) / whole
	out.LeftLeaned, _, _ = c.worstOf(s, func(up r3.Vector, turn float64) float64 { return in.LeftAtMost(up, turn, o) })
	if cold := c.rules.Levels.Fill; cold > 0 {
		c.covered(s, i, &out)
	}
	return out
}

// covered finds how far the outlet stays under the cold liquid.
func (c *checker) covered(s stance, fitting int, out *OutletLevel) {
	const depthWithin = 0.5 // mm, less than anyone fills to
	r := c.rules.Levels
	depth := func(s stance, pitch, roll, turn float64) float64 {
		in := s.tank.Inside()
		o, _ := s.tank.Opening(fitting)
		return in.DepthAtLeast(c.leaned(s, pitch, roll), turn, r.Fill*in.Volume(), o)
	}
	in := s.tank.Inside()
	out.Checked = true
	out.Depth = depth(s, 0, 0, 0)
	least, _, a, b := level.Least(level.Range{r.Pitch.Radians(), r.Roll.Radians()}, depthWithin, level.Leaning{
		At:    func(a, b float64) float64 { return depth(s, a, b, 0) },
		Under: func(a, b, turn float64) float64 { return depth(s, a, b, turn) },
	})
	toPitch, toRoll := c.leanings()
	out.Least, out.ToPitch, out.ToRoll = least, toward(toPitch, a), toward(toRoll, b)
	o, _ := s.tank.Opening(fitting)
	for _, side := range [4]solid.Side{opposite(toRoll), toRoll, opposite(toPitch), toPitch} {
		down := square(c.pose.turnIn(side.Out()), s.up)
		lean, ok := in.Uncovered(s.up, down, r.Fill*in.Volume(), o)
		if !ok {
			lean = -1
		}
		out.Uncovers = append(out.Uncovers, Leaning{side, s1.Angle(lean)})
	}
	out.figure = c.made(s, func(s stance) float64 { return depth(s, a, b, 0) })
	out.figure.value = least
	out.U, out.Sure = out.figure.u, out.figure.probability(0)
	out.Verdict, out.Because = c.grade(out.Sure)
}

func (c *checker) headRoom(s stance) HeadRoom {
	r := c.rules.Levels
	if r.Fill == 0 || !r.Swells {
		return HeadRoom{}
	}
	out := HeadRoom{Known: true, Share: 1 - r.Fill, Cold: r.Cold, Hot: r.Hot, Source: r.Coolant.Source(), System: r.System}
	var ok bool
	if out.Expansion, ok = r.Coolant.Expansion(r.Cold, r.Hot); !ok {
		out.Asked, out.Because = true, NotChecked
		return out
	}
	out.TakesOwn = math.Inf(1)
	if out.Expansion > 0 {
		out.TakesOwn = out.Share / out.Expansion / r.Fill
	}
	if s.tank.Sheet > 0 {
		out.Litres = out.Share * s.tank.Inside().Volume() / mm3InLitre
		out.Takes = out.Litres / out.Expansion
	}
	if out.Asked = r.System > 0 && out.Litres > 0 || out.TakesOwn < 1; !out.Asked {
		return out
	}
	// The box's own coolant is the least that there is.
	out.figure = c.made(s, func(s stance) float64 {
		whole := s.tank.Inside().Volume() / mm3InLitre
		return (1-r.Fill)*whole - out.Expansion*math.Max(r.System, r.Fill*whole)
	})
	out.Sure = out.figure.probability(0)
	out.Verdict, out.Because = c.grade(out.Sure)
	return out
}

// made is the figure of a quantity of the box as it is made and as the face that
// it is bolted to tilts: how it changes with each is found by trying a little
// more of it.
func (c *checker) made(s stance, q func(stance) float64) figure {
	// A thousandth of a millimetre, and of a degree: far below any tolerance, far above
	// rounding.
	const step, tilt = 1e-3, 1e-3 * math.Pi / 180
	value := q(s)
	m := c.making
	slope := func(t solid.Tank) float64 { return (q(stance{t, s.up}) - value) / step }
	for axis := range 3 {
		more := s.tank.Resized(sizeOf(s.tank.Size.Vector().Add(solid.Axis(axis).Mul(step))))
		c.sum.one(m.first+axis, rectangular(s.tank.Within)*slope(more))
	}
	for i, f := range s.tank.Fittings {
		for k := range f.At {
			t := s.tank
			t.Fittings = slices.Clone(t.Fittings)
			t.Fittings[i].At[k].By += step
			by := slope(t)
			if from := f.At[k].From; from.Far() {
				by = -by
			}
			c.sum.one(m.first+sizeErrors+placeErrors+2*i+k, rectangular(f.Within)*by)
		}
	}
	for k := range 2 {
		axis := solid.Axis(k)
		turned := s.up.Sub(axis.Cross(s.up).Mul(tilt)).Normalize()
		c.sum.add(c.ways[k+1], (q(stance{s.tank, turned})-value)/tilt)
	}
	return c.newFigure(value, nil)
}

func sizeOf(v r3.Vector) solid.Size { return solid.Size{Width: v.X, Height: v.Y, Depth: v.Z} }
