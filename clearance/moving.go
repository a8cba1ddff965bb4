package clearance

import (
	"fmt"
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/clearance/motion"
	"elbowroom/solid/shape"
	"elbowroom/survey"
	"elbowroom/survey/length"
)

// moving is a declared motion, ready to be checked: joints in the box's frame, the
// motion's own first, then those of the motions that it goes with, which carry it.
type moving struct {
	spec   Motion
	joints motion.Chain
	of     []int    // the motion that each joint is of, as an index into Rules.Motions
	hinges [][2]int // the marks of each joint's axis; of a slide nothing
}

// leastAxis is how far apart, in standard uncertainties, an axis' two marks must be for
// its direction to be known: as for rivals, six. Then it is known to a sixth of a radian or
// better, and what is of second order in that, 1.4 %, may be left out.
const leastAxis = 6

// unmoved is a motion that cannot be checked, and why, as a sentence; blank: a mark of
// its axis has no place yet.
type unmoved struct {
	Unchecked
	why string
}

// declare makes the declared motions ready, and says which cannot be checked.
func (c *checker) declare() {
	for i, spec := range c.rules.Motions {
		m := moving{spec: spec}
		if u := c.joints(&m, i, map[int]bool{}); u != nil {
			u.Kind, u.What, u.Moves, u.Pos = UncheckedMotion, spec.Name, spec.Moves, spec.Pos
			c.unmoved = append(c.unmoved, *u)
		} else {
			c.motions = append(c.motions, m)
		}
	}
}

// joints adds a motion's joint and those of the motions that it goes with, each once;
// not nil where one has no axis.
func (c *checker) joints(m *moving, which int, taken map[int]bool) *unmoved {
	taken[which] = true
	spec := c.rules.Motions[which]
	joint, hinge := motion.Slide(c.pose.turnIn(spec.Along), spec.From, spec.To), [2]int{}
	if spec.About[0] != "" {
		var u *unmoved
		if joint, hinge, u = c.hinge(spec); u != nil {
			return u
		}
	}
	m.joints, m.hinges, m.of = append(m.joints, joint), append(m.hinges, hinge), append(m.of, which)
	for _, name := range spec.With {
		for k := range c.rules.Motions {
			if c.rules.Motions[k].Name != name || taken[k] {
				continue
			}
			if u := c.joints(m, k, taken); u != nil {
				return u
			}
		}
	}
	return nil
}

// hinge is the joint of a motion about an axis; not nil where its marks have no place or
// make no axis.
func (c *checker) hinge(spec Motion) (j motion.Joint, marks [2]int, u *unmoved) {
	for k, name := range spec.About {
		m, ok := c.space.Mark(name)
		if !ok || !c.space.Marks[m].Located {
			return j, marks, &unmoved{Unchecked: Unchecked{Mark: name}}
		}
		marks[k] = m
	}
	from, toward := c.space.Marks[marks[0]].At, c.space.Marks[marks[1]].At
	apart, needed := toward.Sub(from).Norm(), math.Max(leastAxis*c.scatter(marks), 2*reach)
	if apart < needed {
		style := length.Style{Unit: c.rules.Unit}
		return j, marks, &unmoved{why: fmt.Sprintf(
			"%s and %s, the axis of %s, are %s apart, and their readings could turn it almost anywhere: the motion is not checked; name two marks on the axis at least %s apart",
			spec.About[0], spec.About[1], spec.Name, style.Print(length.Place(apart)), style.Print(length.Needed(needed)))}
	}
	j, _ = motion.Turn(c.pose.local(from), c.pose.local(toward), spec.From, spec.To)
	return j, marks, nil
}

// scatter is the standard uncertainty of where the one mark is from the other, in the
// worse direction square to the line between them (in any, where they are in one place).
func (c *checker) scatter(marks [2]int) float64 {
	ways := []r3.Vector{{X: 1}, {Y: 1}, {Z: 1}}
	if apart := c.space.Marks[marks[1]].At.Sub(c.space.Marks[marks[0]].At); apart.Norm() > reach {
		along := apart.Normalize()
		across := along.Ortho()
		ways = []r3.Vector{across, along.Cross(across)}
	}
	most := 0.0
	for _, way := range ways {
		terms := c.spread.Terms(survey.Gradient{{Mark: marks[1], By: way}, {Mark: marks[0], By: way.Mul(-1)}})
		most = math.Max(most, survey.Dot(terms, terms))
	}
	return math.Sqrt(most)
}

// moves says whether the motion moves the feature.
func (m *moving) moves(o *obstacle) bool {
	for _, name := range m.spec.Moves {
		if name == o.feature.Spec.Name {
			return true
		}
	}
	return false
}

// inMotions drafts the lines of a thing against a feature in the motions that move it.
func (c *checker) inMotions(t thing, o *obstacle) (drafts []draft) {
	for i := range c.motions {
		if m := &c.motions[i]; m.moves(o) {
			drafts = append(drafts, c.through(t, o, m))
		}
	}
	return drafts
}

