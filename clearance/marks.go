package clearance

import (
	"cmp"
	"slices"

	"elbowroom/survey"
)

// onceMore says how to check readings that were taken once and that lines hang
// on: coordinates and depths by themselves; of the tapes to a mark all at once,
// by one more tape from elsewhere or a depth, where one can.
func (c *checker) onceMore(once []Reading, lines []Pair) []Measure {
	again := Measure{Kind: TakeOnceMore, For: lines}
	var marks []int
	rows := map[int][]int{}
	for _, r := range once {
		switch m := c.taped(r.row); {
		case r.Tape == [2]string{}:
			if !slices.Contains(again.Marks, r.Mark) {
				again.Marks = append(again.Marks, r.Mark)
			}
		default:
			if !slices.Contains(marks, m) {
				marks = append(marks, m)
			}
			rows[m] = append(rows[m], r.row)
		}
	}
	var out []Measure
	if len(again.Marks) > 0 {
		out = append(out, again)
	}
	for _, m := range marks {
		out = append(out, c.checkTapes(m, rows[m], lines))
	}
	return out
}

// checkTapes says how to check tapes to a mark.
func (c *checker) checkTapes(m int, rows []int, lines []Pair) Measure {
	out := Measure{Kind: TakeOnceMore, For: lines, Mark: c.space.Marks[m].Name, Unchecked: true}
	if next, ok := c.tapes.Checking(m, rows, usualLimit); ok {
		out.read(next)
		if u := c.space.Spread(m).Worst; next.Left <= worthIt*u && u >= weakBy*rectangular(usualLimit) {
			out.U, out.Left = u, next.Left
		}
		return out
	}
	for _, row := range rows {
		out.Tapes = append(out.Tapes, c.shareOf(c.space.Rows[row]).Tape)
		out.Within = max(out.Within, c.space.Rows[row].Widest)
	}
	return out
}

// left is what the reading leaves of u, which is its mark's.
func (m *Measure) left(u float64) float64 {
	if m.U == 0 {
		return u
	}
	return m.Left
}

// read makes the measure a new tape to its mark, or a new depth of it.
func (m *Measure) read(n Next) {
	m.Within = n.Within
	if n.From == "" {
		m.Kind, m.Depth = NewDepth, n.Depth
		return
	}
	m.Kind, m.Tapes = NewTape, [][2]string{{n.From, m.Mark}}
}

// taped is the end of a tape that hangs on it: the one that no coordinates
// place, else the far one. Of another reading it is the mark.
func (c *checker) taped(row int) int { return tapedEnd(c.space, row) }

func tapedEnd(s *survey.Space, row int) int {
	r := s.Rows[row]
	if r.Kind == survey.Tapes && s.Marks[r.Mark].From == survey.Points && s.Marks[r.Marks[0]].From != survey.Points {
		return r.Marks[0]
	}
	return r.Mark
}

// mostForMarks is how many marks a reading is proposed for: a morning's work.
const mostForMarks = 5

