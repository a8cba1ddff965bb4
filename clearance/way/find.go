package way

import (
	"context"
	"slices"

	"github.com/golang/geo/r3"

	"elbowroom/solid/shape"
)

// Found is the answer of Find.
type Found struct {
	OK bool
	// Path leads from outside the room to home.
	Path []Pose
	// Stuck is, where no way was found, how far one got: the pose that is farthest from home
	// toward a side, how far it still is from there to outside, and what is in the way of going on
	// straight: a part, a thing, and how far apart they are there.
	Stuck Stuck
	// Spent is how many distances were worked out.
	Spent int
}

// Stuck says where a search got no farther.
type Stuck struct {
	At        Pose
	Left      float64   // mm to outside
	Toward    r3.Vector // straight there
	Part      string
	Thing     string
	Clearance float64 // mm
	Needs     float64 // how much of that it needs, mm
}

// enough is how many distances a search works out before it gives up: some two
// seconds' worth on a small machine.
const enough = 200_000

// Find looks for a way in: straight first, then by straight moves on a grid and on a
// finer one, then with turns about the three axes, then by random poses with a fixed
// seed. Every leg of what it finds is proved clear. That none was found does not prove
// that there is none. The error is that of ctx.
func Find(ctx context.Context, s Scene) (Found, error) {
	f := newFinder(ctx, s)
	return f.find(
		f.direct,
		func() []Pose { return f.onGrid(onlyShifts(), f.pitch(), enough/8) },
		func() []Pose { return f.onGrid(onlyShifts(), f.pitch()/finer, enough/8) },
		func() []Pose { return f.onGrid(someTurns(), f.pitch(), enough/2) },
		func() []Pose { return f.atRandom(enough) },
	)
}

// finer is how many steps of the second grid one of the first is: slots are told
// that are wider than what goes through them by 3 mm.
const finer = 4

// FindStraight is Find without a turn: where it finds a way, Find finds the same, and
// it gives up eight times as soon.
func FindStraight(ctx context.Context, s Scene) (Found, error) {
	f := newFinder(ctx, s)
	return f.find(f.direct, func() []Pose { return f.onGrid(onlyShifts(), f.pitch(), enough/8) })
}

func newFinder(ctx context.Context, s Scene) *finder {
	return &finder{course: ready(s), ctx: ctx, stuck: Stuck{Left: -1}}
}

// find looks by one way of searching after another.
func (f *finder) find(stages ...func() []Pose) (Found, error) {
	for _, stage := range stages {
		if out := stage(); out != nil {
			return Found{OK: true, Path: f.tidy(out), Spent: f.spent}, nil
		}
		if err := f.ctx.Err(); err != nil {
			return Found{}, err
		}
	}
	f.blame()
	return Found{Stuck: f.stuck, Spent: f.spent}, nil
}

// finder is a search under way; its paths lead from home out.
type finder struct {
	*course
	ctx   context.Context
	stuck Stuck
	home  shape.Span // of all parts, at home
	gone  float64    // mm that stuck has got toward its side
}

// free says that the leg between two poses is clear.
func (f *finder) free(a, b Pose) bool {
	_, ok := f.clear(between(a, b))
	return ok
}

// over says that a search must stop.
func (f *finder) over(budget int) bool { return f.spent > budget || f.ctx.Err() != nil }

// past is by how much a way goes beyond the room's side, mm, so that rounding does not
// leave it inside.
const past = 1.0

// direct tries straight ways out of home, where somebody looked first, square to the
// axes first.
func (f *finder) direct() []Pose {
	span := f.span(Pose{})
	all := slices.Concat(directions(1), directions(2), directions(3))
	for _, d := range seenFirst(f.Scene, all, func(d r3.Vector) r3.Vector { return d }) {
		// Along a slant the first side to be passed is the way out.
		steps := -1.0
		for _, e := range exits() {
			if e.dir().Dot(d) > 0 {
				if left := f.left(span, e) + past; steps < 0 || left < steps {
					steps = left
				}
			}
		}
		if out := (Pose{Shift: f.along(d).Mul(steps)}); f.free(Pose{}, out) {
			return []Pose{{}, out}
		}
	}
	f.note(Pose{}, span)
	return nil
}

// directions are those with so many of x, y, z in them, none toward the back, the
// front first.
func directions(number int) []r3.Vector {
	var out []r3.Vector
	for _, z := range []float64{1, 0} {
		for _, y := range []float64{1, -1, 0} {
			for _, x := range []float64{1, -1, 0} {
				if x*x+y*y+z*z == float64(number) {
					out = append(out, r3.Vector{X: x, Y: y, Z: z})
				}
			}
		}
	}
	return out
}

// leave tries the straight ways out of a pose; nil where none is clear.
func (f *finder) leave(p Pose) *Pose {
	span := f.span(p)
	for _, e := range f.exits {
		out := Pose{Shift: p.Shift.Add(f.along(e.dir()).Mul(f.left(span, e) + past)), Turn: p.Turn}
		if f.free(p, out) {
			return &out
		}
	}
	f.note(p, span)
	return nil
}

// note keeps the pose that has got farthest toward a side from home; home itself is kept
// with the side that is nearest.
func (f *finder) note(p Pose, span shape.Span) {
	if f.stuck.Left < 0 {
		e, left := f.nearestExit(span)
		f.stuck = Stuck{At: p, Left: left, Toward: f.along(e.dir())}
		f.home = span
		return
	}
	for _, e := range f.exits {
		left := f.left(span, e)
		if gone := f.left(f.home, e) - left; gone > f.gone {
			f.gone, f.stuck = gone, Stuck{At: p, Left: left, Toward: f.along(e.dir())}
		}
	}
}

// blame finds what is in the way of going on straight from where it is stuck.
func (f *finder) blame() {
	s := &f.stuck
	l := between(s.At, Pose{Shift: s.At.Shift.Add(s.Toward.Mul(s.Left + past)), Turn: s.At.Turn})
	spans := f.sweep(l)
	first := hit{at: 2}
	for i := range f.Parts {
		for k := range f.Things {
			if h, ok := f.pair(l, spans, i, k); !ok {
				if h = f.earliest(l, i, k, h); h.at < first.at {
					first = h
				}
			}
		}
	}
	if first.at > 1 {
		return
	}
	s.Part, s.Thing, s.Clearance = f.Parts[first.part].Name, f.Things[first.thing].Name, first.near.Signed
	s.Needs = f.needs[first.part][first.thing]
	s.At = l.pose(first.at)
	s.Left *= 1 - first.at
}

// earliest is where on a straight leg the distance first comes to its need, given a
// place where it is less: it falls before that, being convex.
func (f *finder) earliest(l leg, part, thing int, h hit) hit {
	w := walk{f.course, l, part, thing}
	low, high := 0.0, h.at
	for high-low > 1e-4 {
		mid := (low + high) / 2
		if n := w.distance(mid); n.Signed < f.needs[part][thing] {
			high = mid
		} else {
			low, h = mid, w.hit(mid, n)
		}
	}
	return h
}

// tidy takes out the poses that are not needed and turns the way round.
func (f *finder) tidy(out []Pose) []Pose {
	kept := []Pose{out[0]}
	for i := 0; i < len(out)-1; {
		next := len(out) - 1
		for next > i+1 && !f.free(out[i], out[next]) {
			next--
		}
		kept = append(kept, out[next])
		i = next
	}
	in := make([]Pose, len(kept))
	for i, p := range kept {
		in[len(kept)-1-i] = p
	}
	return in
}
