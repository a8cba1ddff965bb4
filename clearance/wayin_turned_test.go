package clearance

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/solid"
	"elbowroom/solid/shape"
	"elbowroom/survey"
)

// slotted is a box 100 wide, 60 high and 40 deep, shut in but for a slot in front of it
// that is 50 high: it comes out on edge alone.
func slotted() scene {
	var s scene
	s.tank = box100()
	s.tank.Size = solid.Size{Width: 100, Height: 60, Depth: 40}
	slab := func(name string, lo, hi r3.Vector) {
		var marks []r3.Vector
		for corner := range 8 {
			p := lo
			for axis, bit := range [3]int{1, 2, 4} {
				if corner&bit != 0 {
					p = p.Add(solid.Axis(axis).Mul(hi.Sub(lo).Dot(solid.Axis(axis))))
				}
			}
			marks = append(marks, p)
		}
		s.feature(survey.FeatureSpec{Name: name, Shape: survey.Block}, 0.3, marks...)
	}
	slab("left", v(-60, -140, 0), v(-30, 200, 200))
	slab("right", v(130, -140, 0), v(160, 200, 200))
	slab("bottom", v(-140, -140, 0), v(240, -60, 200))
	slab("top", v(-140, 120, 0), v(240, 200, 200))
	slab("shelf", v(-140, 55, 130), v(240, 200, 160))
	slab("ledge", v(-140, -140, 130), v(240, 5, 160))
	return s
}

// A way that is found with turns, given back as the job's own, is judged the same.
func TestOwnPathAsFound(t *testing.T) {
	if testing.Short() {
		t.Skip("a search with turns takes its time")
	}
	s := slotted().asks()
	found := s.check(t).WayIn
	require.True(t, found.Found)
	turns := false
	for _, step := range found.Steps {
		turns = turns || step.Turn.Norm() > 0.5
	}
	require.True(t, turns)
	s.rules.WayIn.Path = found.Steps
	own := s.check(t).WayIn
	assert.True(t, own.Given)
	assert.Equal(t, found.Verdict, own.Verdict)
	assert.InDelta(t, found.Least, own.Least, 1e-9)
	assert.InDelta(t, found.U, own.U, 1e-9)
	assert.Equal(t, found.Steps, own.Steps)
}

// A turn is about the middle of the body and right-handed about the mounting frame's
// axes, on the first leg and on those after it: the clearance on the way is that of
// places worked out by hand, in steps so short that nothing is missed.
func TestOwnPathWithTurns(t *testing.T) {
	quarter := math.Pi / 2
	path := []Step{{v(0, 0, 250), v(quarter, 0, 0)}, {v(0, 0, 60), v(quarter, 0, 0)}, {v(0, 0, 20), r3.Vector{}}, {}}
	s := slotted().asks()
	s.rules.AcceptSingle, s.rules.WayIn.Path = true, path
	w := s.check(t).WayIn
	require.NotNil(t, w)
	least := math.Inf(1)
	walk := func(tip, out float64) {
		sin, cos := math.Sincos(tip)
		// Right-handed about x: the top goes toward z.
		body := shape.Box{Corner: v(0, 30, 20+out).Add(v(0, -30*cos+20*sin, -30*sin-20*cos)), Edges: [3]r3.Vector{v(100, 0, 0), v(0, 60*cos, 60*sin), v(0, -40*sin, 40*cos)}}
		for _, block := range [][2]r3.Vector{{v(-140, 55, 130), v(240, 200, 160)}, {v(-140, -140, 130), v(240, 5, 160)}, {v(-60, -140, 0), v(-30, 200, 200)}, {v(-140, -140, 0), v(240, -60, 200)}, {v(-140, 120, 0), v(240, 200, 200)}} {
			d := block[1].Sub(block[0])
			n := shape.Distance(body, shape.Box{Corner: block[0], Edges: [3]r3.Vector{v(d.X, 0, 0), v(0, d.Y, 0), v(0, 0, d.Z)}})
			least = math.Min(least, n.Signed)
		}
	}
	const many = 4000
	for k := range many + 1 {
		share := float64(k) / many
		walk(quarter, 250-190*share)
		walk(quarter*(1-share), 60-40*share)
		walk(0, 20-20*share)
	}
	assert.InDelta(t, least, w.Least, 0.05)
	assert.LessOrEqual(t, w.Least, least+1e-9, "what is said is proved")
	assert.Equal(t, Clears, w.Verdict)
	for i := range path {
		path[i].Turn = r3.Vector{}
	}
	assert.Equal(t, Fouls, s.check(t).WayIn.Verdict, "not turned it does not pass")
}

