package solid

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/s1"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// neck is a fitting of one element on the top, measured from left and back.
func neck(name string, x, z float64, tilt Tilt) Fitting {
	return Fitting{Name: name, Side: Top, At: Spot{{From: Left, By: x}, {From: Back, By: z}}, Tilt: tilt,
		Stack: []Element{{Name: "neck", Diameter: 20, Length: 30}}}
}

func TestFittingsThatCannotBothBeThere(t *testing.T) {
	square := Tilt{}
	lean := func(by float64, toward Side) Tilt { return Tilt{By: s1.Angle(by) * s1.Degree, Toward: toward} }
	for _, c := range []struct {
		name     string
		fittings []Fitting
		want     string // blank: nothing wrong
	}{
		{"apart", []Fitting{neck("a", 30, 40, square), neck("b", 60, 40, square)}, ""},
		{"touching", []Fitting{neck("a", 30, 40, square), neck("b", 50, 40, square)}, ""},
		{"feet overlap", []Fitting{neck("a", 30, 40, square), neck("b", 48, 40, square)},
			"fittings[1].at: on the top, b overlaps a by 2 mm; move one of them"},
		{"feet overlap across", []Fitting{neck("a", 30, 40, square), neck("b", 39, 52, square)},
			"fittings[1].at: on the top, b overlaps a by 5 mm; move one of them"},
		{"the same place", []Fitting{neck("a", 30, 40, square), neck("b", 30, 40, square)},
			"fittings[1].at: on the top, b overlaps a by 20 mm; move one of them"},
		{"a wide hole", []Fitting{neck("a", 30, 40, square), {Name: "b", Side: Top, At: Spot{{From: Left, By: 60}, {}}, Hole: 44}},
			"fittings[1].at: on the top, b overlaps a by 2 mm; move one of them"},
		{"leaning apart, ovals overlap", []Fitting{neck("a", 60, 40, lean(60, Left)), neck("b", 95, 40, lean(60, Right))},
			"fittings[1].at: on the top, b overlaps a by 5 mm; move one of them"}, // 10 / cos 60 = 20 each
		{"leaning apart, ovals touch", []Fitting{neck("a", 60, 40, lean(60, Left)), neck("b", 100, 40, lean(60, Right))}, ""},
		{"leaning past each other", []Fitting{neck("a", 60, 30, lean(30, Right)), neck("b", 80, 50.01, lean(30, Left))}, ""},
		{"a cap into a neck", []Fitting{
			neck("a", 30, 40, square),
			{Name: "b", Side: Top, At: Spot{{From: Left, By: 60}, {}}, Stack: []Element{{Name: "stub", Diameter: 10, Length: 5}, {Name: "cap", Diameter: 50, Length: 10}}}},
			"fittings[1].stack[1]: b cap runs into a neck by 5 mm or more; move or lean one of them away"},
		{"a cap into the body", []Fitting{{Name: "fill", Side: Top, Tilt: lean(30, Back), Stack: []Element{{Name: "neck", Diameter: 20, Length: 5}, {Name: "cap", Diameter: 60, Length: 10}}}},
			"fittings[0].stack[1]: fill cap dips into the body by 10.67 mm or more; lengthen what is under it, or lean the fitting less"},
		{"a cap clear of the body", []Fitting{{Name: "fill", Side: Top, Tilt: lean(30, Back), Stack: []Element{{Name: "neck", Diameter: 20, Length: 18}, {Name: "cap", Diameter: 60, Length: 10}}}}, ""},
		{"a cap beside the body", []Fitting{{Name: "fill", Side: Top, At: Spot{{From: Right, By: 12}, {}}, Tilt: lean(50, Right), Stack: []Element{{Name: "neck", Diameter: 10, Length: 42}, {Name: "cap", Diameter: 80, Length: 10}}}}, ""},
	} {
		tank := box200()
		tank.Fittings = c.fittings
		assert.Equal(t, c.want, problems(t, tank).Error(), c.name)
	}
}

