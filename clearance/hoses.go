package clearance

import (
	"fmt"
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/clearance/hose"
	"elbowroom/clearance/motion"
	"elbowroom/solid/shape"
	"elbowroom/survey"
)

// hoseThing is a hose on its run, in the box's frame.
type hoseThing struct {
	spec  HoseSpec
	run   hose.Run
	marks []int // of each point of a measured run; -1: it goes with the fitting
	// fitting is the index of the one that it leaves from.
	fitting int
	follow  r3.Vector
	whole   hose.Tube
	// tube is what of it counts against the present thing: the last straight, say,
	// goes to its feature on purpose.
	tube hose.Tube
	end  int // the mark that it ends at
	// led says that the run was found: it has no marks of its own but the end.
	led bool
	// swungs says of each of the checker's motions how it takes the hose along; nil: not.
	swungs []*swung
}

func (h *hoseThing) label() string { return h.spec.Name }

func (h *hoseThing) asks(c *checker, feature GapUsed) (float64, string) {
	own := c.rules.named("hose")
	if own.Gap >= feature.Gap {
		return own.Gap, own.Name
	}
	return feature.Gap, feature.Name
}

// lay puts the hose on its run.
func (h *hoseThing) lay() {
	h.whole = h.run.Tube(h.spec.Outside)
	h.tube = h.whole
}

// withoutEnd leaves out the last straight, or as much of the end as is given where
// that is more; false where nothing is left.
func (h *hoseThing) withoutEnd(least float64) bool {
	_, last := h.whole.Legs()
	h.tube = h.whole.Between(0, h.whole.Length()-math.Max(last, least))
	return len(h.tube.Pieces) > 0
}

func (h *hoseThing) least(p piece) float64 { return h.tube.Least(p.solid) }

func (h *hoseThing) distance(q shape.Convex) (shape.Nearest, int) { return h.tube.Distance(q) }

func (h *hoseThing) stills() (stills []motion.Still, spots []int) {
	for k, p := range h.tube.Pieces {
		spots = append(spots, k)
		if p.Bend {
			stills = append(stills, motion.Bend(p.Arc, h.tube.Radius))
		} else {
			stills = append(stills, motion.Solid(shape.Hull{Points: []r3.Vector{p.Arc.From, p.Arc.To}, Grow: h.tube.Radius}))
		}
	}
	return stills, spots
}

// carry moves a place on the hose with the corners of its run: on a leg as it
// lies between them, on a bend as a mix of its corner and the two legs' ends
// (the change of the radius is left out: it is of second order in the move).
func (h *hoseThing) carry(c *checker, g survey.Gradient, which int, at, by r3.Vector) survey.Gradient {
	if h.led {
		return h.carryLed(c, g, which, at, by)
	}
	s := h.tube.Pieces[which]
	p := h.run.Points
	shares := map[int]float64{}
	if s.Bend {
		before, after := h.mixBend(s.Corner, at)
		shares[s.Corner-1], shares[s.Corner+1], shares[s.Corner] = before, after, 1-before-after
	} else {
		leg := p[s.Corner+1].Sub(p[s.Corner])
		t := math.Min(1, math.Max(0, at.Sub(p[s.Corner]).Dot(leg)/leg.Norm2()))
		shares[s.Corner], shares[s.Corner+1] = 1-t, t
	}
	for i := s.Corner - 1; i <= s.Corner+1; i++ {
		if share := shares[i]; share != 0 {
			g = h.pull(c, g, i, by.Mul(share))
		}
	}
	return g
}

// pull is carry for a corner of the run: a mark, or the fitting's port.
func (h *hoseThing) pull(c *checker, g survey.Gradient, corner int, by r3.Vector) survey.Gradient {
	if mark := h.marks[corner]; mark >= 0 {
		return append(g, survey.Pull{Mark: mark, By: c.pose.turnOut(by)})
	}
	c.carried(h.run.Points[corner], by, h.follow, h.fitting)
	return g
}

// mixBend writes a place near the bend at corner i as a mix of the corner and
// its two neighbours.
func (h *hoseThing) mixBend(i int, at r3.Vector) (before, after float64) {
	p := h.run.Points
	u, v, d := p[i-1].Sub(p[i]), p[i+1].Sub(p[i]), at.Sub(p[i])
	uu, vv, uv := u.Norm2(), v.Norm2(), u.Dot(v)
	det := uu*vv - uv*uv
	if det <= 0 {
		return 0, 0
	}
	return (d.Dot(u)*vv - d.Dot(v)*uv) / det, (d.Dot(v)*uu - d.Dot(u)*uv) / det
}

