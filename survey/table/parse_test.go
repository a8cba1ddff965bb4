package table

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// texts are the texts of a table's cells, row by row, without their places.
func texts(t Table) [][]string {
	rows := [][]string{}
	for _, r := range t.Rows {
		row := []string{}
		for _, c := range r.Cells {
			row = append(row, c.Text)
		}
		rows = append(rows, row)
	}
	return rows
}

func names(t Table) []string {
	var all []string
	for _, c := range t.Columns {
		all = append(all, c.Text)
	}
	return all
}

func TestParse(t *testing.T) {
	tests := []struct {
		name, text string
		want       [][]string
	}{
		{"plain", "a,b,c\n1,2,3\n4,5,6\n", [][]string{{"1", "2", "3"}, {"4", "5", "6"}}},
		{"no newline at the end", "a,b\n1,2", [][]string{{"1", "2"}}},
		{"header alone", "a,b\n", [][]string{}},
		{"CRLF", "a,b\r\n1,2\r\n3,4\r\n", [][]string{{"1", "2"}, {"3", "4"}}},
		{"CR", "a,b\r1,2\r3,4", [][]string{{"1", "2"}, {"3", "4"}}},
		{"mixed line ends", "a,b\r\n1,2\n3,4\r5,6", [][]string{{"1", "2"}, {"3", "4"}, {"5", "6"}}},
		{"byte-order mark", "\ufeffa,b\n1,2\n", [][]string{{"1", "2"}}},
		{"blanks around cells", " a ,\tb\n  1 , 2\u00a0\n", [][]string{{"1", "2"}}},
		{"blank lines", "\n\na,b\n\n  \n1,2\n\n", [][]string{{"1", "2"}}},
		{"comments", "# by hand\na,b\n#1,2\n  # and\n3,4 # kept\n", [][]string{{"3", "4 # kept"}}},
		{"rows of nothing", "a,b\n,\n , \n\"\",\n1,\n", [][]string{{"1", ""}}},
		{"short rows", "a,b,c\n1\n1,2\n", [][]string{{"1", "", ""}, {"1", "2", ""}}},
		{"blank surplus", "a,b,,\n1,2,,,,\n", [][]string{{"1", "2"}}},

		{"semicolons", "a;b\n1,5;2\n", [][]string{{"1,5", "2"}}},
		{"tabs", "a\tb\n1,5\t2;3\n\t#4\n", [][]string{{"1,5", "2;3"}, {"", "#4"}}},
		{"a declared delimiter", "sep=;\na,b;c\n1;2\n", [][]string{{"1", "2"}}},
		{"a declared tab", "sep=\t\na\tb\n1\t2\n", [][]string{{"1", "2"}}},
		{"a quoted declaration", "\"sep=;\"\na;b\n1;2\n", [][]string{{"1", "2"}}},

		{"quoted", `a,b` + "\n" + `"1, or so", "2"` + "\n", [][]string{{"1, or so", "2"}}},
		{"doubled quotes", "a,b\n" + `"7 1/4""","say ""no"""` + "\n", [][]string{{`7 1/4"`, `say "no"`}}},
		{"blanks in quotes", "a,b\n" + `" 1 " ,2` + "\n", [][]string{{"1", "2"}}},
		{"an empty quoted cell", "a,b,c\n" + `"",2,""` + "\n", [][]string{{"", "2", ""}}},
		{"a line break in quotes", "a,b\r\n1,\"two\r\nlines\"\r\n3,4\r\n", [][]string{{"1", "two\nlines"}, {"3", "4"}}},
		{"a comment sign and a blank line in quotes", "a,b\n1,\"two\n\n#three\"\n3,4\n", [][]string{{"1", "two\n\n#three"}, {"3", "4"}}},
		{"a quoted comment sign", "a,b\n\"#1\",2\n", [][]string{{"#1", "2"}}},
		{"quoted headings", "\"a\",\"b\"\n1,2\n", [][]string{{"1", "2"}}},

		{"inch marks", "a,b,c\n7 1/4\",1' 3 1/2\",3\n", [][]string{{`7 1/4"`, `1' 3 1/2"`, "3"}}},
		{"inch marks of two quotes", "a,b\n7 1/4'',2\"\n", [][]string{{"7 1/4''", `2"`}}},
		{"a quote inside a cell", "a,b\nso \"called\" x,2\n", [][]string{{`so "called" x`, "2"}}},

		{"a comma in the note", "a,b,note\n1,2.5,rust, look again, soon\n", [][]string{{"1", "2.5", "rust, look again, soon"}}},
		{"blanks after such a note", "a,b,note\n1,2.5,rust, look,, \n", [][]string{{"1", "2.5", "rust, look"}}},
		{"a comma in the note after whole numbers apart", "x,b,y,note\n1,B1,2,rust, look\n", [][]string{{"1", "B1", "2", "rust, look"}}},
		{"a semicolon in the note", "x;y;note\n1;2;rust; look\n", [][]string{{"1", "2", "rust; look"}}},
		{"quotes in such a note", "a,b,note\n1,2.5,so \"called\", 1 1/2\"\n", [][]string{{"1", "2.5", `so "called", 1 1/2"`}}},
	}
	for _, test := range tests {
		got, problems := Parse("f.csv", []byte(test.text))
		assert.Empty(t, problems, test.name)
		assert.Equal(t, test.want, texts(got), test.name)
		assert.Equal(t, "f.csv", got.File)
	}
}

