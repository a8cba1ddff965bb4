package survey

import (
	"fmt"
	"math"
	"sort"

	"github.com/golang/geo/r3"

	"elbowroom/survey/network"
	"elbowroom/survey/table"
)

// Adjust makes a space of the readings. The error is table.Problems: all of
// them at once.
//
// Where marks have coordinates alone, each from one base, a coordinate is the
// weighted mean of its readings (weights 1/u2; readings that are said to be
// exact settle it alone), counted from its base, whose errors carry through.
// What hangs together by tapes, depths or several bases is adjusted as one
// network, by weighted least squares (network.Net).
func Adjust(r Readings) (*Space, error) {
	a := adjuster{readings: r, space: &Space{Mount: -1, Doubts: append([]Doubt(nil), r.Doubts...)}}
	a.collect()
	a.locate()
	if len(a.problems) == 0 {
		a.network()
	}
	if len(a.problems) == 0 && r.Frame != nil {
		a.toFrame()
	}
	if len(a.problems) == 0 {
		a.tips()
		a.shapes()
	}
	if len(a.problems) > 0 {
		return nil, a.problems
	}
	a.repeats()
	a.flats()
	a.slips()
	a.strengths()
	a.netDoubts()
	a.outOfFlats()
	a.frees()
	s := a.space
	sort.SliceStable(s.Doubts, func(i, j int) bool { return s.Doubts[i].Weight > s.Doubts[j].Weight })
	return s, nil
}

type adjuster struct {
	readings Readings
	space    *Space
	problems table.Problems
	// byName finds a mark, members lists each feature's marks in order.
	byName  map[string]int
	members map[string][]int
	// points lists for each mark the rows of Readings.Points that give it;
	// rowOf is the Space row of each point (-1: the point is no reading).
	points [][]int
	rowOf  []int
	// elsewhere holds the features that a file gives marks of that is not used yet.
	elsewhere map[string]bool
	// ties are the tapes and depths that count, netMarks the marks in the network.
	ties     []tieRow
	netMarks []bool
	residual []float64 // of each source outside the network, fitted less read
	strength []float64 // its redundancy
	nets     *build
	// clean is the network without the readings that look wrong; nil where none does.
	clean *network.Adjusted
}

// collect finds the marks and which feature each stands under.
func (a *adjuster) collect() {
	a.byName = map[string]int{}
	a.members = map[string][]int{}
	a.rowOf = make([]int, len(a.readings.Points))
	a.space.Rows = make([]Row, 0, len(a.readings.Points)+len(a.readings.Tapes)+len(a.readings.Depths))
	a.space.Marks = make([]Mark, 0, len(a.readings.Points))
	a.elsewhere = map[string]bool{}
	for _, u := range a.readings.Unread {
		for _, name := range u.Features {
			a.elsewhere[name] = true
		}
	}
	for i, p := range a.readings.Points {
		m := a.markOf(p.Mark, p.Feature, p.Pos)
		a.rowOf[i] = -1
		a.join(p.Feature, p.Mark, m)
		if !p.given() || a.leftOut(p.Pos) || a.copied(m, p) {
			continue
		}
		a.space.Marks[m].From = Points
		a.rowOf[i] = a.row(Row{Mark: m, Marks: []int{m}, Pos: p.Pos, Widest: p.Limit.Half()})
		a.space.Marks[m].Rows = append(a.space.Marks[m].Rows, a.rowOf[i])
		a.points[m] = append(a.points[m], i)
	}
	a.collectTies()
	a.chooseNet()
}

func (a *adjuster) row(r Row) int {
	a.space.Rows = append(a.space.Rows, r)
	return len(a.space.Rows) - 1
}

// join puts a mark under a feature.
func (a *adjuster) join(feature, name string, m int) {
	if feature != "" && (name == "" || !contains(a.members[feature], m)) {
		a.members[feature] = append(a.members[feature], m)
	}
}

// leftOut says whether the user left a row out.
func (a *adjuster) leftOut(pos table.Pos) bool {
	for _, w := range a.readings.Without {
		if w.File == pos.File && w.Line == pos.Line {
			return true
		}
	}
	return false
}

// given says whether the row gives any coordinate at all.
func (p Point) given() bool { return p.At[0].Given || p.At[1].Given || p.At[2].Given }

// markOf finds a mark by its name or makes it.
func (a *adjuster) markOf(name, feature string, pos table.Pos) int {
	if name != "" {
		if m, ok := a.byName[name]; ok {
			return m
		}
		a.byName[name] = len(a.space.Marks)
	} else {
		name = fmt.Sprintf("%s#%d", feature, pos.Line)
	}
	a.space.Marks = append(a.space.Marks, Mark{Name: name, Pos: pos, From: Scan})
	a.points = append(a.points, nil)
	return len(a.space.Marks) - 1
}

// copied says whether the row only puts a mark under another feature: the same
// numbers from the same base under another name are the same reading, not a
// repeat that would check it.
func (a *adjuster) copied(m int, p Point) bool {
	for _, i := range a.points[m] {
		q := a.readings.Points[i]
		if q.Feature != p.Feature && q.Base == p.Base && q.At[0].same(p.At[0]) && q.At[1].same(p.At[1]) && q.At[2].same(p.At[2]) {
			return true
		}
	}
	return false
}

