package solid

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// sound is a tank with something of everything, and nothing wrong.
func sound() Tank {
	return Tank{
		Size: Size{Width: 200, Height: 120, Depth: 80}, Within: 1, Coat: 0.1,
		Place: Place{At: r2.Point{X: 50, Y: 30}, StandOff: 5, Turn: 2 * s1.Degree, Within: 1},
		Sheet: 2, InsideRadius: 3, Alloy: "5052-H32", Holds: Coolant,
		Brackets: []Bracket{{Name: "tab", Min: v(-15, 20, 0), Max: v(0, 40, 3)}},
		Fittings: []Fitting{
			{
				Name: "fill", Side: Top, At: Spot{{From: Left, By: 50}, {From: Back, By: 40}}, Within: 1, Hole: 30,
				Stack:    []Element{{Name: "neck", Diameter: 32, Length: 20}, {Name: "cap", Diameter: 50, Length: 15, After: true}},
				KeepOpen: []KeepOpen{{Name: "lift", Diameter: 80, Length: 40}},
			},
			{
				Name: "outlet", Side: Right, At: Spot{{From: Bottom, By: 30}, {}}, Tilt: Tilt{By: 10 * s1.Degree, Toward: Front},
				Stack: []Element{{Name: "barb", Diameter: 20, Length: 30}},
				KeepOpen: []KeepOpen{
					{Name: "driver", Kind: Driver, Diameter: 12, Length: 150},
					{Name: "spanner", Kind: Spanner, Handle: 150, Thick: 12, Sweep: 30 * s1.Degree},
				},
			},
		},
	}
}

// problems are what Build says of a tank.
func problems(t *testing.T, tank Tank) Problems {
	t.Helper()
	a, err := Build(tank)
	if err == nil {
		return nil
	}
	assert.Nil(t, a)
	var all Problems
	require.ErrorAs(t, err, &all)
	return all
}

