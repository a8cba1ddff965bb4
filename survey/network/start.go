package network

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r3"
)

// Start are the places to start an adjustment from.
type Start struct {
	At     []r3.Vector
	Placed []bool // false: the ties do not say where
}

// Side chooses between two places of a mark that its ties cannot tell apart.
// first says that a is the right one; ok is false where nothing decides.
type Side func(mark int, a, b r3.Vector) (first, ok bool)

// alike is how near the sums of squares of two places must be for the ties not
// to tell them apart: chance makes one in four hundred right places worse by as
// much (normal, 3 standard deviations).
const alike = 9

// Start places the marks that are not known yet: by offsets and probes where
// their bases are placed, by closed-form multilateration from three placed
// marks or more, the mark with the most ties first. A network or a part of it
// in which nothing is placed begins with four marks that are all taped to each
// other, or is embedded from all its distances (Embed). side may be nil.
func (net Net) Start(known Start, side Side) Start {
	s := starter{net: net, side: side, none: make([]float64, net.Shared), Start: Start{At: slices.Clone(known.At), Placed: slices.Clone(known.Placed)}}
	s.sortTies()
	s.spread() // from offsets too
	if !slices.Contains(s.Placed, true) {
		s.free = true
		s.seed()
		s.spread()
	}
	if slices.Contains(s.Placed, false) {
		s.embed()
	}
	s.repair(known.Placed)
	return s.Start
}

// marks are the first n: the marks in a tie.
func (t *Tie) marks() (marks [3]int, n int) {
	marks = [3]int{t.Mark, t.From, t.To}
	switch {
	case t.Kind == Common:
		return marks, 0
	case t.From == None:
		return marks, 1
	case t.Kind == Offset || t.Kind == Distance:
		return marks, 2
	}
	return marks, 3
}

type starter struct {
	Start
	net  Net
	side Side
	ties [][]int
	free bool      // nothing was placed: errors add up on the way
	none []float64 // shared errors of nothing, while marks are placed
	// Scratch space: what local gave last, the ends that rank has seen, and the
	// marks and distances that guesses gathers.
	near      []*Tie
	ends      []int
	known     []r3.Vector
	distances []float64
}

// spread places one mark after the other, the best tied first. A mark that could
// as well be elsewhere waits until no other is left: one wrong side would carry
// on through all that hangs on it.
func (s *starter) spread() {
	rank := make([]int, len(s.At))
	for m := range rank {
		rank[m] = s.rank(m)
	}
	waits := make([]bool, len(s.At))
	hasty := false
	count, again := 0, 8
	for {
		best := -1
		for m, placed := range s.Placed {
			if !placed && rank[m] >= 3 && (hasty || !waits[m]) && (best < 0 || rank[m] > rank[best]) {
				best = m
			}
		}
		switch {
		case best < 0 && hasty:
			return
		case best < 0:
			hasty = true
			continue
		case !s.put(best, hasty):
			waits[best] = true
			if hasty {
				rank[best] = 0
			}
			continue
		}
		hasty = false
		if count++; s.free && count >= again {
			s.settleAll()
			again = count * 3 / 2
		}
		for _, l := range s.ties[best] {
			ends, n := s.net.Ties[l].marks()
			for _, m := range ends[:n] {
				if !s.Placed[m] {
					rank[m], waits[m] = s.rank(m), false
				}
			}
		}
	}
}

// rank counts the ties that a mark has to placed ones, repeats once; a probe, or
// three offsets, count for more than any tapes.
func (s *starter) rank(m int) int {
	n, offsets := 0, 0
	seen := s.ends[:0]
	for _, l := range s.ties[m] {
		t := &s.net.Ties[l]
		if !s.usable(t, m) {
			continue
		}
		switch t.Kind {
		case Offset:
			n++
			if offsets++; offsets == 3 {
				n += 100
			}
		case Distance:
			if o := t.other(m); !slices.Contains(seen, o) {
				n++
				seen = append(seen, o)
			}
		default:
			n += 100
		}
	}
	s.ends = seen
	return n
}

func (t *Tie) other(m int) int {
	if t.Mark == m {
		return t.From
	}
	return t.Mark
}

// usable says that all of a tie's marks but m are placed, and that it can tell
// where m is.
func (s *starter) usable(t *Tie, m int) bool {
	if t.Kind > Distance && t.Mark != m {
		return false
	}
	ends, n := t.marks()
	for _, o := range ends[:n] {
		if o != m && !s.Placed[o] {
			return false
		}
	}
	return true
}

// local are the ties of a mark to placed marks. They stand until it is asked of
// another.
func (s *starter) local(m int) []*Tie {
	s.near = s.near[:0]
	for _, l := range s.ties[m] {
		if t := &s.net.Ties[l]; s.usable(t, m) {
			s.near = append(s.near, t)
		}
	}
	return s.near
}

// put places a mark by its ties to placed ones; one that could as well be
// elsewhere only in haste, or where the side decides.
func (s *starter) put(m int, hasty bool) bool {
	ties := s.local(m)
	var found []spot
	for _, p := range s.guesses(m, ties) {
		found = append(found, s.settle(m, p, ties))
	}
	if len(found) == 0 {
		return false
	}
	at, sure := s.choose(m, found)
	if !sure && !hasty {
		return false
	}
	s.At[m] = at
	s.Placed[m] = true
	return true
}

// spot is a place and its sum of squares.
type spot struct {
	at   r3.Vector
	miss float64
}

