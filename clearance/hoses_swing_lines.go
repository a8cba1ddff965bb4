package clearance

import (
	"math"
	"slices"

	"github.com/golang/geo/r3"

	"elbowroom/clearance/hose"
	"elbowroom/clearance/motion"
	"elbowroom/solid"
	"elbowroom/solid/shape"
	"elbowroom/survey"
)

// swingTarget is what a swinging hose is held against: a feature, a part, another hose.
type swingTarget struct {
	name    string
	own     bool
	joints  []int // that carry it along
	gap     float64
	gapName string
	missing bool
	rest    float64 // what the hose as drawn keeps at rest, mm
	stills  []motion.Still
	pieces  int
	// distance is that from a place of the hose's middle, at rest; witness also says where.
	distance func(piece int, from r3.Vector) float64
	witness  func(piece int, from r3.Vector) shape.Nearest
	// pull adds how a figure moves with the target; marks names what decides it.
	pull  func(g survey.Gradient, piece int, n shape.Nearest) survey.Gradient
	marks func(piece int, n shape.Nearest) []string
	// start and end are how much of the hose's ends does not count, mm; startLeg and endLeg
	// leave out the straights as drawn too, of what goes along rigidly.
	start, end       float64
	startLeg, endLeg bool
}

// point is a place as a shape, grown.
func point(at r3.Vector, grow float64) shape.Hull {
	return shape.Hull{Points: []r3.Vector{at}, Grow: grow}
}

// hoseInMotions drafts a hose's lines against a feature in the motions that move either.
func (c *checker) hoseInMotions(h *hoseThing, o *obstacle, rest float64) (drafts []draft) {
	for i := range c.motions {
		m := &c.motions[i]
		switch {
		case h.swungs[i] != nil:
			drafts = c.addSwing(drafts, h, h.swungs[i], c.featureTarget(h, o, m, rest))
		case m.moves(o):
			drafts = append(drafts, c.through(h, o, m))
		}
	}
	return drafts
}

func (c *checker) featureTarget(h *hoseThing, o *obstacle, m *moving, rest float64) swingTarget {
	t := swingTarget{name: o.feature.Spec.Name, joints: c.jointsOf(m, o), rest: rest, pieces: len(o.pieces), missing: len(o.feature.Missing) > 0}
	t.gap, t.gapName = h.asks(c, o.gap)
	for _, p := range o.pieces {
		t.stills = append(t.stills, motion.Solid(p.hull))
	}
	t.distance = func(k int, from r3.Vector) float64 { return shape.Distance(point(from, 0), o.pieces[k].solid).Signed }
	t.witness = func(k int, from r3.Vector) shape.Nearest {
		return shape.Distance(point(from, h.whole.Radius), o.pieces[k].solid)
	}
	t.pull = func(g survey.Gradient, k int, n shape.Nearest) survey.Gradient {
		ids, shares := mix(o.pieces[k].nodes, n.MixB)
		return o.feature.Move(g, c.pose.world(n.OnB), c.pose.turnOut(n.Normal), ids, shares)
	}
	t.marks = func(k int, n shape.Nearest) []string {
		ids, shares := mix(o.pieces[k].nodes, n.MixB)
		return c.names(o.feature, ids, shares)
	}
	if c.holds(o, h.end) {
		t.end, t.endLeg = c.endOff(h, t.gap), true
	}
	return t
}

// partTarget is a part of the box. Its own fitting a hose must not touch again once it
// has left it.
func (c *checker) partTarget(h *hoseThing, p solid.Part, rest float64) swingTarget {
	t := swingTarget{name: p.Name, own: true, rest: rest, pieces: 1, stills: []motion.Still{motion.Solid(p.Solid)}}
	t.gap, t.gapName = c.partGap(p)
	ready := shape.Prepare(p.Solid)
	t.distance = func(_ int, from r3.Vector) float64 { return shape.Distance(point(from, 0), ready).Signed }
	t.witness = func(_ int, from r3.Vector) shape.Nearest { return shape.Distance(point(from, h.whole.Radius), ready) }
	t.pull = func(g survey.Gradient, _ int, n shape.Nearest) survey.Gradient {
		c.carried(n.OnB, n.Normal, p.Share(n.OnB, c.assembly.Tank.Size), p.Fitting)
		return g
	}
	t.marks = func(int, shape.Nearest) []string { return nil }
	if p.Kind == solid.Body {
		t.start, t.startLeg = h.whole.Radius+t.gap, true
	}
	return t
}

