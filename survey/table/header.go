package table

import (
	"slices"
	"strings"
)

// headings are the columns of all kinds of readings. They only help to find the
// delimiter; a table may have other columns.
var headings = []string{
	"feature", "mark", "x", "y", "z", "within", "base", "note",
	"from", "to", "tape", "along", "probe", "toward",
}

const mendHeader = "name the columns in the first line, as in feature,mark,x,y,z"

// delimiters are what may separate columns; of equals, the first is taken.
var delimiters = []rune{',', ';', '\t'}

// declared is the delimiter that a first line such as sep=; declares, which some
// spreadsheets write and read.
func declared(line string) (rune, bool) {
	rest, ok := strings.CutPrefix(strings.ToLower(strings.Trim(trim(line), `"`)), "sep=")
	for _, d := range delimiters {
		if ok && rest == string(d) || ok && rest == "" && strings.HasSuffix(line, string(d)) {
			return d, true
		}
	}
	return 0, false
}

// delimiterOf finds the delimiter of a header: the one that gives the most known
// headings, and of those the one that gives the most cells.
func delimiterOf(lines []string) rune {
	best, most := delimiters[0], [2]int{}
	for _, d := range delimiters {
		r, bad := split(lines, d, len(lines[0]))
		if bad != nil { // to be reported once the delimiter is known
			r.pieces = roughly(lines[0], d)
		}
		score := [2]int{known(r.pieces), len(r.pieces)}
		if slices.Compare(score[:], most[:]) > 0 {
			best, most = d, score
		}
	}
	return best
}

// roughly splits a line at the delimiters outside quotes, whether or not its
// quotes are in order.
func roughly(line string, delimiter rune) []piece {
	var pieces []piece
	start, quoted := 0, false
	for i, r := range line + string(delimiter) {
		switch {
		case r == '"':
			quoted = !quoted
		case r == delimiter && (!quoted || i == len(line)):
			pieces = append(pieces, piece{text: trim(line[start:i])})
			start = i + 1
		}
	}
	return pieces
}

// known counts the cells that are known headings.
func known(pieces []piece) int {
	n := 0
	for _, p := range pieces {
		if slices.Contains(headings, strings.ToLower(p.text)) {
			n++
		}
	}
	return n
}

// header puts the record of the header into the table. It says whether there is
// sense in reading on.
func (p *parser) header(cells []Cell) bool {
	for len(cells) > 1 && cells[len(cells)-1].Text == "" {
		cells = cells[:len(cells)-1]
	}
	for i := range cells {
		cells[i].Text = strings.ToLower(cells[i].Text)
	}
	p.table.Columns = cells
	if len(cells) == 1 && separatedOtherwise(cells[0].Text) {
		p.add(cells[0].Pos, cells[0].Text, "the columns are not separated", "put a comma, a semicolon or a tab between them")
		return false
	}
	for i, c := range cells {
		first, _ := p.table.Column(c.Text)
		switch {
		case c.Text == "":
			p.add(c.Pos, "", "this column has no name", "name it, or take it out")
		case strings.Contains("+-.0123456789", c.Text[:1]):
			p.add(c.Pos, c.Text, Quote(c.Text)+" is not the name of a column", mendHeader)
			return false
		case first < i:
			p.add(c.Pos, c.Text, "the column "+c.Text+" is there twice", "keep one of them, or give it another name")
		}
	}
	return true
}

// separatedOtherwise says that a single heading is several, with something
// between them that separates no columns.
func separatedOtherwise(text string) bool {
	between := func(r rune) bool { return blank(r) || strings.ContainsRune("|:/", r) }
	return known(roughly(strings.Join(strings.FieldsFunc(text, between), ","), ',')) > 1
}
