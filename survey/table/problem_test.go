package table

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

const points = "feature,mark,x,y,z,within,base,note\n"

func TestProblems(t *testing.T) {
	const (
		quote = "; close it on its line, or leave the quotes out; inside quotes an inch mark is written twice"
		many  = "; put quotes around a cell that holds a comma, and write decimals with a point"
		name  = "; name the columns in the first line, as in feature,mark,x,y,z"
		save  = "; save it as CSV UTF-8 and read that"
	)
	tests := []struct {
		name, text string
		rows       int
		want       []string
	}{
		// The header.
		{"no text", "", 0, []string{"f.csv:1:1: there is no header" + name}},
		{"comments alone", "# a\n\n,,\n", 0, []string{"f.csv:1:1: there is no header" + name}},
		{"no header", "\nwall,W1,1,2,3\n", 0, []string{`f.csv:2:9: "1" is not the name of a column` + name}},
		{"numbers for a header", "wall,1.5,2\n", 0, []string{`f.csv:1:6: "1.5" is not the name of a column` + name}},
		{"a heading without a name", "x,,z\n1,2,3\n", 1, []string{"f.csv:1:3: this column has no name; name it, or take it out"}},
		{"a heading twice", "x,y,X\n1,2,3\n", 1, []string{"f.csv:1:5: the column x is there twice; keep one of them, or give it another name"}},
		{"bars between the columns", "x|y|z\n1|2|3\n", 0, []string{"f.csv:1:1: the columns are not separated; put a comma, a semicolon or a tab between them"}},
		{"blanks between the columns", "feature mark x\n", 0, []string{"f.csv:1:1: the columns are not separated; put a comma, a semicolon or a tab between them"}},
		{"a lone quote in the header", "x,\"y,z\n1,2,3\n", 0, []string{"f.csv:1:3: this quote is not closed on its line" + quote}},
		{"not UTF-8 in the header", "x,y\xbc\n1,2\n", 0, []string{"f.csv:1:4: this character is not UTF-8; save the file as CSV UTF-8 and read it again"}},

		// Quotes. The row is left out; the next is read.
		{"a lone quote", points + "wall,W1,\"7 1/4,2,3\nwall,W2,1,2,3\n", 1, []string{"f.csv:2:9: this quote is not closed on its line" + quote}},
		{"a lone quote on the last line", points + "wall,W1,1,2,3\nwall,W2,\"1,2,3", 1, []string{"f.csv:3:9: this quote is not closed on its line" + quote}},
		{"an inch mark not doubled", points + "wall,W1,\"7 1/4\"\",2,3\nwall,W2,1,2,3\n", 1, []string{"f.csv:2:9: this quote is not closed on its line" + quote}},
		{"a lone quote whose mate seems to come in another row", points + "wall,W1,\"7 1/4,2,3\nwall,W2,7 1/4\",2,3\nwall,W3,1,2,3\n", 2, []string{"f.csv:2:9: this quote is not closed on its line" + quote}},
		{"a lone quote before a row whose inch mark comes first", "x,y,z,feature,mark,note\n1,2,3,wall,W1,\"lone\n7 1/4\",2,3,wall,W2,fine\n", 1, []string{"f.csv:2:15: this quote is not closed on its line" + quote}},
		{"a lone quote before a quoted row", points + "wall,W1,\"7,2,3\n\"wall\",\"W2\",1,2,3\n", 1, []string{"f.csv:2:9: this quote is not closed on its line" + quote}},
		{"two lone quotes", points + "wall,W1,\"7,2,3\nwall,W2,1,\"2,3\nwall,W3,1,2,3\n", 1, []string{
			"f.csv:2:9: this quote is not closed on its line" + quote,
			"f.csv:3:11: this quote is not closed on its line" + quote,
		}},
		{"a lone quote and many lines without one", points + "wall,W1,\"7\n" + strings.Repeat("\n", 30) + "end\",W2\n", 1, []string{"f.csv:2:9: this quote is not closed on its line" + quote}},
		{"text behind a quote", points + "wall,W1,\"7\" in,2,3\nwall,W2,1,2,3\n", 1, []string{"f.csv:2:13: there is text after the closing quote" + quote}},

		// Cells.
		{"too many cells", "x,y,z\n1,2,3,4\n5,6,7\n", 1, []string{"f.csv:2:7: this row has 4 cells, the header names 3" + many}},
		{"too many cells, semicolons", "x;y;z\n1;2;3;4\n", 0, []string{"f.csv:2:7: this row has 4 cells, the header names 3; put quotes around a cell that holds a semicolon"}},
		{"too many cells, tabs", "x\ty\tz\n1\t2\t3\t4\n", 0, []string{"f.csv:2:7: this row has 4 cells, the header names 3; take the surplus tabs out"}},
		{"a surplus after a quoted note", points + "wall,W1,1,B,3,,,\"rust\",look\n", 0, []string{"f.csv:2:24: this row has 9 cells, the header names 8" + many}},
		{"a surplus after a blank note", points + "wall,W1,1.5,2.5,3.5,,,,look\n", 0, []string{"f.csv:2:24: this row has 9 cells, the header names 8" + many}},
		{"a surplus that decimal commas may have made", points + "wall,W1,12,5,2.5,3,,B1,rust\n", 0, []string{"f.csv:2:24: this row has 9 cells, the header names 8" + many}},
		{"the same with a unit", points + "wall,W1,12,5 mm,2.5,3,,B1,rust\n", 0, []string{"f.csv:2:27: this row has 9 cells, the header names 8" + many}},

		// Characters.
		{"not UTF-8", "x,note\n1,K\xfchler\n2,a\n", 1, []string{"f.csv:2:4: this character is not UTF-8; save the file as CSV UTF-8 and read it again"}},
		{"not UTF-8 in three rows", "x,note\n1,K\xfchler\n\xbc,a\n2,b\n\xbd,c\n", 1, []string{"f.csv:2:4: this character is not UTF-8, and 2 more rows have such; save the file as CSV UTF-8 and read it again"}},
		{"not UTF-8 in a comment", "# K\xfchler\nx,note\n# \xbc\n1,a\n", 1, nil},
		{"not UTF-8 in a cell of two lines", "x,note\n1,\"a\nK\xfchler\"\n2,b\n", 1, []string{"f.csv:3:2: this character is not UTF-8; save the file as CSV UTF-8 and read it again"}},
		{"a character that is text and stands for a lost one", "x,note\n1,K\ufffdhler\n", 1, nil},
		{"a null", "x,y,note\n1,\x002,a\n3,4,b\n", 1, []string{"f.csv:2:3: a character that does not print stands here (U+0000); delete it"}},
		{"a bell", "x,note\nä,ü\a\n", 0, []string{"f.csv:2:4: a character that does not print stands here (U+0007); delete it"}},

		// Files that are no CSV.
		{"a spreadsheet", "PK\x03\x04\x14\x00", 0, []string{"f.csv: this is a spreadsheet's own file, not CSV" + save}},
		{"an old spreadsheet", "\xd0\xcf\x11\xe0\xa1\xb1", 0, []string{"f.csv: this is a spreadsheet's own file, not CSV" + save}},
		{"UTF-16", "\xff\xfex\x00,\x00", 0, []string{"f.csv: this is text in UTF-16" + save}},
		{"UTF-16 without its mark", "x\x00,\x00y\x00", 0, []string{"f.csv: this is not text, or is text in UTF-16" + save}},
	}
	for _, test := range tests {
		got, problems := Parse("f.csv", []byte(test.text))
		lines := []string{}
		for _, p := range problems {
			lines = append(lines, p.Error())
		}
		if test.want == nil {
			test.want = []string{}
		}
		assert.Equal(t, test.want, lines, test.name)
		assert.Len(t, got.Rows, test.rows, test.name)
	}
}

