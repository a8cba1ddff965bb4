package clearance

import (
	"math"

	"elbowroom/solid"
	"elbowroom/survey"
)

// shove is what the face can do to the box, and what its three ways have in common.
type shove struct {
	ways   [3]wide
	common [3][3]float64
}

// pushes are all that the face can do to the box: held by its plane, or by each of
// its marks that may hold it off.
func (j *Judge) pushes() (out []shove) {
	for _, p := range j.poses() {
		ways := p.hold(j.c.space, j.c.spread)
		var w shove
		for a := range 3 {
			w.ways[a] = widen(ways[a], len(j.c.space.Sources()))
			for b := range 3 {
				w.common[a][b] = survey.Dot(ways[a], ways[b])
			}
		}
		out = append(out, w)
	}
	return out
}

// poses are the pose held by the plane, and by each of its marks that stands proud
// by more than the stand-off as drawn.
func (j *Judge) poses() (out []pose) {
	p := j.c.pose
	p.proud = -1
	out = append(out, p)
	if p.mount == nil {
		return out
	}
	for k, h := range p.mount.Plane.Residuals {
		if h > j.model.Tank.Place.StandOff {
			p.proud = k
			out = append(out, p)
		}
	}
	return out
}

// levered are the covariances of a clearance from a node, with its lever.
func (j *Judge) levered(n survey.Node, pushes []shove) (out [][3][3]float64) {
	at := j.c.pose.local(n.At)
	var own [3][]survey.Term
	var amounts [3][3]float64
	for a := range 3 {
		along := solid.Axis(a)
		own[a] = j.c.spread.Terms(survey.Gradient{{Mark: n.Mark, By: j.c.pose.turnOut(along)}})
		amounts[a] = j.c.pose.push(at, along.Mul(-1))
	}
	for _, w := range pushes {
		var m, crossed [3][3]float64 // crossed: of one's marks with what pushes the other
		for a := range 3 {
			for b := range 3 {
				m[a][b] = survey.Dot(own[a], own[b])
				for k, by := range amounts[b] {
					if by == 0 {
						continue
					}
					crossed[a][b] += by * w.ways[k].dot(own[a])
					for l, other := range amounts[a] {
						m[a][b] += by * other * w.common[k][l]
					}
				}
			}
		}
		for a := range 3 {
			for b := range 3 {
				m[a][b] += crossed[a][b] + crossed[b][a]
			}
		}
		out = append(out, m)
	}
	return out
}

// levers are orthonormal vectors over the sources that span what the face's tilt
// can do to a figure, and what it does through the face's place. Where a mark may
// hold the box off the face, that place is one of the levers too.
func (j *Judge) levers() (free [][]survey.Term, out []survey.Term) {
	c := j.c
	poses := j.poses()
	ways := poses[0].hold(c.space, c.spread)
	span := [][]survey.Term{ways[1], ways[2]}
	out = ways[0]
	if len(poses) > 1 {
		span, out = append(span, ways[0]), nil
	}
	for _, p := range poses[1:] {
		span = append(span, p.hold(c.space, c.spread)[0])
	}
	for _, v := range span {
		whole := survey.Dot(v, v)
		for range 2 { // twice is enough
			for _, e := range free {
				v = combine(v, e, -survey.Dot(v, e))
			}
		}
		// What is left is rounding: it lies in the span already.
		if left := survey.Dot(v, v); left > 1e-12*whole && left > 0 {
			free = append(free, combine(nil, v, 1/math.Sqrt(left)))
		}
	}
	return free, out
}

// combine is a + b times a factor, sorted by source.
func combine(a, b []survey.Term, by float64) []survey.Term {
	var sum []survey.Term
	for i, k := 0, 0; i < len(a) || k < len(b); {
		switch {
		case k == len(b) || i < len(a) && a[i].Source < b[k].Source:
			sum = append(sum, a[i])
			i++
		case i == len(a) || a[i].Source > b[k].Source:
			sum = append(sum, survey.Term{Source: b[k].Source, By: b[k].By * by})
			k++
		default:
			sum = append(sum, survey.Term{Source: a[i].Source, By: a[i].By + b[k].By*by})
			i, k = i+1, k+1
		}
	}
	return sum
}
