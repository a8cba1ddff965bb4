package largest

import (
	"fmt"
	"math"

	"elbowroom/clearance"
)

// halve takes back the dues that forbid a box that clears: of room that may stand in
// many ways what was seen beside one box need not hold beside another. In their place no
// box may be farther than half the way from there to one that does not clear; wrong asks
// for that in any case.
func (o *owed) halve(good, bad clearance.Stand, wrong bool) {
	for i := range o.dues {
		c := &o.dues[i]
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
	c := due{at: bad, short: far / 2, clearance: -far / 2}
	for a := range 3 {
		c.faces[a], c.faces[a+3] = -low[a]/far, -high[a]/far
	}
	o.put(clearance.Pair{Feature: fmt.Sprint("half way ", len(o.dues))}, c)
}

// void makes a due ask for nothing.
func (c *due) void() {
	c.faces, c.u, c.gap, c.short, c.clearance = [2 * 3]float64{}, 0, 0, -1, 1
}

// whole takes the halves back: what is left is what was seen.
func (o *owed) whole() {
	for i := range o.dues {
		if o.dues[i].name == "" {
			o.dues[i].void()
		}
	}
}
