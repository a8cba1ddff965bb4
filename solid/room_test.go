package solid

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/solid/shape"
)

// outlet is a box with an outlet on a side, and what is to be kept open there.
func outlet(side Side, lean Tilt, rooms ...KeepOpen) Tank {
	return box200().with(Fitting{
		Name: "out", Side: side, At: Spot{{}, {}}, Tilt: lean,
		Stack:    []Element{{Name: "bung", Diameter: 32, Length: 14}, {Name: "barb", Diameter: 20, Length: 30}},
		KeepOpen: rooms,
	})
}

// Looking at each side from outside, 12 is up the face or toward the back, and 3
// to the right of the looker.
func TestTheClock(t *testing.T) {
	for _, c := range []struct {
		side         Side
		twelve, thre Side
	}{{Right, Top, Back}, {Left, Top, Front}, {Front, Top, Right}, {Top, Back, Right}, {Bottom, Back, Left}} {
		k := clockOf(c.side, c.side.Out())
		assert.Equal(t, c.twelve.Out(), k.twelve, "%s", c.side)
		assert.Equal(t, c.thre.Out(), k.three(), "%s", c.side)
		assert.Equal(t, c.twelve.Out(), Twelve(c.side))
	}
	// One that leans keeps its 12 in the plane of the two.
	lean := Tilt{By: 30 * s1.Degree, Toward: Top}
	k := clockOf(Right, lean.axis(Right))
	assert.InDelta(t, 0, k.twelve.Dot(k.Axis), 1e-15)
	assert.InDelta(t, math.Cos(math.Pi/6), k.twelve.Y, 1e-15)
}

// holds says whether a place is in one of the pieces, but for rounding.
func holds(at r3.Vector, pieces ...shape.Convex) bool {
	for _, c := range pieces {
		if shape.Distance(shape.Hull{Points: []r3.Vector{at}}, c).Signed < 1e-9 {
			return true
		}
	}
	return false
}

func pieces(p Part) []shape.Convex { return append([]shape.Convex{p.Solid}, p.More...) }

// Nothing of a spanner, at any place of its swing, is outside its pieces; and the
// pieces reach no farther than said.
func TestSpannerHoldsItsSwing(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 1))
	for _, sweep := range []float64{10, 30, 90, 120, 121, 200, 300, 360} {
		k := KeepOpen{Name: "spanner", Kind: Spanner, Handle: 150, Thick: 8, Wide: 14, Head: 40, Travel: 5, Sweep: s1.Angle(sweep) * s1.Degree, Clock: 40 * s1.Degree, ClockFixed: true, OutGiven: true, Out: 20}
		p := part(t, build(t, outlet(Right, Tilt{}, k)), "out spanner")
		require.Nil(t, p.Turning)
		at := v(200+20, 60, 40)
		all := pieces(p)
		for i := range all {
			all[i] = shape.Prepare(all[i])
		}
		assert.Len(t, p.More, int(math.Ceil(sweep/120)), "%g", sweep)
		for range 150 {
			clock := (40 + sweep*r.Float64()) * math.Pi / 180
			along, across := 150*r.Float64(), 14*(r.Float64()-0.5)
			if r.IntN(2) == 0 { // the handle's far corners, which go farthest
				along, across = 150, 7*float64(2*r.IntN(2)-1)
			}
			up := along*math.Cos(clock) - across*math.Sin(clock)
			right := along*math.Sin(clock) + across*math.Cos(clock)
			// On the right side 12 is +y and 3 is -z.
			place := at.Add(v(-4+13*r.Float64(), up, -right))
			require.True(t, holds(place, all...), "%v", place)
		}
		for _, c := range pieces(p) {
			h, ok := c.(shape.Hull)
			if !ok {
				assert.Equal(t, 20.0, c.(shape.Cylinder).Across)
				continue
			}
			for _, q := range h.Points {
				assert.LessOrEqual(t, math.Hypot(q.Y-at.Y, q.Z-at.Z), math.Hypot(150, 7)+arcOver)
				assert.InDelta(t, at.X+2.5, q.X, 6.5+1e-9)
			}
		}
	}
}

