package largest

import (
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/clearance"
)

// ports are where in a node a hose's fitting can be: the middle of that, and how
// far from it.
func ports(n *node, stand clearance.Stand, h clearance.Held) (middle r3.Vector, off float64) {
	lo, hi := components(stand.Lo), components(stand.Hi)
	at, follow := components(h.Pins[0].OnPart), components(h.Follow)
	var half [3]float64
	for a, f := range follow {
		from := (1-f)*(n.from[a]-lo[a]) + f*(n.from[a+3]-hi[a])
		to := (1-f)*(n.to[a]-lo[a]) + f*(n.to[a+3]-hi[a])
		at[a] += (from + to) / 2
		half[a] = (to - from) / 2
	}
	return vector(at), vector(half).Norm()
}

// kinked says whether a hose's bends are surely short at every box of a node. The
// uncertainty of the radius is taken from a box of it. With v the first leg and t
// its turn the radius changes by 1/tan(t/2) along v and by half of 1/sin2(t/2), or
// less, across it; as v turns by d these change by the shares d/sin t and d
// cot(t/2) and turn by d, so that for turns from 30 to 150 degrees the uncertainty
// grows by less than 8d of itself. Elsewhere a bend is wide, or has no room at all.
func (s *search) kinked(n *node, f *frame, stand clearance.Stand, h clearance.Held) bool {
	middle, off := ports(n, stand, h)
	most, known := f.judge.MostBend(h.Hose, middle, off)
	p := h.Pins[0]
	d := (off + middle.Sub(p.OnPart).Norm()) / p.OnFeature.Sub(p.OnPart).Norm()
	return known && most < h.Gap-f.k*p.U*(1+8*d)
}

// thinnest is the thinnest slice of a face's range that is tried, as a power of a half.
const thinnest = 6

// bent gives the child of a node without the boxes of which a hose's bends are
// surely short: without a slice at one end of the range of a face that moves the
// hose's fitting. ok is false where none is found.
func (s *search) bent(n *node, f *frame, stand clearance.Stand, h clearance.Held) (children []*node, ok bool) {
	if s.kinked(n, f, stand, h) {
		return nil, true
	}
	least := math.Inf(1)
	for face := range faces {
		follow := components(h.Follow)[face%3]
		if whole := n.to[face] - n.from[face]; whole < leastPart || face < 3 && follow == 1 || face >= 3 && follow == 0 {
			continue
		}
		share := 0.5
		for range thinnest {
			whole := n.to[face] - n.from[face]
			gone, left := *n, *n
			if face < 3 { // the largest box has its low faces lowest
				gone.to[face] = n.from[face] + share*whole
				left.from[face] = gone.to[face]
			} else {
				gone.from[face] = n.to[face] - share*whole
				left.to[face] = gone.from[face]
			}
			share /= 2
			if !s.kinked(&gone, f, stand, h) {
				continue
			}
			if !s.settle(&left) {
				return nil, true
			}
			if left.key < least {
				least, children = left.key, []*node{&left}
			}
			break
		}
	}
	return children, children != nil
}

// halve cuts a node in two where only hoses fall short: across the widest range of
// a face that moves such a hose's fitting. ok is false where none does, or they
// are all narrow.
func (s *search) halve(n *node, lines []clearance.Held) (ok bool) {
	widest, face := leastPart, -1
	for _, h := range lines {
		if h.Hose < 0 || h.Short <= reach {
			continue
		}
		for a, f := range components(h.Follow) {
			if w := n.to[a] - n.from[a]; f < 1 && w > widest {
				widest, face = w, a
			}
			if w := n.to[a+3] - n.from[a+3]; f > 0 && w > widest {
				widest, face = w, a+3
			}
		}
	}
	if face < 0 {
		return false
	}
	middle := (n.from[face] + n.to[face]) / 2
	for k := range 2 {
		m := *n
		if k == 0 {
			m.to[face] = middle
		} else {
			m.from[face] = middle
		}
		if s.settle(&m) {
			s.push(&m)
		}
	}
	return true
}

// slow is the share of a node's value that a cut leaves at least to count as no
// way ahead, where a hose's bends fall short too.
const slow = 0.995

// bendy says whether a hose falls short.
func (s *search) bendy(lines []clearance.Held) bool {
	for _, h := range lines {
		if h.Hose >= 0 && h.Short > reach {
			return true
		}
	}
	return false
}

func mostKey(nodes []*node) float64 {
	most := 0.0
	for _, n := range nodes {
		most = math.Max(most, n.key)
	}
	return most
}
