package survey

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/survey/length"
	"elbowroom/survey/table"
)

// bay is a made-up survey: marks with true places, and readings of them.
type bay struct {
	truth    map[string]r3.Vector
	readings Readings
	random   *rand.Rand
	within   float64 // the limit of all readings, mm
}

func newBay(seed uint64, within float64) *bay {
	return &bay{truth: map[string]r3.Vector{}, random: rand.New(rand.NewPCG(seed, 81)), within: within,
		readings: Readings{Features: []FeatureSpec{{Name: "wall", Shape: Face, Mount: true}, {Name: "things", Shape: Dots}}}}
}

// off is a reading's error: normal, with the limit's standard uncertainty.
func (b *bay) off() float64 { return b.random.NormFloat64() * b.within / math.Sqrt(3) }

func (b *bay) limit() length.Limit { return length.Limit{Plus: b.within, Minus: b.within} }

// known puts a mark with all coordinates.
func (b *bay) known(feature, mark string, x, y, z float64) {
	b.truth[mark] = r3.Vector{X: x, Y: y, Z: z}
	p := point(feature, mark, x+b.off(), y+b.off(), z+b.off(), b.within)
	p.Pos = table.Pos{File: "points.csv", Line: len(b.readings.Points) + 2, Column: 1}
	b.readings.Points = append(b.readings.Points, p)
}

// blank puts a mark without coordinates under a feature.
func (b *bay) blank(feature, mark string, x, y, z float64) {
	b.truth[mark] = r3.Vector{X: x, Y: y, Z: z}
	b.readings.Points = append(b.readings.Points, Point{Feature: feature, Mark: mark, Limit: b.limit(),
		Pos: table.Pos{File: "points.csv", Line: len(b.readings.Points) + 2, Column: 1}})
}

func (b *bay) tape(from, to string) {
	at := func(column int) table.Pos {
		return table.Pos{File: "tape.csv", Line: len(b.readings.Tapes) + 2, Column: column}
	}
	v := b.truth[to].Sub(b.truth[from]).Norm() + b.off()
	b.readings.Tapes = append(b.readings.Tapes, Tape{From: from, To: to, Limit: b.limit(), Pos: at(1), FromPos: at(1), ToPos: at(4),
		Length: Coordinate{Value: v, Given: true, Text: fmt.Sprintf("%.0f mm", v), Pos: at(7)}})
}

func (b *bay) depth(feature, mark, from, to string, along, probe float64, toward r3.Vector) {
	at := func(column int) table.Pos {
		return table.Pos{File: "depth.csv", Line: len(b.readings.Depths) + 2, Column: column}
	}
	e := b.truth[to].Sub(b.truth[from]).Normalize()
	n := toward.Sub(e.Mul(toward.Dot(e))).Normalize()
	side := e.Cross(n)
	b.truth[mark] = b.truth[from].Add(e.Mul(along + b.off())).Add(n.Mul(probe + b.off())).Add(side.Mul(b.off()))
	b.readings.Depths = append(b.readings.Depths, Depth{Feature: feature, Mark: mark, From: from, To: to, Limit: b.limit(), Toward: toward,
		Along: Coordinate{Value: along, Given: true, Text: fmt.Sprintf("%.0f mm", along)}, Probe: Coordinate{Value: probe, Given: true, Text: fmt.Sprintf("%.0f mm", probe)},
		Pos: at(1), MarkPos: at(2), FromPos: at(3), ToPos: at(4)})
}

// corners are five marks on the wall and one in front of it.
func (b *bay) corners() *bay {
	b.known("wall", "A", 0, 0, 0)
	b.known("wall", "B", 500, 0, 0)
	b.known("wall", "C", 500, 300, 0)
	b.known("wall", "D", 0, 300, 0)
	b.known("wall", "E", 250, 310, 0)
	b.known("", "F", 260, -40, 200)
	return b
}

func (b *bay) adjust(t testing.TB) *Space {
	t.Helper()
	s, err := Adjust(b.readings)
	require.NoError(t, err)
	return s
}

// near holds all marks against the truth, in their own uncertainty.
func (b *bay) near(t testing.TB, s *Space, times float64) {
	t.Helper()
	for _, m := range s.Marks {
		i, _ := s.Mark(m.Name)
		require.True(t, m.Located, m.Name)
		off := m.At.Sub(b.truth[m.Name])
		assert.Less(t, off.Norm(), times*s.Spread(i).Worst+1e-9, "%s is off by %v", m.Name, off)
	}
}

