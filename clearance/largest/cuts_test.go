package largest

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"elbowroom/clearance"
)

// Whatever a node is cut into, a box of it of which every line reaches sure is in one of
// the parts: followed from the whole room down for boxes found by chance.
func TestCutsKeepWhatReachesSure(t *testing.T) {
	followed, cuts := 0, [2]int{}
	for seed := range uint64(instances(60, 6)) {
		b := bay(seed)
		r := rand.New(rand.NewPCG(seed, 21))
		s, err := newSearch(task{space: adjusted(t, b), tank: b.tank, rules: b.rules, limits: Limits{Top: 1, Effort: 1}})
		require.NoError(t, err)
		for range instances(60, 12) {
			stand, ok := s.chance(r)
			if !ok {
				continue
			}
			followed++
			s.best = found{}
			n := *s.root
			n.key = math.Inf(1)
			require.True(t, s.settle(&n))
			for depth := range 60 {
				children, judged := s.parts(&n)
				if children == nil {
					break
				}
				cuts[judged]++
				next := -1
				for i, c := range children {
					if c.nearly(stand) {
						next = i
						break
					}
				}
				require.GreaterOrEqual(t, next, 0, "seed %d depth %d judged %d: %v of %v to %v", seed, depth, judged, stand, n.from, n.to)
				n = *children[next]
			}
		}
	}
	t.Log(followed, "boxes followed;", cuts, "cuts, by places and as judged")
	require.Greater(t, followed, 20)
	require.Positive(t, cuts[0])
	require.Positive(t, cuts[1])
}

// chance is a box of which every line reaches sure, made out of one by chance.
func (s *search) chance(r *rand.Rand) (stand clearance.Stand, ok bool) {
	q := *s
	q.best = found{}
	var lo, hi [3]float64
	for a := range 3 {
		from, to := s.root.from[a], s.root.to[a+3]
		lo[a] = from + r.Float64()*(to-from)/2
		hi[a] = lo[a] + max(s.bounds.min[a], r.Float64()*(to-lo[a]))
	}
	lo[2] = s.root.from[2]
	stand = clearance.Stand{Lo: vector(lo), Hi: vector(hi), StandOff: lo[2]}
	ok = q.mend(s.root.cell.frame, s.root, stand)
	return q.best.stand, ok && q.best.frame != nil
}

// parts are what a node is cut into: by places, or (1) as its lines are judged.
func (s *search) parts(n *node) (children []*node, judged int) {
	stand := s.stand(n)
	f := n.cell.frame
	if children = s.placesCut(n, f, stand, mostTried); children != nil {
		return children, 0
	}
	lines := f.judge.LinesBut(stand, false, s.quiet(n, f))
	if worstOf(lines) <= reach {
		return nil, 1
	}
	return s.cut(n, f, stand, lines), 1
}

// nearly is holds but for what counts as reaching.
func (n *node) nearly(s clearance.Stand) bool {
	lo, hi := components(s.Lo), components(s.Hi)
	for a := range 3 {
		if lo[a] < n.from[a]-reach || lo[a] > n.to[a]+reach || hi[a] < n.from[a+3]-reach || hi[a] > n.to[a+3]+reach {
			return false
		}
	}
	return true
}

// The same where the turn is searched: a box at some turn of a node's range is in one of
// the parts, whatever of it is seen from the middle of the range.
func TestCutsOfTurnsKeepWhatReachesSure(t *testing.T) {
	followed, cuts, halved := 0, 0, 0
	for seed := range uint64(instances(20, 3)) {
		b := bay(seed)
		r := rand.New(rand.NewPCG(seed, 22))
		l := Limits{Top: 1, Effort: 1, Turn: Range{-3 * degree, 3 * degree, true}, Room: room(-20, 340, -20, 240, 0, 200)}
		s, err := newSearch(task{space: adjusted(t, b), tank: b.tank, rules: b.rules, limits: l})
		require.NoError(t, err)
		for range instances(20, 6) {
			turn := (6*r.Float64() - 3) * degree
			frame, err := s.frames.at(turn)
			require.NoError(t, err)
			q := *s
			q.root = &node{cell: &cell{from: turn, to: turn, frame: frame}}
			q.whole()
			stand, ok := q.chance(r)
			if !ok {
				continue
			}
			followed++
			s.best = found{}
			n := *s.root
			n.key = math.Inf(1)
			require.True(t, s.settle(&n))
			for depth := range 80 {
				children := s.placesCut(&n, n.cell.frame, s.stand(&n), mostTried)
				if inside, out := s.within(&n, n.cell.frame, s.stand(&n)); out && r.IntN(3) == 0 {
					children = inside
				}
				if children == nil || depth%9 == 8 {
					if n.cell.half() <= leastTurn {
						break
					}
					halved++
					for _, c := range s.frames.halves(n.cell) {
						if turn >= c.from && turn <= c.to {
							n.cell = c
							break
						}
					}
					continue
				}
				cuts++
				next := -1
				for i, c := range children {
					if c.nearly(stand) {
						next = i
						break
					}
				}
				require.GreaterOrEqual(t, next, 0, "seed %d turn %.4f of %.4f to %.4f, depth %d: %v of %v to %v", seed, turn, n.cell.from, n.cell.to, depth, stand, n.from, n.to)
				n = *children[next]
			}
		}
	}
	t.Log(followed, "boxes followed;", cuts, "cuts;", halved, "ranges halved")
	require.Greater(t, followed, 5)
	require.Positive(t, cuts)
	require.Positive(t, halved)
}
