package survey

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/golang/geo/r3"

	"elbowroom/survey/length"
	"elbowroom/survey/network"
	"elbowroom/survey/slip"
	"elbowroom/survey/table"
)

// option is what a reading may have been meant to say.
type option struct {
	name  string
	text  string    // of the cell, as it should be
	pos   table.Pos // of that cell
	miss  float64   // of what the rest makes of it, in standard deviations
	alone float64   // twice its negative log-likelihood
	cost  float64   // the same of all that are within the limit of it
	value float64   // of the text, mm; of a mark 0
}

// cost is that of the likeliest option.
func (f found) cost() float64 {
	if len(f.options) == 0 {
		return unexplained
	}
	return math.Min(unexplained, f.options[0].cost)
}

// explained says that the likeliest option is likelier than a slip that is in no
// catalogue. The more usual a slip, the farther off by chance it may leave the
// reading.
func (f found) explained() bool {
	return len(f.options) > 0 && f.options[0].cost < unexplained
}

// nothingKnown is from how many times its own uncertainty on the rest knows a
// reading too badly for what fits it to mean anything: with 1 mm it is an inch.
const nothingKnown = 25

// explain holds all that a reading may have been meant to say against the rest,
// adjusted without it; likeliest first.
func (s *search) explain(l int, rest *network.Adjusted) found {
	f := found{tie: l}
	tie := s.ties[l]
	var u float64
	f.fitted, u = rest.Fitted(l)
	f.u = math.Hypot(u, tie.U)
	if f.u > nothingKnown*tie.U {
		return f // without it a mark is free: anything would fit
	}
	read, _ := s.read(l)
	f.options = s.options(l, f.fitted, f.u)
	s.byHabit(l, read, f.options)
	pool(f.options, tie.U*math.Sqrt(3)) // the limit that has this standard uncertainty
	f.options = append(f.options, s.wrongMarks(l, rest, f.u)...)
	slices.SortStableFunc(f.options, func(a, b option) int {
		return cmp.Or(cmp.Compare(a.cost, b.cost), cmp.Compare(a.alone, b.alone))
	})
	return f
}

// options are what the text of a reading may have been meant to say, against what
// the rest makes of it and the uncertainty of their difference; whoever wrote it.
func (s *search) options(l int, fitted, u float64) (out []option) {
	read, shift := s.read(l)
	for _, c := range s.meanings(l, read) {
		miss := (c.Value + shift - fitted) / u
		out = append(out, option{name: c.Name, text: c.Text, pos: read.Pos, miss: math.Abs(miss), alone: miss*miss - 2*math.Log(c.Prior), value: c.Value})
	}
	return out
}

// read is the cell of a tie, and what its limit adds to it.
func (s *search) read(l int) (c Coordinate, shift float64) {
	row, axis := s.nets.rows[l], s.nets.axes[l]
	switch s.space.Rows[row].Kind {
	case Points:
		for i, r := range s.rowOf {
			if r == row {
				p := s.readings.Points[i]
				return p.At[axis], p.Limit.Shift()
			}
		}
	default:
		t := s.tieRow(row)
		if t.kind == Tapes {
			tape := s.readings.Tapes[t.of]
			return tape.Length, tape.Limit.Shift()
		}
		d := s.readings.Depths[t.of]
		if axis == 0 {
			return d.Along, 0
		}
		return d.Probe, d.Limit.Shift()
	}
	return c, 0
}

func (s *search) tieRow(row int) tieRow {
	for _, t := range s.adjuster.ties {
		if t.row == row {
			return t
		}
	}
	return tieRow{}
}

// catalogue lists the slips of a cell; of a coordinate its sign as well.
func (s *search) catalogue(l int, c Coordinate) []slip.Slip {
	unit, comma, ok := unitOf(c)
	if !ok {
		return nil
	}
	list := slip.Catalogue(c.Text, c.Value, unit, comma)
	if s.ties[l].Kind == network.Offset {
		if sign, ok := slip.Sign(c.Text, c.Value, unit, comma); ok {
			list = append(list, sign)
		}
	}
	return list
}

// unitOf finds the unit of bare numbers that makes a cell's text its value.
func unitOf(c Coordinate) (unit length.Unit, comma, ok bool) {
	comma = strings.Contains(c.Text, ",")
	for u := length.MM; u <= length.Foot; u++ {
		if v, err := length.Parse(c.Text, u, comma); err == nil && math.Abs(v-c.Value) < 1e-6 { // the shop's limit of reaching, mm
			return u, comma, true
		}
	}
	return unit, comma, false
}

// wrongMark is the share of slips that took a mark for another, for all marks
// that it may be taken for together (own judgement, as the catalogue's).
const wrongMark = 0.05

