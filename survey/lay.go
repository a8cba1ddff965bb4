package survey

import (
	"github.com/golang/geo/r3"

	"elbowroom/survey/network"
)

// Lay is a straightedge laid from one mark to another, and a rule square to it
// held to a third: a depth as it may be taken, by the marks' numbers.
type Lay struct {
	Mark, From, To int
	// Toward is the way that the rule goes, of length 1, in the mounting frame, as
	// in Depth.
	Toward r3.Vector
}

// ties are the three numbers of it in the order of Source.Axis, between the
// three marks alone, in the order of its fields.
func (l Lay) ties() (out [3]network.Tie) {
	for axis := range out {
		out[axis] = network.Tie{Kind: network.Along + network.TieKind(axis), Mark: 0, From: 1, To: 2, Dir: l.Toward}
	}
	return out
}

// marks are its three marks, and their places.
func (l Lay) marks(s *Space) (marks [3]int, at [3]r3.Vector) {
	marks = [3]int{l.Mark, l.From, l.To}
	for k, m := range marks {
		at[k] = s.Marks[m].At
	}
	return marks, at
}

// Reads is what it would read by the marks as they are known, mm: how far along
// the straightedge from From, how far the rule goes, and how far the mark stands
// aside from it, which must be next to nothing for the rule to get there.
func (l Lay) Reads(s *Space) (along, probe, aside float64) {
	_, at := l.marks(s)
	ties := l.ties()
	return ties[0].Reads(at[:]), ties[1].Reads(at[:]), ties[2].Reads(at[:])
}

// Gradients are how these three move with the marks, in the mounting frame: the
// rule's direction stands there.
func (l Lay) Gradients(s *Space) (out [3]Gradient) {
	marks, at := l.marks(s)
	ties := l.ties()
	for axis := range ties {
		for _, move := range ties[axis].Moves(at[:]) {
			out[axis] = append(out[axis], Pull{marks[move.Mark], move.By})
		}
	}
	return out
}
