package clearance

import (
	"math"
	"slices"

	"github.com/golang/geo/r3"
	"gonum.org/v1/gonum/mat"

	"elbowroom/solid"
	"elbowroom/solid/shape"
	"elbowroom/survey"
)

// Spreads bounds from below how uncertain the places of a feature are as seen
// from the box, wherever the box stands. The tilt of the face tells more the
// farther a place is from the datum; here it takes off whatever it can, so that
// the bound holds at any lever. Each is worked out when it is asked for first.
type Spreads struct {
	judge   *Judge
	feature *survey.Feature
	base    *spreadBase
	rows    []*[3]column
	nodes   []*NodeSpread
	pieces  []*PieceSpread
}

// NodeSpread is that of one node, mm2.
type NodeSpread struct {
	// Cov is the least covariance over all levers: the variance along a unit n is at
	// least n'Cov n. Zero for a node whose place hangs on a fitted plane.
	Cov [3][3]float64
	// Levered are the covariances with its own lever, one for each way in which the face
	// may hold the box: the variance is that of one of them. Where the feature goes on
	// behind, that counts where the clearance is to its own side only.
	Levered [][3][3]float64
}

// Least is the least variance in any direction, mm2.
func (n *NodeSpread) Least() float64 {
	g := mat.NewSymDense(3, nil)
	for a := range 3 {
		for b := range a + 1 {
			g.SetSym(a, b, n.Cov[a][b])
		}
	}
	return leastEigenvalue(g)
}

// PieceSpread is that of a place of a piece that is the mix w of its nodes: at least
// that times the sum of the squares of w, mm2.
type PieceSpread struct {
	Least float64 // in any direction
	// Axis is that of the directions along x, y and z alone, and Skew bounds what
	// the others can take off between two of them: the variance along n is at least
	// the sum of the axes' by the squares of n, less Skew.
	Axis [3]float64
	Skew float64
}

// spreadBase is what all features' spreads have in common.
type spreadBase struct {
	free    []wide
	out     wide
	outDot  float64   // out by itself
	outFree []float64 // and by each of free
	pushes  []shove
}

// wide is a figure's terms by their sources, for many products with few terms.
type wide []float64

func widen(terms []survey.Term, sources int) wide {
	w := make(wide, sources)
	for _, t := range terms {
		w[t.Source] = t.By
	}
	return w
}

func (w wide) dot(terms []survey.Term) float64 {
	sum := 0.0
	for _, t := range terms {
		sum += w[t.Source] * t.By
	}
	return sum
}

// Spreads sets them out for a feature, by its index in the space.
func (j *Judge) Spreads(feature int) *Spreads {
	if j.base == nil {
		free, out := j.levers()
		sources := len(j.c.space.Sources())
		j.base = &spreadBase{out: widen(out, sources), outDot: survey.Dot(out, out), pushes: j.pushes()}
		for _, e := range free {
			j.base.free = append(j.base.free, widen(e, sources))
			j.base.outFree = append(j.base.outFree, survey.Dot(out, e))
		}
	}
	f := &j.c.space.Features[feature]
	return &Spreads{
		judge: j, feature: f, base: j.base, rows: make([]*[3]column, len(f.Nodes)),
		nodes: make([]*NodeSpread, len(f.Nodes)), pieces: make([]*PieceSpread, len(f.Pieces)),
	}
}

// Node is that of a node of the feature.
func (s *Spreads) Node(i int) *NodeSpread {
	if s.nodes[i] != nil {
		return s.nodes[i]
	}
	out := &NodeSpread{}
	s.nodes[i] = out
	n := s.feature.Nodes[i]
	if n.Planar {
		return out
	}
	row := s.row(i)
	for a := range 3 {
		for b := range a + 1 {
			out.Cov[a][b] = row[a].dot(&row[b], s.base)
			out.Cov[b][a] = out.Cov[a][b]
		}
	}
	out.Levered = s.judge.levered(n, s.base.pushes)
	return out
}

func (s *Spreads) row(i int) *[3]column {
	if s.rows[i] == nil {
		made := s.judge.columns(s.feature.Nodes[i].Mark, s.base)
		s.rows[i] = &made
	}
	return s.rows[i]
}

