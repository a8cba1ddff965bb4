package largest

import (
	"github.com/golang/geo/r3"

	"elbowroom/clearance"
	"elbowroom/solid"
)

// The places of the box's faces, as indices: left, bottom, back, right, top, front.
const faces = 6

// node is all boxes whose faces lie in these ranges.
type node struct {
	from, to [faces]float64
	key      float64 // the value of the largest of them, or more
	cell     *cell   // of turns
	// near is how far from its largest box a node was cut down to, mm; 0: not.
	near float64
	// marks and chunks of the frame's places that a box of the node may be too near to;
	// nil: any.
	marks, chunks []int32
}

// bounds are limits of the sizes along the axes.
type bounds struct{ min, max [3]float64 }

// tighten takes out of the ranges what no box within the bounds can reach; ok is
// false where nothing is left.
func (n *node) tighten(b bounds) (ok bool) {
	for a := range 3 {
		h := a + 3
		n.from[h] = max(n.from[h], n.from[a]+b.min[a])
		n.to[a] = min(n.to[a], n.to[h]-b.min[a])
		n.to[h] = min(n.to[h], n.to[a]+b.max[a])
		n.from[a] = max(n.from[a], n.from[h]-b.max[a])
		if n.from[a] > n.to[a] || n.from[h] > n.to[h] {
			return false
		}
	}
	return true
}

// size is the size of its largest box.
func (n *node) size(b bounds) solid.Size {
	var d [3]float64
	for a := range 3 {
		d[a] = min(n.to[a+3]-n.from[a], b.max[a])
	}
	return solid.Size{Width: d[0], Height: d[1], Depth: d[2]}
}

// largest is the node's largest box: of that size (no larger than its own), in
// the middle of where it can be.
func (n *node) largest(size solid.Size) clearance.Stand {
	var lo, hi [3]float64
	for a := range 3 {
		d := size.Along(a)
		// The low face can be from..to, and the high face d farther.
		from := max(n.from[a], n.from[a+3]-d)
		to := min(n.to[a], n.to[a+3]-d)
		if d >= n.to[a+3]-n.from[a] { // to the last bit
			lo[a], hi[a] = n.from[a], n.to[a+3]
			continue
		}
		lo[a] = min(n.to[a], max(n.from[a], (from+to)/2))
		hi[a] = lo[a] + d
	}
	return clearance.Stand{Lo: vector(lo), Hi: vector(hi), StandOff: lo[2]}
}

func vector(x [3]float64) r3.Vector { return r3.Vector{X: x[0], Y: x[1], Z: x[2]} }

func components(v r3.Vector) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }

// heap keeps the node with the greatest key on top; of equals the one that came
// first, so that the search takes the same way each time.
type heap struct {
	nodes []*node
	order []int
	count int
}

func (h *heap) less(i, k int) bool {
	if h.nodes[i].key != h.nodes[k].key {
		return h.nodes[i].key > h.nodes[k].key
	}
	return h.order[i] < h.order[k]
}

func (h *heap) swap(i, k int) {
	h.nodes[i], h.nodes[k] = h.nodes[k], h.nodes[i]
	h.order[i], h.order[k] = h.order[k], h.order[i]
}

func (h *heap) push(n *node) {
	h.nodes, h.order = append(h.nodes, n), append(h.order, h.count)
	h.count++
	for i := len(h.nodes) - 1; i > 0 && h.less(i, (i-1)/2); i = (i - 1) / 2 {
		h.swap(i, (i-1)/2)
	}
}

func (h *heap) pop() *node {
	top := h.nodes[0]
	last := len(h.nodes) - 1
	h.swap(0, last)
	h.nodes, h.order = h.nodes[:last], h.order[:last]
	for i := 0; ; {
		k := 2*i + 1
		if k >= last {
			return top
		}
		if k+1 < last && h.less(k+1, k) {
			k++
		}
		if !h.less(k, i) {
			return top
		}
		h.swap(i, k)
		i = k
	}
}
