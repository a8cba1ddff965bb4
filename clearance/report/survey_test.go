package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"testing"
	"unicode"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"elbowroom/clearance"
	"elbowroom/survey"
	"elbowroom/survey/length"
	"elbowroom/survey/table"
)

// wallPoints are nine marks of a small bay, in inches.
const wallPoints = `feature,mark,x,y,z,within
wall,B1,0,0,0,
wall,B2,12,0,0,
wall,B3,0,9,1/16,
wall,B4,12,9,0,
wall,B5,6,4,0,
lip,L1,0,7 1/4,1,
lip,L2,12,7 1/4,1,
lip,L1,0,7 1/4,1,
lip,L2,12,7 3/16,1,
,E1,5,4,9,1/8
,T1,,,,
`

// tapesTo reach T1, which is at 4, 3, 6, from five marks.
func tapesTo(fromB1 string) string {
	return "from,to,tape\nB1,T1," + fromB1 + "\nB2,T1,10 7/16\nB3,T1,9 3/8\nB4,T1,11 11/16\nE1,T1,3 5/16\nB1,T1,7 13/16\n"
}

// spoken reads and adjusts files given as name and text in turn.
func spoken(t *testing.T, files ...string) Survey {
	t.Helper()
	var in []survey.File
	within, err := length.ParseLimit("1/16", length.Inch, false)
	require.NoError(t, err)
	for i := 0; i < len(files); i += 2 {
		in = append(in, survey.File{Name: files[i], Data: []byte(files[i+1]), Unit: length.Inch, Within: within})
	}
	r, err := survey.Read(in...)
	require.NoError(t, err)
	r.Style = length.Style{Unit: length.Inch}
	r.Features = []survey.FeatureSpec{
		{Name: "wall", Shape: survey.Face, Mount: true},
		{Name: "lip", Shape: survey.Edge, Behind: r3.Vector{Y: 1}},
	}
	s, err := survey.Adjust(r)
	require.NoError(t, err)
	return Survey{Title: "Bay", Unit: length.Inch, Space: s, Within: 25.4 / 16}
}

type talk struct {
	name string
	v    Survey
	o    Options
}

// talks are surveys of each kind.
func talks(t *testing.T) []talk {
	agrees := spoken(t, "points.csv", wallPoints, "tape.csv", tapesTo("7 13/16"))
	doubtful := spoken(t, "points.csv", wallPoints, "tape.csv", strings.Replace(tapesTo("7 13/16"), "B2,T1,10 7/16", "B2,T1,11 7/16", 1))
	open := spoken(t, "points.csv", wallPoints)
	open.Unread = []string{"far/bay.ply"}
	alone := spoken(t, "points.csv", "feature,mark,x,y,z\nwall,B1,0,0,0\nwall,B2,12,0,0\nwall,B3,0,9,0\nlip,L1,0,7,1\nlip,L2,12,7,1\n")
	alone.Without = []table.Pos{{File: "far/points.csv", Line: 7}}
	metric := agrees
	metric.Unit, metric.Title = length.MM, ""
	nasty := *spoken(t, "points.csv", wallPoints).Space
	nasty.Marks = append([]survey.Mark(nil), nasty.Marks...)
	nasty.Marks[0].Name, nasty.Marks[1].Name = "B\x1b[31m1\u202e", strings.Repeat("日本", 40)
	nasty.Doubts = nil
	for i := range 20 {
		nasty.Doubts = append(nasty.Doubts, survey.Doubt{Pos: at("pts\x07.csv", i+2), Says: fmt.Sprintf("z of B\x1b%d is odd", i), Suggests: "\u202e7"})
	}
	return []talk{
		{"survey-agrees", agrees, Options{}},
		{"survey-doubtful", doubtful, Options{Style: length.Style{Parts: 64}}},
		{"survey-open", open, Options{}},
		{"survey-alone", alone, Options{}},
		{"survey-metric", metric, Options{}},
		{"survey-nasty", Survey{Title: "T\r\nagrees - ", Unit: length.Inch, Space: &nasty, Without: []table.Pos{at("a\x1b.csv", 3)}}, Options{}},
		{"survey-nothing", Survey{Space: &survey.Space{Mount: -1}}, Options{}},
	}
}

