package table

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Parse reads a CSV text. The delimiter (comma, semicolon or tab) is found from
// the header line; # starts a comment line; a byte-order mark, CRLF, and an
// inch mark in an unquoted cell are fine. A row that cannot be read is left out
// and reported, and reading goes on. Rows without any text are no rows.
//
// Where the last column is note, what a row has beyond it belongs to the note,
// unless the row may have decimal commas instead. Text that is not UTF-8 is not
// guessed at: in other encodings one byte stands for ¼ here and for Œ there.
func Parse(file string, data []byte) (Table, Problems) {
	p := parser{table: Table{File: file}}
	if what, mend := notText(data); what != "" {
		p.problems.Add(&Problem{Pos: Pos{File: file}, What: what, Mend: mend})
		return p.table, p.problems
	}
	text := strings.TrimPrefix(string(data), "\ufeff")
	text = strings.ReplaceAll(text, "\r\n", "\n")
	p.lines = strings.Split(strings.ReplaceAll(text, "\r", "\n"), "\n")
	if next, ok := p.readHeader(); ok {
		p.readRows(next)
	}
	p.countForeign()
	return p.table, p.problems
}

// notText says what a file is that is no text at all, by its first bytes.
func notText(data []byte) (what, mend string) {
	const save = "save it as CSV UTF-8 and read that"
	for _, start := range []string{"PK\x03\x04", "\xd0\xcf\x11\xe0"} {
		if bytes.HasPrefix(data, []byte(start)) {
			return "this is a spreadsheet's own file, not CSV", save
		}
	}
	for _, start := range []string{"\xff\xfe", "\xfe\xff"} {
		if bytes.HasPrefix(data, []byte(start)) {
			return "this is text in UTF-16", save
		}
	}
	if bytes.IndexByte(data[:min(len(data), 4)], 0) >= 0 {
		return "this is not text, or is text in UTF-16", save
	}
	return "", ""
}

type parser struct {
	lines    []string
	table    Table
	problems Problems
	foreign  *Problem // the first row that is not UTF-8
	foreigns int      // how many there are
}

func (p *parser) add(at Pos, value, what, mend string) *Problem {
	q := &Problem{Pos: at, Value: value, What: what, Mend: mend}
	p.problems.Add(q)
	return q
}

// pos is a place in the i-th line.
func (p *parser) pos(i, column int) Pos {
	return Pos{File: p.table.File, Line: i + 1, Column: column}
}

// skipped says that the i-th line is a comment, or has nothing but delimiters.
func (p *parser) skipped(i int) bool {
	d := p.table.Delimiter
	line := strings.TrimLeftFunc(p.lines[i], func(r rune) bool { return blank(r) && r != d })
	return strings.HasPrefix(line, "#") || strings.TrimLeftFunc(line, func(r rune) bool {
		return blank(r) || r == d || d == 0 && slices.Contains(delimiters, r)
	}) == ""
}

// readHeader reads the header and gives the line after it. It is false if there
// is no sense in reading on.
func (p *parser) readHeader() (next int, ok bool) {
	i, first := 0, true
	for ; i < len(p.lines); i++ {
		if d, ok := declared(p.lines[i]); ok && first {
			p.table.Delimiter, first = d, false
		} else if !p.skipped(i) {
			break
		}
	}
	if i == len(p.lines) {
		p.add(p.pos(0, 1), "", "there is no header", mendHeader)
		return 0, false
	}
	if p.table.Delimiter == 0 {
		p.table.Delimiter = delimiterOf(p.lines[i:])
	}
	r, ok := p.record(i, len(p.lines[i]))
	return i + r.lines, ok && p.header(p.cells(r, i))
}

// readRows reads the rows from the i-th line on.
func (p *parser) readRows(i int) {
	for i < len(p.lines) {
		if p.skipped(i) {
			i++
			continue
		}
		r, ok := p.record(i, len(p.table.Columns))
		if ok {
			p.row(r, i)
		}
		i += r.lines
	}
}

// record takes apart the row that starts in the i-th line, or reports why it
// cannot be; then reading goes on at the record's lines all the same.
func (p *parser) record(i, most int) (record, bool) {
	if !p.readable(i) {
		return record{lines: 1}, false
	}
	r, bad := split(p.lines[i:], p.table.Delimiter, most)
	if bad != nil {
		p.add(p.pos(i+bad.line, bad.column), "", bad.what, bad.mend)
		return record{lines: 1}, false
	}
	for j := i + 1; j < i+r.lines; j++ {
		if !p.readable(j) {
			return r, false
		}
	}
	return r, true
}