// Piece is that of a piece of the feature.
func (s *Spreads) Piece(i int) *PieceSpread {
	if s.pieces[i] != nil {
		return s.pieces[i]
	}
	out, p := &PieceSpread{}, s.feature.Pieces[i]
	s.pieces[i] = out
	if !bounded(s.feature, p) {
		return out
	}
	rows := make([]*[3]column, len(p.Nodes))
	for k, n := range p.Nodes {
		rows[k] = s.row(n)
	}
	if out.apart(rows) {
		return out
	}
	out.Least = leastOf(rows, s.base)
	out.Axis, out.Skew = alongAxes(rows, s.base)
	return out
}

// shove is what the face can do to the box, and what its three ways have in common.
type shove struct {
	ways   [3]wide
	common [3][3]float64
}

// pushes are all that the face can do to the box: held by its plane, or by each of
// its marks that may hold it off.
func (j *Judge) pushes() (out []shove) {
	for _, p := range j.poses() {
		ways := p.hold(j.c.space, j.c.spread)
		var w shove
		for a := range 3 {
			w.ways[a] = widen(ways[a], len(j.c.space.Sources()))
			for b := range 3 {
				w.common[a][b] = survey.Dot(ways[a], ways[b])
			}
		}
		out = append(out, w)
	}
	return out
}

// poses are the pose held by the plane, and by each of its marks that stands proud
// by more than the stand-off as drawn.
func (j *Judge) poses() (out []pose) {
	p := j.c.pose
	p.proud = -1
	out = append(out, p)
	if p.mount == nil {
		return out
	}
	for k, h := range p.mount.Plane.Residuals {
		if h > j.model.Tank.Place.StandOff {
			p.proud = k
			out = append(out, p)
		}
	}
	return out
}

// levered are the covariances of a clearance from a node, with its lever.
func (j *Judge) levered(n survey.Node, pushes []shove) (out [][3][3]float64) {
	at := j.c.pose.local(n.At)
	var own [3][]survey.Term
	var amounts [3][3]float64
	for a := range 3 {
		along := solid.Axis(a)
		own[a] = j.c.spread.Terms(survey.Gradient{{Mark: n.Mark, By: j.c.pose.turnOut(along)}})
		amounts[a] = j.c.pose.push(at, along.Mul(-1))
	}
	for _, w := range pushes {
		var m, crossed [3][3]float64 // crossed: of one's marks with what pushes the other
		for a := range 3 {
			for b := range 3 {
				m[a][b] = survey.Dot(own[a], own[b])
				for k, by := range amounts[b] {
					if by == 0 {
						continue
					}
					crossed[a][b] += by * w.ways[k].dot(own[a])
					for l, other := range amounts[a] {
						m[a][b] += by * other * w.common[k][l]
					}
				}
			}
		}
		for a := range 3 {
			for b := range 3 {
				m[a][b] += crossed[a][b] + crossed[b][a]
			}
		}
		out = append(out, m)
	}
	return out
}

// column is how a figure moves with one coordinate of a mark, against the face's own
// place where held, less what the levers can take off it.
type column struct {
	terms []survey.Term // of the mark alone
	held  float64       // 1: against the face's place
	out   float64       // the terms by the face's place
	own   []float64     // the terms along the levers' unit vectors
	along []float64     // the figure along them
}

func (c *column) dot(d *column, b *spreadBase) float64 {
	sum := survey.Dot(c.terms, d.terms) - d.held*c.out - c.held*d.out + c.held*d.held*b.outDot
	for k := range c.along {
		sum -= c.along[k] * d.along[k]
	}
	return sum
}

