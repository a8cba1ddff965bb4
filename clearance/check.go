package clearance

import (
	"context"
	"math"
	"slices"
	"sort"

	"github.com/golang/geo/r3"

	"elbowroom/clearance/way"
	"elbowroom/solid"
	"elbowroom/survey"
)

// Check holds a space against an assembly in place. The error is that of ctx.
func Check(ctx context.Context, s *survey.Space, a *solid.Assembly, r Rules) (*Report, error) {
	c := newChecker(s, a, r.withDefaults())
	c.makeReady()
	var all halves
	var err error
	find := way.Find
	if c.rules.WayIn.Straight {
		find = way.FindStraight
	}
	inParallel(2, func() func(int) {
		w := c.worker()
		return func(job int) {
			if job == 0 {
				all.sides, all.drafts, all.meant = w.lines(w.sides())
				return
			}
			all.hoses, all.hoseDrafts, all.hoseMeant = w.hoses()
			all.wayIn, all.wayDrafts, err = w.wayIn(ctx, find)
			all.levels = w.levels()
		}
	})
	if err != nil {
		return nil, err
	}
	c.hiddenOnWay(all.wayIn)
	drafts := slices.Concat(all.drafts, all.hoseDrafts, all.wayDrafts)
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	rep := &Report{
		Title: r.Title, Unit: r.Unit, Wanted: c.rules.Sure, Box: c.box(),
		OnPurpose: append(all.meant, all.hoseMeant...), Hoses: all.hoses, Sides: all.sides, Unchecked: c.unchecks(),
		Doubts: c.doubts(), Flats: c.flats(), Rooms: c.rooms, Levels: all.levels, WayIn: all.wayIn, Travels: c.travels(),
	}
	c.conclude(rep, drafts)
	rep.Move = c.bestMove(drafts)
	rep.MeasureNext = c.measureNext(drafts, rep)
	rep.Cautions = c.cautions()
	c.fill(rep, drafts)
	return rep, nil
}

// halves is what Check works out side by side.
type halves struct {
	sides                         []SideLine
	drafts, hoseDrafts, wayDrafts []draft
	meant, hoseMeant              []Contact
	hoses                         []Hose
	wayIn                         *WayIn
	levels                        Levels
}

// conclude gives the lines and all that is drafted in the report their verdicts, and
// the report its own.
func (c *checker) conclude(rep *Report, drafts []draft) {
	c.judge(drafts)
	for i := range drafts {
		c.decide(&drafts[i])
	}
	c.judgeHoses(rep.Hoses)
	judgeWayIn(rep.WayIn, drafts)
	c.joint(rep, drafts)
	rep.Verdict, rep.Because = verdict(rep, drafts)
}

// withDefaults fills in what the job leaves out.
func (r Rules) withDefaults() Rules {
	if r.Sure == 0 {
		r.Sure = 0.975
	}
	const twoInches = 50.8
	if r.SeenWithin == 0 {
		r.SeenWithin = twoInches
	}
	if r.HiddenAtMost == 0 {
		r.HiddenAtMost = twoInches
	}
	if r.Levels.Up == (r3.Vector{}) {
		r.Levels.Up = r3.Vector{Y: 1}
	}
	return r
}

// decide gives a line its verdict.
func (c *checker) decide(d *draft) {
	l := &d.line
	l.Short = c.short(d)
	l.Verdict, l.Because = c.rules.judged(d, c.elsewhere(l.Part), l.Sure, d.sureAtMost, l.NotTouching)
	if l.Verdict == Clears && !d.main.settled(l.Gap) {
		if l.Single = c.undoing(d); len(l.Single) > 0 && !c.rules.AcceptSingle {
			l.Verdict, l.Because = Unproven, OneReading
		}
	}
	if d.crowded && l.Verdict != Clears {
		l.Verdict, l.Because = Unproven, Near
	}
	if l.Verdict != Clears {
		l.Shares = c.shares(d.main)
	}
}

// judged is the verdict of a line by its probabilities: that it keeps its gap
// (sure, and at most that), and that it does not overlap. elsewhere says that its
// part could stand another way.
func (r Rules) judged(d *draft, elsewhere bool, sure, atMost, notTouching float64) (Verdict, Because) {
	switch {
	case d.crowded && (sure < r.Sure || d.missing):
		return Unproven, Near
	case notTouching <= 1-r.Sure && elsewhere:
		return Unproven, Near
	case notTouching <= 1-r.Sure:
		return Fouls, NoReason
	case atMost <= 1-r.Sure:
		return Tight, NoReason
	case sure >= r.Sure && d.missing:
		return Unproven, NotChecked
	case sure >= r.Sure:
		return Clears, NoReason
	}
	return Unproven, Near
}

