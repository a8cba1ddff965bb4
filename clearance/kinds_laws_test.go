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
	"elbowroom/solid/shape"
	"elbowroom/survey"
)

// everything is the crowd with every kind of line: motions, a hose that is led and one that
// is measured, room for tools at any clock angle, and a way in of its own.
func everything(seed uint64) scene {
	s := rocking(seed)
	for i := range s.readings.Points { // the wall true, so that a turn about its normal changes nothing
		if p := &s.readings.Points[i]; p.Feature == "wall" {
			p.At[2].Value = 0
		}
	}
	s.tank.Fittings = append(s.tank.Fittings, solid.Fitting{
		Name: "drain", Side: solid.Left, At: solid.Spot{{By: 10}, {From: solid.Back, By: 45}}, Within: 1,
		Stack: []solid.Element{{Name: "bung", Diameter: 25, Length: 12}, {Name: "stub", Diameter: 15, Length: 25}},
		KeepOpen: []solid.KeepOpen{
			{Name: "driver", Kind: solid.Driver, Diameter: 12, Length: 150, Clamp: 27, AnyClock: true},
			{Name: "spanner", Kind: solid.Spanner, Handle: 120, Thick: 8, Sweep: 40 * s1.Degree, Head: 40, AnyClock: true},
		},
	})
	s.mark("", "bottle", v(-120, -60, 60), 1.5)
	s.rules.Hoses = append(s.rules.Hoses, HoseSpec{Name: "led", From: "drain", To: "bottle", Arrives: v(0, -1, 0), Outside: 18, BendRadius: 35, Straight: 5})
	s.rules.WayIn = WayInSpec{Asked: true, Path: []Step{{v(400, -50, 0), v(0, 0, 0.3)}, {}}, Aside: []string{"lump"}}
	s.rules.AcceptSingle = true
	return s
}

func key(l Line) string { return l.Part + " against " + l.Feature + ", " + l.When }

// turnedScene is a scene with everything turned about z and the box with it.
func turnedScene(s scene, by float64, shift r3.Vector) scene {
	sin, cos := math.Sincos(by)
	turn := func(p r3.Vector) r3.Vector { return v(p.X*cos-p.Y*sin, p.X*sin+p.Y*cos, p.Z) }
	q := s
	q.readings.Points = append([]survey.Point(nil), s.readings.Points...)
	for i := range q.readings.Points {
		p := &q.readings.Points[i]
		at := turn(v(p.At[0].Value, p.At[1].Value, p.At[2].Value)).Add(shift)
		p.At[0].Value, p.At[1].Value, p.At[2].Value = at.X, at.Y, at.Z
	}
	q.readings.Features = append([]survey.FeatureSpec(nil), s.readings.Features...)
	for i := range q.readings.Features {
		f := &q.readings.Features[i]
		f.Behind, f.Touched = turn(f.Behind), turn(f.Touched)
	}
	q.rules.Motions = append([]Motion(nil), s.rules.Motions...)
	for i := range q.rules.Motions {
		q.rules.Motions[i].Along = turn(q.rules.Motions[i].Along)
	}
	q.rules.Hoses = append([]HoseSpec(nil), s.rules.Hoses...)
	for i := range q.rules.Hoses {
		q.rules.Hoses[i].Arrives = turn(q.rules.Hoses[i].Arrives)
	}
	q.rules.WayIn.Path = nil
	for _, p := range s.rules.WayIn.Path {
		q.rules.WayIn.Path = append(q.rules.WayIn.Path, Step{turn(p.Shift), turn(p.Turn)})
	}
	half := v(s.tank.Size.Width/2, s.tank.Size.Height/2, 0)
	middle := turn(v(s.tank.Place.At.X, s.tank.Place.At.Y, 0).Add(half)).Add(shift).Sub(half)
	q.tank.Place.At = r2.Point{X: middle.X, Y: middle.Y}
	q.tank.Place.Turn = s1.Angle(by)
	return q
}