// A sweep does not reach back beyond its handle's first and last place.
func TestSpannerIsNoWiderThanItsSwing(t *testing.T) {
	k := KeepOpen{Name: "spanner", Kind: Spanner, Handle: 150, Thick: 8, Sweep: 30 * s1.Degree, ClockFixed: true}
	p := part(t, build(t, outlet(Front, Tilt{}, k)), "out spanner")
	middle := v(100, 60, 80+14+15) // the middle of the barb
	at := func(r, clock float64) r3.Vector {
		return middle.Add(v(r*math.Sin(clock*math.Pi/180), r*math.Cos(clock*math.Pi/180), 0))
	}
	for _, in := range []float64{0, 15, 30, -1, 31} { // half the thickness beside the middle of the handle
		assert.True(t, holds(at(149, in), pieces(p)...), "%g", in)
	}
	for _, out := range []float64{-3, 33, 90, 180, 270} {
		assert.False(t, holds(at(149, out), pieces(p)...), "%g", out)
	}
	assert.False(t, holds(at(150.5, 15), pieces(p)...))
}

// A driver passes the hose, half of what its clamp goes round and the screw over it off.
func TestDriver(t *testing.T) {
	k := KeepOpen{Name: "driver", Kind: Driver, Clamp: 27}
	p := part(t, build(t, outlet(Right, Tilt{}, k)), "out driver")
	turning := p.Turning
	require.NotNil(t, turning)
	assert.True(t, turning.Any)
	require.Len(t, turning.Ways, 2)
	at := v(200+14+15, 60, 40)
	assert.Equal(t, shape.Cylinder{Foot: at.Add(v(0, 0, -18.5)), Axis: v(0, 175, 0), Across: 6.35}, p.Solid)
	assert.Equal(t, shape.Cylinder{Foot: at.Add(v(0, 0, 18.5)), Axis: v(0, 175, 0), Across: 6.35}, p.Turned(1, 0).Solid)
	// From 3 o'clock it comes from the back, over the hose or under it.
	quarter := p.Turned(0, 90*s1.Degree).Solid.(shape.Cylinder)
	assert.InDelta(t, 0, quarter.Axis.Sub(v(0, 0, -175)).Norm(), 1e-12)
	assert.InDelta(t, 0, quarter.Foot.Sub(at.Add(v(0, -18.5, 0))).Norm(), 1e-12)
	assert.InDelta(t, math.Hypot(175, 18.5)+6.35, turning.Reach, 1e-12)
	assert.Equal(t, [2]float64{-6.35, 6.35}, [2]float64{math.Round(1e9*turning.Low) / 1e9, math.Round(1e9*turning.High) / 1e9})
	// Without a clamp it goes by the element, on the one that is named.
	k = KeepOpen{Name: "driver", Kind: Driver, On: "bung", Clock: 180 * s1.Degree, ClockFixed: true}
	p = part(t, build(t, outlet(Right, Tilt{}, k)), "out driver")
	assert.False(t, p.Turning.Any)
	foot := p.Solid.(shape.Cylinder).Foot
	assert.InDelta(t, 0, foot.Sub(v(207, 60, 40+21)).Norm(), 1e-12, "%v", foot)
}

// Whatever way it stands, a volume stays in the cylinder of its reach, and no
// point of it moves farther than the reach times the turn: the searches rest on it.
func TestTurningKeepsItsReach(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 1))
	rooms := []KeepOpen{
		{Name: "driver", Kind: Driver, Clamp: 27}, {Name: "spanner", Kind: Spanner, Hex: 24},
		{Name: "hand", Kind: BoxRoom, Size: v(80, 40, 60), AnyClock: true},
	}
	a := build(t, outlet(Top, Tilt{By: 20 * s1.Degree, Toward: Right}, rooms...))
	for _, k := range rooms {
		p := part(t, a, "out "+k.Name)
		require.NotNil(t, p.Turning, k.Name)
		round := p.Turning.Round()
		for range 50 {
			from, by := s1.Angle(2*math.Pi*r.Float64()), s1.Angle(0.1*r.Float64())
			for way := range p.Turning.Ways {
				one, two := pieces(p.Turned(way, from)), pieces(p.Turned(way, from+by))
				for i, c := range one {
					dir := v(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Normalize()
					at := c.Support(dir)
					assert.Less(t, shape.Distance(shape.Hull{Points: []r3.Vector{at}}, round).Signed, 1e-9)
					assert.LessOrEqual(t, math.Abs(two[i].Support(dir).Dot(dir)-at.Dot(dir)), p.Turning.Reach*float64(by)+1e-9)
				}
			}
		}
	}
}