// through drafts the line of a thing against a feature in a motion, with its rivals.
func (c *checker) through(t thing, o *obstacle, m *moving) draft {
	d, found := c.swept(t, o, m)
	c.findMovedRivals(&d, t, o, m, found)
	return d
}

// swept drafts the line without its rivals.
func (c *checker) swept(t thing, o *obstacle, m *moving) (draft, motion.Found) {
	stills, spots := t.stills()
	pieces := make([]shape.Convex, len(o.pieces))
	for i, p := range o.pieces {
		pieces[i] = p.hull
	}
	found, _ := motion.Least(stills, pieces, m.joints, motion.Options{})
	near := found.Nearest
	p := o.pieces[found.Piece]
	gap, name := t.asks(c, o.gap)
	d := draft{missing: len(o.feature.Missing) > 0}
	if over := near.Signed - found.Lower; over > reach {
		// What is proven counts, the value found only where it is to be surely short.
		d.over, near.Signed = over, found.Lower
	}
	d.main = c.movedFigure(t, o, m, posed{near, spots[found.Still], p.nodes, found.At}, gap)
	ids, shares := mix(p.nodes, near.MixB)
	d.line = Line{
		Part: t.label(), Feature: o.feature.Spec.Name, When: m.spec.Name, At: c.positions(m, found.At),
		Clearance: near.Signed, U: d.main.u, Gap: gap, GapName: name,
		OnPart: c.pose.world(near.OnA), OnFeature: c.pose.world(near.OnB), Toward: c.pose.turnOut(near.Normal),
		Marks: c.names(o.feature, ids, shares), AtLeast: near.Signed < 0,
	}
	return d, found
}

// positions says where each joint is.
func (c *checker) positions(m *moving, at []float64) []Position {
	out := make([]Position, len(at))
	for i, x := range at {
		out[i] = Position{Motion: c.rules.Motions[m.of[i]].Name, Turns: m.joints[i].Turns(), At: x}
	}
	return out
}

// posed is a witness at a position of a motion.
type posed struct {
	nearest shape.Nearest
	spot    int
	nodes   []int
	at      []float64
}

// movedFigure is figure at a position of a motion. The position itself may be taken as
// fixed: at a least within the range the clearance does not change with it, and the ends
// of the range are as the job says.
func (c *checker) movedFigure(t thing, o *obstacle, m *moving, p posed, gap float64) figure {
	n := p.nearest
	pose := m.joints.At(p.at)
	rest := pose.Back(n.OnB)
	ids, shares := mix(p.nodes, n.MixB)
	g := o.feature.Move(nil, c.pose.world(rest), c.pose.turnOut(pose.TurnBack(n.Normal)), ids, shares)
	g = c.pullAxes(g, m, p.at, rest, n.Normal)
	return c.finish(t, t.carry(c, g, p.spot, n.OnA, n.Normal.Mul(-1)), n, gap)
}

// pullAxes adds how a figure that changes by n·(move of a place) moves with the marks of
// the axes about which the place is turned; at is the place at rest.
//
// A turn by t about the axis from A along u takes the place x to A + R w, w = x - A, with
// R w = w cos t + (u×w) sin t + u (u·w)(1 - cos t). With A goes (1 - R) of its move; with
// u, which goes with what moves B from A square to u, over |B-A|, the derivative of R w.
func (c *checker) pullAxes(g survey.Gradient, m *moving, at []float64, x, n r3.Vector) survey.Gradient {
	toward := make([]r3.Vector, len(m.joints)) // n, turned back through the joints farther out
	for i := len(m.joints) - 1; i >= 0; i-- {
		toward[i] = n
		n = m.joints[i].At(at[i]).TurnBack(n)
	}
	for i, j := range m.joints {
		pose := j.At(at[i])
		if j.Turns() {
			a, b := m.hinges[i][0], m.hinges[i][1]
			n, u, w := toward[i], j.Axis, x.Sub(j.On)
			sin, cos := math.Sincos(at[i])
			by := w.Cross(n).Mul(sin).Add(n.Mul(u.Dot(w)).Add(w.Mul(u.Dot(n))).Mul(1 - cos))
			by = by.Sub(u.Mul(by.Dot(u))).Mul(1 / c.space.Marks[b].At.Sub(c.space.Marks[a].At).Norm())
			g = append(g, survey.Pull{Mark: a, By: c.pose.turnOut(n.Sub(pose.TurnBack(n)).Sub(by))})
			g = append(g, survey.Pull{Mark: b, By: c.pose.turnOut(by)})
		}
		x = pose.Move(x)
	}
	return g
}

// axisDoubts says which motions have no axis to speak of.
func (c *checker) axisDoubts() []survey.Doubt {
	var out []survey.Doubt
	for _, u := range c.unmoved {
		if u.why != "" {
			out = append(out, survey.Doubt{Pos: u.Pos, Weight: 9, Says: u.why})
		}
	}
	return out
}
