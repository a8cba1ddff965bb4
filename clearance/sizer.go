package clearance

import (
	"encoding/binary"
	"errors"
	"math"
	"slices"

	"github.com/golang/geo/r3"

	"elbowroom/solid"
	"elbowroom/solid/shape"
	"elbowroom/survey"
)

// sizer checks one candidate after another and keeps what does not change from
// one to the next. Each goroutine has its own; what it says does not depend on
// what it was asked before.
type sizer struct {
	space     *survey.Space
	tank      solid.Tank
	light     solid.Tank // the tank as size builds it, see lightened
	rules     Rules
	units     units
	stood     map[pose]*stood
	unchecked []Unchecked
	measured  []HoseSpec // those with a run of their own
	lasting   []NotHeld
	drawn     map[string][]odds // see draw
	key       []byte            // scratch
}

// stood is all that stays as it is while the box stands in one pose: the space
// in the box's frame, and the lines of every part that is the same at several sizes.
type stood struct {
	c      *checker
	lines  map[string][]*graded
	pairs  map[string][]*graded // of two parts, or of a hose and a part
	hoses  map[string]*hoseLines
	sides  map[window]bool // whether a side clears
	nodes  map[int]float64 // see nodesMost
	drafts []*graded       // scratch
	room   room            // of the body's lines
}

type hoseLines struct {
	hoses []Hose
	key   string
	lines []*graded
	laid  []*hoseThing
}

// mostKept is how many poses, and how many parts of a pose, are kept: enough for
// the sizes that a run goes back and forth between, and some megabytes.
const mostKept = 512

// mostPairs is how many pairs of parts are kept: there are more of these, and each has
// one line.
const mostPairs = 4096

func newSizer(s *survey.Space, t solid.Tank, r Rules) *sizer {
	z := &sizer{space: s, tank: t, light: lightened(t), rules: r, units: units{}, stood: map[pose]*stood{}, drawn: map[string][]odds{}}
	c := newChecker(s, &solid.Assembly{Tank: t}, r)
	z.unchecked = c.unchecks()
	for _, h := range r.Hoses {
		if h.Along != "" {
			z.measured = append(z.measured, h)
		}
	}
	z.lasting = c.long()
	return z
}

// built is the assembly of a candidate, or why there is none.
func built(tank solid.Tank, k Candidate) (*solid.Assembly, *solid.Problem) {
	t := tank.Resized(k.Size)
	t.Place.At = k.At
	a, err := solid.Build(t)
	var wrong solid.Problems
	if errors.As(err, &wrong) {
		return nil, &wrong[0]
	}
	return a, nil
}

// stand finds or makes what is kept of an assembly's pose.
func (z *sizer) stand(a *solid.Assembly) *stood {
	p := stand(z.space, a.Tank)
	st, ok := z.stood[p]
	if !ok {
		if len(z.stood) >= mostKept {
			clear(z.stood)
		}
		c := newChecker(z.space, a, z.rules)
		c.units = z.units
		for k := range c.features {
			c.makeSingles(&c.features[k])
		}
		st = &stood{c: c, lines: map[string][]*graded{}, pairs: map[string][]*graded{}, hoses: map[string]*hoseLines{}, sides: map[window]bool{}, nodes: map[int]float64{}}
		z.stood[p] = st
	}
	st.c.assembly, st.c.making.tank = a, a.Tank
	return st
}

// size checks a candidate.
func (z *sizer) size(k Candidate) Sized {
	out := Sized{Candidate: k}
	a, wrong := built(z.light, k)
	if wrong != nil {
		out.NoBox = wrong
		return out
	}
	out.CapacityL = a.Holding.CapacityL
	st := z.stand(a)
	st.c.assembly = withoutTurning(a)
	hoses := z.draft(st)
	st.finish(z.mildest(st, hoses))
	out.narrowest(st.drafts)
	out.Left = len(z.long()) > 0
	z.judge(st, hoses, &out)
	out.Left = out.Left && out.Verdict != Fouls // nothing is worse
	out.Open = out.Open || out.Left
	return out
}

// narrowest finds the lines with the least clearance and the least to spare.
func (o *Sized) narrowest(lines []*graded) {
	for i, g := range lines {
		o.narrow(&g.draft.line, i == 0)
	}
	o.Lines = len(lines) > 0
}

