package survey

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"github.com/golang/geo/r3"
)

// whole is a survey of every kind: known marks on the wall, marks by tape, one
// of them from others by tape, and one by depth.
func whole(seed uint64) *bay {
	b := newBay(seed, 1).corners()
	for i := range 3 {
		name := fmt.Sprintf("T%d", i+1)
		b.blank("things", name, 100+130*float64(i), 60+80*float64(i), 120+40*float64(i))
		for k, from := range []string{"A", "B", "C", "D", "F"} {
			if k != i {
				b.tape(from, name)
			}
		}
	}
	b.blank("things", "T4", 230, 200, 260)
	for _, from := range []string{"T1", "T2", "T3", "F", "E"} {
		b.tape(from, "T4")
	}
	b.depth("things", "P", "A", "C", 200, 90, r3.Vector{Z: 1})
	b.tape("P", "T2")
	return b
}

// Stated uncertainty is true: over simulated surveys the marks' errors, squared
// and standardised by their covariance, are one a coordinate on average, and the
// 95 % ellipsoid (chi-squared with three degrees of freedom: 7.8147) holds the
// truth as often.
func TestStatedUncertaintyIsTrue(t *testing.T) {
	const ellipsoid = 7.8147
	n := trials(2000, 300)
	sum, inside, count := 0.0, 0, 0
	alarmed := 0
	for seed := range uint64(n) {
		b := whole(1000 + seed)
		s := b.adjust(t)
		for i, m := range s.Marks {
			if m.Name[0] < 'P' {
				continue // the marks by tape and by depth
			}
			d := m.At.Sub(b.truth[m.Name])
			var c mat.Dense
			require.NoError(t, c.Inverse(s.Covariance(i, i)))
			v := mat.NewVecDense(3, []float64{d.X, d.Y, d.Z})
			q := mat.Inner(v, &c, v)
			sum += q / 3
			count++
			if q <= ellipsoid {
				inside++
			}
		}
		for _, d := range s.Doubts {
			if d.Weight >= 15 {
				alarmed++
				break
			}
		}
	}
	mean, share := sum/float64(count), float64(inside)/float64(count)
	t.Logf("%d surveys: mean squared standardised error %.4f, inside %.4f, surveys with a false alarm %.4f (%d readings each)", n, mean, share, float64(alarmed)/float64(n), 20+18)
	assert.InDelta(t, 1, mean, 0.05)
	// 0.01 at full length; fewer surveys scatter by themselves (three standard
	// deviations, as if the marks of a survey were one).
	assert.InDelta(t, 0.95, share, math.Max(0.01, 3*math.Sqrt(0.95*0.05/float64(n)/2)))
}

// A survey in which every tenth reading is a slip, those of the base marks
// included: what is found, what is put right, and that no survey without an
// alarm is far off.
func TestManySlipsInOneSurvey(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 93))
	n := trials(150, 4)
	slips, found, mended, wrongly, quiet, far := 0, 0, 0, 0, 0, 0
	for range n {
		b := newBay(r.Uint64(), math.Sqrt(3))
		b.corners()
		for i := range 8 {
			name := fmt.Sprintf("T%d", i+1)
			b.blank("things", name, 60+380*r.Float64(), 40+250*r.Float64(), 60+200*r.Float64())
			for _, from := range []string{"A", "B", "C", "D", "E", "F"} {
				b.tape(from, name)
			}
			if i > 0 {
				b.tape(fmt.Sprintf("T%d", i), name)
			}
		}
		for _, pair := range [][2]string{{"A", "B"}, {"B", "C"}, {"C", "D"}, {"D", "A"}, {"A", "C"}, {"B", "D"}, {"F", "A"}, {"F", "B"}, {"F", "C"}, {"F", "D"}, {"E", "A"}, {"E", "B"}, {"E", "F"}} {
			b.tape(pair[0], pair[1])
		}
		wrong := map[int]Coordinate{}
		for i := range b.readings.Tapes {
			l := &b.readings.Tapes[i].Length
			pos := l.Pos
			*l = inchCell(sixteenths(l.Value))
			l.Pos = pos
			if r.Float64() > 0.1 {
				continue
			}
			for {
				kind := r.IntN(kinds)
				if kind == wrongMarkKind {
					continue
				}
				if text, ok := misreading(r, kind, l.Text, nil); ok && text != l.Text {
					wrong[i] = *l
					*l = inchCell(text)
					l.Pos = pos
					break
				}
			}
		}
		for i := range b.readings.Points {
			for axis := range 3 {
				if c := &b.readings.Points[i].At[axis]; c.Given && r.Float64() < 0.1 {
					c.Value += 25.4
					c.Text = ""
					wrong[-1-3*i-axis] = Coordinate{}
				}
			}
		}
		s, err := Adjust(b.readings)
		if err != nil {
			continue
		}
		slips += len(wrong)
		raised := 0
		for _, d := range s.Doubts {
			if !strings.Contains(d.Says, "ake it again") && !strings.Contains(d.Says, "one of these is wrong") {
				continue // of another search
			}
			raised++
			was, ok := wrong[d.Pos.Line-2]
			if d.Pos.File == "points.csv" {
				ok = false
				for axis := range 3 {
					_, hit := wrong[-1-3*(d.Pos.Line-2)-axis]
					ok = ok || hit
				}
			}
			switch {
			case !ok:
				wrongly++
			case math.Abs(inchesOr(d.Suggests)-was.Value) < math.Sqrt(3):
				mended++
				found++
			default:
				found++
			}
		}
		if raised == 0 {
			quiet++
			for i, m := range s.Marks {
				if m.At.Sub(b.truth[m.Name]).Norm() > 4*s.Spread(i).Worst {
					far++
				}
			}
		}
	}
	t.Logf("%d surveys, %d slips: %d found, %d of them put right; %d right readings suspected; %d surveys without an alarm, %d marks in them far off", n, slips, found, mended, wrongly, quiet, far)
	assert.Zero(t, far)
	assert.Greater(t, float64(found), 0.7*float64(slips))
	assert.Less(t, float64(wrongly), 0.2*float64(slips))
}
