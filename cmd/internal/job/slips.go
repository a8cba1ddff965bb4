package job

import (
	"strings"
	"unicode/utf8"

	"elbowroom/survey/table"
)

// tabs finds an indent made of tabs, anywhere.
func tabs(lines []line, at int) (finding, bool) {
	for _, l := range lines {
		blank := l.raw[:len(l.raw)-len(strings.TrimLeft(l.raw, " \t"))]
		if i := strings.Index(blank, "\t"); i >= 0 && !l.empty() {
			return finding{l.number, i + 1, "the line is indented with a tab", "indent with spaces"}, true
		}
	}
	return finding{}, false
}

// piece is a value on a line: the text from its first character to the end of
// the line, and its column.
type piece struct {
	text   string
	column int
	inside bool // in brackets
}

// pieces lists the values on a line: the one behind the key, and in brackets
// each that starts behind a bracket, a comma or a colon.
func (l line) pieces() []piece {
	if l.value == "" {
		return nil
	}
	out := []piece{{l.value, l.column, l.inside}}
	if !l.inside && l.value[0] != '[' && l.value[0] != '{' {
		return out
	}
	for i := 0; i < len(l.value)-1; i++ {
		if c := l.value[i]; !strings.ContainsRune("[{,", rune(c)) && !strings.HasPrefix(l.value[i:], ": ") {
			continue
		}
		rest := strings.TrimLeft(l.value[i+1:], " ")
		at := utf8.RuneCountInString(l.value) - utf8.RuneCountInString(rest)
		out = append(out, piece{rest, l.column + at, true})
	}
	return out
}

// quotes finds a quote that is not closed, or closed too early.
func quotes(lines []line, at int) (finding, bool) {
	for _, l := range near(lines, at) {
		for _, p := range l.pieces() {
			if p.text == "" || p.text[0] != '"' && p.text[0] != '\'' {
				continue
			}
			rest, closed := quoted(p.text)
			switch {
			case !closed:
				return finding{l.number, p.column, "the quote that opens here is not closed", "close it, or leave it out"}, true
			case rest != "" && rest[0] != ':' && !(p.inside && strings.ContainsAny(rest[:1], ",]}")):
				return finding{l.number, p.column, "text follows the closing quote: " + table.Quote(p.text), "leave the quotes out: a length needs none, and an inch mark may stand as it is"}, true
			}
		}
	}
	return finding{}, false
}

// quoted gives what follows a text in quotes. A doubled ' is part of the text.
func quoted(text string) (rest string, closed bool) {
	quote := text[:1]
	_, rest, closed = strings.Cut(text[1:], quote)
	for closed && quote == "'" && strings.HasPrefix(rest, quote) {
		_, rest, closed = strings.Cut(rest[1:], quote)
	}
	return strings.TrimSpace(rest), closed
}

// reserved finds a value that starts with a sign that YAML keeps for itself.
func reserved(lines []line, at int) (finding, bool) {
	for _, l := range near(lines, at) {
		for i, p := range l.pieces() {
			signs := "@`%&*!|>"
			if i == 0 {
				signs += "?,]}"
			}
			if p.text != "" && strings.ContainsAny(p.text[:1], signs) {
				return finding{l.number, p.column, "a value cannot start with " + p.text[:1], "put it in quotes, or write it without that sign"}, true
			}
		}
	}
	return finding{}, false
}

// unannounced finds a bracket that opens without a colon and a blank before it.
func unannounced(lines []line, at int) (finding, bool) {
	for _, l := range near(lines, at) {
		i := strings.IndexAny(l.key, "[{")
		if i <= 0 || l.inside {
			continue
		}
		key := strings.TrimRight(l.key[:i], ": ")
		return finding{l.number, l.start + utf8.RuneCountInString(l.key[:i]), "no colon and blank stand before this " + l.key[i:i+1], "write " + key + ": " + l.key[i:i+1]}, true
	}
	return finding{}, false
}

// bracket is one that stands open.
type bracket struct {
	sign         byte
	line, column int
}