func TestMarksByTapeFromKnownOnes(t *testing.T) {
	for seed := range uint64(30) {
		b := newBay(seed, 1).corners()
		b.blank("things", "T1", 200, 150, 180)
		b.blank("things", "T2", 320, 90, 90)
		for _, from := range []string{"A", "B", "C", "D", "F"} {
			b.tape(from, "T1")
			b.tape("T2", from)
		}
		b.tape("T1", "T2")
		s := b.adjust(t)
		b.near(t, s, 5)
		assert.Equal(t, 5., s.Adjustment.Redundancy)
		m, _ := s.Mark("T1")
		assert.Equal(t, Tapes, s.Marks[m].From)
		assert.Less(t, s.Adjustment.VarianceFactor, 5.)
	}
}

// A mark in front of the wall by tapes from the wall alone: never behind it.
func TestTheSideOfTheFaceDecides(t *testing.T) {
	for seed := range uint64(20) {
		b := newBay(seed, 1)
		b.known("wall", "A", 0, 0, 0)
		b.known("wall", "B", 500, 0, 0)
		b.known("wall", "C", 500, 300, 0)
		b.blank("things", "T", 200, 150, 180)
		for _, from := range []string{"A", "B", "C"} {
			b.tape(from, "T")
		}
		b.near(t, b.adjust(t), 5)
	}
}

func TestMarksByDepth(t *testing.T) {
	for seed := range uint64(20) {
		b := newBay(seed, 1).corners()
		b.depth("things", "P", "A", "C", 250, 120, r3.Vector{Z: 1})
		b.depth("things", "", "P", "F", 40, 60, r3.Vector{X: 1})
		b.readings.Depths[1].Mark = ""
		b.truth["things#3"] = b.truth[""]
		s := b.adjust(t)
		b.near(t, s, 5)
		p, _ := s.Mark("P")
		assert.Equal(t, Depths, s.Marks[p].From)
	}
}

// moveEvery changes each reading by a step both ways, adjusts again, and holds
// the marks' moves against the terms.
func moveEvery(t *testing.T, b *bay, within float64) {
	t.Helper()
	s := b.adjust(t)
	const step = 1e-3
	spread := s.Spreader()
	for k, source := range s.Sources() {
		row := s.Rows[source.Row]
		if row.Shared {
			continue
		}
		var both [2]*Space
		for side, sign := range [2]float64{step, -step} {
			q := *b
			q.readings.Points = append([]Point(nil), b.readings.Points...)
			q.readings.Tapes = append([]Tape(nil), b.readings.Tapes...)
			q.readings.Depths = append([]Depth(nil), b.readings.Depths...)
			switch {
			case row.Kind == Points:
				q.readings.Points[row.Pos.Line-2].At[source.Axis].Value += sign
			case row.Kind == Tapes:
				q.readings.Tapes[row.Pos.Line-2].Length.Value += sign
			case source.Axis == 0:
				q.readings.Depths[row.Pos.Line-2].Along.Value += sign
			case source.Axis == 1:
				q.readings.Depths[row.Pos.Line-2].Probe.Value += sign
			default:
				continue
			}
			both[side] = q.adjust(t)
		}
		if both[0] == nil {
			continue
		}
		for m := range s.Marks {
			moved := both[0].Marks[m].At.Sub(both[1].Marks[m].At).Mul(source.U / (2 * step))
			for axis := range 3 {
				got := 0.0
				for _, term := range spread.Terms(Gradient{{m, unit(axis)}}) {
					if term.Source == k {
						got = term.By
					}
				}
				assert.InDelta(t, along(moved, axis), got, within, "%s along %d by line %d of %s", s.Marks[m].Name, axis, row.Pos.Line, row.Pos.File)
			}
		}
	}
}

