package survey

import (
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/survey/network"
)

// Adjustment is how well the readings agree, and how strong each of them is.
// The zero Adjustment is of no readings.
type Adjustment struct {
	// Readings are in the order of Space.Rows; the row of a shared error has a
	// zero Strength.
	Readings []Strength
	// VarianceFactor is the sum of squares of the residuals over their standard
	// uncertainty, over Redundancy: about 1 where the limits are right. 0 with
	// no redundancy. No uncertainty is scaled by it.
	VarianceFactor float64
	// Redundancy is how many readings are more than it takes.
	Redundancy float64
	// Chance is the probability of residuals as great as these or greater,
	// where every reading is as good as its limit says. 1 with no redundancy.
	Chance float64
	// Repeats says how far readings of the same thing are apart.
	Repeats Repeats
}

// Strength is what the other readings say of one. Of a reading with several
// numbers it is of the one that stands out most.
type Strength struct {
	// Residual is fitted less read, mm.
	Residual float64
	// W is the residual in units of its own standard deviation; 0 where nothing
	// checks the reading.
	W          float64
	Redundancy float64
	// Seen is the least error, mm, that would be seen (internal reliability):
	// with a test that a right reading fails once in a thousand and a wrong one
	// four times in five. Infinite where nothing checks the reading.
	Seen float64
	// tie is the number of the network that this is of, from 1; 0 for one that
	// is in none.
	tie int
}

// Spread is how well a mark is known, in the mounting frame.
type Spread struct {
	U r3.Vector // standard uncertainties along x, y, z, mm
	// Worst is that in the direction in which it is greatest, and Toward that.
	Worst  float64
	Toward r3.Vector
}

// seenBy is the root of the non-centrality that a test of one reading at 0.001,
// two-sided, needs to find an error with a power of 0.80: 3.2905 + 0.8416
// (Baarda 1968; the sum gives his 4.13).
const seenBy = 3.2905 + 0.8416

// critical is the two-sided 0.001 point of the normal distribution.
const critical = 3.2905

// strengths fills in Space.Adjustment.
func (a *adjuster) strengths() {
	s := a.space
	s.checked = a.checkedSources()
	out := Adjustment{Readings: make([]Strength, len(s.Rows)), Chance: 1}
	for k := range out.Readings {
		out.Readings[k].Seen = math.Inf(1)
	}
	sum := 0.0
	take := func(source int, v, r float64, tie int) {
		row, u := s.sources[source].Row, s.sources[source].U
		sum += v * v / (u * u)
		out.Redundancy += r
		if s.Rows[row].Shared {
			return
		}
		out.Readings[row].take(v, u, r, tie)
	}
	for l := range a.residual {
		take(l, a.residual[l], a.strength[l], 0)
	}
	if s.net != nil {
		for l, v := range s.net.adjusted.Residuals {
			take(s.net.source[l], v, s.net.adjusted.Redundancy[l], l+1)
		}
	}
	// Redundancies add up to a whole number, but for rounding.
	out.Redundancy = math.Round(out.Redundancy)
	if out.Redundancy >= 1 {
		out.VarianceFactor = sum / out.Redundancy
		out.Chance = chiSquared(out.Redundancy, sum)
	}
	s.Adjustment = out
	a.countRepeats()
}

// take holds one number of a reading against what is there, and keeps the one
// that stands out more; among those that nothing checks, the first. Of one that
// the others hardly check the residual is the rounding of theirs: it stands out
// from none that they do check.
func (s *Strength) take(v, u, r float64, tie int) {
	w := 0.0
	if r > 0 {
		w = v / (u * math.Sqrt(r))
	}
	checks, checked := r >= leastChecked, s.Redundancy >= leastChecked
	switch {
	case checked && !checks:
		return
	case checks && !checked: // takes its place, whatever it is
	case s.Redundancy > 0 && math.Abs(w) <= math.Abs(s.W):
		return
	}
	*s = Strength{Residual: v, W: w, Redundancy: r, Seen: math.Inf(1), tie: tie}
	if r > 0 {
		s.Seen = seenBy * u / math.Sqrt(r)
	}
}

// Unseen is what an error of a reading does that just goes unseen (external
// reliability): the mark that it moves most, and by how much, mm, in the mounting
// frame. It is an error of Seen in the number that the reading's Strength is of.
// ok is false where nothing checks the reading, so that there is no such error.
func (s *Space) Unseen(row int) (mark int, moves float64, ok bool) {
	of := s.Adjustment.Readings[row]
	if math.IsInf(of.Seen, 1) || of.tie == 0 {
		return s.unseenAlone(row)
	}
	moved := make([]r3.Vector, len(s.net.marks))
	s.net.adjusted.Spreader().Moved(of.tie-1, moved)
	shift := s.frameShift(moved)
	mark = s.Rows[row].Mark
	for k, m := range s.net.marks {
		if by := shift(m, moved[k]).Norm() * of.Seen; by > moves {
			mark, moves = m, by
		}
	}
	return mark, moves, true
}

// frameShift takes moves of the network's marks, in the file's axes, to those in
// the mounting frame: the frame moves with its own marks, by the small turn t
// that raw derives, so that its origin stays where it is.
func (s *Space) frameShift(moved []r3.Vector) func(mark int, by r3.Vector) r3.Vector {
	f := s.frame
	if f == nil {
		return func(_ int, by r3.Vector) r3.Vector { return by }
	}
	of := func(m int) r3.Vector {
		if k, ok := s.net.at(m); ok {
			return moved[k]
		}
		return r3.Vector{}
	}
	var t r3.Vector
	for j, m := range f.fitted {
		tilt := f.turn(f.plane.Tilt(j)).Mul(of(m).Dot(f.z))
		t.X -= tilt.X
		t.Y -= tilt.Y
	}
	origin := of(f.origin)
	t.Z = (t.X*f.reach.Z - of(f.toward).Sub(origin).Dot(f.y)) / f.reach.X
	return func(m int, by r3.Vector) r3.Vector {
		return f.turn(by.Sub(origin)).Add(t.Cross(s.Marks[m].At))
	}
}

// unseenAlone is Unseen of a reading outside the network: a repeat moves its
// mark by what does not show of it.
func (s *Space) unseenAlone(row int) (mark int, moves float64, ok bool) {
	of := s.Adjustment.Readings[row]
	if math.IsInf(of.Seen, 1) {
		return s.Rows[row].Mark, 0, false
	}
	return s.Rows[row].Mark, of.Seen * (1 - of.Redundancy), true
}

// Spread is how well a mark is known, in the mounting frame. The zero Spread is
// of a mark that has no place.
func (s *Space) Spread(m int) Spread {
	if !s.Marks[m].Located {
		return Spread{}
	}
	var c [3][3]float64
	block := s.Covariance(m, m)
	for i := range c {
		for j := range c {
			c[i][j] = block.At(i, j)
		}
	}
	values, directions := network.Eigen3(c)
	root := func(v float64) float64 { return math.Sqrt(math.Max(0, v)) }
	return Spread{U: r3.Vector{X: root(c[0][0]), Y: root(c[1][1]), Z: root(c[2][2])}, Worst: root(values[0]), Toward: directions[0]}
}