func TestParseHeader(t *testing.T) {
	got, problems := Parse("f.csv", []byte("# readings\n Feature ,MARK,\"x\",y,z,,\n"))
	assert.Empty(t, problems)
	assert.Equal(t, []string{"feature", "mark", "x", "y", "z"}, names(got))
	assert.Equal(t, Pos{"f.csv", 2, 2}, got.Columns[0].Pos)
	assert.Equal(t, Pos{"f.csv", 2, 11}, got.Columns[1].Pos)
	assert.Equal(t, Pos{"f.csv", 2, 16}, got.Columns[2].Pos, "a quoted heading's place is its quote")
}

func TestDelimiter(t *testing.T) {
	for header, want := range map[string]rune{
		"feature,mark,x":        ',',
		"feature;mark;x":        ';',
		"feature\tmark\tx":      '\t',
		"feature":               ',',
		"x;y;z":                 ';',
		"a,b;c;d":               ';',
		"a,b,c;d":               ',',
		"a,b;c":                 ',',
		"x;note, a, b, c, d":    ';', // one known heading outweighs many cells
		"\"a;b;c\",d":           ',',
		"x;\"a,b\";\"c,d\"":     ';',
		"from\tto\ttape, taken": '\t',
		"FROM;TO;TAPE":          ';',
	} {
		got, _ := Parse("f.csv", []byte(header+"\n"))
		assert.Equal(t, string(want), string(got.Delimiter), header)
	}
}