func surveyText(t *testing.T, s talk) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, SurveyText(&b, s.v, s.o))
	return b.String()
}

func TestSurveyText(t *testing.T) {
	for _, s := range talks(t) {
		t.Run(s.name, func(t *testing.T) { golden(t, s.name+".txt", surveyText(t, s)) })
	}
}

func TestSurveyFirstScreenIsShortAndNothingSteersTheTerminal(t *testing.T) {
	for _, s := range talks(t) {
		for _, columns := range []int{0, 60, 80, 200} {
			s.o.Width = columns
			got := surveyText(t, s)
			first, _, _ := strings.Cut(got, "\n\n")
			lines := strings.Split(first, "\n")
			if columns == 0 || columns >= usualWidth {
				assert.LessOrEqual(t, len(lines), screenLines, s.name)
			}
			assert.Equal(t, s.v.Headline(), lines[0])
			for _, line := range strings.Split(got, "\n") {
				assert.LessOrEqual(t, width(line), max(columns, leastWidth, usualWidth*chosenInt(columns == 0)), "%s: %s", s.name, line)
				assert.Equal(t, strings.TrimRight(line, " "), line)
			}
			for _, r := range got {
				assert.True(t, r == '\n' || unicode.IsPrint(r), "%U", r)
			}
		}
	}
}

func TestSurveyBoldIsTheFirstWordAlone(t *testing.T) {
	s := talks(t)[0]
	plain := surveyText(t, s)
	s.o.Bold = true
	assert.Equal(t, strings.Replace(plain, "agrees", "\x1b[1magrees\x1b[0m", 1), surveyText(t, s))
}

func TestSurveySound(t *testing.T) {
	want := map[string]bool{"survey-agrees": true, "survey-alone": true, "survey-metric": true, "survey-nothing": true}
	for _, s := range talks(t) {
		assert.Equal(t, want[s.name], s.v.Sound(), s.name)
	}
}

func TestAgreementWords(t *testing.T) {
	for _, c := range []struct {
		redundancy, chance float64
		want               string
	}{
		{0, 1, "No mark is measured more often than it takes"},
		{5, 0.0009, "They cannot all be right"},
		{5, 0.001, "in one survey in 1000."},
		{5, 0.0499, "in one survey in 20."},
		{5, 0.05, "They agree as well as their limits say."},
		{5, 0.999, "They agree as well as their limits say."},
		{5, 0.9991, "They agree better than their limits ask for."},
	} {
		s := &survey.Space{Rows: make([]survey.Row, 1), Adjustment: survey.Adjustment{Redundancy: c.redundancy, Chance: c.chance}}
		assert.Contains(t, loose(newSurveyPage(Survey{Space: s}, Options{}).agreement()), c.want)
	}
}

func TestWay(t *testing.T) {
	p := newSurveyPage(Survey{Space: &survey.Space{}}, Options{})
	assert.Equal(t, "every way alike", p.way(survey.Spread{U: r3.Vector{X: 1, Y: 0.96, Z: 1}, Worst: 1.01, Toward: r3.Vector{X: 1}}))
	for _, c := range []struct {
		v    r3.Vector
		want string
	}{
		{r3.Vector{X: 1}, "along x"}, {r3.Vector{Y: -1}, "along y"}, {r3.Vector{X: 0.3, Z: 0.95}, "along z"},
		{r3.Vector{X: 0.7, Y: -0.7, Z: 0.14}, "aslant between x and y"}, {r3.Vector{X: 0.577, Y: 0.577, Z: -0.577}, "aslant between x, y and z"},
	} {
		assert.Equal(t, c.want, p.way(survey.Spread{Worst: 1, U: r3.Vector{X: 1}, Toward: c.v}))
	}
}

