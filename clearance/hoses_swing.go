package clearance

import (
	"math"
	"slices"

	"github.com/golang/geo/r3"

	"elbowroom/clearance/hose"
	"elbowroom/clearance/motion"
	"elbowroom/survey"
)

// Swings says of a line that its hose swings in a motion, so that its clearance is what is
// proven: however the hose lies between its holds, it comes no nearer.
type Swings struct {
	// Unknown is by how much more it may keep, mm: as drawn, at rest, it keeps that much
	// more, and nobody knows how it hangs between.
	Unknown float64
	// Holds are what it hangs between: the fitting or a mark of its run, and its end mark
	// or a mark of its run.
	Holds [2]string
	// Tie is where a tie would make it clear; nil where none was looked for or found.
	Tie *Tie
}

// Tie is a place to tie a hose to something that stands still.
type Tie struct {
	At    r3.Vector // on its middle, mounting frame, mm
	Along float64   // from its beginning, mm
}

// ending is what of a hose is held in one way: a corner of its run, or its two ends.
type ending struct {
	joints       []int // that carry it
	before       hose.Hold
	after        hose.Hold
	beforeAt     float64 // where along the run the stretch before ends, mm
	afterAt      float64 // and the one after begins
	named        string
	mark         int // -1: the fitting
	first, final bool
}

// stretch is a swinging stretch of a hose, with the sweeps worked out so far.
type stretch struct {
	swing    hose.Swing
	from, to ending
	sweeps   map[string]*hose.Sweep
	free     float64 // see HoseMove.Free
}

// rigidRun is a part of a hose that goes along rigidly with some joints, or stands still.
type rigidRun struct {
	joints   []int
	from, to float64 // along the run
}

// swung is a hose in a motion that takes part of it along.
type swung struct {
	m         *moving
	stretches []*stretch
	rigids    []rigidRun
	straight  float64
	slack     float64
	open      []openSwing
}

// endsKnown is how many standard uncertainties the holds of a swinging hose may be off:
// then each of the three coordinates of a place read directly may be off by its whole
// limit, sqrt 3 u.
const endsKnown = 3

// swungBy tells how a motion takes a hose along; nil: not at all.
func (c *checker) swungBy(h *hoseThing, m *moving) *swung {
	list := c.endings(h, m)
	moves := false
	for _, e := range list {
		moves = moves || len(e.joints) > 0
	}
	if !moves {
		return nil
	}
	length := h.whole.Length()
	w := &swung{m: m, slack: h.spec.Slack * length, straight: h.spec.Straight}
	at := rigidRun{joints: list[0].joints}
	for i := 1; i < len(list); i++ {
		a, b := list[i-1], list[i]
		if slices.Equal(a.joints, b.joints) {
			continue
		}
		at.to = a.afterAt
		w.rigids = append(w.rigids, at)
		at = rigidRun{joints: b.joints, from: b.beforeAt}
		s := &stretch{from: a, to: b, sweeps: map[string]*hose.Sweep{}}
		s.swing = hose.Swing{
			From: a.after, To: b.before, Joints: m.joints, Radius: h.tightest(),
			Length: b.beforeAt - a.afterAt + w.slack, Off: c.endsOff(h, m),
		}
		if s.free = m.freeRadius(s.swing); s.free > 0 {
			s.swing.Radius = math.Min(s.swing.Radius, s.free*restGood)
		}
		w.stretches = append(w.stretches, s)
	}
	at.to = length
	w.rigids = append(w.rigids, at)
	return w
}

// tightest is the bend radius that a swinging hose is taken to keep: that which it is asked
// to keep, or the least of its run as drawn or of its rest where that is less.
func (h *hoseThing) tightest() float64 {
	radius := h.spec.bendCentre()
	if least, _, bent := h.run.Least(); bent {
		radius = math.Min(radius, least)
	}
	return radius
}

const (
	// partsOfRest is how many parts a swinging hose's rest is worked out with, and restGood
	// what its least radius then is good to: the half circle of the tests comes out within
	// half a hundredth.
	partsOfRest = 16
	restGood    = 0.98
)