// The place where it comes nearest is on the way, and the two places are so far apart
// when the box is there.
func TestWhereItComesNearest(t *testing.T) {
	s := box100Under(130).asks(v(0, 200, 150), v(0, 0, 150), v(0, 0, 0))
	w := s.check(t).WayIn
	assert.InDelta(t, w.Least, w.OnPart.Sub(w.OnFeature).Norm(), 0.02)
	assert.Positive(t, w.U)
	assert.NotEmpty(t, w.Marks)
	c := s.checker(t)
	at := rigid{q: spun(w.At.Turn), by: w.At.Shift}
	gap := shape.Distance(at.shape(c.assembly.Parts[0].Solid), shape.Hull{Points: []r3.Vector{w.OnFeature}}).Signed
	assert.InDelta(t, w.Least, gap, 0.02)
}

// A turn takes corners beyond sides that a shift alone would not pass.
func TestTurnsPassSides(t *testing.T) {
	s := box100Under(400).asks()
	s.rules.LookedAt = []solid.Side{solid.Front}
	s.rules.WayIn.Path = []Step{{Shift: v(0, 0, 400)}, {}}
	assert.Empty(t, s.check(t).WayIn.Unseen)
	s.rules.WayIn.Path = []Step{{Shift: v(0, 0, 400), Turn: v(0, 0, math.Pi/6)}, {}}
	assert.Equal(t, []solid.Side{solid.Left, solid.Right, solid.Bottom, solid.Top}, sorted(s.check(t).WayIn.Unseen))
	// 2 degrees take a corner 1.7 mm out: in the gap that the sides ask for themselves.
	s.rules.WayIn.Path = []Step{{Shift: v(0, 0, 400), Turn: v(0, 0, 2*math.Pi/180)}, {}}
	assert.Empty(t, s.check(t).WayIn.Unseen)
}

func sorted(sides []solid.Side) (out []solid.Side) {
	for _, s := range []solid.Side{solid.Left, solid.Right, solid.Bottom, solid.Top, solid.Front, solid.Back} {
		for _, t := range sides {
			if s == t {
				out = append(out, s)
			}
		}
	}
	return out
}

// The largest thing that could be on the way is no smaller than any that is found by
// trying places in what the box goes through, and not much larger than the largest.
func TestHiddenOnTheWay(t *testing.T) {
	for _, path := range [][]Step{
		{{Shift: v(0, 0, 300)}, {}},
		{{Shift: v(120, 150, 200)}, {Shift: v(0, 0, 120)}, {}},
		{{Shift: v(0, 0, 300), Turn: v(0, 0, 0.7)}, {Shift: v(0, 0, 60)}, {}},
	} {
		s := box100Under(130).asks()
		s.rules.WayIn.Path = path
		s.rules.WayIn.Room = [3]Extent{{-100, 250, true}, {-50, 220, true}, {0, 260, true}}
		c, w := s.checker(t), s.check(t).WayIn
		require.True(t, w.HiddenOK)
		most := 0.0
		for i := 1; i < len(path); i++ {
			for k := 0; k <= 40; k++ {
				share := float64(k) / 40
				shift := path[i-1].Shift.Mul(1 - share).Add(path[i].Shift.Mul(share))
				m := rigid{q: spun(path[i-1].Turn.Mul(1 - share).Add(path[i].Turn.Mul(share)))} // about one axis
				for n := range 11 * 11 * 11 {
					at := v(float64(n%11)*10-50, float64(n/11%11)*10-50, float64(n/121)*10-50)
					at = m.turn(at).Add(v(50, 50, 50)).Add(shift)
					if at.X < -100 || at.X > 250 || at.Y < -50 || at.Y > 220 || at.Z < 0 || at.Z > 260 {
						continue
					}
					nearest := math.Inf(1)
					for e := range c.sights {
						nearest = math.Min(nearest, c.sights[e].off(c.pose.local(at)))
					}
					most = math.Max(most, 2*nearest)
				}
			}
		}
		assert.GreaterOrEqual(t, w.Hidden, most-1e-6)
		assert.LessOrEqual(t, w.Hidden, most*1.35, "a fifth for looking coarsely, and the stretches' width")
	}
}
