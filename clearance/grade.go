package clearance

import (
	"math"

	"elbowroom/solid"
	"elbowroom/solid/shape"
	"elbowroom/survey"
)

// graded is a draft with what can be said of it before anything is drawn: the
// range in which each of the probabilities lies that judge would give it.
type graded struct {
	draft
	sure, atMost, notTouching chances
	// best and worst are the verdicts at the two ends of the ranges.
	best, worst       Verdict
	asked, oneReading bool // oneReading is worked out when first asked for
	// Of a line whose rivals are still to be found: what findRivals takes.
	thing   thing
	o       *obstacle // nil: they are found
	feature int       // its index
	bare    bool      // not even first was called
	plain   bool      // they would change no probability, and are found only for slips
	which   int
	nearest shape.Nearest
	unfound unfound
}

// chances is a range of probabilities.
type chances struct{ lo, hi float64 }

// grade works the ranges out: cheaply, and where that leaves the verdict open, as
// narrowly as can be.
func (g *graded) grade(r Rules) {
	g.ranges(r, g.apart)
	if g.best != g.worst && g.o == nil && g.together() {
		g.ranges(r, g.product)
	}
}

// ranges sets the ranges and the verdicts at their ends, with a lower bound of the
// probability that all figures reach a limit.
func (g *graded) ranges(r Rules, least func(limit float64) float64) {
	g.sure = g.between(g.line.Gap, least)
	g.atMost, g.notTouching = g.sure, g.between(0, least)
	if g.over > 0 { // see judge
		p, q := g.main.probability(g.line.Gap-g.over), g.main.probability(-g.over)
		g.atMost, g.notTouching = chances{p, p}, chances{q, q}
	}
	if g.sure.lo < g.sure.hi {
		g.sure.lo = math.Max(0, g.sure.lo-chance(g.rest, g.line.Gap))
	}
	g.best, _ = r.judged(&g.draft, false, g.sure.hi, g.atMost.hi, g.notTouching.hi)
	g.worst, _ = r.judged(&g.draft, false, g.sure.lo, g.atMost.lo, g.notTouching.lo)
}

// between is the range of what judge would make of the line's probability at a
// limit: the main figure's own where no rival counts. Else it is no more than the
// least of the figures', and no less than the lower bound, either of these give or
// take what the draws stray.
func (g *graded) between(limit float64, least func(limit float64) float64) chances {
	p := g.main.probability(limit)
	switch {
	case g.plain || g.o != nil && g.main.settled(limit):
		return chances{p, p}
	case g.o != nil:
		lo := math.Max(0, p-g.unfound.risk(limit))
		return chances{math.Max(0, lo-stray(lo)), p}
	case len(g.rivals) == 0 || p <= risky || chance(g.rivals, limit) <= risky:
		return chances{p, p}
	}
	hi := p
	for _, f := range g.rivals {
		hi = math.Min(hi, f.probability(limit))
	}
	lo := least(limit)
	return chances{math.Max(0, lo-stray(lo)), math.Min(p, hi+stray(hi))}
}

// apart is 1 less the sum of the figures' risks: a lower bound whatever they have
// in common.
func (g *graded) apart(limit float64) float64 {
	return math.Max(0, g.main.probability(limit)-chance(g.rivals, limit))
}

// together says whether no two of the figures pull against each other.
func (g *graded) together() bool {
	for i, f := range g.rivals {
		if survey.Dot(f.terms, g.main.terms) < 0 {
			return false
		}
		for _, other := range g.rivals[:i] {
			if survey.Dot(f.terms, other.terms) < 0 {
				return false
			}
		}
	}
	return true
}

// product is what it would be if the figures had nothing in common: a lower bound
// where no two of them pull against each other (Slepian 1962, The one-sided
// barrier problem for Gaussian noise).
func (g *graded) product(limit float64) float64 {
	p := g.main.probability(limit)
	for _, f := range g.rivals {
		p *= f.probability(limit)
	}
	return math.Max(p, g.apart(limit))
}

// stray is how far the share of the draws may be from a probability: farther once
// in a thousand million (Bernstein's inequality: the chance of more than t is no
// more than exp(-n t^2 / (2 p (1-p) + 2 t / 3)); solved for t).
func stray(p float64) float64 {
	const n, seldom = draws, 20.7 // ln 1e9
	return (seldom/3 + math.Sqrt(seldom*seldom/9+2*n*seldom*p*(1-p))) / n
}

