package clearance

import (
	"math"
	"testing"

	"github.com/golang/geo/s1"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/solid"
	"elbowroom/survey"
)

// bench is a 100 mm cube with a barb in the middle of its front, and a room there.
func bench(k solid.KeepOpen) scene {
	s := scene{tank: box100()}
	s.tank.Fittings = []solid.Fitting{{
		Name: "out", Side: solid.Front, At: solid.Spot{{}, {}},
		Stack: []solid.Element{{Name: "barb", Diameter: 20, Length: 40}}, KeepOpen: []solid.KeepOpen{k},
	}}
	s.rules.LookedAt = []solid.Side{solid.Left, solid.Right, solid.Top, solid.Bottom, solid.Front, solid.Back}
	s.rules.AcceptSingle = true
	return s
}

// pole is a thin straight thing along z, clock degrees round the barb and so far from its axis.
func (s *scene) pole(name string, clock, far, round, within float64) {
	sin, cos := math.Sincos(clock * math.Pi / 180)
	at := v(50+far*sin, 50+far*cos, 0)
	s.feature(survey.FeatureSpec{Name: name, Shape: survey.Edge, Round: round}, within, at.Add(v(0, 0, 107)), at.Add(v(0, 0, 220)))
}

func degreesOf(arcs []Arc) (out [][2]float64) {
	for _, a := range arcs {
		out = append(out, [2]float64{a.From.Degrees(), a.To.Degrees()})
	}
	return out
}

func (r *Report) room(part string) Room {
	for _, room := range r.Rooms {
		if room.Part == part {
			return room
		}
	}
	return Room{Part: "no such room"}
}

// plain is a driver that comes in across the axis: its clamp goes round nothing, but
// for the screw 5 mm over it.
func plainDriver() solid.KeepOpen {
	return solid.KeepOpen{Name: "driver", Kind: solid.Driver, Diameter: 12, Length: 150, Clamp: 1e-9}
}

// One thin pole: the driver's side is in its way where the pole is nearer its line
// than its radius. In closed form, for a pole r from the axis and a line 5 to either side of it: the driver
// from clock angle a passes at |r sin(a - pole) -+ 5| = 6. Of the two ways round
// the better counts.
func TestDriverBesideAPole(t *testing.T) {
	s := bench(plainDriver())
	s.pole("pole", 90, 100, 0, 0)
	rep := s.check(t)
	room := rep.room("out driver")
	require.True(t, room.Any)
	// Coming in over the axis, it is free from asin((5+6)/100) away on its own side, and from asin(1/100)
	// beyond, on the other: so both ways are blocked within asin(1/100) of the pole.
	half := math.Asin(0.01) * 180 / math.Pi
	require.Len(t, room.Free, 1)
	got := degreesOf(room.Free)[0]
	assert.InDelta(t, 90+half, got[0], 0.5)
	assert.InDelta(t, 360+90-half, got[1], 0.5)
	assert.GreaterOrEqual(t, got[0], 90+half-1e-6, "never beyond the truth")
	assert.LessOrEqual(t, got[1], 450-half+1e-6)
	assert.Equal(t, room.Free, room.Sure, "exact readings, exact making")
	assert.Equal(t, Clears, rep.line("out driver", "pole").Verdict)
	assert.Greater(t, rep.line("out driver", "pole").Clearance, 80.0, "it is held where there is most room")
}

