package largest

import (
	"fmt"
	"math"

	"elbowroom/clearance"
)

// halve takes back the cuts that forbid a box that clears: of room that may stand in
// many ways what was seen beside one box need not hold beside another. In their place no
// box may be farther than half the way from there to one that does not clear; wrong asks
// for that in any case.
func (o *owed) halve(good, bad clearance.Stand, wrong bool) {
	for i := range o.cuts {
		c := &o.cuts[i]
		if c.short-c.moved(good) > reach && c.name != "" {
			c.void()
			wrong = true
		}
	}
	low, high := components(bad.Lo.Sub(good.Lo)), components(bad.Hi.Sub(good.Hi))
	far := math.Sqrt(bad.Lo.Sub(good.Lo).Norm2() + bad.Hi.Sub(good.Hi).Norm2())
	if !wrong || far < reach {
		return
	}
	c := cut{at: bad, short: far / 2, clearance: -far / 2}
	for a := range 3 {
		c.faces[a], c.faces[a+3] = -low[a]/far, -high[a]/far
	}
	o.put(clearance.Pair{Feature: fmt.Sprint("half way ", len(o.cuts))}, c)
}

// void makes a cut ask for nothing.
func (c *cut) void() {
	c.faces, c.u, c.gap, c.short, c.clearance = [2 * 3]float64{}, 0, 0, -1, 1
}

// whole takes the halves back: what is left is what was seen.
func (o *owed) whole() {
	for i := range o.cuts {
		if o.cuts[i].name == "" {
			o.cuts[i].void()
		}
	}
}