// hangs says whether a line that would clear hangs on one reading.
func (g *graded) hangs(st *stood) bool {
	if !g.asked {
		g.asked = true
		open := !st.c.rules.AcceptSingle && !g.main.settled(g.line.Gap)
		g.oneReading = open && len(st.c.undoing(&g.draft)) > 0
		if open && g.plain && !g.oneReading { // else by its own figure already
			st.rivals(g)
			g.oneReading = len(st.c.undoing(&g.draft)) > 0
		}
	}
	return g.oneReading
}

// judge gives a candidate its verdict and its joint probability.
func (z *sizer) judge(st *stood, hoses []Hose, out *Sized) {
	best := z.mildest(st, hoses)
	worst := best
	for _, g := range st.drafts {
		worst = worseOf(worst, g.worst)
	}
	out.Decides = Decider{}
	if best == Clears && !(z.noneHangs(st, &out.Decides) && z.sidesClear(st, &out.Decides)) {
		best, worst = Unproven, worseOf(worst, Unproven)
	}
	if best != worst {
		z.draw(st)
		z.judge(st, hoses, out) // each line has one verdict now
		return
	}
	out.Verdict = best
	if out.Decides == (Decider{}) {
		z.decides(st, hoses, out)
	}
	out.bound(st.drafts, hoses, z.rules.Sure)
}

func worseOf(a, b Verdict) Verdict {
	if severity(b) > severity(a) {
		return b
	}
	return a
}

// decides finds what gives the verdict that it has.
func (z *sizer) decides(st *stood, hoses []Hose, out *Sized) {
	if out.Verdict == Clears {
		return
	}
	least := math.Inf(1)
	for _, g := range st.drafts {
		if g.best == out.Verdict && g.sure.hi < least {
			least = g.sure.hi
			out.Decides = Decider{Line: Pair{g.line.Part, g.line.Feature}}
			if out.Verdict == Unproven {
				_, out.Decides.Because = z.rules.judged(&g.draft, false, g.sure.hi, g.atMost.hi, g.notTouching.hi)
			}
		}
	}
	for _, h := range hoses {
		if h.Verdict == out.Verdict && h.Sure < least {
			least = h.Sure
			out.Decides = Decider{Hose: h.Name, Because: h.Because}
		}
	}
	if out.Decides == (Decider{}) { // only what nobody checked is left
		out.Decides.Because = NotChecked
	}
}

func (z *sizer) noneHangs(st *stood, what *Decider) bool {
	for _, g := range st.drafts {
		if g.best == Clears && g.hangs(st) {
			*what = Decider{Line: Pair{g.line.Part, g.line.Feature}, Because: OneReading}
			return false
		}
	}
	return true
}

// sidesClear says whether all sides are looked at or measured.
func (z *sizer) sidesClear(st *stood, what *Decider) bool {
	for _, side := range st.c.sides() {
		if !z.sideClears(st, side) {
			*what = Decider{Side: side, Because: Unmeasured}
			return false
		}
	}
	return true
}

// sideClears says whether a side is looked at or measured.
func (z *sizer) sideClears(st *stood, side solid.Side) bool {
	w := st.c.window(side)
	clears, ok := st.sides[w]
	if !ok {
		clears = st.c.sideClears(side)
		if len(st.sides) >= mostKept {
			clear(st.sides)
		}
		st.sides[w] = clears
	}
	return clears
}

// bound sets the joint probability by its bounds, and takes the verdict back where
// they do not settle it.
func (o *Sized) bound(lines []*graded, hoses []Hose, wanted float64) {
	risk, least := 0.0, 1.0
	take := func(c chances) {
		risk += 1 - c.lo
		least = math.Min(least, c.hi)
	}
	for _, g := range lines {
		take(g.sure)
	}
	for _, h := range hoses {
		if h.Checked && h.Bent {
			take(chances{h.Sure, h.Sure})
		}
	}
	atLeast := math.Max(0, 1-risk)
	o.MayClear = o.Verdict == Clears
	switch {
	case o.Left:
		o.Sure, o.SureIs = least, "at most"
		if o.MayClear {
			o.Verdict, o.Decides = Unproven, Decider{Because: NotChecked}
		}
	case atLeast >= wanted:
		o.Sure, o.SureIs = atLeast, "at least"
	case o.Verdict == Clears:
		o.Verdict, o.Open = Unproven, true
		o.Decides = Decider{Because: Together}
		o.Sure, o.SureIs = atLeast, "at least"
	default:
		o.Sure, o.SureIs = least, "at most"
	}
}
