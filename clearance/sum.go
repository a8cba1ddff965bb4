package clearance

import (
	"math"

	"elbowroom/survey"
)

// sum adds up terms over all independent errors, those of the survey and of
// the making. It is scratch space: taking the terms empties it.
type sum struct {
	by     []float64
	lo, hi int // what was touched
	room   *room
}

// room is where the terms of figures that are soon done with are kept: used over
// again, so that it need not be asked for each time. The zero room is ready to use.
type room struct{ terms []survey.Term }

// of gives room for n terms.
func (r *room) of(n int) []survey.Term {
	if len(r.terms)+n > cap(r.terms) {
		r.terms = make([]survey.Term, 0, max(2*cap(r.terms), n, 4096))
	}
	from := len(r.terms)
	r.terms = r.terms[:from+n]
	return r.terms[from : from : from+n]
}

// empty makes all of it free again: what was given out must not be used any more.
func (r *room) empty() { r.terms = r.terms[:0] }

func newSum(sources int) sum { return sum{by: make([]float64, sources), lo: sources} }

// add adds terms times a factor.
func (s *sum) add(terms []survey.Term, factor float64) {
	if factor == 0 {
		return
	}
	for _, t := range terms {
		s.one(t.Source, t.By*factor)
	}
}

// one adds to one error's term.
func (s *sum) one(source int, by float64) {
	s.by[source] += by
	s.lo, s.hi = min(s.lo, source), max(s.hi, source+1)
}

// take gives the terms, sorted by source, and empties the sum.
func (s *sum) take() []survey.Term {
	n := 0
	for _, by := range s.by[s.lo:max(s.lo, s.hi)] {
		if by != 0 {
			n++
		}
	}
	var terms []survey.Term
	if s.room != nil {
		terms = s.room.of(n)
	} else {
		terms = make([]survey.Term, 0, n)
	}
	for source := s.lo; source < s.hi; source++ {
		if by := s.by[source]; by != 0 {
			terms = append(terms, survey.Term{Source: source, By: by})
			s.by[source] = 0
		}
	}
	s.lo, s.hi = len(s.by), 0
	return terms
}

// spread is the root of the sum of squares of the terms; it leaves them there.
func (s *sum) spread() float64 {
	squares := 0.0
	for _, by := range s.by[s.lo:max(s.lo, s.hi)] {
		squares += by * by
	}
	return math.Sqrt(squares)
}

// drop empties the sum.
func (s *sum) drop() {
	clear(s.by[s.lo:max(s.lo, s.hi)])
	s.lo, s.hi = len(s.by), 0
}
