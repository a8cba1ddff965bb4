package survey_test

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/survey"
	"elbowroom/survey/length"
	"elbowroom/survey/table"
)

// The answers of another program, with their recipe, are in testdata/reference
// at the root; its README.md says what they are.
const referenceFile = "../testdata/reference/networks.json"

// How far the answers may differ: a coordinate, mm; an entry of a covariance,
// over the two standard uncertainties that it belongs to; a sum of squares, over
// itself. The program's own ten starts agree to 1e-12 mm.
const (
	referencePlace      = 1e-6
	referenceCovariance = 1e-5
	referenceSum        = 1e-9
)

type referenceSurvey struct {
	Class  string
	Zero   float64
	Framed bool
	Points []struct {
		Mark, Base string
		At         [3]*float64
		Limit      [2]float64
	}
	Tapes []struct {
		From, To string
		Length   float64
		Limit    [2]float64
	}
	Depths []struct {
		Mark, From, To string
		Along, Probe   float64
		Toward         [3]float64
		Limit          [2]float64
	}
	Answers []struct {
		Mark      string
		At        [3]float64
		Own, Next []float64
	}
	Sum     float64
	Freedom int
}

func referenceSurveys(t testing.TB) []referenceSurvey {
	t.Helper()
	text, err := os.ReadFile(referenceFile)
	require.NoError(t, err)
	var all struct{ Networks []referenceSurvey }
	require.NoError(t, json.Unmarshal(text, &all))
	return all.Networks
}

func vectorOf(v [3]float64) r3.Vector { return r3.Vector{X: v[0], Y: v[1], Z: v[2]} }

func numberOf(v float64) survey.Coordinate { return survey.Coordinate{Value: v, Given: true} }

func limitOf(v [2]float64) length.Limit { return length.Limit{Plus: v[0], Minus: v[1]} }

// readings are the survey's rows, each with a place of its own.
func (s *referenceSurvey) readings() survey.Readings {
	r := survey.Readings{TapeFacts: survey.TapeFacts{Class: s.Class, Zero: s.Zero}}
	for i, p := range s.Points {
		row := survey.Point{Mark: p.Mark, Base: p.Base, Limit: limitOf(p.Limit), Pos: table.Pos{File: "points.csv", Line: i + 2}}
		for axis, v := range p.At {
			if v != nil {
				row.At[axis] = numberOf(*v)
			}
		}
		r.Points = append(r.Points, row)
	}
	for i, v := range s.Tapes {
		r.Tapes = append(r.Tapes, survey.Tape{From: v.From, To: v.To, Length: numberOf(v.Length), Limit: limitOf(v.Limit), Pos: table.Pos{File: "tape.csv", Line: i + 2}})
	}
	for i, d := range s.Depths {
		r.Depths = append(r.Depths, survey.Depth{Mark: d.Mark, From: d.From, To: d.To, Along: numberOf(d.Along), Probe: numberOf(d.Probe),
			Toward: vectorOf(d.Toward), Limit: limitOf(d.Limit), Pos: table.Pos{File: "depth.csv", Line: i + 2}})
	}
	if s.Framed {
		s.frame(&r)
	}
	return r
}

// frame makes the first three marks the face, and the fourth the one in front of
// it. With three marks the face is the plane through them. Where nothing but
// tapes and depths is read, the other program holds what the frame makes 0: all
// of the first mark, y and z of the second, z of the third.
func (s *referenceSurvey) frame(r *survey.Readings) {
	r.Features = []survey.FeatureSpec{{Name: "face", Shape: survey.Face, Mount: true}}
	for i, a := range s.Answers[:3] {
		r.Points = append(r.Points, survey.Point{Feature: "face", Mark: a.Mark, Pos: table.Pos{File: "points.csv", Line: len(s.Points) + i + 2}})
	}
	r.Frame = &survey.Frame{Origin: s.Answers[0].Mark, XToward: s.Answers[1].Mark, OutToward: s.Answers[3].Mark}
}

// worst are the greatest differences met.
type worst struct{ place, covariance, sum float64 }

// compare holds the 3x3 block of two marks' covariance against the reference.
func (w *worst) compare(t *testing.T, space *survey.Space, i, j int, want []float64) {
	t.Helper()
	require.Len(t, want, 9)
	got := space.Covariance(i, j)
	own := [2][3]float64{}
	for k, m := range [2]int{i, j} {
		c := space.Covariance(m, m)
		own[k] = [3]float64{c.At(0, 0), c.At(1, 1), c.At(2, 2)}
	}
	for a := range 3 {
		for b := range 3 {
			scale := math.Sqrt(own[0][a] * own[1][b])
			off := math.Abs(got.At(a, b) - want[3*a+b])
			if scale > onPin {
				w.covariance = max(w.covariance, off/scale)
			}
			assert.LessOrEqual(t, off, referenceCovariance*scale+onPin, "marks %s and %s, entry %d %d", space.Marks[i].Name, space.Marks[j].Name, a, b)
		}
	}
}

// onPin is a variance, mm2, that stands for nothing: a coordinate that the frame
// makes 0 keeps the rounding of a standard uncertainty of a nanometre.
const onPin = 1e-12

// Surveys of random marks against a general-purpose least-squares solver, which
// knows nothing of networks: start values, exact coordinates, the tapes' shared
// error, the frame, probes that turn with it, and the block elimination must lead
// to the same answers. Where marks have coordinates alone, Adjust takes the
// weighted mean of each coordinate without a network; the other program has them
// in its one problem with all the rest, and the least sum is the same.
func TestAdjustAgainstAGeneralSolver(t *testing.T) {
	surveys := referenceSurveys(t)
	require.Len(t, surveys, 20)
	var w worst
	for n, s := range surveys {
		space, err := survey.Adjust(s.readings())
		require.NoError(t, err, "survey %d", n)
		require.Len(t, space.Marks, len(s.Answers))
		for k, a := range s.Answers {
			m, ok := space.Mark(a.Mark)
			require.True(t, ok, a.Mark)
			off := space.Marks[m].At.Sub(vectorOf(a.At)).Norm()
			w.place = max(w.place, off)
			assert.LessOrEqual(t, off, referencePlace, "survey %d: %s", n, a.Mark)
			w.compare(t, space, m, m, a.Own)
			if k+1 < len(s.Answers) {
				next, _ := space.Mark(s.Answers[k+1].Mark)
				w.compare(t, space, m, next, a.Next)
			}
		}
		assert.Equal(t, float64(s.Freedom), space.Adjustment.Redundancy, "survey %d", n)
		sum := space.Adjustment.VarianceFactor * space.Adjustment.Redundancy
		w.sum = max(w.sum, math.Abs(sum-s.Sum)/s.Sum)
		assert.InEpsilon(t, s.Sum, sum, referenceSum, "survey %d", n)
	}
	t.Logf("worst differences: place %.1e mm, covariance %.1e, sum of squares %.1e", w.place, w.covariance, w.sum)
}