// hoseTarget is another hose: where it swings in the motion too, all the room that it can
// get to.
func (c *checker) hoseTarget(h, o *hoseThing, m int, rest float64) swingTarget {
	gap := c.rules.named("hose")
	t := swingTarget{name: o.spec.Name, own: true, rest: rest, gap: gap.Gap, gapName: gap.Name, pieces: 1}
	t.marks = func(int, shape.Nearest) []string { return nil }
	if w := o.swungs[m]; w != nil {
		t.swingingTarget(h, o, w)
		t.pull = func(g survey.Gradient, _ int, n shape.Nearest) survey.Gradient {
			return append(g, survey.Pull{Mark: o.end, By: c.pose.turnOut(n.Normal)})
		}
		return t
	}
	t.stills, _ = o.stills()
	t.distance = func(_ int, from r3.Vector) float64 {
		n, _ := o.whole.Distance(point(from, 0))
		return n.Signed
	}
	spot := 0
	t.witness = func(_ int, from r3.Vector) shape.Nearest {
		var n shape.Nearest
		n, spot = o.whole.Distance(point(from, h.whole.Radius))
		n.OnA, n.OnB, n.Normal = n.OnB, n.OnA, n.Normal.Mul(-1)
		return n
	}
	t.pull = func(g survey.Gradient, _ int, n shape.Nearest) survey.Gradient {
		o.tube = o.whole
		return o.carry(c, g, spot, n.OnB, n.Normal)
	}
	return t
}

// swingNear is where a swinging hose may come nearest.
type swingNear struct {
	bound float64 // of its skin, proven
	found float64 // a clearance that it surely has somewhere in the motion
	at    r3.Vector
	piece int
	when  []float64
	of    *stretch // nil: it goes along rigidly, or stands still
}

// addSwing drafts the line of a swinging hose in a motion.
func (c *checker) addSwing(drafts []draft, h *hoseThing, w *swung, t swingTarget) []draft {
	near := c.swingBound(h, w, t)
	if math.IsInf(near.bound, 1) {
		return drafts
	}
	near.bound = math.Min(near.bound, t.rest) // rest is in the range
	n := t.witness(near.piece, near.at)
	n.Signed = near.bound
	g := t.pull(nil, near.piece, n)
	by := n.Normal.Mul(-1)
	if near.of != nil {
		g = c.ownPull(h, g, near.of, near.at, by)
	} else {
		g = append(g, survey.Pull{Mark: h.end, By: c.pose.turnOut(by)})
	}
	d := draft{main: c.finish(h, g, n, t.gap), missing: t.missing}
	if over := math.Min(near.found, t.rest) - near.bound; over > reach {
		d.over = over
	}
	pose := w.m.poseOf(t.joints, near.when)
	d.line = Line{
		Part: h.spec.Name, Feature: t.name, Own: t.own, When: w.m.spec.Name, At: c.positions(w.m, near.when),
		Clearance: near.bound, U: d.main.u, Gap: t.gap, GapName: t.gapName,
		OnPart: c.pose.world(pose.Move(n.OnA)), OnFeature: c.pose.world(pose.Move(n.OnB)), Toward: c.pose.turnOut(pose.Turn(n.Normal)),
		Marks: t.marks(near.piece, n), AtLeast: near.bound < 0,
	}
	if near.of != nil {
		d.line.Swings = &Swings{Unknown: d.over, Holds: [2]string{near.of.from.named, near.of.to.named}}
	}
	if d.line.Swings != nil && d.over > 0 && d.main.probability(t.gap) < c.rules.Sure {
		w.open = append(w.open, openSwing{t, d.main.u, d.line.Swings})
	}
	return append(drafts, d)
}

// swingBound bounds what a swinging hose keeps from a target, all through the motion.
func (c *checker) swingBound(h *hoseThing, w *swung, t swingTarget) swingNear {
	best := swingNear{bound: math.Inf(1), found: math.Inf(1)}
	radius := h.whole.Radius
	// From there on nothing can undo it: see figure.settled.
	enough := t.gap + 1.5*aSlip + 2*rivalReach*c.endsSpread(h)
	for _, s := range w.stretches {
		to := hose.Toward{Pieces: t.pieces, Distance: t.distance, Enough: radius + enough, Wanted: radius + t.gap + 2*endsKnown*c.endsSpread(h)}
		if s.from.first {
			to.Skip = s.skip(t.start) - w.straight
		}
		if s.to.final {
			to.SkipEnd = s.skip(t.end) - w.straight
		}
		if near := s.sweep(t.joints).Least(to); near.Bound-radius < best.bound {
			best.bound, best.at, best.piece, best.when, best.of = near.Bound-radius, near.At, near.Piece, near.When, s
		}
	}
	for _, r := range w.rigids {
		c.rigidBound(h, w, t, r, enough, &best)
	}
	return best
}

