package empty

import (
	"context"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// withoutAny is the best value when up to k of the obstacles are taken away, by
// taking away every choice of them.
func withoutAny(p Problem, k, from int) Value {
	best := exhausted(p)
	for i := from; k > 0 && i < len(p.Blocks); i++ {
		q := p
		q.Blocks = slices.Delete(slices.Clone(p.Blocks), i, i+1)
		if v := withoutAny(q, k-1, i); v.over(best) {
			best = v
		}
	}
	return best
}

func TestIgnoreAgainstEveryChoice(t *testing.T) {
	for seed := range uint64(300) {
		name, p := instance(seed, 8)
		slices.SortFunc(p.Blocks, func(a, b Box) int {
			return slices.Compare(append(a.Lo[:], a.Hi[:]...), append(b.Lo[:], b.Hi[:]...))
		})
		p.Blocks = slices.Compact(p.Blocks) // the same place counts once
		for k := range 3 {
			want := withoutAny(p, k, 0)
			p.Ignore = k
			a := best(t, p)
			require.Equal(t, want, a.Value, "%s, %d ignored", name, k)
			require.LessOrEqual(t, len(a.Ignored), k)
			if a.Found() {
				for _, b := range p.Blocks {
					require.Equal(t, slices.Contains(a.Ignored, b), a.Room.Hits(b), name)
				}
			}
			p.Ignore = 0
		}
	}
}

// The same place counts once, however often it was read.
func TestIgnoredPlacesCountOnce(t *testing.T) {
	q := Box{Point{5, 5, 5}, Point{5, 5, 5}}
	p := Problem{Domain: Box{Hi: Point{10, 10, 10}}, Blocks: []Box{q, q, q}, Free: true, Ignore: 1}
	a := best(t, p)
	assert.Equal(t, p.Domain, a.Room)
	assert.Equal(t, []Box{q}, a.Ignored)
	s, err := NewScan(Problem{Domain: p.Domain}, Point{})
	require.NoError(t, err)
	s.Add([]float64{5, 5, 5, 5, 5, 5, 5, 5, 5}, 1)
	all, err := s.Strays(context.Background(), 1, Effort{})
	require.NoError(t, err)
	assert.Equal(t, 500.0, all[0].Value.Float())
	assert.Equal(t, 1000.0, all[1].Value.Float())
}

// Two stray returns in the middle of a bay, close together, cost a box its half;
// only both together give it back.
func TestTwoStrays(t *testing.T) {
	xyz := scanned(50_000, bayPoint, 7)
	clean := scanOf(t, Problem{Domain: bench}, Point{}, xyz)
	want, err := clean.Best(context.Background(), Effort{})
	require.NoError(t, err)
	xyz = append(xyz, 350, 150, 20, 352, 151, 20)
	s := scanOf(t, Problem{Domain: bench}, Point{}, xyz)
	got, err := s.Strays(context.Background(), 3, Effort{})
	require.NoError(t, err)
	var values []Value
	for _, a := range got {
		require.True(t, a.Proved)
		values = append(values, a.Value)
	}
	assert.Less(t, values[0].Float(), 0.8*want.Value.Float())
	assert.Less(t, values[1].Float(), 0.8*want.Value.Float())
	assert.False(t, want.Value.over(values[2]))
	assert.Less(t, values[3].Float(), 1.02*values[2].Float())
	assert.ElementsMatch(t, got[2].Ignored, blocksOf(xyz[3*50_000:], Point{}))
}
