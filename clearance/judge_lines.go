package clearance

import (
	"math"
	"slices"

	"github.com/golang/geo/r3"
	"gonum.org/v1/gonum/stat/distuv"

	"elbowroom/solid"
	"elbowroom/solid/shape"
	"elbowroom/survey"
)

// Held is one line of a box at a stand: a part or a hose against a feature, a
// keep-open volume against another part, or a hose's bends.
type Held struct {
	Part    int // index into the model's Parts; -1: a hose
	Feature int // index into the space's Features; -1: none
	Piece   int // of the feature, that is nearest
	Name    string
	Against string // the feature's or other part's name; "its bends"
	// Pins are the places that decide it, the nearest first; the others, its
	// rivals, are there only when asked for.
	Pins []Pin
	Gap  float64
	// Sure is the line's probability: with its rivals only when asked for.
	Sure float64
	// Short is how many mm more of clearance it needs to reach sure; 0 or less:
	// it does. Where rivals together fall short it is an estimate.
	Short float64
	// By is the index of the pin that Short speaks of.
	By int
	// Follow is how the part, or a hose's fitting, follows the sizes; the body's
	// own faces do not count here.
	Follow r3.Vector
	// Hose is the index of a hose among the rules' hoses, or -1; Bends says that
	// the line is its bends: Clearance is the bend radius and Gap the least one.
	Hose  int
	Bends bool
	d     draft
}

// Pin is a place where a part and a feature come near each other.
type Pin struct {
	Clearance, U      float64
	OnPart, OnFeature r3.Vector // on their surfaces
	// Normal is the unit vector from the part to the feature: the clearance
	// shrinks as the part moves that way. Of a hose it is by how much the
	// figure shrinks as its fitting moves.
	Normal r3.Vector
	Nodes  []int   // of the feature, that make up the place
	Slip   float64 // what an inch misread in a reading that nothing checks takes off it, mm
}

// Marks names the marks that decide a pin of a line, weightiest first.
func (j *Judge) Marks(h Held, k int) []string {
	if h.Feature < 0 {
		return nil
	}
	f := &j.c.space.Features[h.Feature]
	shares := make([]float64, len(h.Pins[k].Nodes))
	for i := range shares {
		shares[i] = 1
	}
	return j.c.names(f, h.Pins[k].Nodes, shares)
}

// Lines answers for the box at a stand. Motions, the way in, hoses without a measured
// run, and volumes that may stand in more than one way are left to Check. all also looks for the rivals of every
// line and gives its probability with them; else each line is judged by its
// nearest place alone, without its uncertainty where it is short of its gap anyway,
// and one that is far beyond its gap is left out. slips
// asks that each line also withstands an inch misread in any reading that
// nothing checks. Where a part falls short, hoses are asked for their bends alone.
func (j *Judge) Lines(s Stand, all, slips bool) []Held {
	j.rivals = rivalReach
	return j.lines(s, all, slips, nil)
}

// LinesBut is Lines by their nearest places alone, without those that reach sure in any
// case, and those of parts and features, by their indices, that are known to.
func (j *Judge) LinesBut(s Stand, slips bool, far func(part, feature int) bool) []Held {
	j.rivals = 0
	return j.lines(s, false, slips, far)
}

func (j *Judge) lines(s Stand, all, slips bool, far func(part, feature int) bool) []Held {
	j.place(s)
	c := j.c
	var out []Held
	for i := range c.assembly.Parts {
		part := c.assembly.Parts[i]
		if part.Turning != nil {
			continue // it may stand another way: left to Check
		}
		t := newPartThing(part)
		for k := range c.features {
			o := &c.features[k]
			if len(o.pieces) == 0 || far != nil && far(i, j.feature(o)) || aside(part, o.feature.Spec.Name) || c.meant(part, o) {
				continue
			}
			if h, near := j.hold(t, o, all, slips); near {
				h.Part, h.Name, h.Follow = i, part.Name, part.Follow
				out = append(out, h)
			}
		}
		if part.Kind == solid.KeepOpenPart {
			for _, d := range c.amongParts(part) {
				h := Held{Part: i, Feature: -1, Hose: -1, Name: part.Name, Against: d.line.Feature, Follow: part.Follow, d: d}
				n := c.pose.turnIn(d.line.Toward)
				h.Pins = []Pin{{Clearance: d.main.value, U: d.main.u, OnPart: c.pose.local(d.line.OnPart), OnFeature: c.pose.local(d.line.OnFeature), Normal: n}}
				out = append(out, h)
			}
		}
	}
	j.judge(out)
	parts := len(out)
	worst := 0.0
	for _, h := range out {
		worst = math.Max(worst, h.Short)
	}
	out = append(out, j.hoses(all, slips, worst > reach)...)
	j.judge(out[parts:])
	if all && !j.quick {
		j.together(out)
	}
	return out
}

