package largest

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"elbowroom/clearance"
	"elbowroom/solid"
)

// owed is what a box must keep beyond what the judge knows: the lines that Check alone
// has, each as it was where it was last seen, and a limit to the risk of all together.
// A nil owed asks for nothing.
type owed struct {
	dues []due
	at   map[clearance.Pair]int // index of a line's due, by its part and its feature with the motion
	// risk is the most that the lines' chances of failing may sum up to; base is what
	// of that goes to what has no due: levels, hoses that are left to Check.
	risk, base float64
	kept       float64 // the risk of the last that cleared
	way        int     // the straight way out that is to be clear, counted from 1 [none]
	sides      bool    // every side is to count as measured
}

// due is a line that Check alone knows, as seen at one stand. Part and feature are
// convex, so that the plane between them, moved with the part, keeps them at least as
// far apart as it says: what it says of another stand is on the safe side, but where
// another place of the feature comes to be the nearer one.
type due struct {
	name, against string
	when          string // a motion's name, "way in"; blank at rest
	marks         []string
	at            clearance.Stand
	// faces is by how much the clearance grows for each millimetre that a face moves
	// along its axis: the three low ones, then the three high ones.
	faces          [2 * 3]float64
	clearance, gap float64
	u, short       float64
}

// moved is by how much more clearance the due has at a stand than where it was seen.
func (c *due) moved(to clearance.Stand) float64 {
	low, high := components(to.Lo.Sub(c.at.Lo)), components(to.Hi.Sub(c.at.Hi))
	sum := 0.0
	for a := range 3 {
		sum += c.faces[a]*low[a] + c.faces[a+3]*high[a]
	}
	return sum
}

// dueMark is the Feature of a line that stands for a due, less the due's index.
const dueMark = -2

// due is the one that a line stands for.
func (o *owed) due(h clearance.Held) (*due, bool) {
	if o == nil || h.Feature > dueMark {
		return nil, false
	}
	return &o.dues[dueMark-h.Feature], true
}

// lines are those of the judge, and those owed.
func (s *search) lines(f *frame, stand clearance.Stand, all bool) []clearance.Held {
	lines := f.judge.Lines(stand, all, s.slips())
	if s.task.owed == nil {
		return lines
	}
	for i := range s.task.owed.dues {
		c := &s.task.owed.dues[i]
		by := c.moved(stand)
		h := clearance.Held{Part: -1, Feature: dueMark - i, Hose: -1, Name: c.name, Against: c.against, Gap: c.gap, Short: c.short - by}
		// More may be asked of all lines than by the job.
		h.Short = math.Max(h.Short, c.gap+f.k*c.u-c.clearance-by)
		h.Pins = []clearance.Pin{{Clearance: c.clearance + by, U: c.u}}
		lines = append(lines, h)
	}
	return lines
}

// ceded are the moves of a face that give a due what it is short of.
func (s *search) ceded(n *node, stand clearance.Stand, c *due, short float64) (out []clearance.Stand) {
	for face, by := range c.faces {
		if math.Abs(by) < steepest {
			continue
		}
		low, high := (short+reach/10)/by, 0.0
		if face >= 3 {
			low, high = high, low
		}
		out = s.shift(out, n, stand, face%3, low, high)
	}
	for a := range 3 {
		if by := c.faces[a] + c.faces[a+3]; len(out) == 0 && math.Abs(by) >= steepest {
			move := (short + reach/10) / by
			out = s.shift(out, n, stand, a, move, move)
		}
	}
	return out
}

// affords says whether the lines' chances of failing sum up to no more than is owed:
// then all hold at once as surely as that, whatever they have in common.
func (s *search) affords(lines []clearance.Held) bool {
	o := s.task.owed
	return o == nil || o.base+risk(lines) <= o.risk
}

// measured says whether every side of a box counts as measured, where that is owed.
func (s *search) measured(f *frame, stand clearance.Stand) bool {
	if s.task.owed == nil || !s.task.owed.sides || s.value(stand.Size()) <= s.best.value {
		return true
	}
	return f.judge.Seen(stand)
}

// eased is what is owed with a feature farther off.
func (o *owed) eased(feature string, by float64) *owed {
	c := o.copied()
	for i := range c.dues {
		if k := &c.dues[i]; k.against == feature {
			k.short, k.gap = k.short-by, k.gap-by
		}
	}
	return c
}

// risk is the sum of the chances that a line's places fail.
func risk(lines []clearance.Held) (sum float64) {
	for _, h := range lines {
		for _, p := range h.Pins {
			switch short := h.Gap - p.Clearance; {
			case p.U > 0:
				sum += distuv.UnitNormal.CDF(short / p.U)
			case short > reach:
				sum++
			}
		}
	}
	return sum
}

