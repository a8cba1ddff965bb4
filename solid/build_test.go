package solid

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/solid/shape"
)

func v(x, y, z float64) r3.Vector { return r3.Vector{X: x, Y: y, Z: z} }

func near(t *testing.T, want, got r3.Vector, args ...any) {
	t.Helper()
	assert.Less(t, want.Distance(got), 1e-12*(1+want.Norm()), append([]any{"want %v, got %v: %v", want, got}, args...)...)
}

// box200 is a bare box of 200 x 120 x 80 mm.
func box200() Tank { return Tank{Size: Size{Width: 200, Height: 120, Depth: 80}} }

// with is the tank with a fitting more.
func (t Tank) with(f Fitting) Tank {
	t = t.clone()
	t.Fittings = append(t.Fittings, f)
	return t
}

// part finds a part by its name.
func part(t *testing.T, a *Assembly, name string) Part {
	t.Helper()
	for _, p := range a.Parts {
		if p.Name == name {
			return p
		}
	}
	require.Fail(t, "no part is called "+name)
	return Part{}
}

func build(t *testing.T, tank Tank) *Assembly {
	t.Helper()
	a, err := Build(tank)
	require.NoError(t, err)
	return a
}

// Where a fitting stands, for each side and each edge that it can be measured
// from, and how far it goes with the sizes. By hand.
func TestPlaceOfAFitting(t *testing.T) {
	from := func(s Side, by float64) Offset { return Offset{From: s, By: by} }
	for _, c := range []struct {
		side             Side
		at               Spot
		want, out, moves r3.Vector
	}{
		{Top, Spot{from(Left, 30), from(Back, 25)}, v(30, 120, 25), v(0, 1, 0), v(0, 1, 0)},
		{Top, Spot{from(Right, 30), from(Back, 25)}, v(170, 120, 25), v(0, 1, 0), v(1, 1, 0)},
		{Top, Spot{from(Left, 30), from(Front, 25)}, v(30, 120, 55), v(0, 1, 0), v(0, 1, 1)},
		{Top, Spot{}, v(100, 120, 40), v(0, 1, 0), v(0.5, 1, 0.5)},
		{Bottom, Spot{from(Left, 30), from(Back, 25)}, v(30, 0, 25), v(0, -1, 0), v(0, 0, 0)},
		{Bottom, Spot{from(Right, 30), from(Front, 25)}, v(170, 0, 55), v(0, -1, 0), v(1, 0, 1)},
		{Left, Spot{from(Bottom, 30), from(Back, 25)}, v(0, 30, 25), v(-1, 0, 0), v(0, 0, 0)},
		{Left, Spot{from(Top, 30), from(Front, 25)}, v(0, 90, 55), v(-1, 0, 0), v(0, 1, 1)},
		{Right, Spot{from(Bottom, 30), from(Back, 25)}, v(200, 30, 25), v(1, 0, 0), v(1, 0, 0)},
		{Right, Spot{from(Top, 30), {}}, v(200, 90, 40), v(1, 0, 0), v(1, 1, 0.5)},
		{Front, Spot{from(Left, 30), from(Bottom, 25)}, v(30, 25, 80), v(0, 0, 1), v(0, 0, 1)},
		{Front, Spot{from(Right, 30), from(Top, 25)}, v(170, 95, 80), v(0, 0, 1), v(1, 1, 1)},
		{Front, Spot{{By: 12}, {By: -7}}, v(112, 53, 80), v(0, 0, 1), v(0.5, 0.5, 1)}, // from the middle, toward plus
	} {
		a := build(t, box200().with(Fitting{
			Name: "fill", Side: c.side, At: c.at, Hole: 18,
			Stack:    []Element{{Name: "neck", Diameter: 20, Length: 10}, {Name: "cap", Diameter: 30, Length: 15, After: true}},
			KeepOpen: []KeepOpen{{Name: "lift", Diameter: 50, Length: 40, Aside: []string{"lid"}}},
		}))
		label := c.side.String()
		want := []Part{
			{Name: "body", Kind: Body, Fitting: -1, Solid: boxBetween(v(0, 0, 0), v(200, 120, 80))},
			{Name: "fill neck", Kind: ElementPart, Follow: c.moves, Solid: shape.Cylinder{Foot: c.want, Axis: c.out.Mul(10), Across: 10}},
			{Name: "fill cap", Kind: ElementPart, Follow: c.moves, After: true, Solid: shape.Cylinder{Foot: c.want.Add(c.out.Mul(10)), Axis: c.out.Mul(15), Across: 15}},
			{Name: "fill lift", Kind: KeepOpenPart, Follow: c.moves, Aside: []string{"lid"}, Solid: shape.Cylinder{Foot: c.want.Add(c.out.Mul(25)), Axis: c.out.Mul(40), Across: 25}},
		}
		require.Len(t, a.Parts, len(want), label)
		for i, p := range a.Parts {
			near(t, want[i].Follow, p.Follow, label, p.Name)
			if got, ok := p.Solid.(shape.Cylinder); ok {
				drawn := want[i].Solid.(shape.Cylinder)
				near(t, drawn.Foot, got.Foot, label, p.Name)
				near(t, drawn.Axis, got.Axis, label, p.Name)
				assert.Equal(t, drawn.Across, got.Across)
				want[i].Solid = got
			}
			want[i].Follow = p.Follow
		}
		assert.Equal(t, want, a.Parts, label)
		require.Len(t, a.Ports, 1)
		near(t, c.want.Add(c.out.Mul(25)), a.Ports[0].At, label)
		near(t, c.out, a.Ports[0].Axis, label)
		near(t, c.moves, a.Ports[0].Follow, label)
	}
}

