package largest

import (
	"context"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/clearance"
	"elbowroom/solid"
	"elbowroom/survey"
)

// gridded is the best box that clears of a grid of sizes and places round one: Check's own
// verdict, by CheckSizes.
func (s *scene) gridded(t testing.TB, round Box, shares, moves []float64) (best clearance.Sized, ok bool) {
	t.Helper()
	space, err := survey.Adjust(s.readings)
	require.NoError(t, err)
	size := round.Tank.Size
	var list []clearance.Candidate
	for _, w := range shares {
		for _, h := range shares {
			for _, d := range shares {
				k := solid.Size{Width: w * size.Width, Height: h * size.Height, Depth: d * size.Depth}
				for _, x := range moves {
					for _, y := range moves {
						at := r2.Point{X: round.At.X + x*(size.Width-k.Width), Y: round.At.Y + y*(size.Height-k.Height)}
						list = append(list, clearance.Candidate{Size: k, At: at})
					}
				}
			}
		}
	}
	sizes := clearance.CheckSizes(context.Background(), space, round.Tank, s.rules, list, nil)
	for _, z := range sizes.All {
		if z.NoBox == nil && z.Verdict == clearance.Clears && z.CapacityL > best.CapacityL {
			best, ok = z, true
		}
	}
	return best, ok
}

// The law of the answer within the evidence: there is none only if no size of a grid
// clears, it is no smaller than the largest of those that do, and Check says of it that it
// clears. Taken once, each reading is asked to withstand an inch; with wider limits the
// lines must give way together.
func TestWithinIsNoSmallerThanAGrid(t *testing.T) {
	scenes := map[string]func(seed uint64) scene{
		"accepted": bay,
		"taken once": func(seed uint64) scene {
			s := bay(seed)
			s.rules.AcceptSingle = false
			return s
		},
		"surer": func(seed uint64) scene {
			s := bay(seed)
			s.rules.Sure = 0.999
			return s
		},
		"one gap only": func(seed uint64) scene {
			s := bay(seed)
			s.rules.AcceptSingle = false
			for i := range s.readings.Points {
				if p := &s.readings.Points[i]; p.Feature != "post" { // these were taken by hand once more
					again := *p
					again.Pos.Line += 1000
					s.readings.Points = append(s.readings.Points, again)
				}
			}
			return s
		},
	}
	shares := []float64{0.5, 0.75, 0.92, 1}
	moves := []float64{0, 0.5, 1}
	for name, make := range scenes {
		found := 0
		for seed := range uint64(short(2, 0)) {
			s := make(seed)
			s.limits.Room = room(-50, 400, -50, 300, 0, 300)
			a := s.solve(t)
			if len(a.Free) == 0 {
				continue
			}
			best, ok := s.gridded(t, a.Free[0], shares, moves)
			if a.Proven == nil {
				assert.False(t, ok, "%s %d: %v clears", name, seed, best.Size)
				continue
			}
			found++
			assert.GreaterOrEqual(t, a.Proven.Capacity, best.CapacityL, "%s %d", name, seed)
			rep, built := s.check(t, a.Proven.Tank)
			require.True(t, built)
			assert.Equal(t, clearance.Clears, rep.Verdict)
			assert.LessOrEqual(t, a.Proven.Capacity, a.AtMost)
		}
		t.Log(name, found)
	}
}

// A box that as drawn clears is never answered by less, and an answer that does not clear
// says why.
func TestWithinIsNoSmallerThanDrawn(t *testing.T) {
	s := bay(1)
	s.limits.Room = room(-50, 400, -50, 300, 0, 300)
	a := s.solve(t)
	require.NotNil(t, a.Proven)
	s.tank = a.Proven.Tank
	again := s.solve(t)
	require.NotNil(t, again.Proven)
	assert.GreaterOrEqual(t, again.Proven.Capacity, a.Proven.Capacity*(1-2*leastGain))

	s.rules.Unchecked = []clearance.Unchecked{{Part: "body", What: "what nobody checked"}}
	never := s.solve(t)
	assert.Nil(t, never.Proven)
	require.NotEmpty(t, never.Why)
	assert.Equal(t, clearance.NotChecked, never.Why[0].Because)
}
