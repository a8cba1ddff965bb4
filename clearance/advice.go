package clearance

import (
	"fmt"
	"math"
	"sort"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"gonum.org/v1/gonum/stat/distuv"

	"elbowroom/solid"
	"elbowroom/solid/shape"
	"elbowroom/survey"
)

// moveStep is the step of the best move, mm: a sixteenth of an inch, finer than
// anyone marks out by hand. moveMost is the farthest that is tried.
const (
	moveStep = 25.4 / 16
	moveMost = 50.8
)

// bestMove finds the shortest move along the face's x or y after which every
// measured line clears, or failing that the one that makes the worst line
// better by most. The clearances are checked again at the new place; nil where
// nothing needs a move or none helps.
func (c *checker) bestMove(drafts []draft) *Move {
	worst, trouble := margin(drafts, r3.Vector{})
	if !trouble {
		return nil
	}
	best, bestMargin := r3.Vector{}, worst
	for n := 1; float64(n)*moveStep <= moveMost; n++ {
		for _, way := range [4]r3.Vector{{X: -1}, {X: 1}, {Y: -1}, {Y: 1}} {
			by := way.Mul(float64(n) * moveStep)
			m, _ := margin(drafts, by)
			if clearEnough := m >= 0; (clearEnough && bestMargin < 0) || (bestMargin < 0 && m > bestMargin+1e-9) {
				best, bestMargin = by, m
			}
		}
	}
	if best == (r3.Vector{}) {
		return nil
	}
	return c.confirm(best, worst)
}

// margin is the least of (clearance - gap) over what it must be for the line to
// clear, minus one, as it would be with the box moved by a vector in the box's
// own axes; trouble says whether some line is short now. Clearances move with
// the move along their witness's direction: exact while the witness stays.
func margin(drafts []draft, by r3.Vector) (least float64, trouble bool) {
	least = math.Inf(1)
	for i := range drafts {
		d := &drafts[i]
		if d.line.Own || d.line.Swings != nil {
			continue
		}
		if d.line.Verdict == Fouls || d.line.Verdict == Tight || (d.line.Verdict == Unproven && d.line.Because == Near) {
			trouble = true
		}
		take := func(f *figure) { least = math.Min(least, f.value-f.along.Dot(by)-d.line.Gap-guard*f.u) }
		take(&d.main)
		for k := range d.rivals {
			take(&d.rivals[k])
		}
	}
	return least, trouble
}

// guard is how many standard uncertainties over the gap a move aims for: 2.5
// leaves room for several lines at once (0.6 % each).
const guard = 2.5

// confirm checks a move at its new place: with the rooms for tools held as they are, and
// where that does not do, wherever they have most room there.
func (c *checker) confirm(by r3.Vector, before float64) *Move {
	moved := *c.assembly
	sin, cos := math.Sincos(moved.Tank.Place.Turn.Radians())
	on := r2.Point{X: by.X*cos - by.Y*sin, Y: by.X*sin + by.Y*cos}
	moved.Tank.Place.At = moved.Tank.Place.At.Add(on)
	there := checkerIn(c.space, &moved, c.rules, stand(c.space, moved.Tank))
	there.declare()
	there.brief = true
	there.rooms, there.ready = c.rooms, readyParts{&moved, c.ready.parts}
	after, clears := there.afterMove()
	if c.turning() && (after <= before || !clears) {
		there.rooms = there.placeRooms()
		after, clears = there.afterMove()
	}
	if after <= before {
		return nil
	}
	return &Move{By: on, Clears: clears}
}

// afterMove is the margin of the place that the box is in, and whether all lines clear.
func (c *checker) afterMove() (least float64, clears bool) {
	_, drafts, _ := c.lines(nil)
	c.judge(drafts)
	clears = true
	for i := range drafts {
		c.decide(&drafts[i])
		l := drafts[i].line
		clears = clears && (l.Verdict == Clears || l.Because == OneReading)
	}
	least, _ = margin(drafts, r3.Vector{})
	return least, clears
}

