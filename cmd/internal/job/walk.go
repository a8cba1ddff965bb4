package job

import (
	"fmt"
	"slices"
	"strings"

	"elbowroom/survey/length"
	"elbowroom/survey/table"
)

// reader walks the tree of a job and fills in the job. What is wrong goes to
// problems, and the walk goes on.
type reader struct {
	job      *Job
	open     opener
	unit     length.Unit
	within   length.Limit // of a reading that does not state its own
	files    []string     // the readings files, in order
	problems table.Problems
	upGiven  bool // the job says which way is up
	// marks and features are the names that the job uses, to be held against
	// what there is when all is read; withs the motions that others go with.
	marks, features []node
	withs           []with
	// The names that are taken, with their places, kind by kind.
	fittingAt, motionAt, triedAt, fileAt map[string]table.Pos
}

func newReader(j *Job, open opener) *reader {
	return &reader{
		job: j, open: open,
		fittingAt: map[string]table.Pos{},
		motionAt:  map[string]table.Pos{},
		triedAt:   map[string]table.Pos{},
		fileAt:    map[string]table.Pos{},
	}
}

func (r *reader) complain(n node, what, mend string) {
	r.problems.Add(&table.Problem{Pos: n.pos, Field: n.path, Value: n.text, What: what, Mend: mend})
}

// section is a mapping that may hold only known keys. A key that is not there,
// or that is there twice, is a node of kind nothing without a place.
type section struct {
	r     *reader
	node  node
	value map[string]node
	meant map[string]bool // keys that a mistyped one stands for
}

// section opens a mapping. Unknown keys, keys that stand twice and a node that
// is no mapping are problems.
func (r *reader) section(n node, known ...string) section {
	s := section{r, n, map[string]node{}, map[string]bool{}}
	switch n.kind {
	case nothing:
		r.complain(n, "nothing stands here", "give it keys, such as "+known[0]+":, or take it out")
	case scalar, list:
		r.complain(n, "keys with values belong here", "write it as {"+known[0]+": ...}; the keys are "+strings.Join(known, ", "))
	}
	n.keys = r.commas(n.keys)
	s.node = n
	for _, k := range n.keys {
		at := node{pos: k.pos, path: n.path, text: k.name}
		if first, twice := s.value[k.name]; twice {
			r.complain(at, fmt.Sprintf("the key %s stands twice, first in line %d", k.name, first.pos.Line), "take one out")
			continue
		}
		if !slices.Contains(known, k.name) {
			s.unknown(at, known)
			continue
		}
		s.value[k.name] = k.value
	}
	return s
}

// unknown complains of a key that is not known, and notes which one it stands
// for: a mistyped one, or one that lost its colon.
func (s section) unknown(at node, known []string) {
	for _, k := range known {
		if value, ok := strings.CutPrefix(at.text, k); ok && value != "" && strings.ContainsAny(value[:1], " :") {
			s.meant[k] = true
			s.r.complain(at, "a colon and a blank belong behind "+k, "write "+k+": and then its value")
			return
		}
	}
	if near, ok := table.Nearest(at.text, known); ok {
		s.meant[near] = true
	}
	s.r.complain(at, table.Quote(at.text)+" is not a key that is known here", likely(at.text, known, "the keys are "))
}

// need complains of each key that is missing; what holds pairs of a key and an
// example of it.
func (s section) need(keys ...[2]string) {
	for _, k := range s.node.keys {
		if k.value.kind == refused { // it may have swallowed the key behind it
			return
		}
	}
	if s.node.kind != mapping {
		return
	}
	for _, k := range keys {
		if _, ok := s.value[k[0]]; !ok && !s.meant[k[0]] {
			s.r.complain(s.node, k[0]+" is missing", "add "+k[0]+": "+k[1])
		}
	}
}

// get is the value of a key; ok is false where it is missing, empty or refused.
// An empty one is a problem.
func (s section) get(key string) (n node, ok bool) {
	n, ok = s.value[key]
	if ok && n.kind == nothing {
		s.r.complain(n, "nothing stands after "+key+":", "write a value, or take the key out")
		return n, false
	}
	return n, ok && n.kind != refused
}

// each calls do for every item of the list under key.
func (s section) each(key string, do func(n node)) {
	n, ok := s.get(key)
	if !ok {
		return
	}
	if n.kind != list {
		s.r.complain(n, "a list belongs here", "start each item on its own line with a dash, as in - name: ...")
		return
	}
	for _, item := range n.items {
		do(item)
	}
}

// names is the list of names under key; a single name is a list of one.
func (s section) names(key string) []node {
	n, ok := s.get(key)
	switch {
	case !ok:
		return nil
	case n.kind == scalar:
		return []node{n}
	case n.kind == mapping:
		s.r.complain(n, "a list of names belongs here", "write it as [one, another]")
		return nil
	}
	var names []node
	for _, item := range n.items {
		if item.kind == refused {
			continue
		}
		if item.kind != scalar || item.text == "" {
			s.r.complain(item, "a name belongs here", "write it as [one, another]")
			continue
		}
		names = append(names, item)
	}
	return names
}

// texts are the names' texts.
func texts(names []node) []string {
	var out []string
	for _, n := range names {
		out = append(out, n.text)
	}
	return out
}

// likely words the mend of a name that is not known: the nearest, or all of them.
func likely(name string, known []string, all string) string {
	known = slices.DeleteFunc(slices.Clone(known), func(k string) bool { return k == "" })
	if len(known) == 0 {
		return "there is none yet"
	}
	if near, ok := table.Nearest(name, known); ok {
		return "did you mean " + near + "?"
	}
	return all + strings.Join(known, ", ")
}

// place notes the place of every key below a node, by its path.
func place(n node, at map[string]table.Pos) {
	if n.path != "" {
		at[n.path] = n.pos
	}
	for _, k := range n.keys {
		place(k.value, at)
	}
	for _, item := range n.items {
		place(item, at)
	}
}
