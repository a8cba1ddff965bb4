package table

// Cell is one cell of a table: its text with outer blanks taken off, and where
// it stands. A cell that its row is too short to have is empty, with the place
// where it would stand.
type Cell struct {
	Text string
	Pos  Pos
}

// Row is one row of data: a cell for each column of the header, in the header's
// order, and the line that it starts on.
type Row struct {
	Cells []Cell
	Pos   Pos
}

// Cell is the row's cell in column i, as Table.Column gives it. For a column
// that the row has not, it is an empty cell at the row's place.
func (r Row) Cell(i int) Cell {
	if i < 0 || i >= len(r.Cells) {
		return Cell{Pos: r.Pos}
	}
	return r.Cells[i]
}

// Table is a CSV file as read: its columns (lower case, as the header names
// them, with their places), its delimiter, and its rows. Where there is no header
// it has neither columns nor rows, and its delimiter is 0.
type Table struct {
	File      string
	Columns   []Cell
	Delimiter rune
	Rows      []Row
}

// Column finds a column by its name in lower case. Of two with one name it is
// the first.
func (t Table) Column(name string) (int, bool) {
	for i, c := range t.Columns {
		if c.Text == name {
			return i, true
		}
	}
	return -1, false
}

// DecimalComma says that a comma is a decimal point in this table, since it
// does not separate columns: those are separated by semicolons.
func (t Table) DecimalComma() bool { return t.Delimiter == ';' }
