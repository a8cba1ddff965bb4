package clearance

import (
	"math"
	"slices"

	"github.com/golang/geo/s1"
	"gonum.org/v1/gonum/stat/distuv"

	"elbowroom/solid"
	"elbowroom/solid/shape"
)

// Room is what a hand or a tool needs on a fitting, and from where it can come.
// Its lines stand among the others, held where Clock says.
type Room struct {
	Part  string
	Kind  solid.KeepOpenKind
	Any   bool     // the clock angle is free, and Free and Sure say which will do
	Clock s1.Angle // where its lines hold it
	Sweep s1.Angle // what it swings through, clockwise from its clock
	// Free are the clock angles at which it keeps clear of everything as
	// measured, Sure those at which every line of it is sure enough. None of
	// either is said of less than arcStep.
	Free, Sure []Arc
	// Nowhere says that it surely has no room at any clock angle.
	Nowhere bool
	Origins []string // where the sizes come from that the job does not give
	open    bool     // there was a choice
}

// Arc is a range of clock angles, from one clockwise to another: To may be beyond
// a full turn. A full turn is all round.
type Arc struct{ From, To s1.Angle }

// All says whether the arc is all round.
func (a Arc) All() bool { return a.To-a.From >= 2*math.Pi }

// turner looks for the clock angles at which one keep-open volume has room.
type turner struct {
	*checker
	part  solid.Part
	all   []blocker // what can be in the way at some clock angle
	seen  map[s1.Angle]verdictAt
	cells map[s1.Angle]verdictAt // by their middles, see cell
}

// blocker is a feature or a part of the box, with what to take off the
// clearance so that what is left at 0 is sure enough.
type blocker struct {
	feature *obstacle
	own     *solid.Part
	allow   float64
}

// The two margins of a clock angle: the least clearance less what makes it sure
// enough, and the least clearance as measured.
const (
	surely = iota
	measured
)

// verdictAt is the margins at a clock angle, each of the better way round.
type verdictAt struct {
	margin [2]float64
	way    [2]int
}

// placeRooms turns each keep-open volume that has a choice to where it has most
// room, and lists all but the plain ones. The checker gets an assembly of its own.
func (c *checker) placeRooms() []Room {
	var rooms []Room
	moved := *c.assembly
	moved.Parts = slices.Clone(moved.Parts)
	found := make([]Room, len(moved.Parts))
	inParallel(len(found), func() func(int) {
		w := c.worker()
		return func(i int) {
			p := moved.Parts[i]
			if p.Kind != solid.KeepOpenPart {
				return
			}
			found[i] = w.roomOf(p)
			if p.Turning != nil {
				moved.Parts[i] = w.turner(p).settle(&found[i])
			}
		}
	})
	for _, r := range found {
		if r.Kind != solid.PlainRoom {
			rooms = append(rooms, r)
		}
	}
	c.assembly = &moved
	return rooms
}

// roomOf is a keep-open volume as the job gives it.
func (c *checker) roomOf(p solid.Part) Room {
	r := Room{Part: p.Name, Origins: p.Origins}
	f := c.assembly.Tank.Fittings[p.Fitting]
	for _, k := range f.KeepOpen {
		if f.Name+" "+k.Name == p.Name {
			r.Kind, r.Clock, r.Sweep = k.Kind, k.Clock, k.Usual(f).Sweep
		}
	}
	if p.Turning != nil {
		r.Any, r.Clock, r.open = p.Turning.Any, p.Turning.Clock, true
	}
	return r
}

// elsewhere says whether a line's part could stand another way, of which it is
// not proved that it has no room either.
func (c *checker) elsewhere(part string) bool {
	for _, r := range c.rooms {
		if r.Part == part {
			return r.open && !r.Nowhere
		}
	}
	return false
}

func (c *checker) turner(p solid.Part) *turner {
	t := &turner{checker: c, part: p, seen: map[s1.Angle]verdictAt{}, cells: map[s1.Angle]verdictAt{}}
	whole := p
	whole.Solid, whole.More = p.Turning.Round(), nil
	round := newPartThing(whole)
	add := func(b blocker, clear float64, f figure, widest func() float64) {
		// Beyond settled nothing turns it round, however the volume stands.
		if f.settled(0) {
			return
		}
		b.allow = distuv.UnitNormal.Quantile(c.rules.Sure) * math.Max(f.u, widest())
		if clear-b.allow < -reach {
			t.all = append(t.all, b)
		}
	}
	for k := range c.features {
		o := &c.features[k]
		if len(o.pieces) == 0 || aside(p, o.feature.Spec.Name) {
			continue
		}
		best, which, spot := c.nearest(round, o)
		f := c.figure(round, spot, o, o.pieces[which].nodes, best, 0)
		add(blocker{feature: o}, best.Signed, f, func() float64 { return t.widest(o) })
	}
	for k := range c.assembly.Parts {
		other := &c.assembly.Parts[k]
		if other.Kind == solid.KeepOpenPart || (other.Fitting == p.Fitting && other.Fitting >= 0) {
			continue
		}
		n := partDistance(round.Part, other.Solid)
		add(blocker{own: other}, n.Signed, c.own(round.Part, *other, n), func() float64 { return t.widestOwn(*other) })
	}
	return t
}

// looks is at how many clock angles the uncertainty against each thing is looked
// at: at every half hour. It hangs on which marks are the nearest, and changes little.
const looks = 24

