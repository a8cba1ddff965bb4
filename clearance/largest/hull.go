package largest

import (
	"math"

	"elbowroom/clearance"
)

// hull is an upright box: where a part can be in a node, or is of a box that stands.
type hull struct{ low, high [3]float64 }

// takes is all that a part can take up at the boxes of a node, less its round.
func (c *core) takes(n *node) (h hull) {
	for a := range 3 {
		h.low[a], _ = c.low.at(n, a)
		_, h.high[a] = c.high.at(n, a)
	}
	return h
}

// stands is where a part is of a box that stands, less its round.
func (c *core) stands(stand clearance.Stand) (h hull) {
	lo, hi := components(stand.Lo), components(stand.Hi)
	for a := range 3 {
		l, r := c.low.share[a], c.high.share[a]
		h.low[a] = (1-l)*lo[a] + l*hi[a] + c.low.off[a]
		h.high[a] = (1-r)*lo[a] + r*hi[a] + c.high.off[a]
	}
	return h
}

func (h *hull) off(at [3]float64) (o [3]float64) {
	for a := range 3 {
		o[a] = max(0, max(h.low[a]-at[a], at[a]-h.high[a]))
	}
	return o
}

// depth is how deep a place is within a hull; below 0 it is not.
func (h *hull) depth(at *[3]float64) float64 {
	by := math.Inf(1)
	for a := range 3 {
		by = min(by, min(at[a]-h.low[a], h.high[a]-at[a]))
	}
	return by
}

// widen is a hull grown by so much on all sides.
func (h *hull) widen(by float64) (g hull) {
	for a := range 3 {
		g.low[a], g.high[a] = h.low[a]-by, h.high[a]+by
	}
	return g
}

func (h *hull) holds(at *[3]float64) bool {
	return at[0] >= h.low[0] && at[0] <= h.high[0] && at[1] >= h.low[1] && at[1] <= h.high[1] && at[2] >= h.low[2] && at[2] <= h.high[2]
}

func (h *hull) meets(g *hull) bool {
	return g.high[0] >= h.low[0] && g.low[0] <= h.high[0] && g.high[1] >= h.low[1] && g.low[1] <= h.high[1] && g.high[2] >= h.low[2] && g.low[2] <= h.high[2]
}
