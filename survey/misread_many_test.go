package survey

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// small is a survey of one mark by six tapes, from a base that is taped itself
// or not. Every tenth reading is a slip, of the smallest kinds: of a tape in its
// fraction, of a base coordinate by an eighth of an inch to a half.
func small(r *rand.Rand, taped bool) (b *bay, slips int) {
	b = newBay(r.Uint64(), math.Sqrt(3)) // u = 1 mm
	b.corners()
	b.blank("things", "T", 60+380*r.Float64(), 40+250*r.Float64(), 60+200*r.Float64())
	for _, from := range []string{"A", "B", "C", "D", "E", "F"} {
		b.tape(from, "T")
	}
	if taped {
		for _, pair := range baseTapes {
			b.tape(pair[0], pair[1])
		}
	}
	for i := range b.readings.Tapes {
		l := &b.readings.Tapes[i].Length
		pos := l.Pos
		*l = inchCell(sixteenths(l.Value))
		if r.Float64() < 0.1 {
			wrong, _, _, ok := of([]string{"terms", "size", "dropped"})(r, *l, nil)
			if ok && wrong != l.Text {
				*l = inchCell(wrong)
				slips++
			}
		}
		l.Pos = pos
	}
	for i := range b.readings.Points {
		for axis := range 3 {
			if c := &b.readings.Points[i].At[axis]; c.Given && r.Float64() < 0.1 {
				c.Value += float64(1-2*r.IntN(2)) * 25.4 / float64(int(2)<<r.IntN(3))
				c.Text = ""
				slips++
			}
		}
	}
	return b, slips
}

// baseTapes check the base marks of corners.
var baseTapes = [][2]string{{"A", "B"}, {"B", "C"}, {"C", "D"}, {"D", "A"}, {"A", "C"}, {"B", "D"}, {"F", "A"}, {"F", "B"}, {"F", "C"}, {"F", "D"}, {"E", "A"}, {"E", "B"}, {"E", "F"}}

// unchecked says that one of a mark's tapes, or a coordinate of a mark that it
// is taped from, is among those that the survey lists as not checked.
func unchecked(s *Space, name string) bool {
	from := map[string]bool{name: true}
	for _, row := range s.Rows {
		if row.Kind == Tapes && s.Marks[row.Mark].Name == name {
			from[s.Marks[row.Marks[0]].Name] = true
			if row.Redundancy < LeastRedundancy {
				return true
			}
		}
	}
	for _, row := range s.Rows {
		if row.Kind == Points && from[s.Marks[row.Mark].Name] && row.Widest > 0 && row.Redundancy < LeastRedundancy {
			return true
		}
	}
	return false
}

// unseen is the most that an error does to a mark that just goes unseen, as the
// survey states it: that of any reading.
func unseen(s *Space) (most float64) {
	for row := range s.Rows {
		if _, moves, ok := s.Unseen(row); ok {
			most = math.Max(most, moves)
		}
	}
	return most
}

// Where slips are small or little checks them, a survey may show no doubt. Its
// mark is then no farther off than its uncertainty and what the survey says that
// a slip may do to it unseen. Where all its readings count as checked, that is
// seldom beyond four times its uncertainty: one in 109 with -long, at 4.5; where
// the base is not taped, so that all say that they are not checked, 38 in 492.
func TestQuietSurveys(t *testing.T) {
	const farOff = 4 // in worst u: one in fifteen thousand by chance
	for _, taped := range []bool{true, false} {
		r := rand.New(rand.NewPCG(11, 93))
		n := trials(1000, 20)
		quiet, slipped, checked, farChecked, farUnchecked, beyond := 0, 0, 0, 0, 0, 0
		worst := 0.0
		for range n {
			b, slips := small(r, taped)
			s, err := Adjust(b.readings)
			if err != nil || alarmed(s) {
				continue
			}
			quiet++
			if slips > 0 {
				slipped++
			}
			k, _ := s.Mark("T")
			off, u := s.Marks[k].At.Sub(b.truth["T"]).Norm(), s.Spread(k).Worst
			isFar := off > farOff*u
			if unchecked(s, "T") {
				if isFar {
					farUnchecked++
				}
			} else {
				checked++
				worst = math.Max(worst, off/u)
				if isFar {
					farChecked++
				}
			}
			if off > farOff*u+unseen(s) {
				beyond++
			}
		}
		t.Logf("base taped %v: %d surveys, %d without an alarm, %d of them with slips; T checked in %d, off by %.1f u at worst, far off in %d; not checked in %d, far off in %d; beyond what may go unseen in %d",
			taped, n, quiet, slipped, checked, worst, farChecked, quiet-checked, farUnchecked, beyond)
		assert.LessOrEqual(t, float64(farChecked), 0.02*float64(checked), "base taped %v", taped)
		assert.Zero(t, beyond, "base taped %v", taped)
		if *long {
			assert.Positive(t, slipped)
		}
	}
}

// alarmed says that a survey doubts a reading.
func alarmed(s *Space) bool {
	for _, d := range s.Doubts {
		if strings.Contains(d.Says, "ake it again") || strings.Contains(d.Says, "one of these is wrong") {
			return true
		}
	}
	return false
}