// turning says whether a part of the box may stand in more than one way.
func (c *checker) turning() bool {
	for _, p := range c.assembly.Parts {
		if p.Turning != nil {
			return true
		}
	}
	return false
}

// finest is the best limit that anyone reads a tape or rule to by hand, mm:
// 1/64 in. Better than that is not asked for.
const finest = 25.4 / 64

// measureNext lists what to do about each unproven line, what decides most first.
func (c *checker) measureNext(drafts []draft, rep *Report) []Measure {
	order := make([]int, len(drafts))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(i, j int) bool { return worse(drafts[order[i]].line, drafts[order[j]].line) })
	c.tapes = NewTapes(c.space)
	var out []Measure
	for _, i := range order {
		d := &drafts[i]
		pair := []Pair{{d.line.Part, d.line.Feature}}
		switch {
		case d.line.Verdict != Unproven || d.line.Because == NotChecked || d.line.Swings != nil:
		case d.line.Because == OneReading:
			out = append(out, c.onceMore(d.line.Single, pair)...)
		default:
			if m, ok := c.settle(d); ok {
				m.For = pair
				out = append(out, m)
			}
		}
	}
	for i := range c.features {
		f := c.features[i].feature
		for _, m := range f.Missing {
			out = append(out, Measure{Kind: NeedsTape, Marks: []string{c.space.Marks[m].Name}, For: []Pair{{"body", f.Spec.Name}}})
		}
	}
	for _, s := range rep.Sides {
		if s.Verdict == Unproven {
			out = append(out, Measure{Kind: Look, Side: s.Side, At: s.HiddenAt, Hidden: s.Hidden, HiddenOK: s.HiddenOK})
		}
	}
	if w := rep.WayIn; w != nil && w.Verdict == Unproven {
		for _, side := range w.Unseen {
			out = append(out, Measure{Kind: Look, Side: side, At: w.HiddenAt, Hidden: w.Hidden, HiddenOK: w.HiddenOK})
		}
	}
	return c.forMarks(drafts, order, rep, once(out))
}

// once merges measures that ask for the same.
func once(list []Measure) []Measure {
	at := map[string]int{}
	var out []Measure
	for _, m := range list {
		key := fmt.Sprint(m.Kind, m.Marks, m.Tapes, m.Making, m.Within, m.Side, m.Mark, m.Depth)
		if i, ok := at[key]; ok {
			out[i].For = append(out[i].For, m.For...)
			continue
		}
		at[key] = len(out)
		out = append(out, m)
	}
	return out
}

// settle finds the readings that, taken again well enough, would settle a line
// that is too close to call, if the value stays: the fewest of those that
// contribute most, and the limit that they need. Where no reading can, the
// making and placing of the box may, held closer; ok is false where not even
// that can: the clearance is short, or as good as.
func (c *checker) settle(d *draft) (Measure, bool) {
	want := math.Abs(d.main.value-d.line.Gap) / distuv.UnitNormal.Quantile(c.rules.Sure)
	var readings, making []Share
	for _, s := range c.shares(d.main) {
		switch {
		case s.Limit == 0 || s.factor == 0:
		case s.Of == "":
			readings = append(readings, s)
		default:
			making = append(making, s)
		}
	}
	again, ok := Measure{Kind: TakeAgain}, false
	var n int
	if n, again.Within, ok = closer(readings, d.main.u, want); ok {
		again.take(readings[:n])
	}
	if ok && n == 1 {
		return again, true
	}
	// Where it takes several, one tape from a better place may do, or a depth.
	if next, found := c.newReading(d.main, readings, want); found {
		return next, true
	}
	if ok {
		return again, true
	}
	if n, limit, ok := closer(making, d.main.u, want); ok && d.main.value > d.line.Gap {
		m := Measure{Kind: MakeCloser, Within: limit}
		for _, s := range making[:n] {
			m.Making = append(m.Making, s.Of)
		}
		return m, true
	}
	return Measure{}, false
}

