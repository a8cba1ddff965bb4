package network

import (
	"container/heap"
	"math"

	"github.com/golang/geo/r3"
)

// embed places what is left by all distances at once: classical
// multidimensional scaling (Torgerson 1952, "Multidimensional scaling: I. Theory
// and method", Psychometrika 17) of the distances, the missing ones completed by
// the shortest way along tapes. The picture is turned onto the marks that are
// placed already, as it is or mirrored, whichever fits better.
func (s *starter) embed() {
	for _, group := range s.groups() {
		open := false
		for _, m := range group {
			open = open || !s.Placed[m]
		}
		if !open || len(group) < 4 {
			continue
		}
		s.onto(group, scale(s.ways(group)))
	}
}

// groups are the marks that hang together by distances; those that are placed
// hang together as well.
func (s *starter) groups() [][]int {
	group := make([]int, len(s.At))
	for m := range group {
		group[m] = -1
	}
	var out [][]int
	for first := range group {
		if group[first] >= 0 || s.Placed[first] {
			continue
		}
		k := len(out)
		marks := []int{first}
		group[first] = k
		for i := 0; i < len(marks); i++ {
			if s.Placed[marks[i]] {
				continue
			}
			for _, l := range s.ties[marks[i]] {
				ends, n := s.net.Ties[l].marks()
				for _, o := range ends[:n] {
					if group[o] != k {
						group[o] = k
						marks = append(marks, o)
					}
				}
			}
		}
		out = append(out, marks)
	}
	return out
}

// ways are the shortest ways between the marks of a group.
func (s *starter) ways(group []int) [][]float64 {
	at := map[int]int{}
	for i, m := range group {
		at[m] = i
	}
	type road struct {
		to     int
		length float64
	}
	roads := make([][]road, len(group))
	join := func(i, j int, length float64) {
		roads[i] = append(roads[i], road{j, length})
		roads[j] = append(roads[j], road{i, length})
	}
	for i, m := range group {
		for _, l := range s.ties[m] {
			t := s.net.Ties[l]
			if j, ok := at[t.other(m)]; ok && t.Kind == Distance && t.Mark == m {
				join(i, j, math.Abs(t.Value))
			}
		}
		for j, o := range group[:i] {
			if s.Placed[m] && s.Placed[o] {
				join(i, j, s.At[m].Sub(s.At[o]).Norm())
			}
		}
	}
	out := make([][]float64, len(group))
	for i := range group {
		out[i] = make([]float64, len(group))
		for j := range out[i] {
			out[i][j] = math.Inf(1)
		}
		out[i][i] = 0
		q := &front{{i, 0}}
		for q.Len() > 0 {
			v := heap.Pop(q).(step)
			if v.way > out[i][v.mark] {
				continue
			}
			for _, r := range roads[v.mark] {
				if way := v.way + r.length; way < out[i][r.to] {
					out[i][r.to] = way
					heap.Push(q, step{r.to, way})
				}
			}
		}
	}
	return out
}

type step struct {
	mark int
	way  float64
}

type front []step

func (f front) Len() int           { return len(f) }
func (f front) Less(i, j int) bool { return f[i].way < f[j].way }
func (f front) Swap(i, j int)      { f[i], f[j] = f[j], f[i] }
func (f *front) Push(x any)        { *f = append(*f, x.(step)) }
func (f *front) Pop() any {
	old := *f
	v := old[len(old)-1]
	*f = old[:len(old)-1]
	return v
}