// forMarks adds, after what settles lines, a reading for each mark that an
// unproven line hangs on and that is weak or that nothing checks, unless it is to be taken
// already.
func (c *checker) forMarks(drafts []draft, order []int, rep *Report, list []Measure) []Measure {
	done := map[string]bool{}
	for _, m := range list {
		done[m.Mark] = true
		if m.Kind == TakeAgain {
			m.Tapes = nil // the same tapes leave a mark as weak as it is
		}
		for _, mark := range m.Marks {
			done[mark] = true
		}
		for _, t := range m.Tapes {
			done[t[1]] = true // the near end of a new tape stays as good as it is
		}
		done[m.Depth.Mark] = true
	}
	first := len(list)
	// Where only all lines together fall short, those count that take more than
	// their share of the risk.
	together := slices.Contains(rep.Because, Together)
	share := 1 - (1-c.rules.Sure)/float64(max(1, len(drafts)))
	for _, i := range order {
		d := &drafts[i]
		if l := &d.line; l.Own || l.Because == NotChecked || l.Verdict != Unproven && !(together && l.Sure < share) {
			continue
		}
		pair := Pair{d.line.Part, d.line.Feature}
		for _, m := range c.marksOf(d) {
			name := c.space.Marks[m].Name
			if k := slices.IndexFunc(list[first:], func(o Measure) bool { return o.Mark == name }); k >= 0 {
				list[first+k].For = append(list[first+k].For, pair)
				continue
			}
			if done[name] || len(list) == first+mostForMarks {
				continue
			}
			if help, ok := c.forMark(m, d); ok {
				help.For = []Pair{pair}
				list = append(list, help)
				done[name] = true
			}
		}
		if again := c.coordinatesOnce(d, done); len(again.Marks) > 0 && len(list) < first+mostForMarks {
			again.For = []Pair{pair}
			list = append(list, again)
		}
	}
	return list
}

// coordinatesOnce are the marks of which a line hangs on coordinates or a depth
// that nothing checks, but those that are done; they are then.
func (c *checker) coordinatesOnce(d *draft, done map[string]bool) Measure {
	again := Measure{Kind: TakeOnceMore, Unchecked: true}
	for _, s := range c.slipsThatCount(d) {
		r := c.space.Rows[s.row]
		name := c.space.Marks[r.Mark].Name
		if r.Kind == survey.Tapes || done[name] {
			continue
		}
		done[name] = true
		again.Marks = append(again.Marks, name)
		again.Within = max(again.Within, r.Widest)
	}
	if len(again.Marks) > 0 {
		again.Mark = again.Marks[0]
	}
	return again
}

// marksOf are the marks that decide a line, and those of readings of it that
// nothing checks.
func (c *checker) marksOf(d *draft) []int {
	var out []int
	for _, name := range d.line.Marks {
		if m, ok := c.space.Mark(name); ok {
			out = append(out, m)
		}
	}
	for _, s := range c.slipsThatCount(d) {
		if m := c.taped(s.row); !slices.Contains(out, m) {
			out = append(out, m)
		}
	}
	return out
}

// slipsThatCount are the readings of a line that nothing checks and of which a
// slip of an inch moves it by more than its give or take, the worst first. Of a
// line that would clear but for those that could undo it, the others do not count.
func (c *checker) slipsThatCount(d *draft) []slip {
	if d.line.Because == OneReading {
		return nil
	}
	slips := slices.DeleteFunc(c.slipsOf(d.main, nil), func(s slip) bool { return s.by*aSlip < 2*d.main.u })
	slices.SortStableFunc(slips, func(a, b slip) int { return cmp.Compare(b.by, a.by) })
	return slips
}

// forMark finds the reading for a mark that tapes or depths place: what checks
// its tapes, unless that leaves it weak and another less so, else what makes it less
// weak, else the same tapes once more. ok is
// false for a mark that needs none.
func (c *checker) forMark(m int, d *draft) (out Measure, ok bool) {
	mark := &c.space.Marks[m]
	if mark.From != survey.Tapes && mark.From != survey.Depths {
		return out, false
	}
	var rows []int
	for _, s := range c.slipsThatCount(d) {
		if c.space.Rows[s.row].Kind == survey.Tapes && c.taped(s.row) == m {
			rows = append(rows, s.row)
		}
	}
	if len(rows) > 0 {
		if out = c.checkTapes(m, rows, nil); out.Kind != TakeOnceMore && !c.tapes.leavesWeak(m, out.left(c.space.Spread(m).Worst), usualLimit) {
			return out, true
		}
	}
	if next, ok := c.tapes.Weak(m, usualLimit); ok {
		out = Measure{Mark: mark.Name, Unchecked: len(rows) > 0, U: c.space.Spread(m).Worst, Left: next.Left}
		out.read(next)
		return out, true
	}
	return out, len(rows) > 0
}
