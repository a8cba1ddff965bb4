package clearance

import (
	"math"

	"github.com/golang/geo/r3"
	"gonum.org/v1/gonum/stat/distuv"

	"elbowroom/solid"
	"elbowroom/solid/shape"
	"elbowroom/survey"
)

// reach is how near a limit counts as reaching it, mm.
const reach = 1e-6

// probability that a figure is truly at least limit (normal law, JCGM
// 106:2012); one without spread is judged by its value.
func (f figure) probability(limit float64) float64 {
	if f.u == 0 {
		if f.value >= limit-reach {
			return 1
		}
		return 0
	}
	return distuv.UnitNormal.CDF((f.value - limit) / f.u)
}

// making numbers the independent errors of the box after those of the survey:
// three sizes, three ways of placing, and two for each fitting.
type making struct {
	first int
	tank  solid.Tank
}

const (
	sizeErrors  = 3
	placeErrors = 3
)

// rectangular is the standard uncertainty of a limit: half width over sqrt 3
// (GUM 4.3.7).
func rectangular(limit float64) float64 { return limit / math.Sqrt(3) }

// limit of one of them, and what it is called.
func (m making) limit(source int) (limit float64, name string) {
	k := source - m.first
	switch {
	case k < sizeErrors:
		return m.tank.Within, [3]string{"the width as made", "the height as made", "the depth as made"}[k]
	case k < sizeErrors+placeErrors:
		return m.tank.Place.Within, "where the box is bolted"
	}
	f := m.tank.Fittings[(k-sizeErrors-placeErrors)/2]
	return f.Within, "where " + f.Name + " is on the box"
}

// add adds how a figure moves that changes by by·(move of a point of the box),
// in the box's frame, as the box is made and placed. placed is false between
// two parts of one box.
func (m making) add(to *sum, share, by r3.Vector, fitting int, placed bool) {
	size, place := rectangular(m.tank.Within), rectangular(m.tank.Place.Within)
	to.one(m.first, size*share.X*by.X)
	to.one(m.first+1, size*share.Y*by.Y)
	to.one(m.first+2, size*share.Z*by.Z)
	if placed {
		to.one(m.first+3, place*by.X)
		to.one(m.first+4, place*by.Y)
		to.one(m.first+5, place*by.Z)
	}
	if fitting >= 0 {
		f := m.tank.Fittings[fitting]
		for k, axis := range f.Side.Axes() {
			to.one(m.first+sizeErrors+placeErrors+2*fitting+k, rectangular(f.Within)*by.Dot(solid.Axis(axis)))
		}
	}
}

// count is how many there are.
func (m making) count() int { return sizeErrors + placeErrors + 2*len(m.tank.Fittings) }

// checker holds one space against one assembly. It has scratch space: each
// goroutine works with its own copy (see worker).
type checker struct {
	space    *survey.Space
	assembly *solid.Assembly
	// origin is where the box's held corner is in the frame of the assembly's
	// parts: 0 but for a Judge, whose parts stand in the face's frame.
	origin   r3.Vector
	rules    Rules
	pose     pose
	making   making
	spread   *survey.Spreader
	units    units  // see spreadOut; nil: not worked out beforehand
	tapes    *Tapes // see measureNext
	features []obstacle
	motions  []moving
	unmoved  []unmoved
	sights   []sight          // all evidence, in the box's frame
	ways     [3][]survey.Term // see pose.hold
	sum      sum              // scratch
	pulls    []r3.Vector      // scratch: a pull for each reading
	bounds   []bound          // scratch of nearest
	rows     []int            // scratch of slipsOf
	rooms    []Room           // see placeRooms
	ready    readyParts       // see readyParts
	brief    bool             // see plain
}

// obstacle is a feature moved into the box's frame.
type obstacle struct {
	feature *survey.Feature
	nodes   []r3.Vector
	pieces  []piece
	gap     GapUsed
	faces   [][3]int // of a block's hull: triangles over its piece's nodes
	singles []piece  // see makeSingles; nil: made when they are needed
}

// piece is a convex piece of an obstacle in the box's frame.
type piece struct {
	hull   shape.Hull
	solid  shape.Convex // the hull, prepared
	nodes  []int        // of the feature
	middle r3.Vector
	radius float64
	span   span
}

func newChecker(s *survey.Space, a *solid.Assembly, r Rules) *checker {
	c := checkerIn(s, a, r, stand(s, a.Tank))
	c.declare()
	c.sights = c.evidence()
	c.rooms = c.placeRooms()
	return c
}

// checkerIn is newChecker for a pose, without the evidence for the sides.
func checkerIn(s *survey.Space, a *solid.Assembly, r Rules, p pose) *checker {
	c := &checker{space: s, assembly: a, rules: r, pose: p, spread: s.Spreader()}
	c.making = making{first: len(s.Sources()), tank: a.Tank}
	c.ways = c.pose.hold(s, c.spread)
	c.sum = newSum(c.making.first + c.making.count())
	c.pulls = make([]r3.Vector, len(s.Rows))
	for i := range s.Features {
		if f := &s.Features[i]; !f.Spec.Run {
			c.features = append(c.features, c.obstacle(f))
		}
	}
	return c
}