// hoses drafts the hoses' runs and their lines against every feature, the box's
// parts and each other. Measured runs are laid first, since the others have to find
// their way past them.
func (c *checker) hoses() (hoses []Hose, drafts []draft, meant []Contact) {
	hoses = make([]Hose, len(c.rules.Hoses))
	laid := make([]*hoseThing, len(hoses))
	for i, spec := range c.rules.Hoses {
		hoses[i] = Hose{Name: spec.Name, Wanted: spec.BendRadius, ToCentre: spec.ToCentre, Outside: spec.Outside, Because: NotChecked}
		hoses[i].From, hoses[i].To = spec.From, spec.To
		if h, ok := c.hose(spec); ok {
			laid[i] = h
			c.bends(h, &hoses[i])
		}
	}
	for i, spec := range c.rules.Hoses {
		if spec.Along == "" {
			laid[i] = c.lead(spec, laid, &hoses[i])
		}
	}
	for i, h := range laid {
		if h == nil {
			continue
		}
		c.takeAlong(h)
		c.describe(h, &hoses[i])
		lines, contacts := c.hoseLines(h)
		for k := 0; k < i; k++ {
			if laid[k] != nil {
				lines = append(lines, c.hosesApart(h, laid[k]))
				lines = append(lines, c.swingHoses(h, laid[k], lines[len(lines)-1].main.value)...)
			}
		}
		for k := range lines {
			lines[k].crowded = hoses[i].Crowded
		}
		drafts, meant = append(drafts, lines...), append(meant, contacts...)
	}
	c.adviseTies(laid)
	return hoses, drafts, meant
}

// hoseLines drafts a hose against every feature and every part of the box.
func (c *checker) hoseLines(h *hoseThing) (drafts []draft, meant []Contact) {
	for k := range c.features {
		o := &c.features[k]
		if len(o.pieces) == 0 {
			continue
		}
		some := true
		if c.holds(o, h.end) {
			gap, _ := h.asks(c, o.gap)
			some = h.withoutEnd(c.endOff(h, gap))
			meant = append(meant, Contact{h.spec.Name, o.feature.Spec.Name})
		}
		if some {
			rest := c.against(h, o)
			drafts = append(drafts, rest)
			drafts = append(drafts, c.hoseInMotions(h, o, rest.main.value)...)
		}
		h.tube = h.whole
	}
	parts, contacts := c.hoseAgainstParts(h)
	drafts = append(drafts, parts...)
	return append(drafts, c.swingParts(h, valuesOf(parts))...), append(meant, contacts...)
}

// holds says whether a feature has the mark among its own.
func (c *checker) holds(o *obstacle, mark int) bool {
	for _, n := range o.feature.Nodes {
		if n.Mark == mark {
			return true
		}
	}
	return false
}

// hose lays a hose along its measured run; ok is false where it has none, or
// where a mark of it has no place yet.
func (c *checker) hose(spec HoseSpec) (*hoseThing, bool) {
	h := &hoseThing{spec: spec, fitting: -1}
	for i, f := range c.assembly.Tank.Fittings {
		if f.Name == spec.From {
			h.fitting = i
		}
	}
	run, ok := c.space.Feature(spec.Along)
	end, found := c.space.Mark(spec.To)
	if spec.Along == "" || !ok || !found || h.fitting < 0 || len(run.Missing) > 0 || !c.space.Marks[end].Located {
		return nil, false
	}
	port := c.assembly.Ports[h.fitting]
	h.follow = port.Follow
	points, marks := []r3.Vector{port.At}, []int{-1}
	for _, n := range run.Nodes {
		if n.Mark == end {
			continue
		}
		points, marks = append(points, c.pose.local(n.At)), append(marks, n.Mark)
	}
	points, marks = append(points, c.pose.local(c.space.Marks[end].At)), append(marks, end)
	h.marks, h.end = marks, end
	h.run = hose.Round(points, spec.Straight)
	h.lay()
	return h, true
}

// bends answers whether the run bends too tightly.
func (c *checker) bends(h *hoseThing, out *Hose) {
	radius, at, bent := h.run.Least()
	out.Checked, out.Bent, out.Because = true, bent, NoReason
	out.Length = h.run.Length()
	out.Cut = out.Length * (1 + h.spec.Slack)
	for _, p := range h.run.Trace(0.05) { // finer than a line is drawn, mm
		out.Centre = append(out.Centre, c.pose.world(p))
	}
	out.Ports = c.ports(h)
	if !bent {
		return
	}
	out.LeastCentre = radius
	out.LeastAt = c.space.Marks[h.marks[at]].Name
	inside := 0.0
	if !h.spec.ToCentre {
		inside = h.spec.Outside / 2
	}
	out.decidedBy = c.leastFigure(h, radius-inside)
	out.Least, out.U = radius-inside, out.decidedBy.u
	out.Spacing = c.spacing(h, h.spec.BendRadius+inside)
}