// hold drafts one line; near is false where nothing can undo it.
func (j *Judge) hold(t thing, o *obstacle, all, slips bool) (h Held, near bool) {
	c := j.c
	gap, _ := t.asks(c, o.gap)
	enough := gap + j.far(o, slips)
	if p, ok := t.(partThing); ok {
		if p.span.off(j.spans[o.feature]) > enough || leastAll(p, o) > enough {
			return h, false
		}
	} else if leastAll(t, o) > enough {
		return h, false
	}
	best, which, spot := c.nearest(t, o)
	p := o.pieces[which]
	ids, shares := mix(p.nodes, best.MixB)
	h = Held{Part: -1, Hose: -1, Feature: j.feature(o), Piece: which, Name: t.label(), Against: o.feature.Spec.Name, Gap: gap}
	if !all && best.Signed < gap-2*reach {
		h.d.main = figure{value: best.Signed} // it falls short whatever its uncertainty
	} else {
		h.d.main = c.figure(t, spot, o, p.nodes, best, gap)
	}
	h.d.line.Gap = gap
	h.d.line.Clearance = best.Signed
	h.Pins = append(h.Pins, j.pin(h.d.main, best, ids, shares))
	if run, ok := t.(*hoseThing); ok {
		h.Pins[0].Normal = best.Normal.Mul(run.start(spot, best.OnA))
	}
	if all {
		c.findRivals(&h.d, t, o, which, best)
		for k, r := range h.d.where {
			ids, shares := mix(r.nodes, r.nearest.MixB)
			h.Pins = append(h.Pins, j.pin(h.d.rivals[k], r.nearest, ids, shares))
		}
	}
	if slips {
		for k := range h.Pins {
			h.Pins[k].Slip = j.slip(h.figure(k))
		}
	}
	return h, true
}

func leastAll(t thing, o *obstacle) float64 {
	least := math.Inf(1)
	for i := range o.pieces {
		least = math.Min(least, t.least(o.pieces[i]))
	}
	return least
}

func (h *Held) figure(k int) figure {
	if k == 0 {
		return h.d.main
	}
	return h.d.rivals[k-1]
}

func (j *Judge) pin(f figure, n shape.Nearest, ids []int, shares []float64) Pin {
	nodes := ids[:0:0]
	for k, id := range ids {
		if shares[k] > 1e-3 { // as in names
			nodes = append(nodes, id)
		}
	}
	return Pin{Clearance: f.value, U: f.u, OnPart: n.OnA, OnFeature: n.OnB, Normal: n.Normal, Nodes: nodes}
}

func (j *Judge) feature(o *obstacle) int { return j.index[o.feature] }

// far is how far beyond its gap a line is out of all doubt: as many standard
// uncertainties as rivals reach, where they count, beyond what sure asks for, of the
// greatest that there can be; with slips also what an inch can do.
func (j *Judge) far(o *obstacle, slips bool) float64 {
	far := (j.rivals + j.sureK) * j.most[o.feature]
	if slips {
		far += 1.5 * aSlip
	}
	return far
}

// MostU bounds the standard uncertainty of a line against a feature, mm, for places no
// farther than a metre from the datum.
func (j *Judge) MostU(feature int) float64 { return j.most[&j.c.space.Features[feature]] }