func (c Coordinate) same(d Coordinate) bool { return c.Given == d.Given && c.Value == d.Value }

// locate places every mark that can be placed, bases before what was taken
// from them.
func (a *adjuster) locate() {
	const unseen, busy, done = 0, 1, 2
	state := make([]int, len(a.space.Marks))
	var visit func(m int) bool
	visit = func(m int) bool {
		switch state[m] {
		case done:
			return true
		case busy:
			return false
		}
		state[m] = busy
		for _, i := range a.points[m] {
			p := a.readings.Points[i]
			if p.Base == "" {
				continue
			}
			base, ok := a.byName[p.Base]
			if !ok {
				a.complain(p.BasePos, "base", p.Base, fmt.Sprintf("no reading gives the mark %s", p.Base), "measure it, or name a mark that is there")
			} else if !visit(base) {
				a.complain(p.BasePos, "base", p.Base, fmt.Sprintf("%s is measured from %s and that again from %s", a.space.Marks[m].Name, p.Base, a.space.Marks[m].Name), "measure one of them from the datum")
			}
		}
		if !a.netMarks[m] {
			a.average(m)
		}
		state[m] = done
		return true
	}
	for m := range a.space.Marks {
		visit(m)
	}
}

func (a *adjuster) complain(pos table.Pos, field, value, what, mend string) {
	a.problems.Add(&table.Problem{Pos: pos, Field: field, Value: value, What: what, Mend: mend})
}

// average places one mark from its rows.
func (a *adjuster) average(m int) {
	mark := &a.space.Marks[m]
	var at [3]float64
	mark.Located = true
	least := make(map[int]float64, len(a.points[m]))
	for axis := range at {
		weights, total := a.weights(m, axis)
		if total == 0 {
			mark.Located = false
			continue
		}
		var terms []Term
		first := len(a.residual)
		for k, i := range a.points[m] {
			share := weights[k] / total
			if share == 0 {
				continue
			}
			p := a.readings.Points[i]
			value, u := p.At[axis].Value+p.Limit.Shift(), p.Limit.U()
			if p.Base != "" {
				base := a.byName[p.Base]
				value += along(a.space.Marks[base].At, axis)
				terms = append(terms, scaled(a.space.Marks[base].by[axis], share)...)
			}
			at[axis] += share * value
			row := a.rowOf[i]
			if u > 0 {
				terms = append(terms, Term{len(a.space.sources), share * u})
				a.space.sources = append(a.space.sources, Source{row, axis, u})
				a.residual = append(a.residual, -value) // and the mean, below
				a.strength = append(a.strength, math.Max(0, 1-share))
			}
			if r, ok := least[row]; !ok || 1-share < r {
				least[row] = 1 - share
			}
		}
		for l := first; l < len(a.residual); l++ {
			a.residual[l] += at[axis]
		}
		mark.by[axis] = Merge(terms)
	}
	for row, r := range least {
		a.space.Rows[row].Redundancy = math.Max(0, r)
	}
	mark.At = r3.Vector{X: at[0], Y: at[1], Z: at[2]}
}

// weights of a mark's rows for one axis: 1/u2, as all have one base, whose own
// error is common to them; where some rows are exact, they alone count.
func (a *adjuster) weights(m, axis int) (weights []float64, total float64) {
	weights = make([]float64, len(a.points[m]))
	exact := false
	for k, i := range a.points[m] {
		p := a.readings.Points[i]
		if !p.At[axis].Given {
			continue
		}
		if base, ok := a.byName[p.Base]; p.Base != "" && (!ok || !a.space.Marks[base].Located) {
			continue
		}
		weights[k] = 1 / (p.Limit.U() * p.Limit.U())
		exact = exact || math.IsInf(weights[k], 1)
	}
	for k, w := range weights {
		if exact {
			weights[k] = 0
			if math.IsInf(w, 1) {
				weights[k] = 1
			}
		}
		total += weights[k]
	}
	return weights, total
}

func along(v r3.Vector, axis int) float64 { return [3]float64{v.X, v.Y, v.Z}[axis] }

func scaled(terms []Term, by float64) []Term {
	out := make([]Term, len(terms))
	for i, t := range terms {
		out[i] = Term{t.Source, t.By * by}
	}
	return out
}

// Merge sorts terms by source and adds up those of one source.
func Merge(terms []Term) []Term {
	sort.SliceStable(terms, func(i, j int) bool { return terms[i].Source < terms[j].Source })
	out := terms[:0]
	for _, t := range terms {
		if n := len(out); n > 0 && out[n-1].Source == t.Source {
			out[n-1].By += t.By
		} else {
			out = append(out, t)
		}
	}
	return out
}

func contains(list []int, m int) bool {
	for _, x := range list {
		if x == m {
			return true
		}
	}
	return false
}

func sortInts(list []int) { sort.Ints(list) }
