package survey

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/survey/length"
	"elbowroom/survey/table"
)

const inch = 25.4

var sixteenth = length.Limit{Plus: inch / 16, Minus: inch / 16}

func inches(text string) File {
	return File{Name: "p.csv", Data: []byte(text), Unit: length.Inch, Within: sixteenth}
}

func readInches(t *testing.T, text string) Readings {
	t.Helper()
	r, err := Read(inches(text))
	require.NoError(t, err)
	return r
}

func TestKindOf(t *testing.T) {
	for _, c := range []struct {
		name, head string
		want       Kind
	}{
		{"p.csv", "feature,mark,x,y,z,within,base,note", Points},
		{"p.csv", "# a comment\n\nFeature;X;Y;Z\n", Points},
		{"p.csv", "", Points},
		{"p.csv", "x,y", Points},
		{"p.csv", "x,y,z,mark", Points},
		{"t.csv", "from,to,tape,within,note", Tapes},
		{"t.csv", "\ufefffrom\tto\ttape", Tapes},
		{"t.csv", "form,to,tape", Tapes},
		{"d.csv", "feature,mark,from,to,along,probe,toward,within,note", Depths},
		{"s.csv", "x,y,z\n0,0,0", Scan},
		{"s.csv", "\"X\" ; \"Y\" ; \"Z\"\n0;0;0", Scan},
		{"s.ply", "ply\n", Scan},
		{"S.XYZ", "0 0 0", Scan},
		{"s.csv.gz", "\x1f\x8b", Scan},
	} {
		assert.Equal(t, c.want, KindOf(c.name, []byte(c.head)), "%s %q", c.name, c.head)
	}
}

func TestReadRow(t *testing.T) {
	r := readInches(t, "Feature,Mark,X,Y,Z,Within,Base,Note\n  lip , L1 ,1/2,-3 1/4\",18.4 cm,+0 -1/8,W1,under the lip\n")
	require.Len(t, r.Points, 1)
	p := r.Points[0]
	at := func(column int) table.Pos { return table.Pos{File: "p.csv", Line: 2, Column: column} }
	assert.Equal(t, Point{
		Feature: "lip", Mark: "L1", Base: "W1", Note: "under the lip",
		At: [3]Coordinate{
			{Value: 12.7, Given: true, Text: "1/2", Pos: at(13)},
			{Value: -82.55, Given: true, Text: `-3 1/4"`, Pos: at(17)},
			{Value: 184, Given: true, Text: "18.4 cm", Pos: at(25)},
		},
		Limit: length.Limit{Minus: inch / 8},
		Pos:   at(1), FeaturePos: at(3), MarkPos: at(9), BasePos: at(41),
	}, p)
}

// A blank coordinate, a row without a mark, a mark without a feature, a repeat,
// and a row that only puts a mark under another feature are all readings.
func TestReadWhatIsLeftBlank(t *testing.T) {
	r := readInches(t, strings.Join([]string{
		"feature,mark,x,y,z",
		"lip,L1,1,,3",
		"lip,,1,2,3",
		",hinge,1,2,3",
		"lip,L1,1,,3",
		"wall,L1,,,",
		",,,,",
		"# lip,L9,1,2,3",
		"lip,L2,1,2", // a short row
		"",
	}, "\n"))
	require.Len(t, r.Points, 6)
	assert.False(t, r.Points[0].At[1].Given)
	assert.True(t, r.Points[0].At[2].Given)
	assert.Empty(t, r.Points[1].Mark)
	assert.Empty(t, r.Points[2].Feature)
	assert.Equal(t, "wall", r.Points[4].Feature)
	assert.False(t, r.Points[5].At[2].Given)
	assert.Equal(t, sixteenth, r.Points[0].Limit)
	assert.Equal(t, []string{"L1", "hinge", "L2"}, r.MarkNames())
}

// The order of the columns, the delimiter, line ends, a byte-order mark and the
// case of the headings make no difference.
func TestReadAnyOrder(t *testing.T) {
	columns := []string{"feature", "mark", "x", "y", "z", "within", "base", "note"}
	row := []string{"lip", "L1", "1/2", "2 1/4", "-3", "1/32", "W1", "hard to reach"}
	want := readInches(t, strings.Join(columns, ",")+"\n"+strings.Join(row, ",")).Points[0]
	random := rand.New(rand.NewPCG(1, 2))
	for i := range 60 {
		order := random.Perm(len(columns))
		pick := func(from []string) string {
			out := make([]string, len(from))
			for k, o := range order {
				out[k] = from[o]
			}
			return strings.Join(out, []string{",", ";", "\t"}[i%3])
		}
		head := pick(columns)
		if i%2 == 0 {
			head = "\ufeff" + strings.ToUpper(head)
		}
		got := readInches(t, head+"\r\n"+pick(row)+"\r\n").Points[0]
		assert.Equal(t, bare(want), bare(got), head)
	}
}

