package largest

import (
	"math"

	"elbowroom/clearance"
	"elbowroom/solid"
)

// places are all places of features that parts keep off, in a frame.
type places struct {
	keeps  []keep
	marks  []mark
	chunks []chunk
}

// keep is a part that keeps off a feature.
type keep struct {
	core        core
	held        clearance.Held // its part, feature and gap
	least, most float64        // between what it needs from any mark of the feature
	far         float64        // of the feature's marks and the room from the datum, along the face
}

// mark is a mark of a feature that a part keeps off.
type mark struct {
	at   [3]float64
	keep int // of the places'
	node int // of the feature's
}

// chunk is a piece of a feature that a part keeps off, of more than one node or with
// more behind it.
type chunk struct {
	keep   int // of the places'
	piece  int // of the feature's
	nodes  []vec
	behind vec
	span   hull
}

// placesOf lists the places of a frame. Parts that lean, or turn, and the face that the
// body is on are left to the judge.
func (s *search) placesOf(f *frame) *places {
	if f.places != nil {
		return f.places
	}
	model := f.judge.Model()
	f.places = &places{}
	for i, part := range model.Parts {
		if part.Turning != nil || len(part.More) > 0 {
			continue
		}
		c := coreOf(part, model.Tank, vec{})
		if c.leans {
			continue
		}
		for k := range s.task.space.Features {
			onIt := s.task.space.Features[k].Spec.Mount && (part.Kind == solid.Body || part.Kind == solid.BracketPart)
			if len(f.nodes[k]) == 0 || onIt || f.judge.Meant(i, k) {
				continue
			}
			h := clearance.Held{Part: i, Feature: k, Gap: f.gap[k]}
			if part.Kind == solid.KeepOpenPart {
				h.Gap = 0
			}
			s.listed(f, c, h)
		}
	}
	return f.places
}

// listed adds the places of a feature that a part keeps off.
func (s *search) listed(f *frame, c core, h clearance.Held) {
	p, at := f.places, f.nodes[h.Feature]
	d := s.needOf(f, h)
	k := keep{core: c, held: h, least: d.any(), most: d.base + f.k*f.judge.MostU(h.Feature)}
	for _, r := range s.room[:2] {
		k.far = math.Hypot(k.far, max(math.Abs(r.From), math.Abs(r.To)))
	}
	for node, x := range at {
		k.far = max(k.far, math.Hypot(x.X, x.Y))
		p.marks = append(p.marks, mark{at: components(x), keep: len(p.keeps), node: node})
	}
	behind := f.judge.Behind(h.Feature)
	for i, piece := range s.task.space.Features[h.Feature].Pieces {
		if len(piece.Nodes) > 1 || behind != (vec{}) {
			p.chunks = append(p.chunks, chunkOf(at, piece.Nodes, behind, len(p.keeps), i))
		}
	}
	p.keeps = append(p.keeps, k)
}

func chunkOf(at []vec, nodes []int, behind vec, keep, piece int) chunk {
	l := chunk{keep: keep, piece: piece, behind: behind}
	for a := range 3 {
		l.span.low[a], l.span.high[a] = math.Inf(1), math.Inf(-1)
	}
	for _, n := range nodes {
		l.nodes = append(l.nodes, at[n])
		for a, x := range components(at[n]) {
			l.span.low[a], l.span.high[a] = min(l.span.low[a], x), max(l.span.high[a], x)
		}
	}
	for a, x := range components(behind) {
		if x > 0 {
			l.span.high[a] = math.Inf(1)
		} else if x < 0 {
			l.span.low[a] = math.Inf(-1)
		}
	}
	return l
}

// quiet says for each part and feature whether no box of a node can be too near, by
// what placesCut left.
func (s *search) quiet(n *node, f *frame) func(part, feature int) bool {
	p := f.places
	if p == nil || n.marks == nil || n.chunks == nil || s.task.slips {
		return nil
	}
	features := len(s.task.space.Features)
	asked := make([]bool, len(f.judge.Model().Parts)*features) // that there is nothing near
	for _, k := range p.keeps {
		asked[k.held.Part*features+k.held.Feature] = true
	}
	for _, i := range n.marks {
		k := p.keeps[p.marks[i].keep].held
		asked[k.Part*features+k.Feature] = false
	}
	for _, i := range n.chunks {
		k := p.keeps[p.chunks[i].keep].held
		asked[k.Part*features+k.Feature] = false
	}
	return func(part, feature int) bool { return asked[part*features+feature] }
}
