package clearance

import (
	"cmp"
	"context"
	"math"
	"slices"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"gonum.org/v1/gonum/stat/distuv"

	"elbowroom/clearance/way"
	"elbowroom/solid"
	"elbowroom/solid/shape"
	"elbowroom/survey/table"
)

// WayInSpec is what the job says of how the box goes in. Asked is false where it says
// nothing.
type WayInSpec struct {
	Asked bool
	// Path holds the box's places, first to last, the last of them home. Empty: one is to
	// be found. From each to the next it goes straight, and turns evenly the shorter way.
	Path  []Step
	Aside []string // features that are out of the way
	// Straight looks for a way of straight moves alone: what it finds is found without it
	// too, and it gives up sooner.
	Straight bool
	// Room is where the box may be at all, along x, y, z of the mounting frame, mm;
	// outside it the box is out. An axis without range takes what was measured.
	Room [3]Extent
	Pos  table.Pos
}

// Extent is a range in mm; Given is false where there is none.
type Extent struct {
	From, To float64
	Given    bool
}

// WayIn is the answer to whether the box can be put in and taken out. Nil where the job
// does not ask.
type WayIn struct {
	Given bool     // the path is the job's own
	Aside []string // the features that are out of the way
	Found bool
	// Steps lead from outside to home: offsets in the mounting frame, and turns about
	// the middle of the body, axis times angle in radians.
	Steps []Step
	// Outside is false for a path of the job's own that starts within the room.
	Outside bool
	Least   float64 // clearance on the way, mm; see Part
	U       float64 // its standard uncertainty, mm
	// Part and Feature come nearest; blank: nothing comes near.
	Part, Feature string
	// At is where the box then is, OnPart and OnFeature are the places that come
	// nearest, in the mounting frame, and Marks decide it.
	At                Step
	OnPart, OnFeature r3.Vector
	Marks             []string
	Stuck             way.Stuck // where no way was found
	// Unseen are the sides that the box goes beyond on its way, farther than the gap
	// that a side asks for itself, and that nobody looked at.
	Unseen []solid.Side
	// Hidden is no less than the largest thing, mm across, that could be in the part of
	// the room that the box goes through and touch nothing that was measured; it has its
	// middle at HiddenAt, mounting frame. HiddenOK is false where anything could.
	Hidden   float64
	HiddenAt r3.Vector
	HiddenOK bool
	sweep    []shape.Span // what the box goes through, box frame
	Verdict  Verdict
	Because  Because
	Pos      table.Pos
}

// Step is a place of the box on its way in, as seen from home, along the mounting
// frame's axes; the zero Step is home.
type Step struct {
	Shift r3.Vector // mm
	// Turn about the middle of the body is the axis of the turn, as long as its angle in
	// radians; right-handed.
	Turn r3.Vector
}

// TurnTo is by how much the box turns from one step to the next, no more than half a turn.
func (s Step) TurnTo(next Step) s1.Angle { return way.Pose(s).TurnTo(way.Pose(next)) }

// route is a scene with what its parts and things stand for.
type route struct {
	scene  way.Scene
	parts  []int // of the assembly
	things []inTheWay
}

// inTheWay is a piece of a feature; o is nil for the face that the box stands on. One
// that is proud is a mark of that face.
type inTheWay struct {
	o     *obstacle
	at    piece
	proud bool
}

// wayIn answers for the way in, with its line in the draft where there is one; find
// finds one where the job gives none.
func (c *checker) wayIn(ctx context.Context, find func(context.Context, way.Scene) (way.Found, error)) (*WayIn, []draft, error) {
	spec := c.rules.WayIn
	if !spec.Asked {
		return nil, nil, nil
	}
	r := c.route(spec)
	answer := &WayIn{Given: len(spec.Path) > 0, Aside: spec.Aside, Pos: spec.Pos, Because: NotChecked, Outside: true}
	path := []way.Pose{}
	if answer.Given {
		for _, s := range spec.Path {
			path = append(path, way.Pose{Shift: c.pose.turnIn(s.Shift), Turn: c.pose.turnIn(s.Turn)})
		}
		answer.Outside = r.scene.Outside(path[0])
	} else {
		found, err := find(ctx, r.scene)
		if err != nil {
			return nil, nil, err
		}
		path, answer.Stuck = found.Path, found.Stuck
		answer.Stuck.At.Shift = c.pose.turnOut(found.Stuck.At.Shift)
		answer.Stuck.At.Turn = c.pose.turnOut(found.Stuck.At.Turn)
		answer.Stuck.Toward = c.pose.turnOut(found.Stuck.Toward)
		if !found.OK {
			return answer, nil, nil
		}
	}
	answer.Found, answer.Steps = true, slices.Clone(spec.Path)
	if !answer.Given {
		for _, p := range path {
			answer.Steps = append(answer.Steps, Step{c.pose.turnOut(p.Shift), c.pose.turnOut(p.Turn)})
		}
	}
	passage := way.Along(r.scene, path)
	c.sweeps(r, passage, answer)
	return answer, c.alongWay(r, passage, answer), nil
}

