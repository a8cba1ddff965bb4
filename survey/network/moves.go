package network

import "github.com/golang/geo/r3"

// Reads is what the tie would read with the marks at p, mm, without the error
// that it may share.
func (t *Tie) Reads(p []r3.Vector) float64 {
	alone := *t
	alone.Shared = 0
	return alone.value(p, nil)
}

// Moves are how far that moves for each mm that a mark moves from its place in p.
// What turns Dir is not among them.
func (t *Tie) Moves(p []r3.Vector) []Mover {
	alone := *t
	alone.Shared, alone.Leans = 0, nil
	var out []Mover
	for _, by := range alone.pulls(p, nil) {
		out = append(out, Mover{by.block, by.by})
	}
	return out
}
