package clearance

import (
	"math"

	"github.com/golang/geo/r3"
	"gonum.org/v1/gonum/mat"

	"elbowroom/solid"
	"elbowroom/solid/shape"
	"elbowroom/survey"
)

// Spreads bounds from below how uncertain the places of a feature are as seen
// from the box, wherever the box stands. The tilt of the face tells more the
// farther a place is from the datum; here it takes off whatever it can, so that
// the bound holds at any lever.
type Spreads struct {
	// Node is for each node of the feature the least covariance, mm2, over
	// all levers: the variance along a unit n is at least n'Cn. Zero for a
	// node whose place hangs on a fitted plane.
	Node [][3][3]float64
	// Face is for each node the variance, mm2, of a clearance from it straight
	// along x, y or z: there the lever is known. Where the feature goes on
	// behind, that counts where the clearance is to its own side only.
	Face [][3]float64
	// Piece is for each piece a variance, mm2: a place of it that is the mix w of
	// its nodes has at least that times the sum of the squares of w, in any
	// direction.
	Piece []float64
	// Axis is the same for the directions along x, y and z alone, and Skew bounds
	// what the others can take off between two of them, mm2: the variance along n
	// is at least the sum of the axes' by the squares of n, less Skew.
	Axis [][3]float64
	Skew []float64
}

// Spreads works them out for a feature, by its index in the space.
func (j *Judge) Spreads(feature int) Spreads {
	c := j.c
	f := &c.space.Features[feature]
	free, out := j.levers()
	rows := make([][3]column, len(f.Nodes))
	s := Spreads{Node: make([][3][3]float64, len(f.Nodes)), Face: make([][3]float64, len(f.Nodes))}
	pushes := j.pushes()
	for i, n := range f.Nodes {
		if n.Planar {
			continue
		}
		rows[i] = j.columns(n.Mark, free, out)
		for a := range 3 {
			for b := range 3 {
				s.Node[i][a][b] = rows[i][a].dot(rows[i][b])
			}
		}
		s.Face[i] = j.straight(n, pushes)
	}
	for _, p := range f.Pieces {
		s.Piece = append(s.Piece, leastOf(f, p, rows))
		axis, skew := alongAxes(f, p, rows)
		s.Axis, s.Skew = append(s.Axis, axis), append(s.Skew, skew)
	}
	return s
}

// shove is what the face can do to the box, and what its three ways have in common.
type shove struct {
	ways   [3][]survey.Term
	common [3][3]float64
}

// pushes are all that the face can do to the box: held by its plane, or by each of
// its marks that may hold it off.
func (j *Judge) pushes() (out []shove) {
	for _, p := range j.poses() {
		w := shove{ways: p.hold(j.c.space, j.c.spread)}
		for a := range 3 {
			for b := range 3 {
				w.common[a][b] = survey.Dot(w.ways[a], w.ways[b])
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

// straight is the least variance of a clearance from a node along each axis.
func (j *Judge) straight(n survey.Node, pushes []shove) (least [3]float64) {
	at := j.c.pose.local(n.At)
	for axis := range 3 {
		along := solid.Axis(axis)
		own := j.c.spread.Terms(survey.Gradient{{Mark: n.Mark, By: j.c.pose.turnOut(along)}})
		amounts := j.c.pose.push(at, along.Mul(-1))
		least[axis] = math.Inf(1)
		for _, w := range pushes {
			v := survey.Dot(own, own)
			for k, by := range amounts {
				if by == 0 {
					continue
				}
				v += 2 * by * survey.Dot(own, w.ways[k])
				for l, other := range amounts {
					v += by * other * w.common[k][l]
				}
			}
			least[axis] = math.Min(least[axis], math.Max(0, v))
		}
	}
	return least
}

// column is how a figure moves with one coordinate of a mark, less what the
// levers can take off it.
type column struct {
	terms []survey.Term
	along []float64 // its parts along the levers' unit vectors
}

func (c column) dot(d column) float64 {
	sum := survey.Dot(c.terms, d.terms)
	for k := range c.along {
		sum -= c.along[k] * d.along[k]
	}
	return sum
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

// columns are those of a mark's three coordinates in the judge's frame, against
// the face's own place where that is no lever.
func (j *Judge) columns(mark int, free [][]survey.Term, out []survey.Term) [3]column {
	var cols [3]column
	for axis := range 3 {
		along := j.c.pose.turnOut(solid.Axis(axis))
		terms := j.c.spread.Terms(survey.Gradient{{Mark: mark, By: along}})
		if axis == 2 {
			terms = combine(terms, out, -1)
		}
		cols[axis].terms = terms
		for _, e := range free {
			cols[axis].along = append(cols[axis].along, survey.Dot(terms, e))
		}
	}
	return cols
}

// leastOf is the least variance of a mix of a piece's nodes for the sum of the
// squares of its weights. With w the weights and n the direction the figure is made
// of w times n: the least eigenvalue of their covariance bounds it.
func leastOf(f *survey.Feature, p survey.Piece, rows [][3]column) float64 {
	if !bounded(f, p) {
		return 0
	}
	n := len(p.Nodes)
	g := mat.NewSymDense(3*n, nil)
	for i, a := range p.Nodes {
		for k, b := range p.Nodes[:i+1] {
			for x := range 3 {
				for y := range 3 {
					if 3*i+x >= 3*k+y {
						g.SetSym(3*i+x, 3*k+y, rows[a][x].dot(rows[b][y]))
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
	const many = 24
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
func alongAxes(f *survey.Feature, p survey.Piece, rows [][3]column) (axis [3]float64, skew float64) {
	if !bounded(f, p) {
		return axis, 0
	}
	n := len(p.Nodes)
	for a := range 3 {
		g := mat.NewSymDense(n, nil)
		for i := range n {
			for k := range i + 1 {
				g.SetSym(i, k, rows[p.Nodes[i]][a].dot(rows[p.Nodes[k]][a]))
			}
		}
		axis[a] = leastEigenvalue(g)
		for b := range a {
			most := 0.0
			for _, i := range p.Nodes {
				for _, k := range p.Nodes {
					most = math.Max(most, math.Abs(rows[i][a].dot(rows[k][b])))
				}
			}
			skew += most
		}
	}
	return axis, skew
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