// bare is a point without its places.
func bare(p Point) Point {
	for i := range p.At {
		p.At[i].Pos = table.Pos{}
	}
	p.Pos, p.FeaturePos, p.MarkPos, p.BasePos = table.Pos{}, table.Pos{}, table.Pos{}, table.Pos{}
	return p
}

func TestReadDecimalComma(t *testing.T) {
	r, err := Read(File{Name: "p.csv", Data: []byte("feature;mark;x;y;z;within\nlip;L1;12,5;0,5;3;0,25\n"), Unit: length.CM})
	require.NoError(t, err)
	assert.InDelta(t, 125, r.Points[0].At[0].Value, 1e-12)
	assert.InDelta(t, 5, r.Points[0].At[1].Value, 1e-12)
	assert.Equal(t, length.Limit{Plus: 2.5, Minus: 2.5}, r.Points[0].Limit)
}

func TestReadStrangeColumn(t *testing.T) {
	r := readInches(t, "feature,mark,x,y,z,photo,time\nlip,L1,1,2,3,IMG_7,14:05\n")
	require.Len(t, r.Points, 1)
	require.Len(t, r.Doubts, 2)
	assert.Equal(t, `the column "photo" is not used`, r.Doubts[0].Says)
	assert.Equal(t, table.Pos{File: "p.csv", Line: 1, Column: 20}, r.Doubts[0].Pos)
}

func TestReadMarksAlike(t *testing.T) {
	r := readInches(t, "feature,mark,x,y,z\nlip,L1,1,2,3\nlip,l1,1,2,3\nlip,l1,1,2,3\nlip,L2,1,2,3\n")
	require.Len(t, r.Doubts, 1)
	assert.Equal(t, "L1", r.Doubts[0].Suggests)
	assert.Equal(t, 3, r.Doubts[0].Pos.Line)
}

// A bad row is left out; its names are known all the same, and reading goes on.
func TestReadLeavesOutBadRows(t *testing.T) {
	r, err := Read(inches("feature,mark,x,y,z,within\nlip,L1,one,2,3,\nlip,L2,1,2,3,tight\nlip,L3,1,2,3,\n"))
	var problems table.Problems
	require.ErrorAs(t, err, &problems)
	assert.Len(t, problems, 2)
	require.Len(t, r.Points, 1)
	assert.Equal(t, "L3", r.Points[0].Mark)
	assert.Equal(t, []string{"L3", "L1", "L2"}, r.MarkNames())
}

// The kinds mix freely; a scan is not used yet.
func TestReadOtherKinds(t *testing.T) {
	r, err := Read(
		inches("feature,mark,x,y,z\nwall,W1,1,2,3\n"),
		File{Name: "t.csv", Data: []byte("from,to,tape\nW1,T1,7 1/4\nW2,W1,12\n")},
		File{Name: "d.csv", Data: []byte("feature,mark,from,to,along,probe,toward\nfloor,D1,W1,W2,3,4,-z\nfloor,,W1,W2,5,4,-z\nfloor,D1,W1,W2,3,4,-z\n")},
		File{Name: "s.ply", Feature: "scan"},
	)
	require.NoError(t, err)
	assert.Len(t, r.Points, 1)
	assert.Len(t, r.Tapes, 2)
	assert.Len(t, r.Depths, 3)
	assert.Equal(t, []Unread{{File: "s.ply", Kind: Scan, Features: []string{"scan"}}}, r.Unread)
	assert.Equal(t, []string{"W1", "T1", "W2", "D1"}, r.MarkNames())
	r.Features = []FeatureSpec{{Name: "wall", Shape: Dots}, {Name: "floor", Shape: Edge}, {Name: "scan", Shape: Dots}}
	assert.Empty(t, r.Validate())
	r.Features[1].Shape = Face
	assert.Len(t, r.Validate(), 1, "a repeat of D1 is no third mark")
}

func TestZeroValues(t *testing.T) {
	r, err := Read()
	require.NoError(t, err)
	assert.Equal(t, Readings{}, r)
	assert.Empty(t, Readings{}.Validate())
	assert.Empty(t, Readings{}.MarkNames())
	_, err = Read(File{})
	assert.Error(t, err)
}

