package clearance

import (
	"context"

	"elbowroom/clearance/way"
	"elbowroom/solid"
)

// wayFinder is how a way in is looked for: as Check does, by straight moves alone, or not
// at all.
type wayFinder func(context.Context, way.Scene) (way.Found, error)

// inFull is Check's answer to a candidate, by Check's own steps; what is kept of other
// sizes is not worked out again. ok is false when ctx is done. Where a way in is to be
// found and the search finds none that clears, or there is no search, it is left open;
// but of Check's own search the answer counts. With soon set it is left also where
// what takes less long than room for tools is tight already.
func (z *sizer) inFull(ctx context.Context, k Candidate, find wayFinder, soon bool) (out Sized, ok bool) {
	out = Sized{Candidate: k}
	a, wrong := built(z.tank, k)
	if wrong != nil {
		out.NoBox = wrong
		return out, true
	}
	out.CapacityL = a.Holding.CapacityL
	st := z.stand(a)
	c := st.c
	rep := &Report{Wanted: z.rules.Sure, Sides: z.sideLines(st), Unchecked: z.unchecked, Levels: c.levels()}
	if turns := withoutTurning(a); soon && turns != a {
		c.assembly = turns
		drafts := z.all(st)
		if c.conclude(rep, drafts); severity(rep.Verdict) > severity(Unproven) {
			out.take(rep, drafts)
			out.Left = rep.Verdict != Fouls
			out.Open, out.SureIs = out.Left, "at most"
			return out, true
		}
	}
	c.assembly = a
	c.rooms = c.placeRooms()
	defer func() { c.rooms = nil }()
	drafts := z.all(st)
	hoses, hoseDrafts, _ := c.hoses()
	rep.Hoses, drafts = hoses, append(drafts, hoseDrafts...)
	if !z.wayToFind() {
		drafts = c.withWay(ctx, rep, drafts, nil) // one that the job gives may be short itself
	}
	c.conclude(rep, drafts)
	if z.wayToFind() && rep.Verdict == Clears {
		// A found one is sure enough against each thing, so that it makes no verdict worse
		// than Unproven: it need not be looked for where it cannot clear anyway.
		if find != nil {
			drafts = c.withWay(ctx, rep, drafts, find)
			c.conclude(rep, drafts)
		}
		out.Left = rep.WayIn == nil || soon && !rep.WayIn.Found
	}
	out.take(rep, drafts)
	if out.Left {
		out.Verdict, out.Open, out.MayClear = Unproven, true, true
		out.Decides, out.SureIs = Decider{WayIn: true, Because: NotChecked}, "at most"
	}
	return out, ctx.Err() == nil
}

func (z *sizer) wayToFind() bool { return z.rules.WayIn.Asked && len(z.rules.WayIn.Path) == 0 }

// withWay adds the way in and its line.
func (c *checker) withWay(ctx context.Context, rep *Report, drafts []draft, find wayFinder) []draft {
	way, line, err := c.wayIn(ctx, find)
	if err != nil {
		return drafts // ctx is done
	}
	rep.WayIn = way
	return append(drafts, line...)
}

// all drafts the lines of all parts, in the order in which Check has them.
func (z *sizer) all(st *stood) []draft {
	drafts, _ := st.c.linesOf(0) // the body's
	st.drafts = st.drafts[:0]
	for i, p := range st.c.assembly.Parts {
		if p.Kind != solid.Body {
			z.part(st, i)
		}
	}
	for _, g := range st.drafts {
		drafts = append(drafts, g.draft)
	}
	return drafts
}

// sideLines answers for the sides, by their verdicts alone.
func (z *sizer) sideLines(st *stood) (lines []SideLine) {
	for _, side := range st.c.sides() {
		l := SideLine{Side: side, Because: Unmeasured}
		if z.sideClears(st, side) {
			l.Verdict, l.Because = Clears, NoReason
		}
		lines = append(lines, l)
	}
	return lines
}

// take takes over what a report says.
func (o *Sized) take(rep *Report, drafts []draft) {
	o.Verdict, o.Sure, o.SureIs = rep.Verdict, rep.Sure, rep.SureIs
	o.MayClear = o.Verdict == Clears
	for i := range drafts {
		o.narrow(&drafts[i].line, i == 0)
	}
	o.Lines = len(drafts) > 0
	if o.Verdict != Clears {
		o.Decides = decidesOf(rep, drafts)
	}
}

// decidesOf finds what gives a report its verdict; of several lines the worst.
func decidesOf(rep *Report, drafts []draft) (d Decider) {
	var first *Line
	for i := range drafts {
		if l := &drafts[i].line; l.Verdict == rep.Verdict && (first == nil || worse(*l, *first)) {
			first = l
		}
	}
	if first != nil {
		return Decider{Line: Pair{first.Part, first.Feature}, When: first.When, Because: first.Because}
	}
	for _, h := range rep.Hoses {
		if h.Verdict == rep.Verdict {
			return Decider{Hose: h.Name, Because: h.Because}
		}
	}
	for _, s := range rep.Sides {
		if s.Verdict == rep.Verdict {
			return Decider{Side: s.Side, Because: s.Because}
		}
	}
	level := func(name string, v Verdict, b Because) {
		if v == rep.Verdict && d == (Decider{}) {
			d = Decider{Level: name, Because: b}
		}
	}
	if l := &rep.Levels; l.Asked {
		level("fill", l.Fill.Verdict, l.Fill.Because)
		if l.Outlet.Checked {
			level("outlet", l.Outlet.Verdict, l.Outlet.Because)
		}
		if l.Head.Asked {
			level("head room", l.Head.Verdict, l.Head.Because)
		}
	}
	switch {
	case d != (Decider{}):
		return d
	case rep.WayIn != nil && rep.WayIn.Verdict == rep.Verdict:
		return Decider{WayIn: true, Because: rep.WayIn.Because}
	case len(rep.Unchecked) > 0:
		return Decider{Because: NotChecked}
	}
	return Decider{Because: Together}
}
