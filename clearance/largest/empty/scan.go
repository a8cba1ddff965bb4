package empty

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
)

// A Scan is a problem of a standing box among the points of a scan, up to tens
// of millions. Points come in with Add, a piece at a time; nothing else is kept
// than twelve bytes a point.
//
// The plane is divided into square cells of a power of two in micrometres, and
// every cell knows its points and how low the lowest is: a depth map.
type Scan struct {
	problem Problem
	keep    Point // half-size of a point's block

	shift  uint  // a cell is 1<<shift micrometres wide
	nx, ny int32 // cells
	corner Point // of the first cell, on the plane
	sites  []site
	last   []int32 // of each cell the last site, and of each site the one before
	before []int32 // it in its cell; none: -1
	lowest []int32 // the lowest site of each cell; none: -1
	low    []int32 // its lower end above the plane; none: noPoint

	Left int // points left out: not a number, or too far off to matter
}

// A site is a point from the corner, in half micrometres: the sum of the whole
// micrometres below and above each coordinate. No box with corners in whole
// micrometres can tell the point itself from the block between these two.
type site [3]int32

// below and above are the whole micrometres on either side of a coordinate.
func below(half int32) int32 { return half >> 1 }
func above(half int32) int32 { return (half + 1) >> 1 }

const (
	noPoint = math.MaxInt32

	// mostCells bounds the depth map: at 600 x 400 mm its cells are 2 mm wide
	// and a million points are 17 to a cell. Measured on such a scan, 2^14 and
	// 2^17 cells take longer.
	mostCells = 1 << 16

	// scanReach is the greatest size of a scanned domain, in micrometres: half
	// micrometres in an int32, and half of that to spare for gaps.
	scanReach = 1 << 29
)

// Problems that a scan cannot be searched for.
var (
	ErrScanReach = fmt.Errorf("the domain with its gaps is over %.0f m", scanReach/1e6)
	ErrKeep      = errors.New("a gap is below zero")
)

// NewScan is a scan without points yet for a problem. The box keeps off each
// point by keep in each direction (micrometres; see Around).
func NewScan(p Problem, keep Point) (*Scan, error) {
	if err := p.Err(); err != nil {
		return nil, err
	}
	if p.Free {
		return nil, ErrFree
	}
	for a, size := range p.Domain.Size() {
		if keep[a] < 0 {
			return nil, ErrKeep
		}
		if keep[a] > scanReach || size+2*keep[a] > scanReach {
			return nil, ErrScanReach
		}
	}
	s := &Scan{problem: p.whole(), keep: keep}
	for s.shift = 6; ; s.shift++ {
		if s.divide(); int64(s.nx)*int64(s.ny) <= mostCells {
			break
		}
	}
	s.last = make([]int32, s.nx*s.ny)
	s.low, s.lowest = make([]int32, s.nx*s.ny), make([]int32, s.nx*s.ny)
	for c := range s.last {
		s.last[c], s.lowest[c], s.low[c] = -1, -1, noPoint
	}
	return s, nil
}

// divide lays cells over the domain and the gap around it, so that one begins
// where the domain does.
func (s *Scan) divide() {
	cell := int64(1) << s.shift
	size := s.problem.Domain.Size()
	s.corner = s.problem.Domain.Lo
	var n [2]int64
	for a := range n {
		pad := (s.keep[a] + cell - 1) / cell
		s.corner[a] -= pad * cell
		n[a] = pad + (size[a]+s.keep[a]+cell-1)/cell
	}
	s.nx, s.ny = int32(min(n[0], mostCells+1)), int32(min(n[1], mostCells+1))
}

// Add takes in points, three coordinates each, in units of so many micrometres
// (1000 for millimetres). Points that are not numbers are left out, and so are
// those that no box of the problem can come near to.
func (s *Scan) Add(xyz []float64, unit float64) { addTo(s, xyz, unit) }

// Add32 is Add for single precision; nothing is lost on the way.
func (s *Scan) Add32(xyz []float32, unit float64) { addTo(s, xyz, unit) }