// One mistake each, and what is said of it.
func TestOneMistake(t *testing.T) {
	require.Empty(t, problems(t, sound()))
	fill := func(f func(*Fitting)) func(*Tank) { return func(t *Tank) { f(&t.Fittings[0]) } }
	outlet := func(f func(*Fitting)) func(*Tank) { return func(t *Tank) { f(&t.Fittings[1]) } }
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		make func(*Tank)
		want string
	}{
		// The box.
		{func(t *Tank) { t.Size.Width = 0 }, "box.width: the width is 0; write more than 0"},
		{func(t *Tank) { t.Size.Height = -120 }, "box.height: the height is -120 mm, less than 0; write more than 0"},
		{func(t *Tank) { t.Size.Depth = nan }, "box.depth: the depth is no number; write a length"},
		{func(t *Tank) { t.Size.Depth = inf }, "box.depth: the depth is no number; write a length"},
		{func(t *Tank) { t.Size.Depth = 3e6 }, "box.depth: the depth is beyond 100000 mm, which nothing here is; check the figure and its unit"},
		{func(t *Tank) { t.Sheet = -2 }, "box.sheet: the sheet is -2 mm, less than 0; write 0 or more"},
		{func(t *Tank) { t.Sheet = nan }, "box.sheet: the sheet is no number; write a length"},
		{func(t *Tank) { t.InsideRadius = -3 }, "box.inside_radius: the inside radius is -3 mm, less than 0; write 0 or more"},
		{func(t *Tank) { t.Coat = -0.1 }, "box.coat: the coat is -0.1 mm, less than 0; write 0 or more"},
		{func(t *Tank) { t.Within = -1 }, "box.within: within is -1 mm, less than 0; write 0 or more"},
		{func(t *Tank) { t.Within = 80 }, "box.within: the depth may turn out 80 mm off, and is only 80 mm; write how near each size will be to its drawing"},
		{func(t *Tank) { t.Place.At.Y = nan }, "box.at: the corner's place is no number; write two lengths, right and up from the datum"},
		{func(t *Tank) { t.Place.StandOff = nan }, "box.stand_off: the stand-off is no number; write a length"},
		{func(t *Tank) { t.Place.Turn = s1.Angle(inf) }, "box.turn: the turn is no number; write an angle in degrees"},
		{func(t *Tank) { t.Place.Within = nan }, "box.placed_within: placed_within is no number; write a length"},
		{func(t *Tank) { t.Sheet, t.Size.Depth = 40, 80 }, "box.depth: two thicknesses of 40 mm leave nothing inside; check the sheet and the depth"},
		{func(t *Tank) { t.InsideRadius = 38.1 }, "box.inside_radius: bends of inside radius 38.1 mm leave no flat: they take 80.2 mm of the depth, which is 80 mm; use a smaller radius, or a larger box"},
		{func(t *Tank) { t.Alloy = "100% tin" }, `box.alloy: "100% tin" is no aluminium alloy that is known here; write its four figures, as in 5052-H32, or leave it out`},

		// Brackets.
		{func(t *Tank) { t.Brackets[0].Max.X = -15 }, "brackets[0].x: tab starts and ends at -15 mm, so it has no size along x; write the lesser first, then the greater, as in [0, 1/8]"},
		{func(t *Tank) { t.Brackets[0].Max.Y = 12 }, "brackets[0].y: tab runs from 20 mm back to 12 mm; write the lesser first, then the greater, as in [0, 1/8]"},
		{func(t *Tank) { t.Brackets[0].Min.Z = nan }, "brackets[0].z: the first z is no number; write a length"},
		{func(t *Tank) { t.Brackets[0].Max.Z = inf }, "brackets[0].z: the second z is no number; write a length"},
		{func(t *Tank) { t.Brackets[0].Min.X, t.Brackets[0].Max.X = 0, 15 }, "brackets[0]: tab lies wholly inside the body; measure it from the body's lower left back corner: what is left of that, under it or behind it is less than 0"},
		{func(t *Tank) { t.Brackets[0].Name = " " }, "brackets[0].name: a part has no name; write one"},
		{func(t *Tank) { t.Brackets[0].Name = "body" }, "brackets[0].name: two parts are called body; give this one a name of its own"},

		// Where a fitting stands.
		{fill(func(f *Fitting) { f.Side = NoSide }), "fittings[0].side: fill stands on no side; use top, bottom, left, right or front"},
		{fill(func(f *Fitting) { f.Side = Side(12) }), "fittings[0].side: fill stands on no side; use top, bottom, left, right or front"},
		{fill(func(f *Fitting) { f.Side = Back }), "fittings[0].side: fill stands on the back, which is against the face; use top, bottom, left, right or front"},
		{fill(func(f *Fitting) { f.At[0].From = Top }), "fittings[0].at: the top has no top edge; measure from two edges of that side that meet"},
		{fill(func(f *Fitting) { f.At[1].From = Bottom }), "fittings[0].at: the top has no bottom edge; measure from two edges of that side that meet"},
		{fill(func(f *Fitting) { f.At[0].From = Front }), "fittings[0].at: both offsets on the top are from back or front; measure from two edges of that side that meet"},
		{fill(func(f *Fitting) { f.At[1].From = Right }), "fittings[0].at: both offsets on the top are from left or right; measure from two edges of that side that meet"},
		{fill(func(f *Fitting) { f.At[0].By = nan }), "fittings[0].at: the place of fill is no number; write a length"},
		{fill(func(f *Fitting) { f.At[0].By = 11 }), "fittings[0].at: fill hangs over the left edge of the top by 5 mm; move it in"},
		{fill(func(f *Fitting) { f.At[0].By = 190 }), "fittings[0].at: fill hangs over the right edge of the top by 6 mm; move it in"},
		{fill(func(f *Fitting) { f.At[0] = Offset{From: Right, By: -4} }), "fittings[0].at: fill hangs over the right edge of the top by 20 mm; move it in"},
		{fill(func(f *Fitting) { f.At[1].By = 10 }), "fittings[0].at: fill hangs over the back edge of the top by 6 mm; move it in"},
		{fill(func(f *Fitting) { f.At[1] = Offset{By: 40} }), "fittings[0].at: fill hangs over the front edge of the top by 16 mm; move it in"},
		{outlet(func(f *Fitting) { f.At[0].By = 0 }), "fittings[1].at: outlet hangs over the bottom edge of the right by 10 mm; move it in"},
		{outlet(func(f *Fitting) { f.At[0] = Offset{From: Top, By: 9} }), "fittings[1].at: outlet hangs over the top edge of the right by 1 mm; move it in"},
		{fill(func(f *Fitting) { f.Hole = 90 }), "fittings[0].hole: fill is 90 mm across where it stands, and the top is only 80 mm from back to front; make the fitting smaller or the box larger"},
		{fill(func(f *Fitting) { f.Stack[0].Diameter = 90 }), "fittings[0].stack[0].diameter: fill is 90 mm across where it stands, and the top is only 80 mm from back to front; make the fitting smaller or the box larger"},
		{fill(func(f *Fitting) { f.Hole = -30 }), "fittings[0].hole: the hole of fill is -30 mm, less than 0; write 0 or more"},
		{fill(func(f *Fitting) { f.Hole = nan }), "fittings[0].hole: the hole of fill is no number; write a length"},
		{fill(func(f *Fitting) { f.Within = -1 }), "fittings[0].within: within of fill is -1 mm, less than 0; write 0 or more"},

		// How it leans.
		{outlet(func(f *Fitting) { f.Tilt.Toward = Left }), "fittings[1].tilt.toward: outlet on the right cannot lean toward the left; name a side that borders on the right"},
		{outlet(func(f *Fitting) { f.Tilt.Toward = Right }), "fittings[1].tilt.toward: outlet on the right cannot lean toward the right; name a side that borders on the right"},
		{outlet(func(f *Fitting) { f.Tilt.Toward = NoSide }), "fittings[1].tilt.toward: outlet leans toward no side; name a side that borders on the right"},
		{outlet(func(f *Fitting) { f.Tilt.By = 90 * s1.Degree }), "fittings[1].tilt.by: outlet leans by 90 degrees, so it lies in its side; write less than 90deg"},
		{outlet(func(f *Fitting) { f.Tilt.By = 100 * s1.Degree }), "fittings[1].tilt.by: outlet leans by 100 degrees, so it lies in its side; write less than 90deg"},
		{outlet(func(f *Fitting) { f.Tilt.By = -10 * s1.Degree }), "fittings[1].tilt.by: outlet leans by -10 degrees, less than 0; write 0 or more, and the side that it leans to under toward"},
		{outlet(func(f *Fitting) { f.Tilt.By = s1.Angle(nan) }), "fittings[1].tilt.by: the tilt of outlet is no number; write an angle in degrees"},
		{outlet(func(f *Fitting) { f.At[1], f.Tilt.By = Offset{From: Front, By: 11}, 60*s1.Degree }), "fittings[1].at: outlet hangs over the front edge of the right by 9 mm; move it in"},

		// What it is made of.
		{fill(func(f *Fitting) { f.Stack[0].Diameter = 0 }), "fittings[0].stack[0].diameter: the diameter of fill neck is 0; write more than 0"},
		{fill(func(f *Fitting) { f.Stack[1].Length = 0 }), "fittings[0].stack[1].length: the length of fill cap is 0; write more than 0"},
		{fill(func(f *Fitting) { f.Stack[1].Length = -15 }), "fittings[0].stack[1].length: the length of fill cap is -15 mm, less than 0; write more than 0"},
		{fill(func(f *Fitting) { f.Stack[1].Diameter = inf }), "fittings[0].stack[1].diameter: the diameter of fill cap is no number; write a length"},
		{fill(func(f *Fitting) { f.Stack, f.Hole = nil, 0 }), "fittings[0].stack: fill has neither a stack nor a hole; give it at least one element with diameter and length"},
		{fill(func(f *Fitting) { f.KeepOpen[0].Length = 0 }), "fittings[0].keep_open[0].length: the length of fill lift is 0; write more than 0"},
		{outlet(func(f *Fitting) { f.KeepOpen[0].Diameter = nan }), "fittings[1].keep_open[0].diameter: the diameter of outlet driver is no number; write a length"},
		{outlet(func(f *Fitting) { f.KeepOpen[0].Clock = s1.Angle(nan) }), "fittings[1].keep_open[0].clock: the clock of outlet driver is no number; write an angle in degrees"},
		{outlet(func(f *Fitting) { f.KeepOpen[1].Handle = 0 }), "fittings[1].keep_open[1].handle: the handle of outlet spanner is 0; write more than 0"},
		{outlet(func(f *Fitting) { f.KeepOpen[1].Sweep = s1.Angle(inf) }), "fittings[1].keep_open[1].sweep: the sweep of outlet spanner is no number; write an angle in degrees"},
		{fill(func(f *Fitting) { f.Name = "" }), "fittings[0].name: a fitting has no name; write one"},
		{fill(func(f *Fitting) { f.Stack[1].Name = "" }), "fittings[0].stack[1].name: a part has no name; write one"},
		{fill(func(f *Fitting) { f.Stack[1].Name = "neck" }), "fittings[0].stack[1].name: two parts are called fill neck; give this one a name of its own"},
		{fill(func(f *Fitting) { f.KeepOpen[0].Name = "cap" }), "fittings[0].keep_open[0].name: two parts are called fill cap; give this one a name of its own"},
		{outlet(func(f *Fitting) { f.Name = "fill" }), "fittings[1].name: two fittings are called fill; give this one a name of its own"},
	} {
		tank := sound()
		c.make(&tank)
		err := problems(t, tank)
		assert.Equal(t, c.want, err.Error())
	}
}

