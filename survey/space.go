// Package survey turns readings into a space: marks with their joint
// uncertainty, the features that they stand for, and the doubts about them.
// Lengths are millimetres in the mounting frame: facing the mounting face, x to
// the right, y up the face, z out of it.
package survey

import (
	"math"

	"github.com/golang/geo/r3"
	"gonum.org/v1/gonum/mat"

	"elbowroom/survey/network"
	"elbowroom/survey/table"
)

// Space is all features in the mounting frame, with their uncertainty. It does
// not change once made.
type Space struct {
	Marks    []Mark
	Features []Feature
	Rows     []Row
	Doubts   []Doubt
	// Free lists the lines that a taut tape or a probe lay along: nothing else
	// is there.
	Free []FreeLine
	// Mount is the index of the feature that the box is bolted to, or -1.
	Mount int
	// Adjustment says how well the readings agree, and how strong each is.
	Adjustment Adjustment
	sources    []Source
	checked    []float64 // of each source, its redundancy; NaN: nobody reads it
	frame      *frameFix
	net        *netted
}

// Mark is a named point on the machine, or an unnamed one.
type Mark struct {
	Name string // an unnamed mark is shown as feature#line
	At   r3.Vector
	// Located is false for a mark with a blank coordinate: it needs a tape.
	Located bool
	// Rows are the readings of the mark's coordinates, as indices into
	// Space.Rows. Tapes and depths are not among them: see Row.Marks.
	Rows []int
	Pos  table.Pos
	// From is the kind of readings that place the mark: Points where any
	// coordinate was given, else Depths where there is one, else Tapes.
	From Kind
	// by gives each raw coordinate (before the frame is applied) as a
	// combination of sources, in mm for each standard deviation.
	by [3][]Term
}

// FreeLine is a straight line that is proven free, from one place to another.
type FreeLine struct {
	From, To r3.Vector
	Pos      table.Pos
}

// Row is one reading: of a mark's coordinates, a tape or a depth.
type Row struct {
	Kind Kind
	// Mark is the mark that was measured; of a tape, the one at its far end.
	Mark int
	// Marks are all marks that the reading touches: of a tape its two ends, of a
	// depth the mark and the straightedge's ends.
	Marks []int
	Pos   table.Pos
	// Shared stands for the one error that all tape readings of a file have in
	// common: no reading of its own, and nothing that could slip.
	Shared bool
	// Redundancy is the share of an error in this reading that the other
	// readings would show: 0 for a reading that nothing checks, 1/2 for one of
	// two equal repeats. The least over its coordinates.
	Redundancy float64
	// Flats are the normals, in the file's axes, of the flats that check the
	// mark: an error along one of them would show as a mark out of the flat.
	Flats []r3.Vector
	// flatChecks is, of each, how well it checks the mark: see addFlat.
	flatChecks []float64
	// Widest is the reading's greatest half limit, mm.
	Widest float64
}

// Source is one independent error: a coordinate of a reading, a taped distance,
// or one number of a depth.
type Source struct {
	Row int
	// Axis is the coordinate's, of the file's own axes; 0 for a tape; 0 for how
	// far along a straightedge, 1 for the probe, 2 for sideways of both.
	Axis int
	U    float64 // standard uncertainty, mm
}

// Term is how far a figure moves, in its own unit, when a source is off by one
// standard deviation.
type Term struct {
	Source int
	By     float64
}

// Sources lists the independent errors of the survey.
func (s *Space) Sources() []Source { return s.sources }

// Pull is how far a figure moves for each millimetre that a mark moves along x, y, z.
type Pull struct {
	Mark int
	By   r3.Vector
}

// Gradient is a figure's pulls; marks may stand in it more than once.
type Gradient []Pull

// Feature is a named thing in the space.
type Feature struct {
	Spec   FeatureSpec
	Nodes  []Node
	Pieces []Piece
	Grow   float64 // half its thickness, mm
	// Behind is the direction of all that is solid beyond each piece, or zero.
	Behind r3.Vector
	Plane  *network.Plane // of a face
	// Fitted holds the marks through which Plane was fitted, in its order.
	Fitted []int
	// Missing lists marks that have no place yet.
	Missing []int
}

// Node is a corner of a feature's pieces: a mark, moved by Offset.
type Node struct {
	Mark   int
	At     r3.Vector
	Planar bool // lies in the feature's plane, which all its marks decide
}

// Piece is the convex hull of some nodes of a feature, grown by the feature's
// half thickness, and all behind it where the feature says so.
type Piece struct{ Nodes []int }

// Spreader turns gradients into terms over independent sources. It keeps
// scratch space: use one in each goroutine.
type Spreader struct {
	space   *Space
	sum     []float64
	touched []int
	net     *network.Spreader
	terms   []float64
	movers  []network.Mover
}

// Spreader makes one.
func (s *Space) Spreader() *Spreader {
	p := &Spreader{space: s, sum: make([]float64, len(s.sources))}
	if s.net != nil {
		p.net = s.net.adjusted.Spreader()
		p.terms = make([]float64, len(s.net.adjusted.Net.Ties))
	}
	return p
}

