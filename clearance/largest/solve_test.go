package largest

import (
	"context"
	"fmt"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/clearance"
	"elbowroom/solid"
	"elbowroom/survey"
	"elbowroom/survey/length"
	"elbowroom/survey/table"
)

// scene is a survey and a tank that a test changes as it likes.
type scene struct {
	readings survey.Readings
	tank     solid.Tank
	rules    clearance.Rules
	limits   Limits
}

func v(x, y, z float64) r3.Vector { return r3.Vector{X: x, Y: y, Z: z} }

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

func (s *scene) gap(feature string, gap float64) {
	if s.rules.Asks == nil {
		s.rules.Asks = map[string]clearance.Ask{}
	}
	s.rules.Asks[feature] = clearance.Ask{Gap: gap}
}

func (s *scene) solve(t testing.TB) *Answer {
	t.Helper()
	space, err := survey.Adjust(s.readings)
	require.NoError(t, err)
	a, err := Solve(context.Background(), space, s.tank, s.rules, s.limits)
	require.NoError(t, err)
	return a
}

func room(x0, x1, y0, y1, z0, z1 float64) [3]Range {
	return [3]Range{{x0, x1, true}, {y0, y1, true}, {z0, z1, true}}
}

// exactBox is a cube made and placed exactly, in a space with exact marks.
func exactBox() scene {
	return scene{tank: solid.Tank{Size: solid.Size{Width: 10, Height: 10, Depth: 10}}}
}

// Two planes with known optima, each solved by hand: a quarter of what is under a
// wedge (w·y·(300-y/2) is greatest at y = 300), and a 27th of what is under an oblique
// plane (x/600 = y/600 = z/300 = 1/3).
func TestPlanes(t *testing.T) {
	wedge := exactBox()
	wedge.feature(survey.FeatureSpec{Name: "hood", Shape: survey.Skin, Behind: v(0, 0, 1)}, 0,
		v(0, 0, 300), v(600, 0, 300), v(0, 600, 0), v(600, 600, 0))
	wedge.gap("hood", 0)
	wedge.limits.Room = room(0, 600, 0, 600, 0, 300)
	a := wedge.solve(t)
	t.Log(a.AtMost, a.Gap, a.Free[0].OutsideL, a.Looked)
	assert.InEpsilon(t, 27.0, a.Free[0].OutsideL, 0.005)
	assert.GreaterOrEqual(t, a.AtMost, 27.0-1e-9)

	oblique := exactBox()
	oblique.feature(survey.FeatureSpec{Name: "hood", Shape: survey.Skin, Behind: v(0, 0, 1)}, 0,
		v(1800, -600, -300), v(-600, 1800, -300), v(0, 0, 300))
	oblique.gap("hood", 0)
	oblique.limits.Room = room(0, 600, 0, 600, 0, 300)
	a = oblique.solve(t)
	t.Log(a.AtMost, a.Gap, a.Free[0].OutsideL, a.Looked)
	assert.InEpsilon(t, 4.0, a.Free[0].OutsideL, 0.005)
	assert.GreaterOrEqual(t, a.AtMost, 4.0-1e-9)
}