// Against every quarter of a degree tried by itself: an angle in a range has
// room, and one well outside has none.
func TestRangesAgainstTryingEachAngle(t *testing.T) {
	for name, k := range map[string]solid.KeepOpen{
		"driver":  {Name: "tool", Kind: solid.Driver, Diameter: 12, Length: 150, Clamp: 27},
		"spanner": {Name: "tool", Kind: solid.Spanner, Handle: 150, Thick: 12, Sweep: 40 * s1.Degree, Head: 40},
		"box":     {Name: "tool", Kind: solid.BoxRoom, Size: v(160, 30, 60), AnyClock: true},
	} {
		t.Run(name, func(t *testing.T) {
			s := bench(k)
			s.pole("first", 20, 70, 4, 0)
			s.pole("second", 130, 120, 8, 0)
			s.pole("third", 250, 40, 3, 0)
			c := s.checker(t)
			room := c.rooms[0]
			part := c.assembly.Parts[len(c.assembly.Parts)-1]
			clear := func(clock float64) float64 {
				best := math.Inf(-1)
				for way := range part.Turning.Ways {
					thing := newPartThing(part.Turned(way, s1.Angle(clock)*s1.Degree))
					least := math.Inf(1)
					for k := range c.features {
						n, _, _ := c.nearest(thing, &c.features[k])
						least = math.Min(least, n.Signed)
					}
					best = math.Max(best, least)
				}
				return best
			}
			within := func(clock float64) bool {
				for _, a := range degreesOf(room.Free) {
					for _, turn := range []float64{0, 360} {
						if clock+turn >= a[0] && clock+turn <= a[1] {
							return true
						}
					}
				}
				return false
			}
			step := 1.0
			for clock := 0.0; clock < 360; clock += step {
				m := clear(clock)
				if within(clock) {
					assert.GreaterOrEqual(t, m, -1e-6, "%g", clock)
				} else {
					// Not free: short, or too near to settle at a quarter of a degree.
					assert.Less(t, m, part.Turning.Reach*arcStep, "%g", clock)
				}
			}
			require.NotEmpty(t, room.Free)
		})
	}
}

// A ring of poles leaves no way in: fouls, but only where it is sure of every angle.
func TestNoRoomAtAnyClockAngle(t *testing.T) {
	ring := func(within float64) scene {
		s := bench(plainDriver())
		for k := range 36 {
			s.pole("pole "+string(rune('A'+k)), float64(10*k), 60, 4, within)
		}
		return s
	}
	rep := ring(0).check(t)
	room := rep.room("out driver")
	assert.Empty(t, room.Free)
	assert.True(t, room.Nowhere)
	assert.Equal(t, Fouls, rep.Verdict)
	// With readings good to 3.5 mm the angle at which it is held is surely blocked,
	// all of them together are not sure to be: no verdict.
	rep = ring(3.5).check(t)
	assert.False(t, rep.room("out driver").Nowhere)
	assert.Equal(t, Unproven, rep.Verdict)
	worst := rep.Lines[0]
	for _, l := range rep.Lines {
		if l.NotTouching < worst.NotTouching {
			worst = l
		}
	}
	assert.Less(t, worst.NotTouching, 0.025)
	assert.Equal(t, [2]any{Unproven, Near}, [2]any{worst.Verdict, worst.Because})
}

// A stated clock angle is held to, and may clear or foul like any part.
func TestStatedClockAngle(t *testing.T) {
	k := plainDriver()
	k.ClockFixed, k.Clock = true, 90*s1.Degree
	s := bench(k)
	s.pole("pole", 90, 100, 12, 0)
	rep := s.check(t)
	assert.Equal(t, Fouls, rep.line("out driver", "pole").Verdict)
	assert.Equal(t, 90*s1.Degree, rep.room("out driver").Clock)
	k.Clock = 180 * s1.Degree
	s.tank.Fittings[0].KeepOpen[0] = k
	assert.Equal(t, Clears, s.check(t).line("out driver", "pole").Verdict)
}

// Two poles leave a gap of a certain width: a spanner whose swing fits has a place, one
// that is wider has none.
func TestSweepMustFitBetween(t *testing.T) {
	try := func(sweep float64) Room {
		s := bench(solid.KeepOpen{Name: "spanner", Kind: solid.Spanner, Handle: 150, Thick: 10, Wide: 2, Sweep: s1.Angle(sweep) * s1.Degree})
		for k := range 20 { // all but 60 to 130 degrees, 15 degrees apart
			s.pole("pole "+string(rune('A'+k)), 130+float64(k)*290/19, 100, 1, 0)
		}
		return s.check(t).room("out spanner")
	}
	// 70 degrees less what a pole's and the handle's half widths take at 100 mm: 2 mm each side.
	spare := 70 - 2*math.Asin(0.02)*180/math.Pi
	fits := try(spare - 1)
	require.Len(t, fits.Free, 1)
	got := degreesOf(fits.Free)[0]
	assert.InDelta(t, 60+(70-spare)/2, got[0], 0.5)
	assert.LessOrEqual(t, got[1]-got[0], 1.0+1e-9)
	assert.Empty(t, try(spare+0.5).Free)
}

