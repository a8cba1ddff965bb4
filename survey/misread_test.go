package survey

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/survey/length"
	"elbowroom/survey/slip"
	"elbowroom/survey/table"
)

// sixteenths writes a length as it is read off an inch tape, to 1/16.
func sixteenths(mm float64) string {
	n := int(math.Round(mm / 25.4 * 16))
	whole, rest, den := n/16, n%16, 16
	for rest > 0 && rest%2 == 0 {
		rest, den = rest/2, den/2
	}
	switch {
	case rest == 0:
		return fmt.Sprint(whole)
	case whole == 0:
		return fmt.Sprintf("%d/%d", rest, den)
	}
	return fmt.Sprintf("%d %d/%d", whole, rest, den)
}

func inchCell(text string) Coordinate {
	v, err := length.Parse(text, length.Inch, false)
	if err != nil {
		panic(err)
	}
	return Coordinate{Value: v, Given: true, Text: text}
}

// misreading draws a slip of the hand: the kinds that people tell of, each as
// likely, with every outcome of a kind as likely. others are the distances that
// tapes from the marks beside the right one would read. ok is false where the
// kind cannot befall the text.
func misreading(r *rand.Rand, kind int, text string, others []float64) (wrong string, ok bool) {
	right := inchCell(text).Value
	n := int(math.Round(right / 25.4 * 16)) // sixteenths
	add := func(sixteenth int) (string, bool) {
		if n+sixteenth <= 0 {
			return "", false
		}
		return sixteenths(float64(n+sixteenth) * 25.4 / 16), true
	}
	sign := 1 - 2*r.IntN(2)
	whole, rest := n/16, n%16
	switch kind {
	case 0: // an inch burned
		return add(16 * sign)
	case 1: // ten
		return add(160 * sign)
	case 2: // a foot miscounted
		return add(192 * sign)
	case 3: // digits swapped
		if whole < 10 || whole%10 == whole/10 || whole%10 == 0 || whole > 99 {
			return "", false
		}
		return add(16 * ((whole%10)*10 + whole/10 - whole))
	case 4: // another numerator or denominator
		if rest == 0 {
			return "", false
		}
		num, den := rest, 16
		for num%2 == 0 {
			num, den = num/2, den/2
		}
		likely := []int{2 * num, 4 * num, num * 16 / den * 2, num * 16 / den / 2}
		to := likely[r.IntN(len(likely))]
		if to == rest || to == 0 || to >= 16 {
			return "", false
		}
		return add(to - rest)
	case 5: // the fraction dropped
		if rest == 0 {
			return "", false
		}
		return add(-rest)
	case 6: // read from the wrong side of the inch
		if rest == 0 || rest == 8 {
			return "", false
		}
		return add(16 - 2*rest)
	case 7: // from another mark
		return sixteenths(others[r.IntN(len(others))]), true
	case 8: // the tape's body not added
		return add(-16 * 3)
	default: // millimetres written as inches
		return fmt.Sprintf("%.0f", right), true
	}
}

// kinds is how many there are; wrongMarkKind is the one that is no length.
const (
	kinds         = 10
	wrongMarkKind = 7
)

// trial is one mark by so many tapes from known marks, one of them misread.
type trial struct {
	readings Readings
	wrong    int // the tape, or -1
	kind     int
	right    string
}

// trialBase are the marks that are known: four on the wall and two in front.
var trialBase = []r3.Vector{{}, {X: 500}, {X: 500, Y: 300}, {Y: 300}, {X: 240, Y: 330, Z: 220}, {X: 520, Y: 130, Z: 260}}

func newTrial(r *rand.Rand, tapes int, mix mix) trial {
	base := trialBase
	p := r3.Vector{X: 60 + 400*r.Float64(), Y: 40 + 250*r.Float64(), Z: 60 + 200*r.Float64()}
	t := trial{wrong: -1, readings: Readings{}}
	limit := length.Limit{Plus: math.Sqrt(3), Minus: math.Sqrt(3)} // u = 1 mm
	for i, b := range base {
		q := point("", fmt.Sprintf("K%d", i+1), b.X, b.Y, b.Z, 0)
		q.Pos = table.Pos{File: "points.csv", Line: i + 2, Column: 1}
		t.readings.Points = append(t.readings.Points, q)
	}
	names := []string{"K1", "K2", "K3", "K4", "K5", "K6"}
	order := r.Perm(len(base))[:tapes]
	for i, k := range order {
		text := sixteenths(p.Sub(base[k]).Norm() + r.NormFloat64()*math.Sqrt(1-25.4*25.4/256/12))
		at := table.Pos{File: "tape.csv", Line: i + 2, Column: 8}
		length := inchCell(text)
		length.Pos = at
		t.readings.Tapes = append(t.readings.Tapes, Tape{From: t.readings.Points[k].Mark, To: "T", Length: length, Limit: limit, Pos: at, FromPos: at, ToPos: at})
	}
	for mix != nil && t.wrong < 0 {
		i := r.IntN(tapes)
		tape := &t.readings.Tapes[i]
		var others []wrongEnd
		for _, like := range slip.WrongMarks(tape.From, names) {
			away := p.Sub(base[slices.Index(names, like.Name)]).Norm() + r.NormFloat64()*math.Sqrt(1-25.4*25.4/256/12)
			others = append(others, wrongEnd{like.Name, away, like.Weight})
		}
		wrong, right, kind, ok := mix(r, tape.Length, others)
		if !ok || wrong == tape.Length.Text {
			continue
		}
		t.wrong, t.right, t.kind = i, right, kind
		pos := tape.Length.Pos
		tape.Length = inchCell(wrong)
		tape.Length.Pos = pos
	}
	return t
}