// apart bounds the spread of a piece whose nodes have nothing in common with each
// other, the face or its levers; ok is false for others. What the face itself adds is
// left out: it is the same for all nodes, and can only add.
func (p *PieceSpread) apart(rows []*[3]column) (ok bool) {
	for i, x := range rows {
		for a := range 3 {
			if x[a].out != 0 || slices.ContainsFunc(x[a].own, func(by float64) bool { return by != 0 }) {
				return false
			}
			for _, y := range rows[:i] {
				for b := range 3 {
					if survey.Dot(x[a].terms, y[b].terms) != 0 {
						return false
					}
				}
			}
		}
	}
	p.Least = math.Inf(1)
	p.Axis = [3]float64{math.Inf(1), math.Inf(1), math.Inf(1)}
	var common [3]float64 // of y and x, z and x, z and y
	for _, x := range rows {
		g := mat.NewSymDense(3, nil)
		for a := range 3 {
			for b := range a + 1 {
				by := survey.Dot(x[a].terms, x[b].terms)
				g.SetSym(a, b, by)
				if a == b {
					p.Axis[a] = math.Min(p.Axis[a], by)
				} else {
					common[a+b-1] = math.Max(common[a+b-1], math.Abs(by))
				}
			}
		}
		p.Least = math.Min(p.Least, leastEigenvalue(g))
	}
	p.Skew = common[0] + common[1] + common[2]
	return true
}

// levers are orthonormal vectors over the sources that span what the face's tilt
// can do to a figure, and what it does through the face's place. Where a mark may
// hold the box off the face, that place is one of the levers too.
func (j *Judge) levers() (free [][]survey.Term, out []survey.Term) {
	c := j.c
	poses := j.poses()
	ways := poses[0].hold(c.space, c.spread)
	span := [][]survey.Term{ways[1], ways[2]}
	out = ways[0]
	if len(poses) > 1 {
		span, out = append(span, ways[0]), nil
	}
	for _, p := range poses[1:] {
		span = append(span, p.hold(c.space, c.spread)[0])
	}
	for _, v := range span {
		whole := survey.Dot(v, v)
		for range 2 { // twice is enough
			for _, e := range free {
				v = combine(v, e, -survey.Dot(v, e))
			}
		}
		// What is left is rounding: it lies in the span already.
		if left := survey.Dot(v, v); left > 1e-12*whole && left > 0 {
			free = append(free, combine(nil, v, 1/math.Sqrt(left)))
		}
	}
	return free, out
}

// combine is a + b times a factor, sorted by source.
func combine(a, b []survey.Term, by float64) []survey.Term {
	var sum []survey.Term
	for i, k := 0, 0; i < len(a) || k < len(b); {
		switch {
		case k == len(b) || i < len(a) && a[i].Source < b[k].Source:
			sum = append(sum, a[i])
			i++
		case i == len(a) || a[i].Source > b[k].Source:
			sum = append(sum, survey.Term{Source: b[k].Source, By: b[k].By * by})
			k++
		default:
			sum = append(sum, survey.Term{Source: a[i].Source, By: a[i].By + b[k].By*by})
			i, k = i+1, k+1
		}
	}
	return sum
}

// columns are those of a mark's three coordinates in the judge's frame, out of the
// face against its own place where that is no lever.
func (j *Judge) columns(mark int, b *spreadBase) [3]column {
	var cols [3]column
	for axis := range 3 {
		c := &cols[axis]
		c.terms = j.c.spread.Terms(survey.Gradient{{Mark: mark, By: j.c.pose.turnOut(solid.Axis(axis))}})
		c.out = b.out.dot(c.terms)
		if axis == 2 {
			c.held = 1
		}
		for k, e := range b.free {
			c.own = append(c.own, e.dot(c.terms))
			c.along = append(c.along, c.own[k]-c.held*b.outFree[k])
		}
	}
	return cols
}

// leastOf is the least variance of a mix of a piece's nodes for the sum of the
// squares of its weights. With w the weights and n the direction the figure is made
// of w times n: the least eigenvalue of their covariance bounds it.
func leastOf(rows []*[3]column, base *spreadBase) float64 {
	n := len(rows)
	g := mat.NewSymDense(3*n, nil)
	for i, a := range rows {
		for k, b := range rows[:i+1] {
			for x := range 3 {
				for y := range 3 {
					if 3*i+x >= 3*k+y {
						g.SetSym(3*i+x, 3*k+y, a[x].dot(&b[y], base))
					}
				}
			}
		}
	}
	return leastEigenvalue(g)
}

