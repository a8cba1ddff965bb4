package survey

import "elbowroom/survey/table"

// tapeRequired and tapeOptional are the columns of a tape file.
func tapeRequired() []string { return []string{"from", "to", "tape"} }
func tapeOptional() []string { return []string{"within", "note"} }

// tapeReader reads the rows of one tape file.
type tapeReader struct {
	rowsReader
	tapes []Tape
}

// row reads one row. With a problem in it, it is left out.
func (r *tapeReader) row(row table.Row) {
	before := len(r.problems)
	from, to := r.cell(row, "from"), r.cell(row, "to")
	t := Tape{
		From: from.Text, To: to.Text, Note: r.cell(row, "note").Text,
		Pos: row.Pos, FromPos: from.Pos, ToPos: to.Pos,
	}
	readable := r.ends(from, to, "tape")
	t.Length = r.distance(r.cell(row, "tape"))
	t.Limit = r.limit(row)
	switch {
	case len(r.problems) == before:
		r.tapes = append(r.tapes, t)
	case readable:
		r.lose(Point{Mark: t.From, Pos: t.Pos}, Point{Mark: t.To, Pos: t.Pos})
	default:
		r.lose(Point{Pos: t.Pos})
	}
}

// ends checks the two marks that a tape or a straightedge lies between. It is
// false where a name cannot be read.
func (r *rowsReader) ends(from, to table.Cell, tool string) bool {
	if !r.printable(from, to) {
		return false
	}
	if from.Text == "" {
		r.complain(from, "from", "the mark that the "+tool+" starts at is missing", "write its name, or take the row out")
	}
	if to.Text == "" {
		r.complain(to, "to", "the mark that the "+tool+" goes to is missing", "write its name, or take the row out")
	}
	if from.Text != "" && from.Text == to.Text {
		r.complain(to, "to", "the "+tool+" goes from "+from.Text+" to itself", "name the mark at its other end")
	}
	return true
}

// distance reads what the tape showed, which is more than nothing.
func (r *tapeReader) distance(c table.Cell) Coordinate {
	d, ok := r.needed(c, "tape", "the distance")
	switch {
	case ok && d.Value < 0:
		r.complain(c, "tape", table.Quote(c.Text)+" is below zero", "write it without the sign")
	case ok && d.Value == 0:
		r.complain(c, "tape", table.Quote(c.Text)+" is no distance between two marks", "write what the tape showed, or take the row out")
	}
	return d
}
