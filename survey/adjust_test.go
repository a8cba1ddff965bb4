package survey

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/survey/length"
	"elbowroom/survey/table"
)

// point makes a row of a points file.
func point(feature, mark string, x, y, z, within float64) Point {
	p := Point{Feature: feature, Mark: mark, Limit: length.Limit{Plus: within, Minus: within}}
	for i, v := range [3]float64{x, y, z} {
		p.At[i] = Coordinate{Value: v, Given: true, Text: fmt.Sprint(v)}
	}
	return p
}

func adjust(t *testing.T, r Readings) *Space {
	t.Helper()
	for i := range r.Points {
		r.Points[i].Pos = table.Pos{File: "points.csv", Line: i + 2, Column: 1}
	}
	s, err := Adjust(r)
	require.NoError(t, err)
	return s
}

func variances(s *Space, mark int) [3]float64 {
	c := s.Covariance(mark, mark)
	return [3]float64{c.At(0, 0), c.At(1, 1), c.At(2, 2)}
}

var loose = []FeatureSpec{{Name: "things", Shape: Dots}}

func TestSingleReadingHasRectangularUncertainty(t *testing.T) {
	s := adjust(t, Readings{Features: loose, Points: []Point{point("things", "A", 1, 2, 3, 1.5)}})
	assert.Equal(t, r3.Vector{X: 1, Y: 2, Z: 3}, s.Marks[0].At)
	// GUM 4.3.7: a rectangular limit a has u = a/sqrt 3, so u2 = a2/3.
	for _, v := range variances(s, 0) {
		assert.InDelta(t, 1.5*1.5/3, v, 1e-12)
	}
	assert.Zero(t, s.Rows[0].Redundancy)
}

func TestOneSidedLimitShiftsTheMean(t *testing.T) {
	p := point("things", "A", 10, 0, 0, 0)
	p.Limit = length.Limit{Minus: 3}
	s := adjust(t, Readings{Features: loose, Points: []Point{p}})
	assert.InDelta(t, 8.5, s.Marks[0].At.X, 1e-12)
	assert.InDelta(t, 1.5*1.5/3, variances(s, 0)[0], 1e-12)
}

func TestRepeatsAreAveragedAndCheckEachOther(t *testing.T) {
	s := adjust(t, Readings{Features: loose, Points: []Point{
		point("things", "A", 10, 0, 0, 1), point("things", "A", 11, 0, 0, 1), point("things", "A", 12, 0, 0, 1),
	}})
	require.Len(t, s.Marks, 1)
	assert.InDelta(t, 11, s.Marks[0].At.X, 1e-12)
	assert.InDelta(t, 1.0/9, variances(s, 0)[0], 1e-12)
	for _, row := range s.Rows {
		assert.InDelta(t, 2.0/3, row.Redundancy, 1e-12)
	}
}

func TestExactReadingSettlesItAlone(t *testing.T) {
	s := adjust(t, Readings{Features: loose, Points: []Point{
		point("things", "A", 10, 0, 0, 1), point("things", "A", 10.5, 0, 0, 0),
	}})
	assert.Equal(t, 10.5, s.Marks[0].At.X)
	assert.Zero(t, variances(s, 0)[0])
}

func TestSameNumbersUnderAnotherFeatureAreNoRepeat(t *testing.T) {
	s := adjust(t, Readings{
		Features: []FeatureSpec{{Name: "a", Shape: Dots}, {Name: "b", Shape: Dots}},
		Points:   []Point{point("a", "A", 1, 2, 3, 1), point("b", "A", 1, 2, 3, 1)},
	})
	assert.Len(t, s.Rows, 1)
	assert.Zero(t, s.Rows[0].Redundancy)
	assert.InDelta(t, 1.0/3, variances(s, 0)[0], 1e-12)
	for _, f := range s.Features {
		assert.Len(t, f.Pieces, 1)
	}
}

func TestUnnamedMarksAreNeverRepeats(t *testing.T) {
	s := adjust(t, Readings{Features: loose, Points: []Point{point("things", "", 1, 2, 3, 1), point("things", "", 1, 2, 3, 1)}})
	require.Len(t, s.Marks, 2)
	assert.Equal(t, "things#2", s.Marks[0].Name)
	assert.Equal(t, "things#3", s.Marks[1].Name)
}

