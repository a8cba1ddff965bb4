package survey

import (
	"fmt"
	"slices"
	"strings"

	"elbowroom/survey/table"
)

// MarkNames lists the marks that the readings name, each once, in the order of
// the rows: those that are given, left out or in a file that is not used yet.
func (r Readings) MarkNames() []string {
	var names []string
	seen := map[string]bool{"": true}
	add := func(name string) {
		if !seen[name] {
			seen[name] = true
			names = append(names, name)
		}
	}
	for _, n := range r.named() {
		add(n.name)
	}
	for _, p := range r.LeftOut {
		add(p.Mark)
	}
	for _, u := range r.Unread {
		for _, name := range u.Marks {
			add(name)
		}
	}
	return names
}

// Validate holds the readings against what the job says of them: features that
// the job does not describe or that nobody measured, too few marks for a shape,
// bases that are no marks or go round in a circle, and ends of a straightedge
// that no other reading names. Whether the tapes place a mark is for Adjust.
func (r Readings) Validate() table.Problems {
	v := validator{readings: r}
	v.features()
	v.bases()
	v.straightedges()
	return v.problems
}

type validator struct {
	readings Readings
	problems table.Problems
}

func (v *validator) complain(pos table.Pos, field, value, what, mend string) {
	v.problems.Add(&table.Problem{Pos: pos, Field: field, Value: value, What: what, Mend: mend})
}

// features checks the features' names and how many marks each has.
func (v *validator) features() {
	described := map[string]bool{}
	var names []string
	for _, f := range v.readings.Features {
		described[f.Name] = true
		names = append(names, f.Name)
	}
	marks := v.marksOf()
	meant := map[string]bool{}
	for _, p := range v.rows() {
		if p.Feature == "" || described[p.Feature] {
			continue
		}
		described[p.Feature] = true
		mend := "add it under features: in the job, as in " + p.Feature + ": {shape: block}"
		if near, ok := table.Nearest(p.Feature, names); ok && marks[near] > 0 {
			mend = "did you mean " + near + "?"
		} else if ok {
			mend = "the job has " + near + "; write one name in both"
			meant[near] = true
		}
		v.complain(p.FeaturePos, "feature", p.Feature, "the job does not describe the feature "+table.Quote(p.Feature), mend)
	}
	for _, f := range v.readings.Features {
		if !meant[f.Name] && !v.readings.Lost() {
			v.enough(f, marks[f.Name])
		}
	}
}

// Lost says whether rows were lost with the names in them, so that nothing can
// be said of names that seem to be missing.
func (r Readings) Lost() bool {
	return slices.ContainsFunc(r.LeftOut, func(p Point) bool { return p.Feature == "" && p.Mark == "" })
}

// rows are all rows that may name a feature, also those left out.
func (v *validator) rows() []Point {
	rows := append([]Point(nil), v.readings.Points...)
	for _, d := range v.readings.Depths {
		rows = append(rows, Point{Feature: d.Feature, Mark: d.Mark, FeaturePos: d.FeaturePos})
	}
	return append(rows, v.readings.LeftOut...)
}

// many stands for "enough marks, as far as can be told".
const many = 1 << 30

// marksOf counts the marks of each feature, by points and by depths. A feature with rows left out, or in
// a file that is not used yet, has many.
func (v *validator) marksOf() map[string]int {
	count := map[string]int{}
	seen := map[[2]string]bool{}
	add := func(feature, mark string) {
		key := [2]string{feature, mark}
		if mark == "" || !seen[key] {
			count[feature]++
		}
		seen[key] = true
	}
	for _, p := range v.readings.Points {
		add(p.Feature, p.Mark)
	}
	for _, d := range v.readings.Depths {
		add(d.Feature, d.Mark)
	}
	for _, p := range v.readings.LeftOut {
		count[p.Feature] = many
	}
	for _, u := range v.readings.Unread {
		for _, name := range u.Features {
			count[name] = many
		}
	}
	return count
}

// needs is the fewest marks that make the shape, and how that reads.
func (s FeatureSpec) needs() (marks int, words string) {
	switch {
	case s.Run:
		return 1, "a run needs a mark"
	case s.Shape == Face:
		return 3, "a face needs three marks that are not in one line"
	case s.Shape == Edge:
		return 2, "an edge needs two marks"
	case s.Shape == Skin:
		return 3, "a skin needs three marks that are not in one line"
	case s.Shape == Block:
		return 4, "a block needs four marks that are not in one plane"
	case s.Shape == Tube:
		return 2, "a tube needs two marks"
	}
	return 1, "it needs a mark"
}

func (v *validator) enough(f FeatureSpec, marks int) {
	least, words := f.needs()
	field := "features." + f.Name
	switch {
	case marks == 0:
		v.complain(f.Pos, field, f.Name, "no reading is of this feature", "measure it, or take it out")
	case marks < least:
		v.complain(f.Pos, field, f.Name, fmt.Sprintf("%s, and has %d", words, marks), "measure more of it, or give it another shape")
	}
}

// bases checks that each base is a mark, and that no mark hangs on itself.
func (v *validator) bases() {
	names := v.readings.MarkNames()
	known := map[string]bool{}
	for _, n := range names {
		known[n] = true
	}
	on := map[string][]Point{}
	for _, p := range v.readings.Points {
		if p.Base == "" {
			continue
		}
		if p.Mark != "" {
			on[p.Mark] = append(on[p.Mark], p)
		}
		if !known[p.Base] && !v.readings.Lost() {
			mend := "measure that mark, or leave base blank if it was the datum"
			if near, ok := table.Nearest(p.Base, names); ok {
				mend = "did you mean " + near + "?"
			}
			v.complain(p.BasePos, "base", p.Base, "no reading gives the mark "+table.Quote(p.Base), mend)
		}
	}
	v.circles(names, on)
}

// circles finds marks that are measured from each other in a circle. on lists
// the rows of each mark that have a base.
func (v *validator) circles(names []string, on map[string][]Point) {
	const busy, done = 1, 2
	state := map[string]int{}
	var visit func(mark string, way []string)
	visit = func(mark string, way []string) {
		state[mark] = busy
		way = append(way, mark)
		for _, p := range on[mark] {
			switch state[p.Base] {
			case 0:
				visit(p.Base, way)
			case busy:
				v.complain(p.BasePos, "base", p.Base, circle(way, p.Base), "measure one of them from the datum or from another mark")
			}
		}
		state[mark] = done
	}
	for _, n := range names {
		if state[n] == 0 {
			visit(n, nil)
		}
	}
}

// circle words the way from base back to base.
func circle(way []string, base string) string {
	start := len(way) - 1
	for way[start] != base {
		start--
	}
	marks := append(append([]string(nil), way[start:]...), base)
	return marks[0] + " is measured from " + strings.Join(marks[1:], ", that from ") + ": a circle"
}