// choose takes the place that fits best; of two that fit alike, the one on the
// right side. sure is false where nothing decides between them.
func (s *starter) choose(m int, found []spot) (at r3.Vector, sure bool) {
	slices.SortStableFunc(found, func(a, b spot) int { return cmp.Compare(a.miss, b.miss) })
	best := found[0]
	sure = true
	for _, f := range found[1:] {
		// The marks that it hangs on are off themselves, so that the better of
		// two places misses by more than chance; the worse must by far.
		if f.miss > sideways*(alike+best.miss) {
			break
		}
		if f.at.Sub(best.at).Norm() < samePlace*(1+s.reach(m, best.at)) {
			continue
		}
		if s.side != nil {
			if first, ok := s.side(m, best.at, f.at); ok {
				if !first {
					best = f
				}
				continue
			}
		}
		if f.miss <= alike+3*best.miss {
			sure = false
		}
	}
	return best.at, sure
}

// reach is how far a place of a mark is from the first mark that it is tied to.
func (s *starter) reach(m int, at r3.Vector) float64 {
	for _, l := range s.ties[m] {
		ends, n := s.net.Ties[l].marks()
		for _, o := range ends[:n] {
			if o != m {
				return at.Sub(s.At[o]).Norm()
			}
		}
	}
	return at.Norm()
}

// sideways is how much worse the place on the right side may fit than the one on
// the wrong side: a slip bends both, and a known side is worth more than any one
// reading.
const sideways = 10

// samePlace is how near two places are one, over the length of a tie: what two
// settlings of one minimum differ by at most.
const samePlace = 1e-3

// guesses are places to settle from: exact for a probe or for offsets all
// three ways, by lateration for tapes alone, else spread round what is known.
func (s *starter) guesses(m int, ties []*Tie) []r3.Vector {
	known, distances := s.known[:0], s.distances[:0]
	var about r3.Vector
	offsets, probes, reach := 0, 0, 1.0
	for _, t := range ties {
		switch {
		case t.Kind == Distance:
			known = append(known, s.At[t.other(m)])
			distances = append(distances, math.Abs(t.Value))
			about = about.Add(s.At[t.other(m)])
			reach = math.Max(reach, math.Abs(t.Value))
		case t.Kind == Offset:
			offsets++
		default:
			probes++
		}
	}
	s.known, s.distances = known, distances
	if len(known) > 0 {
		about = about.Mul(1 / float64(len(known)))
	}
	switch {
	case probes > 0:
		return []r3.Vector{s.probe(m, ties)}
	case offsets == 0:
		return Laterate(known, distances, nil)
	}
	out := []r3.Vector{about}
	for k := range 27 { // round about, a cube of directions
		d := r3.Vector{X: float64(k%3 - 1), Y: float64(k/3%3 - 1), Z: float64(k/9 - 1)}
		if d.Norm() > 0 {
			out = append(out, about.Add(d.Mul(reach/d.Norm())))
		}
	}
	return out
}

// probe is where the first depth of a mark puts it.
func (s *starter) probe(m int, ties []*Tie) r3.Vector {
	for _, t := range ties {
		if t.Kind != Along {
			continue
		}
		for _, p := range ties {
			if p.Kind == Probe && p.From == t.From && p.To == t.To && p.Mark == t.Mark {
				e, n, _, _ := p.axes(s.At)
				return s.At[t.From].Add(e.Mul(t.Value)).Add(n.Mul(p.Value))
			}
		}
	}
	return s.At[m]
}

// settle moves one mark to where its ties fit best, the others held: damped
// Gauss-Newton with three unknowns.
func (s *starter) settle(m int, p r3.Vector, ties []*Tie) spot {
	keep := s.At[m]
	defer func() { s.At[m] = keep }()
	s.At[m] = p
	best := spot{p, s.miss(ties)}
	factor := near
	for range 30 { // a place that is not settled by then is a start all the same
		var n [3][3]float64
		var g [3]float64
		for _, t := range ties {
			if t.Kind == Common {
				continue
			}
			by, value := s.slope(t, m)
			v := [3]float64{by.X / t.U, by.Y / t.U, by.Z / t.U}
			r := (value - t.Value) / t.U
			for a := range v {
				g[a] -= v[a] * r
				for b := range v {
					n[a][b] += v[a] * v[b]
				}
			}
		}
		trace := n[0][0] + n[1][1] + n[2][2]
		moved := false
		for range 12 {
			d := n
			for a := range 3 {
				d[a][a] += factor*n[a][a] + 1e-12*trace
			}
			step := solveSmall(d, g, 3)
			s.At[m] = best.at.Add(r3.Vector{X: step[0], Y: step[1], Z: step[2]})
			if miss := s.miss(ties); miss < best.miss {
				moved = best.miss-miss > 1e-9*(1+miss)
				best = spot{s.At[m], miss}
				factor /= 10
				break
			}
			if promised := 2 * (step[0]*g[0] + step[1]*g[1] + step[2]*g[2]); promised <= restful*(1+best.miss) {
				break // at rest: what is left to gain is rounding
			}
			factor = math.Max(factor, 1e-6) * 8
		}
		s.At[m] = best.at
		if !moved {
			break
		}
	}
	return best
}

func (s *starter) miss(ties []*Tie) float64 {
	sum := 0.0
	for _, t := range ties {
		r := (t.value(s.At, s.none) - t.Value) / t.U
		sum += r * r
	}
	return sum
}