// Turning and shifting all along the wall leaves every line of every kind as it is.
func TestTurningAllLeavesEveryKind(t *testing.T) {
	for seed := range uint64(1) {
		s := everything(seed)
		want := map[string]Line{}
		rep := s.check(t)
		for _, l := range rep.Lines {
			want[key(l)] = l
		}
		for _, by := range []float64{0, 30 * deg, -115 * deg} {
			got := turnedScene(s, by, v(35, -20, 0)).check(t)
			require.Len(t, got.Lines, len(rep.Lines))
			for _, l := range got.Lines {
				w, ok := want[key(l)]
				require.True(t, ok, key(l))
				assert.InDelta(t, w.Clearance, l.Clearance, 0.03, "%s turned by %v", key(l), by/deg)
				assert.InDelta(t, w.U, l.U, 0.03+0.03*w.U, key(l))
				assert.Equal(t, w.Verdict, l.Verdict, key(l))
			}
			for i, h := range got.Hoses {
				assert.InDelta(t, rep.Hoses[i].Length, h.Length, 0.05)
			}
			for i, r := range got.Rooms {
				assert.InDelta(t, rep.Rooms[i].Clock.Degrees(), r.Clock.Degrees(), 0.01)
			}
		}
	}
}

// A wider gap, or one feature more, never turns a line or a job into one that clears.
func TestWiderGapsAndMoreFeaturesNeverHelp(t *testing.T) {
	worse := func(a, b Verdict) bool { return rankOf(b) >= rankOf(a) }
	for seed := range uint64(1) {
		s := everything(seed)
		base := s.check(t)
		for _, more := range []float64{10} {
			q := s
			q.rules.Gaps = map[string]float64{"fixed": 6 + more, "swept": 6 + more}
			rep := q.check(t)
			assert.True(t, worse(base.Verdict, rep.Verdict))
			lines := map[string]Line{}
			for _, l := range base.Lines {
				lines[key(l)] = l
			}
			for _, l := range rep.Lines {
				if l.Part != "led" && l.Feature != "led" { // it may be led another way
					assert.True(t, worse(lines[key(l)].Verdict, l.Verdict), "%s with %v more", key(l), more)
				}
			}
		}
		for k, f := range s.readings.Features {
			if f.Mount || f.Run {
				continue
			}
			q := s
			q.readings.Features = append(append([]survey.FeatureSpec(nil), s.readings.Features[:k]...), s.readings.Features[k+1:]...)
			q.readings.Points = nil
			for _, p := range s.readings.Points {
				if p.Feature == f.Name {
					p.Feature = ""
				}
				q.readings.Points = append(q.readings.Points, p)
			}
			q.rules.Motions = nil
			q2 := s
			q2.rules.Motions = nil
			with, without := q2.check(t), q.check(t)
			lines := map[string]Line{}
			for _, l := range with.Lines {
				lines[key(l)] = l
			}
			for _, l := range without.Lines {
				if l.Part != "led" && l.Feature != "led" && l.When != "way in" && !isRoom(without, l.Part) {
					assert.True(t, worse(l.Verdict, lines[key(l)].Verdict), "%s without %s", key(l), f.Name)
				}
			}
		}
	}
}

func isRoom(r *Report, part string) bool {
	for _, room := range r.Rooms {
		if room.Part == part {
			return true
		}
	}
	return false
}

func rankOf(v Verdict) int { return map[Verdict]int{Clears: 0, Unproven: 1, Tight: 2, Fouls: 3}[v] }

