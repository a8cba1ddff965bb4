package hose

import (
	"math"
	"slices"

	"elbowroom/solid/shape"
)

// Obstacle is something that a hose must keep away from: a solid, or another hose.
type Obstacle struct {
	Solid shape.Convex // nil: see Tube
	Tube  *Tube
	// Gap is what the hose's skin must keep from it, mm, with whatever the caller
	// adds for being sure.
	Gap float64
	// Start and End are how much of the run's beginning and end it does not count for,
	// mm; FirstLeg and LastLeg leave out the whole straight there, where that is longer.
	Start, End        float64
	FirstLeg, LastLeg bool
}

// Wish is a hose to be led from end to end.
type Wish struct {
	Ends      Ends
	Limits    Limits
	Outside   float64 // diameter, mm
	Obstacles []Obstacle
}

// Found is the answer to a wish.
type Found struct {
	Run Run
	// Any says that there is a run at all that keeps the limits; without it Run is
	// nothing.
	Any bool
	// Clears says that the run keeps every gap, and passes itself.
	Clears bool
	// Margin is the least of distance less gap over all obstacles, mm, Inf without
	// any; Worst is the obstacle that it is of, -1 where it is the hose itself.
	Margin float64
	Worst  int
	// Direct says that the run is one of Shortest or Loops: two or three arcs.
	Direct bool
	// Free is the length of the shortest run with no obstacles at all, 0 where there
	// is none of at most three arcs.
	Free float64
}

// Find looks for a run that keeps its limits and every gap: the shortest of the
// direct ones that does; else one through places between, found on a grid and then
// shortened (see route and polish); only then one that loops, which nobody likes to
// form. Each is judged by the exact distances of its whole tube. Without any that
// clears, it is the one that comes nearest to. The same wish always gets the same answer.
func Find(w Wish) Found {
	best := Found{Margin: math.Inf(-1), Worst: -1}
	w.Obstacles = slices.Clone(w.Obstacles)
	for i := range w.Obstacles {
		if o := &w.Obstacles[i]; o.Solid != nil {
			o.Solid = shape.Prepare(o.Solid)
		}
	}
	var loops []Run
	for i, r := range append(Shortest(w.Ends, w.Limits), Loops(w.Ends, w.Limits)...) {
		if i == 0 || r.Length() < best.Free {
			best.Free = r.Length()
		}
		if r.Loops() {
			loops = append(loops, r)
		} else if w.take(&best, r, true) {
			return best
		}
	}
	if w.search(&best); best.Clears {
		return best
	}
	for _, r := range loops {
		if w.take(&best, r, true) {
			break
		}
	}
	return best
}

// take judges a run, keeps it where it is the best so far, and says whether it clears.
func (w *Wish) take(best *Found, r Run, direct bool) bool {
	margin, worst := w.margin(r, best.Margin)
	if !best.Any || margin > best.Margin {
		best.Run, best.Any, best.Direct, best.Margin, best.Worst = r, true, direct, margin, worst
	}
	best.Clears = best.Margin >= 0
	return margin >= 0
}

// margin is the least distance less gap, and the obstacle that it is of. Where it is
// below what is given it may be any lower bound's place.
func (w *Wish) margin(r Run, above float64) (margin float64, worst int) {
	t := r.Tube(w.Outside)
	margin, worst = math.Inf(1), -1
	for i := range w.Obstacles {
		o := &w.Obstacles[i]
		part := o.counted(t)
		if o.Solid != nil && part.Least(o.Solid)-o.Gap >= margin {
			continue
		}
		if d := o.distance(part) - o.Gap; d < margin {
			margin, worst = d, i
		}
		if margin < 0 && margin < above {
			return margin, worst // it is out of the running
		}
	}
	if own := t.Own(w.Limits.Radius); own < margin {
		return own, -1
	}
	return margin, worst
}

// counted is the part of a tube that an obstacle counts for.
func (o *Obstacle) counted(t Tube) Tube {
	from, to := o.span(t)
	if from == 0 && to == t.Length() {
		return t
	}
	return t.Between(from, to)
}

// span is from where to where along a tube an obstacle counts.
func (o *Obstacle) span(t Tube) (from, to float64) {
	first, last := t.Legs()
	from, to = o.Start, o.End
	if o.FirstLeg {
		from = math.Max(from, first)
	}
	if o.LastLeg {
		to = math.Max(to, last)
	}
	return from, t.Length() - to
}

// Legs is how long the tube's first and last straights are, 0 where it begins or
// ends with a bend.
func (t Tube) Legs() (first, last float64) {
	if n := len(t.Pieces); n > 0 {
		if !t.Pieces[0].Bend {
			first = t.Pieces[0].Length
		}
		if !t.Pieces[n-1].Bend {
			last = t.Pieces[n-1].Length
		}
	}
	return first, last
}

func (o *Obstacle) distance(t Tube) float64 {
	if o.Solid == nil {
		n, _, _ := t.DistanceTube(*o.Tube)
		return n.Signed
	}
	n, _ := t.Distance(o.Solid)
	return n.Signed
}
