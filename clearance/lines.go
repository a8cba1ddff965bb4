package clearance

import (
	"cmp"
	"slices"
	"sort"

	"github.com/golang/geo/r3"

	"elbowroom/solid"
	"elbowroom/solid/shape"
	"elbowroom/survey"
)

// draft is a line before its verdict: its clearance and the rivals that could
// be the nearer one.
type draft struct {
	line   Line
	main   figure
	rivals []figure
	// rest are rivals too many to draw: their values and a bound of their
	// spreads, without terms.
	rest []figure
	// sureAtMost is the line's probability without the rest: to say that it is
	// surely short takes this one.
	sureAtMost float64
	// where are the places of the main figure's rivals, one for each of rivals.
	where []rival
	// missing says that marks of the feature have no place yet, so that it may
	// come nearer than what is drawn of it.
	missing bool
	// over is by how much the value found is over main's, which is what is proven of a
	// motion; 0 at rest and in nearly all motions.
	over float64
	// crowded says that it is of a hose for which no run was found that clears: what is
	// short for this run need not be for another.
	crowded bool
}

// lines answers for every side of the body, and drafts every part against
// every feature, and every keep-open volume against the box's other parts. Sides
// and parts are shared out among workers; the result does not depend on how.
func (c *checker) lines(sides []solid.Side) ([]SideLine, []draft, []Contact) {
	parts := c.assembly.Parts
	lines := make([]SideLine, len(sides))
	drafts := make([][]draft, len(parts))
	meant := make([][]Contact, len(parts))
	inParallel(len(sides)+len(parts), func() func(int) {
		w := c.worker()
		return func(i int) {
			if i < len(sides) {
				lines[i] = w.side(sides[i])
			} else {
				drafts[i-len(sides)], meant[i-len(sides)] = w.linesOf(i - len(sides))
			}
		}
	})
	return lines, slices.Concat(drafts...), slices.Concat(meant...)
}

// linesOf drafts the lines of one part.
func (c *checker) linesOf(i int) (drafts []draft, meant []Contact) {
	drafts, meant = c.againstFeatures(i)
	if c.assembly.Parts[i].Kind == solid.KeepOpenPart {
		drafts = append(drafts, c.amongParts(c.readied(i))...)
	}
	return drafts, meant
}

// againstFeatures drafts one part against every feature.
func (c *checker) againstFeatures(i int) (drafts []draft, meant []Contact) {
	part := c.assembly.Parts[i]
	thing := newPartThing(c.readied(i))
	thing.corners = cornersOf(part)
	for k := range c.features {
		o := &c.features[k]
		switch {
		case len(o.pieces) == 0 || aside(part, o.feature.Spec.Name):
		case c.meant(part, o):
			meant = append(meant, Contact{part.Name, o.feature.Spec.Name})
		default:
			drafts = append(drafts, c.against(thing, o))
			if part.Kind != solid.KeepOpenPart {
				drafts = append(drafts, c.inMotions(thing, o)...)
			}
		}
	}
	return drafts, meant
}

func aside(part solid.Part, feature string) bool {
	for _, name := range part.Aside {
		if name == feature {
			return true
		}
	}
	return false
}

// meant says whether a part touches a feature on purpose: the back of the body
// and of a bracket against the face that they are bolted to.
func (c *checker) meant(part solid.Part, o *obstacle) bool {
	if !o.feature.Spec.Mount || (part.Kind != solid.Body && part.Kind != solid.BracketPart) {
		return false
	}
	off := c.assembly.Tank.Place.StandOff
	if part.Kind == solid.Body {
		return off == 0
	}
	back := part.Solid.Support(r3.Vector{Z: -1}).Z - c.origin.Z
	return back >= -off-reach && back <= -off+reach
}

// against drafts the line of a thing against a feature.
func (c *checker) against(t thing, o *obstacle) draft {
	d, which, best := c.first(t, o)
	c.findRivals(&d, t, o, which, best)
	return d
}

