package survey

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"elbowroom/survey/length"
	"elbowroom/survey/table"
)

// pointsRequired and pointsOptional are the columns of a points file.
func pointsRequired() []string { return []string{"feature", "x", "y", "z"} }
func pointsOptional() []string { return []string{"mark", "within", "base", "note"} }

// pointsReader reads the rows of one points file.
type pointsReader struct {
	file     File
	table    table.Table
	points   []Point
	leftOut  []Point
	doubts   []Doubt
	problems table.Problems
}

func (r *pointsReader) read() {
	for _, p := range r.problems { // rows lost with all their names
		r.leftOut = append(r.leftOut, Point{Pos: p.Pos})
	}
	if !r.header() { // all rows are lost
		r.leftOut = append(r.leftOut, Point{Pos: table.Pos{File: r.file.Name}})
		return
	}
	for _, row := range r.table.Rows {
		r.row(row)
	}
}

func (r *pointsReader) complain(at table.Cell, field, what, mend string) {
	r.problems.Add(&table.Problem{Pos: at.Pos, Field: field, Value: at.Text, What: what, Mend: mend})
}

// header checks the columns. It is false when there is no sense in reading on.
func (r *pointsReader) header() bool {
	if len(r.table.Columns) == 0 || r.problemAt(r.table.Columns[0].Pos.Line) {
		return false
	}
	optional := pointsOptional()
	if strangers := r.strangers(); r.complete() {
		for _, c := range strangers {
			optional = append(optional, c.Text)
			r.doubts = append(r.doubts, Doubt{Pos: c.Pos, Says: "the column " + table.Quote(c.Text) + " is not used"})
		}
	}
	r.problems = append(r.problems, r.table.Want(pointsRequired(), optional)...)
	return r.complete()
}

// problemAt says whether a line has been complained of.
func (r *pointsReader) problemAt(line int) bool {
	return slices.ContainsFunc(r.problems, func(p *table.Problem) bool { return p.Pos.Line == line })
}

// complete says whether all required columns are there.
func (r *pointsReader) complete() bool {
	for _, name := range pointsRequired() {
		if _, ok := r.table.Column(name); !ok {
			return false
		}
	}
	return true
}

// strangers are the columns that nobody asks for and that are like none of the
// known ones: a photo's number, a time. A column that is like a known one is
// mistyped instead.
func (r *pointsReader) strangers() []table.Cell {
	known := append(pointsRequired(), pointsOptional()...)
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

// row reads one row. With a problem in it, it is left out.
func (r *pointsReader) row(row table.Row) {
	before := len(r.problems)
	feature, mark, base := r.cell(row, "feature"), r.cell(row, "mark"), r.cell(row, "base")
	p := Point{
		Feature: feature.Text, Mark: mark.Text, Base: base.Text, Note: r.cell(row, "note").Text,
		Limit: r.file.Within,
		Pos:   row.Pos, FeaturePos: feature.Pos, MarkPos: mark.Pos, BasePos: base.Pos,
	}
	for i, name := range [3]string{"x", "y", "z"} {
		p.At[i] = r.coordinate(r.cell(row, name), name)
	}
	if within := r.cell(row, "within"); within.Text != "" {
		limit, err := length.ParseLimit(within.Text, r.file.Unit, r.table.DecimalComma())
		r.mistake(within, "within", err)
		p.Limit = limit
	}
	if !r.names(p, feature, mark, base) {
		p = Point{Pos: row.Pos}
	}
	if len(r.problems) > before {
		r.leftOut = append(r.leftOut, p)
		return
	}
	r.points = append(r.points, p)
}

// names checks what the row says of itself. It is false where the names are none.
func (r *pointsReader) names(p Point, feature, mark, base table.Cell) bool {
	for _, c := range []table.Cell{feature, mark, base} {
		if strings.IndexFunc(c.Text, func(c rune) bool { return !unicode.IsPrint(c) }) >= 0 {
			r.complain(c, "", "the name "+table.Quote(c.Text)+" holds a line break or another character that cannot be printed", "write it again by hand")
			return false
		}
	}
	if p.Mark == "" && p.Feature == "" {
		r.complain(feature, "feature", "the row names neither a feature nor a mark", "write which feature was touched, or name the mark if it is only a reference")
		return true
	}
	if p.Mark == "" && !(p.At[0].Given && p.At[1].Given && p.At[2].Given) {
		r.complain(feature, "mark", "a coordinate is blank and the mark has no name, so no tape can find it", "name the mark, or fill in x, y and z")
	}
	if base.Text != "" && base.Text == p.Mark {
		r.complain(base, "base", fmt.Sprintf("%s is measured from itself", p.Mark), "name the mark that x, y and z were taken from, or leave base blank for the datum")
	}
	return true
}

func (r *pointsReader) coordinate(c table.Cell, name string) Coordinate {
	out := Coordinate{Text: c.Text, Pos: c.Pos, Given: c.Text != ""}
	if !out.Given {
		return out
	}
	value, err := length.Parse(c.Text, r.file.Unit, r.table.DecimalComma())
	r.mistake(c, name, err)
	out.Value = value
	return out
}

// mistake passes a length's mistake on, with its place.
func (r *pointsReader) mistake(c table.Cell, field string, err error) {
	var m *length.Mistake
	if errors.As(err, &m) {
		r.complain(c, field, m.What, m.Mend)
	}
}

// cell is the row's cell of a column; without that column it is empty and
// stands where the row starts.
func (r *pointsReader) cell(row table.Row, column string) table.Cell {
	i, _ := r.table.Column(column)
	return row.Cell(i)
}