// take names the readings of shares.
func (m *Measure) take(shares []Share) {
	for _, s := range shares {
		switch {
		case s.Tape[0] != "":
			m.Tapes = append(m.Tapes, s.Tape)
		case s.Depth != "":
			m.Marks = append(m.Marks, s.Depth)
		default:
			m.Marks = append(m.Marks, s.Mark)
		}
	}
}

// usualLimit is what anyone reads a tape to, 1/16 in: a tape that need not be
// better than that is as good as any other.
const usualLimit = 25.4 / 16

// closer finds how many of the shares, greatest first, must be brought down to
// what common limit for a figure's standard uncertainty u to come down to want.
func closer(shares []Share, u, want float64) (n int, limit float64, ok bool) {
	chosen, weight, worst := 0.0, 0.0, 0.0
	for i, s := range shares {
		chosen += s.U * s.U
		// With one new reading in place of the old ones the share would be
		// limit / sqrt 3 times the factor.
		weight += s.factor * s.factor
		worst = math.Max(worst, s.Limit)
		left := want*want - (u*u - chosen)
		if left <= 0 {
			continue
		}
		if limit = math.Sqrt(3 * left / weight); limit >= finest {
			return i + 1, math.Min(limit, worst), true
		}
	}
	return 0, 0, false
}

// doubts are those of the survey and the job, worst first.
func (c *checker) doubts() []survey.Doubt {
	out := append([]survey.Doubt(nil), c.space.Doubts...)
	for i := range c.features {
		f := c.features[i].feature
		ask, ok := c.rules.Asks[f.Spec.Name]
		if ok && ask.Name == "moving" && !c.rules.moves(f.Spec.Name) {
			out = append(out, survey.Doubt{
				Pos: ask.Pos, Weight: 1,
				Says: fmt.Sprintf("how far does %s move? no motion says, so the gap for a thing that moves by an unknown amount is asked", f.Spec.Name),
			})
		}
	}
	out = append(out, c.contradictions()...)
	out = append(out, c.axisDoubts()...)
	sort.SliceStable(out, func(i, j int) bool { return out[i].Weight > out[j].Weight })
	return out
}

// contradictions doubts marks that were touched inside a mock-up that stood there.
func (c *checker) contradictions() []survey.Doubt {
	var out []survey.Doubt
	for _, t := range c.rules.Tried {
		room, ok := c.tried(t)
		if !ok {
			continue
		}
		for i := range c.features {
			o := &c.features[i]
			for k, n := range o.feature.Nodes {
				if n.Planar {
					continue
				}
				in := -shape.Distance(room.solid, shape.Hull{Points: []r3.Vector{o.nodes[k]}}).Signed
				if in > 2*c.space.Uncertainty(n.Mark)+reach {
					m := c.space.Marks[n.Mark]
					out = append(out, survey.Doubt{Pos: m.Pos, Weight: 8, Says: fmt.Sprintf("%s of %s lies inside the %s that went in and stood there: one of the two is wrong", m.Name, o.feature.Spec.Name, t.Name)})
				}
			}
		}
	}
	return out
}

// cautions lists what calls for one, in a fixed order.
func (c *checker) cautions() []Caution {
	t := c.rules.Triggers
	asked := map[string]bool{}
	for i := range c.features {
		asked[c.features[i].gap.Name] = true
		if ask := c.rules.Asks[c.features[i].feature.Spec.Name]; ask.Name != "" {
			asked[ask.Name] = true
		}
	}
	var out []Caution
	add := func(when bool, trigger string) {
		if when {
			out = append(out, Caution{Trigger: trigger})
		}
	}
	add(t.CapPressure > 0, "cap pressure")
	add(asked["line"], "line")
	add(asked["hot"] || asked["hot-shielded"], "hot")
	add(asked["moving"] || asked["swept"] || asked["belt"] || len(c.rules.Motions) > 0, "motion")
	add(t.Holds == solid.Battery, "battery")
	add(t.Holds == solid.Battery || t.Holds == solid.Electronics, "wiring")
	add(t.Sheet, "sheet")
	add(true, "always")
	return out
}
