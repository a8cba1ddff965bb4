package survey

import (
	"fmt"

	"elbowroom/survey/table"
)

// pointsRequired and pointsOptional are the columns of a points file.
func pointsRequired() []string { return []string{"feature", "x", "y", "z"} }
func pointsOptional() []string { return []string{"mark", "within", "base", "note"} }

// pointsReader reads the rows of one points file.
type pointsReader struct {
	rowsReader
	points []Point
}

// row reads one row. With a problem in it, it is left out.
func (r *pointsReader) row(row table.Row) {
	before := len(r.problems)
	feature, mark, base := r.cell(row, "feature"), r.cell(row, "mark"), r.cell(row, "base")
	p := Point{
		Feature: feature.Text, Mark: mark.Text, Base: base.Text, Note: r.cell(row, "note").Text,
		Tip: r.file.Tip,
		Pos: row.Pos, FeaturePos: feature.Pos, MarkPos: mark.Pos, BasePos: base.Pos,
	}
	for i, name := range [3]string{"x", "y", "z"} {
		p.At[i] = r.length(r.cell(row, name), name)
	}
	p.Limit = r.limit(row)
	if !r.names(p, feature, mark, base) {
		p = Point{Pos: row.Pos}
	}
	if len(r.problems) > before {
		r.lose(p)
		return
	}
	r.points = append(r.points, p)
}

// names checks what the row says of itself. It is false where the names are none.
func (r *pointsReader) names(p Point, feature, mark, base table.Cell) bool {
	if !r.printable(feature, mark, base) {
		return false
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
