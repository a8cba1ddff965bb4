package largest

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"elbowroom/clearance"
	"elbowroom/solid"
)

func solve(ctx context.Context, t task) (*Answer, error) {
	s, err := newSearch(t)
	if err != nil {
		return nil, err
	}
	for _, stage := range []func(context.Context) error{s.sweep, s.finer, s.run} {
		if err := stage(ctx); err != nil {
			return nil, err
		}
	}
	s.lastTry()
	a := &Answer{Outside: t.limits.Outside, AtMost: s.bound(), Room: s.room}
	a.More = a.AtMost > s.best.value
	if s.best.frame == nil {
		return a, ErrNone
	}
	s.polish()
	if sides := s.open(s.best.stand); len(sides) > 0 {
		return nil, &Open{Sides: sides}
	}
	if s.best.value > a.AtMost*(1+1e-9) { // but for rounding
		return nil, fmt.Errorf("the bound of %g litres is under the %g found: a fault of the program", a.AtMost, s.best.value)
	}
	free, err := s.free(ctx)
	if err != nil {
		return a, err
	}
	if err := s.agree(ctx, a, free); err != nil {
		return a, err
	}
	if len(a.Free) > max(1, t.limits.Top) { // the better of two turns
		slices.SortStableFunc(a.Free, func(x, y Box) int { return cmp.Compare(y.Value(a.Outside), x.Value(a.Outside)) })
		a.Free = a.Free[:1]
		slices.SortStableFunc(free, func(x, y found) int { return cmp.Compare(y.value, x.value) })
	}
	a.Gap = s.best.value
	if t.limits.Capacity == 0 && t.limits.Step == 0 {
		a.Gap = a.Free[0].Value(a.Outside)
	}
	if t.limits.Capacity == 0 {
		if err := s.on(ctx, func() bool { return a.Gap >= s.bound()*(1-promised) }); err != nil {
			return nil, err
		}
		a.AtMost = s.bound()
		a.More = a.AtMost > s.best.value
	}
	a.Gap = math.Max(0, 1-a.Gap/a.AtMost)
	if err := s.prove(ctx, a, free); err != nil {
		return nil, err
	}
	a.Looked = s.looks
	return a, nil
}

// promised is by what share the bound may be above the box found where it can be brought
// nearer: what its lines cost when all their places are drawn may have taken the box
// farther from it than the search left it.
const promised = 0.005

// free are the boxes that nothing contradicts: the largest, the least of a capacity, or
// those that no other beats. ErrNone where there is none.
func (s *search) free(ctx context.Context) ([]found, error) {
	switch {
	case s.task.limits.Capacity > 0:
		least, ok, err := s.least(ctx)
		if err == nil && !ok {
			err = ErrNone
		}
		return []found{least}, err
	case s.task.limits.Top > 1:
		return s.front(ctx)
	}
	if s.own.frame != nil && s.own.frame != s.best.frame {
		return []found{s.best, s.own}, nil // what drawn lines cost may turn them round
	}
	return []found{s.best}, nil
}

// agree keeps those of which Check says the same. ErrNone where it does of none: what
// it alone looks at, a motion or a tool's room, is in the way.
func (s *search) agree(ctx context.Context, a *Answer, free []found) error {
	for i := range free {
		stops := s.stops(free[i])
		free[i] = s.shop(free[i])
		b, err := s.agreed(ctx, &free[i])
		if err != nil {
			return err
		}
		if b.Stops = stops; sureEach(b.Report) {
			a.Free = append(a.Free, b)
		}
	}
	if len(a.Free) == 0 {
		return ErrNone
	}
	return nil
}

// checked reports a box found; the way in, which takes longest and is no line of the
// box in its place, is left out unless whole.
func (s *search) checked(ctx context.Context, f found, whole bool) (Box, error) {
	t := f.frame.judge.Tank(f.stand)
	b := Box{Tank: t, At: t.Place.At, OutsideL: t.Size.Width * t.Size.Height * t.Size.Depth / 1e6}
	b.Capacity, b.Known = t.Capacity()
	assembly, err := solid.Build(t)
	if err != nil {
		return b, err
	}
	rules := s.task.rules
	rules.WayIn.Asked = rules.WayIn.Asked && whole
	rules.WayIn.Straight = true
	if b.Report, err = clearance.Check(ctx, s.task.space, assembly, rules); err != nil {
		return b, err
	}
	b.HiddenOK = true
	for _, side := range b.Report.Sides {
		b.Hidden = math.Max(b.Hidden, side.Hidden)
		b.HiddenOK = b.HiddenOK && side.HiddenOK
	}
	return b, nil
}

// newSearch sets out a search over all of a task's boxes.
func newSearch(t task) (*search, error) {
	fs := &frames{task: t, made: map[float64]*frame{}}
	from, to := t.tank.Place.Turn.Radians(), t.tank.Place.Turn.Radians()
	if t.limits.Turn.Given {
		from, to = t.limits.Turn.From, t.limits.Turn.To
	}
	if _, err := fs.at((from + to) / 2); err != nil {
		return nil, err
	}
	s := &search{task: t, frames: fs, enough: math.Inf(1), bounds: sizes(t)}
	s.root = &node{cell: fs.cell(from, to)}
	s.holds, _ = t.tank.Capacities()
	s.whole()
	return s, nil
}