// A neck on top that leans 30 degrees toward the back, by hand.
func TestLeanByHand(t *testing.T) {
	a := build(t, box200().with(Fitting{
		Name: "fill", Side: Top, Tilt: Tilt{By: 30 * s1.Degree, Toward: Back},
		Stack: []Element{{Name: "neck", Diameter: 20, Length: 30}, {Name: "cap", Diameter: 24, Length: 10}},
	}))
	axis := v(0, math.Sqrt(3)/2, -0.5)
	near(t, axis, a.Ports[0].Axis)
	near(t, v(100, 120, 40).Add(axis.Mul(40)), a.Ports[0].At)
	neck := part(t, a, "fill neck").Solid.(shape.Cylinder)
	near(t, v(100, 120, 40).Sub(axis.Mul(10/math.Sqrt(3))), neck.Foot)
	near(t, v(100, 120, 40).Add(axis.Mul(30)), neck.Foot.Add(neck.Axis), "the outer end stays")
	lid := part(t, a, "fill cap").Solid.(shape.Cylinder)
	near(t, v(100, 120, 40).Add(axis.Mul(30)), lid.Foot)
	near(t, axis.Mul(10), lid.Axis)
}

// Each side, toward each of its neighbours: the axis is of length 1, leans by the
// angle from the side, and toward that neighbour alone.
func TestLeanTowardEachNeighbour(t *testing.T) {
	const by = 25 * s1.Degree
	for _, side := range []Side{Top, Bottom, Left, Right, Front} {
		for _, toward := range Sides() {
			if !side.borders(toward) {
				continue
			}
			a := build(t, box200().with(Fitting{
				Name: "fill", Side: side, Tilt: Tilt{By: by, Toward: toward}, Stack: []Element{{Name: "neck", Diameter: 10, Length: 10}},
			}))
			axis := a.Ports[0].Axis
			assert.InDelta(t, 1, axis.Norm(), 1e-15)
			assert.InDelta(t, math.Cos(by.Radians()), axis.Dot(side.Out()), 1e-15, "%s toward %s", side, toward)
			assert.InDelta(t, math.Sin(by.Radians()), axis.Dot(toward.Out()), 1e-15, "%s toward %s", side, toward)
			third := 3 - side.Axis() - toward.Axis()
			assert.Zero(t, along(axis, third))
		}
	}
}

// inCylinder says whether a point lies in a cylinder, to rounding.
func inCylinder(c shape.Cylinder, p r3.Vector) bool {
	up := p.Sub(c.Foot).Dot(c.Axis) / c.Axis.Norm2()
	out := p.Sub(c.Foot).Sub(c.Axis.Mul(up)).Norm()
	return up >= -1e-9 && up <= 1+1e-9 && out <= c.Across+1e-9
}

// The first element of a fitting that leans holds all of the tube cut to its
// side, and adds nothing outside the body: what it adds lies under its side, no
// farther out than its foot.
func TestLeaningFootIsCutToTheSide(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for _, lean := range []s1.Angle{5 * s1.Degree, 30 * s1.Degree, 60 * s1.Degree} {
		a := build(t, box200().with(Fitting{
			Name: "fill", Side: Top, Tilt: Tilt{By: lean, Toward: Right}, Stack: []Element{{Name: "neck", Diameter: 20, Length: 50}},
		}))
		neck := part(t, a, "fill neck").Solid.(shape.Cylinder)
		axis, across := a.Ports[0].Axis, v(0, 0, 1).Cross(a.Ports[0].Axis)
		foot := v(100, 120, 40)
		mostBelow := 0.0
		for i := 0; i < 20000; i++ {
			sin, cos := math.Sincos(2 * math.Pi * rng.Float64())
			r := 10 * math.Sqrt(rng.Float64())
			p := foot.Add(axis.Mul(100*rng.Float64() - 50)).Add(across.Mul(r * cos)).Add(v(0, 0, r*sin))
			inPart := inCylinder(neck, p)
			if p.Y >= 120 && p.Sub(foot).Dot(axis) <= 50 {
				require.True(t, inPart, "%v of the tube is not in the part", p)
			}
			if p.Y < 120 && inPart {
				require.LessOrEqual(t, math.Abs(p.X-100), 10/math.Cos(lean.Radians())+1e-9, "%v is not under the foot", p)
				require.LessOrEqual(t, math.Abs(p.Z-40), 10+1e-9, "%v is not under the foot", p)
				mostBelow = math.Max(mostBelow, 120-p.Y)
			}
		}
		assert.LessOrEqual(t, mostBelow, 20*math.Sin(lean.Radians()))
	}
}