// Places count characters from 1, with the byte-order mark and line ends not
// counted, and point at a cell's first character or its opening quote.
func TestPlaces(t *testing.T) {
	got, problems := Parse("f.csv", []byte("\ufefff,m,x,y\r\n"+
		"# comment\r\n"+
		"Kühler, W1 ,7¼,\"a\"\r\n"+ // line 3
		"\r\n"+
		"a,\"two\r\nlines\" , 5 ,6\r\n"+ // line 5 and 6
		"s\r\n"+ // line 7
		",  ,,z\r\n"+
		"\"q\",\"r\"\"s\",,\r\n"))
	require.Empty(t, problems)
	want := [][]Pos{
		{{"f.csv", 3, 1}, {"f.csv", 3, 9}, {"f.csv", 3, 13}, {"f.csv", 3, 16}},
		{{"f.csv", 5, 1}, {"f.csv", 5, 3}, {"f.csv", 6, 10}, {"f.csv", 6, 13}},
		{{"f.csv", 7, 1}, {"f.csv", 7, 2}, {"f.csv", 7, 2}, {"f.csv", 7, 2}},
		{{"f.csv", 8, 1}, {"f.csv", 8, 2}, {"f.csv", 8, 5}, {"f.csv", 8, 6}},
		{{"f.csv", 9, 1}, {"f.csv", 9, 5}, {"f.csv", 9, 12}, {"f.csv", 9, 13}},
	}
	require.Len(t, got.Rows, len(want))
	for i, row := range got.Rows {
		assert.Equal(t, Pos{"f.csv", want[i][0].Line, 1}, row.Pos)
		for j, cell := range row.Cells {
			assert.Equal(t, want[i][j], cell.Pos, "row %d cell %d %q", i, j, cell.Text)
		}
	}
	assert.Equal(t, "lines", strings.Split(got.Rows[1].Cells[1].Text, "\n")[1])
}

func TestRowCell(t *testing.T) {
	got, _ := Parse("f.csv", []byte("a,b\n1,2\n"))
	row := got.Rows[0]
	b, ok := got.Column("b")
	require.True(t, ok)
	assert.Equal(t, Cell{"2", Pos{"f.csv", 2, 3}}, row.Cell(b))
	missing, ok := got.Column("z")
	assert.False(t, ok)
	assert.Equal(t, Cell{Pos: Pos{"f.csv", 2, 1}}, row.Cell(missing))
	assert.Equal(t, Cell{Pos: Pos{"f.csv", 2, 1}}, row.Cell(9))
}

func TestZeroValues(t *testing.T) {
	_, ok := Table{}.Column("x")
	assert.False(t, ok)
	assert.False(t, Table{}.DecimalComma())
	assert.Zero(t, Row{}.Cell(0))
	assert.NoError(t, Problems(nil).Err())
	assert.Equal(t, "", Pos{}.String())
	assert.Empty(t, Table{}.Want(nil, nil))
	got, problems := Parse("", nil)
	assert.Zero(t, got)
	assert.Len(t, problems, 1)
}

func TestDecimalComma(t *testing.T) {
	for text, want := range map[string]bool{"x;y": true, "x,y": false, "x\ty": false} {
		got, _ := Parse("f.csv", []byte(text))
		assert.Equal(t, want, got.DecimalComma(), "%q", text)
	}
}

// Whatever the standard library writes is read as it was, and the standard
// library reads it the same.
func TestParseLikeTheLibrary(t *testing.T) {
	random := rand.New(rand.NewPCG(6, 6))
	words := []string{"wall", "7 1/4\"", "7¼", "", "\"", "\"\"", "a,b", "a;b", "a\tb", "#1", "it's", "two\nlines", "say \"no\", twice", "'", "x"}
	for _, delimiter := range delimiters {
		for range 500 {
			columns := 2 + random.IntN(5)
			rows := [][]string{}
			for range 1 + random.IntN(5) {
				row := []string{fmt.Sprintf("r%d", random.IntN(100))}
				for range columns - 1 {
					row = append(row, words[random.IntN(len(words))])
				}
				rows = append(rows, row)
			}
			var b bytes.Buffer
			w := csv.NewWriter(&b)
			w.Comma = delimiter
			require.NoError(t, w.Write(strings.Split("feature,mark,x,y,z,note", ",")[:columns]))
			require.NoError(t, w.WriteAll(rows))

			got, problems := Parse("f.csv", b.Bytes())
			require.Empty(t, problems, b.String())
			require.Equal(t, rows, texts(got), b.String())
			library := csv.NewReader(&b)
			library.Comma = delimiter
			all, err := library.ReadAll()
			require.NoError(t, err)
			require.Equal(t, all[1:], texts(got))
		}
	}
}