// freeRadius is the least bend radius of a stretch left to itself, at some positions.
func (m *moving) freeRadius(s hose.Swing) float64 {
	if s.From.Way == (r3.Vector{}) || s.To.Way == (r3.Vector{}) {
		return 0
	}
	least := 0.0
	for _, at := range m.some() {
		a, b := m.poseOf(s.From.Joints, at), m.poseOf(s.To.Joints, at)
		e := hose.Ends{From: a.Move(s.From.At), Leave: a.Turn(s.From.Way), To: b.Move(s.To.At), Arrive: b.Turn(s.To.Way)}
		rests := hose.Rest(e, s.Length, partsOfRest)
		if len(rests) > 0 && (least == 0 || rests[0].Radius < least) {
			least = rests[0].Radius
		}
	}
	return least
}

// take notes the bends of a swinging hose.
func (m *HoseMove) take(w *swung) {
	if w == nil {
		return
	}
	for _, s := range w.stretches {
		if s.free > 0 && (m.Free == 0 || s.free < m.Free) {
			m.Free = s.free
		}
		if m.Kept == 0 || s.swing.Radius < m.Kept {
			m.Kept = s.swing.Radius
		}
	}
}

// endsOff is how far the holds may be from where they are said to be: by their readings,
// and by those of the axes that carry them.
func (c *checker) endsOff(h *hoseThing, m *moving) float64 {
	u := c.endsSpread(h)
	for i, j := range m.joints {
		if !j.Turns() {
			continue
		}
		goes := 2 * math.Sin(math.Min(math.Pi, math.Max(math.Abs(j.From), math.Abs(j.To)))/2)
		a, b := m.hinges[i][0], m.hinges[i][1]
		arm := c.pose.local(c.space.Marks[h.end].At).Sub(j.On).Cross(j.Axis).Norm()
		apart := c.space.Marks[b].At.Sub(c.space.Marks[a].At).Norm()
		u = math.Hypot(u, goes*math.Hypot(c.space.Uncertainty(a), c.scatter(m.hinges[i])*arm/apart))
	}
	return endsKnown * u
}

// carriedBy lists the joints of a motion that carry what one of its motions moves: its own
// or, of a motion that it goes with, that one's.
func (c *checker) carriedBy(m *moving, takes func(Motion) bool) []int {
	for _, which := range m.of {
		if !takes(c.rules.Motions[which]) {
			continue
		}
		reached := map[int]bool{}
		c.reaches(which, reached)
		var joints []int
		for i, of := range m.of {
			if reached[of] {
				joints = append(joints, i)
			}
		}
		return joints
	}
	return nil
}

// reaches notes a motion and all that it goes with.
func (c *checker) reaches(which int, into map[int]bool) {
	if into[which] {
		return
	}
	into[which] = true
	for _, name := range c.rules.Motions[which].With {
		for k := range c.rules.Motions {
			if c.rules.Motions[k].Name == name {
				c.reaches(k, into)
			}
		}
	}
}

func (c *checker) jointsOfMark(m *moving, mark int) []int {
	return c.carriedBy(m, func(of Motion) bool { return c.movesWith(of, mark) })
}

func (c *checker) jointsOf(m *moving, o *obstacle) []int {
	return c.carriedBy(m, func(of Motion) bool { return slices.Contains(of.Moves, o.feature.Spec.Name) })
}

