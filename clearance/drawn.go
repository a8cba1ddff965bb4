package clearance

import (
	"encoding/binary"
	"math"
)

// odds is what judge gives a line.
type odds struct{ sure, atMost, notTouching float64 }

// draw settles the ranges of all lines by drawing, as Check does, and gives them.
func (z *sizer) draw(st *stood) []draft {
	st.finish(Clears) // all of them: Check draws all together
	drafts := make([]draft, len(st.drafts))
	for i, g := range st.drafts {
		drafts[i] = g.draft
	}
	z.drawOnce(st, drafts)
	settled := make([]graded, len(drafts))
	for i, d := range drafts {
		g := &settled[i]
		*g = *st.drafts[i]
		g.draft = d
		g.sure = chances{d.line.Sure, d.line.Sure}
		g.best, _ = z.rules.judged(&d, false, d.line.Sure, d.sureAtMost, d.line.NotTouching)
		g.worst = g.best
		st.drafts[i] = g
	}
	return drafts
}

// drawOnce is judge, but what was drawn for the same figures before is not drawn
// again: a box that is deeper at its front has the same lines under a ledge at its
// back.
func (z *sizer) drawOnce(st *stood, drafts []draft) {
	z.key = z.key[:0]
	var open []int // the lines that are drawn
	figures, errors := 0, 0
	for i, g := range st.drafts {
		if g.sure.lo < g.sure.hi || g.notTouching.lo < g.notTouching.hi {
			open = append(open, i)
			z.writeLine(g)
			figures += 2 * (1 + len(g.rivals)) // at two limits
			errors = max(errors, len(g.main.terms))
		}
	}
	// Where there are fewer figures than errors they are drawn by their covariance,
	// whatever errors they name; else a term of nothing would count.
	if figures >= errors {
		st.c.judge(drafts)
		return
	}
	if was, ok := z.drawn[string(z.key)]; ok {
		for i := range drafts {
			d := &drafts[i]
			d.line.Sure = d.main.probability(d.line.Gap)
			d.sureAtMost, d.line.NotTouching = d.main.probability(d.line.Gap-d.over), d.main.probability(-d.over)
		}
		for k, i := range open {
			d := &drafts[i]
			d.line.Sure, d.sureAtMost, d.line.NotTouching = was[k].sure, was[k].atMost, was[k].notTouching
		}
		return
	}
	st.c.judge(drafts)
	if len(z.drawn) >= mostKept {
		clear(z.drawn)
	}
	now := make([]odds, len(open))
	for k, i := range open {
		now[k] = odds{drafts[i].line.Sure, drafts[i].sureAtMost, drafts[i].line.NotTouching}
	}
	z.drawn[string(z.key)] = now
}

// writeLine adds to the key all of a line that its draws hang on, to a millionth of
// a micrometre: figures that are the same but for the rounding of a direction count
// as the same, and ten thousand draws cannot tell them apart.
func (z *sizer) writeLine(g *graded) {
	const finest = 1e-9
	number := func(x float64) { z.key = binary.LittleEndian.AppendUint64(z.key, math.Float64bits(x)) }
	figures := func(list []figure) {
		number(float64(len(list)))
		for _, f := range list {
			number(math.Round(f.value / finest))
			number(math.Round(f.u / finest))
			for _, t := range f.terms {
				if by := math.Round(t.By / finest); by != 0 {
					number(float64(t.Source))
					number(by)
				}
			}
		}
	}
	number(g.line.Gap)
	number(g.over)
	figures([]figure{g.main})
	figures(g.rivals)
	figures(g.rest)
}
