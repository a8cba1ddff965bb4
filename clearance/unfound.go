package clearance

import (
	"math"

	"github.com/golang/geo/r3"
	"gonum.org/v1/gonum/stat/distuv"

	"elbowroom/solid"
	"elbowroom/survey"
)

// unfound bounds the rivals of a line of the body before they are looked for:
// none is nearer than the witness, none has more than this spread, and there are
// no more than so many.
type unfound struct {
	most  int
	value float64
	u     float64
}

// risk bounds the chance that some of them fall below a limit.
func (r unfound) risk(limit float64) float64 {
	if r.value <= limit || math.IsInf(r.u, 1) {
		return 1
	}
	if r.u == 0 {
		return 0
	}
	return math.Min(1, float64(r.most)*distuv.UnitNormal.CDF((limit-r.value)/r.u))
}

// unfound is the bound for the line against a feature.
//
// A rival's witness is a mix of nodes on the one side, and on the body on the
// other. A mix spreads no more than the node that spreads most. The errors of the
// three sizes move a place on the body by no more than one of them does, since its
// shares are 0 to 1; so do those of placing. The face moves it by its own error,
// and by its tilts over the way to the farthest corner. What comes from the survey
// may hang together and adds up; what is made and placed does not hang on it.
func (st *stood) unfound(body solid.Part, k int, value float64) unfound {
	c := st.c
	o := &c.features[k]
	reads := st.nodesMost(k)
	if c.pose.mount != nil {
		w := st.waysMost()
		reads += w[0] + math.Hypot(w[1], w[2])*farthest(body, c.pose.local(c.pose.datum))
	}
	size, place := rectangular(c.making.tank.Within), rectangular(c.making.tank.Place.Within)
	most := 0
	for _, p := range o.pieces {
		most += 1 + len(p.nodes) + 8 // itself, its nodes, the body's corners
	}
	return unfound{most, value, math.Hypot(reads, math.Hypot(size, place))}
}

// farthest is how far a part reaches from a place, or a little more.
func farthest(p solid.Part, from r3.Vector) float64 {
	middle, radius := p.Solid.Bounds()
	return middle.Sub(from).Norm() + radius
}

// waysMost are the standard uncertainties of the three ways in which the face
// moves the box.
func (st *stood) waysMost() (u [3]float64) {
	for k, terms := range st.c.ways {
		u[k] = math.Sqrt(survey.Dot(terms, terms))
	}
	return u
}

// nodesMost is the most that any place on a feature spreads along any direction.
// For a flat that goes on along itself there is no bound: its plane is known worse
// the farther out.
func (st *stood) nodesMost(k int) float64 {
	if u, ok := st.nodes[k]; ok {
		return u
	}
	c := st.c
	f := c.features[k].feature
	u := 0.0
	for _, n := range f.Nodes {
		by := math.Sqrt(norm(c.units.of(n.Mark, c.spread)))
		if n.Planar {
			c.spreadOut(f.MovePlane(nil, n.At, 1))
			by += c.sum.spread()
			c.sum.drop()
		}
		u = math.Max(u, by)
	}
	// Along the normal the plane is where it is; a tilt of a millionth is rounding.
	if f.Plane != nil && f.Behind.Cross(f.Plane.Normal).Norm() > 1e-6*f.Behind.Norm() {
		u = math.Inf(1)
	}
	st.nodes[k] = u
	return u
}

// norm bounds the greatest variance of a mark along any direction: the greatest
// sum of a row of its covariance, by absolute values (Gershgorin).
func norm(of *[3][]survey.Term) float64 {
	most := 0.0
	for i := range of {
		row := 0.0
		for j := range of {
			row += math.Abs(survey.Dot(of[i], of[j]))
		}
		most = math.Max(most, row)
	}
	return most
}