func TestBoxAndCapRooms(t *testing.T) {
	a := build(t, outlet(Front, Tilt{},
		KeepOpen{Name: "hand", Kind: BoxRoom, Size: v(80, 40, 60)},
		KeepOpen{Name: "turned", Kind: BoxRoom, Size: v(80, 40, 60), Clock: 90 * s1.Degree, ClockFixed: true},
		KeepOpen{Name: "cap", Kind: CapRoom},
	))
	hand := part(t, a, "out hand")
	assert.Nil(t, hand.Turning)
	assert.Equal(t, shape.Box{Corner: v(60, 40, 124), Edges: [3]r3.Vector{v(80, 0, 0), v(0, 40, 0), v(0, 0, 60)}}, hand.Solid)
	turned := part(t, a, "out turned").Solid
	assert.InDelta(t, 120, turned.Support(v(1, 0, 0)).X, 1e-9, "what was up is across")
	assert.InDelta(t, 100, turned.Support(v(0, 1, 0)).Y, 1e-9)
	cap := part(t, a, "out cap").Solid
	assert.Equal(t, shape.Cylinder{Foot: v(100, 60, 94), Axis: v(0, 0, 80), Across: 35}, cap, "from the foot of the cap, 25 round it and 50 over it")
}

// A small pressure cap, 12 to 16 psi: A 21.34 +- 0.51, E at most 80.26 mm (SAE
// J164-2020, as tabulated by tnlab.org). The hand's room has both, and without an
// element to go by takes the cap's.
func TestCapRoomHoldsAPressureCap(t *testing.T) {
	k := KeepOpen{Kind: CapRoom}.Usual(Fitting{})
	assert.Equal(t, 80.26+2*25, k.Diameter)
	assert.Greater(t, k.Length, 21.34+0.51)
	assert.InDelta(t, capReach, 21.34+0.51, 1e-12)
	assert.Equal(t, capAcross, 80.26)
	assert.Contains(t, strings.Join(KeepOpen{Kind: CapRoom}.Origins(Fitting{}), "; "), "SAE J164")
	assert.Empty(t, KeepOpen{Kind: CapRoom, Diameter: 100, Length: 40}.Origins(Fitting{}))
}

// RoyMech, Head Clearances: the rows of the table for BS 3692 bolts, M3 to M36, as read
// there; the figure that says what a, b and c are was not seen.
func TestSpannerRoomByTheTable(t *testing.T) {
	for _, c := range []struct{ hex, a, b, c float64 }{
		{5.5, 10, 8, 10}, {7, 10, 8, 12}, {8, 10, 8, 12}, {10, 14, 10, 15}, {13, 18, 12, 18}, {17, 28, 14, 21}, {19, 30, 16, 22}, {24, 30, 20, 26}, {30, 32, 22, 32}, {36, 48, 25, 38}, {46, 60, 30, 48}, {55, 60, 34, 52},
	} {
		assert.Equal(t, 2*math.Max(c.a, math.Max(c.b, c.c)), head(c.hex), "%g", c.hex)
	}
	assert.Equal(t, head(24), head(22.2), "the next larger")
	last := 0.0
	for hex := 4.0; hex < 90; hex += 0.5 {
		assert.GreaterOrEqual(t, head(hex), last)
		assert.Greater(t, head(hex), hex*2/math.Sqrt(3), "the jaws are wider than the hexagon's corners")
		last = head(hex)
	}
}

func TestUsualSpanner(t *testing.T) {
	k := KeepOpen{Kind: Spanner, Hex: 24}
	u := k.Usual(Fitting{})
	assert.Equal(t, 30*s1.Degree, u.Sweep)
	assert.Equal(t, []float64{318, 14.399999999999999, 24, 60}, []float64{u.Handle, u.Thick, u.Wide, u.Head})
	assert.Contains(t, strings.Join(k.Origins(Fitting{}), "; "), "RoyMech, Head Clearances")
	assert.Contains(t, strings.Join(k.Origins(Fitting{}), "; "), "NAVEDTRA 14001")
	full := KeepOpen{Kind: Spanner, Handle: 150, Thick: 12, Sweep: 60 * s1.Degree}
	assert.Empty(t, full.Origins(Fitting{}))
	assert.Equal(t, 12.0, full.Usual(Fitting{}).Wide)
}