// endings lists what holds a hose, from the fitting on. A found run is held at its two ends
// alone; a measured one is tied at its marks as drawn.
func (c *checker) endings(h *hoseThing, m *moving) []ending {
	p := h.run.Points
	last := len(p) - 1
	starts, ends := h.run.Along()
	way := func(i int) r3.Vector { return p[i+1].Sub(p[i]).Normalize() }
	first := ending{mark: -1, named: h.spec.From, first: true}
	straight := math.Min(h.spec.Straight, starts[1])
	first.after = hose.Hold{At: p[0].Add(way(0).Mul(straight)), Way: way(0)}
	first.afterAt = straight
	list := []ending{first}
	for i := 1; i < last && !h.led; i++ {
		e := ending{mark: h.marks[i], joints: c.jointsOfMark(m, h.marks[i])}
		b := h.run.Bends[i]
		e.before = hose.Hold{At: b.To, Way: way(i), Joints: e.joints}
		e.after = hose.Hold{At: b.From, Way: way(i - 1), Joints: e.joints}
		e.beforeAt, e.afterAt = ends[i], starts[i]
		list = append(list, e)
	}
	straight = math.Min(h.spec.Straight, ends[last]-ends[last-1])
	end := ending{mark: h.end, joints: c.jointsOfMark(m, h.end), final: true}
	end.before = hose.Hold{At: p[last].Sub(way(last - 1).Mul(straight)), Way: way(last - 1), Joints: end.joints}
	end.beforeAt = ends[last] - straight
	list = append(list, end)
	for i := range list {
		e := &list[i]
		if e.mark >= 0 {
			e.named = c.space.Marks[e.mark].Name
		}
		// Where the leg on the far side swings too, the mark is a tie that lets it turn: it
		// is held in the middle of its bend.
		if i == 0 || i == len(list)-1 {
			continue
		}
		alone := !slices.Equal(list[i-1].joints, e.joints) && !slices.Equal(list[i+1].joints, e.joints)
		if alone {
			middle := hose.Hold{At: h.run.Bends[i].Middle(p[i]), Joints: e.joints}
			e.before, e.after = middle, middle
			e.beforeAt = (starts[i] + ends[i]) / 2
			e.afterAt = e.beforeAt
		}
	}
	return list
}

// sweep is the room of a stretch as seen from what some joints carry.
func (s *stretch) sweep(seenFrom []int) *hose.Sweep {
	key := string(runes(seenFrom))
	if s.sweeps[key] == nil {
		s.sweeps[key] = hose.NewSweep(s.swing, seenFrom)
	}
	return s.sweeps[key]
}

func runes(list []int) []rune {
	out := make([]rune, len(list))
	for i, k := range list {
		out[i] = rune(k)
	}
	return out
}

// relative is the chain that carries what own joints carry, as seen from what others do.
func (m *moving) relative(own, seenFrom []int) motion.Chain {
	for len(own) > 0 && len(seenFrom) > 0 && own[len(own)-1] == seenFrom[len(seenFrom)-1] {
		own, seenFrom = own[:len(own)-1], seenFrom[:len(seenFrom)-1]
	}
	var chain motion.Chain
	for _, k := range own {
		chain = append(chain, m.joints[k])
	}
	for i := len(seenFrom) - 1; i >= 0; i-- {
		j := m.joints[seenFrom[i]]
		j.From, j.To = -j.To, -j.From
		chain = append(chain, j)
	}
	return chain
}

// poseOf is the pose of what some joints carry, at a position of all.
func (m *moving) poseOf(joints []int, at []float64) motion.Pose {
	var chain motion.Chain
	var where []float64
	for _, k := range joints {
		chain, where = append(chain, m.joints[k]), append(where, at[k])
	}
	return chain.At(where)
}

// ownPull adds how a figure moves that changes by by·(move of a swinging hose's place) with
// the two ends of the hose, by how near it is to each: what each may be off is counted in
// the sweep already.
func (c *checker) ownPull(h *hoseThing, g survey.Gradient, s *stretch, at, by r3.Vector) survey.Gradient {
	a, b := at.Sub(s.swing.From.At).Norm(), at.Sub(s.swing.To.At).Norm()
	share := 0.5
	if a+b > 0 {
		share = a / (a + b)
	}
	for _, e := range []struct {
		end   ending
		share float64
	}{{s.from, 1 - share}, {s.to, share}} {
		if e.end.mark < 0 {
			c.carried(c.assembly.Ports[h.fitting].At, by.Mul(e.share), h.follow, h.fitting)
			continue
		}
		g = append(g, survey.Pull{Mark: e.end.mark, By: c.pose.turnOut(by.Mul(e.share))})
	}
	return g
}