// Each clock angle in a range that is said to be sure is tried as one that the job states:
// every line of the tool clears there.
func TestSureClockAnglesOneByOne(t *testing.T) {
	tried := 0
	for seed := range uint64(1) {
		s := everything(seed)
		s.rules.Hoses, s.rules.Motions, s.rules.WayIn = nil, nil, WayInSpec{}
		for i, room := range s.check(t).Rooms {
			if !room.Any {
				continue
			}
			for _, arc := range room.Sure {
				for clock := arc.From; clock <= arc.To; clock += 45 * s1.Degree {
					q := s
					q.tank.Fittings = append([]solid.Fitting(nil), s.tank.Fittings...)
					f := &q.tank.Fittings[2]
					f.KeepOpen = append([]solid.KeepOpen(nil), f.KeepOpen...)
					for k := range f.KeepOpen {
						if "drain "+f.KeepOpen[k].Name == room.Part {
							f.KeepOpen[k].AnyClock, f.KeepOpen[k].Clock = false, s1.Angle(math.Mod(clock.Radians(), 2*math.Pi))
						}
					}
					for _, l := range q.check(t).Lines {
						if l.Part == room.Part {
							require.GreaterOrEqual(t, l.Sure, 0.97, "seed %d, room %d, %s at %v", seed, i, key(l), clock.Degrees())
							tried++
						}
					}
				}
			}
		}
	}
	t.Logf("%d lines at angles", tried)
	require.Greater(t, tried, 50)
}

// A led hose that is said to clear is laid out as points: each keeps half its thickness and
// the gap from everything, and no three of them bend tighter than it may.
func TestLedHosesPointByPoint(t *testing.T) {
	if testing.Short() {
		t.Skip("it reckons long, one thing after the other")
	}
	clear := 0
	for seed := range uint64(5) {
		rng := rand.New(rand.NewPCG(seed, 5))
		s := led(0.5, v(200+150*rng.Float64(), -150+300*rng.Float64(), -50+200*rng.Float64()), v(rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()))
		s.rules.Hoses[0].Straight = 10
		for k := range 4 {
			var marks []r3.Vector
			at := v(180+150*rng.Float64(), -100+250*rng.Float64(), -50+200*rng.Float64())
			for range 5 {
				marks = append(marks, at.Add(v(40*rng.NormFloat64(), 40*rng.NormFloat64(), 40*rng.NormFloat64())))
			}
			spec := []survey.FeatureSpec{{Shape: survey.Block}, {Shape: survey.Tube, Diameter: 10}, {Shape: survey.Dots, Round: 3}, {Shape: survey.Edge, Round: 2}}[k]
			spec.Name = fmt.Sprintf("thing%d", k)
			s.feature(spec, 0.5, marks...)
		}
		c := s.checker(t)
		rep, err := Check(context.Background(), c.space, c.assembly, s.rules)
		require.NoError(t, err)
		h := rep.Hoses[0]
		if h.Crowded || h.Fights || h.Verdict != Clears {
			continue
		}
		clear++
		for f := range c.space.Features {
			feature := &c.space.Features[f]
			l := rep.line("hose", feature.Spec.Name)
			least := math.Inf(1)
			for _, at := range h.Centre {
				for _, piece := range feature.Pieces {
					hull := shape.Hull{Grow: feature.Grow, Behind: feature.Behind}
					for _, n := range piece.Nodes {
						hull.Points = append(hull.Points, feature.Nodes[n].At)
					}
					least = math.Min(least, shape.Distance(shape.Hull{Points: []r3.Vector{at}}, hull).Signed-10)
				}
			}
			assert.GreaterOrEqual(t, least, l.Clearance-0.06, "seed %d: %s", seed, l.Feature) // a ball's 0.05 mm of sag
			assert.GreaterOrEqual(t, least, l.Gap-0.06, "seed %d: %s", seed, l.Feature)
		}
		for i := 1; i+1 < len(h.Centre); i++ {
			a, b, d := h.Centre[i-1], h.Centre[i], h.Centre[i+1]
			u, w := b.Sub(a), d.Sub(b)
			area := u.Cross(w).Norm()
			if area > 1e-6 {
				radius := u.Norm() * w.Norm() * d.Sub(a).Norm() / (2 * area)
				assert.Greater(t, radius, 70-0.5, "seed %d", seed)
			}
		}
		assert.InDelta(t, 0, h.Centre[0].Sub(v(130, 50, 50)).Norm(), 1e-9)
	}
	t.Logf("%d clear", clear)
	require.Positive(t, clear)
}