// scale embeds points with such distances in space: the three greatest
// eigenvectors of the doubly centred squares, by subspace iteration.
func scale(d [][]float64) []r3.Vector {
	n := len(d)
	b := make([]float64, n*n)
	mean := make([]float64, n)
	all := 0.0
	for i := range d {
		for j, v := range d[i] {
			if math.IsInf(v, 1) {
				v = 0 // hangs on something that is no tape
			}
			b[i*n+j] = -v * v / 2
			mean[i] += b[i*n+j] / float64(n)
		}
		all += mean[i] / float64(n)
	}
	for i := range n {
		for j := range n {
			b[i*n+j] += all - mean[i] - mean[j]
		}
	}
	var v [3][]float64
	for k := range v {
		v[k] = make([]float64, n)
		for i := range v[k] { // a fixed spread of directions
			v[k][i] = math.Sin(float64((k+1)*(i+1)) + float64(k))
		}
	}
	var length [3]float64
	// A start needs no more than the rough shape: sixty rounds turn what lies
	// an eighth apart to a thousandth.
	for range 60 {
		for k := range v {
			w := make([]float64, n)
			for i := range n {
				w[i] = dot(b[i*n:(i+1)*n], v[k])
			}
			for l := range k {
				share := dot(w, v[l])
				for i := range w {
					w[i] -= share * v[l][i]
				}
			}
			length[k] = math.Sqrt(dot(w, w))
			if length[k] > 0 {
				for i := range w {
					w[i] /= length[k]
				}
			}
			v[k] = w
		}
	}
	out := make([]r3.Vector, n)
	for i := range out {
		out[i] = r3.Vector{X: math.Sqrt(length[0]) * v[0][i], Y: math.Sqrt(length[1]) * v[1][i], Z: math.Sqrt(length[2]) * v[2][i]}
	}
	return out
}

// onto turns a picture of a group onto its placed marks and places the others.
func (s *starter) onto(group []int, picture []r3.Vector) {
	var from, to []r3.Vector
	for i, m := range group {
		if s.Placed[m] {
			from, to = append(from, picture[i]), append(to, s.At[m])
		}
	}
	var best []r3.Vector
	least := math.Inf(1)
	for _, mirror := range [2]float64{1, -1} {
		flipped := make([]r3.Vector, len(picture))
		for i, p := range picture {
			flipped[i] = r3.Vector{X: p.X, Y: p.Y, Z: mirror * p.Z}
		}
		f := make([]r3.Vector, len(from))
		for i, p := range from {
			f[i] = r3.Vector{X: p.X, Y: p.Y, Z: mirror * p.Z}
		}
		placed := Match(f, to).All(flipped)
		try := starter{none: s.none, net: s.net, ties: s.ties, side: s.side, Start: Start{At: append([]r3.Vector(nil), s.At...), Placed: append([]bool(nil), s.Placed...)}}
		for i, m := range group {
			if !s.Placed[m] {
				try.At[m], try.Placed[m] = placed[i], true
			}
		}
		if miss := try.relax(group, s.Placed); miss < least {
			least, best = miss, try.At
		}
	}
	for _, m := range group {
		s.At[m], s.Placed[m] = best[m], true
	}
}

// relax settles the group's marks one after the other, a few rounds, and gives
// the sum of squares.
func (s *starter) relax(group []int, held []bool) float64 {
	sum := 0.0
	for round := range 5 {
		sum = 0
		for _, m := range group {
			if held[m] {
				continue
			}
			ties := s.local(m)
			got := s.settle(m, s.At[m], ties)
			s.At[m] = got.at
			if round == 4 {
				sum += got.miss
			}
		}
	}
	return sum
}

// Motion is a rigid motion: a turn, then a shift.
type Motion struct {
	Rows  [3]r3.Vector // of the turn
	Shift r3.Vector
}

// Move moves a place.
func (m Motion) Move(p r3.Vector) r3.Vector { return m.Turn(p).Add(m.Shift) }

// Turn turns a direction.
func (m Motion) Turn(v r3.Vector) r3.Vector {
	return r3.Vector{X: m.Rows[0].Dot(v), Y: m.Rows[1].Dot(v), Z: m.Rows[2].Dot(v)}
}

// All moves many places.
func (m Motion) All(p []r3.Vector) []r3.Vector {
	out := make([]r3.Vector, len(p))
	for i := range p {
		out[i] = m.Move(p[i])
	}
	return out
}

// Match is the rigid motion that brings points nearest to others, least squares,
// never mirrored (Kabsch 1976, "A solution for the best rotation to relate two
// sets of vectors", Acta Cryst. A32). None or one point leaves the turn out.
func Match(from, to []r3.Vector) Motion {
	out := Motion{Rows: [3]r3.Vector{{X: 1}, {Y: 1}, {Z: 1}}}
	if len(from) == 0 {
		return out
	}
	var a, b r3.Vector
	for i := range from {
		a, b = a.Add(from[i]), b.Add(to[i])
	}
	a, b = a.Mul(1/float64(len(from))), b.Mul(1/float64(len(from)))
	if len(from) > 1 {
		out.Rows = turnOnto(from, to, a, b)
	}
	out.Shift = b.Sub(out.Turn(a))
	return out
}
