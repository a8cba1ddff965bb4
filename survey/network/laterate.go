package network

import (
	"math"

	"github.com/golang/geo/r3"
)

// Laterate finds where a mark may be, at such distances from such marks, best
// first: one place where the marks surround it in space, two, mirrored in their
// plane, where they all but lie in one. weights may be nil. Fewer than three
// marks, or marks on one line, leave a circle: then one place of it is given.
//
// Subtracting the mean of the squared distances leaves linear equations for the
// place (closed-form multilateration). They are solved within the plane that
// fits the known marks; the height out of it follows from the mean squared
// distance, both ways. Where the marks spread out of the plane as well, the
// linear equation for the height tells which of the two is right.
func Laterate(known []r3.Vector, distances, weights []float64) []r3.Vector {
	if len(known) == 0 {
		return nil
	}
	c, axes, spread := principalAxes(known)
	k := flatRank(spread)
	// In the axes: 2 q_i·p = |q_i|² - d_i² + (|p|² with its mean), the part that
	// is common to all taken off with the means.
	var normal [3][3]float64
	var right [3]float64
	mean := 0.0
	q := make([][3]float64, len(known))
	level := make([]float64, len(known))
	for i, m := range known {
		d := m.Sub(c)
		q[i] = [3]float64{d.Dot(axes[0]), d.Dot(axes[1]), d.Dot(axes[2])}
		level[i] = d.Norm2() - distances[i]*distances[i]
		mean += level[i] / float64(len(known))
	}
	for i := range known {
		// The squares of longer distances are less sure by their length.
		w := 1 / math.Max(distances[i]*distances[i], 1e-12)
		if weights != nil {
			w *= weights[i]
		}
		for a := range k {
			for b := range k {
				normal[a][b] += 4 * w * q[i][a] * q[i][b]
			}
			right[a] += 2 * w * q[i][a] * (level[i] - mean)
		}
	}
	p := solveSmall(normal, right, k)
	within := c.Add(axes[0].Mul(p[0])).Add(axes[1].Mul(p[1]))
	// |p|² = mean d² - mean |q|² + 2 p·mean q, and the mean of q is nothing.
	high := -mean
	for a := range min(k, 2) {
		high -= p[a] * p[a]
	}
	h := math.Sqrt(math.Max(0, high))
	if k == 3 {
		if p[2] < 0 {
			h = -h
		}
		// Both the linear height and the two by the squares: the one of which
		// the distances fit best comes first.
		return bestFirst(known, distances, within.Add(axes[2].Mul(p[2])), within.Add(axes[2].Mul(h)), within.Add(axes[2].Mul(-h)))
	}
	if h == 0 {
		h = 1e-3 * spread[0] // off the plane a little, so that a fit can move it
	}
	return []r3.Vector{within.Add(axes[2].Mul(h)), within.Add(axes[2].Mul(-h))}
}

// bestFirst sorts places by how well the distances fit.
func bestFirst(known []r3.Vector, distances []float64, places ...r3.Vector) []r3.Vector {
	miss := make([]float64, len(places))
	for j, p := range places {
		for i, m := range known {
			e := p.Sub(m).Norm() - distances[i]
			miss[j] += e * e
		}
	}
	for j := 1; j < len(places); j++ {
		for i := j; i > 0 && miss[i] < miss[i-1]; i-- {
			miss[i], miss[i-1] = miss[i-1], miss[i]
			places[i], places[i-1] = places[i-1], places[i]
		}
	}
	return places
}

// flatRank is how many of the spreads say anything. Marks within a fiftieth of
// their length of a line or plane are taken to lie in it: readings of a
// hundredth of the length would turn it.
func flatRank(spread [3]float64) int {
	const flat = 1. / 50
	k := 0
	for _, s := range spread {
		if s > flat*spread[0] && s > 0 {
			k++
		}
	}
	return k
}

func principalAxes(points []r3.Vector) (centre r3.Vector, axes [3]r3.Vector, spread [3]float64) {
	for _, p := range points {
		centre = centre.Add(p.Mul(1 / float64(len(points))))
	}
	var s [3][3]float64
	for _, p := range points {
		d := p.Sub(centre)
		v := [3]float64{d.X, d.Y, d.Z}
		for a := range v {
			for b := range v {
				s[a][b] += v[a] * v[b] / float64(len(points))
			}
		}
	}
	values, vectors := Eigen3(s)
	for k := range 3 {
		axes[k] = vectors[k]
		spread[k] = math.Sqrt(math.Max(0, values[k]))
	}
	return centre, axes, spread
}

// Eigen3 gives the eigenvalues of a symmetric matrix, greatest first, and their
// directions, right-handed, by Jacobi's rotations (Golub & Van Loan, "Matrix
// Computations", section 8.5).
func Eigen3(s [3][3]float64) (values [3]float64, vectors [3]r3.Vector) {
	v := [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
	for range 50 { // converges in under ten
		off := math.Abs(s[0][1]) + math.Abs(s[0][2]) + math.Abs(s[1][2])
		if off <= 1e-300 || off <= epsilon*epsilon*(math.Abs(s[0][0])+math.Abs(s[1][1])+math.Abs(s[2][2])) {
			break
		}
		for _, e := range [3][2]int{{0, 1}, {0, 2}, {1, 2}} {
			i, j := e[0], e[1]
			if s[i][j] == 0 {
				continue
			}
			theta := (s[j][j] - s[i][i]) / (2 * s[i][j])
			t := math.Copysign(1, theta) / (math.Abs(theta) + math.Hypot(1, theta))
			c := 1 / math.Hypot(1, t)
			sn := t * c
			for k := range 3 {
				s[k][i], s[k][j] = c*s[k][i]-sn*s[k][j], sn*s[k][i]+c*s[k][j]
			}
			for k := range 3 {
				s[i][k], s[j][k] = c*s[i][k]-sn*s[j][k], sn*s[i][k]+c*s[j][k]
			}
			for k := range 3 {
				v[k][i], v[k][j] = c*v[k][i]-sn*v[k][j], sn*v[k][i]+c*v[k][j]
			}
		}
	}
	at := [3]int{0, 1, 2}
	for i := 1; i < 3; i++ {
		for j := i; j > 0 && s[at[j]][at[j]] > s[at[j-1]][at[j-1]]; j-- {
			at[j], at[j-1] = at[j-1], at[j]
		}
	}
	for k, i := range at {
		values[k] = s[i][i]
		vectors[k] = r3.Vector{X: v[0][i], Y: v[1][i], Z: v[2][i]}
	}
	vectors[2] = vectors[0].Cross(vectors[1])
	return values, vectors
}

// solveSmall solves the first k equations by elimination; what hangs on nothing
// is 0. The normal equations here are positive.
func solveSmall(a [3][3]float64, b [3]float64, k int) (x [3]float64) {
	for i := range k {
		if a[i][i] == 0 {
			continue
		}
		for j := i + 1; j < k; j++ {
			f := a[j][i] / a[i][i]
			for l := i; l < k; l++ {
				a[j][l] -= f * a[i][l]
			}
			b[j] -= f * b[i]
		}
	}
	for i := k - 1; i >= 0; i-- {
		if a[i][i] == 0 {
			continue
		}
		x[i] = b[i]
		for j := i + 1; j < k; j++ {
			x[i] -= a[i][j] * x[j]
		}
		x[i] /= a[i][i]
	}
	return x
}