// Figures' terms must be what the adjusted marks do. The residuals are next to
// nothing, so that what is of second order in them is as well.
func TestNetTermsAgainstMovedReadings(t *testing.T) {
	b := newBay(3, 1e-4).corners()
	b.blank("things", "T1", 200, 150, 180)
	for _, from := range []string{"A", "B", "C", "D", "F"} {
		b.tape(from, "T1")
	}
	b.depth("things", "P", "A", "T1", 80, 50, r3.Vector{Z: 1})
	b.depth("things", "Q", "P", "F", 80, 50, r3.Vector{Y: 1})
	b.tape("P", "Q")
	moveEvery(t, b, 1e-6)
}

// tapeOnly is a survey of tapes alone, in a frame by its marks.
func tapeOnly(seed uint64, within float64) *bay {
	b := newBay(seed, within)
	b.blank("wall", "B1", 0, 0, 0)
	b.blank("wall", "B2", 500, 0, 0)
	b.blank("wall", "B3", 480, 300, 0)
	b.blank("wall", "B4", 20, 280, 0)
	b.blank("things", "E1", 200, 150, 180)
	b.blank("things", "E2", 330, 60, 140)
	b.blank("things", "E3", 100, 40, 240)
	names := []string{"B1", "B2", "B3", "B4", "E1", "E2", "E3"}
	for i := range names {
		for j := range i {
			b.tape(names[j], names[i])
		}
	}
	b.readings.Frame = &Frame{Origin: "B1", XToward: "B2", OutToward: "E1", Pos: table.Pos{File: "job.yaml", Line: 7, Column: 8}}
	return b
}

func TestTapesAlone(t *testing.T) {
	for seed := range uint64(30) {
		b := tapeOnly(seed, 1)
		s := b.adjust(t)
		for _, m := range s.Marks {
			off := m.At.Sub(b.truth[m.Name])
			i, _ := s.Mark(m.Name)
			assert.Less(t, off.Norm(), 5*s.Spread(i).Worst+1e-9, "seed %d: %s off by %v", seed, m.Name, off)
		}
		assert.Equal(t, 21.-21+6, s.Adjustment.Redundancy)
		assert.InDelta(t, 0, s.Marks[0].At.Norm(), 1e-9)
		require.NotEmpty(t, s.Doubts)
		assert.Contains(t, s.Doubts[len(s.Doubts)-1].Says, "it is taken that B3 and B4 lie above the line from B1 to B2")
	}
}

// The frame hangs on the marks, and those on each other: terms against moved
// readings, in the frame.
func TestTapesAloneTerms(t *testing.T) { moveEvery(t, tapeOnly(4, 1e-4), 1e-6) }

// A depth along y tells a survey from its mirror image.
func TestADepthTellsTheMirrorImage(t *testing.T) {
	for _, y := range []float64{1, -1} {
		b := tapeOnly(5, 0.5)
		for name, p := range b.truth {
			p.Y *= y
			b.truth[name] = p
		}
		b.depth("things", "P", "B1", "B2", 150, 90, r3.Vector{Y: 1})
		b.tape("P", "B4")
		b.tape("P", "E1")
		s := b.adjust(t)
		b.near(t, s, 6)
	}
}

// A mark of the face that only a depth places goes with the picture either way:
// it is no reason to ask which way up that is.
func TestADepthPlacedMarkHasNoSay(t *testing.T) {
	for seed := range uint64(10) {
		for _, y := range []float64{1, -1} {
			b := tapeOnly(seed, 0.5)
			b.depth("wall", "P", "B1", "B2", 150, 600, r3.Vector{Y: y})
			b.near(t, b.adjust(t), 6)
		}
	}
}

func TestSharedZeroOfAFile(t *testing.T) {
	b := newBay(9, 0.2).corners()
	b.blank("things", "T1", 200, 150, 180)
	for _, from := range []string{"A", "B", "C", "D", "E", "F"} {
		b.tape(from, "T1")
	}
	b.tape("A", "C")
	b.tape("B", "D")
	for i := range b.readings.Tapes {
		b.readings.Tapes[i].Length.Value += 2 // a bent hook
	}
	plain := b.adjust(t)
	assert.Greater(t, plain.Adjustment.VarianceFactor, 8.)
	b.readings.TapeFacts.Zero = 3
	s := b.adjust(t)
	assert.Less(t, s.Adjustment.VarianceFactor, 2.5)
	assert.InDelta(t, -2, -s.net.adjusted.Common[0], 0.5)
	m, _ := s.Mark("T1")
	assert.Less(t, s.Marks[m].At.Sub(b.truth["T1"]).Norm(), 1.)
}

