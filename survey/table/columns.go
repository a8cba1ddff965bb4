package table

import (
	"slices"
	"strings"
)

// Want checks the table's columns against those that its kind of file has: what
// is required and missing, and what is neither required nor optional. Both lists
// are in lower case.
func (t Table) Want(required, optional []string) Problems {
	c := checker{known: slices.Concat(required, optional)}
	for _, name := range c.known {
		if _, ok := t.Column(name); !ok {
			c.absent = append(c.absent, name)
		}
	}
	for _, column := range t.Columns {
		if column.Text != "" && !slices.Contains(c.known, column.Text) {
			c.unknown(column)
		}
	}
	for _, name := range required {
		if slices.Contains(c.absent, name) && !slices.Contains(c.meant, name) {
			c.problems.Add(&Problem{
				Pos:  t.start(),
				What: "the column " + name + " is missing",
				Mend: "add it to the header and to every row",
			})
		}
	}
	return c.problems
}

// A checker holds a table's columns against the known ones.
type checker struct {
	known    []string
	absent   []string // known, but not in the table
	meant    []string // absent, but there under another name
	problems Problems
}

// unknown reports a column that is not known, with the one that was most likely
// meant.
func (c *checker) unknown(column Cell) {
	bare, _, unit := strings.Cut(strings.NewReplacer("[", "(", "{", "(").Replace(column.Text), "(")
	bare = trim(bare)
	near, ok := Nearest(bare, c.absent)
	mend := "take it out"
	switch {
	case ok && unit:
		mend = "write " + near + "; units stand in job.yaml or in the cells"
	case ok:
		mend = "write " + near
	case slices.Contains(c.absent, "note"):
		mend = "take it out, or call it note"
	}
	if ok {
		c.meant = append(c.meant, near)
	}
	c.problems.Add(&Problem{
		Pos:   column.Pos,
		Value: column.Text,
		What:  Quote(column.Text) + " is no column of this kind of file",
		Mend:  mend,
	})
}

// start is where the header starts.
func (t Table) start() Pos {
	if len(t.Columns) > 0 {
		return t.Columns[0].Pos
	}
	return Pos{File: t.File}
}