// joint sets the report's joint probability from the lines and the hoses' bends.
func (c *checker) joint(rep *Report, drafts []draft) {
	var sures []float64
	var trials []trial
	for i := range drafts {
		sures = append(sures, drafts[i].line.Sure)
		trials = append(trials, drafts[i].trial())
	}
	for _, h := range rep.Hoses {
		if h.Checked && h.Bent {
			sures = append(sures, h.Sure)
			trials = append(trials, trial{figures: []figure{h.decidedBy}, limit: h.Wanted})
		}
	}
	levelSures, levelTrials := rep.Levels.joined()
	sures, trials = append(sures, levelSures...), append(trials, levelTrials...)
	rep.Sure, rep.SureIs = joint(sures, trials, c.rules.Sure)
}

// verdict of the whole job, and every reason for which something is unproven.
func verdict(rep *Report, drafts []draft) (Verdict, []Because) {
	worst := Clears
	reasons := map[Because]bool{}
	take := func(v Verdict, b Because) {
		if v == Unproven {
			reasons[b] = true
		}
		if severity(v) > severity(worst) {
			worst = v
		}
	}
	for i := range drafts {
		take(drafts[i].line.Verdict, drafts[i].line.Because)
	}
	for _, h := range rep.Hoses {
		take(h.Verdict, h.Because)
	}
	for _, s := range rep.Sides {
		take(s.Verdict, s.Because)
	}
	rep.Levels.Each(take)
	if rep.WayIn != nil {
		take(rep.WayIn.Verdict, rep.WayIn.Because)
	}
	for range rep.Unchecked {
		take(Unproven, NotChecked)
	}
	if worst == Clears && rep.Sure < rep.Wanted {
		take(Unproven, Together)
	}
	var list []Because
	for b := Near; b <= Together; b++ {
		if reasons[b] {
			list = append(list, b)
		}
	}
	return worst, list
}

// severity orders the verdicts, worst last.
func severity(v Verdict) int { return [...]int{Unproven: 1, Clears: 0, Tight: 2, Fouls: 3}[v] }

// fill moves the drafts' lines into the report, worst first, and counts.
func (c *checker) fill(rep *Report, drafts []draft) {
	single := map[Reading]bool{}
	for i := range drafts {
		l := drafts[i].line
		rep.Lines = append(rep.Lines, l)
		rep.Overlaps = rep.Overlaps || (l.AtLeast && l.Verdict == Fouls)
		for _, r := range l.Single {
			single[r] = true
		}
	}
	rep.TakenOnce = len(single)
	for i := range c.features {
		rep.Gaps = append(rep.Gaps, c.features[i].gap)
	}
	sort.SliceStable(rep.Lines, func(i, j int) bool { return worse(rep.Lines[i], rep.Lines[j]) })
}

// worse puts the line that decides more first: by verdict, then by how far it
// is from its gap in standard uncertainties, then by how far in mm.
func worse(a, b Line) bool {
	if sa, sb := severity(a.Verdict), severity(b.Verdict); sa != sb {
		return sa > sb
	}
	if a.Sure != b.Sure {
		return a.Sure < b.Sure
	}
	if ma, mb := a.Clearance-a.Gap, b.Clearance-b.Gap; ma != mb {
		return ma < mb
	}
	if a.Part != b.Part {
		return a.Part < b.Part
	}
	return a.Feature < b.Feature
}

func (c *checker) box() Box {
	a := c.assembly
	return Box{
		Size: a.Tank.Size, Capacity: a.Holding.CapacityL, DryKg: a.Holding.DryKg, FullKg: a.Holding.FullKg,
		Centre: a.Holding.Centre, Known: a.Known, Filled: a.Known && a.Holding.Filled, Corner: c.pose.corner,
	}
}

// flats reports the fitted faces.
func (c *checker) flats() []Flat {
	var out []Flat
	for i := range c.space.Features {
		f := &c.space.Features[i]
		if f.Plane == nil {
			continue
		}
		n := f.Plane.Normal
		steepest := math.Max(math.Abs(n.X), math.Max(math.Abs(n.Y), math.Abs(n.Z)))
		flat := Flat{
			Feature: f.Spec.Name, Mount: f.Spec.Mount, Marks: len(f.Fitted),
			Flatness: f.Plane.Flatness(), Tilt: math.Acos(math.Min(1, steepest)),
		}
		if f.Spec.Mount && c.pose.proud >= 0 {
			flat.Proud = c.space.Marks[f.Fitted[c.pose.proud]].Name
		}
		out = append(out, flat)
	}
	return out
}

// unchecks lists what nobody checked: what the job's rules name, and features
// that cannot be drawn because marks of them have no place yet.
func (c *checker) unchecks() []Unchecked {
	out := append([]Unchecked(nil), c.rules.Unchecked...)
	for _, u := range c.unmoved {
		out = append(out, u.Unchecked)
	}
	for i := range c.features {
		o := &c.features[i]
		if len(o.pieces) == 0 && len(o.feature.Missing) > 0 {
			m := c.space.Marks[o.feature.Missing[0]]
			out = append(out, Unchecked{Part: "body", What: o.feature.Spec.Name, Mark: m.Name, Kind: UncheckedMark, Pos: m.Pos})
		}
	}
	return out
}