// each calls do with the volume every half hour, or where its clock stands.
func (t *turner) each(do func(p placed)) {
	for way := range t.part.Turning.Ways {
		if !t.part.Turning.Any {
			do(t.pose(way, t.part.Turning.Clock))
			continue
		}
		for k := range looks {
			do(t.pose(way, s1.Angle(2*math.Pi*float64(k)/looks)))
		}
	}
}

// widest is the greatest standard uncertainty seen against a feature, over the
// clock, where it can be in the way at all.
func (t *turner) widest(o *obstacle) float64 {
	most := 0.0
	t.each(func(p placed) {
		n, which, spot := t.clear(p, &blocker{feature: o})
		most = math.Max(most, t.figure(p.partThing, spot, o, o.pieces[which].nodes, n, 0).u)
	})
	return most
}

// widestOwn is widest against another part of the box.
func (t *turner) widestOwn(other solid.Part) float64 {
	most := 0.0
	t.each(func(p placed) {
		n, _, _ := t.clear(p, &blocker{own: &other})
		most = math.Max(most, t.own(p.Part, other, n).u)
	})
	return most
}

// settle finds where the volume has room, and puts it where it has most of it.
func (t *turner) settle(r *Room) solid.Part {
	if t.part.Turning.Any {
		r.Sure, r.Free = t.free(surely), t.free(measured)
		r.Clock = t.most(len(r.Sure) > 0)
	}
	at := t.at(r.Clock)
	r.Nowhere = len(r.Free) == 0 && at.margin[measured] < 0 && t.nowhere()
	return t.part.Turned(at.way[surely], r.Clock)
}

// at is the margins at a clock angle. They are kept.
func (t *turner) at(clock s1.Angle) verdictAt {
	if v, ok := t.seen[clock]; ok {
		return v
	}
	best := t.better(clock, math.Inf(-1), func(int) bool { return true })
	t.seen[clock] = best
	return best
}

// better is the margins at a clock angle of the better of some ways round.
func (t *turner) better(clock s1.Angle, floor float64, try func(way int) bool) verdictAt {
	best := verdictAt{margin: [2]float64{math.Inf(-1), math.Inf(-1)}}
	for way := range t.part.Turning.Ways {
		if !try(way) {
			continue
		}
		m := t.margin(t.pose(way, clock), best.margin, floor)
		for k := range m {
			if m[k] > best.margin[k] {
				best.margin[k], best.way[k] = m[k], way
			}
		}
	}
	return best
}

// placed is the volume put one way, and the simple shapes inside it.
type placed struct {
	partThing
	core  solid.Part
	way   int
	clock s1.Angle
}

func (t *turner) pose(way int, clock s1.Angle) placed {
	p := t.part.Turned(way, clock)
	core := p
	shapes := t.part.Turning.Core(way, clock)
	core.Solid, core.More = shapes[0], shapes[1:]
	return placed{newPartThing(p), core, way, clock}
}

// margin is the least of the clearances, both ways; one that is no better than enough
// need not be exact, and an overlap's may be less deep than it is. With both below the
// floor it looks no further. What was in the way last is looked at first.
func (t *turner) margin(p placed, enough [2]float64, floor float64) [2]float64 {
	least := [2]float64{math.Inf(1), math.Inf(1)}
	for i := range t.all {
		b := &t.all[i]
		if off := t.off(p.partThing, b); off-b.allow > least[surely] && off > least[measured] {
			continue
		}
		n, _, _ := t.clear(p, b)
		least[surely] = math.Min(least[surely], n.Signed-b.allow)
		least[measured] = math.Min(least[measured], n.Signed)
		if least[surely] <= enough[surely] && least[measured] <= enough[measured] {
			return least
		}
		if least[measured] < floor {
			first := *b
			copy(t.all[1:], t.all[:i])
			t.all[0] = first
			return least
		}
	}
	return least
}

// off is a cheap lower bound of the clearance from one thing.
func (t *turner) off(p partThing, b *blocker) float64 {
	if b.own != nil {
		return p.span.off(spanOf(b.own.Solid))
	}
	least := math.Inf(1)
	for _, q := range b.feature.pieces {
		least = math.Min(least, p.least(q))
	}
	return least
}

// clear is the clearance from one thing, with the feature's piece. Where a simple shape
// inside the volume overlaps the thing, the answer is that shape's: the volume's
// own is no greater, and takes a hundred times as long.
func (t *turner) clear(p placed, b *blocker) (n shape.Nearest, which, spot int) {
	if b.own != nil {
		if n = t.swung(p, partDistance(p.core, b.own.Solid), b.own.Solid); n.Signed >= 0 {
			n = partDistance(p.Part, b.own.Solid)
		}
		return n, 0, 0
	}
	n, which, spot = t.nearest(newPartThing(p.core), b.feature)
	if n = t.swung(p, n, b.feature.pieces[which].solid); n.Signed >= 0 {
		n, which, spot = t.nearest(p.partThing, b.feature)
	}
	return n, which, spot
}

// swung tries a simple shape of what swings where it comes nearest to a thing: one
// that is thin may stand between the others.
func (t *turner) swung(p placed, n shape.Nearest, q shape.Convex) shape.Nearest {
	for range 3 {
		if n.Signed < 0 || t.part.Turning.Sweep == 0 {
			return n
		}
		n = shape.Distance(t.part.Turning.Toward(p.way, p.clock, n.OnB), q)
	}
	return n
}