// bounded says whether a piece's nodes are worth bounding: none that hangs on a
// plane, and not so many that it takes long.
func bounded(f *survey.Feature, p survey.Piece) bool {
	const many = 64
	for _, n := range p.Nodes {
		if f.Nodes[n].Planar {
			return false
		}
	}
	return len(p.Nodes) > 0 && len(p.Nodes) <= many
}

func leastEigenvalue(g *mat.SymDense) float64 {
	var e mat.EigenSym
	if !e.Factorize(g, false) {
		return 0
	}
	values := e.Values(nil)
	// The eigenvalues' own rounding: a thousand times that of the greatest.
	return math.Max(0, values[0]-1e-13*values[len(values)-1])
}

// alongAxes is leastOf for each axis alone. What two axes have in common is no more
// than the greatest covariance between two nodes, and the product of two
// components of a unit vector, counted both ways, no more than 1.
func alongAxes(rows []*[3]column, base *spreadBase) (axis [3]float64, skew float64) {
	n := len(rows)
	for a := range 3 {
		g := mat.NewSymDense(n, nil)
		for i := range n {
			for k := range i + 1 {
				g.SetSym(i, k, rows[i][a].dot(&rows[k][a], base))
			}
		}
		axis[a] = leastEigenvalue(g)
		for b := range a {
			most := 0.0
			for _, x := range rows {
				for _, y := range rows {
					most = math.Max(most, math.Abs(x[a].dot(&y[b], base)))
				}
			}
			skew += most
		}
	}
	return axis, skew
}

// Pieces says how many nodes each piece of a feature has.
func (j *Judge) Pieces(feature int) (nodes []int) {
	for _, p := range j.c.space.Features[feature].Pieces {
		nodes = append(nodes, len(p.Nodes))
	}
	return nodes
}

// Nodes are the places of a feature's nodes in the judge's frame; ok is false for
// one that is no obstacle.
func (j *Judge) Nodes(feature int) (nodes []r3.Vector, ok bool) {
	for i := range j.c.features {
		if o := &j.c.features[i]; j.feature(o) == feature {
			return o.nodes, len(o.pieces) > 0
		}
	}
	return nil, false
}

// Behind is the direction of all that is solid beyond a feature's pieces in the
// judge's frame, or zero.
func (j *Judge) Behind(feature int) r3.Vector {
	return j.c.pose.turnIn(j.c.space.Features[feature].Behind)
}

// Gap is what a feature asks for, mm.
func (j *Judge) Gap(feature int) float64 {
	return j.c.gapOf(&j.c.space.Features[feature]).Gap
}

// Making is the variances of the box as made and placed, mm2: of each outside
// size, of its place along any direction, and of a fitting along the two axes of
// its side.
func (j *Judge) Making() (size, place float64) {
	t := j.model.Tank
	return sq(rectangular(t.Within)), sq(rectangular(t.Place.Within))
}

func sq(x float64) float64 { return x * x }

// K is how many standard uncertainties over its gap a clearance must be to reach
// the job's sure.
func (j *Judge) K() float64 { return j.k() }

// Meant says whether a part touches a feature on purpose, so that they have no
// line; aside of the feature counts as such.
func (j *Judge) Meant(part, feature int) bool {
	c := *j.c
	c.assembly, c.origin = j.model, r3.Vector{}
	p := j.model.Parts[part]
	for i := range c.features {
		if o := &c.features[i]; j.feature(o) == feature {
			return aside(p, o.feature.Spec.Name) || c.meant(p, o)
		}
	}
	return true
}

// Closest is the place of a feature's piece, without its thickness, that is
// closest to a place: that itself where it lies within.
func (j *Judge) Closest(feature, piece int, to r3.Vector) r3.Vector {
	for i := range j.c.features {
		o := &j.c.features[i]
		if j.feature(o) != feature {
			continue
		}
		h := o.pieces[piece].hull
		h.Grow = 0
		n := shape.Distance(shape.Hull{Points: []r3.Vector{to}}, h)
		if n.Signed <= 0 {
			return to
		}
		return n.OnB
	}
	return to
}