func TestErrorsOfTheBaseCarryThrough(t *testing.T) {
	a := point("", "A", 100, 0, 0, 1)
	b := point("things", "B", 10, 0, 0, 2)
	c := point("things", "C", 5, 0, 0, 2)
	b.Base, c.Base = "A", "A"
	// The base may stand after what was taken from it.
	s := adjust(t, Readings{Features: loose, Points: []Point{b, c, a}})
	at, _ := s.Mark("B")
	other, _ := s.Mark("C")
	assert.InDelta(t, 110, s.Marks[at].At.X, 1e-12)
	assert.InDelta(t, (1.0+4)/3, variances(s, at)[0], 1e-12)
	assert.InDelta(t, 1.0/3, s.Covariance(at, other).At(0, 0), 1e-12, "both hang on A")
}

func TestBasesInACircleAreRefused(t *testing.T) {
	a, b := point("things", "A", 1, 0, 0, 1), point("things", "B", 1, 0, 0, 1)
	a.Base, b.Base = "B", "A"
	a.BasePos = table.Pos{File: "points.csv", Line: 2, Column: 9}
	b.BasePos = table.Pos{File: "points.csv", Line: 3, Column: 9}
	_, err := Adjust(Readings{Features: loose, Points: []Point{a, b}})
	require.Error(t, err)
	assert.Contains(t, err.Error(), "points.csv:")
	assert.Contains(t, err.Error(), "measure one of them from the datum")
}

func TestBlankCoordinateNeedsATape(t *testing.T) {
	p := point("things", "A", 1, 2, 3, 1)
	p.At[1].Given = false
	s := adjust(t, Readings{Features: loose, Points: []Point{p, point("things", "B", 0, 0, 0, 1)}})
	assert.False(t, s.Marks[0].Located)
	assert.Equal(t, []int{0}, s.Features[0].Missing)
	assert.Len(t, s.Features[0].Pieces, 1)
}

func TestConflictOfRepeatsIsADoubt(t *testing.T) {
	s := adjust(t, Readings{Features: loose, Points: []Point{point("things", "A", 10, 0, 0, 1), point("things", "A", 13, 0, 0, 1)}})
	require.Len(t, s.Doubts, 1)
	assert.Equal(t, 3, s.Doubts[0].Pos.Line)
	assert.Contains(t, s.Doubts[0].Says, "x of A reads 13 here and 10 on line 2")
	// Limits that just meet are no conflict.
	s = adjust(t, Readings{Features: loose, Points: []Point{point("things", "A", 10, 0, 0, 1), point("things", "A", 12, 0, 0, 1)}})
	assert.Empty(t, s.Doubts)
}

func TestMarkProudOfItsFlatIsADoubt(t *testing.T) {
	var points []Point
	for i := 0; i < 9; i++ {
		z := 0.0
		if i == 4 {
			z = 25.4
		}
		points = append(points, point("wall", fmt.Sprintf("B%d", i+1), 100*float64(i%3), 100*float64(i/3), z, 1.5))
	}
	s := adjust(t, Readings{Features: []FeatureSpec{{Name: "wall", Shape: Face, Mount: true}}, Points: points})
	require.NotEmpty(t, s.Doubts)
	assert.Contains(t, s.Doubts[0].Says, "B5 stands proud of the flat")
	assert.Len(t, s.Rows[4].Flats, 1, "the flat's other marks check it")
}

// tilted is a survey in axes of its own: a flat with things in front of it,
// turned and shifted at random.
func tilted(random *rand.Rand) Readings {
	axis := r3.Vector{X: random.NormFloat64(), Y: random.NormFloat64(), Z: random.NormFloat64()}.Normalize()
	angle := random.Float64() * 3
	turn := func(v r3.Vector) r3.Vector { // Rodrigues
		sin, cos := math.Sincos(angle)
		return v.Mul(cos).Add(axis.Cross(v).Mul(sin)).Add(axis.Mul(axis.Dot(v) * (1 - cos)))
	}
	var points []Point
	put := func(feature, mark string, v r3.Vector) {
		v = turn(v).Add(r3.Vector{X: 3000, Y: -700, Z: 40})
		points = append(points, point(feature, mark, v.X, v.Y, v.Z, 1))
	}
	for i := 0; i < 8; i++ {
		put("wall", fmt.Sprintf("B%d", i), r3.Vector{X: 50 * float64(i%4), Y: 90 * float64(i/4), Z: 1e-3 * random.NormFloat64()})
	}
	put("", "E", r3.Vector{X: 20, Y: 30, Z: 90})
	put("", "X", r3.Vector{X: 180, Y: 0, Z: 60}) // in front of the flat, to the right of B0
	for i := 0; i < 3; i++ {
		put("things", fmt.Sprintf("T%d", i), r3.Vector{X: 300 * random.Float64(), Y: 200 * random.Float64(), Z: 200 * random.Float64()})
	}
	return Readings{
		Points:   points,
		Features: []FeatureSpec{{Name: "wall", Shape: Face, Mount: true}, {Name: "things", Shape: Dots}},
		Frame:    &Frame{Origin: "B0", XToward: "X", OutToward: "E"},
	}
}