// score runs trials: the share in which a slip was seen (or, with none, raised),
// and in which the first suggestion is what was read.
func score(r *rand.Rand, tapes, trials int, mix mix) (seen, named, mended float64, byKind [kinds][3]int) {
	for range trials {
		t := newTrial(r, tapes, mix)
		byKind[t.kind][0]++
		s, err := Adjust(t.readings)
		if err != nil { // geometry that cannot be is seen
			seen++
			byKind[t.kind][1]++
			continue
		}
		first := true
		for _, d := range s.Doubts {
			if d.Weight < 15 {
				continue
			}
			if first {
				seen++
				byKind[t.kind][1]++
				if mix != nil && d.Pos.Line == t.wrong+2 {
					named++
					if t.mends(d.Suggests) {
						mended++
						byKind[t.kind][2]++
					}
				}
			}
			first = false
		}
	}
	n := float64(trials)
	return seen / n, named / n, mended / n, byKind
}

// mends says whether a suggestion is what was read, to within the tape's limit.
func (t trial) mends(suggested string) bool {
	if t.kind == wrongMarkKind {
		return suggested == t.right
	}
	return math.Abs(inchesOr(suggested)-inchCell(t.right).Value) < math.Sqrt(3)
}

func inchesOr(text string) float64 {
	v, err := length.Parse(text, length.Inch, false)
	if err != nil {
		return math.NaN()
	}
	return v
}

// long runs the simulations at full length: minutes, not seconds.
var long = flag.Bool("long", false, "run the simulations at full length")

func trials(full, short int) int {
	if *long {
		return full
	}
	return short
}

// One misread tape among those of a mark: seen, and put right by the first
// suggestion. What hands do, and how often, nobody seems to have counted, so the
// slip is drawn in several ways.
//
// The targets are 0.96 and 0.91 with five tapes, 0.97 and 0.95 with six. Where
// slips within the reading's own limit count, or where many are of an eighth or a
// quarter of an inch, most of them are beyond any test: see TestBestPossible. The
// last two figures of a line hold what is reached of them; elsewhere the shares are held to what was measured with
// -long. Three standard deviations of the trials run are allowed for in the
// ordinary run.
//
// Of those told of, beyond the limit, with six tapes 0.951 are put right, which
// 4,000 trials cannot tell from the target: their standard deviation is 0.0035.
// It takes 12,000, of which the first 4,000 alone have 0.948.
func TestMisreadTapes(t *testing.T) {
	for _, c := range []struct {
		name                 string
		mix                  mix
		tapes                int
		seen, mended         float64
		wantSeen, wantMended float64
	}{
		{"told of, beyond the limit", beyond(of(toldKinds)), 5, 0.965, 0.917, 0.96, 0.91},
		{"told of, beyond the limit", beyond(of(toldKinds)), 6, 0.977, 0.951, 0.97, 0.95},
		{"listed, beyond the limit", beyond(of(listedKinds)), 5, 0.969, 0.928, 0.96, 0.91},
		{"listed, beyond the limit", beyond(of(listedKinds)), 6, 0.978, 0.960, 0.97, 0.95},
		{"told of", of(toldKinds), 5, 0.951, 0.903, 0, 0},
		{"told of", of(toldKinds), 6, 0.962, 0.932, 0, 0},
		{"listed", of(listedKinds), 5, 0.959, 0.916, 0, 0.91},
		{"listed", of(listedKinds), 6, 0.972, 0.953, 0.97, 0.95},
		{"by hand", byHand, 5, 0.938, 0.854, 0, 0},
		{"by hand", byHand, 6, 0.953, 0.902, 0, 0},
		{"by catalogue", byCatalogue, 5, 0.923, 0.752, 0, 0},
		{"by catalogue", byCatalogue, 6, 0.946, 0.805, 0, 0},
		{"equally", equally, 5, 0.933, 0.865, 0, 0},
		{"equally", equally, 6, 0.948, 0.910, 0, 0},
	} {
		r := rand.New(rand.NewPCG(uint64(c.tapes), 131))
		n := trials(4000, 30)
		if testing.Short() {
			n = 6 // under the race detector: nothing runs side by side in it
		}
		if c.mended < c.wantMended+0.002 {
			n = trials(12000, 30)
		}
		seen, named, mended, byKind := score(r, c.tapes, n, c.mix)
		t.Logf("%d tapes, %s: seen %.4f, named %.4f, mended %.4f; wrong marks %v", c.tapes, c.name, seen, named, mended, byKind[wrongMarkKind])
		spare := func(p float64) float64 { return 3 * math.Sqrt(p*(1-p)/float64(n)) }
		assert.Greater(t, seen, c.seen-spare(c.seen), "%d tapes, %s", c.tapes, c.name)
		assert.Greater(t, mended, c.mended-spare(c.mended), "%d tapes, %s", c.tapes, c.name)
		if *long {
			assert.GreaterOrEqual(t, seen, c.wantSeen, "%d tapes, %s", c.tapes, c.name)
			assert.GreaterOrEqual(t, mended, c.wantMended, "%d tapes, %s", c.tapes, c.name)
		}
	}
}

