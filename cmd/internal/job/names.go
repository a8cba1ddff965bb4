package job

import (
	"fmt"
	"slices"

	"elbowroom/survey/table"
)

// mark reads the name of a mark under key. That a reading gives it is checked
// when all is read.
func (s section) mark(key string, into *string) {
	if n, ok := s.get(key); ok {
		if t, ok := s.r.word(n, "a mark"); ok {
			*into = t
			s.r.marks = append(s.r.marks, n)
		}
	}
}

// featureNames reads the features under key, each of which the job must have.
func (s section) featureNames(key string) []string {
	names := s.names(key)
	s.r.features = append(s.r.features, names...)
	return texts(names)
}

// twice notes a name and complains of one that is taken.
func (r *reader) twice(taken map[string]table.Pos, name string, n node, what string) {
	if name == "" {
		return
	}
	if first, ok := taken[name]; ok {
		r.complain(n, fmt.Sprintf("the name %s is taken, by the %s in line %d", table.Quote(name), what, first.Line), "give one of them another name")
		return
	}
	taken[name] = n.pos
}

// partNames checks that each part has a name of its own: lines of the report go
// by it. A fitting whose own name is taken has been complained of.
func (r *reader) partNames() {
	taken := map[string]table.Pos{}
	name := func(part, path string) {
		at, ok := r.job.Places[path+".name"]
		n := node{kind: scalar, text: part, pos: at, path: path + ".name"}
		switch {
		case !ok:
		case part == "body":
			r.complain(n, "the box itself is called body", "give it another name")
		default:
			r.twice(taken, part, n, "part")
		}
	}
	for i, b := range r.job.Tank.Brackets {
		name(b.Name, fmt.Sprintf("brackets[%d]", i))
	}
	for i, f := range r.job.Tank.Fittings {
		path := fmt.Sprintf("fittings[%d]", i)
		if r.fittingAt[f.Name] != r.job.Places[path+".name"] {
			continue
		}
		for k, e := range f.Stack {
			name(f.Name+" "+e.Name, fmt.Sprintf("%s.stack[%d]", path, k))
		}
		for k, o := range f.KeepOpen {
			name(f.Name+" "+o.Name, fmt.Sprintf("%s.keep_open[%d]", path, k))
		}
	}
	for i, h := range r.job.Rules.Hoses {
		name(h.Name, fmt.Sprintf("hoses[%d]", i))
	}
}

// uses checks the names of marks and features that the job uses.
func (r *reader) uses() {
	readings := r.job.Readings
	var features []string
	for _, f := range readings.Features {
		features = append(features, f.Name)
	}
	for _, n := range r.features {
		if !slices.Contains(features, n.text) {
			r.complain(n, "there is no feature "+table.Quote(n.text), likely(n.text, features, "the features are "))
		}
	}
	marks := readings.MarkNames()
	for _, n := range r.marks {
		if !slices.Contains(marks, n.text) && !readings.Lost() {
			mend := "measure it, and write it in a points file with the feature left blank"
			if near, ok := table.Nearest(n.text, marks); ok {
				mend = "did you mean " + near + "?"
			}
			r.complain(n, "no reading gives the mark "+table.Quote(n.text), mend)
		}
	}
}
