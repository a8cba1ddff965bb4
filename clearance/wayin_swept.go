package clearance

import (
	"math"
	"slices"

	"github.com/golang/geo/r3"

	"elbowroom/clearance/way"
	"elbowroom/solid"
	"elbowroom/solid/shape"
)

// nearestOn says what comes nearest on the way, and where.
func (c *checker) nearestOn(w *WayIn, p passing) {
	w.Least, w.U = p.value, p.u
	w.Part, w.Feature = c.assembly.Parts[p.part].Name, p.what
	w.At = Step{c.pose.turnOut(p.pass.At.Shift), c.pose.turnOut(p.pass.At.Turn)}
	w.OnPart, w.OnFeature = c.pose.world(p.pass.Near.OnA), c.pose.world(p.pass.Near.OnB)
	w.Marks = c.decidedBy(p)
}

func (c *checker) decidedBy(p passing) []string {
	if p.o == nil {
		return nil
	}
	ids, shares := mix(p.at.nodes, p.pass.Near.MixB)
	return c.names(p.o.feature, ids, shares)
}

// intoFace is the figure of a part that a path of the job's own takes into the face that
// the box is bolted to; in is false where it stays out of it, be it by sliding along it.
// At one stop on the way it shows; behind the face's plane, but beyond its marks, is where
// nobody looked. What moves the face moves the box on it: only how the box is made counts.
func (c *checker) intoFace(r route, passage way.Passage, i, k int, w *WayIn) (p passing, in bool) {
	const slides = 0.05 // mm: a found way keeps out of it to a fiftieth, for rounding
	if c.pose.mount == nil || passage.Bound(i, k) > 0 {
		return p, false
	}
	face, part := r.scene.Things[k], r.parts[i]
	level, a := shape.SpanOf(face.Solid).High[2], c.assembly.Parts[part]
	if passage.Deepest(i, level).Lower >= -slides {
		return p, false
	}
	p.part, p.what = part, face.Name
	for _, stop := range passage.Lows(i, level, shortStretch/4) {
		if stop.Lower < math.Min(-slides, p.pass.Lower) && c.inMount(stop.Place(a.Solid), slides) {
			p.pass = stop
		}
	}
	if p.pass.Lower == 0 {
		if !slices.Contains(w.Unseen, solid.Back) && !slices.Contains(c.rules.LookedAt, solid.Back) {
			w.Unseen = append(w.Unseen, solid.Back)
		}
		return p, false
	}
	by := p.pass.Near.Normal.Mul(-1)
	c.making.add(&c.sum, a.Share(p.pass.Home(p.pass.Near.OnA), c.assembly.Tank.Size), p.pass.Back(by), a.Fitting, true)
	p.figure = c.newFigure(p.pass.Lower, nil)
	p.along = p.pass.Near.Normal
	return p, true
}

// inMount says whether a solid is in what the mount's marks stand for, by more than that.
func (c *checker) inMount(s shape.Convex, by float64) bool {
	for k := range c.features {
		if o := &c.features[k]; o.feature.Spec.Mount {
			for _, p := range o.pieces {
				if shape.Distance(s, p.solid).Signed < -by {
					return true
				}
			}
		}
	}
	return false
}

// shortStretch is into what stretches a way is cut to tell what room it goes through,
// mm: half of what is taken to be worth seeing by default.
const shortStretch = 25.4

// sweeps finds what room the box goes through, and the sides that it goes beyond and
// that nobody looked at.
func (c *checker) sweeps(r route, passage way.Passage, w *WayIn) {
	w.sweep = passage.Sweep(shortStretch)
	home, all := passage.Home(), passage.Home()
	for _, s := range w.sweep {
		all = all.Join(s)
	}
	// What is in the gap in front of a side its own line answers for.
	gap := math.Max(reach, c.rules.named("fixed").Gap)
	for _, side := range solid.Sides() {
		axis := side.Axis()
		beyond := home.Low[axis] - all.Low[axis]
		if side.Far() {
			beyond = all.High[axis] - home.High[axis]
		}
		if side != solid.Back && beyond > gap && !slices.Contains(c.rules.LookedAt, side) {
			w.Unseen = append(w.Unseen, side)
		}
	}
	room := r.scene.RoomAround()
	kept := w.sweep[:0]
	for _, s := range w.sweep {
		if s, some := clipped(s, room); some {
			kept = append(kept, s)
		}
	}
	w.sweep = kept
}

// clipped is what of a span is inside another; some is false where nothing is.
func clipped(s, within shape.Span) (out shape.Span, some bool) {
	for axis := range 3 {
		s.Low[axis] = math.Max(s.Low[axis], within.Low[axis])
		s.High[axis] = math.Min(s.High[axis], within.High[axis])
		if s.Low[axis] >= s.High[axis] {
			return s, false
		}
	}
	return s, true
}

// hiddenOnWay finds the largest thing that could be on the way and touch no evidence.
func (c *checker) hiddenOnWay(w *WayIn) {
	if w == nil || len(w.sweep) == 0 {
		return
	}
	var room []cell
	for _, s := range w.sweep {
		room = append(room, cell{
			lo: r3.Vector{X: s.Low[0], Y: s.Low[1], Z: s.Low[2]}, hi: r3.Vector{X: s.High[0], Y: s.High[1], Z: s.High[2]},
		})
	}
	all := make([]int32, len(c.sights))
	for i := range all {
		all[i] = int32(i)
	}
	// It decides nothing by itself, as for a side that was looked at.
	diameter, at := hiddenIn(room, c.sights, all, lookedShare)
	w.Hidden, w.HiddenAt, w.HiddenOK = diameter, c.pose.world(at), !math.IsInf(diameter, 1)
}