func addTo[F float32 | float64](s *Scan, xyz []F, unit float64) {
	lo, hi := s.within()
	corner := [3]float64{float64(s.corner[0]), float64(s.corner[1]), float64(s.corner[2])}
	s.sites, s.before = slices.Grow(s.sites, len(xyz)/3), slices.Grow(s.before, len(xyz)/3)
	for ; len(xyz) >= 3; xyz = xyz[3:] {
		x := float64(xyz[0])*unit - corner[0]
		y := float64(xyz[1])*unit - corner[1]
		z := float64(xyz[2])*unit - corner[2]
		// Said so that a coordinate that is not a number fails.
		if !(x > lo[0] && x < hi[0] && y > lo[1] && y < hi[1] && z > lo[2] && z < hi[2]) {
			s.Left++
			continue
		}
		p := site{halves(x), halves(y), halves(z)}
		c := below(p[1])>>s.shift*s.nx + below(p[0])>>s.shift
		if z := below(p[2]); z < s.low[c] {
			s.low[c], s.lowest[c] = z, int32(len(s.sites))
		}
		s.before = append(s.before, s.last[c])
		s.last[c] = int32(len(s.sites))
		s.sites = append(s.sites, p)
	}
}

// halves is floor + ceiling of a length.
func halves(v float64) int32 {
	whole := int32(v)
	switch f := float64(whole); {
	case v > f:
		return 2*whole + 1
	case v < f:
		return 2*whole - 1
	}
	return 2 * whole
}

// within is the open space from the corner in which a point can matter.
func (s *Scan) within() (lo, hi [3]float64) {
	size := s.problem.Domain.Size()
	for a := range lo {
		off := s.problem.Domain.Lo[a] - s.corner[a]
		lo[a], hi[a] = float64(off-s.keep[a]), float64(off+size[a]+s.keep[a])
	}
	return lo, hi
}

// Len is the number of points taken in.
func (s *Scan) Len() int { return len(s.sites) }

// block is what the box keeps off for a site.
func (s *Scan) block(p site) (b Box) {
	for a, half := range p {
		b.Lo[a] = s.corner[a] + int64(below(half)) - s.keep[a]
		b.Hi[a] = s.corner[a] + int64(above(half)) + s.keep[a]
	}
	return b
}

// Inside counts the points whose blocks reach into a room, but for those whose
// blocks are to be ignored, one by one and without the depth map: the check of an
// answer.
func (s *Scan) Inside(room Box, ignored ...Box) (count int) {
	w := s.window(room)
	for _, p := range s.sites {
		if w.holds(&p) && !slices.Contains(ignored, s.block(p)) {
			count++
		}
	}
	return count
}

// Best finds the box of the greatest value that keeps off every point of the
// scan and every block of the problem, and proves it, as Best does.
//
// All rooms are searched, and the scan is asked for points in a room only when
// none is left in it of those that it has told of: the lowest ones, since they
// rule out most. So the answer is no rounder than the points, only a few hundred
// of them are ever looked at one by one, and the bound is proved among all of
// them even when Effort ends the search. Last, the room is checked against every
// point without the depth map.
func (s *Scan) Best(ctx context.Context, e Effort) (Answer, error) {
	return s.search(ctx, s.problem, nil, e)
}

// Strays answers what stray returns cost: for k from 0 to most the best box if up
// to k points were noise, those that cost most, with these points' blocks in
// Answer.Ignored. Each is proved among all choices of points, which is more than
// leaving out one after the other: two strays side by side are only worth
// anything together. None but the first is a box to build: look at the points
// that are ignored, and measure there again. Effort is for each answer.
func (s *Scan) Strays(ctx context.Context, most int, e Effort) ([]Answer, error) {
	var all []Answer
	for k := range most + 1 {
		p := s.problem
		p.Ignore += k
		var last *Answer
		if k > 0 {
			last = &all[k-1]
		}
		a, err := s.search(ctx, p, last, e)
		if err != nil {
			return all, err
		}
		all = append(all, a)
	}
	return all, nil
}

// search solves one problem among the points, starting from a box that is known.
func (s *Scan) search(ctx context.Context, p Problem, known *Answer, e Effort) (Answer, error) {
	all := newSearch(p)
	all.more = s.pointsIn
	if known != nil && known.Found() {
		all.best, all.value = node{room: known.Room, ignored: known.Ignored}, known.Value
	}
	all.run(ctx, e)
	a := all.answer()
	if inside := s.Inside(a.Room, a.Ignored...); inside > 0 {
		return Answer{}, fmt.Errorf("%d points are in the box found: %v", inside, a.Room)
	}
	return a, nil
}