// What a reading is said to leave is what an adjustment with it leaves, and no tape
// leaves less.
func TestBestReadingKeepsItsPromise(t *testing.T) {
	const two = "from,to,tape\nB1,T1,7 13/16\nB2,T1,10 7/16\nB3,T1,9 3/8\nB5,T1,6 7/16\n"
	v := spoken(t, "points.csv", wallPoints, "tape.csv", two)
	tapes := clearance.NewTapes(v.Space)
	m, ok := v.Space.Mark("T1")
	require.True(t, ok)
	spread := v.Space.Spread(m)
	next, ok := tapes.Better(m, v.Within)
	require.True(t, ok)
	left, d := next.Left, next.Depth
	require.Equal(t, "+z", alongAxis(d.Toward), "%+v", next)
	again := spoken(t, "points.csv", wallPoints, "tape.csv", two, "depth.csv", "feature,mark,from,to,along,probe,toward,within\n"+
		fmt.Sprintf(",T1,%s,%s,%.4f,%.4f,+z,1/32\n", d.From, d.To, d.Along/25.4, d.Probe/25.4))
	c := again.Space.Covariance(m, m)
	assert.InEpsilon(t, along(c, spread.Toward), left*left, 1e-3, "%+v", next)
	assert.Less(t, left, spread.Worst)
	// No other mark does better, but those behind the lip.
	for k, mark := range v.Space.Marks {
		if e := mark.At.Sub(v.Space.Marks[m].At).Norm(); !tapes.New(k, m) || !tapes.Straight(k, m) {
			continue
		} else {
			other := spoken(t, "points.csv", wallPoints, "tape.csv", two+fmt.Sprintf("%s,T1,%.4f\n", mark.Name, e/25.4))
			assert.GreaterOrEqual(t, along(other.Space.Covariance(m, m), spread.Toward), left*left*0.999, mark.Name)
		}
	}
}

// along is the variance in a direction.
func along(c *mat.Dense, v r3.Vector) float64 {
	w := mat.NewVecDense(3, []float64{v.X, v.Y, v.Z})
	return mat.Inner(w, c, w)
}

// A survey of hundreds of marks is worded in moments.
func BenchmarkSurveyText(b *testing.B) {
	v := largeSurvey(b)
	b.ResetTimer()
	for range b.N {
		require.NoError(b, SurveyText(io.Discard, v, Options{}))
	}
}

// largeSurvey is a grid of 10 by 10 by 5 marks, each taped to five others.
func largeSurvey(b *testing.B) Survey {
	var points, tapes strings.Builder
	points.WriteString("feature,mark,x,y,z\n")
	tapes.WriteString("from,to,tape\n")
	var marks []r3.Vector
	for i := range 500 {
		x, y, z := i%10, i/10%10, i/100
		at := r3.Vector{X: float64(6*x + z%2), Y: float64(6*y + x%3), Z: float64(6*z + y%2)}
		if z == 0 {
			fmt.Fprintf(&points, "wall,M%d,%g,%g,%g\n", i, at.X, at.Y, at.Z)
		}
		for _, back := range []int{100, 101, 110, 99, 90} {
			if j := i - back; z > 0 && j >= 0 {
				fmt.Fprintf(&tapes, "M%d,M%d,%.4f\n", j, i, at.Sub(marks[j]).Norm())
			}
		}
		marks = append(marks, at)
	}
	var in []survey.File
	within, err := length.ParseLimit("1/16", length.Inch, false)
	require.NoError(b, err)
	for name, text := range map[string]string{"points.csv": points.String(), "tape.csv": tapes.String()} {
		in = append(in, survey.File{Name: name, Data: []byte(text), Unit: length.Inch, Within: within})
	}
	r, err := survey.Read(in...)
	require.NoError(b, err)
	r.Features = []survey.FeatureSpec{{Name: "wall", Shape: survey.Dots}}
	s, err := survey.Adjust(r)
	require.NoError(b, err)
	return Survey{Unit: length.Inch, Space: s, Within: 25.4 / 16}
}

