package empty

import (
	"context"
	"errors"
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func best(t testing.TB, p Problem) Answer {
	t.Helper()
	a, err := Best(context.Background(), p, Effort{})
	require.NoError(t, err)
	require.True(t, a.Proved)
	return a
}

// One more obstacle never makes the box larger, and a larger gap never does.
func TestMoreObstaclesNeverGrow(t *testing.T) {
	for seed := range uint64(200) {
		_, p := instance(seed, 12)
		before := best(t, p).Value
		rng := rand.New(rand.NewPCG(seed, 8))
		more := p
		more.Blocks = append(p.Blocks[:len(p.Blocks):len(p.Blocks)], strewn(rng, 1, p.Domain, 2, 1)...)
		assert.False(t, best(t, more).Value.over(before), "seed %d", seed)
		wide := p
		wide.Blocks = nil
		for _, b := range p.Blocks {
			for a := range b.Lo {
				b.Lo[a], b.Hi[a] = b.Lo[a]-2, b.Hi[a]+2
			}
			wide.Blocks = append(wide.Blocks, b)
		}
		assert.False(t, best(t, wide).Value.over(before), "seed %d", seed)
	}
}

// Moving everything moves the answer, and three times the size is 27 times the
// volume.
func TestMovedAndScaled(t *testing.T) {
	for seed := range uint64(200) {
		_, p := instance(seed, 12)
		p = Problem{Domain: p.Domain, Blocks: p.Blocks, Free: p.Free}
		before := best(t, p)
		moved, scaled := p, p
		moved.Blocks, scaled.Blocks = nil, nil
		change := func(b Box, by, times int64) Box {
			for a := range b.Lo {
				b.Lo[a], b.Hi[a] = times*b.Lo[a]+by, times*b.Hi[a]+by
			}
			return b
		}
		for _, b := range p.Blocks {
			moved.Blocks = append(moved.Blocks, change(b, -1234567, 1))
			scaled.Blocks = append(scaled.Blocks, change(b, 0, 3))
		}
		moved.Domain, scaled.Domain = change(p.Domain, -1234567, 1), change(p.Domain, 0, 3)
		assert.Equal(t, before.Value, best(t, moved).Value, "seed %d", seed)
		assert.Equal(t, 27*before.Value.Lo, best(t, scaled).Value.Lo, "seed %d", seed)
		if before.Found() {
			assert.Equal(t, change(before.Room, -1234567, 1), best(t, moved).Room, "seed %d", seed)
		}
	}
}

// Different boxes come in falling order, are maximal, are as different as asked,
// and are the same as those picked from the list of all.
func TestDifferent(t *testing.T) {
	for seed := range uint64(120) {
		name, p := instance(seed, 14)
		if p.Free || p.Value != nil {
			continue
		}
		rooms, err := Enumerate(context.Background(), p, Guard{})
		require.NoError(t, err)
		got, err := Different(context.Background(), p, 4, 0.5, Effort{})
		require.NoError(t, err)
		whole := p.whole()
		taken := []Box{}
		for i, a := range got {
			require.True(t, a.Proved, name)
			// Of equal values either order is right, so each is compared with the
			// best that is left beside the ones taken before.
			var want Value
			for _, r := range rooms {
				if v := whole.worth(r.Size()); v.over(want) && differs(r, taken) {
					want = v
				}
			}
			require.Equal(t, want, a.Value, "%s: %d", name, i)
			require.True(t, differs(a.Room, taken), name)
			taken = append(taken, a.Room)
		}
		if len(got) < 4 {
			for _, r := range rooms {
				require.False(t, differs(r, taken) && whole.worth(r.Size()).over(Value{}), name)
			}
		}
	}
}

func differs(room Box, taken []Box) bool {
	for _, b := range taken {
		if Overlap(room, b) > 0.5 {
			return false
		}
	}
	return true
}

func TestPick(t *testing.T) {
	p := Problem{Domain: bench, Blocks: bay(200, 3)}
	rooms, err := Enumerate(context.Background(), p, Guard{})
	require.NoError(t, err)
	picked := p.Pick(rooms, 5, 0.8)
	require.Len(t, picked, 5)
	assert.Equal(t, best(t, p).Value, Volume(picked[0].Size()))
	for i, a := range picked {
		for _, b := range picked[:i] {
			assert.LessOrEqual(t, Overlap(a, b), 0.8)
			assert.False(t, Volume(a.Size()).over(Volume(b.Size())))
		}
	}
}

// Volumes at the ends of what fits, against integers without a limit.
func TestVolumeIsExact(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	for range 2000 {
		var s Size
		want := big.NewInt(1)
		for a := range s {
			s[a] = 1 + rng.Int64N(1<<(1+rng.IntN(41)))
			want.Mul(want, big.NewInt(s[a]))
		}
		v := Volume(s)
		got := new(big.Int).SetUint64(v.Hi)
		got.Lsh(got, 64).Add(got, new(big.Int).SetUint64(v.Lo))
		require.Equal(t, want.String(), got.String())
	}
	two := int64(2_000_000)
	assert.Equal(t, Value{Lo: 8e18}, Volume(Size{two, two, two}))
	assert.Equal(t, 1, Volume(Size{two, two, two + 1}).Compare(Volume(Size{two, two, two})))
	assert.Equal(t, Value{}, Volume(Size{two, -two, -two}))
	assert.Equal(t, -1, Measured(0.1).Compare(Measured(1e300)))
	assert.Equal(t, Value{}, Measured(math.NaN()))
	assert.Equal(t, Value{}, Measured(-1))
}

// At the ends of the range two boxes a micrometre apart are told apart.
func TestGreatestReach(t *testing.T) {
	p := Problem{Domain: Box{Point{-Reach, -Reach, -Reach}, Point{Reach, Reach, Reach}}, Free: true,
		Blocks: []Box{{Point{1, -5, 7}, Point{1, -5, 7}}}}
	a := best(t, p)
	assert.Equal(t, Box{Point{-Reach, -Reach, -Reach}, Point{Reach, Reach, 7}}, a.Room)
}

func TestProblemsThatCannotBeSearched(t *testing.T) {
	unit := Box{Hi: Point{1, 1, 1}}
	far := Point{Reach + 1}
	for want, p := range map[error]Problem{
		ErrDomain: {},
		ErrReach:  {Domain: unit, Blocks: []Box{{far, far}}},
		ErrSizes:  {Domain: unit, Min: Size{2}, Max: Size{1}},
		ErrHolds:  {Domain: unit, Holds: &Box{Hi: Point{2, 1, 1}}},
	} {
		_, err := Best(context.Background(), p, Effort{})
		assert.ErrorIs(t, err, want)
		_, err = Enumerate(context.Background(), p, Guard{})
		assert.ErrorIs(t, err, want)
		_, err = Different(context.Background(), p, 2, 0.5, Effort{})
		assert.ErrorIs(t, err, want)
	}
	_, err := Enumerate(context.Background(), Problem{Domain: unit, Free: true}, Guard{})
	assert.ErrorIs(t, err, ErrFree)
}

// A search that is stopped says what it has and what is proved: the box is empty
// and the true optimum is between it and the bound.
func TestStoppedSearch(t *testing.T) {
	p := Problem{Domain: bench, Blocks: uniform(400, bench, 9)}
	want := best(t, p).Value
	for nodes := 1; nodes < 800; nodes += 50 {
		a, err := Best(context.Background(), p, Effort{Nodes: nodes})
		require.NoError(t, err)
		require.LessOrEqual(t, a.Nodes, nodes)
		assert.False(t, want.over(a.AtMost))
		assert.False(t, a.Value.over(want))
		if a.Found() {
			checkAnswer(t, "stopped", p, a)
		}
		assert.Equal(t, a.Proved, a.Value == want && a.AtMost == want)
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	a, err := Best(ctx, p, Effort{})
	require.NoError(t, err)
	assert.False(t, a.Proved)
	assert.False(t, want.over(a.AtMost))
	_, err = Enumerate(ctx, p, Guard{})
	assert.ErrorIs(t, err, context.Canceled)
}

// A guard that stops the list leaves all rooms up to a depth, and only those.
func TestGuard(t *testing.T) {
	p := Problem{Domain: bench, Blocks: crossed(60)}
	for i := range p.Blocks { // depths in ties of four
		p.Blocks[i].Lo[2] -= p.Blocks[i].Lo[2] % 1000 % 4
	}
	all, err := Enumerate(context.Background(), p, Guard{})
	require.NoError(t, err)
	for _, g := range []Guard{{Alive: 40}, {Alive: 50}, {Alive: 60}, {Alive: 70}, {Rooms: 100}, {Rooms: 101}} {
		some, err := Enumerate(context.Background(), p, g)
		var many *TooMany
		require.True(t, errors.As(err, &many))
		var want []Box
		for _, r := range all {
			if r.Hi[2] <= many.Depth {
				want = append(want, r)
			}
		}
		require.NotEmpty(t, want)
		assert.ElementsMatch(t, want, some)
		assert.Less(t, many.Blocks, many.Of)
	}
	_, err = Enumerate(context.Background(), p, Guard{Alive: 50})
	assert.EqualError(t, err,
		"too many maximal boxes: 5 listed and 52 more open after 13 of 60 obstacles; the list is complete up to 1.011 mm deep")
}

// The adversary has n^2/2 + 6n - 3 rooms (a fit to the list, which agrees with
// trying all six faces at n = 4 to 10). Best does not mind: it looks into a few
// hundred.
func TestAdversary(t *testing.T) {
	for _, n := range []int{4, 6, 8, 10, 100, 200, 500} {
		p := Problem{Domain: bench, Blocks: crossed(n)}
		rooms, err := Enumerate(context.Background(), p, Guard{})
		require.NoError(t, err)
		assert.Len(t, rooms, n*n/2+6*n-3)
		if n <= 10 {
			assert.Len(t, everyRoom(p), len(rooms))
		}
		a := best(t, p)
		assert.Equal(t, a.Value, Volume(p.Pick(rooms, 1, 0)[0].Size()))
		assert.Less(t, a.Nodes, 500)
	}
}