// wrongMarks are the marks that a tape's end may have been taken for. known is
// how well the rest knows the reading.
func (s *search) wrongMarks(l int, rest *network.Adjusted, known float64) []option {
	tie := s.ties[l]
	if tie.Kind != network.Distance {
		return nil
	}
	t := s.readings.Tapes[s.tieRow(s.nets.rows[l]).of]
	var names []string
	for _, m := range s.space.Marks {
		if m.Located {
			names = append(names, m.Name)
		}
	}
	var out []option
	var weights []float64
	all := 0.0
	for end, name := range [2]string{t.From, t.To} {
		pos, stays := t.FromPos, s.byName[t.To]
		if end == 1 {
			pos, stays = t.ToPos, s.byName[t.From]
		}
		for _, other := range slip.WrongMarks(name, names) {
			m, ok := s.byName[other.Name]
			if !ok || m == stays {
				continue
			}
			far, u := s.placeIn(rest, m)
			from, v := s.placeIn(rest, stays)
			way := far.Sub(from)
			off := tie.U*tie.U + varianceAlong(u, way.Normalize()) + varianceAlong(v, way.Normalize())
			miss := math.Abs(way.Norm()-tie.Value) / math.Sqrt(off)
			// The worse that distance is known, the more often it fits by chance.
			alone := miss*miss + math.Log(off/(known*known))
			out = append(out, option{name: fmt.Sprintf("%s taken for %s", other.Name, name), text: other.Name, pos: pos, miss: miss, alone: alone})
			weights = append(weights, other.Weight)
			all += other.Weight
		}
	}
	for i, weight := range weights {
		out[i].alone -= 2 * math.Log(wrongMark*weight/all)
		out[i].cost = out[i].alone
	}
	return out
}

// placeIn is where a mark is in the axes of the network, and its covariance.
func (s *search) placeIn(rest *network.Adjusted, m int) (r3.Vector, [9]float64) {
	if k := s.nets.of[m]; k != network.None {
		return rest.At[k], rest.Block(k, k)
	}
	v := s.space.Uncertainty(m) * s.space.Uncertainty(m) // its root mean square over the three directions
	return s.rawPlace(m), [9]float64{0: v, 4: v, 8: v}
}

// varianceAlong is that of a place along a direction.
func varianceAlong(c [9]float64, d r3.Vector) float64 {
	across := r3.Vector{X: c[0]*d.X + c[1]*d.Y + c[2]*d.Z, Y: c[3]*d.X + c[4]*d.Y + c[5]*d.Z, Z: c[6]*d.X + c[7]*d.Y + c[8]*d.Z}
	return across.Dot(d)
}

// rawPlace is where a mark is in the file's axes.
func (a *adjuster) rawPlace(m int) r3.Vector {
	f := a.space.frame
	if f == nil {
		return a.space.Marks[m].At
	}
	return f.from.Add(f.back(a.space.Marks[m].At))
}

// tell doubts a reading that looks wrong.
func (s *search) tell(f found) {
	row := s.space.Rows[s.nets.rows[f.tie]]
	read, shift := s.read(f.tie)
	off := read.Value + shift - f.fitted
	d := Doubt{Pos: read.Pos, Weight: 15 + math.Min(math.Abs(off)/f.u, 1000)/100}
	if d.Pos.Line == 0 {
		d.Pos = row.Pos
	}
	way := "more"
	if off < 0 {
		way = "less"
	}
	what := fmt.Sprintf("%s reads %s, %s %s than the other readings make it, which explain %s", s.called(f.tie), read.Text, s.readings.Style.Print(length.Place(math.Abs(off))), way, s.length(critical*f.u))
	if f.explained() && math.Abs(off) <= critical*f.u { // as likelySlip finds it
		what += " at most, but a slip explains it far better"
	}
	if len(f.rivals) > 1 {
		d.Says = s.unnamed(f) + s.firstAndLast(f.rivals)
		if f.explained() {
			o := f.options[0]
			d.Pos, d.Suggests = o.pos, o.text
			d.Says += fmt.Sprintf("; likeliest is %s for %s: %s", o.text, s.called(f.tie), o.name)
		}
		s.doubt(d)
		return
	}
	if f.explained() {
		o := f.options[0]
		d.Pos, d.Suggests = o.pos, o.text
		d.Says = fmt.Sprintf("%s; as %s it would be off by %s: %s? Take it again", what, o.text, s.readings.Style.Print(length.Place(o.miss*f.u)), o.name)
	} else {
		d.Says = what + ": take it again"
	}
	d.Says += s.firstAndLast([]int{f.tie})
	s.doubt(d)
}

// unnamed says that a slip is seen and cannot be named.
func (s *search) unnamed(f found) string {
	why := "they check each other with only one reading to spare"
	if f.freedom > 1 {
		why = "the others fit with any of them left out"
	}
	return fmt.Sprintf("one of these is wrong, and which cannot be told, as %s: %s; take them again, or add a tape", why, s.list(f.rivals))
}

// called names a reading: the tape from A to T, the y of B, the probe at P.
func (s *search) called(l int) string {
	row, axis := s.space.Rows[s.nets.rows[l]], s.nets.axes[l]
	name := s.space.Marks[row.Mark].Name
	switch {
	case row.Kind == Points:
		return axisName(axis) + " of " + name
	case row.Kind == Tapes:
		return fmt.Sprintf("the tape from %s to %s", s.space.Marks[row.Marks[0]].Name, name)
	case axis == 0:
		return "along of " + name
	}
	return "the probe at " + name
}

// list names readings with their lines.
func (s *search) list(ties []int) string {
	var names []string
	for _, l := range ties {
		names = append(names, fmt.Sprintf("%s (line %d)", s.called(l), s.space.Rows[s.nets.rows[l]].Pos.Line))
	}
	return listed(names)
}
