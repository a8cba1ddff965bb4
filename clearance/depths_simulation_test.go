package clearance

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/survey"
)

// Surveys taken again: with the depth that is proposed, the mark scatters as much
// as is said, and with no other reading less. In each survey the mark stands as far
// aside from the straightedge as the limit lets it.
func TestProposedDepthAgainstSimulatedSurveys(t *testing.T) {
	if testing.Short() {
		t.Skip("it reckons long, one thing after the other")
	}
	s, places := nearTheFace(15)
	tapes := s.tapes(t)
	m, _ := tapes.space.Mark("T")
	worst := tapes.space.Spread(m).Toward
	next, ok := tapes.Better(m, 1.5)
	require.True(t, ok)
	var best float64
	scatter := func(c candidate) float64 {
		rng := rand.New(rand.NewPCG(73, 74))
		squares := 0.0
		const n = 1500
		for range n {
			there := map[string]r3.Vector{}
			for name, p := range places {
				there[name] = p
			}
			if c.lay != nil { // square to the straightedge and to the rule
				edge := tapes.space.Marks[c.lay.To].At.Sub(tapes.space.Marks[c.lay.From].At)
				there["T"] = there["T"].Add(edge.Cross(c.lay.Toward).Normalize().Mul(rectangular(c.within) * rng.NormFloat64()))
			}
			q := remeasured(s, rng)
			q.readings.Tapes = nil
			for _, tape := range s.readings.Tapes {
				q.tape(tape.From, tape.To, there[tape.From].Sub(there[tape.To]).Norm()+tape.Limit.U()*rng.NormFloat64(), 1.5)
			}
			u := rectangular(c.within)
			if c.lay == nil {
				from := tapes.space.Marks[c.from].Name
				q.tape(from, "T", there[from].Sub(there["T"]).Norm()+u*rng.NormFloat64(), c.within)
			} else {
				d := c.lay.named(tapes.space)
				edge := there[d.To].Sub(there[d.From]).Normalize()
				off := there["T"].Sub(there[d.From])
				d.Along = off.Dot(edge) + u*rng.NormFloat64()
				square := d.Toward.Sub(edge.Mul(d.Toward.Dot(edge))).Normalize()
				d.Probe = off.Dot(square) + u*rng.NormFloat64()
				q.probe(d, c.within)
			}
			space, err := survey.Adjust(q.readings)
			require.NoError(t, err)
			off := space.Marks[m].At.Sub(there["T"]).Dot(worst)
			squares += off * off / n
		}
		return math.Sqrt(squares)
	}
	others := map[string]float64{}
	for _, c := range tapes.all(m, 1.5) {
		of := tapes.next(c, 0)
		got := scatter(c)
		if of.From == next.From && of.Depth == next.Depth {
			best = got
			continue
		}
		others[fmt.Sprint(of.From, of.Depth)] = got
	}
	// The standard error of a standard deviation from 1,500 draws is 1.8 %.
	assert.InEpsilon(t, next.Left, best, 0.06)
	require.NotEmpty(t, others)
	for name, got := range others {
		assert.Greater(t, got, best*0.95, name)
	}
}