// readable says that the i-th line is all text, or reports the first place in it
// that is not. Lines that are not UTF-8 have one cause and one mend, so they are
// one problem.
func (p *parser) readable(i int) bool {
	column := 0
	for at, r := range p.lines[i] {
		column++
		_, size := utf8.DecodeRuneInString(p.lines[i][at:])
		switch {
		case r == utf8.RuneError && size == 1:
			if p.foreigns++; p.foreign == nil {
				p.foreign = p.add(p.pos(i, column), "", "", "save the file as CSV UTF-8 and read it again")
			}
			return false
		case unicode.IsControl(r) && !blank(r):
			p.add(p.pos(i, column), "", fmt.Sprintf("a character that does not print stands here (U+%04X)", r), "delete it")
			return false
		}
	}
	return true
}

// countForeign words the problem of the rows that are not UTF-8.
func (p *parser) countForeign() {
	switch {
	case p.foreigns == 1:
		p.foreign.What = "this character is not UTF-8"
	case p.foreigns > 1:
		p.foreign.What = fmt.Sprintf("this character is not UTF-8, and %d more rows have such", p.foreigns-1)
	}
}

// cells gives the cells of a record that starts in the i-th line.
func (p *parser) cells(r record, i int) []Cell {
	cells := make([]Cell, len(r.pieces))
	for j, q := range r.pieces {
		cells[j] = Cell{Text: q.text, Pos: p.pos(i+q.line, q.column)}
	}
	return cells
}

// row puts a record that starts in the i-th line into the table, with as many
// cells as there are columns.
func (p *parser) row(r record, i int) {
	cells, columns := p.cells(r, i), len(p.table.Columns)
	for len(cells) > columns && cells[len(cells)-1].Text == "" {
		cells = cells[:len(cells)-1]
	}
	if len(cells) > columns {
		note, ok := p.note(r.pieces[:len(cells)], p.lines[i])
		if !ok {
			p.tooMany(cells)
			return
		}
		cells[columns-1].Text = note
		cells = cells[:columns]
	}
	for len(cells) < columns {
		cells = append(cells, Cell{Pos: p.pos(i+r.lines-1, r.column)})
	}
	for _, c := range cells {
		if c.Text != "" {
			p.table.Rows = append(p.table.Rows, Row{Cells: cells, Pos: p.pos(i, 1)})
			return
		}
	}
}

// tooMany reports a row with more cells than the header names.
func (p *parser) tooMany(cells []Cell) {
	columns := len(p.table.Columns)
	mend := map[rune]string{
		',':  "put quotes around a cell that holds a comma, and write decimals with a point",
		';':  "put quotes around a cell that holds a semicolon",
		'\t': "take the surplus tabs out",
	}[p.table.Delimiter]
	what := fmt.Sprintf("this row has %d cells, the header names %d", len(cells), columns)
	p.add(cells[columns].Pos, cells[columns].Text, what, mend)
}

// Two cells that may be one number with a decimal comma: 12,5 or 12,5 mm.
var (
	beforeComma = regexp.MustCompile(`^[-+−]?\d+$`)
	afterComma  = regexp.MustCompile(`^\d+(?: *[a-z'"]+\.?)?$`)
)

// note gives the text of a last cell, the note, that goes on over the row's
// surplus cells. It is false where the surplus may come from elsewhere: the last
// column is not the note, it is quoted or blank, or a decimal comma may have
// shifted the cells before it.
func (p *parser) note(pieces []piece, line string) (string, bool) {
	last := len(p.table.Columns) - 1
	if p.table.Columns[last].Text != "note" || pieces[last].text == "" {
		return "", false
	}
	for i, q := range pieces {
		if i >= last && (q.quoted || q.line > 0) {
			return "", false
		}
		if i > 0 && i <= last && p.table.Delimiter == ',' &&
			beforeComma.MatchString(pieces[i-1].text) && afterComma.MatchString(q.text) {
			return "", false
		}
	}
	return trim(line[pieces[last].start:pieces[len(pieces)-1].end]), true
}
