package clearance

import (
	"math"
	"slices"

	"github.com/golang/geo/r3"

	"elbowroom/solid/shape"
	"elbowroom/survey"
)

// Tapes tells which tapes could be pulled from mark to mark and are not yet, and
// what one more would do for a mark. It keeps scratch space: use one in each
// goroutine.
type Tapes struct {
	space    *survey.Space
	spread   *survey.Spreader
	things   []thingThere
	features [][]int // that each mark is of
	pulled   map[[2]int]bool
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
func (t *Tapes) Straight(from, to int) bool {
	a, b := t.space.Marks[from].At, t.space.Marks[to].At
	ua, ub := t.space.Uncertainty(from), t.space.Uncertainty(to)
	way := b.Sub(a).Normalize()
	tape := shape.Hull{Points: []r3.Vector{a, b}}
	inner := shape.Hull{Points: []r3.Vector{a.Add(way.Mul(touched * ua)), b.Sub(way.Mul(touched * ub))}}
	room := spanOf(tape)
	for i := range t.things {
		p := &t.things[i]
		if p.span.off(room) > 0 {
			continue
		}
		ofA, ofB := slices.Contains(t.features[from], p.feature), slices.Contains(t.features[to], p.feature)
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

// weakBy is from how many times the uncertainty of one tape a mark is worth a
// new reading: with four well-placed tapes it has about one. worthIt is the share
// of its uncertainty that the reading must leave it at most, to be worth the
// crawl: it takes off a fifth.
const (
	weakBy  = 2
	worthIt = 0.8
)

// Weak finds the tape that a weak mark is worth, as Better does. ok is false for
// a mark that is known well enough, and where no tape helps it much.
func (t *Tapes) Weak(m int, within float64) (from int, left float64, ok bool) {
	now := t.space.Spread(m).Worst
	if now < weakBy*rectangular(within) {
		return 0, now, false
	}
	from, left = t.Better(m, within)
	return from, left, from >= 0 && left <= worthIt*now
}

// Better finds the mark from which one more tape, with a half limit of within
// mm, would leave least of a mark's worst direction, and the standard
// uncertainty that it would leave there, mm; -1 where none makes it less.
//
// A tape of variance t along e adds one observation: of the variance along w it
// leaves C(w,w) - C(w,d)² / (C(d,d) + t), with d the distance (Kalman's update).
func (t *Tapes) Better(m int, within float64) (from int, left float64) {
	now := t.space.Spread(m)
	from, left = -1, now.Worst
	worst := t.spread.Terms(survey.Gradient{{Mark: m, By: now.Toward}})
	for k := range t.space.Marks {
		if !t.New(k, m) {
			continue
		}
		tape := t.terms(k, m)
		if u := leaves(now.Worst, worst, tape, within); u < left*(1-reach) && t.Straight(k, m) {
			from, left = k, u
		}
	}
	return from, left
}

// terms are those of the distance between two marks.
func (t *Tapes) terms(from, to int) []survey.Term {
	e := t.space.Marks[to].At.Sub(t.space.Marks[from].At).Normalize()
	return t.spread.Terms(survey.Gradient{{Mark: to, By: e}, {Mark: from, By: e.Mul(-1)}})
}

// leaves is the standard uncertainty that a figure of u is left with by one more
// tape.
func leaves(u float64, figure, tape []survey.Term, within float64) float64 {
	by := survey.Dot(figure, tape)
	return math.Sqrt(math.Max(0, u*u-by*by/(survey.Dot(tape, tape)+within*within/3)))
}

// Checking finds the mark from which one more tape to m would check each of some
// tapes, by their rows: of those that do, the one that leaves least of the mark's worst
// direction, as in Better. ok is false where no tape checks them all.
//
// With b how far the distance moves for one standard deviation of a tape that is
// there, a new one of variance t raises the old one's redundancy by
// b² / (C(d,d) + t): by so much, in its own variance, the fitted one's falls.
func (t *Tapes) Checking(m int, rows []int, within float64) (from int, left float64, ok bool) {
	now := t.space.Spread(m)
	worst := t.spread.Terms(survey.Gradient{{Mark: m, By: now.Toward}})
	left = math.Inf(1)
	for k := range t.space.Marks {
		if !t.New(k, m) {
			continue
		}
		tape := t.terms(k, m)
		if !t.checks(rows, tape, within) {
			continue
		}
		if u := leaves(now.Worst, worst, tape, within); u < left*(1-reach) && t.Straight(k, m) {
			from, left, ok = k, u, true
		}
	}
	return from, left, ok
}

// checks says whether one more tape raises the redundancy of those that are there
// to what counts as checked.
func (t *Tapes) checks(rows []int, tape []survey.Term, within float64) bool {
	total := survey.Dot(tape, tape) + within*within/3
	sources := t.space.Sources()
	for _, row := range rows {
		gain := 0.0
		for _, term := range tape {
			if sources[term.Source].Row == row {
				gain += term.By * term.By / total
			}
		}
		if t.space.Rows[row].Redundancy+gain < survey.LeastRedundancy {
			return false
		}
	}
	return true
}
