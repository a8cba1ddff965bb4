package clearance

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"elbowroom/solid"
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