// first drafts the line without its rivals, and says on which piece its witness is.
func (c *checker) first(t thing, o *obstacle) (d draft, which int, best shape.Nearest) {
	best, which, spot := c.nearest(t, o)
	p := o.pieces[which]
	gap, name := t.asks(c, o.gap)
	d = draft{main: c.figure(t, spot, o, p.nodes, best, gap), missing: len(o.feature.Missing) > 0}
	ids, shares := mix(p.nodes, best.MixB)
	d.line = Line{
		Part: t.label(), Feature: o.feature.Spec.Name, When: "at rest",
		Clearance: best.Signed, U: d.main.u,
		OnPart: c.pose.world(best.OnA), OnFeature: c.pose.world(best.OnB), Toward: c.pose.turnOut(best.Normal),
		Marks: c.names(o.feature, ids, shares), AtLeast: best.Signed < 0,
	}
	d.line.Gap, d.line.GapName = gap, name
	return d, which, best
}

// bound is a cheap lower bound of a thing's distance to a piece.
type bound struct {
	piece int
	least float64
}

func (b bound) compare(o bound) int {
	if b.least != o.least {
		return cmp.Compare(b.least, o.least)
	}
	return b.piece - o.piece
}

// nearest finds the piece with the least clearance: pieces by a cheap lower
// bound first, until the bound is beyond the best.
func (c *checker) nearest(t thing, o *obstacle) (best shape.Nearest, which, spot int) {
	bounds := c.bounds[:0]
	for i, p := range o.pieces {
		bounds = append(bounds, bound{i, t.least(p)})
	}
	c.bounds = bounds
	first := slices.MinFunc(bounds, bound.compare)
	best, spot = t.distance(o.pieces[first.piece].solid)
	which = first.piece
	if part, ok := t.(partThing); ok && len(bounds) > 1 {
		part.tighten(o, bounds, best)
	}
	bounds = slices.DeleteFunc(bounds, func(b bound) bool { return b.least > best.Signed || b.piece == first.piece })
	slices.SortFunc(bounds, bound.compare)
	for _, b := range bounds {
		if b.least > best.Signed {
			break
		}
		if n, at := t.distance(o.pieces[b.piece].solid); n.Signed < best.Signed {
			best, which, spot = n, b.piece, at
		}
	}
	return best, which, spot
}

// names lists the marks behind nodes, weightiest first; of a fitted plane, its
// corners nearest the witness stand for it.
func (c *checker) names(f *survey.Feature, ids []int, shares []float64) []string {
	order := make([]int, len(ids))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(i, j int) bool { return shares[order[i]] > shares[order[j]] })
	var names []string
	seen := map[int]bool{}
	for _, i := range order {
		m := f.Nodes[ids[i]].Mark
		// A share under a thousandth moves a clearance by less than the rounding of any print.
		if shares[i] < 1e-3 || seen[m] {
			continue
		}
		seen[m] = true
		names = append(names, c.space.Marks[m].Name)
	}
	return names
}

// amongParts drafts a keep-open volume against the parts of the box that are
// not its own fitting.
func (c *checker) amongParts(room solid.Part) []draft {
	var drafts []draft
	for _, other := range c.assembly.Parts {
		if !keptOpen(room, other) {
			continue
		}
		drafts = append(drafts, c.between(room, other))
	}
	return drafts
}

// keptOpen says whether a keep-open volume is held against another part: not
// against those of its own fitting, nor against room for another hand.
func keptOpen(room, other solid.Part) bool {
	return other.Kind != solid.KeepOpenPart && (other.Fitting != room.Fitting || other.Fitting < 0)
}

// between drafts a keep-open volume against another part of the box.
func (c *checker) between(room, other solid.Part) draft {
	n := partDistance(room, other.Solid)
	d := draft{main: c.own(room, other, n)}
	d.line = Line{
		Part: room.Name, Feature: other.Name, When: "at rest", Own: true,
		Clearance: n.Signed, U: d.main.u,
		OnPart: c.pose.world(n.OnA), OnFeature: c.pose.world(n.OnB), Toward: c.pose.turnOut(n.Normal),
		AtLeast: n.Signed < 0,
	}
	return d
}