// What is allowed though it looks odd.
func TestNoMistake(t *testing.T) {
	for name, change := range map[string]func(*Tank){
		"bends that leave just nothing flat":  func(t *Tank) { t.InsideRadius = 38 },
		"a shallow pan, bent at one end only": func(t *Tank) { t.Construction, t.Size.Depth, t.Brackets, t.InsideRadius = PanAndLid, 33, nil, 30 },
		"a bare hole":                         func(t *Tank) { t.Fittings[0].Stack = nil },
		"a foot that touches two edges":       func(t *Tank) { t.Fittings[0].At = Spot{{From: Left, By: 16}, {From: Front, By: 16}} },
		"no lean toward anywhere":             func(t *Tank) { t.Fittings[1].Tilt = Tilt{Toward: Left} },
		"a cap wider than its side":           func(t *Tank) { t.Fittings[0].Stack[1].Diameter = 120 },
		"sheet of no named alloy":             func(t *Tank) { t.Alloy = "" },
		"an alloy unknown, but no sheet":      func(t *Tank) { t.Sheet, t.Alloy = 0, "tin" },
		"a bracket partly inside":             func(t *Tank) { t.Brackets[0].Max.X = 10 },
		"a stand-off into the face":           func(t *Tank) { t.Place.StandOff = -5 },
		"exact in all":                        func(t *Tank) { t.Within, t.Place.Within, t.Fittings[0].Within = 0, 0, 0 },
		"folded sharp":                        func(t *Tank) { t.InsideRadius = 0 },
	} {
		tank := sound()
		change(&tank)
		if name == "a shallow pan, bent at one end only" {
			tank.Fittings = nil
		}
		assert.Empty(t, problems(t, tank), name)
	}
}

