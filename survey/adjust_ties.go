package survey

import (
	"fmt"
	"math"
	"strings"

	"elbowroom/survey/network"
	"elbowroom/survey/table"
)

// tieRow is a tape or a depth that counts.
type tieRow struct {
	kind     Kind
	of       int // index into Readings.Tapes or Depths
	row      int
	mark     int // of a tape the far end
	from, to int // of a tape both are the near end
}

// collectTies finds the marks of tapes and depths, and their rows.
func (a *adjuster) collectTies() {
	a.ties = make([]tieRow, 0, len(a.readings.Tapes)+len(a.readings.Depths))
	for i, t := range a.readings.Tapes {
		from, to := a.markOf(t.From, "", t.FromPos), a.markOf(t.To, "", t.ToPos)
		if a.leftOut(t.Pos) {
			continue
		}
		if from == to {
			a.complain(t.ToPos, "to", t.To, fmt.Sprintf("the tape goes from %s to itself", t.From), "name the mark at its other end")
			continue
		}
		row := a.row(Row{Kind: Tapes, Mark: to, Marks: []int{from, to}, Pos: t.Pos, Widest: t.Limit.Half()})
		a.ties = append(a.ties, tieRow{Tapes, i, row, to, from, from})
	}
	for i, d := range a.readings.Depths {
		m := a.markOf(d.Mark, d.Feature, d.Pos)
		a.join(d.Feature, d.Mark, m)
		from, to := a.markOf(d.From, "", d.FromPos), a.markOf(d.To, "", d.ToPos)
		if a.leftOut(d.Pos) {
			continue
		}
		if m == from || m == to || from == to {
			a.complain(d.ToPos, "to", d.To, "the straightedge and the mark that was probed need three different marks", "name them")
			continue
		}
		row := a.row(Row{Kind: Depths, Mark: m, Marks: []int{m, from, to}, Pos: d.Pos, Widest: d.Limit.Half()})
		a.ties = append(a.ties, tieRow{Depths, i, row, m, from, to})
	}
	for _, t := range a.ties {
		for _, m := range a.space.Rows[t.row].Marks {
			mark := &a.space.Marks[m]
			if mark.From == Scan || (mark.From == Tapes && t.kind == Depths && m == t.mark) {
				mark.From = t.kind
			}
		}
	}
}

// chooseNet finds the marks that are adjusted as a network: those that hang
// together with a tape, a depth, or a mark that has more than one base. A depth
// hangs together with the frame that its direction is in.
func (a *adjuster) chooseNet() {
	group := make([]int, len(a.space.Marks))
	for m := range group {
		group[m] = m
	}
	find := func(m int) int {
		for group[m] != m {
			group[m] = group[group[m]]
			m = group[m]
		}
		return m
	}
	join := func(m, n int) { group[find(m)] = find(n) }
	netted := map[int]bool{}
	for m, rows := range a.points {
		for _, i := range rows {
			p := a.readings.Points[i]
			if base, ok := a.byName[p.Base]; ok && p.Base != "" {
				join(m, base)
			}
			if p.Base != a.readings.Points[rows[0]].Base {
				netted[m] = true
			}
		}
	}
	for _, t := range a.ties {
		join(t.mark, t.from)
		join(t.mark, t.to)
		netted[t.mark] = true
		if t.kind == Depths {
			for _, m := range a.frameMarks() { // its direction hangs on them
				join(t.mark, m)
			}
		}
	}
	roots := map[int]bool{}
	for m := range netted {
		roots[find(m)] = true
	}
	a.netMarks = make([]bool, len(a.space.Marks))
	tied := map[int]bool{}
	for _, t := range a.ties {
		for _, m := range a.space.Rows[t.row].Marks {
			tied[m] = true
		}
	}
	for m := range a.netMarks { // a blank coordinate that nobody taped has no place: not an error
		a.netMarks[m] = roots[find(m)] && (tied[m] || a.complete(m))
	}
}

// frameMarks are the marks that the frame's axes hang on.
func (a *adjuster) frameMarks() []int {
	var out []int
	if a.readings.Frame == nil {
		return nil
	}
	for _, name := range [2]string{a.readings.Frame.Origin, a.readings.Frame.XToward} {
		if m, ok := a.byName[name]; ok {
			out = append(out, m)
		}
	}
	for _, spec := range a.readings.Features {
		if spec.Mount {
			out = append(out, a.members[spec.Name]...)
		}
	}
	return out
}

// complete says whether a mark's own rows give all three coordinates.
func (a *adjuster) complete(m int) bool {
	var have [3]bool
	for _, i := range a.points[m] {
		for axis, c := range a.readings.Points[i].At {
			have[axis] = have[axis] || c.Given
		}
	}
	return have[0] && have[1] && have[2]
}

// tapeU is the standard uncertainty of a tape reading: its own limit and the
// tape's, which goes by length.
func (a *adjuster) tapeU(t Tape) float64 {
	return math.Hypot(t.Limit.U(), a.readings.TapeFacts.Limit(t.Length.Value)/math.Sqrt(3))
}

// names lists marks in words: "A", "A and B", "A, B and C".
func (a *adjuster) names(marks []int) string {
	names := make([]string, len(marks))
	for i, m := range marks {
		names[i] = a.space.Marks[m].Name
	}
	return listed(names)
}

func listed(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}

// tieOf finds where a mark is first named in a tape or depth.
func (a *adjuster) tieOf(m int) (pos table.Pos, field string) {
	for _, t := range a.ties {
		switch {
		case t.kind == Tapes && t.mark == m:
			return a.readings.Tapes[t.of].ToPos, "to"
		case t.kind == Tapes && t.from == m:
			return a.readings.Tapes[t.of].FromPos, "from"
		case t.kind == Depths && t.mark == m:
			return a.readings.Depths[t.of].MarkPos, "mark"
		case t.kind == Depths && t.from == m:
			return a.readings.Depths[t.of].FromPos, "from"
		case t.kind == Depths && t.to == m:
			return a.readings.Depths[t.of].ToPos, "to"
		}
	}
	return a.space.Marks[m].Pos, ""
}

// probesStand complains of probes that go along their straightedge, to a sixth
// of a right angle: no hand would call that square.
func (b *build) probesStand(start network.Start) bool {
	for _, t := range b.adjuster.ties {
		from, to := b.of[t.from], b.of[t.to]
		if t.kind != Depths || !start.Placed[from] || !start.Placed[to] {
			continue
		}
		d := b.readings.Depths[t.of]
		for l, tie := range b.net.Ties {
			if b.rows[l] != t.row || tie.Kind != network.Probe {
				continue
			}
			e := start.At[to].Sub(start.At[from]).Normalize()
			if e.Cross(tie.Dir).Norm() < 0.25 {
				b.complain(d.Pos, "toward", "", fmt.Sprintf("the probe at %s goes the way that its straightedge lies, from %s to %s", b.space.Marks[t.mark].Name, d.From, d.To), "name the axis that it went along square to that")
			}
		}
	}
	return len(b.problems) == 0
}