// ASME B1.20.1: E0 = D - (0.05 D + 1.1) / n, L2 = (0.80 D + 6.8) / n, E1 = E0 + L1 / 16 (formulas from
// memory), against the printed tables (unifiedalloys.com, with the two misprints of L1 and L2 put right).
func TestPipeThreads(t *testing.T) {
	want := map[string][4]float64{ // E0, E1, L2, L1
		"1/8": {.36351, .37360, .2639, .1615}, "1/4": {.47739, .49163, .4018, .2278}, "3/8": {.61201, .62701, .4078, .240},
		"1/2": {.75843, .77843, .5337, .320}, "3/4": {.96768, .98887, .5457, .339}, "1": {1.21363, 1.23863, .6828, .400},
	}
	require.Len(t, PipeThreads(), len(want))
	for _, p := range PipeThreads() {
		w := want[p.Name]
		e0 := p.Pipe - (0.05*p.Pipe+1.1)/p.PerInch
		assert.InDelta(t, w[0], e0, 0.5e-5, p.Name)
		assert.InDelta(t, w[1], e0+w[3]/16, 1e-5, p.Name)
		assert.InDelta(t, w[2]*25.4, p.Effective(), 0.5e-4*25.4+1e-9, p.Name)
		assert.Greater(t, p.Hex, p.Pipe, "a thread is cut on no smaller bar")
		got, ok := FindPipeThread(p.Name)
		assert.True(t, ok)
		assert.Equal(t, p, got)
	}
	_, ok := FindPipeThread("5/8")
	assert.False(t, ok)
}

func TestRoomMistakes(t *testing.T) {
	for _, c := range []struct {
		room KeepOpen
		want string
	}{
		{KeepOpen{Name: "r", Kind: BoxRoom, Size: v(1, 0, 1)}, "fittings[0].keep_open[0].size: the second size of out r is 0; write more than 0"},
		{KeepOpen{Name: "r", Kind: Spanner, Hex: 20, Sweep: 400 * s1.Degree}, "fittings[0].keep_open[0].sweep: the sweep of out r is 400 degrees; write more than 0deg, up to 360deg"},
		{KeepOpen{Name: "r", Kind: Spanner, Hex: -20, Handle: 1, Thick: 1, Sweep: 1}, "fittings[0].keep_open[0].hex: the hex of out r is -20 mm, less than 0; write 0 or more"},
		{KeepOpen{Name: "r", Kind: Driver, On: "nut"}, "fittings[0].keep_open[0].on: out has no element nut; name one of its stack, or leave it out for the outermost"},
		{KeepOpen{Name: "r", Kind: Driver, Clamp: -1}, "fittings[0].keep_open[0].clamp: the clamp of out r is -1 mm, less than 0; write 0 or more"},
	} {
		all := problems(t, outlet(Right, Tilt{}, c.room))
		require.Len(t, all, 1, c.want)
		assert.Equal(t, c.want, all.Error())
	}
}

// A bare hole has its tools on the side itself, clear of the paint.
func TestToolsOnABareHole(t *testing.T) {
	tank := box200().with(Fitting{
		Name: "drain", Side: Bottom, At: Spot{{}, {}}, Hole: 10,
		KeepOpen: []KeepOpen{{Name: "spanner", Kind: Spanner, Handle: 150, Thick: 12, Sweep: 30 * s1.Degree, ClockFixed: true}},
	})
	tank.Coat = 0.5
	p := part(t, build(t, tank), "drain spanner")
	assert.InDelta(t, -0.5, p.Solid.Support(v(0, 1, 0)).Y, 1e-12)
	assert.InDelta(t, -12.5, p.Solid.Support(v(0, -1, 0)).Y, 1e-12)
}

// The simple shapes lie inside the volume, at every clock angle.
func TestCoresLieInside(t *testing.T) {
	for _, sweep := range []float64{10, 30, 200} {
		k := KeepOpen{Name: "spanner", Kind: Spanner, Handle: 150, Thick: 8, Wide: 14, Travel: 5, Sweep: s1.Angle(sweep) * s1.Degree}
		p := part(t, build(t, outlet(Front, Tilt{}, k)), "out spanner")
		for _, clock := range []s1.Angle{0, 1.1} {
			all := pieces(p.Turned(0, clock))
			for i := range all {
				all[i] = shape.Prepare(all[i])
			}
			core := p.Turning.Core(0, clock)
			assert.GreaterOrEqual(t, len(core), 2)
			for _, c := range core {
				b := c.(shape.Box)
				for corner := range 8 {
					at := b.Corner
					for e := range 3 {
						if corner>>e&1 == 1 {
							at = at.Add(b.Edges[e])
						}
					}
					assert.True(t, holds(at, all...), "%g at %v", sweep, at)
				}
			}
		}
	}
}