// worker is a copy with scratch space of its own.
func (c *checker) worker() *checker {
	w := *c
	w.spread = c.space.Spreader()
	w.sum = newSum(len(c.sum.by))
	w.pulls = make([]r3.Vector, len(c.pulls))
	w.bounds, w.rows, w.units = nil, nil, nil
	return &w
}

func (c *checker) obstacle(f *survey.Feature) obstacle {
	o := obstacle{feature: f, gap: c.gapOf(f), nodes: make([]r3.Vector, len(f.Nodes))}
	for i, n := range f.Nodes {
		o.nodes[i] = c.pose.local(n.At)
	}
	behind := r3.Vector{}
	if f.Behind != (r3.Vector{}) {
		behind = c.pose.turnIn(f.Behind)
	}
	for _, p := range f.Pieces {
		hull := shape.Hull{Points: make([]r3.Vector, len(p.Nodes)), Grow: f.Grow, Behind: behind}
		for k, n := range p.Nodes {
			hull.Points[k] = o.nodes[n]
		}
		o.pieces = append(o.pieces, newPiece(hull, p.Nodes))
		if f.Spec.Shape == survey.Block {
			o.faces = shape.Faces(hull.Points)
		}
	}
	return o
}

// figure of a clearance between a thing and a piece of an obstacle. One that is
// settled at the gap keeps no terms: nothing will ask for them.
func (c *checker) figure(t thing, spot int, o *obstacle, nodes []int, n shape.Nearest, gap float64) figure {
	ids, shares := mix(nodes, n.MixB)
	g := o.feature.Move(nil, c.pose.world(n.OnB), c.pose.turnOut(n.Normal), ids, shares)
	return c.finish(t, t.carry(c, g, spot, n.OnA, n.Normal.Mul(-1)), n, gap)
}

// finish is the figure of a clearance whose gradient is known and whose making is in
// the sum.
func (c *checker) finish(t thing, g survey.Gradient, n shape.Nearest, gap float64) figure {
	c.spreadOut(g)
	f := figure{value: n.Signed, u: c.sum.spread()}
	if f.settled(gap) {
		c.sum.drop()
	} else {
		f.terms = c.sum.take()
	}
	if _, ok := t.(partThing); ok {
		f.along = n.Normal
	}
	return f
}

// newFigure is a figure of what is in the sum and a gradient over marks.
func (c *checker) newFigure(value float64, g survey.Gradient) figure {
	c.spreadOut(g)
	return figure{value: value, u: c.sum.spread(), terms: c.sum.take()}
}

// settled says that a clearance is so far above its gap that nothing can undo
// it: no chance, and no slip of an inch even in a reading that moves it by half
// as much again.
func (f figure) settled(gap float64) bool {
	return f.value > gap+1.5*aSlip+2*rivalReach*f.u
}

// carried adds to the sum how a figure moves that changes by by·(move of a
// point of the box at at), with the face and with the making.
func (c *checker) carried(at, by, share r3.Vector, fitting int) {
	for k, amount := range c.pose.push(at, by) {
		c.sum.add(c.ways[k], amount)
	}
	c.making.add(&c.sum, share, by, fitting, true)
}

func newPiece(hull shape.Hull, nodes []int) piece {
	p := piece{hull: hull, solid: shape.Prepare(hull), nodes: nodes, span: spanOf(hull)}
	p.middle, p.radius = p.solid.Bounds()
	return p
}

// mix names the nodes that make up a witness.
func mix(nodes []int, m shape.Mix) (ids []int, shares []float64) {
	for k := 0; k < m.N; k++ {
		ids = append(ids, nodes[m.Index[k]])
		shares = append(shares, m.By[k])
	}
	return ids, shares
}

// own is the figure of a clearance between two parts of the box: it stands or
// falls with the making alone.
func (c *checker) own(a, b solid.Part, n shape.Nearest) figure {
	c.carryOwn(a, b, n)
	return c.newFigure(n.Signed, nil)
}

// ownSpread is the standard uncertainty of own.
func (c *checker) ownSpread(a, b solid.Part, n shape.Nearest) float64 {
	c.carryOwn(a, b, n)
	u := c.sum.spread()
	c.sum.drop()
	return u
}

func (c *checker) carryOwn(a, b solid.Part, n shape.Nearest) {
	size := c.assembly.Tank.Size
	c.making.add(&c.sum, a.Share(n.OnA.Sub(c.origin), size), n.Normal.Mul(-1), a.Fitting, false)
	c.making.add(&c.sum, b.Share(n.OnB.Sub(c.origin), size), n.Normal, b.Fitting, false)
}
