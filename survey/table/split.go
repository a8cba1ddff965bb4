package table

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// A piece is one cell as it stands in its row.
type piece struct {
	text       string // without quotes and outer blanks
	quoted     bool
	line       int // lines below the row's first
	column     int // of the text's first character or opening quote, from 1
	start, end int // bytes of its line that an unquoted cell takes
}

// A record is one row taken apart.
type record struct {
	pieces []piece
	lines  int // how many it takes
	column int // after the last character of the last line
}

// A fault is why a row cannot be taken apart, and where; line and column count
// as a piece's do.
type fault struct {
	line, column int
	what, mend   string
}

// mostLines is how many lines one row may run over. More is an opening quote
// whose mate is missing: nobody types 20 lines into a cell (no source). It also
// keeps the search for a missing mate short.
const mostLines = 20

const (
	notClosed  = "this quote is not closed on its line"
	textBehind = "there is text after the closing quote"
	mendQuote  = "close it on its line, or leave the quotes out; inside quotes an inch mark is written twice"
)

// A splitter takes one row apart.
type splitter struct {
	lines     []string // the row's first line and all after it
	delimiter rune

	line, at int // where reading stands: line, and byte in it
	column   int // of the character at that byte, from 1
	pieces   []piece
}

// split takes apart the row that starts at lines[0]. A cell is quoted if its
// first character is a quote; in any other cell a quote is data. most is how
// many cells a row may have that runs over several lines; in it, and in any of
// its lines that look like a row, the mate of a lost quote would hide a row, so
// then the quote counts as not closed.
func split(lines []string, delimiter rune, most int) (record, *fault) {
	s := splitter{lines: lines, delimiter: delimiter, column: 1}
	opened := fault{what: notClosed, mend: mendQuote}
	for more := true; more; {
		before := s.line
		bad := s.cell()
		if bad != nil {
			return record{}, bad
		}
		if p := s.pieces[len(s.pieces)-1]; s.line > before && opened.column == 0 {
			opened.line, opened.column = p.line, p.column
		}
		if more = s.peek() != end; more {
			s.next()
		}
	}
	if s.line > 0 && len(s.pieces) > most {
		return record{}, &opened
	}
	return record{pieces: s.pieces, lines: s.line + 1, column: s.column}, nil
}

// cell reads one cell, up to its delimiter or the line's end.
func (s *splitter) cell() *fault {
	p := piece{line: s.line, column: s.column, start: s.at}
	s.blanks()
	if s.peek() == '"' {
		p.quoted, p.column = true, s.column
		text, bad := s.inQuotes()
		if bad != nil {
			return bad
		}
		p.text = text
	} else {
		text := s.column
		s.toDelimiter()
		p.end = s.at
		if p.text = trim(s.lines[s.line][p.start:p.end]); p.text != "" {
			p.column = text
		}
	}
	s.pieces = append(s.pieces, p)
	return nil
}

// inQuotes reads a quoted cell from its opening quote up to the delimiter or
// the line's end after its closing one.
func (s *splitter) inQuotes() (string, *fault) {
	opened := fault{line: s.line, column: s.column, what: notClosed, mend: mendQuote}
	var b strings.Builder
	for s.next(); ; s.next() {
		r := s.peek()
		switch {
		case r == end && !s.nextLine(opened.line):
			return "", &opened
		case r == end:
			b.WriteByte('\n')
		case r != '"':
			b.WriteRune(r)
		case strings.HasPrefix(s.lines[s.line][s.at+1:], `"`):
			b.WriteByte('"')
			s.next()
		default:
			return s.closing(trim(b.String()), opened)
		}
	}
}

// closing steps over a closing quote and the blanks after it.
func (s *splitter) closing(text string, opened fault) (string, *fault) {
	if s.line > opened.line && s.looksLikeRow(s.lines[s.line][:s.at]) {
		return "", &opened
	}
	s.next()
	s.blanks()
	switch {
	case s.peek() == end || s.peek() == s.delimiter:
		return text, nil
	case s.line > opened.line:
		return "", &opened
	}
	return "", &fault{line: s.line, column: s.column, what: textBehind, mend: mendQuote}
}

// nextLine steps before the first character of the next line, if there is one
// that may belong to the cell that was opened in the given line.
func (s *splitter) nextLine(opened int) bool {
	if s.line > opened && s.looksLikeRow(s.lines[s.line]) || s.line+1 >= min(len(s.lines), mostLines) {
		return false
	}
	s.line, s.at, s.column = s.line+1, -1, 0
	return true
}

// looksLikeRow says that a line that goes on with a quoted cell may be a row of
// its own: it has two delimiters, as the shortest row of readings has.
func (s *splitter) looksLikeRow(line string) bool {
	return strings.Count(line, string(s.delimiter)) >= 2
}

// end is what peek gives at the end of a line.
const end rune = -1

// peek is the character where reading stands.
func (s *splitter) peek() rune {
	if s.at >= len(s.lines[s.line]) {
		return end
	}
	r, _ := utf8.DecodeRuneInString(s.lines[s.line][s.at:])
	return r
}

// next steps over one character; from -1 to the line's first.
func (s *splitter) next() {
	s.column++
	if s.at < 0 {
		s.at = 0
		return
	}
	_, size := utf8.DecodeRuneInString(s.lines[s.line][s.at:])
	s.at += size
}

// toDelimiter steps to the next delimiter or the line's end.
func (s *splitter) toDelimiter() {
	rest := s.lines[s.line][s.at:]
	if i := strings.IndexRune(rest, s.delimiter); i >= 0 {
		rest = rest[:i]
	}
	s.at += len(rest)
	s.column += utf8.RuneCountInString(rest)
}

func (s *splitter) blanks() {
	for r := s.peek(); r != end && r != s.delimiter && blank(r); r = s.peek() {
		s.next()
	}
}

// blank says that a character shows nothing: a space of any kind, or one of the
// marks without width that copying brings along.
func blank(r rune) bool {
	switch r {
	case '\u200b', '\u200e', '\u200f', '\u2060', '\ufeff':
		return true
	}
	return unicode.IsSpace(r)
}

func trim(s string) string { return strings.TrimFunc(s, blank) }
