package clearance

import (
	"math"
	"slices"

	"github.com/golang/geo/r3"
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
	order []bound                // scratch of margin
	looks []placed               // see each
}

// blocker is a feature or a part of the box, with what to take off the
// clearance so that what is left at 0 is sure enough.
type blocker struct {
	feature *obstacle
	own     *solid.Part
	allow   float64
	walls   [][]wall    // of the feature
	last    []r3.Vector // where it was nearest, for each way round: see apart
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
	add := func(b blocker, clear float64, f figure) {
		// Beyond settled nothing turns it round, however the volume stands.
		if f.settled(0) {
			return
		}
		b.allow = distuv.UnitNormal.Quantile(c.rules.Sure) * math.Max(f.u, t.widest(&b))
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
		add(blocker{feature: o, walls: o.walls(), last: make([]r3.Vector, len(p.Turning.Ways))}, best.Signed, f)
	}
	for k := range c.assembly.Parts {
		other := &c.assembly.Parts[k]
		if other.Kind == solid.KeepOpenPart || (other.Fitting == p.Fitting && other.Fitting >= 0) {
			continue
		}
		n := partDistance(round.Part, other.Solid)
		add(blocker{own: other, last: make([]r3.Vector, len(p.Turning.Ways))}, n.Signed, c.own(round.Part, *other, n))
	}
	return t
}

// looks is at how many clock angles the uncertainty against each thing is looked
// at: at every half hour. It hangs on which marks are the nearest, and changes little.
const looks = 24

// each calls do with the volume every half hour, or where its clock stands.
func (t *turner) each(do func(p placed)) {
	if t.looks == nil {
		for way := range t.part.Turning.Ways {
			if !t.part.Turning.Any {
				t.looks = append(t.looks, t.pose(way, t.part.Turning.Clock))
				continue
			}
			for k := range looks {
				t.looks = append(t.looks, t.pose(way, s1.Angle(2*math.Pi*float64(k)/looks)))
			}
		}
	}
	for _, p := range t.looks {
		do(p)
	}
}

// widest is the greatest standard uncertainty seen against a thing, over the clock, where
// it can be in the way at all.
func (t *turner) widest(b *blocker) float64 {
	most := 0.0
	t.each(func(p placed) {
		n, which, spot := t.clear(p, b)
		if b.own != nil {
			most = math.Max(most, t.ownSpread(p.Part, *b.own, n))
			return
		}
		// At a gap that anything keeps, it takes down no terms.
		f := t.figure(p.partThing, spot, b.feature, b.feature.pieces[which].nodes, n, math.Inf(-1))
		most = math.Max(most, f.u)
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

// placed is the volume put one way.
type placed struct {
	partThing
	way   int
	clock s1.Angle
}

func (t *turner) pose(way int, clock s1.Angle) placed {
	return placed{newPartThing(t.part.Turned(way, clock)), way, clock}
}

// core is the simple shapes inside the volume.
func (t *turner) core(p placed) solid.Part {
	core := p.Part
	shapes := t.part.Turning.Core(p.way, p.clock)
	core.Solid, core.More = shapes[0], shapes[1:]
	return core
}

// margin is the least of the clearances, both ways; one that is no better than enough
// need not be exact, and an overlap's may be less deep than it is. With both below the
// floor it looks no further. What is nearest by a bound is looked at first; of those that
// are alike, what was in the way last.
func (t *turner) margin(p placed, enough [2]float64, floor float64) [2]float64 {
	least := [2]float64{math.Inf(1), math.Inf(1)}
	t.line(p)
	for _, next := range t.order {
		b := &t.all[next.piece]
		if off := next.least; off-b.allow > least[surely] && off > least[measured] {
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
			copy(t.all[1:], t.all[:next.piece])
			t.all[0] = first
			return least
		}
	}
	return least
}

// line puts in order what can be in the way, by how near it can be.
func (t *turner) line(p placed) {
	t.order = t.order[:0]
	for i := range t.all {
		b := &t.all[i]
		t.order = append(t.order, bound{i, math.Max(t.off(p.partThing, b), b.apart(&p))})
	}
	slices.SortFunc(t.order, bound.compare)
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
	defer func() { b.keep(p.way, n) }()
	whole := t.part.Turning.Sweep == 0 || b.apart(&p) > 0 // itself simple, or surely clear
	if b.own != nil {
		if !whole {
			n = t.swung(p, partDistance(t.core(p), b.own.Solid), b.own.Solid)
		}
		if whole || n.Signed >= 0 {
			n = partDistance(p.Part, b.own.Solid)
		}
		return n, 0, 0
	}
	if !whole {
		n, which, spot = t.nearest(newPartThing(t.core(p)), b.feature)
		n = t.swung(p, n, b.feature.pieces[which].solid)
	}
	if whole || n.Signed >= 0 {
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