// route sets the scene: the parts that are there on the way in, and every feature that
// is not aside. The face that the box is bolted to is all that is behind the parts'
// backs: the box may slide on it, but not over a mark of it that stands proud.
func (c *checker) route(spec WayInSpec) route {
	var r route
	low := -c.pose.out(c.space, c.assembly.Tank)
	for i, p := range c.assembly.Parts {
		if p.Kind == solid.KeepOpenPart || p.After {
			continue
		}
		r.parts = append(r.parts, i)
		r.scene.Parts = append(r.scene.Parts, way.Part{Name: p.Name, Solid: p.Solid})
		low = math.Min(low, shape.SpanOf(p.Solid).Low[2])
	}
	r.scene.Pivot = c.assembly.Tank.Size.Vector().Mul(0.5)
	// Along the face and square to it, as the frame is but for the face's tilt: so that the
	// box slides along the face, not into it.
	sin, cos := math.Sincos(c.assembly.Tank.Place.Turn.Radians())
	r.scene.Axes = [3]r3.Vector{{X: cos, Y: -sin}, {X: sin, Y: cos}, {Z: 1}}
	r.scene.Room = c.room(spec, r.scene)
	for _, side := range solid.Sides() {
		if !slices.Contains(c.rules.LookedAt, side) {
			r.scene.Unseen = append(r.scene.Unseen, side.Out())
		}
	}
	name := "the face it stands on"
	for k := range c.features {
		o := &c.features[k]
		switch {
		case o.feature.Spec.Mount:
			name = o.feature.Spec.Name
			c.proudMarks(&r, o, low)
		case !slices.Contains(spec.Aside, o.feature.Spec.Name):
			for _, p := range o.pieces {
				needs := distuv.UnitNormal.Quantile(c.rules.Sure) * c.atMost(o, p)
				r.things = append(r.things, inTheWay{o: o, at: p})
				r.scene.Things = append(r.scene.Things, way.Thing{Name: o.feature.Spec.Name, Solid: p.solid, Needs: needs})
			}
		}
	}
	const wide = 4000 // as good as without end beside a bay of a metre or two, mm
	r.things = append(r.things, inTheWay{})
	r.scene.Things = append(r.scene.Things, way.Thing{Name: name, Solid: shape.Box{
		Corner: r3.Vector{X: -wide, Y: -wide, Z: low - wide},
		Edges:  [3]r3.Vector{{X: 2 * wide}, {Y: 2 * wide}, {Z: wide}},
	}})
	return r
}

// proudMarks puts in the way each mark of the face that stands out from the parts' backs
// by more than its reading explains.
func (c *checker) proudMarks(r *route, o *obstacle, low float64) {
	for n, at := range o.nodes {
		mark := o.feature.Nodes[n]
		if mark.Planar || at.Z-low <= guard*c.space.Uncertainty(mark.Mark) {
			continue
		}
		p := newPiece(shape.Hull{Points: []r3.Vector{at}, Behind: c.pose.turnIn(o.feature.Behind)}, []int{n})
		needs := distuv.UnitNormal.Quantile(c.rules.Sure) * c.atMost(o, p)
		r.things = append(r.things, inTheWay{o: o, at: p, proud: true})
		r.scene.Things = append(r.scene.Things, way.Thing{Name: o.feature.Spec.Name, Solid: p.solid, Needs: needs})
	}
}

// room is the job's, along the scene's axes, from the box's corner; an axis without
// range takes what was measured and the box.
func (c *checker) room(spec WayInSpec, scene way.Scene) shape.Span {
	size := c.assembly.Tank.Size
	known := scene.Extent(shape.Box{Edges: [3]r3.Vector{{X: size.Width}, {Y: size.Height}, {Z: size.Depth}}})
	for k := range c.features {
		for _, at := range c.features[k].nodes {
			known = known.Join(scene.Extent(shape.Hull{Points: []r3.Vector{at}, Grow: c.features[k].feature.Grow}))
		}
	}
	for axis, e := range spec.Room {
		if e.Given {
			at := c.pose.corner.Dot(solid.Axis(axis))
			known.Low[axis], known.High[axis] = e.From-at, e.To-at
		}
	}
	return known
}