// mostU bounds the standard uncertainty of a line against a feature.
func (j *Judge) mostU(f *survey.Feature) float64 {
	c := j.c
	t := j.model.Tank
	u := math.Sqrt(3) * (rectangular(t.Within) + rectangular(t.Place.Within))
	fit := 0.0
	for _, f := range t.Fittings {
		fit = math.Max(fit, 2*rectangular(f.Within))
	}
	u += fit
	most := 0.0
	for _, n := range f.Nodes {
		most = math.Max(most, c.space.Uncertainty(n.Mark))
	}
	u += math.Sqrt(3) * most
	for k, lever := range [3]float64{1, 1000, 1000} { // a metre from the datum
		u += lever * math.Sqrt(survey.Dot(c.ways[k], c.ways[k]))
	}
	return u
}

// slip is the most that an inch misread in one reading that nothing checks
// takes off a figure.
func (j *Judge) slip(f figure) float64 {
	most := 0.0
	for _, s := range j.c.slipsOf(f, nil) {
		most = math.Max(most, s.by*aSlip)
	}
	return most
}

// judge gives each line its probability and says how much it is short.
func (j *Judge) judge(lines []Held) {
	k := j.sureK
	for i := range lines {
		h := &lines[i]
		h.Sure = h.d.main.probability(h.Gap)
		h.Short = math.Inf(-1)
		for n, p := range h.Pins {
			need := k * p.U
			if p.Slip > 0 { // of one reading: it is asked of the line alone
				need = math.Max(need, j.alone*p.U+p.Slip)
			}
			if h.Bends && !j.bent { // they must not be surely short
				need = -k*p.U + reach
			}
			if short := h.Gap + need - p.Clearance; short > h.Short {
				h.Short, h.By = short, n
			}
		}
		if h.Short <= reach {
			h.Short = math.Min(0, h.Short)
		}
	}
}

// together judges the lines with their rivals, all drawn in one go as Check does
// it, unless one falls short already or the sum of the risks proves them all.
func (j *Judge) together(lines []Held) {
	proved := true
	for i := range lines {
		h := &lines[i]
		if h.Short > 0 {
			return
		}
		risk := 1 - h.Sure + chance(h.d.rivals, h.Gap) + chance(h.d.rest, h.Gap)
		// The draws' own noise can show a line that is this near as short.
		proved = proved && risk < (1-j.c.rules.Sure)/2
	}
	if proved {
		return
	}
	drafts := make([]draft, len(lines))
	for i := range lines {
		drafts[i] = lines[i].d
	}
	j.c.judge(drafts)
	for i := range lines {
		h := &lines[i]
		if h.Bends {
			continue
		}
		if h.Sure = drafts[i].line.Sure; h.Sure < j.c.rules.Sure {
			p := math.Max(h.Sure, 1e-6)
			h.Short = math.Max(10*reach, (j.sureK-distuv.UnitNormal.Quantile(p))*h.Pins[h.By].U)
		}
	}
}

// Retaken is what the uncertainty of a line's first pin would be with the marks
// that decide it taken to within limit, mm.
func (j *Judge) Retaken(h Held, limit float64) float64 {
	f := h.figure(0)
	v := f.u * f.u
	for _, s := range j.c.shares(f) {
		if s.Of == "" && s.Limit > limit {
			v += sq(s.factor*rectangular(limit)) - s.U*s.U
		}
	}
	return math.Min(f.u, math.Sqrt(math.Max(0, v)))
}

// Bent is the judge that asks sure of the hoses' bends too, not only that they are
// not surely short. It shares the judge's scratch space.
func (j *Judge) Bent() *Judge {
	s := *j
	s.bent = true
	return &s
}

// Strict is the judge with another sure, though not for an inch misread, and with some features' gaps less by so
// much, mm. It shares the judge's scratch space.
func (j *Judge) Strict(sure float64, less map[string]float64) *Judge {
	c := *j.c
	s := *j
	s.c = &c
	c.rules.Sure = sure
	s.sureK = distuv.UnitNormal.Quantile(sure)
	if len(less) > 0 {
		c.features = slices.Clone(c.features)
		for i := range c.features {
			o := &c.features[i]
			o.gap.Gap -= less[o.feature.Spec.Name]
		}
	}
	return &s
}

// Quick is the judge without the draws of a line's rivals together: each alone
// must reach sure. It shares the judge's scratch space.
func (j *Judge) Quick() *Judge {
	s := *j
	s.quick = true
	return &s
}

// Sure is how sure a line must be.
func (j *Judge) Sure() float64 { return j.c.rules.Sure }