func problems(t *testing.T, b *bay) string {
	t.Helper()
	_, err := Adjust(b.readings)
	require.Error(t, err)
	return err.Error()
}

func TestNetworksThatCannotBeSolvedSayWhy(t *testing.T) {
	one := newBay(1, 1).corners()
	one.blank("things", "T3", 200, 150, 180)
	one.tape("A", "T3")
	assert.Equal(t, "tape.csv:2:4: to: mark T3 has one tape; it needs three, or a depth", problems(t, one))

	two := newBay(1, 1).corners()
	two.blank("things", "T4", 200, 150, 180)
	two.readings.Points[6].At[1] = Coordinate{Value: 150, Given: true}
	two.tape("A", "T4")
	assert.Equal(t, "tape.csv:2:4: to: mark T4 has one tape and one coordinate; it needs two, or a depth", problems(t, two))

	line := newBay(1, 0)
	line.known("", "A", 0, 0, 0)
	line.known("", "B", 100, 0, 0)
	line.known("", "C", 300, 0, 0)
	line.blank("things", "T", 200, 150, 180)
	line.within = 1
	for _, from := range []string{"A", "B", "C"} {
		line.tape(from, "T")
	}
	assert.Equal(t, "tape.csv:2:4: to: the marks that are known, A, B and C, lie on one line, and T can turn about it; give coordinates to a mark to one side of that line", problems(t, line))

	loose := newBay(1, 1)
	loose.blank("wall", "A", 0, 0, 0)
	loose.blank("wall", "B", 100, 0, 0)
	loose.blank("wall", "C", 300, 200, 0)
	loose.blank("wall", "D", 0, 200, 50)
	for i, from := range []string{"A", "B", "C", "D"} {
		for _, to := range []string{"A", "B", "C", "D"}[i+1:] {
			loose.tape(from, to)
		}
	}
	assert.Equal(t, "tape.csv:2:1: from: A and B and 2 more hang together by tape, but nothing says where they are; give three of the marks coordinates, or the job a frame: {origin: .., x_toward: .., out_toward: ..}", problems(t, loose))
}

func TestReadingsLeftOut(t *testing.T) {
	b := newBay(2, 1).corners()
	b.blank("things", "T", 200, 150, 180)
	for _, from := range []string{"A", "B", "C", "D", "E", "F"} {
		b.tape(from, "T")
	}
	b.readings.Tapes[3].Length.Value += 25.4
	b.readings.Without = []table.Pos{{File: "tape.csv", Line: 5}}
	s := b.adjust(t)
	b.near(t, s, 5)
	assert.Equal(t, 2., s.Adjustment.Redundancy)
	assert.Len(t, s.Rows, 11)
}

// Two bases check each other: the mark is the weighted mean of both ways, and
// the bases learn from it (worked by hand: three equal readings round a loop
// share its misclosure).
func TestBasesInALoop(t *testing.T) {
	a, b := point("", "A", 100, 0, 0, 1), point("things", "B", 10, 0, 0, 1)
	b.Base = "A"
	c := point("things", "B", 113, 0, 0, 1)
	s := adjust(t, Readings{Features: loose, Points: []Point{a, b, c}})
	assert.InDelta(t, 101, s.Marks[0].At.X, 1e-9)
	assert.InDelta(t, 112, s.Marks[1].At.X, 1e-9)
	for _, row := range s.Rows {
		assert.InDelta(t, 1./3, row.Redundancy, 1e-9)
	}
	assert.InDelta(t, 2./9, variances(s, 1)[0], 1e-9)
}

// Where nothing gave the axes, a mark's uncertainty must not hang on what was
// pinned to hold them: other pins, the same figure.
func TestUncertaintyDoesNotHangOnThePins(t *testing.T) {
	s := tapeOnly(8, 1).adjust(t)
	net := s.net.adjusted.Net
	start := append([]r3.Vector(nil), s.net.adjusted.At...)
	require.True(t, net.Gauge(start, [3]int{5, 3, 6}))
	other, err := net.Adjust(start)
	require.NoError(t, err)
	n := &netted{adjusted: other}
	for k := range s.net.marks {
		assert.InEpsilon(t, s.net.inner[k], n.innerAll()[k], 1e-6)
	}
}
