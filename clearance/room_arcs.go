package clearance

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"github.com/golang/geo/s1"
)

const (
	// arcStep is how fine the clock is cut where a place is not settled by the
	// bound, a quarter of a degree: what is not settled then counts as not free.
	arcStep  = math.Pi / 720
	arcCells = 24 // with which the cutting starts
	arcCell  = 2 * math.Pi / arcCells
	// bestWithin is how near the best clock angle's margin is found, mm, where
	// nowhere is enough.
	bestWithin = 0.25
)

// slack is how much the margin can change over half a cell: nothing of the
// volume moves farther than its reach times the turn, and a signed distance of
// convex shapes changes by no more than what moves most.
func (t *turner) slack(width float64) float64 { return t.part.Turning.Reach * width / 2 }

// free finds the clock angles at which a margin is 0 or more all the way: cells that
// the bound settles, cut in halves down to arcStep.
func (t *turner) free(kind int) []Arc {
	if len(t.all) == 0 {
		return []Arc{{0, 2 * math.Pi}}
	}
	var arcs []Arc
	var cut func(from, width float64)
	cut = func(from, width float64) {
		m := t.cell(from, width).margin[kind]
		switch slack := t.slack(width); {
		case m-slack >= -reach:
			arcs = join(arcs, Arc{s1.Angle(from), s1.Angle(from + width)})
		case m+slack < 0 || width <= arcStep:
		default:
			cut(from, width/2)
			cut(from+width/2, width/2)
		}
	}
	for k := range arcCells {
		cut(float64(k)*arcCell, arcCell)
	}
	return closed(arcs)
}

// join adds an arc to those before it.
func join(arcs []Arc, a Arc) []Arc {
	if n := len(arcs); n > 0 && math.Abs(float64(arcs[n-1].To-a.From)) < arcStep/2 {
		arcs[n-1].To = a.To
		return arcs
	}
	return append(arcs, a)
}

// closed joins what ends at a full turn with what starts at 0.
func closed(arcs []Arc) []Arc {
	n := len(arcs)
	const turn = s1.Angle(2 * math.Pi)
	if n < 2 || arcs[0].From > arcStep/2 || arcs[n-1].To < turn-arcStep/2 {
		return arcs
	}
	arcs[n-1].To = turn + arcs[0].To
	return arcs[1:]
}

// most is the clock angle with the greatest margin: of those that were looked at
// where there is room, else searched for, to bestWithin.
func (t *turner) most(room bool) s1.Angle {
	if len(t.all) == 0 {
		return arcCell / 2
	}
	best, at := math.Inf(-1), s1.Angle(0)
	for _, clock := range slices.Sorted(maps.Keys(t.cells)) {
		v := t.cells[clock]
		if !room {
			v = t.at(clock)
		}
		if m := v.margin[surely]; m > best {
			best, at = m, clock
		}
	}
	if room {
		return at
	}
	type cell struct{ from, width, bound float64 }
	var cells []cell
	for k := range arcCells {
		from := float64(k) * arcCell
		cells = append(cells, cell{from, arcCell, t.at(s1.Angle(from + arcCell/2)).margin[surely] + t.slack(arcCell)})
	}
	for len(cells) > 0 {
		k, _ := maxBy(cells, func(a, b cell) int { return cmp.Compare(a.bound, b.bound) })
		c := cells[k]
		if c.bound <= best+bestWithin || c.width <= arcStep {
			break
		}
		cells = slices.Delete(cells, k, k+1)
		for _, from := range [2]float64{c.from, c.from + c.width/2} {
			middle := s1.Angle(from + c.width/4)
			m := t.at(middle).margin[surely]
			if m > best {
				best, at = m, middle
			}
			cells = append(cells, cell{from, c.width / 2, m + t.slack(c.width/2)})
		}
	}
	return at
}

// maxBy is the index and the value of the first greatest.
func maxBy[T any](list []T, compare func(a, b T) int) (int, T) {
	best := 0
	for i := range list {
		if compare(list[i], list[best]) > 0 {
			best = i
		}
	}
	return best, list[best]
}

// nowhere says whether the volume surely has no room at any clock angle. The
// chance that it has some is no more than the sum, over cells of two degrees and
// ways round, of the chance that what is most in the way at the middle would be clear
// there with the cell's slack added.
func (t *turner) nowhere() bool {
	if len(t.all) == 0 {
		return false
	}
	cells, width := 180, math.Pi/90
	if !t.part.Turning.Any {
		cells, width = 1, 0
	}
	sum := 0.0
	for way := range t.part.Turning.Ways {
		for k := range cells {
			clock := t.part.Turning.Clock + s1.Angle((float64(k)+0.5)*width)
			sum += t.worst(t.pose(way, clock)).probability(-t.slack(width))
			if sum > 1-t.rules.Sure {
				return false
			}
		}
	}
	return true
}

// worst is the figure of what is most in the way.
func (t *turner) worst(p placed) figure {
	var out figure
	least := math.Inf(1)
	for i := range t.all {
		b := &t.all[i]
		if t.off(p.partThing, b) > least {
			continue
		}
		n, which, spot := t.clear(p, b)
		if n.Signed >= least {
			continue
		}
		least = n.Signed
		if b.own != nil {
			out = t.own(p.Part, *b.own, n)
		} else {
			out = t.figure(p.partThing, spot, b.feature, b.feature.pieces[which].nodes, n, 0)
		}
	}
	return out
}
