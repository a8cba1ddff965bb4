package network

import (
	"math"

	"github.com/golang/geo/r3"
)

// seed places four marks that are all taped to each other, as fat a body as
// there is: the greatest volume over the longest tape cubed.
func (s *starter) seed() {
	length := make([]map[int]float64, s.net.Marks)
	for m := range length {
		length[m] = map[int]float64{}
	}
	for _, t := range s.net.Ties {
		if t.Kind == Distance {
			length[t.Mark][t.From], length[t.From][t.Mark] = t.Value, t.Value
		}
	}
	var best [4]int
	most, looked := 0.0, 0
	for a := range length {
		next := later(length[a], a)
		for i, b := range next {
			for j, c := range next[i+1:] {
				if _, ok := length[b][c]; !ok {
					continue
				}
				for _, d := range next[i+j+2:] {
					_, bd := length[b][d]
					_, cd := length[c][d]
					if !bd || !cd || looked > 20_000 { // enough to choose from
						continue
					}
					looked++
					if v := fatness(length[a][b], length[a][c], length[a][d], length[b][c], length[b][d], length[c][d]); v > most {
						most, best = v, [4]int{a, b, c, d}
					}
				}
			}
		}
	}
	if most == 0 {
		return
	}
	a, b, c, d := best[0], best[1], best[2], best[3]
	p, q := corner(length[a][b], length[a][c], length[b][c], length[a][d], length[b][d], length[c][d])
	s.At[a], s.At[b], s.At[c], s.At[d] = r3.Vector{}, r3.Vector{X: length[a][b]}, p, q
	for _, m := range best {
		s.Placed[m] = true
	}
}

func later(length map[int]float64, a int) []int {
	var out []int
	for m := range length {
		if m > a {
			out = append(out, m)
		}
	}
	sortInts(out)
	return out
}

// corner places c in the plane z = 0 and d above it, with a at the origin and b
// along x.
func corner(ab, ac, bc, ad, bd, cd float64) (c, d r3.Vector) {
	c.X = (ab*ab + ac*ac - bc*bc) / (2 * ab)
	c.Y = math.Sqrt(math.Max(0, ac*ac-c.X*c.X))
	d.X = (ab*ab + ad*ad - bd*bd) / (2 * ab)
	if c.Y > 0 {
		d.Y = (ad*ad - cd*cd + c.Norm2() - 2*c.X*d.X) / (2 * c.Y)
	}
	d.Z = math.Sqrt(math.Max(0, ad*ad-d.X*d.X-d.Y*d.Y))
	return c, d
}

// fatness is six times the volume of a body with such edges over its longest
// edge cubed; where it is flat, its area counts, a thousandth as much.
func fatness(ab, ac, ad, bc, bd, cd float64) float64 {
	c, d := corner(ab, ac, bc, ad, bd, cd)
	long := max(ab, ac, ad, bc, bd, cd)
	if long == 0 {
		return 0
	}
	return (c.Y*ab*d.Z/long + c.Y*ab/1000) / (long * long)
}