// skip is how much of an end of a stretch does not count against what it begins at, where
// that much of a straight one would not: as far along as any that bends no tighter has
// gone that far from there, with what its holds may be off, twice, and a millimetre for
// the cubes.
func (s *stretch) skip(straight float64) float64 {
	if straight == 0 {
		return 0
	}
	radius := s.swing.Radius
	return radius * math.Asin(math.Min(1, (straight+2*s.swing.Off+1)/radius))
}

// rigidBound takes in a part of the hose that goes along rigidly, or stands still while
// the target moves. Bends count as the triangles that hold them.
func (c *checker) rigidBound(h *hoseThing, w *swung, t swingTarget, r rigidRun, enough float64, best *swingNear) {
	chain := w.m.relative(r.joints, t.joints)
	first, last := h.whole.Legs()
	from, to := t.start, t.end
	if t.startLeg {
		from = math.Max(from, first)
	}
	if t.endLeg {
		to = math.Max(to, last)
	}
	tube := h.whole.Between(math.Max(r.from, from), math.Min(r.to, h.whole.Length()-to))
	if len(chain) == 0 || len(tube.Pieces) == 0 {
		return
	}
	var pieces []shape.Convex
	for _, p := range tube.Pieces {
		hull := shape.Hull{Points: []r3.Vector{p.Arc.From, p.Arc.To}, Grow: tube.Radius}
		if p.Bend {
			hull.Points = append(hull.Points, p.Arc.Corner)
		}
		pieces = append(pieces, hull)
	}
	f, ok := motion.Least(t.stills, pieces, chain, motion.Options{Below: math.Min(enough, best.bound), Bounded: true})
	if !ok {
		return
	}
	if !tube.Pieces[f.Piece].Bend {
		best.found = math.Min(best.found, f.Nearest.Signed)
	}
	if f.Lower < best.bound {
		// In the frame of the target: what moves is the hose.
		best.bound, best.at, best.of = f.Lower, f.Nearest.OnB.Add(f.Nearest.Normal.Mul(tube.Radius)), nil
		best.piece = min(f.Still, t.pieces-1)
		best.when = w.m.whenOf(r.joints, t.joints, f.At)
	}
}

// whenOf is the position of all joints where those of a relative chain stand so.
func (m *moving) whenOf(own, seenFrom []int, at []float64) []float64 {
	out := make([]float64, len(m.joints))
	for len(own) > 0 && len(seenFrom) > 0 && own[len(own)-1] == seenFrom[len(seenFrom)-1] {
		own, seenFrom = own[:len(own)-1], seenFrom[:len(seenFrom)-1]
	}
	for i, k := range own {
		out[k] = at[i]
	}
	back := slices.Clone(seenFrom)
	slices.Reverse(back)
	for i, k := range back {
		out[k] = -at[len(own)+i]
	}
	return out
}

// swingParts drafts a swinging hose against the parts of the box, in the motions that take
// it along. Room for a hand is kept open at rest. Its own fitting it cannot come back to
// while it is shorter than half a circle: till then it goes away from it.
func (c *checker) swingParts(h *hoseThing, rest map[string]float64) (drafts []draft) {
	for _, w := range h.swungs {
		if w == nil {
			continue
		}
		for _, p := range c.assembly.Parts {
			if p.Kind == solid.KeepOpenPart {
				continue
			}
			t := c.partTarget(h, p, math.Inf(1))
			if mm, ok := rest[p.Name]; ok {
				t.rest = mm
			}
			if p.Fitting >= 0 && p.Fitting == h.fitting {
				s := w.stretches[0]
				if !s.from.first || s.swing.Length < math.Pi*s.swing.Radius {
					continue
				}
				t.gap, t.gapName, t.start = 0, "", h.whole.Radius+t.gap
			}
			drafts = c.addSwing(drafts, h, w, t)
		}
	}
	return drafts
}

// swingHoses drafts two hoses in the motions that take either along.
func (c *checker) swingHoses(h, o *hoseThing, rest float64) (drafts []draft) {
	for i := range c.motions {
		switch {
		case h.swungs[i] != nil:
			drafts = c.addSwing(drafts, h, h.swungs[i], c.hoseTarget(h, o, i, rest))
		case o.swungs[i] != nil:
			drafts = c.addSwing(drafts, o, o.swungs[i], c.hoseTarget(o, h, i, rest))
		}
	}
	return drafts
}

// takeAlong works out which motions take the hose along.
func (c *checker) takeAlong(h *hoseThing) {
	h.swungs = make([]*swung, len(c.motions))
	for i := range c.motions {
		h.swungs[i] = c.swungBy(h, &c.motions[i])
	}
}

// valuesOf are the clearances of a hose's lines, by what they are against.
func valuesOf(drafts []draft) map[string]float64 {
	out := map[string]float64{}
	for i := range drafts {
		out[drafts[i].line.Feature] = drafts[i].main.value
	}
	return out
}
