package clearance

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/solid"
	"elbowroom/survey"
	"elbowroom/survey/length"
	"elbowroom/survey/table"
)

// scene is a survey and a tank that a test changes as it likes.
type scene struct {
	readings survey.Readings
	tank     solid.Tank
	rules    Rules
}

func (s *scene) feature(spec survey.FeatureSpec, within float64, marks ...r3.Vector) {
	for i, at := range marks {
		s.mark(spec.Name, fmt.Sprintf("%s%d", spec.Name, i+1), at, within)
	}
	s.readings.Features = append(s.readings.Features, spec)
}

func (s *scene) mark(feature, name string, at r3.Vector, within float64) {
	p := survey.Point{Feature: feature, Mark: name, Limit: length.Limit{Plus: within, Minus: within}}
	for axis, x := range [3]float64{at.X, at.Y, at.Z} {
		p.At[axis] = survey.Coordinate{Value: x, Given: true}
	}
	p.Pos = table.Pos{File: "points.csv", Line: len(s.readings.Points) + 2, Column: 1}
	s.readings.Points = append(s.readings.Points, p)
}

func (s scene) checker(t testing.TB) *checker {
	t.Helper()
	space, err := survey.Adjust(s.readings)
	require.NoError(t, err)
	assembly, err := solid.Build(s.tank)
	require.NoError(t, err)
	return newChecker(space, assembly, s.rules.withDefaults())
}

func (s scene) check(t *testing.T) *Report {
	t.Helper()
	c := s.checker(t)
	rep, err := Check(context.Background(), c.space, c.assembly, s.rules)
	require.NoError(t, err)
	return rep
}

func (r *Report) line(part, feature string) Line {
	for _, l := range r.Lines {
		if l.Part == part && l.Feature == feature {
			return l
		}
	}
	return Line{Part: "no such line"}
}

func v(x, y, z float64) r3.Vector { return r3.Vector{X: x, Y: y, Z: z} }

// box100 is a 100 mm cube at the origin, made and placed exactly.
func box100() solid.Tank {
	return solid.Tank{Size: solid.Size{Width: 100, Height: 100, Depth: 100}}
}

func dots(name string) survey.FeatureSpec { return survey.FeatureSpec{Name: name, Shape: survey.Dots} }

// crowd is a scene with every shape, every kind of part and a hose.
func crowd(seed uint64) scene {
	rng := rand.New(rand.NewPCG(seed, 9))
	jit := func(x, y, z float64) r3.Vector {
		return v(x+2*rng.NormFloat64(), y+2*rng.NormFloat64(), z+2*rng.NormFloat64())
	}
	var s scene
	s.feature(survey.FeatureSpec{Name: "wall", Shape: survey.Face, Mount: true}, 1.5,
		v(0, 0, 1), v(300, 0, -1), v(0, 200, 0.5), v(300, 200, 1), v(150, 100, 0), v(150, 0, 0))
	s.feature(survey.FeatureSpec{Name: "lip", Shape: survey.Edge, Round: 3, Behind: v(0, 1, 0)}, 1.5,
		jit(0, 190, 40), jit(150, 190, 40), jit(300, 190, 40))
	s.feature(survey.FeatureSpec{Name: "lid", Shape: survey.Skin, Behind: v(0, 1, 0)}, 1.5,
		jit(0, 260, 20), jit(300, 262, 20), jit(10, 258, 200), jit(290, 256, 200), jit(140, 255, 110))
	s.feature(survey.FeatureSpec{Name: "lump", Shape: survey.Block}, 1.5,
		jit(60, 40, 170), jit(200, 40, 165), jit(60, 160, 172), jit(200, 160, 170), jit(130, 100, 260))
	s.feature(survey.FeatureSpec{Name: "pipe", Shape: survey.Tube, Diameter: 8, Touched: v(0, 0, 1)}, 1.5,
		jit(20, 0, 15), jit(22, 100, 14), jit(18, 220, 15))
	s.feature(survey.FeatureSpec{Name: "loom", Shape: survey.Dots, Round: 5}, 1.5, jit(100, -10, 30), jit(180, -12, 30))
	s.feature(survey.FeatureSpec{Name: "run", Shape: survey.Tube, Run: true}, 1.5, jit(400, 60, 60), jit(405, -60, 70))
	s.mark("", "pump", v(420, -200, 90), 1.5)
	s.tank = solid.Tank{
		Size: solid.Size{Width: 180, Height: 120, Depth: 90}, Within: 1.5, Coat: 0.2,
		Place: solid.Place{At: r2.Point{X: 60, Y: 30}, StandOff: 10, Within: 1},
		Sheet: 2, InsideRadius: 3, Alloy: "5052-H32",
		Brackets: []solid.Bracket{{Name: "tab", Min: v(-15, 20, -10), Max: v(0, 40, 3)}},
		Fittings: []solid.Fitting{
			{Name: "fill", Side: solid.Top, At: solid.Spot{{From: solid.Left, By: 60}, {From: solid.Front, By: 45}}, Within: 1,
				Tilt:     solid.Tilt{By: 10 * s1.Degree, Toward: solid.Right},
				Stack:    []solid.Element{{Name: "neck", Diameter: 40, Length: 25}, {Name: "cap", Diameter: 55, Length: 20}},
				KeepOpen: []solid.KeepOpen{{Name: "lift", Diameter: 80, Length: 35, Aside: []string{"lid"}}}},
			{Name: "outlet", Side: solid.Right, At: solid.Spot{{By: 0}, {From: solid.Back, By: 40}}, Within: 1,
				Stack: []solid.Element{{Name: "barb", Diameter: 20, Length: 30}}},
		},
	}
	s.rules.Hoses = []HoseSpec{{Name: "hose", From: "outlet", To: "pump", Along: "run", Outside: 27, BendRadius: 60, Arrives: v(0, -1, 0)}}
	return s
}

