package survey

import (
	"strings"

	"github.com/golang/geo/r3"

	"elbowroom/survey/table"
)

// depthRequired and depthOptional are the columns of a depth file.
func depthRequired() []string {
	return []string{"feature", "from", "to", "along", "probe", "toward"}
}
func depthOptional() []string { return []string{"mark", "within", "note"} }

// depthReader reads the rows of one depth file.
type depthReader struct {
	rowsReader
	depths []Depth
}

// row reads one row. With a problem in it, it is left out.
func (r *depthReader) row(row table.Row) {
	before := len(r.problems)
	feature, mark, from, to := r.cell(row, "feature"), r.cell(row, "mark"), r.cell(row, "from"), r.cell(row, "to")
	d := Depth{
		Feature: feature.Text, Mark: mark.Text, From: from.Text, To: to.Text, Note: r.cell(row, "note").Text,
		Pos: row.Pos, FeaturePos: feature.Pos, MarkPos: mark.Pos, FromPos: from.Pos, ToPos: to.Pos,
	}
	readable := r.printable(feature, mark) && r.ends(from, to, "straightedge")
	if readable {
		r.touched(d, feature, mark)
	}
	d.Along, _ = r.needed(r.cell(row, "along"), "along", "the distance along the straightedge")
	d.Probe = r.probe(r.cell(row, "probe"))
	d.Toward = r.toward(r.cell(row, "toward"))
	d.Limit = r.limit(row)
	switch {
	case len(r.problems) == before:
		r.depths = append(r.depths, d)
	case readable:
		r.lose(Point{Feature: d.Feature, Mark: d.Mark, FeaturePos: d.FeaturePos, Pos: d.Pos},
			Point{Mark: d.From, Pos: d.Pos}, Point{Mark: d.To, Pos: d.Pos})
	default:
		r.lose(Point{Pos: d.Pos})
	}
}

// touched checks what the probe is said to have touched.
func (r *depthReader) touched(d Depth, feature, mark table.Cell) {
	switch {
	case d.Feature == "" && d.Mark == "":
		r.complain(feature, "feature", "the row names neither a feature nor a mark", "write which feature the probe touched, or name the mark if it is only a reference")
	case d.Mark != "" && (d.Mark == d.From || d.Mark == d.To):
		r.complain(mark, "mark", d.Mark+" is an end of the straightedge that it is measured from", "give the spot that the probe touched a name of its own, or leave mark blank")
	}
}

// probe reads how far the probe went. Nothing is fine: the straightedge touched.
func (r *depthReader) probe(c table.Cell) Coordinate {
	d, ok := r.needed(c, "probe", "how far the probe went")
	if ok && d.Value < 0 {
		r.complain(c, "probe", table.Quote(c.Text)+" is below zero", "write it without the sign, and the other way round under toward")
	}
	return d
}

// ways are the directions that the cell toward may hold.
const ways = "write +x, -x, +y, -y, +z or -z"

// wayWords are words for the directions, facing the mounting face.
var wayWords = map[string]string{
	"right": "+x", "left": "-x", "up": "+y", "down": "-y", "out": "+z", "in": "-z",
}

// toward reads a direction along an axis.
func (r *depthReader) toward(c table.Cell) r3.Vector {
	word := strings.ToLower(strings.Join(strings.Fields(dashes.Replace(c.Text)), ""))
	v, known := map[string]r3.Vector{
		"+x": {X: 1}, "-x": {X: -1}, "+y": {Y: 1}, "-y": {Y: -1}, "+z": {Z: 1}, "-z": {Z: -1},
	}[word]
	if known {
		return v
	}
	meant, isWord := wayWords[word]
	switch {
	case word == "":
		r.complain(c, "toward", "the direction that the probe went is missing", ways)
	case strings.HasPrefix(word, "#"):
		r.complain(c, "toward", table.Quote(c.Text)+" is a spreadsheet's complaint, not a direction", "format the column as text and "+ways)
	case word == "x" || word == "y" || word == "z":
		r.complain(c, "toward", table.Quote(c.Text)+" has no sign", "write +"+word+" or -"+word)
	case word == "x+" || word == "y+" || word == "z+" || word == "x-" || word == "y-" || word == "z-":
		r.complain(c, "toward", table.Quote(c.Text)+" has its sign at the end", "write "+word[1:]+word[:1])
	case isWord:
		r.complain(c, "toward", table.Quote(c.Text)+" is not a direction", "write "+meant+" if facing the mounting face that is the way it went")
	default:
		r.complain(c, "toward", table.Quote(c.Text)+" is not a direction", ways)
	}
	return r3.Vector{}
}

// dashes turns what looks like a minus sign into one.
var dashes = strings.NewReplacer("\u2010", "-", "\u2011", "-", "\u2012", "-", "\u2013", "-", "\u2014", "-", "\u2212", "-", "\ufe63", "-", "\uff0d", "-", "\uff0b", "+")
