package mesh

import (
	"math"

	"elbowroom/survey/network"
)

// trim parts triangles into those that a skin keeps and those that only close
// its rim.
//
// Delaunay's rule fills the convex hull. Where the rim is straight but for the
// thickness of a pencil line, that makes slivers: three marks of an arched rim,
// seen almost on one line, get a triangle that stands upright between the arch
// and its chord, and whether it is there hangs on the last digit. Such a
// triangle is dropped: it is steep or seen as a line, its longest side as seen
// is on the rim, and each of its marks has a triangle that is neither. What
// stands on the rim and alone holds a mark, as a wall around a flat does, stays.
func (v view) trim(triangles [][3]int) (kept, trimmed [][3]int) {
	noise := network.Rounding(v.marks)
	flat := make([]bool, len(v.marks))
	steep := make(map[[3]int]bool)
	for _, t := range triangles {
		if slope, _ := v.stand(t); slope > Steepest || v.seenWidth(t) <= noise {
			steep[t] = true
			continue
		}
		flat[t[0]], flat[t[1]], flat[t[2]] = true, true, true
	}
	kept = triangles
	for {
		sides := make(map[[2]int]bool)
		for _, t := range kept {
			for k := range t {
				sides[[2]int{t[k], t[(k+1)%3]}] = true
			}
		}
		var rest, dropped [][3]int
		for _, t := range kept {
			from, to := v.longest(t)
			onRim := !sides[[2]int{to, from}]
			if steep[t] && onRim && flat[t[0]] && flat[t[1]] && flat[t[2]] {
				dropped = append(dropped, t)
			} else {
				rest = append(rest, t)
			}
		}
		if len(dropped) == 0 {
			return kept, trimmed
		}
		kept, trimmed = rest, append(trimmed, dropped...)
	}
}

// longest is the side of a triangle that is longest as seen.
func (v view) longest(t [3]int) (from, to int) {
	var most float64
	from, to = t[0], t[1]
	for k := range t {
		i, j := t[k], t[(k+1)%3]
		if d := v.seen[i].Sub(v.seen[j]).Norm(); d > most {
			most, from, to = d, i, j
		}
	}
	return from, to
}

// seenWidth is the least height of a triangle as seen.
func (v view) seenWidth(t [3]int) float64 {
	from, to := v.longest(t)
	side := v.seen[to].Sub(v.seen[from])
	third := v.seen[t[0]+t[1]+t[2]-from-to].Sub(v.seen[from])
	return math.Abs(side.Cross(third)) / side.Norm()
}