// All at once, in order, and no complaint that follows from another: a box of no
// width has no edges to hang over.
func TestSeveralMistakes(t *testing.T) {
	tank := sound()
	tank.Size.Width = 0
	tank.Sheet = -1
	tank.Brackets[0].Max = tank.Brackets[0].Min
	tank.Fittings[0].At[0].By = 500
	tank.Fittings[0].Stack[0].Length = 0
	tank.Fittings[1].Tilt = Tilt{By: 120 * s1.Degree, Toward: Front}
	tank.Fittings[1].At = Spot{{From: Left}, {From: Right}}
	tank.Fittings[1].Name = "fill"
	assert.Equal(t, []string{
		"box.width: the width is 0; write more than 0",
		"box.sheet: the sheet is -1 mm, less than 0; write 0 or more",
		"brackets[0].x: tab starts and ends at -15 mm, so it has no size along x; write the lesser first, then the greater, as in [0, 1/8]",
		"brackets[0].y: tab starts and ends at 20 mm, so it has no size along y; write the lesser first, then the greater, as in [0, 1/8]",
		"brackets[0].z: tab starts and ends at 0 mm, so it has no size along z; write the lesser first, then the greater, as in [0, 1/8]",
		"fittings[0].stack[0].length: the length of fill neck is 0; write more than 0",
		"fittings[1].at: the right has no left edge; measure from two edges of that side that meet",
		"fittings[1].at: the right has no right edge; measure from two edges of that side that meet",
		"fittings[1].tilt.by: fill leans by 120 degrees, so it lies in its side; write less than 90deg",
		"fittings[1].name: two fittings are called fill; give this one a name of its own",
	}, strings.Split(problems(t, tank).Error(), "\n"))
}

