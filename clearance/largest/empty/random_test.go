package empty

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// kinds are ways to strew obstacles that have tripped such searches: ties, grids,
// points in line, the same point often, obstacles over the edge.
var kinds = []struct {
	name string
	make func(rng *rand.Rand, n int, d Box) []Box
}{
	{"points", func(rng *rand.Rand, n int, d Box) []Box { return strewn(rng, n, d, 0, 1) }},
	{"blocks", func(rng *rand.Rand, n int, d Box) []Box { return strewn(rng, n, d, 4, 1) }},
	{"ties", func(rng *rand.Rand, n int, d Box) []Box { return strewn(rng, n, d, 0, 4) }},
	{"tied blocks", func(rng *rand.Rand, n int, d Box) []Box { return strewn(rng, n, d, 3, 5) }},
	{"in line", func(rng *rand.Rand, n int, d Box) []Box {
		all := strewn(rng, n, d, 0, 1)
		a := rng.IntN(3)
		for i := range all {
			all[i].Lo[a] = (d.Lo[a] + d.Hi[a]) / 2
			all[i].Hi[a] = all[i].Lo[a]
		}
		return all
	}},
	{"diagonal", func(rng *rand.Rand, n int, d Box) []Box {
		all := strewn(rng, n, d, 0, 1)
		for i := range all {
			for a := range 3 {
				all[i].Lo[a] = d.Lo[a] + int64(i)*d.Size()[a]/int64(n)
			}
			all[i].Hi = all[i].Lo
		}
		return all
	}},
	{"twice", func(rng *rand.Rand, n int, d Box) []Box {
		all := strewn(rng, n, d, 2, 2)
		return append(all[:n/2:n/2], all[:n-n/2]...)
	}},
}

// strewn are n obstacles up to thick parts of the domain in tenths, on a grid of
// the given number of micrometres; some reach out of the domain.
func strewn(rng *rand.Rand, n int, d Box, thick, grid int64) []Box {
	out := make([]Box, n)
	for i := range out {
		for a, size := range d.Size() {
			at := d.Lo[a] - size/10 + rng.Int64N(size*12/10+1)
			at -= at % grid
			out[i].Lo[a], out[i].Hi[a] = at, at
			if thick > 0 && rng.IntN(3) > 0 {
				out[i].Hi[a] += rng.Int64N(size*thick/10+1) / grid * grid
			}
		}
	}
	return out
}

// instance is the random problem of a seed.
func instance(seed uint64, most int) (string, Problem) {
	rng := rand.New(rand.NewPCG(seed, 7))
	kind := kinds[seed%uint64(len(kinds))]
	size := []int64{12, 60, 30000}[rng.IntN(3)]
	p := Problem{Domain: Box{Lo: Point{-size / 3, 5, -size / 2}, Hi: Point{size, 5 + size, size / 3}}}
	switch rng.IntN(3) {
	case 0:
		p.Domain = Flat(-size/3, 5, size, size)
	case 1:
		p.Free = true
	}
	n := rng.IntN(most + 1)
	p.Blocks = kind.make(rng, n, p.Domain)
	if p.Domain.Hi[2] == 1 {
		for i, b := range p.Blocks {
			p.Blocks[i] = Flat(b.Lo[0], b.Lo[1], b.Hi[0], b.Hi[1])
		}
	}
	for range rng.IntN(4) - 1 {
		wishes(rng, &p, size)
	}
	return fmt.Sprintf("seed %d: %s, n %d, free %v, %v", seed, kind.name, n, p.Free, p.Domain), p
}

// wishes asks for something of the box as well.
func wishes(rng *rand.Rand, p *Problem, size int64) {
	a := rng.IntN(2)
	switch rng.IntN(7) {
	case 0:
		p.Min[a], p.Max[a] = 1+size/4, 0
	case 1:
		p.Min[a], p.Max[a] = 0, 1+size/3
	case 2:
		p.Min[a], p.Max[a] = 1+size/5, 1+size/5
	case 3:
		p.Step[a] = 1 + size/7
	case 4:
		p.Aspect[0], p.Aspect[1] = 1+rng.Int64N(3), 1+rng.Int64N(3)
	case 5:
		p.Value = func(s Size) Value { return Value{Lo: uint64(s[a])} }
	case 6:
		at := p.Domain.Lo
		for i := range at {
			at[i] += rng.Int64N(p.Domain.Size()[i] + 1)
		}
		if !p.Free {
			at[2] = p.Domain.Lo[2]
		}
		p.Holds = &Box{at, at}
	}
}