// learn takes over from Check's report of a box what the judge does not know, and what
// it takes too lightly. all is false where something is in the way that no side moves.
func (o *owed) learn(f *frame, stand clearance.Stand, r *clearance.Report, t task) (all bool) {
	all = true
	o.base = 0
	for _, sure := range levelSures(r) {
		o.base += 1 - sure
	}
	known := map[string]bool{}
	for _, h := range t.rules.Hoses {
		known[h.Name] = h.Along != ""
	}
	for _, h := range r.Hoses {
		if h.Checked && h.Bent && !known[h.Name] {
			o.base += 1 - h.Sure
		}
	}
	for _, part := range f.judge.Model().Parts {
		known[part.Name] = part.Turning == nil
	}
	for _, side := range r.Sides {
		o.sides = o.sides || (t.slips || t.rules.AcceptSingle) && side.Verdict != clearance.Clears
	}
	for _, l := range r.Lines {
		judged := l.When == "at rest" && known[l.Part]
		if judged && l.Verdict == clearance.Clears {
			continue
		}
		c, ok := dueOf(f, stand, l, t)
		if !ok {
			all = all && l.Verdict == clearance.Clears
			continue
		}
		if l.Verdict != clearance.Clears {
			// The nearest place alone may be sure enough, and those near it not.
			c.short = math.Max(c.short, 0.05*math.Max(1, l.U))
		}
		o.put(clearance.Pair{Part: l.Part, Feature: l.Feature + "\x00" + l.When}, c)
	}
	for _, h := range r.Hoses {
		all = all && h.Verdict == clearance.Clears
	}
	r.Levels.Each(func(v clearance.Verdict, _ clearance.Because) { all = all && v == clearance.Clears })
	return all && (r.WayIn == nil || r.WayIn.Verdict == clearance.Clears)
}

func (o *owed) put(key clearance.Pair, c due) {
	if o.at == nil {
		o.at = map[clearance.Pair]int{}
	}
	if i, ok := o.at[key]; ok {
		o.dues[i] = c
		return
	}
	o.at[key] = len(o.dues)
	o.dues = append(o.dues, c)
}

func levelSures(r *clearance.Report) (sures []float64) {
	l := &r.Levels
	if l.Asked && l.Fill.Fitting != "" && l.Cold > 0 {
		sures = append(sures, l.Fill.Sure)
	}
	if l.Asked && l.Outlet.Checked {
		sures = append(sures, l.Outlet.Sure)
	}
	if l.Asked && l.Head.Asked {
		sures = append(sures, l.Head.Sure)
	}
	return sures
}

// dueOf is a line of a report as a due; ok is false where no side moves it.
func dueOf(f *frame, stand clearance.Stand, l clearance.Line, t task) (c due, ok bool) {
	c = due{name: l.Part, against: l.Feature, marks: l.Marks, at: stand, clearance: l.Clearance, gap: l.Gap, u: l.U, short: l.Short}
	if l.When != "at rest" {
		c.when = l.When
	}
	toward := components(f.judge.TurnedIn(l.Toward))
	for a, n := range toward {
		low, high, _ := follows(f, l.Part, a, n > 0, t)
		c.faces[a] -= n * low
		c.faces[a+3] -= n * high
		if l.Own {
			low, high, _ = follows(f, l.Feature, a, n < 0, t)
			c.faces[a] += n * low
			c.faces[a+3] += n * high
		}
	}
	for face, by := range c.faces {
		ok = ok || math.Abs(by) >= steepest && (face != 2 || t.limits.StandOff.Given)
	}
	return c, ok
}

// follows says how a part, or a hose's start, moves with the low and the high face of an
// axis; of the body it is the face itself, the far one or the near one.
func follows(f *frame, name string, axis int, far bool, t task) (low, high float64, ok bool) {
	model := f.judge.Model()
	for _, p := range model.Parts {
		switch by := components(p.Follow)[axis]; {
		case p.Name != name:
		case p.Kind == solid.Body && far:
			return 0, 1, true
		case p.Kind == solid.Body:
			return 1, 0, true
		default:
			return 1 - by, by, true
		}
	}
	for _, h := range t.rules.Hoses {
		for i, fitting := range model.Tank.Fittings {
			if h.Name == name && h.From == fitting.Name && i < len(model.Ports) {
				by := components(model.Ports[i].Follow)[axis]
				return 1 - by, by, true
			}
		}
	}
	return 0, 0, false
}
