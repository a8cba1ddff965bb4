package clearance

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/s1"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/solid"
	"elbowroom/solid/level"
)

// bare is a crowd in which nothing but the lines counts.
func bare(seed uint64) scene {
	s := crowd(seed)
	s.rules.LookedAt, s.rules.AcceptSingle, s.rules.Hoses = allSides, true, nil
	s.tank = s.tank.Resized(solid.Size{Width: 150, Height: 62, Depth: 80})
	return s
}

// longOnes are jobs that ask for what takes long, one thing at a time and together.
func longOnes() map[string]scene {
	out := map[string]scene{}
	moving := bare(1)
	moving.mark("", "axle-front", v(130, 100, 200), 1)
	moving.mark("", "axle-rear", v(130, 100, 320), 1)
	moving.rules.Motions = []Motion{
		{Name: "lump rocks", Moves: []string{"lump"}, About: [2]string{"axle-front", "axle-rear"}, From: -0.08, To: 0.05},
		{Name: "lid drops", Moves: []string{"lid"}, Along: v(0, -1, 0), From: 0, To: 30},
		{Name: "lump comes out", Moves: []string{"lump"}, Along: v(0, 0, -1), From: 0, To: 70}, // up to the body
	}
	out["motions"] = moving

	rooms := bare(2)
	outlet := &rooms.tank.Fittings[1]
	outlet.KeepOpen = []solid.KeepOpen{{Name: "driver", Kind: solid.Driver}, {Name: "fingers", Kind: solid.BoxRoom, Size: v(20, 30, 40), AnyClock: true}}
	out["rooms"] = rooms

	liquid := bare(3)
	liquid.tank.Fittings[0].Tilt = solid.Tilt{}
	liquid.tank.Fittings[0].Hole, liquid.tank.Fittings[1].Hole = 35, 12
	liquid.tank.Fittings[1].At[0].By = 12
	liquid.rules.Levels = LevelRules{
		Asked: true, Pitch: 5 * s1.Degree, Roll: 10 * s1.Degree, Fill: 0.8, System: 1, Swells: true, Cold: 15, Hot: 100,
		Coolant: level.HalfGlycol,
	}
	out["levels"] = liquid

	in := bare(1)
	in.rules.WayIn = WayInSpec{Asked: true, Aside: []string{"lump", "lid"}}
	out["way in"] = in
	given := in // past the lump, nearer or farther by the depth
	given.rules.WayIn = WayInSpec{Asked: true, Path: offsets(v(-400, 0, 55), v(0, 0, 55), v(0, 0, 0)), Aside: []string{"lid"}}
	out["way given"] = given

	all := moving
	all.tank = rooms.tank
	all.rules.WayIn = in.rules.WayIn
	all.rules.Hoses = []HoseSpec{{Name: "led", From: "outlet", To: "pump", Outside: 20, BendRadius: 40, Arrives: v(0, -1, 0)}}
	out["all that takes long"] = all
	return out
}

// With more sizes than are held against everything, what is settled is as Check says,
// the others are told apart, and the best trades are settled.
func TestManySizesInPart(t *testing.T) {
	for _, name := range []string{"motions", "rooms"} {
		s := longOnes()[name]
		c := s.checker(t)
		list := around(s.tank, rand.New(rand.NewPCG(11, 12)), 120)
		out := CheckSizes(context.Background(), c.space, s.tank, s.rules, list, nil)
		assert.NotEmpty(t, out.NotHeld)
		left, best := 0, map[int]bool{}
		for _, i := range out.Best {
			best[i] = true
			assert.False(t, out.All[i].Open, name)
		}
		require.NotEmpty(t, out.Best, name)
		for i, z := range out.All {
			if z.Left {
				left++
				assert.NotEqual(t, Clears, z.Verdict, name)
			}
			if z.NoBox != nil || !best[i] && i%15 != 0 {
				continue
			}
			rep, _ := asChecked(t, s, c.space, z.Candidate)
			agrees(t, z, rep, fmt.Sprintf("%s: %+v", name, z.Candidate))
		}
		assert.Positive(t, left, name)
		if name == "motions" { // the quicker
			assert.Equal(t, out, CheckSizes(context.Background(), c.space, s.tank, s.rules, list, nil), "the same again")
		}
	}
}

func TestSpread(t *testing.T) {
	assert.Equal(t, []int{1, 2}, spread([]int{1, 2}, 4))
	assert.Equal(t, []int{1, 3, 5, 7}, spread([]int{0, 1, 2, 3, 4, 5, 6, 7}, 4))
	assert.Empty(t, spread(nil, 1))
}
