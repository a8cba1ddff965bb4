package network

import "github.com/golang/geo/r3"

// Lean is how a tie's direction turns with a mark, where it is known in axes
// that hang on marks: a small turn (right-handed, in radians) whose part along
// x, y, z is By of that axis times what the mark is off At. The turns of all
// leans of a tie add up.
type Lean struct {
	Mark int
	At   r3.Vector
	By   [3]r3.Vector
}

// dir is the tie's direction with the marks at p, right to first order.
func (t *Tie) dir(p []r3.Vector) r3.Vector {
	var turn r3.Vector
	for _, l := range t.Leans {
		off := p[l.Mark].Sub(l.At)
		turn = turn.Add(r3.Vector{X: l.By[0].Dot(off), Y: l.By[1].Dot(off), Z: l.By[2].Dot(off)})
	}
	return t.Dir.Add(turn.Cross(t.Dir))
}

// lean adds to dst what the leans do, for a value that changes by h times the
// change of the direction: h · (turn x Dir) = turn · (Dir x h).
func (t *Tie) lean(h r3.Vector, dst []pull) []pull {
	g := t.Dir.Cross(h)
	for _, l := range t.Leans {
		dst = merge(dst, pull{l.Mark, l.By[0].Mul(g.X).Add(l.By[1].Mul(g.Y)).Add(l.By[2].Mul(g.Z))})
	}
	return dst
}

// merge adds a pull to its block's own, so that no block stands twice in a row.
func merge(row []pull, p pull) []pull {
	for k := range row {
		if row[k].block == p.block {
			row[k].by = row[k].by.Add(p.by)
			return row
		}
	}
	return append(row, p)
}
