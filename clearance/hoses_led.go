package clearance

import (
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/clearance/hose"
	"elbowroom/solid"
	"elbowroom/survey"
)

// HoseRun is what a person needs to know to lead and to cut a hose. The zero HoseRun
// is of one that was not checked.
type HoseRun struct {
	From, To string // the fitting that it leaves, the mark where it ends
	// Led says that the run was found by the program, not measured.
	Led bool
	// Fights says that no run was found that keeps the bend radius between the two ends,
	// and does not run into itself, even with nothing in the way.
	Fights bool
	// Crowded says that none was found that keeps every gap; the run is the one that
	// comes nearest to, Short of its gap and of what being sure takes at Pinch by so
	// much, mm. That none was found is no proof that there is none.
	Crowded bool
	Pinch   string
	Short   float64
	// Direct says that a found run is of two arcs with a straight between, or of three
	// that loop: nothing had to be led round.
	Direct bool
	// Far says that the shortest run with nothing in the way is more than half as long
	// again as the ends are apart: they fight each other, and another direction of the
	// fitting would save hose.
	Far bool
	// Forms lists its bends in order from the fitting, sides in the mounting frame, and
	// Tail is the straight after the last, mm.
	Forms []hose.Form
	Tail  float64
	// Elbow is a moulded elbow that would join the ends; see HasElbow.
	Elbow    hose.Elbow
	HasElbow bool
	// Free lists the shapes, least energy first, that the hose takes by itself, cut as
	// asked, where nothing holds or touches it between its ends (mounting frame). Of a
	// measured run, which is held to its marks, there are none.
	Free []FreeShape
	// Easy is the length from which on it bends by itself no tighter than it may, where
	// cut as asked it bends tighter, mm; 0: none was found, or none is needed.
	Easy float64
	// Moves lists what motions of its end ask of its length.
	Moves []HoseMove
}

// FreeShape is a shape that a hose left to itself rests in.
type FreeShape struct {
	hose.Elastic
	// Margin is the least of its clearances less their gaps, mm, and Near what it is of.
	Margin float64
	Near   string
}

// bendCentre is the least radius to the centre line that a hose may have.
func (s HoseSpec) bendCentre() float64 {
	r := s.BendRadius
	if !s.ToCentre {
		r += s.Outside / 2
	}
	return math.Max(r, s.Outside/2) // no tube bends inside itself
}

// lead finds a run for a hose that has none measured; nil where it cannot be looked
// for, or where there is none.
func (c *checker) lead(spec HoseSpec, laid []*hoseThing, out *Hose) *hoseThing {
	h := &hoseThing{spec: spec, fitting: c.fittingNamed(spec.From), led: true}
	end, found := c.space.Mark(spec.To)
	if !found || h.fitting < 0 || !c.space.Marks[end].Located || spec.Arrives == (r3.Vector{}) {
		return nil
	}
	h.end = end
	h.follow = c.assembly.Ports[h.fitting].Follow
	wish := hose.Wish{
		Ends: c.ends(h), Outside: spec.Outside,
		Limits: hose.Limits{Radius: spec.bendCentre(), Straight: spec.Straight},
	}
	var names []string
	wish.Obstacles, names = c.inTheWay(h, laid, guard)
	f := hose.Find(wish)
	f, names = c.offItsFitting(h, wish, f, names)
	if !f.Clears { // where being sure is too much to ask, the gap alone
		bare := wish
		bare.Obstacles, names = c.inTheWay(h, laid, 0)
		f = hose.Find(bare)
	}
	out.Checked, out.Led, out.Because = true, true, NoReason
	if !f.Clears {
		free := wish
		free.Obstacles = nil
		alone := hose.Find(free)
		if out.Fights = !alone.Clears; out.Fights {
			return nil
		}
		if !f.Any {
			alone.Clears = false
			f = alone
		}
	}
	h.run = f.Run
	h.lay()
	c.ledBends(h, out)
	out.Direct = f.Direct
	out.Far = f.Free > 1.5*wish.Ends.To.Sub(wish.Ends.From).Norm()
	if out.Crowded = !f.Clears; out.Crowded {
		out.Short, out.Pinch = -f.Margin, spec.Name
		if f.Worst >= 0 {
			out.Pinch = names[f.Worst]
		}
	}
	c.rest(wish, names, out)
	return h
}

func (c *checker) fittingNamed(name string) int {
	for i, f := range c.assembly.Tank.Fittings {
		if f.Name == name {
			return i
		}
	}
	return -1
}

// ends are where a hose leaves and arrives, in the box's frame.
func (c *checker) ends(h *hoseThing) hose.Ends {
	port := c.assembly.Ports[h.fitting]
	return hose.Ends{
		From: port.At, Leave: port.Axis.Normalize(),
		To: c.pose.local(c.space.Marks[h.end].At), Arrive: c.pose.turnIn(h.spec.Arrives).Normalize(),
	}
}

