package clearance

import (
	"math"
	"slices"

	"github.com/golang/geo/r3"

	"elbowroom/solid/shape"
	"elbowroom/survey"
)

// Tapes tells which tapes could be pulled from mark to mark, and which depths taken,
// that are not yet, and what one more would do for a mark. It keeps scratch space: use one in each
// goroutine.
type Tapes struct {
	space    *survey.Space
	spread   *survey.Spreader
	things   []thingThere
	features [][]int // that each mark is of
	pulled   map[[2]int]bool
	laid     map[[3]int]bool
	variance []float64 // of each mark, once it is asked for
}

// thingThere is one piece of a feature, in the mounting frame.
type thingThere struct {
	feature int
	hull    shape.Hull
	span    span
}

// NewTapes makes one for a space.
func NewTapes(s *survey.Space) *Tapes {
	t := &Tapes{space: s, spread: s.Spreader(), features: make([][]int, len(s.Marks)), pulled: map[[2]int]bool{}}
	t.laid, t.variance = map[[3]int]bool{}, make([]float64, len(s.Marks))
	for i := range s.Features {
		f := &s.Features[i]
		for _, n := range f.Nodes {
			if !slices.Contains(t.features[n.Mark], i) {
				t.features[n.Mark] = append(t.features[n.Mark], i)
			}
		}
		for _, p := range f.Pieces {
			hull := shape.Hull{Points: make([]r3.Vector, len(p.Nodes)), Grow: f.Grow, Behind: f.Behind}
			for k, n := range p.Nodes {
				hull.Points[k] = f.Nodes[n].At
			}
			t.things = append(t.things, thingThere{i, hull, spanOf(hull)})
		}
	}
	for _, r := range s.Rows {
		if r.Kind == survey.Tapes && !r.Shared {
			t.pulled[[2]int{r.Marks[0], r.Marks[1]}] = true
			t.pulled[[2]int{r.Marks[1], r.Marks[0]}] = true
		}
		if r.Kind == survey.Depths {
			t.laid[lain(r.Marks[0], r.Marks[1], r.Marks[2])] = true
		}
	}
	return t
}

// The tapes that are proposed: shorter than 2 in none can be pulled past its own
// hook, longer than 3 ft none lies straight in a bay (own estimates).
const (
	shortestTape = 2 * 25.4
	longestTape  = 36 * 25.4
)

// New says whether a tape between two marks is one that is not there yet and
// that a hand could pull, as far as its length and ends go.
func (t *Tapes) New(from, to int) bool {
	a, b := &t.space.Marks[from], &t.space.Marks[to]
	if from == to || !a.Located || !b.Located || t.pulled[[2]int{from, to}] || t.onlyRun(from) || t.onlyRun(to) {
		return false
	}
	long := a.At.Sub(b.At).Norm()
	return long >= shortestTape && long <= longestTape
}

// onlyRun says whether a mark stands for where a hose is wanted, and nothing is
// there to hook a tape on.
func (t *Tapes) onlyRun(m int) bool {
	for _, f := range t.features[m] {
		if !t.space.Features[f].Spec.Run {
			return false
		}
	}
	return len(t.features[m]) > 0
}

// touched is how many standard uncertainties of its mark a tape's end may stand
// in a thing that it only touches (normal, three in a thousand beyond).
const touched = 3

// Straight says whether nothing that was measured is in a tape's way: its line
// runs through no piece of a feature, with all behind it, by more than the marks
// at its ends are good to, the ends themselves left out by as much as they may
// touch. In the features that the ends belong to it may go as deep as the ends
// lie themselves. What nobody measured may still be in the way.
func (t *Tapes) Straight(from, to int) bool { return t.straight(t.end(from), t.end(to)) }

// end is one end of what lies straight: its place, how well that is known, mm,
// and the features that it touches.
type end struct {
	at r3.Vector
	u  float64
	of []int
}

func (t *Tapes) end(m int) end {
	return end{t.space.Marks[m].At, t.space.Uncertainty(m), t.features[m]}
}

// straight is Straight between any two places.
func (t *Tapes) straight(from, to end) bool {
	a, b, ua, ub := from.at, to.at, from.u, to.u
	way := b.Sub(a).Normalize()
	tape := shape.Hull{Points: []r3.Vector{a, b}}
	inner := shape.Hull{Points: []r3.Vector{a.Add(way.Mul(touched * ua)), b.Sub(way.Mul(touched * ub))}}
	room := spanOf(tape)
	for i := range t.things {
		p := &t.things[i]
		if p.span.off(room) > 0 {
			continue
		}
		ofA, ofB := slices.Contains(from.of, p.feature), slices.Contains(to.of, p.feature)
		line, may := inner, reach+math.Hypot(ua, ub)
		if ofA || ofB {
			line, may = tape, reach
		}
		if ofA {
			may = math.Max(may, depth(a, p.hull)+touched*ua)
		}
		if ofB {
			may = math.Max(may, depth(b, p.hull)+touched*ub)
		}
		if shape.Distance(line, p.hull).Signed < -may {
			return false
		}
	}
	return true
}

// depth is how deep a place lies in a piece; 0 outside.
func depth(at r3.Vector, hull shape.Hull) float64 {
	return math.Max(0, -shape.Distance(shape.Hull{Points: []r3.Vector{at}}, hull).Signed)
}