func TestCoatGrowsTheBodyAlone(t *testing.T) {
	tank := box200().with(Fitting{Name: "vent", Side: Top, Stack: []Element{{Name: "bung", Diameter: 20, Length: 10}}}).
		with(Fitting{Name: "drain", Side: Bottom, Hole: 10, KeepOpen: []KeepOpen{{Name: "plug", Diameter: 10, Length: 10}}})
	tank.Brackets = []Bracket{{Name: "tab", Min: v(-15, 20, 0), Max: v(0, 40, 3)}}
	tank.Coat = 0.5
	a := build(t, tank)
	assert.Equal(t, boxBetween(v(-0.5, -0.5, -0.5), v(200.5, 120.5, 80.5)), part(t, a, "body").Solid)
	assert.Equal(t, boxBetween(v(-15, 20, 0), v(0, 40, 3)), part(t, a, "tab").Solid)
	assert.Equal(t, v(100, 120, 40), part(t, a, "vent bung").Solid.(shape.Cylinder).Foot, "under the paint")
	assert.Equal(t, v(100, -0.5, 40), part(t, a, "drain plug").Solid.(shape.Cylinder).Foot, "a bare hole's room starts from the paint, which it would else foul")
}

func TestBracketStaysWhereItIsDrawn(t *testing.T) {
	tank := box200()
	tank.Brackets = []Bracket{
		{Name: "left tab", Min: v(-15, 20, 0), Max: v(0, 40, 3)},
		{Name: "right tab", Min: v(200, 20, 0), Max: v(215, 40, 3)},
		{Name: "hanger", Min: v(90, 125, 80), Max: v(110, 140, 90)},
		{Name: "wide plate", Min: v(-20, 0, -3), Max: v(220, 120, 0)},
	}
	a := build(t, tank)
	for i, want := range []r3.Vector{{}, v(1, 0, 0), v(0, 1, 1), {}} {
		k := tank.Brackets[i]
		p := part(t, a, k.Name)
		assert.Equal(t, Part{Name: k.Name, Kind: BracketPart, Fitting: -1, Solid: boxBetween(k.Min, k.Max), Follow: want}, p)
	}
}

// A bare hole makes a port, and no part but its rooms.
func TestBareHole(t *testing.T) {
	a := build(t, box200().with(Fitting{Name: "drain", Side: Bottom, At: Spot{{From: Left, By: 20}, {}}, Hole: 10}))
	assert.Len(t, a.Parts, 1)
	assert.Equal(t, []Port{{At: v(20, 0, 40), Axis: v(0, -1, 0), Follow: v(0, 0, 0.5)}}, a.Ports)
}

func TestBuildKeepsItsOwnCopy(t *testing.T) {
	tank := sound()
	tank.Fittings[0].KeepOpen[0].Aside = []string{"lid"}
	a := build(t, tank)
	tank.Brackets[0].Name, tank.Fittings[0].Name, tank.Fittings[0].Stack[0].Length = "x", "x", 99
	tank.Fittings[0].KeepOpen[0].Name, tank.Fittings[0].KeepOpen[0].Aside[0] = "x", "x"
	want := sound()
	want.Fittings[0].KeepOpen[0].Aside = []string{"lid"}
	assert.Equal(t, want, a.Tank)
	assert.Equal(t, []string{"lid"}, part(t, a, "fill lift").Aside)
}

func TestZeroValues(t *testing.T) {
	assert.Zero(t, Part{}.Share(v(1, 2, 3), Size{}), "a body of no size")
	assert.Equal(t, v(1, 0.5, 0), Part{}.Share(v(9, 1, -1), Size{Width: 2, Height: 2, Depth: 2}))
	assert.Equal(t, Tank{}, Tank{}.Resized(Size{}))
	assert.Zero(t, Tilt{}.axis(NoSide))
	assert.Empty(t, Problem{}.Text(millimetres))
	assert.Equal(t, ": ; ", Problems{{}}.Error())
	assert.Empty(t, Problems(nil).Error())
	assert.False(t, build(t, Tank{Size: Size{1, 1, 1}, Place: Place{At: r2.Point{X: -5e7}}}).Known, "no sheet; and a datum may be far off")
}
