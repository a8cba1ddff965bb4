package survey

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

// small is a survey of one mark by so many tapes, five or six, from a base that
// is taped itself or not. Every tenth reading is a slip, of the smallest kinds: of
// a tape in its fraction, of a base coordinate by an eighth of an inch to a half.
func small(r *rand.Rand, tapes int, taped bool) (b *bay, slips int) {
	b = newBay(r.Uint64(), math.Sqrt(3)) // u = 1 mm
	b.corners()
	b.blank("things", "T", 60+380*r.Float64(), 40+250*r.Float64(), 60+200*r.Float64())
	for _, from := range []string{"A", "B", "C", "D", "E", "F"}[:tapes] {
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

// Where slips are small or little checks them, a survey may show no doubt. It is
// unflagged where it neither suspects a reading nor says that little or nothing
// checks its mark. Of an unflagged one the mark may be farther off than its
// uncertainty says, as a slip may go unseen, but no farther than the survey says
// that such a slip may move it. Where the base is not taped all are flagged.
func TestQuietSurveys(t *testing.T) {
	const farOff = 4 // in worst u: one in fifteen thousand by chance
	for _, c := range []struct {
		tapes int
		taped bool
		long  int
	}{{5, true, 5000}, {6, true, 5000}, {5, false, 500}, {6, false, 500}} {
		t.Run(fmt.Sprintf("%d tapes, base taped %v", c.tapes, c.taped), func(t *testing.T) {
			t.Parallel()
			r := rand.New(rand.NewPCG(11, 93))
			n := trials(c.long, 40)
			quiet, flagged, slipped, far, farFlagged, beyond := 0, 0, 0, 0, 0, 0
			worst := 0.0
			for range n {
				b, slips := small(r, c.tapes, c.taped)
				s, err := Adjust(b.readings)
				if err != nil || suspects(s) {
					continue
				}
				quiet++
				k, _ := s.Mark("T")
				off, u := s.Marks[k].At.Sub(b.truth["T"]).Norm(), s.Spread(k).Worst
				moves := s.UnseenMoves()[k]
				if math.IsInf(moves, 1) {
					flagged++
					if off > farOff*u {
						farFlagged++
					}
					continue
				}
				if slips > 0 {
					slipped++
				}
				worst = math.Max(worst, off/u)
				if off > farOff*u {
					far++
					t.Logf("off by %.1f u with %d slips; unseen %.1f u", off/u, slips, moves/u)
				}
				if off > farOff*u+moves {
					beyond++
				}
			}
			t.Logf("%d surveys, %d without an alarm; %d of them say that little checks T, far off in %d; %d unflagged, %d of them with slips, off by %.1f u at worst, far off in %d, beyond what may go unseen in %d",
				n, quiet, flagged, farFlagged, quiet-flagged, slipped, worst, far, beyond)
			assert.Zero(t, beyond)
			if !c.taped {
				assert.Equal(t, quiet, flagged, "nothing checks the base")
			}
		})
	}
}

// suspects says that a survey suspects anything.
func suspects(s *Space) bool {
	return slices.ContainsFunc(s.Doubts, func(d Doubt) bool { return d.Severity == Suspect })
}