// Where round parts meet at an angle the depth is the least that it can be.
func TestElementsThatRunIntoEachOther(t *testing.T) {
	tank := box200()
	lean := func(toward Side) Tilt { return Tilt{By: 30 * s1.Degree, Toward: toward} }
	tank.Fittings = []Fitting{
		neck("a", 30, 40, lean(Right)), neck("b", 60, 40, lean(Left)),
		{Name: "fill", Side: Top, At: Spot{{From: Right, By: 10}, {}}, Stack: []Element{{Name: "stub", Diameter: 20, Length: 5}, {Name: "cap", Diameter: 60, Length: 10}}},
		{Name: "vent", Side: Right, At: Spot{{From: Top, By: 10}, {}}, Tilt: Tilt{By: 60 * s1.Degree, Toward: Top}, Stack: []Element{{Name: "barb", Diameter: 6, Length: 40}}},
	}
	all := problems(t, tank)
	require.Len(t, all, 2)
	assert.Equal(t, "fittings[1].stack[0]", all[0].Key)
	assert.Equal(t, "b neck runs into a neck by %s or more", all[0].What)
	assert.Equal(t, "move or lean one of them away", all[0].Mend)
	assert.Greater(t, all[0].Lengths[0], 5.0)
	assert.LessOrEqual(t, all[0].Lengths[0], 20.0, "sideways, two tubes of 20 mm are free after that")
	assert.Equal(t, "fittings[3].stack[0]", all[1].Key, "a cap over the edge, and a barb on the next side")
	assert.Equal(t, "vent barb runs into fill cap by %s or more", all[1].What)
	assert.LessOrEqual(t, all[1].Lengths[0], 16.0, "the cap is 10 mm thick, and the barb 6 across")
}

// With three in one place each pair is named.
func TestEachPairThatOverlaps(t *testing.T) {
	tank := box200()
	tank.Fittings = []Fitting{neck("a", 30, 40, Tilt{}), neck("b", 40, 40, Tilt{}), neck("c", 50, 40, Tilt{})}
	assert.Equal(t, "fittings[1].at: on the top, b overlaps a by 10 mm; move one of them\n"+
		"fittings[2].at: on the top, c overlaps b by 10 mm; move one of them", problems(t, tank).Error())
}

// The overlap of two feet against many points of both: where it says that they
// overlap, a point lies in both, and moved apart along no direction by less does
// it end.
func TestOverlapOfFeetAgainstPoints(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	in := func(f foot, x, y float64) bool {
		return math.Pow((x-f.at[0])/f.half[0], 2)+math.Pow((y-f.at[1])/f.half[1], 2) < 1
	}
	for try := 0; try < 100; try++ {
		a := foot{half: [2]float64{1 + rng.Float64(), 1 + rng.Float64()}}
		b := foot{at: [2]float64{6*rng.Float64() - 3, 6*rng.Float64() - 3}, half: [2]float64{1 + rng.Float64(), 1 + rng.Float64()}}
		by := a.overlap(b)
		assert.InDelta(t, by, b.overlap(a), 1e-12, "the same both ways")
		round, other := foot{half: [2]float64{1, 1}}, foot{at: b.at, half: [2]float64{2, 2}}
		assert.InDelta(t, 3-math.Hypot(b.at[0], b.at[1]), round.overlap(other), 1e-12, "two circles")
		meet := func(dx, dy float64) bool {
			moved := b
			moved.at[0], moved.at[1] = b.at[0]+dx, b.at[1]+dy
			for i := 0; i < 1500; i++ {
				sin, cos := math.Sincos(2 * math.Pi * float64(i) / 1500)
				if in(moved, a.half[0]*cos, a.half[1]*sin) || in(a, moved.at[0]+moved.half[0]*cos, moved.at[1]+moved.half[1]*sin) {
					return true
				}
			}
			return in(moved, 0, 0)
		}
		assert.Equal(t, by > 0, meet(0, 0), "%v and %v: %v", a, b, by)
		if by < 0.05 {
			continue
		}
		free := 0
		for i := 0; i < 48; i++ {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / 48)
			assert.True(t, meet(cos*(by-1e-3), sin*(by-1e-3)), "%v and %v part by less than %v", a, b, by)
			if !meet(cos*(by+0.02), sin*(by+0.02)) {
				free++
			}
		}
		assert.Positive(t, free, "%v and %v part along some direction by %v", a, b, by)
	}
}