func TestFrameIsTheMountingFrame(t *testing.T) {
	for seed := uint64(0); seed < 20; seed++ {
		s := adjust(t, tilted(rand.New(rand.NewPCG(seed, 1))))
		assert.InDelta(t, 0, s.Marks[0].At.Norm(), 1e-9, "the origin's mark")
		x, _ := s.Mark("X")
		assert.InDelta(t, 180, s.Marks[x].At.X, 1e-2, "x toward X")
		assert.InDelta(t, 0, s.Marks[x].At.Y, 1e-9, "x toward X")
		e, _ := s.Mark("E")
		assert.InDelta(t, 90, s.Marks[e].At.Z, 1e-2, "out toward E")
		assert.InDelta(t, 30, s.Marks[e].At.Y, 1e-2, "right-handed")
	}
}

// Each mark in the frame must move with each reading as the terms say: readings
// are changed one at a time and everything is worked out again.
func TestFrameTermsAgainstMovedReadings(t *testing.T) {
	const step = 1e-4
	axes := [3]r3.Vector{{X: 1}, {Y: 1}, {Z: 1}}
	for seed := uint64(0); seed < 5; seed++ {
		r := tilted(rand.New(rand.NewPCG(seed, 2)))
		s := adjust(t, r)
		moved := map[int][]r3.Vector{} // source -> how far each mark moves for 1 mm
		for k, source := range s.Sources() {
			q := r
			q.Points = append([]Point(nil), r.Points...)
			var both [2]*Space
			for side, sign := range [2]float64{1, -1} {
				q.Points[source.Row].At[source.Axis].Value = r.Points[source.Row].At[source.Axis].Value + sign*step
				both[side] = adjust(t, q)
			}
			for m := range s.Marks {
				moved[k] = append(moved[k], both[0].Marks[m].At.Sub(both[1].Marks[m].At).Mul(1/(2*step)))
			}
		}
		spread := s.Spreader()
		for m := range s.Marks {
			for _, axis := range axes {
				want := make([]float64, len(s.Sources()))
				for k, source := range s.Sources() {
					want[k] = moved[k][m].Dot(axis) * source.U
				}
				got := make([]float64, len(want))
				for _, term := range spread.Terms(Gradient{{m, axis}}) {
					got[term.Source] = term.By
				}
				assert.InDeltaSlice(t, want, got, 1e-4, "mark %s along %v", s.Marks[m].Name, axis)
			}
		}
	}
}

func TestZeroReadingsMakeAnEmptySpace(t *testing.T) {
	s, err := Adjust(Readings{})
	require.NoError(t, err)
	assert.Empty(t, s.Marks)
	assert.Equal(t, -1, s.Mount)
}

func TestSlipsOfTheHandAreDoubts(t *testing.T) {
	const in = 25.4
	base := func() []Point {
		return []Point{
			point("things", "A", 1*in, 6*in, 2*in, 1), point("things", "B", 2*in, 7*in, 2.1*in, 1),
			point("things", "C", 3*in, 6.5*in, 1.9*in, 1), point("things", "D", 2.5*in, 6.2*in, 2*in, 1),
		}
	}
	set := func(p Point, axis int, mm float64, text string) Point {
		p.At[axis] = Coordinate{Value: mm, Given: true, Text: text}
		return p
	}
	for _, c := range []struct {
		name, says, suggests string
		odd                  Point
	}{
		{"millimetres as inches", "as 50 mm it would fit", "50 mm", set(point("things", "E", 2*in, 6.1*in, 0, 1), 2, 50*in, "50")},
		{"swapped", "x and y of E look swapped", "2 1/2", set(set(point("things", "E", 0, 0, 2*in, 1), 0, 60*in, "60"), 1, 2.5*in, "2 1/2")},
		{"far away", "far from the rest", "", set(point("things", "E", 2*in, 6.1*in, 0, 1), 2, 900, "900")},
	} {
		t.Run(c.name, func(t *testing.T) {
			points := base()
			if c.name == "swapped" {
				for i := range points {
					points[i].At[1].Value += 54 * in
				}
			}
			s := adjust(t, Readings{Features: loose, Points: append(points, c.odd)})
			require.NotEmpty(t, s.Doubts)
			assert.Contains(t, s.Doubts[0].Says, c.says)
			assert.Equal(t, c.suggests, s.Doubts[0].Suggests)
		})
	}
	assert.Empty(t, adjust(t, Readings{Features: loose, Points: base()}).Doubts)
}
