package clearance

import (
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/survey"
)

// wall is a flat of a solid thing: out is the unit normal, and the thing lies where a
// place along it is no more than at.
type wall struct {
	out r3.Vector
	at  float64
}

// walls are the flats of a feature's pieces that have an inside: of a block its
// faces; of a flat with all behind it the flat, and its sides going on behind it. A
// place behind all walls of one piece by so much is that deep in it.
func (o *obstacle) walls() (all [][]wall) {
	if o.feature.Spec.Shape == survey.Block {
		var faces []wall
		block := &o.pieces[0]
		for _, f := range o.faces {
			a, b, c := o.nodes[block.nodes[f[0]]], o.nodes[block.nodes[f[1]]], o.nodes[block.nodes[f[2]]]
			out := b.Sub(a).Cross(c.Sub(a)).Normalize()
			faces = append(faces, wall{out, a.Dot(out)})
		}
		if len(faces) > 0 {
			all = append(all, faces)
		}
		return all
	}
	for i := range o.pieces {
		if w := prism(o.pieces[i].hull.Points, o.pieces[i].hull.Behind); w != nil {
			all = append(all, w)
		}
	}
	return all
}

// prism is the walls of a flat polygon, its corners in order, with all behind it; nil
// where that has no inside, or where the corners are not in order.
func prism(ring []r3.Vector, behind r3.Vector) []wall {
	if len(ring) < 3 || behind == (r3.Vector{}) {
		return nil
	}
	var square r3.Vector // to the polygon, by Newell's sum
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		square = square.Add(p.Sub(ring[0]).Cross(q.Sub(ring[0])))
	}
	if square.Dot(behind) > 0 {
		square = square.Mul(-1)
	}
	square = square.Normalize()
	if !(square.Dot(behind) < -reach*behind.Norm()) {
		return nil
	}
	lid := wall{out: square, at: math.Inf(1)}
	for _, p := range ring {
		lid.at = math.Min(lid.at, p.Dot(square))
	}
	out := []wall{lid}
	middle := r3.Vector{}
	for _, p := range ring {
		middle = middle.Add(p.Mul(1 / float64(len(ring))))
	}
	for i, p := range ring {
		side := ring[(i+1)%len(ring)].Sub(p).Cross(behind)
		if side.Norm() == 0 {
			continue
		}
		side = side.Normalize()
		if side.Dot(middle.Sub(p)) > 0 {
			side = side.Mul(-1)
		}
		w := wall{side, p.Dot(side)}
		for _, q := range ring {
			if q.Dot(side) > w.at+reach/1000 {
				return nil // the corners are not in order
			}
		}
		out = append(out, w)
	}
	return out
}

// deeper says whether a place is deeper than so much behind all walls of a piece. The
// bound is exact but for rounding, for which deep must leave room.
func deeper(pieces [][]wall, at r3.Vector, deep float64) bool {
	for _, walls := range pieces {
		inside := true
		for _, w := range walls {
			if w.at-at.Dot(w.out) <= deep {
				inside = false
				break
			}
		}
		if inside {
			return true
		}
	}
	return false
}
