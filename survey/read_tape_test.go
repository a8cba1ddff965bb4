package survey

import (
	"strings"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/survey/length"
	"elbowroom/survey/table"
)

func tapeFile(text string) File {
	return File{Name: "t.csv", Data: []byte(text), Unit: length.Inch, Within: sixteenth}
}

func depthFile(text string) File {
	return File{Name: "d.csv", Data: []byte(text), Unit: length.Inch, Within: sixteenth}
}

func TestReadTape(t *testing.T) {
	r, err := Read(tapeFile("From;To;Tape;Within;Note\n# by the left shoulder\nB1;T1;7,25;+0 -1/8;slanted\nT1;B1;184 mm;;again\nB2;T1;1' 3 1/2\"\n"))
	require.NoError(t, err)
	require.Len(t, r.Tapes, 3)
	at := func(column int) table.Pos { return table.Pos{File: "t.csv", Line: 3, Column: column} }
	assert.Equal(t, Tape{
		From: "B1", To: "T1", Note: "slanted",
		Length: Coordinate{Value: 184.15, Given: true, Text: "7,25", Pos: at(7)},
		Limit:  length.Limit{Minus: inch / 8},
		Pos:    at(1), FromPos: at(1), ToPos: at(4),
	}, r.Tapes[0])
	assert.Equal(t, sixteenth, r.Tapes[1].Limit, "the file's own limit")
	assert.Equal(t, 184.0, r.Tapes[1].Length.Value, "a unit of its own; a repeat, the other way round")
	assert.Equal(t, 15.5*inch, r.Tapes[2].Length.Value)
	assert.Empty(t, r.Doubts)
	assert.Equal(t, []string{"B1", "T1", "B2"}, r.MarkNames())
}

func TestReadDepth(t *testing.T) {
	r, err := Read(depthFile("feature,mark,from,to,along,probe,toward,within,note\nfloor,D1,A,B,3 1/2,4,-Z,1/32,left\nfloor,,A,B,0,0,\u2212y\n,ref,A,B,1,2,+ x\n"),
		tapeFile("from,to,tape\nA,B,12\n"))
	require.NoError(t, err)
	require.Len(t, r.Depths, 3)
	at := func(column int) table.Pos { return table.Pos{File: "d.csv", Line: 2, Column: column} }
	assert.Equal(t, Depth{
		Feature: "floor", Mark: "D1", From: "A", To: "B", Note: "left",
		Along:  Coordinate{Value: 3.5 * inch, Given: true, Text: "3 1/2", Pos: at(14)},
		Probe:  Coordinate{Value: 4 * inch, Given: true, Text: "4", Pos: at(20)},
		Toward: r3.Vector{Z: -1},
		Limit:  length.Limit{Plus: inch / 32, Minus: inch / 32},
		Pos:    at(1), FeaturePos: at(1), MarkPos: at(7), FromPos: at(10), ToPos: at(12),
	}, r.Depths[0])
	assert.Equal(t, r3.Vector{Y: -1}, r.Depths[1].Toward, "a minus sign of its own")
	assert.Empty(t, r.Depths[1].Mark)
	assert.Equal(t, sixteenth, r.Depths[1].Limit)
	assert.Equal(t, r3.Vector{X: 1}, r.Depths[2].Toward)
	assert.Empty(t, r.Depths[2].Feature, "a reference mark")
	assert.Empty(t, r.Validate()[1:], "but that the job has no floor")
}

// A probe's spot may stand under several features, as a mark of a points file.
func TestDepthUnderSeveralFeatures(t *testing.T) {
	r, err := Read(inches("feature,mark,x,y,z\nwall,A,0,0,0\nwall,B,12,0,0\n"),
		depthFile("feature,mark,from,to,along,probe,toward\nfloor,D1,A,B,3,4,-z\nlip,D1,A,B,3,4,-z\n"))
	require.NoError(t, err)
	r.Features = []FeatureSpec{{Name: "wall", Shape: Edge}, {Name: "floor", Shape: Dots}, {Name: "lip", Shape: Dots}}
	assert.Empty(t, r.Validate())
	r.Features[1].Shape = Edge
	assert.Len(t, r.Validate(), 1)
}