func surveyJSON(t *testing.T, v Survey) (string, decoded) {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, SurveyJSON(&b, v))
	var d decoded
	require.NoError(t, json.Unmarshal(b.Bytes(), &d))
	return b.String(), d
}

func TestSurveyJSON(t *testing.T) {
	v := talks(t)[1].v
	got, d := surveyJSON(t, v)
	from := 0
	for _, key := range []string{
		"schema", "marks", "mark", "feature", "xyz_mm", "u_mm", "from", "readings", "file", "line", "residual_mm", "w", "reliability",
		"features", "name", "shape", "flatness_mm", "doubts", "file", "line", "says", "suggests", "variance_factor", "redundancy",
	} {
		i := strings.Index(got[from:], `"`+key+`":`)
		require.GreaterOrEqual(t, i, 0, key)
		from += i + 1
	}
	s := v.Space
	readings := d["readings"].([]any)
	require.Len(t, readings, len(s.Rows))
	sum := 0.0
	for k, r := range readings {
		row := r.(decoded)
		assert.Equal(t, s.Rows[k].Pos.File, row["file"])
		assert.Equal(t, float64(s.Rows[k].Pos.Line), row["line"])
		assert.Equal(t, s.Adjustment.Readings[k].Residual, row["residual_mm"])
		sum += row["reliability"].(float64)
	}
	assert.Positive(t, sum)
	m, _ := s.Mark("T1")
	mark := d["marks"].([]any)[m].(decoded)
	assert.Equal(t, []any{s.Marks[m].At.X, s.Marks[m].At.Y, s.Marks[m].At.Z}, mark["xyz_mm"])
	assert.Equal(t, "tape", mark["from"])
	assert.Nil(t, mark["feature"])
	assert.Equal(t, "wall", d["marks"].([]any)[0].(decoded)["feature"])
	assert.Equal(t, s.Adjustment.VarianceFactor, d["variance_factor"])
	assert.Equal(t, s.Adjustment.Redundancy, d["redundancy"])
	features := d["features"].([]any)
	assert.Equal(t, s.Features[0].Plane.Flatness(), features[0].(decoded)["flatness_mm"])
	assert.Nil(t, features[1].(decoded)["flatness_mm"])
}

func TestSurveyJSONIsNullWhereNothingIsKnown(t *testing.T) {
	_, d := surveyJSON(t, talks(t)[2].v) // T1 has no place
	marks := d["marks"].([]any)
	last := marks[len(marks)-1].(decoded)
	for _, key := range []string{"xyz_mm", "u_mm", "from"} {
		assert.Contains(t, last, key)
		assert.Nil(t, last[key], key)
	}
	_, d = surveyJSON(t, talks(t)[3].v) // nothing checks anything
	assert.Nil(t, d["variance_factor"])
	assert.Equal(t, 0.0, d["redundancy"])
	for _, r := range d["readings"].([]any) {
		assert.Nil(t, r.(decoded)["w"])
		assert.Equal(t, 0.0, r.(decoded)["reliability"])
	}
	_, d = surveyJSON(t, talks(t)[6].v)
	for _, key := range []string{"marks", "readings", "features", "doubts"} {
		assert.Equal(t, []any{}, d[key], key)
	}
}

func TestSurveyWritersTellOfWhatTheyCannotWrite(t *testing.T) {
	v := talks(t)[0].v
	assert.ErrorContains(t, SurveyJSON(fullDisk{}, v), "no room")
	assert.ErrorContains(t, SurveyText(fullDisk{}, v, Options{}), "no room")
}
