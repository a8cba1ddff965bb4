// Package table reads the tables that people type: CSV with place-keeping, so
// that every later complaint can name file, line and column.
package table

import (
	"fmt"
	"strings"
)

// Pos is a place in a file that a person wrote. Line and Column count from 1,
// Column in characters. The zero Pos means "not from a file".
type Pos struct {
	File   string
	Line   int
	Column int
}

// String gives file:line:column, or less where less is known.
func (p Pos) String() string {
	switch {
	case p.Line == 0:
		return p.File
	case p.Column == 0:
		return fmt.Sprintf("%s:%d", p.File, p.Line)
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column)
}

// Problem is one thing wrong with an input: where, in which field, what was
// read, what is wrong with it, and how to mend it.
type Problem struct {
	Pos   Pos
	Field string
	Value string
	What  string
	Mend  string
}

// Error gives the whole complaint on one line:
// file:line:column: field: what is wrong; how to mend it.
func (p *Problem) Error() string {
	var b strings.Builder
	if at := p.Pos.String(); at != "" {
		b.WriteString(at + ": ")
	}
	if p.Field != "" {
		b.WriteString(p.Field + ": ")
	}
	b.WriteString(p.What)
	if p.Mend != "" {
		b.WriteString("; " + p.Mend)
	}
	return b.String()
}

// Problems is everything wrong with an input, in the order found.
type Problems []*Problem

// Add appends one problem.
func (p *Problems) Add(q *Problem) { *p = append(*p, q) }

// Error gives one line a problem.
func (p Problems) Error() string {
	lines := make([]string, len(p))
	for i, q := range p {
		lines[i] = q.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap lists the problems as errors.
func (p Problems) Unwrap() []error {
	errs := make([]error, len(p))
	for i, q := range p {
		errs[i] = q
	}
	return errs
}

// Err is nil when there is no problem.
func (p Problems) Err() error {
	if len(p) == 0 {
		return nil
	}
	return p
}