// inTheWay lists what a hose has to keep away from, each with its gap and so many
// standard uncertainties, and what each is called.
func (c *checker) inTheWay(h *hoseThing, laid []*hoseThing, sure float64) (list []hose.Obstacle, names []string) {
	add := func(o hose.Obstacle, name string) { list, names = append(list, o), append(names, name) }
	own := c.endsSpread(h)
	for k := range c.features {
		o := &c.features[k]
		gap, _ := h.asks(c, o.gap)
		for _, p := range o.pieces {
			u := own
			for _, n := range p.nodes {
				u = math.Max(u, math.Hypot(own, c.space.Uncertainty(o.feature.Nodes[n].Mark)))
			}
			obstacle := hose.Obstacle{Solid: p.solid, Gap: gap + sure*u}
			if c.holds(o, h.end) {
				obstacle.LastLeg, obstacle.End = true, c.endOff(h, gap)
			}
			add(obstacle, o.feature.Spec.Name)
		}
	}
	for _, p := range c.assembly.Parts {
		if p.Fitting >= 0 && p.Fitting == h.fitting {
			continue
		}
		gap, _ := c.partGap(p)
		o := hose.Obstacle{Solid: p.Solid, Gap: gap + sure*own}
		if p.Kind == solid.Body {
			o.Start, o.FirstLeg = h.spec.Outside/2+gap, true
		}
		add(o, p.Name)
	}
	for _, other := range laid {
		if other != nil {
			add(hose.Obstacle{Tube: &other.whole, Gap: c.rules.named("hose").Gap + sure*math.Sqrt2*own}, other.spec.Name)
		}
	}
	return list, names
}

// endOff is how much of a hose's end does not count against what it ends on: as far
// as its skin comes within the gap there, and what being sure takes.
func (c *checker) endOff(h *hoseThing, gap float64) float64 {
	return h.spec.Outside/2 + gap + guard*c.endsSpread(h)
}

// endsSpread is the greater standard uncertainty of a hose's two ends, mm.
func (c *checker) endsSpread(h *hoseThing) float64 {
	most := c.space.Uncertainty(h.end)
	at := c.assembly.Ports[h.fitting].At
	for axis := range 3 {
		c.carried(at, solid.Axis(axis), h.follow, h.fitting)
		most = math.Max(most, c.sum.spread())
		c.sum.drop()
	}
	return most
}

// ledBends says what a found run is: no bend of it is tighter than asked for.
func (c *checker) ledBends(h *hoseThing, out *Hose) {
	out.Length = h.whole.Length()
	out.Cut = out.Length * (1 + h.spec.Slack)
	for _, p := range h.run.Trace(0.05) { // finer than a line is drawn, mm
		out.Centre = append(out.Centre, c.pose.world(p))
	}
	radius, _, bent := h.run.Least()
	if out.Bent = bent; !bent {
		return
	}
	out.LeastCentre, out.Least = radius, radius
	if !h.spec.ToCentre {
		out.Least -= h.spec.Outside / 2
	}
	// As it was built: to the rounding of a sum.
	out.Least = math.Max(out.Least, h.spec.BendRadius)
	out.decidedBy = figure{value: out.Least}
}

// describe lists a run's bends, and whether an elbow would do.
func (c *checker) describe(h *hoseThing, out *Hose) {
	out.Forms, out.Tail = h.run.Forms()
	for i := range out.Forms {
		out.Forms[i].Side = c.pose.turnOut(out.Forms[i].Side)
	}
	if h.spec.Arrives != (r3.Vector{}) {
		out.Elbow, out.HasElbow = c.ends(h).Elbow(h.spec.Outside, h.spec.Straight)
	}
	out.Moves = c.hoseMoves(h, out)
}

// restParts is how many parts the free shape is worked out with: its least radius is
// then good to a thousandth (the half circle of the tests).
const restParts = 32

// rest finds how the hose lies when it is left to itself.
func (c *checker) rest(w hose.Wish, names []string, out *Hose) {
	for _, s := range hose.Rest(w.Ends, out.Cut, restParts) {
		f := FreeShape{Elastic: s}
		var worst int
		if f.Margin, worst = w.Rests(s); worst >= 0 {
			f.Near = names[worst]
		}
		f.Points = append([]r3.Vector(nil), s.Points...)
		for i := range f.Points {
			f.Points[i] = c.pose.world(f.Points[i])
		}
		out.Free = append(out.Free, f)
	}
	if r := w.Limits.Radius; len(out.Free) > 0 && out.Free[0].Radius < r {
		out.Easy, _ = hose.EasyLength(w.Ends, out.Cut, r, restParts)
	}
}

// movesWith says whether a motion takes a mark along.
func (c *checker) movesWith(m Motion, mark int) bool {
	for _, name := range m.Moves {
		f, ok := c.space.Feature(name)
		if !ok {
			continue
		}
		if holdsMark(f, mark) {
			return true
		}
	}
	return false
}

func holdsMark(f *survey.Feature, mark int) bool {
	for _, n := range f.Nodes {
		if n.Mark == mark {
			return true
		}
	}
	return false
}