// TestAgainstExhaustion compares Best and Enumerate with trying everything, on
// 2,000 problems of up to 14 obstacles and 15 of up to 60.
func TestAgainstExhaustion(t *testing.T) {
	for seed := range uint64(2015) {
		most := 14
		if seed >= 2000 {
			most = 60
		}
		name, p := instance(seed, most)
		want := exhausted(p)
		a, err := Best(context.Background(), p, Effort{})
		require.NoError(t, err, name)
		require.True(t, a.Proved, name)
		require.Equal(t, want, a.Value, name)
		require.Equal(t, a.Value, a.AtMost, name)
		if a.Found() {
			checkAnswer(t, name, p, a)
		}
		if p.Free {
			continue
		}
		rooms, err := Enumerate(context.Background(), p, Guard{})
		require.NoError(t, err, name)
		var best Value
		whole := p.whole()
		for _, room := range rooms {
			if v := whole.worth(room.Size()); v.over(best) {
				best = v
			}
		}
		require.Equal(t, want, best, name)
	}
}

// checkAnswer checks an answer against the problem itself.
func checkAnswer(t *testing.T, name string, p Problem, a Answer) {
	t.Helper()
	require.False(t, slices.ContainsFunc(p.Blocks, a.Room.Hits), name)
	require.True(t, p.Domain.Holds(a.Room), name)
	whole := p.whole()
	require.Equal(t, a.Value, whole.worth(a.Room.Size()), name)
	at, slack := p.Place(a.Room)
	require.Equal(t, a.Size, at.Size(), name)
	require.True(t, a.Room.Holds(at), name)
	end := at
	for i := range end.Lo {
		require.GreaterOrEqual(t, slack[i], int64(0), name)
		end.Lo[i] += slack[i]
		end.Hi[i] += slack[i]
	}
	require.True(t, a.Room.Holds(end), name)
	if p.Holds != nil {
		require.True(t, at.Holds(*p.Holds) && end.Holds(*p.Holds), name)
	}
	if !p.Free {
		require.Equal(t, p.Domain.Lo[2], at.Lo[2], name)
	}
	for f, stops := range p.Stops(a.Room) {
		if f == 4 && !p.Free {
			continue
		}
		require.True(t, len(stops) > 0 || a.Room.at(face(f)) == p.Domain.at(face(f)), "%s: face %d", name, f)
	}
}

// TestEveryMaximalRoom compares the list with trying all six faces.
func TestEveryMaximalRoom(t *testing.T) {
	order := func(a, b Box) int {
		return slices.Compare(append(a.Lo[:], a.Hi[:]...), append(b.Lo[:], b.Hi[:]...))
	}
	for seed := range uint64(500) {
		name, p := instance(seed, 9)
		if p.Free {
			continue
		}
		p = Problem{Domain: p.Domain, Blocks: p.Blocks}
		want := everyRoom(p)
		got, err := Enumerate(context.Background(), p, Guard{})
		require.NoError(t, err)
		slices.SortFunc(want, order)
		slices.SortFunc(got, order)
		require.Equal(t, want, got, name)
		assert.LessOrEqual(t, len(got), 4*len(p.Blocks)*len(p.Blocks)+1, name)
		checkFront(t, name, got)
	}
}

func checkFront(t *testing.T, name string, rooms []Box) {
	t.Helper()
	beats := func(a, b Size) bool { return a != b && a[0] >= b[0] && a[1] >= b[1] && a[2] >= b[2] }
	sizes := map[Size]bool{}
	for _, r := range rooms {
		if !slices.ContainsFunc(rooms, func(o Box) bool { return beats(o.Size(), r.Size()) }) {
			sizes[r.Size()] = true
		}
	}
	got := map[Size]bool{}
	front := Front(rooms)
	for _, r := range front {
		got[r.Size()] = true
	}
	require.Equal(t, sizes, got, name)
	require.Len(t, front, len(sizes), name)
}
