package survey

import (
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/survey/network"
)

// outOfFlats doubts marks that stand out of a flat by more than their readings
// explain. A reading of the network that is in doubt already may have bent the
// whole of it, and flats with it: then the marks are taken where the other
// readings have them, so that a flat is not blamed for it.
func (a *adjuster) outOfFlats() {
	for i := range a.space.Features {
		f := &a.space.Features[i]
		if f.Plane == nil || len(f.Fitted) < 4 {
			continue
		}
		plane := a.cleanPlane(f)
		for j, m := range f.Fitted {
			redundancy := f.Plane.Redundancy(j)
			if redundancy < LeastRedundancy {
				continue
			}
			// The variance of a residual is that of the observation times its
			// redundancy, for weights 1/u2.
			a.standsOut(f, j, plane.Residuals[j], a.space.Uncertainty(m)*math.Sqrt(redundancy))
		}
	}
}

// cleanPlane is the plane of a flat without the readings that look wrong, its
// marks weighted by their readings.
func (a *adjuster) cleanPlane(f *Feature) *network.Plane {
	if a.clean == nil {
		return f.Plane
	}
	at, u := make([]r3.Vector, len(f.Fitted)), make([]float64, len(f.Fitted))
	moved := false
	for j, m := range f.Fitted {
		at[j], u[j] = a.space.Marks[m].At, a.space.Uncertainty(m)
		k, ok := a.space.net.at(m)
		if !ok {
			continue
		}
		by := a.clean.At[k].Sub(a.space.net.adjusted.At[k])
		if a.space.frame != nil {
			by = a.space.frame.turn(by)
		}
		at[j] = at[j].Add(by)
		moved = moved || by != (r3.Vector{})
	}
	plane, err := network.FitPlane(at, floored(u))
	if !moved || err != nil {
		return f.Plane
	}
	if plane.Normal.Dot(f.Plane.Normal) < 0 { // proud and behind are of the flat's own side
		for j := range plane.Residuals {
			plane.Residuals[j] = -plane.Residuals[j]
		}
	}
	return &plane
}