// The exact words for each thing that can be wrong with one row.
func TestTapeAndDepthMistakes(t *testing.T) {
	for row, want := range map[string]string{
		"A,B,":         "t.csv:2:5: tape: the distance is missing; write it, or take the row out",
		"A,B,0":        `t.csv:2:5: tape: "0" is no distance between two marks; write what the tape showed, or take the row out`,
		"A,B,-7":       `t.csv:2:5: tape: "-7" is below zero; write it without the sign`,
		"A,B,seven":    `t.csv:2:5: tape: "seven" is not a length; write it as in 7 1/4, 7.25 in or 184 mm`,
		"A,A,7":        "t.csv:2:3: to: the tape goes from A to itself; name the mark at its other end",
		",B,7":         "t.csv:2:1: from: the mark that the tape starts at is missing; write its name, or take the row out",
		"A,,7":         "t.csv:2:3: to: the mark that the tape goes to is missing; write its name, or take the row out",
		"\"A\nA\",B,7": `t.csv:2:1: the name "A A" holds a line break or another character that cannot be printed; write it again by hand`,
		"A,B,7,snug":   `t.csv:2:7: within: "snug" is not a length; write it as in 1/16, or +0 -1/8 where the two sides differ`,
	} {
		r, err := Read(tapeFile("from,to,tape,within\n" + row + "\nA,B,5,\n"))
		assert.EqualError(t, err, want)
		assert.Len(t, r.Tapes, 1, "reading goes on after %s", row)
	}
	const d = "feature,mark,from,to,along,probe,toward\n"
	for row, want := range map[string]string{
		"f,D,A,B,,4,-z":       "d.csv:2:9: along: the distance along the straightedge is missing; write it, or take the row out",
		"f,D,A,B,3,,-z":       "d.csv:2:11: probe: how far the probe went is missing; write it, or take the row out",
		"f,D,A,B,3,-4,-z":     `d.csv:2:11: probe: "-4" is below zero; write it without the sign, and the other way round under toward`,
		"f,D,A,B,3,4,":        "d.csv:2:13: toward: the direction that the probe went is missing; write +x, -x, +y, -y, +z or -z",
		"f,D,A,B,3,4,z":       `d.csv:2:13: toward: "z" has no sign; write +z or -z`,
		"f,D,A,B,3,4,z-":      `d.csv:2:13: toward: "z-" has its sign at the end; write -z`,
		"f,D,A,B,3,4,down":    `d.csv:2:13: toward: "down" is not a direction; write -y if facing the mounting face that is the way it went`,
		"f,D,A,B,3,4,#NAME?":  `d.csv:2:13: toward: "#NAME?" is a spreadsheet's complaint, not a direction; format the column as text and write +x, -x, +y, -y, +z or -z`,
		`f,D,A,B,3,4,"[0,1]"`: `d.csv:2:13: toward: "[0,1]" is not a direction; write +x, -x, +y, -y, +z or -z`,
		"f,D,A,A,3,4,-z":      "d.csv:2:7: to: the straightedge goes from A to itself; name the mark at its other end",
		"f,A,A,B,3,4,-z":      "d.csv:2:3: mark: A is an end of the straightedge that it is measured from; give the spot that the probe touched a name of its own, or leave mark blank",
		",,A,B,3,4,-z":        "d.csv:2:1: feature: the row names neither a feature nor a mark; write which feature the probe touched, or name the mark if it is only a reference",
		"f,D,,B,3,4,-z":       "d.csv:2:5: from: the mark that the straightedge starts at is missing; write its name, or take the row out",
	} {
		r, err := Read(depthFile(d + row + "\nf,D,A,B,3,4,-z\n"))
		assert.EqualError(t, err, want)
		assert.Len(t, r.Depths, 1, "reading goes on after %s", row)
	}
	_, err := Read(tapeFile("from,to,tap\nA,B,7\n"))
	assert.EqualError(t, err, `t.csv:1:9: "tap" is no column of this kind of file; write tape`)
	_, err = Read(depthFile("feature,from,to,along,probe\nf,A,B,3,4\n"))
	assert.EqualError(t, err, "d.csv:1:1: the column toward is missing; add it to the header and to every row")
	r, err := Read(tapeFile("from,to,tape,photo\nA,B,7,IMG_7\n"))
	assert.NoError(t, err)
	assert.Equal(t, `the column "photo" is not used`, r.Doubts[0].Says)
}

