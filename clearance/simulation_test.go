package clearance

import (
	"flag"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"

	"elbowroom/survey"
)

// remeasured is the scene with every reading and every making taken again, all
// errors normal with the standard uncertainties that the limits stand for.
func remeasured(s scene, rng *rand.Rand) scene {
	q := s
	q.readings.Points = append([]survey.Point(nil), s.readings.Points...)
	for i := range q.readings.Points {
		for axis := range q.readings.Points[i].At {
			q.readings.Points[i].At[axis].Value += q.readings.Points[i].Limit.U() * rng.NormFloat64()
		}
	}
	size, place := rectangular(s.tank.Within), rectangular(s.tank.Place.Within)
	q.tank.Size.Width += size * rng.NormFloat64()
	q.tank.Size.Height += size * rng.NormFloat64()
	q.tank.Size.Depth += size * rng.NormFloat64()
	q.tank.Place.At.X += place * rng.NormFloat64()
	q.tank.Place.At.Y += place * rng.NormFloat64()
	q.tank.Place.StandOff += place * rng.NormFloat64()
	return q
}

// under is the cube on a wall under a lip, over a block, beside a pipe.
func under(lip float64) scene {
	s := mounted(0, 0, 0, 0, 0, 0, 0, 0, 0)
	s.tank.Within, s.tank.Place.Within, s.tank.Place.StandOff = 1, 1, 12
	s.feature(survey.FeatureSpec{Name: "lip", Shape: survey.Edge, Behind: v(0, 1, 0)}, 1.5,
		v(-20, 100+lip, 40), v(30, 100+lip, 40), v(70, 100+lip, 40), v(130, 100+lip, 40))
	s.feature(survey.FeatureSpec{Name: "pipe", Shape: survey.Tube, Diameter: 10}, 1.5, v(118, -30, 150), v(121, 140, 10))
	s.feature(survey.FeatureSpec{Name: "block", Shape: survey.Block}, 1.5,
		v(40, -40, 0), v(70, -40, 10), v(55, -38, 90), v(52, -20, 45))
	return s
}

// The stated uncertainty of each clearance against the scatter of 10,000
// surveys taken again, and its mean against the stated clearance.
func TestStatedUncertaintyAgainstSimulatedSurveys(t *testing.T) {
	if testing.Short() {
		t.Skip("thousands of surveys: left out of the short run")
	}
	s := under(40)
	want := allLines(s.checker(t))
	sum, squares := map[string]float64{}, map[string]float64{}
	rng := rand.New(rand.NewPCG(11, 12))
	n := surveys()
	for range int(n) {
		for k, d := range allLines(remeasured(s, rng).checker(t)) {
			off := d.main.value - want[k].main.value
			sum[k] += off
			squares[k] += off * off
		}
	}
	// Where one piece is by far the nearest: among rivals the least of many is
	// nearer on the whole than any one.
	for _, k := range []string{"body against pipe", "body against block"} {
		mean := sum[k] / n
		scatter := math.Sqrt(squares[k]/n - mean*mean)
		// The standard error of a standard deviation from n draws is 1/sqrt(2n): 0.7 % of
		// 10,000, 1.6 % of 2,000; that of a mean is 1/sqrt(n) of the deviation.
		assert.InEpsilon(t, scatter, want[k].main.u, 4/math.Sqrt(2*n), k)
		assert.InDelta(t, 0, mean, 4/math.Sqrt(n)*scatter, k)
	}
}

// long asks for the simulations at full length: go test ./clearance -long.
var long = flag.Bool("long", false, "run the simulations at full length")

// surveys is how many surveys a simulation takes.
func surveys() float64 {
	if *long {
		return 10000
	}
	return 2000
}

// How often the nearest of all pieces keeps the gap, against P: the lip lies
// along the box's top, so that any of its marks may come out nearest.
func TestProbabilityAgainstSimulatedSurveys(t *testing.T) {
	if testing.Short() {
		t.Skip("thousands of surveys: left out of the short run")
	}
	s := under(9)
	want := s.check(t).line("body", "lip")
	rng := rand.New(rand.NewPCG(13, 14))
	n := surveys()
	held := 0
	for range int(n) {
		if allLines(remeasured(s, rng).checker(t))["body against lip"].main.value >= 6 {
			held++
		}
	}
	p := float64(held) / n
	// Three standard errors of each of the two shares.
	assert.InDelta(t, p, want.Sure, 6*math.Sqrt(p*(1-p)/n))
	assert.Less(t, want.Sure, figure{value: want.Clearance, u: want.U}.probability(6), "the rivals count")
}

// With frame, every mark is moved into a frame that hangs on the marks itself:
// clearances and their uncertainties are those of the same survey taken in the
// mounting frame, but that the datum is now a mark with errors of its own.
func TestFrameChangesNoClearance(t *testing.T) {
	s := under(40)
	plain := s.check(t)
	tilted := s
	tilted.readings.Points = append([]survey.Point(nil), s.readings.Points...)
	axis := v(1, 2, -0.5).Normalize()
	for i, p := range tilted.readings.Points {
		at := turned(v(p.At[0].Value, p.At[1].Value, p.At[2].Value), axis, 0.7).Add(v(50, -900, 300))
		for k, x := range [3]float64{at.X, at.Y, at.Z} {
			tilted.readings.Points[i].At[k].Value = x
		}
	}
	tilted.readings.Frame = &survey.Frame{Origin: "wall1", XToward: "wall3", OutToward: "block4"}
	tilted.tank.Place.At.X, tilted.tank.Place.At.Y = 50, 50 // the datum was the second row's second mark
	framed := tilted.check(t)
	for _, l := range plain.Lines {
		m := framed.line(l.Part, l.Feature)
		assert.InDelta(t, l.Clearance, m.Clearance, 1e-6, l.Feature)
		assert.Greater(t, m.U, 0.9*l.U)
	}
}

func turned(p, axis r3.Vector, angle float64) r3.Vector {
	sin, cos := math.Sincos(angle)
	return p.Mul(cos).Add(axis.Cross(p).Mul(sin)).Add(axis.Mul(axis.Dot(p) * (1 - cos)))
}