// brackets finds one that is never closed, or closed twice. Only those at the
// start of a value count, and those within them: a title may hold brackets.
func brackets(lines []line, at int) (finding, bool) {
	var stack []bracket
	for _, l := range lines {
		if len(stack) > 0 && l.fresh() {
			break
		}
		text, column := l.body, l.start
		if len(stack) == 0 {
			text, column = l.value, l.column
			if text == "" || text[0] != '[' && text[0] != '{' {
				continue
			}
		}
		var found finding
		var bad bool
		if stack, found, bad = nested(stack, text, bracket{line: l.number, column: column}); bad {
			return found, true
		}
	}
	if len(stack) == 0 {
		return finding{}, false
	}
	o := stack[len(stack)-1]
	closing := map[byte]string{'[': "]", '{': "}"}[o.sign]
	return finding{o.line, o.column, "the " + string(o.sign) + " that opens here is not closed", "close it with " + closing}, true
}

// nested follows the brackets in a text that starts at a place.
func nested(stack []bracket, text string, from bracket) ([]bracket, finding, bool) {
	var quote byte
	for i := 0; i < len(text); i++ {
		c, column := text[i], from.column+utf8.RuneCountInString(text[:i])
		switch {
		case quote != 0:
			if c == quote {
				quote = 0
			}
		case (c == '"' || c == '\'') && startsScalar(text[:i]):
			quote = c
		case c == '[' || c == '{':
			stack = append(stack, bracket{c, from.line, column})
		case c != ']' && c != '}':
		case len(stack) == 0:
			return nil, finding{from.line, column, "nothing is open that this " + string(c) + " could close", "take it out"}, true
		case c-2 != stack[len(stack)-1].sign: // ] is [ + 2, } is { + 2
			o := stack[len(stack)-1]
			return nil, finding{from.line, column, "a " + string(c) + " cannot close the " + string(o.sign) + " before it", "write " + string(o.sign+2)}, true
		default:
			stack = stack[:len(stack)-1]
		}
	}
	return stack, finding{}, false
}

// startsScalar says whether a quote behind before opens a quoted text: one
// behind a number is an inch mark.
func startsScalar(before string) bool {
	before = strings.TrimRight(before, " ")
	return before == "" || strings.ContainsAny(before[len(before)-1:], "[{,:-")
}

// indents finds a line that is indented like none of those around it.
func indents(lines []line, at int) (finding, bool) {
	var levels []int
	var above line
	for _, l := range lines[:min(len(lines), at+1)] {
		if l.empty() || l.inside {
			continue
		}
		if len(levels) == 0 {
			levels = append(levels, l.indent)
		}
		deeper := l.indent > levels[len(levels)-1]
		for len(levels) > 1 && l.indent < levels[len(levels)-1] {
			levels = levels[:len(levels)-1]
		}
		switch {
		case l.indent == levels[len(levels)-1]:
		case !deeper:
			return finding{l.number, l.indent + 1, "the line is indented like none above it", "give it the same indent as its neighbours"}, true
		case above.value != "":
			return finding{l.number, l.indent + 1, "the line is indented deeper than the one above, which has a value already", "give it the same indent as its neighbours"}, true
		default:
			levels = append(levels, l.indent)
		}
		if l.start-1 > l.indent { // what stands behind a dash is a level of its own
			levels = append(levels, l.start-1)
		}
		above = l
	}
	return finding{}, false
}

// colons finds a line without its colon, a colon without its blank, and a
// value with a colon in it.
func colons(lines []line, at int) (finding, bool) {
	for _, l := range near(lines, at) {
		i := strings.IndexByte(l.body, ':')
		switch {
		case l.empty() || l.inside || strings.ContainsAny(l.body[:1], "[{\"']}"):
		case i > 0 && l.key == "":
			column := l.start + utf8.RuneCountInString(l.body[:i])
			return finding{l.number, column, "no blank stands behind the colon of " + table.Quote(l.body), "write " + table.Quote(l.body[:i]+": "+l.body[i+1:])}, true
		case l.key == "" && l.wantsKey(lines):
			return finding{l.number, l.start, "no colon stands in " + table.Quote(l.body), "write a key, a colon and its value, as in height: 5"}, true
		case strings.Contains(l.value, ": ") && !strings.ContainsAny(l.value[:1], "[{\"'"):
			return finding{l.number, l.column, "the value holds a colon: " + table.Quote(l.value), "put it in quotes"}, true
		}
	}
	return finding{}, false
}

// wantsKey says that a line without a key should have one: it is no item of a
// list, or one that the line below goes on with keys.
func (l line) wantsKey(lines []line) bool {
	if l.start == l.indent+1 {
		return true
	}
	for _, below := range lines[l.number:] {
		if !below.empty() {
			return below.key != "" && below.indent == l.start-1
		}
	}
	return false
}