// sizes are the limits of the sizes: what is asked for, and what the fittings' feet
// and the sheet need.
func sizes(t task) bounds {
	var b bounds
	b.min, b.max = components(t.limits.Min.Vector()), components(t.limits.Max.Vector())
	for a := range 3 {
		if b.max[a] == 0 {
			b.max[a] = math.Inf(1)
		}
		b.min[a] = math.Max(b.min[a], math.Max(2*t.tank.Sheet, t.tank.Within))
	}
	for _, f := range t.tank.Fittings {
		if f.Tilt.By != 0 {
			continue // its foot is larger; Build tells
		}
		radius := f.Hole / 2
		if len(f.Stack) > 0 {
			radius = math.Max(radius, f.Stack[0].Diameter/2)
		}
		for k, axis := range f.Side.Axes() {
			need := f.At[k].By + radius
			if f.At[k].From == solid.NoSide {
				need = 2 * (math.Abs(f.At[k].By) + radius)
			}
			b.min[axis] = math.Max(b.min[axis], need-reach)
		}
	}
	return b
}

// lastTry mends the tank as drawn and what was not looked at yet, where the search
// found no box.
func (s *search) lastTry() {
	if s.best.frame != nil {
		return
	}
	f := s.root.cell.frame
	t := s.task.tank
	at := f.judge.Turned(t.Place.At)
	lo := vec{X: at.X, Y: at.Y, Z: t.Place.StandOff}
	s.mend(f, s.root, clearance.Stand{Lo: lo, Hi: lo.Add(t.Size.Vector()), StandOff: t.Place.StandOff})
	for range mostTries {
		if len(s.heap.nodes) == 0 || s.best.frame != nil {
			break
		}
		n := s.heap.pop()
		s.floor = math.Max(s.floor, n.key)
		s.mend(n.cell.frame, n, s.stand(n))
	}
	if s.best.frame != nil {
		s.grow([]float64{16, 4, 1})
	}
}

// mostTries is how many boxes are mended at the end where none was found.
const mostTries = 60

// agreed is the box of what was found, of which Check agrees that every line
// reaches sure. The search asks sure of each place of a line alone; where several
// places of one are drawn together more is asked of all, bit by bit.
func (s *search) agreed(ctx context.Context, f *found) (Box, error) {
	b, err := s.checked(ctx, *f, false)
	base, start := f.frame, f.stand
	sure := base.judge.Sure()
	for by := 0.03; err == nil && by < 4 && !sureEach(b.Report); by *= 1.7 {
		q := *s
		q.best = found{}
		strict := *base
		strict.judge = base.judge.Strict(1-(1-sure)/(1+by), nil)
		strict.k = strict.judge.K()
		if !q.mend(&strict, s.root, start) {
			continue
		}
		full := *base
		full.judge = base.drawn
		q.best.frame = &full
		q.grow([]float64{1, 0.25, 0.06}) // what was asked too much
		s.looks = q.looks
		q.best.frame = base
		*f = s.shop(q.best)
		b, err = s.checked(ctx, *f, false)
	}
	if err == nil && !sureEach(b.Report) {
		return s.drawnIn(ctx, f, b)
	}
	return b, err
}

// drawnIn gives way to the lines that the judge does not know: motions, and rooms that
// may stand in more than one way. The face that such a line looks toward, or the one
// that moves the part most, goes in by what is short, until Check agrees; twenty rounds
// do where any do.
func (s *search) drawnIn(ctx context.Context, f *found, b Box) (Box, error) {
	k := f.frame.judge.K()
	var err error
	for n := 0; n < 20 && err == nil && !sureEach(b.Report); n++ {
		worst := slices.MinFunc(b.Report.Lines, func(x, y clearance.Line) int { return cmp.Compare(x.Sure, y.Sure) })
		// A twentieth of a millimetre more each time: rivals ask for more than the nearest place.
		short := math.Max(0, worst.Gap+k*worst.U-worst.Clearance) + 0.05*float64(n+1)
		lo, hi, toward := components(f.stand.Lo), components(f.stand.Hi), components(worst.Toward)
		axis := 0
		for a := range 3 {
			if math.Abs(toward[a]) > math.Abs(toward[axis]) {
				axis = a
			}
		}
		if by := short / math.Abs(toward[axis]); toward[axis] > 0 {
			hi[axis] -= by
		} else {
			lo[axis] += by
		}
		if hi[axis]-lo[axis] < s.bounds.min[axis] {
			break
		}
		next := *f
		next.stand.Lo, next.stand.Hi = vector(lo), vector(hi)
		next.value = s.value(next.stand.Size())
		next = s.shop(next)
		*f = next
		b, err = s.checked(ctx, next, false)
	}
	return b, err
}

// sureEach says whether each line of a report reaches what is wanted by itself.
func sureEach(r *clearance.Report) bool {
	for _, l := range r.Lines {
		if l.Sure < r.Wanted {
			return false
		}
	}
	return true
}
