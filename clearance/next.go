package clearance

import (
	"math"

	"elbowroom/survey"
)

// weakBy is from how many times the uncertainty of one tape a mark is worth a
// new reading: with four well-placed tapes it has about one. worthIt is the share
// of its uncertainty that the reading must leave it at most, to be worth the
// crawl: it takes off a fifth.
const (
	weakBy  = 2
	worthIt = 0.8
)

// Next is one more reading for a mark, a tape or a depth.
type Next struct {
	// From is the mark from which the tape comes; blank: it is a depth.
	From  string
	Depth Depth
	// Within is the half limit that it is reckoned with, and Left the standard
	// uncertainty that it leaves the mark where it was worst, mm.
	Within, Left float64
}

// Weak finds the reading that a weak mark is worth, as Better does. ok is false
// for a mark that is known well enough, and where none helps it much.
func (t *Tapes) Weak(m int, within float64) (next Next, ok bool) {
	now := t.space.Spread(m).Worst
	if now < weakBy*rectangular(within) {
		return Next{Left: now}, false
	}
	next, ok = t.Better(m, within)
	return next, ok && next.Left <= worthIt*now
}

// Better finds the reading that would leave least of a mark's worst direction: a
// tape with a half limit of within mm, or a depth read to what a rule is. ok is
// false where none makes it less. What nobody could take is not among them. A face
// of more than three marks that gives the frame weighs them anew with each reading,
// which moved what was left by up to 5 % where it was tried, and is not reckoned.
func (t *Tapes) Better(m int, within float64) (next Next, ok bool) {
	return t.best(m, t.space.Spread(m).Worst, within, func(candidate) bool { return true })
}

// Checking finds the reading of m that would check each of some tapes, by their
// rows, and that these check: of those that do, the one that leaves least of the
// mark's worst direction, as in Better. ok is false where none checks them all.
func (t *Tapes) Checking(m int, rows []int, within float64) (next Next, ok bool) {
	return t.best(m, math.Inf(1), within, func(c candidate) bool { return c.checked() && t.checks(rows, c) })
}

// Help is the reading that a mark needs: where nothing checks all tapes that place
// it, the one that checks them, unless that leaves it weak and another less so;
// else what a weak mark is worth, as Weak finds it. ok is false where there is none.
func (t *Tapes) Help(m int, within float64) (Measure, bool) {
	help, u := Measure{Mark: t.space.Marks[m].Name}, t.space.Spread(m).Worst
	if rows := t.unchecked(m); len(rows) > 0 {
		if next, ok := t.Checking(m, rows, within); ok && !t.leavesWeak(m, next.Left, within) {
			help.Unchecked = true
			if u >= weakBy*rectangular(within) && next.Left <= worthIt*u {
				help.U, help.Left = u, next.Left
			}
			help.read(next)
			return help, true
		}
	}
	next, ok := t.Weak(m, within)
	help.U, help.Left = u, next.Left
	help.read(next)
	return help, ok
}

// leavesWeak says whether a reading that leaves left in a mark's worst direction
// leaves it weak, where another takes off a fifth more.
func (t *Tapes) leavesWeak(m int, left, within float64) bool {
	if left < weakBy*rectangular(within) {
		return false
	}
	next, ok := t.Weak(m, within)
	return ok && next.Left <= worthIt*left
}

// unchecked are the tapes, by their rows, that a mark hangs on and that nothing checks.
func (t *Tapes) unchecked(m int) (rows []int) {
	for k, r := range t.space.Rows {
		if r.Kind == survey.Tapes && !r.Shared && r.Redundancy < survey.LeastRedundancy && r.Widest > 0 && tapedEnd(t.space, k) == m {
			rows = append(rows, k)
		}
	}
	return rows
}

// candidate is a reading that is not there yet: its numbers over independent
// sources, all with the same half limit, mm.
type candidate struct {
	from   int // of a tape
	lay    *laid
	reads  [][]survey.Term
	within float64
}

// best is the reading of those that will do that leaves least of a mark's worst
// direction, and less than under.
func (t *Tapes) best(m int, under, within float64, will func(candidate) bool) (next Next, ok bool) {
	now := t.space.Spread(m)
	worst := t.spread.Terms(survey.Gradient{{Mark: m, By: now.Toward}})
	left := under
	var best candidate
	t.candidates(m, within, func(c candidate) {
		if !will(c) {
			return
		}
		if u := leaves(now.Worst, worst, c); u < left*(1-reach) && t.free(c, m) {
			left, best, ok = u, c, true
		}
	})
	if !ok {
		return Next{Left: now.Worst}, false
	}
	return t.next(best, left), true
}

