package clearance

import (
	"github.com/golang/geo/r3"

	"elbowroom/solid/shape"
)

// Pieces says how many nodes each piece of a feature has.
func (j *Judge) Pieces(feature int) (nodes []int) {
	for _, p := range j.c.space.Features[feature].Pieces {
		nodes = append(nodes, len(p.Nodes))
	}
	return nodes
}

// Nodes are the places of a feature's nodes in the judge's frame; ok is false for
// one that is no obstacle.
func (j *Judge) Nodes(feature int) (nodes []r3.Vector, ok bool) {
	for i := range j.c.features {
		if o := &j.c.features[i]; j.feature(o) == feature {
			return o.nodes, len(o.pieces) > 0
		}
	}
	return nil, false
}

// Behind is the direction of all that is solid beyond a feature's pieces in the
// judge's frame, or zero.
func (j *Judge) Behind(feature int) r3.Vector {
	return j.c.pose.turnIn(j.c.space.Features[feature].Behind)
}

// Gap is what a feature asks for, mm.
func (j *Judge) Gap(feature int) float64 {
	return j.c.gapOf(&j.c.space.Features[feature]).Gap
}

// Making is the variances of the box as made and placed, mm2: of each outside
// size, of its place along any direction, and of a fitting along the two axes of
// its side.
func (j *Judge) Making() (size, place float64) {
	t := j.model.Tank
	return sq(rectangular(t.Within)), sq(rectangular(t.Place.Within))
}

func sq(x float64) float64 { return x * x }

// K is how many standard uncertainties over its gap a clearance must be to reach
// the job's sure.
func (j *Judge) K() float64 { return j.sureK }

// Meant says whether a part touches a feature on purpose, so that they have no
// line; aside of the feature counts as such.
func (j *Judge) Meant(part, feature int) bool {
	c := *j.c
	c.assembly, c.origin = j.model, r3.Vector{}
	p := j.model.Parts[part]
	for i := range c.features {
		if o := &c.features[i]; j.feature(o) == feature {
			return aside(p, o.feature.Spec.Name) || c.meant(p, o)
		}
	}
	return true
}

// Closest is the place of a feature's piece, without its thickness, that is
// closest to a place: that itself where it lies within.
func (j *Judge) Closest(feature, piece int, to r3.Vector) r3.Vector {
	for i := range j.c.features {
		o := &j.c.features[i]
		if j.feature(o) != feature {
			continue
		}
		h := o.pieces[piece].hull
		h.Grow = 0
		n := shape.Distance(shape.Hull{Points: []r3.Vector{to}}, h)
		if n.Signed <= 0 {
			return to
		}
		return n.OnB
	}
	return to
}
