package clearance

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/stat/distuv"

	"elbowroom/survey"
)

// JCGM 106:2012, from memory, and agreeing with the arithmetic: an upper limit
// is a lower one with the signs turned.
func TestProbabilityOfConformity(t *testing.T) {
	for _, c := range []struct {
		name          string
		value, u, at  float64
		want, printed float64
	}{
		{"upper limit -5.40, y -5.47, u .05", 5.47, 0.05, 5.40, 0.9192, 0.92},
		{"at the limit", 6, 0.5, 6, 0.5, 0.5},
	} {
		got := figure{value: c.value, u: c.u}.probability(c.at)
		assert.InDelta(t, c.want, got, 5e-5, c.name)
		assert.InDelta(t, c.printed, got, 5e-3, c.name)
	}
	// Two-sided, 12.5..16.3, y 13.6, u 1.8: 0.66.
	f := figure{value: 13.6, u: 1.8}
	assert.InDelta(t, 0.6626, f.probability(12.5)-f.probability(16.3), 5e-5)
	// The quantiles printed there: z for .80 .90 .95 .99 .999.
	for _, c := range [][2]float64{{0.80, 0.84}, {0.90, 1.28}, {0.95, 1.64}, {0.99, 2.33}, {0.999, 3.09}} {
		assert.InDelta(t, c[0], figure{value: c[1], u: 1}.probability(0), 1.5e-3)
	}
	// A speed limit of 100 with 2 % relative uncertainty at .999: 107 when rounded.
	assert.InDelta(t, 106.6, 100/(1-distuv.UnitNormal.Quantile(0.999)*0.02), 0.05)
}

// The rule of ISO 14253-1 as summaries give it: limit 6.0, U 0.5 (two u):
// 6.8 conforms, 6.3 is unproven, 5.4 does not conform.
func TestThreeZones(t *testing.T) {
	c := checker{space: &survey.Space{}, rules: Rules{}.withDefaults()}
	for _, z := range []struct {
		value float64
		want  Verdict
	}{{6.8, Clears}, {6.3, Unproven}, {5.4, Tight}} {
		f := figure{value: z.value, u: 0.25}
		d := draft{main: f, line: Line{Gap: 6}}
		drafts := []draft{d}
		c.judge(drafts)
		c.decide(&drafts[0])
		assert.Equal(t, z.want, drafts[0].line.Verdict, "%v", z.value)
	}
}

func TestExactFiguresAreJudgedByTheirValue(t *testing.T) {
	assert.Equal(t, 1.0, figure{value: 6}.probability(6))
	assert.Equal(t, 1.0, figure{value: 6 - 0.9e-6}.probability(6), "within 1e-6 mm counts as reaching")
	assert.Equal(t, 0.0, figure{value: 6 - 1.1e-6}.probability(6))
}

// alone is a figure with its own source.
func alone(value, u float64, source int) figure {
	return figure{value: value, u: u, terms: []survey.Term{{Source: source, By: u}}}
}

// Twenty independent clearances, each two standard uncertainties over its gap:
// 0.97725^20 = 0.6311 (analytic). Six along a lip, each at 97.5 %: 86 %.
func TestManyNearLinesAtOnce(t *testing.T) {
	for _, c := range []struct {
		n    int
		z    float64
		want float64
	}{{20, 2, 0.6311}, {6, 1.959964, 0.8591}} {
		var figures []figure
		for i := 0; i < c.n; i++ {
			figures = append(figures, alone(c.z, 1, i))
		}
		got := float64(sample([]trial{{figures: figures}}).held[0]) / draws
		// Four standard errors of the share.
		assert.InDelta(t, c.want, got, 4*math.Sqrt(c.want*(1-c.want)/draws))
	}
}

// Figures that hang on one error stand and fall together.
func TestSharedErrorsDoNotAddUp(t *testing.T) {
	var trials []trial
	for i := 0; i < 20; i++ {
		trials = append(trials, trial{figures: []figure{alone(2, 1, 0)}})
	}
	got := float64(sample(trials).all) / draws
	assert.InDelta(t, 0.97725, got, 4*math.Sqrt(0.97725*0.02275/draws))
}

func TestJointTakesTheCheapBoundsFirst(t *testing.T) {
	sure, is := joint([]float64{0.999, 0.9999}, make([]trial, 2), 0.975)
	assert.Equal(t, "at least", is)
	assert.InDelta(t, 0.9989, sure, 1e-12)
	sure, is = joint([]float64{0.9, 0.999}, make([]trial, 2), 0.975)
	assert.Equal(t, "at most", is)
	assert.Equal(t, 0.9, sure)
	// One line: the bound is its P.
	sure, _ = joint([]float64{0.98}, make([]trial, 1), 0.975)
	assert.InDelta(t, 0.98, sure, 1e-12)
	sure, is = joint(nil, nil, 0.975)
	assert.Equal(t, 1.0, sure)
	assert.Equal(t, "at least", is)
}

func TestJointIsSampledOnlyBetweenTheBounds(t *testing.T) {
	var sures []float64
	var trials []trial
	for i := 0; i < 4; i++ {
		f := alone(2.2, 1, i)
		sures = append(sures, f.probability(0))
		trials = append(trials, trial{figures: []figure{f}})
	}
	sure, is := joint(sures, trials, 0.975)
	assert.Equal(t, "about", is)
	want := math.Pow(sures[0], 4)
	assert.Less(t, sure, want+0.002, "a lower bound")
	assert.Greater(t, sure, want-0.008)
	again, _ := joint(sures, trials, 0.975)
	assert.Equal(t, sure, again, "same input, same output")
}

// Wilson's lower bound: of 10 held out of 10 at 95 % one-sided it is n/(n+z2).
func TestLowerBoundOfAShare(t *testing.T) {
	assert.InDelta(t, draws/(draws+1.6449*1.6449), lowerBound(draws), 1e-12)
	assert.Zero(t, lowerBound(0))
	assert.Less(t, lowerBound(9750), 0.975)
	assert.Greater(t, lowerBound(9790), 0.975)
}

// The rows that stand for figures must have the figures' covariance, singular
// or not.
func TestJointlyKeepsTheCovariance(t *testing.T) {
	terms := func(by ...float64) figure {
		f := figure{}
		for i, b := range by {
			if b != 0 {
				f.terms = append(f.terms, survey.Term{Source: i, By: b})
			}
		}
		return f
	}
	figures := []figure{
		terms(1, 2, 0, 4, 0, 0.5), terms(1, 2, 0, 4, 0, 0.5), terms(0, 0, 3, 0, 0, 0),
		terms(2, 4, 3, 8, 0, 1), terms(0, 0, 0, 0, 7, 0), terms(),
	}
	again := jointly(figures)
	for i := range figures {
		for j := range figures {
			assert.InDelta(t, survey.Dot(figures[i].terms, figures[j].terms), survey.Dot(again[i].terms, again[j].terms), 1e-6)
		}
	}
}