// candidates hands over the readings of a mark that a hand could take as far as
// their lengths go: tapes first, so that of two alike the tape is taken.
func (t *Tapes) candidates(m int, within float64, take func(candidate)) {
	for k := range t.space.Marks {
		if t.New(k, m) {
			take(candidate{from: k, reads: [][]survey.Term{t.terms(k, m)}, within: within})
		}
	}
	for _, l := range t.lays(m) {
		if reads, ok := t.terms3(l); ok {
			take(candidate{lay: &l, reads: reads, within: depthLimit})
		}
	}
}

// free says whether nothing that was measured is in a reading's way.
func (t *Tapes) free(c candidate, m int) bool {
	if c.lay != nil {
		return t.lies(*c.lay)
	}
	return t.Straight(c.from, m)
}

func (t *Tapes) next(c candidate, left float64) Next {
	if c.lay == nil {
		return Next{From: t.space.Marks[c.from].Name, Within: c.within, Left: left}
	}
	return Next{Depth: c.lay.named(t.space), Within: c.within, Left: left}
}

// terms are those of the distance between two marks.
func (t *Tapes) terms(from, to int) []survey.Term {
	e := t.space.Marks[to].At.Sub(t.space.Marks[from].At).Normalize()
	return t.spread.Terms(survey.Gradient{{Mark: to, By: e}, {Mark: from, By: e.Mul(-1)}})
}

// leaves is the standard uncertainty that a figure of u is left with by one more
// reading.
//
// Numbers of variance t each add as many observations: of the variance of a figure
// f they leave C(f,f) - c' (D + t I)⁻¹ c, with D their covariance as they follow
// from what is there, and c theirs with f (Kalman's update).
func leaves(u float64, f []survey.Term, c candidate) float64 {
	var with [3]float64
	for i, r := range c.reads {
		with[i] = survey.Dot(f, r)
	}
	return math.Sqrt(math.Max(0, u*u-c.explains(with)))
}

// explains is c' (D + t I)⁻¹ c of leaves, by elimination: with the rows before
// taken off, each pivot is the variance of a number that those leave.
func (c candidate) explains(with [3]float64) float64 {
	var d [3][3]float64
	n := len(c.reads)
	for i := range n {
		for k := range n {
			d[i][k] = survey.Dot(c.reads[i], c.reads[k])
		}
		d[i][i] += c.within * c.within / 3
	}
	sum := 0.0
	for i := range n {
		if d[i][i] <= 0 { // exact, and known: it tells nothing
			continue
		}
		sum += with[i] * with[i] / d[i][i]
		for k := i + 1; k < n; k++ {
			share := d[k][i] / d[i][i]
			with[k] -= share * with[i]
			for j := i + 1; j < n; j++ {
				d[k][j] -= share * d[i][j]
			}
		}
	}
	return sum
}

// checked says whether what is there would check the reading: in each number but how
// far aside it is, which nobody reads. Its redundancy there is the share of its own
// variance t in that of its difference from what is known, t (D + t I)⁻¹ of leaves.
func (c candidate) checked() bool {
	for i := range min(2, len(c.reads)) {
		var with [3]float64
		with[i] = 1
		if c.within*c.within/3*c.explains(with) < survey.LeastRedundancy {
			return false
		}
	}
	return true
}

// checks says whether one more reading raises the redundancy of tapes that are
// there to what counts as checked.
//
// With b how far its numbers move for one standard deviation of a tape that is
// there, it raises that one's redundancy by b' (D + t I)⁻¹ b, as in leaves: by so
// much, in its own variance, the fitted one's falls.
func (t *Tapes) checks(rows []int, c candidate) bool {
	sources := t.space.Sources()
	for _, row := range rows {
		var with [3]float64
		for i, r := range c.reads {
			for _, term := range r {
				if sources[term.Source].Row == row {
					with[i] += term.By
				}
			}
		}
		if t.space.Rows[row].Redundancy+c.explains(with) < survey.LeastRedundancy {
			return false
		}
	}
	return true
}