// Where no tape is misread, fewer than one mark in two hundred is doubted.
func TestFalseAlarms(t *testing.T) {
	for _, tapes := range []int{5, 6} {
		n := trials(6000, 200)
		alarms, _, _, _ := score(rand.New(rand.NewPCG(uint64(tapes), 132)), tapes, n, nil)
		t.Logf("%d tapes: false alarms %.4f", tapes, alarms)
		assert.Less(t, alarms, 0.005+3*math.Sqrt(0.005*0.995/float64(n)))
	}
}

// With one reading to spare all |w| are the same: a slip is seen, and every tape
// in which one would show at all is a suspect.
func TestOneToSpareIsSeenAndNotNamed(t *testing.T) {
	for seed := range uint64(10) {
		tr := newTrial(rand.New(rand.NewPCG(seed, 94)), 4, nil)
		tape := &tr.readings.Tapes[seed%4].Length
		pos := tape.Pos
		*tape = inchCell(sixteenths(tape.Value + 25.4))
		tape.Pos = pos
		s, err := Adjust(tr.readings)
		require.NoError(t, err)
		tapes := s.Adjustment.Readings[6:]
		most := 0.0
		for _, r := range tapes {
			most = math.Max(most, math.Abs(r.W))
		}
		if most < critical {
			continue // the slip is in a tape that nothing checks
		}
		require.NotEmpty(t, s.Doubts, "seed %d", seed)
		assert.Contains(t, s.Doubts[0].Says, "one of these is wrong, and which cannot be told, as they check each other with only one reading to spare: ", "seed %d", seed)
		for i, r := range tapes {
			if r.Redundancy >= leastChecked {
				assert.InEpsilon(t, most, math.Abs(r.W), 1e-6)
				assert.Contains(t, s.Doubts[0].Says, fmt.Sprintf("to T (line %d)", i+2), "seed %d", seed)
			}
		}
	}
}

// A burned inch is named, worded and suggested; the reading stays as it is.
func TestABurnedInchIsNamed(t *testing.T) {
	tr := newTrial(rand.New(rand.NewPCG(4, 95)), 6, nil)
	right := tr.readings.Tapes[2].Length
	tr.readings.Tapes[2].Length = inchCell(sixteenths(right.Value + 25.4))
	tr.readings.Tapes[2].Length.Pos = right.Pos
	s, err := Adjust(tr.readings)
	require.NoError(t, err)
	require.NotEmpty(t, s.Doubts)
	d := s.Doubts[0]
	assert.Equal(t, right.Text, d.Suggests)
	assert.Equal(t, right.Pos, d.Pos)
	assert.Contains(t, d.Says, " more than the other readings make it, which explain ")
	assert.Contains(t, d.Says, "as "+right.Text+" it would be off by ")
	assert.Contains(t, d.Says, "an inch burned? Take it again")
	row := s.Adjustment.Readings[8]
	assert.Greater(t, math.Abs(row.W), 3.29)
}

// The same in a survey of tapes alone, where every mark is unknown.
func TestASlipAmongTapesAloneIsFound(t *testing.T) {
	found := 0
	for seed := range uint64(20) {
		b := tapeOnly(seed, 1)
		for i := range b.readings.Tapes {
			l := &b.readings.Tapes[i].Length
			pos := l.Pos
			*l = inchCell(sixteenths(l.Value))
			l.Pos = pos
		}
		wrong := int(seed)
		l := &b.readings.Tapes[wrong].Length
		pos, right := l.Pos, l.Text
		*l = inchCell(sixteenths(l.Value + 25.4))
		l.Pos = pos
		s := b.adjust(t)
		require.NotEmpty(t, s.Doubts)
		named := strings.Contains(fmt.Sprint(says(s)), fmt.Sprintf("(line %d)", wrong+2))
		for _, d := range s.Doubts {
			named = named || d.Pos == pos
			if d.Suggests == right && d.Pos == pos {
				found++
			}
		}
		assert.True(t, named, "seed %d: %v", seed, says(s))
	}
	assert.GreaterOrEqual(t, found, 12)
}