func (o *Sized) narrow(l *Line, first bool) {
	if first || l.Clearance < o.Least.Clearance {
		o.Least = Narrow{l.Part, l.Feature, l.Clearance, l.Gap}
	}
	if first || l.Clearance-l.Gap < o.Spare.Spare() {
		o.Spare = Narrow{l.Part, l.Feature, l.Clearance, l.Gap}
	}
}

// draft drafts all lines of the assembly, in the order in which Check has them.
// Those of the body, which are others at every size, are left without rivals, or
// where another part surely fouls without all but the clearance: see finish.
func (z *sizer) draft(st *stood) []Hose {
	c := st.c
	st.drafts = st.drafts[:0]
	parts := c.assembly.Parts
	st.drafts = append(st.drafts, make([]*graded, len(c.features))...) // the body's, see below
	for i := range parts {
		if parts[i].Kind != solid.Body {
			z.part(st, i)
		}
	}
	h := z.hoses(st)
	st.drafts = append(st.drafts, h.lines...)
	z.hosesAgainstParts(st, h)
	others := st.drafts[len(c.features):]
	bare := slices.ContainsFunc(others, func(g *graded) bool { return g.best == Fouls })
	st.body(parts[0], bare, st.drafts[:len(c.features)])
	st.drafts = slices.DeleteFunc(st.drafts, func(g *graded) bool { return g == nil })
	return h.hoses
}

// hosesAgainstParts drafts the hoses against the parts, or finds it.
func (z *sizer) hosesAgainstParts(st *stood, h *hoseLines) {
	for _, laid := range h.laid {
		for _, p := range st.c.assembly.Parts {
			if p.Fitting >= 0 && p.Fitting == laid.fitting {
				continue
			}
			key := z.partKey(p)
			if key != "" {
				key = laid.spec.Name + "\x00" + h.key + key
			}
			st.addPair(key, func() []draft { return st.c.hoseAgainstPart(laid, p) })
		}
	}
}

// part drafts the lines of a part, or finds them.
func (z *sizer) part(st *stood, i int) {
	c := st.c
	p := c.assembly.Parts[i]
	key := z.partKey(p)
	st.add(key, func() (drafts []draft) {
		drafts, _ = c.againstFeatures(i)
		return drafts
	})
	if p.Kind != solid.KeepOpenPart {
		return
	}
	p = prepared(p)
	for _, other := range c.assembly.Parts {
		if !keptOpen(p, other) {
			continue
		}
		both := ""
		if of := z.partKey(other); key != "" && of != "" {
			both = key + of
		}
		st.addPair(both, func() []draft { return []draft{c.between(p, other)} })
	}
}

// body drafts the lines of the body without their rivals; of a bare one there is
// the clearance alone, and any verdict is possible.
func (st *stood) body(p solid.Part, bare bool, into []*graded) {
	st.room.empty()
	t := newPartThing(p)
	t.corners = cornersOf(p)
	for k := range st.c.features {
		o := &st.c.features[k]
		if len(o.pieces) == 0 || st.c.meant(p, o) {
			continue
		}
		g := &graded{thing: t, o: o, feature: k, bare: bare}
		if bare {
			n, _, _ := st.c.nearest(t, o)
			gap, _ := t.asks(st.c, o.gap)
			g.line = Line{Part: p.Name, Feature: o.feature.Spec.Name, Clearance: n.Signed, Gap: gap}
			g.sure, g.best, g.worst = chances{0, 1}, Clears, Fouls
		} else {
			st.first(g)
		}
		into[k] = g
	}
}

// first drafts a line of the body without its rivals.
func (st *stood) first(g *graded) {
	st.c.sum.room = &st.room
	g.draft, g.which, g.nearest = st.c.first(g.thing, g.o)
	st.c.sum.room = nil
	g.unfound = st.unfound(st.c.assembly.Parts[0], g.feature, g.main.value)
	g.bare = false
	g.grade(st.c.rules)
}

// finish finds the rivals of the lines that have none yet, where they can change
// a verdict that is known to be no milder than this. Where all may still clear,
// any line can.
func (st *stood) finish(mildest Verdict) {
	for _, g := range st.drafts {
		if g.o == nil || g.plain || (mildest != Clears && severity(g.worst) <= severity(mildest)) {
			continue
		}
		if g.bare {
			st.first(g)
		}
		// Rivals that cannot be risky together count for nothing but slips, see hangs.
		if g.plain = g.unfound.risk(g.line.Gap) <= risky; !g.plain {
			st.rivals(g)
		}
		g.grade(st.c.rules)
	}
}