// atMost is no less than the standard uncertainty of a clearance to a piece anywhere in
// the room: a mix of nodes is no less sure than the worst of them, in any direction no
// worse than in all three together; the sizes, the place and a fitting's place each
// count at most once along any direction; the face's tilts count at their longest lever.
func (c *checker) atMost(o *obstacle, p piece) float64 {
	worst := 0.0
	for _, n := range p.nodes {
		for _, axis := range []r3.Vector{{X: 1}, {Y: 1}, {Z: 1}} {
			at := o.nodes[n]
			g := o.feature.Move(nil, c.pose.world(at), c.pose.turnOut(axis), []int{n}, []float64{1})
			for k, by := range c.pose.push(at, axis.Mul(-1)) {
				c.sum.add(c.ways[k], by)
			}
			c.sum.add(c.spread.Terms(g), 1)
			worst = math.Max(worst, c.sum.spread())
			c.sum.drop()
		}
	}
	t := c.assembly.Tank
	made := rectangular(t.Within)*rectangular(t.Within) + rectangular(t.Place.Within)*rectangular(t.Place.Within)
	fitting := 0.0
	for _, f := range t.Fittings {
		fitting = math.Max(fitting, rectangular(f.Within))
	}
	return math.Sqrt(3*worst*worst + made + fitting*fitting)
}

// passing is a figure of the way with what it is of.
type passing struct {
	figure
	pass way.Pass
	part int // of the assembly
	what string
	o    *obstacle // nil for the face that the box stands on
	at   piece
}

// alongWay drafts the line of the way in: the pair that is least sure not to touch,
// with the others that could as rivals.
func (c *checker) alongWay(r route, passage way.Passage, answer *WayIn) []draft {
	var near []passing
	nearest := math.Inf(1)
	for i, part := range r.parts {
		for k, thing := range r.things {
			if thing.o == nil {
				if p, in := c.intoFace(r, passage, i, k, answer); in {
					near = append(near, p)
				}
				continue
			}
			piece := thing.at
			if thing.proud && shape.Distance(c.assembly.Parts[part].Solid, piece.solid).Signed < reach {
				continue // it stands on that mark on purpose
			}
			if far := passage.Bound(i, k); far > nearest && far > rivalReach*r.scene.Things[k].Needs {
				continue
			}
			pass := passage.Least(i, k)
			nearest = math.Min(nearest, pass.Lower)
			near = append(near, passing{c.passing(part, thing.o, piece, pass), pass, part, r.scene.Things[k].Name, thing.o, piece})
		}
	}
	if len(near) == 0 {
		answer.Verdict, answer.Because = Clears, NoReason
		return nil
	}
	// What is sure enough goes by how near it comes.
	enough := distuv.UnitNormal.Quantile(c.rules.Sure)
	margin := func(p passing) float64 { return math.Min(enough, p.value/math.Max(p.u, 1e-3)) } // a thousandth of a millimetre: rounding
	slices.SortStableFunc(near, func(a, b passing) int {
		return cmp.Or(cmp.Compare(margin(a), margin(b)), cmp.Compare(a.value, b.value))
	})
	first := near[0]
	n := first.pass.Near
	d := draft{main: first.figure}
	d.line = Line{
		Part: c.assembly.Parts[first.part].Name, Feature: first.what, When: "way in",
		Clearance: first.value, U: first.u, AtLeast: first.value < 0,
		OnPart: c.pose.world(n.OnA), OnFeature: c.pose.world(n.OnB), Toward: c.pose.turnOut(n.Normal),
		Marks: c.decidedBy(first),
	}
	for _, p := range near {
		d.missing = d.missing || p.o != nil && len(p.o.feature.Missing) > 0
	}
	for _, p := range near[1:] {
		if len(d.rivals) < mostRivals && p.value < rivalReach*p.u {
			d.rivals = append(d.rivals, p.figure)
		}
	}
	c.nearestOn(answer, slices.MinFunc(near, func(a, b passing) int { return cmp.Compare(a.value, b.value) }))
	return []draft{d}
}

// passing is the figure of a clearance on the way: what is proved of it, moved with the
// marks and the making as the box stands in that pose.
func (c *checker) passing(part int, o *obstacle, at piece, pass way.Pass) figure {
	n := pass.Near
	ids, shares := mix(at.nodes, n.MixB)
	g := o.feature.Move(nil, c.pose.world(n.OnB), c.pose.turnOut(n.Normal), ids, shares)
	by := n.Normal.Mul(-1)
	for k, amount := range c.pose.push(n.OnA, by) {
		c.sum.add(c.ways[k], amount)
	}
	p := c.assembly.Parts[part]
	c.making.add(&c.sum, p.Share(pass.Home(n.OnA), c.assembly.Tank.Size), pass.Back(by), p.Fitting, true)
	f := c.newFigure(pass.Lower, g)
	f.along = n.Normal
	return f
}

// judgeWayIn gives the way in its verdict, once its line has one.
func judgeWayIn(w *WayIn, drafts []draft) {
	if w == nil || !w.Found {
		return
	}
	for i := range drafts {
		if l := drafts[i].line; l.When == "way in" {
			w.Verdict, w.Because = l.Verdict, l.Because
		}
	}
	if w.Verdict == Clears && (len(w.Unseen) > 0 || !w.Outside) {
		w.Verdict, w.Because = Unproven, Unmeasured
	}
}
