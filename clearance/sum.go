package clearance

import (
	"math"
	"math/bits"

	"elbowroom/survey"
)

// sum adds up terms over all independent errors, those of the survey and of
// the making. It is scratch space: taking the terms empties it.
type sum struct {
	by      []float64
	touched []uint64 // a bit for each error that was added to: few of many
	lo, hi  int      // the words of touched that have any
	room    *room
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

func newSum(sources int) sum {
	words := (sources + 63) / 64
	return sum{by: make([]float64, sources), touched: make([]uint64, words), lo: words}
}

// add adds terms times a factor.
func (s *sum) add(terms []survey.Term, factor float64) {
	if factor == 0 || len(terms) == 0 {
		return
	}
	lo, hi := s.lo, s.hi
	for i := range terms {
		t := &terms[i]
		s.by[t.Source] += t.By * factor
		word := t.Source / 64
		s.touched[word] |= 1 << (uint(t.Source) % 64)
		lo, hi = min(lo, word), max(hi, word+1)
	}
	s.lo, s.hi = lo, hi
}

// one adds to one error's term.
func (s *sum) one(source int, by float64) {
	s.by[source] += by
	word := source / 64
	s.touched[word] |= 1 << (source % 64)
	s.lo, s.hi = min(s.lo, word), max(s.hi, word+1)
}

// take gives the terms, sorted by source, and empties the sum.
func (s *sum) take() []survey.Term {
	n := 0
	for word := s.lo; word < s.hi; word++ {
		n += bits.OnesCount64(s.touched[word])
	}
	var terms []survey.Term
	if s.room != nil {
		terms = s.room.of(n)
	} else {
		terms = make([]survey.Term, 0, n)
	}
	for word := s.lo; word < s.hi; word++ {
		for left := s.touched[word]; left != 0; left &= left - 1 {
			source := 64*word + bits.TrailingZeros64(left)
			if by := s.by[source]; by != 0 {
				terms = append(terms, survey.Term{Source: source, By: by})
				s.by[source] = 0
			}
		}
	}
	s.empty()
	return terms
}

// spread is the root of the sum of squares of the terms; it leaves them there.
func (s *sum) spread() float64 {
	squares := 0.0
	for word := s.lo; word < s.hi; word++ {
		for left := s.touched[word]; left != 0; left &= left - 1 {
			by := s.by[64*word+bits.TrailingZeros64(left)]
			squares += by * by
		}
	}
	return math.Sqrt(squares)
}

// drop empties the sum.
func (s *sum) drop() {
	for word := s.lo; word < s.hi; word++ {
		for left := s.touched[word]; left != 0; left &= left - 1 {
			s.by[64*word+bits.TrailingZeros64(left)] = 0
		}
	}
	s.empty()
}

// empty forgets what was touched.
func (s *sum) empty() {
	clear(s.touched[s.lo:max(s.lo, s.hi)])
	s.lo, s.hi = len(s.touched), 0
}