func TestEveryPartHasALineAgainstEveryFeature(t *testing.T) {
	rep := crowd(1).check(t)
	parts := []string{"body", "tab", "fill neck", "fill cap", "fill lift", "outlet barb", "hose"}
	meant := map[Contact]bool{}
	for _, m := range rep.OnPurpose {
		meant[m] = true
	}
	for _, part := range parts {
		for _, feature := range []string{"wall", "lip", "lid", "lump", "pipe", "loom"} {
			l := rep.line(part, feature)
			switch {
			case part == "fill lift" && feature == "lid": // aside
				assert.Equal(t, "no such line", l.Part)
			case meant[Contact{part, feature}]:
				assert.Equal(t, "no such line", l.Part)
			default:
				assert.Equal(t, part, l.Part, "%s against %s", part, feature)
				assert.False(t, math.IsNaN(l.Clearance) || math.IsNaN(l.U) || l.U <= 0)
			}
		}
	}
	assert.Equal(t, []Contact{{"tab", "wall"}, {"hose", "outlet barb"}}, rep.OnPurpose)
}

// Each clearance must move with each reading, size and place as its terms say:
// everything is changed a little both ways, one at a time, and checked again.
func TestTermsAgainstChangedInputs(t *testing.T) {
	if testing.Short() {
		t.Skip("it reckons long, one thing after the other")
	}
	const step = 1e-4
	for seed := uint64(0); seed < 4; seed++ {
		s := crowd(seed)
		// No line is settled at a gap like that, so that each keeps its terms.
		s.rules.Gaps = map[string]float64{"fixed": 1e9, "hose": 1e9}
		s.rules.Asks = map[string]Ask{"wall": {Gap: 1e9}}
		c := s.checker(t)
		drafts := allLines(c)
		slope := func(change func(s *scene, by float64)) map[string]float64 {
			var both [2]map[string]draft
			for i, by := range [2]float64{step, -step} {
				q := s
				q.readings.Points = append([]survey.Point(nil), s.readings.Points...)
				q.tank.Fittings = append([]solid.Fitting(nil), s.tank.Fittings...)
				change(&q, by)
				both[i] = allLines(q.checker(t))
			}
			out := map[string]float64{}
			for k := range both[0] {
				out[k] = (both[0][k].main.value - both[1][k].main.value) / (2 * step)
			}
			return out
		}
		compare := func(source int, u float64, change func(s *scene, by float64)) {
			got := slope(change)
			for k, d := range drafts {
				if d.main.value < 0 || d.main.terms == nil {
					continue // an overlap's depth is a bound; room for a hand asks no gap
				}
				want := 0.0
				for _, term := range d.main.terms {
					if term.Source == source {
						want = term.By
					}
				}
				assert.InDelta(t, want, got[k]*u, 2e-2*u, "%s, source %d", k, source)
			}
		}
		for k, source := range c.space.Sources() {
			compare(k, source.U, func(s *scene, by float64) {
				s.readings.Points[source.Row].At[source.Axis].Value += by
			})
		}
		size, place := rectangular(s.tank.Within), rectangular(s.tank.Place.Within)
		compare(c.making.first+0, size, func(s *scene, by float64) { s.tank.Size.Width += by })
		compare(c.making.first+1, size, func(s *scene, by float64) { s.tank.Size.Height += by })
		compare(c.making.first+2, size, func(s *scene, by float64) { s.tank.Size.Depth += by })
		compare(c.making.first+3, place, func(s *scene, by float64) { s.tank.Place.At.X += by })
		compare(c.making.first+4, place, func(s *scene, by float64) { s.tank.Place.At.Y += by })
		compare(c.making.first+5, place, func(s *scene, by float64) { s.tank.Place.StandOff += by })
		compare(c.making.first+6, rectangular(1), func(s *scene, by float64) { s.tank.Fittings[0].At[0].By += by })
		compare(c.making.first+7, rectangular(1), func(s *scene, by float64) { s.tank.Fittings[0].At[1].By -= by }) // from the front
		compare(c.making.first+8, rectangular(1), func(s *scene, by float64) { s.tank.Fittings[1].At[0].By += by })
	}
}

func allLines(c *checker) map[string]draft {
	_, drafts, _ := c.lines(nil)
	_, hoses, _ := c.hoses()
	out := map[string]draft{}
	for _, d := range append(drafts, hoses...) {
		out[d.line.Part+" against "+d.line.Feature] = d
	}
	return out
}