func TestProblemValue(t *testing.T) {
	_, problems := Parse("f.csv", []byte("x,y,z\n1,2,3,4\n"))
	assert.Equal(t, "4", problems[0].Value)
	var p *Problem
	assert.True(t, errors.As(problems.Err(), &p))
	assert.Same(t, problems[0], p)
}

func TestProblemError(t *testing.T) {
	for _, test := range []struct {
		problem Problem
		want    string
	}{
		{Problem{Pos: Pos{"points.csv", 7, 12}, Field: "z", What: `"12,5" is not a length`, Mend: "write 12.5"}, `points.csv:7:12: z: "12,5" is not a length; write 12.5`},
		{Problem{Pos: Pos{"points.csv", 7, 0}, What: "what", Mend: "mend"}, "points.csv:7: what; mend"},
		{Problem{Pos: Pos{File: "points.csv"}, What: "what"}, "points.csv: what"},
		{Problem{Field: "--width", What: "what", Mend: "mend"}, "--width: what; mend"},
		{Problem{}, ""},
	} {
		assert.EqualError(t, &test.problem, test.want)
	}
	both := Problems{{What: "one"}, {What: "two"}}
	assert.EqualError(t, both, "one\ntwo")
	assert.Len(t, both.Unwrap(), 2)
}

func TestWant(t *testing.T) {
	required, optional := []string{"feature", "mark", "x", "y", "z"}, []string{"within", "base", "note"}
	for header, want := range map[string]string{
		"feature,mark,x,y,z":                       "",
		"z,y,x,mark,feature,note,base,within":      "",
		"feature,mark,x,y":                         "f.csv:1:1: the column z is missing; add it to the header and to every row",
		"featre,mark,x,y,z":                        `f.csv:1:1: "featre" is no column of this kind of file; write feature`,
		"feature,mark,x (in),y [mm],z":             `f.csv:1:14: "x (in)" is no column of this kind of file; write x; units stand in job.yaml or in the cells` + "\n" + `f.csv:1:21: "y [mm]" is no column of this kind of file; write y; units stand in job.yaml or in the cells`,
		"feature,mark,x,y,z,photo":                 `f.csv:1:20: "photo" is no column of this kind of file; take it out, or call it note`,
		"feature,mark,x,y,z,photo,note":            `f.csv:1:20: "photo" is no column of this kind of file; take it out`,
		"feature,mark,x,y,z,wihtin":                `f.csv:1:20: "wihtin" is no column of this kind of file; write within`,
		"feature,mark,x,y,z,within,withim":         `f.csv:1:27: "withim" is no column of this kind of file; take it out, or call it note`,
		"\n\nmark,x,y,z":                           "f.csv:3:1: the column feature is missing; add it to the header and to every row",
		"feature,mark,x,,z,y":                      "",
		"feature;mark;x;y;z;within;base;note;note": "",
	} {
		got, _ := Parse("f.csv", []byte(header+"\n"))
		assert.Equal(t, want, got.Want(required, optional).Error(), header)
	}
}

func TestQuote(t *testing.T) {
	for text, want := range map[string]string{
		"":             `""`,
		" a ":          `"a"`,
		`7"`:           `“7"”`,
		"a\nb\tc":      `"a b c"`,
		"a\x00b\u202e": `"a�b�"`,
		"\xff":         `"�"`,
		"1234567890123456789012345678901234567890":  `"1234567890123456789012345678901234567890"`,
		"12345678901234567890123456789012345678901": `"1234567890123456789012345678901234567890..."`,
	} {
		assert.Equal(t, want, Quote(text), "%q", text)
	}
}