// rivals finds the rivals of a line of the body.
func (st *stood) rivals(g *graded) {
	st.c.sum.room = &st.room
	st.c.findRivals(&g.draft, g.thing, g.o, g.which, g.nearest)
	st.c.sum.room = nil
	g.o, g.plain = nil, false
}

// mildest is the least severe verdict that is still open.
func (z *sizer) mildest(st *stood, hoses []Hose) Verdict {
	v := Clears
	for _, g := range st.drafts {
		v = worseOf(v, g.best)
	}
	for _, h := range hoses {
		v = worseOf(v, h.Verdict)
	}
	if len(z.unchecked) > 0 {
		v = worseOf(v, Unproven)
	}
	return v
}

// add adds the lines that are kept under a key, or makes them. Under a blank key
// nothing is kept.
func (st *stood) add(key string, make func() []draft) { st.addTo(st.lines, mostKept, key, make) }

// addPair is add for two parts, or a hose and a part.
func (st *stood) addPair(key string, make func() []draft) { st.addTo(st.pairs, mostPairs, key, make) }

func (st *stood) addTo(kept map[string][]*graded, most int, key string, make func() []draft) {
	lines, ok := kept[key]
	if !ok {
		lines = gradedOf(st.c, make())
		if key != "" {
			if len(kept) >= most {
				clear(kept)
			}
			kept[key] = lines
		}
	}
	st.drafts = append(st.drafts, lines...)
}

func gradedOf(c *checker, drafts []draft) []*graded {
	out := make([]*graded, len(drafts))
	for i := range drafts {
		out[i] = &graded{draft: drafts[i]}
		out[i].grade(c.rules)
	}
	return out
}

// hoses drafts the hoses that have a run of their own, without the box's parts: they
// change only as the ports do that they leave from.
func (z *sizer) hoses(st *stood) *hoseLines {
	if len(z.measured) == 0 {
		return &hoseLines{}
	}
	z.key = z.key[:0]
	for i, p := range st.c.assembly.Ports {
		name := st.c.assembly.Tank.Fittings[i].Name
		if slices.ContainsFunc(z.measured, func(h HoseSpec) bool { return h.From == name }) {
			z.write(p.At, p.Axis, p.Follow)
		}
	}
	if h, ok := st.hoses[string(z.key)]; ok {
		return h
	}
	if len(st.hoses) >= mostKept {
		clear(st.hoses)
	}
	alone := *st.c
	whole := *st.c.assembly
	whole.Parts = nil
	alone.assembly, alone.rules.Hoses = &whole, z.measured
	hoses, drafts, _ := alone.hoses()
	alone.judgeHoses(hoses)
	h := &hoseLines{key: string(z.key), hoses: hoses, lines: gradedOf(st.c, drafts)}
	for _, spec := range z.measured {
		if laid, ok := alone.hose(spec); ok {
			h.laid = append(h.laid, laid)
		}
	}
	st.hoses[string(z.key)] = h
	return h
}

// partKey is the same for two parts that have the same lines in one pose, and
// blank for the body, which is another at every size, and for a shape that is not
// known here. The part's name stands for all that does not change with the size.
func (z *sizer) partKey(p solid.Part) string {
	if p.Kind == solid.Body || len(p.More) > 0 || p.Turning != nil {
		return ""
	}
	z.key = append(append(z.key[:0], p.Name...), 0)
	switch s := p.Solid.(type) {
	case shape.Box:
		z.write(s.Corner, s.Edges[0], s.Edges[1], s.Edges[2])
	case shape.Cylinder:
		z.write(s.Foot, s.Axis, r3.Vector{X: s.Across})
	default:
		return ""
	}
	z.write(p.Follow)
	return string(z.key)
}

func (z *sizer) write(places ...r3.Vector) {
	for _, v := range places {
		for _, x := range [3]float64{v.X, v.Y, v.Z} {
			z.key = binary.LittleEndian.AppendUint64(z.key, math.Float64bits(x))
		}
	}
}
