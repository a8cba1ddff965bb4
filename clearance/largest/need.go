package largest

import "math"

// need is the least distance from a place of a feature at which a part can reach
// sure: gap and thickness and k times a bound from below of the standard
// uncertainty, in mm.
type need struct {
	base float64 // gap and thickness
	k    float64
	node [3][3]float64 // of the place, mm2
	// levered are those with the place's own lever, one of which counts: see
	// clearance.NodeSpread.
	levered [][3][3]float64
	behind  [3]float64 // unit: the feature goes on that way
	least   float64    // of the place in any direction, mm2
	axis    [3]float64 // of the place along the axes, but for skew, mm2
	skew    float64    // mm2
	single  bool       // the place is a mark: node counts; else least
	place   float64    // mm2
	size    float64    // mm2
	follow  [3]float64
	fit     [3]float64 // of the fitting along the axes, mm2
	body    bool
	most    float64 // no part is asked for more than that
	// slack is how much nearer the place may be at another turn of the node's, and
	// turn how far that is from this one, radians.
	slack, turn float64
	cos         float64 // of the angle between n and the nearest direction: see sharpen [0: not known]
}

// making is the variance of a part as made along an axis, on its low or high side.
func (d *need) making(axis, side int) float64 {
	share := d.follow[axis]
	if d.body {
		share = float64(side)
	}
	return d.place + d.size*share*share + d.fit[axis]
}

// face is what is needed straight off a face.
func (d *need) face(axis, side int) float64 {
	if !d.single {
		var along [3]float64
		var sides [3]int
		along[axis], sides[axis] = 1, side
		return d.between(along, sides)
	}
	var along [3]float64
	along[axis] = float64(2*side - 1)
	var sides [3]int
	sides[axis] = side
	return d.toward(along, [3]float64{}, sides)
}

// turned bounds what a turn of the axes can take off a variance: twice the turn times
// the greatest variance there is.
func (d *need) turned() float64 {
	if d.turn == 0 {
		return 0
	}
	most := d.node[0][0] + d.node[1][1] + d.node[2][2]
	for _, m := range d.levered {
		most = max(most, m[0][0]+m[1][1]+m[2][2])
	}
	return 2 * d.turn * (most + d.greatest())
}

// between is what is needed from a place between marks that is off along a unit
// vector with at least those components, on those sides. Another place of the piece
// may then be the nearest one. With t the distance of this one, d (at most t) the
// least one and a the angle between the two directions, cos a is d/t or more, since
// the piece and the part are convex; and d is no less than what is needed in any
// direction.
func (d *need) between(along [3]float64, sides [3]int) float64 {
	least := d.any()
	if d.turn > 0 {
		return least
	}
	whole := d.reach(d.greatest() + max(d.least, max(d.axis[0], max(d.axis[1], d.axis[2]))))
	if whole <= least || whole <= 0 {
		return least
	}
	cos := max(d.cos, least/whole)
	sin := math.Sqrt(1 - cos*cos)
	v := d.least + d.place - d.skew
	for a, x := range along {
		n := max(0, x*cos-sin*math.Sqrt(max(0, 1-x*x)))
		v += (d.making(a, sides[a]) - d.place + max(0, d.axis[a]-d.least)) * n * n
	}
	return max(least, d.reach(v))
}

// any is what is needed in any direction.
func (d *need) any() float64 {
	least := math.Inf(1)
	for a := range 3 {
		for side := range 2 {
			least = min(least, d.making(a, side))
		}
	}
	return d.reach(d.least + least)
}

// greatest is the greatest variance of a part as made in any direction.
func (d *need) greatest() float64 {
	most := 0.0
	for a := range 3 {
		for side := range 2 {
			most = max(most, d.making(a, side))
		}
	}
	return most
}

func (d *need) reach(variance float64) float64 {
	return d.base + min(d.most, d.k*math.Sqrt(max(0, variance)))
}

// corner is what is needed where the place is off by from..to along the axes, on
// those sides. With A the covariance and n a unit vector between bounds, n'An is
// convex: no less than its tangent at the middle, least in the bounds' corner.
func (d *need) corner(from, to [3]float64, sides [3]int) float64 {
	var middle, half, low [3]float64
	for i := range 3 {
		sign := float64(2*sides[i] - 1)
		rest0, rest1 := 0.0, 0.0
		for k := range 3 {
			if k != i {
				rest0, rest1 = rest0+from[k]*from[k], rest1+to[k]*to[k]
			}
		}
		least, most := from[i], to[i]
		if whole := math.Sqrt(least*least + rest1); whole > 0 {
			least /= whole
		}
		if whole := math.Sqrt(most*most + rest0); whole > 0 {
			most /= whole
		}
		low[i] = least
		middle[i], half[i] = sign*(least+most)/2, (most-least)/2
	}
	if !d.single {
		return d.between(low, sides)
	}
	return d.toward(middle, half, sides)
}

// toward is what is needed from a mark in directions no farther than half from a
// middle, on those sides.
func (d *need) toward(middle, half [3]float64, sides [3]int) float64 {
	v := d.tangent(d.node, middle, half, sides)
	if ahead := d.behind[0]*middle[0] + d.behind[1]*middle[1] + d.behind[2]*middle[2] -
		math.Abs(d.behind[0])*half[0] - math.Abs(d.behind[1])*half[1] - math.Abs(d.behind[2])*half[2]; ahead > 0 || d.behind == [3]float64{} {
		least := math.Inf(1)
		for _, m := range d.levered {
			least = min(least, d.tangent(m, middle, half, sides))
		}
		if len(d.levered) > 0 {
			v = max(v, least)
		}
	}
	return max(d.any(), d.reach(v-d.turned()))
}

// tangent is no more than n'An for any n within half of a middle, with A a covariance
// and what the making adds.
func (d *need) tangent(a [3][3]float64, middle, half [3]float64, sides [3]int) (v float64) {
	for i := range 3 {
		slope := a[i][0]*middle[0] + a[i][1]*middle[1] + a[i][2]*middle[2] + d.making(i, sides[i])*middle[i]
		v += slope*middle[i] - 2*math.Abs(slope)*half[i]
	}
	return v
}

// rim is what is needed where the place is off a round part's axis by from..to. The
// direction is that of the offset across the axis, less the radius, and along it.
func (d *need) rim(c core, from, to [3]float64, sides [3]int) float64 {
	var near, far, along, beyond float64 // along and beyond: of the axis
	for a := range 3 {
		if c.round[a] {
			near, far = near+from[a]*from[a], far+to[a]*to[a]
		} else {
			along, beyond = from[a], to[a]
		}
	}
	least, most := math.Sqrt(near)-c.radius, math.Sqrt(far)-c.radius
	if least <= 0 {
		return d.any()
	}
	var low, middle, half [3]float64
	for a := range 3 {
		var high float64
		if !c.round[a] {
			low[a], high = along/math.Hypot(along, most), beyond/math.Hypot(beyond, least)
		} else {
			others0, others1 := near-from[a]*from[a], far-to[a]*to[a]
			if from[a] > 0 {
				low[a] = from[a] / math.Sqrt(from[a]*from[a]+others1) * least / math.Hypot(least, beyond)
			}
			if to[a] > 0 {
				high = to[a] / math.Sqrt(to[a]*to[a]+others0) * most / math.Hypot(most, along)
			}
		}
		middle[a], half[a] = float64(2*sides[a]-1)*(low[a]+high)/2, (high-low[a])/2
	}
	if !d.single {
		return d.between(low, sides)
	}
	return d.toward(middle, half, sides)
}