// A tank with nothing written in it says so, key by key.
func TestZeroTank(t *testing.T) {
	assert.Equal(t, []string{
		"box.width: the width is 0; write more than 0",
		"box.height: the height is 0; write more than 0",
		"box.depth: the depth is 0; write more than 0",
	}, strings.Split(problems(t, Tank{}).Error(), "\n"))
	tank := box200()
	tank.Brackets, tank.Fittings = make([]Bracket, 1), make([]Fitting, 1)
	tank.Fittings[0].KeepOpen = make([]KeepOpen, 1)
	assert.Equal(t, []string{
		"brackets[0].x: the bracket starts and ends at 0 mm, so it has no size along x; write the lesser first, then the greater, as in [0, 1/8]",
		"brackets[0].y: the bracket starts and ends at 0 mm, so it has no size along y; write the lesser first, then the greater, as in [0, 1/8]",
		"brackets[0].z: the bracket starts and ends at 0 mm, so it has no size along z; write the lesser first, then the greater, as in [0, 1/8]",
		"fittings[0].keep_open[0].diameter: the diameter is 0; write more than 0",
		"fittings[0].keep_open[0].length: the length is 0; write more than 0",
		"fittings[0].stack: the fitting has neither a stack nor a hole; give it at least one element with diameter and length",
		"fittings[0].side: the fitting stands on no side; use top, bottom, left, right or front",
		"brackets[0].name: a part has no name; write one",
		"fittings[0].name: a fitting has no name; write one",
	}, strings.Split(problems(t, tank).Error(), "\n"))
}

// The same in inches, by the caller's own wording.
func TestTextInInches(t *testing.T) {
	inches := func(mm float64) string { return strconv.FormatFloat(mm/25.4, 'f', 2, 64) + " in" }
	tank := sound()
	tank.InsideRadius = 38.1
	tank.Fittings[0].At[0].By = 3.3
	all := problems(t, tank)
	require.Len(t, all, 2)
	assert.Equal(t, "bends of inside radius 1.50 in leave no flat: they take 3.16 in of the depth, which is 3.15 in", all[0].Text(inches))
	assert.Equal(t, "fill hangs over the left edge of the top by 0.50 in", all[1].Text(inches))
	assert.Equal(t, []float64{38.1, 80.2, 80}, all[0].Lengths)
}

// Names may hold what a format would take for its own.
func TestNamesWithPercentSigns(t *testing.T) {
	tank := sound()
	const odd = "50 %s 100 %d"
	tank.Brackets[0] = Bracket{Name: odd, Min: v(1, 1, 1), Max: v(2, 2, 2)}
	tank.Fittings[0].Name, tank.Fittings[0].At[0].By = odd, 0
	tank.Fittings[0].Stack[1] = Element{Name: "%v", Diameter: -4}
	tank.Fittings[1].Name, tank.Fittings[1].Side = odd, NoSide
	tank.Fittings = append(tank.Fittings,
		Fitting{Name: "a%", Side: Bottom, Stack: []Element{{Name: "%", Diameter: 20, Length: 10}}},
		Fitting{Name: "b%", Side: Bottom, Stack: []Element{{Name: "%", Diameter: 20, Length: 10}}},
		Fitting{Name: "c%", Side: Front, Tilt: Tilt{By: 95 * s1.Degree, Toward: Back}, Hole: 3},
		Fitting{Name: "d%", Side: Front, Tilt: Tilt{By: 5 * s1.Degree, Toward: Back}, Hole: 3},
		Fitting{Name: "e%", Side: Front, At: Spot{{From: Left, By: -10}, {}}, Hole: 300},
	)
	text := problems(t, tank).Error()
	assert.NotContains(t, text, "%!")
	assert.NotContains(t, text, "%%")
	for _, want := range []string{
		odd + " lies wholly inside",
		"the diameter of " + odd + " %v is -4 mm",
		odd + " stands on no side",
		"b% overlaps a% by 20 mm",
		"c% leans by 95 degrees",
		"d% on the front cannot lean toward the back",
		"e% is 300 mm across",
		"two fittings are called " + odd,
	} {
		assert.Contains(t, text, want)
	}
}

func TestMillimetres(t *testing.T) {
	for mm, want := range map[float64]string{0: "0 mm", 12345.6789: "12345.679 mm", -0.25: "-0.25 mm", 1e-9: "0 mm", 25.4: "25.4 mm"} {
		assert.Equal(t, want, millimetres(mm))
	}
}
