package survey

import (
	"errors"
	"slices"
	"strings"
	"unicode"

	"elbowroom/survey/length"
	"elbowroom/survey/table"
)

// rowsReader is what the readers of points, tape and depth files have in
// common: the table, its known columns, and what was found.
type rowsReader struct {
	file               File
	table              table.Table
	required, optional []string // columns
	leftOut            []Point
	doubts             []Doubt
	problems           table.Problems
}

// read reads all rows with row. A row with a problem in it is left out.
func (r *rowsReader) read(row func(table.Row)) {
	for _, p := range r.problems { // rows lost with all their names
		r.lose(Point{Pos: p.Pos})
	}
	if !r.header() { // all rows are lost
		r.lose(Point{Pos: table.Pos{File: r.file.Name}})
		return
	}
	for _, each := range r.table.Rows {
		row(each)
	}
}

// lose notes what a row that is left out names.
func (r *rowsReader) lose(named ...Point) { r.leftOut = append(r.leftOut, named...) }

func (r *rowsReader) complain(at table.Cell, field, what, mend string) {
	r.problems.Add(&table.Problem{Pos: at.Pos, Field: field, Value: at.Text, What: what, Mend: mend})
}

// header checks the columns. It is false when there is no sense in reading on.
func (r *rowsReader) header() bool {
	if len(r.table.Columns) == 0 || r.problemAt(r.table.Columns[0].Pos.Line) {
		return false
	}
	optional := slices.Clone(r.optional)
	if strangers := r.strangers(); r.complete() {
		for _, c := range strangers {
			optional = append(optional, c.Text)
			r.doubts = append(r.doubts, Doubt{Pos: c.Pos, Severity: Remark, Says: "the column " + table.Quote(c.Text) + " is not used"})
		}
	}
	r.problems = append(r.problems, r.table.Want(r.required, optional)...)
	return r.complete()
}

// problemAt says whether a line has been complained of.
func (r *rowsReader) problemAt(line int) bool {
	return slices.ContainsFunc(r.problems, func(p *table.Problem) bool { return p.Pos.Line == line })
}

// complete says whether all required columns are there.
func (r *rowsReader) complete() bool {
	for _, name := range r.required {
		if _, ok := r.table.Column(name); !ok {
			return false
		}
	}
	return true
}

// strangers are the columns that nobody asks for and that are like none of the
// known ones: a photo's number, a time. A column that is like a known one is
// mistyped instead.
func (r *rowsReader) strangers() []table.Cell {
	known := slices.Concat(r.required, r.optional)
	var out []table.Cell
	for _, c := range r.table.Columns {
		word := c.Text // without a unit: "x (mm)" is x
		if i := strings.IndexAny(word, " ([{"); i >= 0 {
			word = word[:i]
		}
		_, near := table.Nearest(c.Text, known)
		if c.Text != "" && !near && !slices.Contains(known, word) {
			out = append(out, c)
		}
	}
	return out
}

// printable checks that names can be shown. It is false where one is no name.
func (r *rowsReader) printable(names ...table.Cell) bool {
	for _, c := range names {
		if strings.IndexFunc(c.Text, func(c rune) bool { return !unicode.IsPrint(c) }) >= 0 {
			r.complain(c, "", "the name "+table.Quote(c.Text)+" holds a line break or another character that cannot be printed", "write it again by hand")
			return false
		}
	}
	return true
}

// length reads a length; a blank cell is one that was not given.
func (r *rowsReader) length(c table.Cell, field string) Coordinate {
	out := Coordinate{Text: c.Text, Pos: c.Pos, Given: c.Text != ""}
	if !out.Given {
		return out
	}
	value, err := length.Parse(c.Text, r.file.Unit, r.table.DecimalComma())
	r.mistake(c, field, err)
	out.Value = value
	return out
}

// leaveBlank is what length.Parse tells the writer of a cell that may be blank.
const leaveBlank = "leave the cell blank if it was not measured"

// needed reads a length that the row is nothing without; missing says what it
// is. ok is false where there is none.
func (r *rowsReader) needed(c table.Cell, field, missing string) (out Coordinate, ok bool) {
	const mend = "write it, or take the row out"
	before := len(r.problems)
	out = r.length(c, field)
	if !out.Given {
		r.complain(c, field, missing+" is missing", mend)
	}
	for _, p := range r.problems[before:] {
		if p.Mend == leaveBlank {
			p.Mend = mend
		}
	}
	return out, len(r.problems) == before
}

// limit is the row's own limit, or else the file's.
func (r *rowsReader) limit(row table.Row) length.Limit {
	within := r.cell(row, "within")
	if within.Text == "" {
		return r.file.Within
	}
	limit, err := length.ParseLimit(within.Text, r.file.Unit, r.table.DecimalComma())
	r.mistake(within, "within", err)
	return limit
}

// mistake passes a length's mistake on, with its place.
func (r *rowsReader) mistake(c table.Cell, field string, err error) {
	var m *length.Mistake
	if errors.As(err, &m) {
		r.complain(c, field, m.What, m.Mend)
	}
}

// cell is the row's cell of a column; without that column it is empty and
// stands where the row starts.
func (r *rowsReader) cell(row table.Row, column string) table.Cell {
	i, _ := r.table.Column(column)
	return row.Cell(i)
}