// Each shape needs so many marks, unnamed ones too; a repeat is not another.
func TestValidateCountsMarks(t *testing.T) {
	for shape, least := range map[Shape]int{Face: 3, Edge: 2, Skin: 3, Block: 4, Tube: 2, Dots: 1} {
		for n := range 6 {
			text := "feature,mark,x,y,z\n"
			for i := range n {
				mark := fmt.Sprintf("M%d", i)
				if i == 1 {
					mark = ""
				}
				text += fmt.Sprintf("thing,%s,%d,2,3\n", mark, i)
			}
			if n > 0 {
				text += "thing,M0,0,2,3\n"
			}
			r := readInches(t, text)
			r.Features = []FeatureSpec{{Name: "thing", Shape: shape}}
			assert.Equal(t, n >= least, len(r.Validate()) == 0, "%s with %d", shape, n)
		}
	}
	r := readInches(t, "feature,mark,x,y,z\nrun,R1,1,2,3\n")
	r.Features = []FeatureSpec{{Name: "run", Shape: Tube, Run: true}}
	assert.Empty(t, r.Validate(), "a run may have one mark")
}

func TestValidateBases(t *testing.T) {
	for rows, want := range map[string]int{
		"lip,A,1,2,3,\nlip,B,1,2,3,A\nlip,C,1,2,3,B": 0,
		"lip,B,1,2,3,A\nlip,A,1,2,3,":                0, // in any order
		"lip,A,1,2,3,B":                              1,
		"lip,A,1,2,3,B\nlip,B,1,2,3,A":               1,
		"lip,A,1,2,3,\nlip,A,1,2,3,B\nlip,B,1,2,3,A": 1, // although A is measured from the datum too
		"lip,,1,2,3,A\nlip,A,1,2,3,":                 0, // an unnamed mark has a base too
		"lip,A,one,2,3,\nlip,B,1,2,3,A":              0, // A is there, though it could not be read
	} {
		r, _ := Read(inches("feature,mark,x,y,z,base\n" + rows + "\n"))
		r.Features = []FeatureSpec{{Name: "lip", Shape: Dots}}
		assert.Len(t, r.Validate(), want, rows)
	}
}

// Of a file with a row that was lost, nothing is said to be missing.
func TestValidateAfterLostRow(t *testing.T) {
	r, err := Read(inches("feature,mark,x,y,z,base\nlip,A,1,2,3,B\nlip,\"B,1,2,3,\n"))
	require.Error(t, err)
	r.Features = []FeatureSpec{{Name: "lip", Shape: Face}}
	assert.Empty(t, r.Validate())
}

// FuzzRead: whatever the text, each row comes back as a point, a row left out or
// a problem, and problems have places and words.
func FuzzRead(f *testing.F) {
	f.Add("feature,mark,x,y,z,within,base,note\nlip,L1,1/2,-3 1/4\",18.4 cm,+0 -1/8,W1,under\n")
	f.Add("feature;mark;x;y;z\nlip;L1;12,5;;3\n")
	f.Add("\ufeffX\tY\tZ\tfeature\r\n1\t2\t3\tlip\r\n")
	f.Add("featur,mark,x (in),y,z\nlip,\"L1,1,2,3\n")
	f.Add("from,to,tape\nA,B,7\n")
	f.Add("from,to,tape,within,note\nA,B,7 1/4\",+0 -1/8,slanted\nB,B,-7,,\n,B,0,1,\n")
	f.Add("feature,mark,from,to,along,probe,toward,within,note\nfloor,D1,A,B,3,4,-z,,\n,,A,A,-3,-4,up,,\nfloor,,A,D9,900,0,#NAME?,,\n")
	f.Fuzz(func(t *testing.T, text string) {
		r, err := Read(inches(text))
		if err == nil {
			require.Empty(t, r.LeftOut)
		}
		var problems table.Problems
		if err != nil {
			require.ErrorAs(t, err, &problems)
		}
		for _, p := range append(problems, r.Validate()...) {
			require.NotEmpty(t, p.What)
			require.NotContains(t, p.Error(), "\n")
		}
		for _, p := range r.Points {
			require.Positive(t, p.Pos.Line)
			require.False(t, p.Mark == "" && p.Feature == "")
		}
		for _, tape := range r.Tapes {
			require.Positive(t, tape.Pos.Line)
			require.Positive(t, tape.Length.Value)
			require.NotEqual(t, tape.From, tape.To)
		}
		for _, d := range r.Depths {
			require.Positive(t, d.Pos.Line)
			require.GreaterOrEqual(t, d.Probe.Value, 0.0)
			require.Equal(t, 1.0, d.Toward.Norm())
			require.False(t, d.Mark == "" && d.Feature == "")
		}
	})
}