// leastFigure finds how the least bend radius moves with the run's corners, by
// moving each a little both ways.
func (c *checker) leastFigure(h *hoseThing, value float64) figure {
	// A thousandth of a millimetre: far below any reading, far above rounding.
	const step = 1e-3
	var g survey.Gradient
	points := append([]r3.Vector(nil), h.run.Points...)
	for i := range h.marks {
		var by [3]float64
		for axis := range by {
			d := [3]r3.Vector{{X: step}, {Y: step}, {Z: step}}[axis]
			points[i] = h.run.Points[i].Add(d)
			more, _, _ := hose.Round(points, h.spec.Straight).Least()
			points[i] = h.run.Points[i].Sub(d)
			less, _, _ := hose.Round(points, h.spec.Straight).Least()
			points[i] = h.run.Points[i]
			by[axis] = (more - less) / (2 * step)
		}
		g = h.pull(c, g, i, r3.Vector{X: by[0], Y: by[1], Z: by[2]})
	}
	return c.newFigure(value, g)
}

// spacing is how far apart the run's marks would have to be to speak for the
// bend wanted, where they are not; 0 where they are.
func (c *checker) spacing(h *hoseThing, wanted float64) float64 {
	most := 0.0
	for i := 1; i+1 < len(h.marks); i++ {
		p := h.run.Points
		a, b := p[i].Sub(p[i-1]).Norm(), p[i+1].Sub(p[i]).Norm()
		sigma := c.space.Uncertainty(h.marks[i])
		if sigma > 0 && hose.TooNoisy(sigma, a, b, wanted) {
			most = math.Max(most, hose.Spacing(sigma, wanted))
		}
	}
	return most
}

// ports says what is wrong where the run leaves the fitting and where it
// arrives: a kink there is a bend that the run does not show.
func (c *checker) ports(h *hoseThing) string {
	p := h.run.Points
	n := len(p)
	leaving := p[1].Sub(p[0]).Angle(c.assembly.Ports[h.fitting].Axis).Radians()
	if off, kinked := c.kink(h, leaving, 1, p[1].Sub(p[0]).Norm()); kinked {
		return fmt.Sprintf("it leaves %s %.0f degrees off its axis", h.spec.From, off)
	}
	if h.spec.Arrives == (r3.Vector{}) {
		return ""
	}
	arriving := p[n-1].Sub(p[n-2]).Angle(c.pose.turnIn(h.spec.Arrives)).Radians()
	if off, kinked := c.kink(h, arriving, n-2, p[n-1].Sub(p[n-2]).Norm()); kinked {
		return fmt.Sprintf("it arrives at %s %.0f degrees off its direction", h.spec.To, off)
	}
	return ""
}

// kink says whether an angle at an end of the run is more than the readings
// explain: three standard uncertainties of the mark that the end leg goes to,
// or five degrees, which any hose gives at its clamp (common practice, no source).
func (c *checker) kink(h *hoseThing, angle float64, at int, leg float64) (degrees float64, kinked bool) {
	const give = 5.0
	off := angle * 180 / math.Pi
	noise := 0.0
	if h.marks[at] >= 0 && leg > 0 {
		noise = 3 * c.space.Uncertainty(h.marks[at]) / leg * 180 / math.Pi
	}
	return off, off > math.Max(give, noise)
}

// judgeHoses gives each hose its verdict.
func (c *checker) judgeHoses(hoses []Hose) {
	for i := range hoses {
		h := &hoses[i]
		switch {
		case !h.Checked:
		case h.Fights:
			h.Verdict = Tight
		case h.Crowded:
			h.Because = Near
		case h.Ports != "":
			h.Because = NotChecked
		case !h.Bent:
			h.Verdict, h.Sure = Clears, 1
		case h.Spacing > 0:
			h.Because = Near
		default:
			h.Sure = h.decidedBy.probability(h.Wanted)
			h.Verdict, h.Because = c.grade(h.Sure)
		}
		h.judgeSlack()
	}
}

// grade is the verdict of a quantity that must reach its limit.
func (c *checker) grade(sure float64) (Verdict, Because) {
	switch {
	case sure >= c.rules.Sure:
		return Clears, NoReason
	case sure <= 1-c.rules.Sure:
		return Tight, NoReason
	}
	return Unproven, Near
}
