package main

import (
	"fmt"
	"io"
	"math"
	"time"

	"elbowroom/solid/shape"
)

// tally counts what Distance got wrong.
type tally struct {
	pairs, overlap, touch, apart int
	disagree                     int // pairs on which the exact programs differ
	plainWrong                   int // pairs whose sign plain float64 gets wrong
	wrong, nan, panics           int
	far, near                    int // off by more than offBy: too large, too small
	beyond                       int // off by more than their own Within
	wide                         int // Within larger than it need be
	worst                        float64
	spent                        time.Duration
}

// offBy is the greatest error that Signed may have, mm: within it of a limit
// counts as reaching it.
const offBy = 1e-6

func (j job) compare(in *answers, out io.Writer) error {
	var t tally
	for i := j.from; i < j.from+j.n; i++ {
		want, err := in.next()
		if err != nil {
			return err
		}
		p := newPair(j.seed, i)
		if what := t.add(p, want); what != "" && j.show > 0 {
			j.show--
			fmt.Fprintf(out, "pair %d of seed %d: %s\n  %s\n", i, j.seed, what, text(p))
		}
	}
	t.print(out)
	return nil
}

func (t *tally) print(out io.Writer) {
	fmt.Fprintf(out, "%d pairs: %d overlap, %d touch, %d apart; the exact programs differ on %d\n", t.pairs, t.overlap, t.touch, t.apart, t.disagree)
	fmt.Fprintf(out, "wrong signs %d, not numbers %d, panics %d (separating axes in float64: %d wrong)\n", t.wrong, t.nan, t.panics, t.plainWrong)
	fmt.Fprintf(out, "over %g mm too large %d, too small %d, worst %.3g mm; beyond their own Within %d\n", offBy, t.far, t.near, t.worst, t.beyond)
	fmt.Fprintf(out, "Within wider than %g mm and 2^-44 of the largest number: %d; %v a pair\n", offBy, t.wide, t.spent/time.Duration(max(1, t.pairs)))
}

// add judges one pair and says what is wrong, if anything.
func (t *tally) add(p pair, want answer) string {
	t.pairs++
	*[]*int{&t.overlap, &t.touch, &t.apart}[want.sign+1]++
	if want.plain != want.sign {
		t.plainWrong++
	}
	if !want.agrees() {
		t.disagree++
		return fmt.Sprintf("the exact programs differ: %+v", want)
	}
	start := time.Now()
	got, fault := safely(p)
	t.spent += time.Since(start)
	switch {
	case fault != "":
		t.panics++
		return fault
	case math.IsNaN(got.Signed + got.Within):
		t.nan++
		return "not a number"
	case signOf(got.Signed) != want.sign:
		t.wrong++
		return fmt.Sprintf("sign of %g, should be %d (depth %g, distance %g)", got.Signed, want.sign, want.depth, want.distance)
	case want.sign < 0:
		return t.value(p, got, -want.depth)
	case want.sign > 0 && !math.IsNaN(want.distance):
		return t.value(p, got, want.distance)
	}
	return ""
}

func (t *tally) value(p pair, got shape.Nearest, want float64) string {
	if got.Signed == want && math.IsInf(want, 0) {
		return ""
	}
	off := got.Signed - want
	t.worst = max(t.worst, math.Abs(off))
	switch {
	case off > offBy:
		t.far++
	case off < -offBy:
		t.near++
	case math.Abs(off) > got.Within+0x1p-51*math.Abs(want): // want is rounded, too
		t.beyond++
	case got.Within > max(offBy, 0x1p-44*largest(p)):
		t.wide++
	default:
		return ""
	}
	return fmt.Sprintf("Signed %.17g, should be %.17g, Within %g", got.Signed, want, got.Within)
}

// largest is the largest coordinate of a pair.
func largest(p pair) (most float64) {
	for _, c := range []shape.Convex{p.a, p.b} {
		for _, n := range numbers(c) {
			most = max(most, math.Abs(n))
		}
	}
	return most
}

func signOf(f float64) int {
	switch {
	case f < 0:
		return -1
	case f > 0:
		return +1
	}
	return 0
}

func safely(p pair) (n shape.Nearest, fault string) {
	defer func() {
		if r := recover(); r != nil {
			fault = fmt.Sprint("panic: ", r)
		}
	}()
	return shape.Distance(p.a, p.b), ""
}
