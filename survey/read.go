package survey

import (
	"path/filepath"
	"strings"

	"elbowroom/survey/length"
	"elbowroom/survey/table"
)

// Kind tells the kinds of readings files apart.
type Kind int

// The kinds. Points: a mark's coordinates a row. Tape: distances between two
// marks. Depth: a probe from a straightedge. Scan: loose points by the million.
const (
	Points Kind = iota
	Tapes
	Depths
	Scan
)

var kindNames = [...]string{"points", "tape", "depth", "scan"}

// String is the kind's name.
func (k Kind) String() string { return kindNames[k] }

// File is a readings file as handed to Read.
type File struct {
	Name string // as it is to stand in complaints
	Data []byte
	// Unit is that of bare numbers; the zero Unit is the millimetre.
	Unit length.Unit
	// Within is the limit of a reading that does not state its own; the zero
	// Limit is exact.
	Within length.Limit
	// Feature is what a scan is of; the other kinds name their features row by
	// row. Pos is where the job names the file.
	Feature string
	// Tip is the radius of the ball that the points of a file were touched with,
	// mm; their coordinates are those of its centre.
	Tip float64
	Pos table.Pos
}

// Unread is a file that was recognised but is not used yet, with the marks and
// features that it names.
type Unread struct {
	File     string
	Kind     Kind
	Marks    []string
	Features []string
	Pos      table.Pos // where the job names the file
}

// Read reads files of readings; which kind each is follows from its name and
// header (KindOf). The error is table.Problems: all that is wrong with all
// files. The readings that could be read come back with it all the same, so
// that they can be held against the job (Validate).
func Read(files ...File) (Readings, error) {
	var r Readings
	var problems table.Problems
	for _, f := range files {
		problems = append(problems, r.add(f)...)
	}
	r.Doubts = append(r.Doubts, r.alike()...)
	r.Doubts = append(r.Doubts, r.reach()...)
	r.Doubts = append(r.Doubts, r.once()...)
	return r, problems.Err()
}

// alike doubts marks whose names differ only in case.
func (r Readings) alike() []Doubt {
	var doubts []Doubt
	first := map[string]string{}
	doubted := map[string]bool{}
	for _, n := range r.named() {
		lower := strings.ToLower(n.name)
		other, ok := first[lower]
		if !ok {
			first[lower] = n.name
		} else if other != n.name && !doubted[n.name] {
			doubted[n.name] = true
			doubts = append(doubts, Doubt{Pos: n.pos, Weight: alikeWeight,
				Says: "the marks " + other + " and " + n.name + " differ only in case: are they one?", Suggests: other})
		}
	}
	return doubts
}

// alikeWeight puts two marks that may be one before doubts about shapes, and
// behind readings that cannot both be right.
const alikeWeight = 5

// named is a mark's name where a reading names it.
type named struct {
	name string
	pos  table.Pos
}

// named lists where the readings name marks: the points, then the tapes, then
// the depths, each in the order of the rows.
func (r Readings) named() []named {
	var all []named
	for _, p := range r.Points {
		all = append(all, named{p.Mark, p.MarkPos})
	}
	for _, t := range r.Tapes {
		all = append(all, named{t.From, t.FromPos}, named{t.To, t.ToPos})
	}
	for _, d := range r.Depths {
		all = append(all, named{d.Mark, d.MarkPos}, named{d.From, d.FromPos}, named{d.To, d.ToPos})
	}
	return all
}

func (r *Readings) add(f File) table.Problems {
	kind := KindOf(f.Name, f.Data)
	if kind == Scan {
		r.Unread = append(r.Unread, Unread{File: f.Name, Kind: Scan, Features: []string{f.Feature}, Pos: f.Pos})
		return nil
	}
	t, problems := table.Parse(f.Name, f.Data)
	rows := rowsReader{file: f, table: t, problems: problems}
	switch kind {
	case Tapes:
		rows.required, rows.optional = tapeRequired(), tapeOptional()
		tape := tapeReader{rowsReader: rows}
		tape.read(tape.row)
		rows, r.Tapes = tape.rowsReader, append(r.Tapes, tape.tapes...)
	case Depths:
		rows.required, rows.optional = depthRequired(), depthOptional()
		depth := depthReader{rowsReader: rows}
		depth.read(depth.row)
		rows, r.Depths = depth.rowsReader, append(r.Depths, depth.depths...)
	default:
		rows.required, rows.optional = pointsRequired(), pointsOptional()
		points := pointsReader{rowsReader: rows}
		points.read(points.row)
		rows, r.Points = points.rowsReader, append(r.Points, points.points...)
	}
	r.LeftOut = append(r.LeftOut, rows.leftOut...)
	r.Doubts = append(r.Doubts, rows.doubts...)
	return rows.problems
}

// KindOf tells what kind of readings a file holds, from its name and its first
// bytes; the header line is enough. What is none of the others counts as
// points.
func KindOf(name string, head []byte) Kind {
	switch strings.ToLower(filepath.Ext(name)) {
	case ".ply", ".xyz", ".gz":
		return Scan
	}
	has := map[string]bool{}
	for _, column := range headings(head) {
		has[column] = true
	}
	switch {
	case has["along"] || has["probe"]:
		return Depths
	case has["tape"] || has["from"] && has["to"]:
		return Tapes
	case len(has) == 3 && has["x"] && has["y"] && has["z"]:
		return Scan
	}
	return Points
}

// headings are the columns of the first line that is neither blank nor a
// comment, in lower case.
func headings(head []byte) []string {
	text := strings.TrimPrefix(string(head), "\ufeff")
	for _, line := range strings.FieldsFunc(text, func(r rune) bool { return r == '\n' || r == '\r' }) {
		line = strings.ToLower(strings.TrimSpace(line))
		if line == "" || line[0] == '#' {
			continue
		}
		columns := strings.FieldsFunc(line, func(r rune) bool { return r == ',' || r == ';' || r == '\t' })
		for i, c := range columns {
			columns[i] = strings.Trim(c, "\" ")
		}
		return columns
	}
	return nil
}