// Terms gives the gradient over independent sources, sorted by source. The sum
// of squares of the terms is the variance of the figure.
func (p *Spreader) Terms(g Gradient) []Term {
	s := p.space
	p.movers = p.movers[:0]
	for _, pull := range s.raw(g) {
		if k, ok := s.net.at(pull.Mark); ok {
			p.movers = append(p.movers, network.Mover{Mark: k, By: pull.By})
		} // what a mark of the network has by itself, its widened limit, comes on top
		by := [3]float64{pull.By.X, pull.By.Y, pull.By.Z}
		for axis, terms := range s.Marks[pull.Mark].by {
			if by[axis] == 0 {
				continue
			}
			for _, t := range terms {
				p.add(t.Source, by[axis]*t.By)
			}
		}
	}
	if len(p.movers) > 0 {
		p.fromNet()
	}
	return p.collect()
}

func (p *Spreader) add(source int, by float64) {
	if p.sum[source] == 0 {
		p.touched = append(p.touched, source)
	}
	p.sum[source] += by
}

// fromNet adds the terms of the marks in the network. What is under a
// thousand-millionth of the greatest is the rounding of the solution.
func (p *Spreader) fromNet() {
	p.net.Terms(p.movers, p.terms)
	most := 0.0
	for _, by := range p.terms {
		most = math.Max(most, math.Abs(by))
	}
	for l, by := range p.terms {
		if math.Abs(by) > 1e-9*most {
			p.add(p.space.net.source[l], by)
		}
	}
}

func (p *Spreader) collect() []Term {
	sortInts(p.touched)
	terms := make([]Term, 0, len(p.touched))
	for _, source := range p.touched {
		if by := p.sum[source]; by != 0 {
			terms = append(terms, Term{source, by})
			p.sum[source] = 0
		}
	}
	p.touched = p.touched[:0]
	return terms
}

// Covariance is the 3x3 block between marks i and j, mm2.
func (s *Space) Covariance(i, j int) *mat.Dense {
	if k, ok := s.net.at(i); ok && i == j && s.frame == nil {
		b := s.net.adjusted.Block(k, k)
		return mat.NewDense(3, 3, b[:])
	}
	p := s.Spreader()
	axes := [3]r3.Vector{{X: 1}, {Y: 1}, {Z: 1}}
	var at, to [3][]Term
	for a, axis := range axes {
		at[a] = p.Terms(Gradient{{i, axis}})
		to[a] = p.Terms(Gradient{{j, axis}})
	}
	block := mat.NewDense(3, 3, nil)
	for a := range axes {
		for b := range axes {
			block.Set(a, b, Dot(at[a], to[b]))
		}
	}
	return block
}

// Uncertainty is a mark's standard uncertainty by its readings, the root mean
// square over the three directions, mm. What the frame adds is common to all
// marks and not in it.
func (s *Space) Uncertainty(mark int) float64 {
	sum := 0.0
	if k, ok := s.net.at(mark); ok {
		if s.net.gauged {
			return s.net.inner[k]
		}
		b := s.net.adjusted.Block(k, k)
		return math.Sqrt((b[0] + b[4] + b[8]) / 3)
	}
	for _, terms := range s.Marks[mark].by {
		sum += Dot(terms, terms)
	}
	return math.Sqrt(sum / 3)
}

// Dot is the covariance of two figures given by their terms, each sorted by source.
func Dot(a, b []Term) float64 {
	sum := 0.0
	for i, j := 0, 0; i < len(a) && j < len(b); {
		switch {
		case a[i].Source < b[j].Source:
			i++
		case a[i].Source > b[j].Source:
			j++
		default:
			sum += a[i].By * b[j].By
			i++
			j++
		}
	}
	return sum
}

// Feature finds a feature by its name.
func (s *Space) Feature(name string) (*Feature, bool) {
	for i := range s.Features {
		if s.Features[i].Spec.Name == name {
			return &s.Features[i], true
		}
	}
	return nil, false
}

// Mark finds a mark by its name.
func (s *Space) Mark(name string) (int, bool) {
	for i := range s.Marks {
		if s.Marks[i].Name == name {
			return i, true
		}
	}
	return 0, false
}

// Move is how far a place on a piece moves along dir (a unit vector) as marks
// move: the place is the mix of the piece's nodes. The gradient is appended to g.
func (f *Feature) Move(g Gradient, at r3.Vector, dir r3.Vector, nodes []int, shares []float64) Gradient {
	planar := false
	for k, n := range nodes {
		node := f.Nodes[n]
		by := dir
		if node.Planar {
			planar = true
			by = dir.Sub(f.Plane.Normal.Mul(dir.Dot(f.Plane.Normal)))
		}
		if by := by.Mul(shares[k]); by != (r3.Vector{}) {
			g = append(g, Pull{node.Mark, by})
		}
	}
	if planar {
		g = f.MovePlane(g, at, dir.Dot(f.Plane.Normal))
	}
	return g
}

// MovePlane is how far the feature's plane at a place moves along its normal,
// times scale, as its marks move.
func (f *Feature) MovePlane(g Gradient, at r3.Vector, scale float64) Gradient {
	for j, h := range f.Plane.Influence(at, nil) {
		if by := h * scale; by != 0 {
			g = append(g, Pull{f.Fitted[j], f.Plane.Normal.Mul(by)})
		}
	}
	return g
}

// TiltPlane is how far a figure moves that changes by twist for each radian
// that the feature's plane tilts.
func (f *Feature) TiltPlane(g Gradient, twist r3.Vector) Gradient {
	for j, m := range f.Fitted {
		if by := f.Plane.Tilt(j).Dot(twist); by != 0 {
			g = append(g, Pull{m, f.Plane.Normal.Mul(by)})
		}
	}
	return g
}