// The sure ranges lie in the free ones, and are narrower with worse readings.
func TestSureRangesShrink(t *testing.T) {
	last := 360.0
	for _, within := range []float64{0, 1, 3} {
		s := bench(plainDriver())
		s.pole("pole", 90, 100, 10, within)
		s.pole("other", 200, 100, 10, within)
		room := s.check(t).room("out driver")
		sum := 0.0
		for _, a := range degreesOf(room.Sure) {
			sum += a[1] - a[0]
		}
		assert.Less(t, sum, last)
		last = sum
		for _, a := range room.Sure {
			inside := false
			for _, f := range room.Free {
				inside = inside || a.From >= f.From-1e-9 && a.To <= f.To+1e-9
			}
			assert.True(t, inside)
		}
	}
}

// Turning everything round the barb turns the answer: a law of the clock.
func TestTurningThePolesTurnsTheAnswer(t *testing.T) {
	sum := func(by float64) (float64, float64) {
		s := bench(plainDriver())
		s.tank.Size = solid.Size{Width: 100, Height: 100, Depth: 100}
		s.pole("pole", 40+by, 100, 10, 0)
		room := s.check(t).room("out driver")
		require.Len(t, room.Free, 1)
		got := degreesOf(room.Free)[0]
		return math.Mod(got[0]-by+720, 360), got[1] - got[0]
	}
	from, wide := sum(0)
	for _, by := range []float64{30, 45, 137, 250} {
		f, w := sum(by)
		assert.InDelta(t, from, f, 0.3)
		assert.InDelta(t, wide, w, 0.6)
	}
}

// What lies aside is not in the way; other parts of the box are.
func TestAsideAndOwnParts(t *testing.T) {
	k := plainDriver()
	k.Aside = []string{"pole"}
	s := bench(k)
	s.pole("pole", 90, 100, 12, 0)
	room := s.check(t).room("out driver")
	require.Len(t, room.Free, 1)
	assert.True(t, room.Free[0].All())
	s.tank.Brackets = []solid.Bracket{{Name: "post", Min: v(40, 110, 0), Max: v(60, 130, 200)}}
	room = s.check(t).room("out driver")
	require.Len(t, room.Free, 1)
	assert.False(t, room.Free[0].All())
	assert.InDelta(t, 180, math.Mod(degreesOf(room.Free)[0][0]+degreesOf(room.Free)[0][1], 720)/2, 1)
}

func TestRoomZeroValues(t *testing.T) {
	assert.False(t, Arc{}.All())
	assert.Empty(t, closed(nil))
	assert.Equal(t, []Arc{{5, 7}}, closed([]Arc{{5, 7}}))
	turn := s1.Angle(2 * math.Pi)
	assert.Equal(t, []Arc{{1, 2}, {5, turn + 0.5}}, closed([]Arc{{0, 0.5}, {1, 2}, {5, turn}}))
}

func BenchmarkDriverAnyClock(b *testing.B) { benchmarkRoom(b, plainDriver()) }

func BenchmarkSpannerAnyStart(b *testing.B) {
	benchmarkRoom(b, solid.KeepOpen{Name: "spanner", Kind: solid.Spanner, Hex: 24})
}

func benchmarkRoom(b *testing.B, k solid.KeepOpen) {
	s := bench(k)
	s.pole("first", 20, 70, 4, 1)
	s.pole("second", 130, 120, 8, 1)
	s.pole("third", 250, 40, 3, 1)
	c := s.checker(b)
	for b.Loop() {
		c.placeRooms()
	}
}
