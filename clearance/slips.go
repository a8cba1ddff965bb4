package clearance

import (
	"math"
	"sort"

	"github.com/golang/geo/r3"

	"elbowroom/survey"
)

// aSlip is the size of slip of the hand that a single reading must withstand:
// an inch misread, the commonest.
const aSlip = 25.4

// slip is a reading that nothing checks, and how far the clearance moves for
// each millimetre that it is off in its worst direction.
type slip struct {
	row int
	by  float64
	// figure is the one that it decides: the line's own or a rival.
	value float64
	u     float64
}

// slipsOf lists the unchecked readings that decide a figure.
func (c *checker) slipsOf(f figure, into []slip) []slip {
	sources := c.space.Sources()
	rows := c.rows[:0]
	for _, t := range f.terms {
		if t.Source >= len(sources) {
			break
		}
		s := sources[t.Source]
		pull := &c.pulls[s.Row]
		if *pull == (r3.Vector{}) {
			rows = append(rows, s.Row)
		}
		switch s.Axis {
		case 0:
			pull.X += t.By / s.U
		case 1:
			pull.Y += t.By / s.U
		default:
			pull.Z += t.By / s.U
		}
	}
	c.rows = rows
	for _, row := range rows {
		if by := c.unchecked(row, c.pulls[row]); by > 0 {
			into = append(into, slip{row, by, f.value, f.u})
		}
		c.pulls[row] = r3.Vector{}
	}
	return into
}

// unchecked is what is left of a reading's pull when all that shows elsewhere
// is taken off: nothing where a repeat checks it, and what lies along a flat's
// normal where the flat's other marks do.
func (c *checker) unchecked(row int, pull r3.Vector) float64 {
	r := c.space.Rows[row]
	if r.Redundancy >= survey.LeastRedundancy || r.Shared {
		return 0
	}
	for _, normal := range r.Flats {
		pull = pull.Sub(normal.Mul(pull.Dot(normal)))
	}
	// Under a hundredth, an inch moves the clearance by a quarter of a
	// millimetre: below any reading's limit.
	if pull.Norm() < 0.01 {
		return 0
	}
	return pull.Norm()
}

// undoing lists the readings whose slip would undo a line that clears.
func (c *checker) undoing(d *draft) []Reading {
	var out []Reading
	seen := map[int]bool{}
	slips := c.slipsOf(d.main, nil)
	for _, r := range d.rivals {
		slips = c.slipsOf(r, slips)
	}
	sort.SliceStable(slips, func(i, j int) bool { return slips[i].by > slips[j].by })
	for _, s := range slips {
		left := figure{value: s.value - s.by*aSlip, u: s.u}
		if seen[s.row] || left.probability(d.line.Gap) >= c.rules.Sure {
			continue
		}
		seen[s.row] = true
		r := c.space.Rows[s.row]
		out = append(out, Reading{Mark: c.space.Marks[r.Mark].Name, Tape: c.shareOf(r).Tape, Pos: r.Pos, row: s.row})
	}
	return out
}

// shares lists what a line's variance is made of, greatest first.
func (c *checker) shares(f figure) []Share {
	sources := c.space.Sources()
	at := map[Share]int{}
	var shares []Share
	for _, t := range f.terms {
		var s Share
		if t.Source < len(sources) {
			s = c.shareOf(c.space.Rows[sources[t.Source].Row])
		} else {
			s.Limit, s.Of = c.making.limit(t.Source)
		}
		key := s
		if s.Mark != "" {
			key = Share{Mark: s.Mark} // all readings of a mark's coordinates together
		}
		i, ok := at[key]
		if !ok {
			i = len(shares)
			at[key] = i
			shares = append(shares, s)
		}
		shares[i].U = math.Hypot(shares[i].U, t.By)
	}
	for i, s := range shares {
		u := rectangular(s.Limit)
		if m, ok := c.space.Mark(s.Mark); ok && s.Mark != "" {
			u = c.space.Uncertainty(m)
		} // a tape or a depth is one reading: its share goes with its own limit
		if u > 0 {
			shares[i].factor = s.U / u
		}
	}
	sort.SliceStable(shares, func(i, j int) bool { return shares[i].U > shares[j].U })
	return shares
}

// shareOf names the share of a reading.
func (c *checker) shareOf(row survey.Row) Share {
	name := func(m int) string { return c.space.Marks[m].Name }
	s := Share{Limit: row.Widest, Pos: row.Pos}
	switch {
	case row.Shared:
		s.Of, s.Limit = "the zero of the tape", 0
	case row.Kind == survey.Tapes:
		s.Tape = [2]string{name(row.Marks[0]), name(row.Marks[1])}
	case row.Kind == survey.Depths:
		s.Depth = name(row.Mark)
	default:
		s.Mark = name(row.Mark)
	}
	return s
}
