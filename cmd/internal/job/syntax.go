package job

import (
	"errors"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml"

	"elbowroom/survey/table"
)

// largestJob is the most bytes that a job file may have. A job with every key is
// about 5 kB; reading takes time with the square of the size.
const largestJob = 1 << 18

// deepest is how many brackets and dashes may stand open; a job has four.
const deepest = 50

// deep says whether more than deepest brackets or dashes stand open.
func deep(text string) bool {
	open := 0
	for i := 0; i < len(text); i++ {
		switch text[i] {
		case '[', '{':
			open++
		case ']', '}':
			open = max(0, open-1)
		}
		if open > deepest {
			return true
		}
	}
	return strings.Contains(text, strings.Repeat("- ", deepest))
}

// clean takes off a byte-order mark and makes every line end alike. A file that
// is no text is a problem.
func clean(file string, data []byte) (string, *table.Problem) {
	if !utf8.Valid(data) {
		return "", &table.Problem{Pos: table.Pos{File: file}, What: "this is not plain text in UTF-8", Mend: "save it as text again, with the encoding UTF-8"}
	}
	if len(data) > largestJob {
		return "", &table.Problem{Pos: table.Pos{File: file}, What: "this is too large for a job", Mend: "put the readings into files of their own, and name those under readings:"}
	}
	text := strings.TrimPrefix(string(data), "\ufeff")
	if deep(text) {
		return "", &table.Problem{Pos: table.Pos{File: file}, What: "more than 50 brackets stand open, one within the other", Mend: "close each [ with ] and each { with }"}
	}
	return strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text), nil
}

// finding is what is wrong with a line, at a column from 1.
type finding struct {
	line, column int
	what, mend   string
}

// diagnose words a syntax error. The parser knows where it got stuck, not what
// the writer did; so the usual slips are looked for, in the line where it got
// stuck first, then in those before it, then in the one after.
func diagnose(file, text string, err error) *table.Problem {
	lines := split(text)
	at := min(max(1, stuck(err)), len(lines))
	f := finding{at, 1, "this line cannot be read as it stands: " + table.Quote(lines[at-1].raw), "check its indent, its colon, its quotes and brackets"}
	for _, look := range []func(lines []line, at int) (finding, bool){tabs, quotes, reserved, unannounced, brackets, indents, colons} {
		if found, ok := look(lines, at); ok {
			f = found
			break
		}
	}
	return &table.Problem{Pos: table.Pos{File: file, Line: f.line, Column: f.column}, What: f.what, Mend: f.mend}
}

// stuck is the line where the parser got stuck; 0 where it does not say.
func stuck(err error) int {
	var s *yaml.SyntaxError
	if errors.As(err, &s) && s.Token != nil && s.Token.Position != nil {
		return s.Token.Position.Line
	}
	return 0
}

// line is a line of a job file, taken apart.
type line struct {
	number     int
	raw        string
	indent     int    // blanks before the first character
	body       string // without indent, dashes of lists, and comment
	start      int    // column of the body
	key, value string // key is blank where there is no colon
	column     int    // of the value
	inside     bool   // the line stands in brackets that another opened
}

func split(text string) []line {
	var lines []line
	var stack []bracket
	for i, raw := range strings.Split(text, "\n") {
		l := line{number: i + 1, raw: raw}
		body := strings.TrimLeft(raw, " ")
		l.indent = len(raw) - len(body)
		for strings.HasPrefix(body, "- ") {
			body = strings.TrimLeft(body[2:], " ")
		}
		l.start = utf8.RuneCountInString(raw) - utf8.RuneCountInString(body) + 1
		l.body = strings.TrimRight(body[:comment(body)], " \t")
		l.value, l.column = l.body, l.start
		if c := colon(l.body); c >= 0 && !strings.ContainsAny(l.body[:1], "{[\"'") {
			l.key = l.body[:c]
			l.value = strings.TrimLeft(l.body[c+1:], " ")
			l.column = l.start + utf8.RuneCountInString(l.body) - utf8.RuneCountInString(l.value)
		}
		if l.inside = len(stack) > 0 && !l.fresh(); l.inside {
			stack, _, _ = nested(stack, l.body, bracket{})
		} else {
			stack = nil
			if l.value != "" && (l.value[0] == '[' || l.value[0] == '{') {
				stack, _, _ = nested(nil, l.value, bracket{})
			}
		}
		lines = append(lines, l)
	}
	return lines
}

// comment is where a comment starts: at a # at the start or after a blank.
func comment(body string) int {
	for i := range body {
		if body[i] == '#' && (i == 0 || body[i-1] == ' ' || body[i-1] == '\t') {
			return i
		}
	}
	return len(body)
}

// colon is where a key ends: at a colon with a blank or nothing behind it.
func colon(body string) int {
	if strings.HasSuffix(body, ":") && !strings.Contains(body, ": ") {
		return len(body) - 1
	}
	return strings.Index(body, ": ")
}

func (l line) empty() bool { return l.body == "" }

// fresh says that the line starts a key of the job itself, so that no bracket
// from above can be meant to stand open.
func (l line) fresh() bool { return l.indent == 0 && l.key != "" }

// near lists the lines to look at: that where the parser got stuck, the two
// with something in them before it, and the one behind it.
func near(lines []line, at int) []line {
	out := []line{lines[at-1]}
	for i, n := at-2, 0; i >= 0 && n < 2; i-- {
		if !lines[i].empty() {
			out, n = append(out, lines[i]), n+1
		}
	}
	for i := at; i < len(lines); i++ {
		if !lines[i].empty() {
			return append(out, lines[i])
		}
	}
	return out
}