// A straightedge needs two marks that something else gives; a mark that only
// tapes name is one, whether or not they place it.
func TestStraightedgeEnds(t *testing.T) {
	depth := "feature,mark,from,to,along,probe,toward\n,D1,pump-inlet,T1,1,2,-z\n"
	points := inches("feature,mark,x,y,z\n,pump-inlet,1,2,3\n")
	r, err := Read(points, tapeFile("from,to,tape\npump-inlet,T1,7\n"), depthFile(depth))
	require.NoError(t, err)
	assert.Empty(t, r.Validate())
	r, err = Read(points, depthFile(strings.Replace(depth, "pump-inlet", "pump-inlt", 1)))
	require.NoError(t, err)
	assert.EqualError(t, r.Validate(), `d.csv:2:5: from: no reading gives the mark "pump-inlt"; did you mean pump-inlet?`+"\n"+
		`d.csv:2:15: to: no reading gives the mark "T1"; measure that mark, or lay the straightedge from one that is measured`)
	r, err = Read(points, depthFile(depth+",D2,D1,D1b,1,2,-z\n\",x"))
	assert.Error(t, err)
	assert.Empty(t, r.Validate(), "of a file with a row that was lost, nothing is said to be missing")
	r, err = Read(points, depthFile(depth+",T1,pump-inlet,D1,1,2,-z\n"))
	require.NoError(t, err)
	assert.Empty(t, r.Validate(), "a depth gives a mark too")
}

// A row that could not be read still says which marks and features there are.
func TestRowsLeftOutKeepTheirNames(t *testing.T) {
	r, err := Read(tapeFile("from,to,tape\nA,B,x\n"), depthFile("feature,mark,from,to,along,probe,toward\nfloor,D1,A,B,x,4,-z\n"))
	assert.Error(t, err)
	assert.Equal(t, []string{"A", "B", "D1"}, r.MarkNames())
	assert.False(t, r.Lost())
	r.Features = []FeatureSpec{{Name: "floor", Shape: Face}}
	assert.Empty(t, r.Validate())
}

func TestReachDoubts(t *testing.T) {
	read := func(along, more string, files ...File) []Doubt {
		r, err := Read(append(files, depthFile("feature,mark,from,to,along,probe,toward\nf,D1,A,B,"+along+",4,-z\n"+more))...)
		require.NoError(t, err)
		return r.Doubts
	}
	tape := tapeFile("from,to,tape\nB,A,12\n")
	points := inches("feature,mark,x,y,z\nwall,A,0,0,0\nwall,B,12,0,0\n")
	apart := inches("feature,mark,x,y,z,base\nwall,A,0,0,0,\nwall,B,12,0,0,A\n")
	for _, c := range []struct {
		along string
		files []File
		says  string
	}{
		{"12", []File{tape}, ""},
		{"12 1/8", []File{tape}, ""}, // within both limits
		{"12 1/4", []File{tape}, "along reads 12 1/4, but the probe stood beyond B, where the straightedge ends: a slip, or the two marks the other way round?"},
		{"12", []File{points}, ""},
		{"21", []File{points}, "along reads 21, but the probe stood beyond B, where the straightedge ends: a slip, or the two marks the other way round?"},
		{"21", []File{apart}, ""}, // their distance is not plain from the rows
		{"96", nil, ""},
		{"97", nil, "along reads 97, but no straightedge is that long: a slip, or the two marks the other way round?"},
		{"-1", nil, "along reads -1, but the probe stood before A, where the straightedge starts: a slip, or the two marks the other way round?"},
		{"-1/16", nil, ""},
	} {
		got := read(c.along, "", c.files...)
		if c.says == "" {
			assert.Empty(t, got, c.along)
			continue
		}
		require.Len(t, got, 1, c.along)
		assert.Equal(t, c.says, got[0].Says)
		assert.Equal(t, table.Pos{File: "d.csv", Line: 2, Column: 10}, got[0].Pos)
	}
}

// A mark that stands in one tape alone and is like another is likely mistyped;
// case is doubted once, over all kinds of files.
func TestMarksLikeOthers(t *testing.T) {
	r, err := Read(tapeFile("from,to,tape\npump-inlet,B1,7\npump-inlet,B3,7\npump-inlt,B2,8\nB3,B1,9\nB1,B2,9\nB1,T9,9\n"))
	require.NoError(t, err)
	require.Len(t, r.Doubts, 1)
	assert.Equal(t, Doubt{Pos: table.Pos{File: "t.csv", Line: 4, Column: 1}, Weight: alikeWeight, Suggests: "pump-inlet",
		Says: "the mark pump-inlt stands in one tape and nowhere else: is it pump-inlet?"}, r.Doubts[0])
	r, err = Read(inches("feature,mark,x,y,z\nwall,B1,1,2,3\n"), tapeFile("from,to,tape\nb1,B2,7\nB1,B2,7\n"))
	require.NoError(t, err)
	require.Len(t, r.Doubts, 1)
	assert.Equal(t, "the marks B1 and b1 differ only in case: are they one?", r.Doubts[0].Says)
}
