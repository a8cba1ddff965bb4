package clearance

import (
	"context"
	"runtime"
	"slices"

	"elbowroom/clearance/way"
	"elbowroom/solid"
)

const (
	// mostInFull is how many sizes are held against what takes long: some seconds.
	mostInFull = 24
	// atOnce is how many of them are looked at before what they say is used; it does
	// not depend on the machine, so that the same input gives the same output.
	atOnce = 4
	// mostStuck is how many times in all no way in may be found before no more is
	// looked for: each takes some seconds.
	mostStuck = 3
)

// long lists what of the job takes too long to hold many sizes against.
func (c *checker) long() (list []NotHeld) {
	add := func(is bool, what NotHeld) {
		if is {
			list = append(list, what)
		}
	}
	moves := false
	for i := range c.motions {
		for k := range c.features {
			moves = moves || c.motions[i].moves(&c.features[k])
		}
	}
	add(moves, BodyInMotions)
	add(slices.ContainsFunc(c.assembly.Tank.Fittings, func(f solid.Fitting) bool {
		return slices.ContainsFunc(f.KeepOpen, solid.KeepOpen.Turns)
	}), RoomToTurn)
	add(slices.ContainsFunc(c.rules.Hoses, func(h HoseSpec) bool { return h.Along == "" }), HosesToBeFound)
	add(c.rules.Levels.Asked, LiquidLevels)
	add(c.rules.WayIn.Asked, TheWayIn)
	return list
}

func (z *sizer) long() []NotHeld { return z.lasting }

// withoutTurning is an assembly without the keep-open volumes that may stand in more
// than one way.
func withoutTurning(a *solid.Assembly) *solid.Assembly {
	if !slices.ContainsFunc(a.Parts, func(p solid.Part) bool { return p.Turning != nil }) {
		return a
	}
	out := *a
	out.Parts = slices.DeleteFunc(slices.Clone(a.Parts), func(p solid.Part) bool { return p.Turning != nil })
	return &out
}

// lightened is a tank without such volumes. What can be wrong with them does not hang on
// the size: where the tank as given is wrong it stays as it is, so that the first of
// several mistakes is the same.
func lightened(t solid.Tank) solid.Tank {
	if _, err := solid.Build(t); err != nil {
		return t
	}
	t.Fittings = slices.Clone(t.Fittings)
	for i := range t.Fittings {
		t.Fittings[i].KeepOpen = slices.DeleteFunc(slices.Clone(t.Fittings[i].KeepOpen), solid.KeepOpen.Turns)
	}
	return t
}

// settler settles sizes, and counts what that took.
type settler struct {
	ctx   context.Context
	sizes *Sizes
	pool  *sizers
	few   bool // all are settled, as Check does
	stuck int
	spent int // of mostInFull
	tried map[int]bool
}

// settleAll settles what is open: all sizes where they are few, else the best trades.
//
// What is open counts for as good as it may be until then: what it leaves out is left
// out by a better one that is settled in its turn, so that the outcome is that of
// settling them all.
func (o *Sizes) settleAll(ctx context.Context, pool *sizers) {
	w := settler{ctx: ctx, sizes: o, pool: pool, tried: map[int]bool{}}
	left := o.which(func(z *Sized) bool { return z.Left })
	if w.few = len(left) <= mostInFull; w.few {
		w.settle(left)
	}
	for ctx.Err() == nil {
		// One that was tried in vain is passed over.
		o.Best = o.front(func(i int) bool { return w.tried[i] && o.All[i].Open })
		todo := slices.DeleteFunc(slices.Clone(o.Best), func(i int) bool { return w.tried[i] })
		if len(todo) == 0 {
			break
		}
		if len(o.NotHeld) > 0 {
			if w.spent >= mostInFull {
				break
			}
			// First those that may clear: nobody cuts from the others.
			if may := slices.DeleteFunc(slices.Clone(todo), func(i int) bool { return !o.All[i].MayClear }); len(may) > 0 {
				todo = may
			}
			todo = spread(todo, min(atOnce, mostInFull-w.spent))
		}
		w.settle(todo)
	}
	none, open := func(int) bool { return false }, func(i int) bool { return o.All[i].Open }
	o.Some = slices.ContainsFunc(o.front(none), open)
	o.Best = o.front(open)
}

// spread picks so many of a list, evenly.
func spread(list []int, most int) []int {
	if len(list) <= most {
		return list
	}
	out := make([]int, most)
	for k := range out {
		out[k] = list[(2*k+1)*len(list)/(2*most)]
	}
	return out
}

func (o *Sizes) which(is func(z *Sized) bool) (list []int) {
	for i := range o.All {
		if is(&o.All[i]) {
			list = append(list, i)
		}
	}
	return list
}

// search is how a way in is looked for now.
func (w *settler) search() wayFinder {
	switch {
	case w.stuck >= mostStuck:
		return nil
	case w.few:
		return way.Find
	}
	return way.FindStraight
}

// settle settles sizes, atOnce at a time where that takes long.
func (w *settler) settle(list []int) {
	rest := list
	for len(rest) > 0 && w.ctx.Err() == nil {
		some := rest
		if len(w.sizes.NotHeld) > 0 {
			some = rest[:min(atOnce, len(rest))]
		}
		rest = rest[len(some):]
		stuck := make([]bool, len(some))
		inParallelBy(min(workers, runtime.GOMAXPROCS(0)), len(some), func() func(int) {
			return func(job int) {
				z := w.pool.take()
				defer w.pool.put(z)
				i := some[job]
				if out, ok := z.inFull(w.ctx, w.sizes.All[i].Candidate, w.search(), !w.few); ok {
					stuck[job] = out.Decides.WayIn && out.Decides.Because == NotChecked
					w.sizes.All[i] = out
				}
			}
		})
		for k, i := range some {
			w.tried[i] = true
			w.spent++
			if stuck[k] {
				w.stuck++
			}
		}
	}
}
