package clearance

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/floats"

	"elbowroom/survey"
)

// draws is how often everything is measured and made again: at 97.5 % the
// standard error of a share is sqrt(.975*.025/10000) = 0.16 %.
const draws = 10000

// chunks is how many independent streams the draws come from; it does not
// depend on the machine, so that the same input gives the same output.
const chunks = 16

// seed of the draws; any would do, a fixed one makes the output repeatable.
const seed = 0x5eed

// trial is one line in the draws: it holds where every figure reaches the limit.
type trial struct {
	figures []figure
	rest    []figure // not drawn: they count by the sum of their risks
	limit   float64
	// again says that the trial before is of the same figures, at a limit that is no lower:
	// where that one holds, so does this.
	again bool
}

// tally is what came out of the draws: how often each trial held, and all at once.
type tally struct {
	held []int
	all  int
}

// sample draws all errors again and counts. The figures' terms are linear in
// independent standard normal errors; where there are fewer figures than
// errors, the figures are drawn by their joint covariance instead.
func sample(trials []trial) tally {
	packed, errors := pack(trials)
	parts := make([]tally, chunks)
	inParallel(chunks, func() func(int) {
		return func(k int) { parts[k] = run(trials, packed, errors, uint64(k)) }
	})
	sum := tally{held: make([]int, len(trials))}
	for _, p := range parts {
		sum.all += p.all
		for i, n := range p.held {
			sum.held[i] += n
		}
	}
	return sum
}

// packedFigure holds where the sum of its terms is at least least; surely, where the
// errors' norm is no more than near (Cauchy and Schwarz). Its terms are those of the
// errors at, or where that is nil of the first ones.
type packedFigure struct {
	least float64
	near  float64
	at    []int32
	by    []float64
}

// beyond is from how many standard uncertainties over its limit on a figure is not
// drawn: in all draws of a thousand such figures one fails once in ten thousand times.
const beyond = 6.5

// pack numbers the errors that are in use from 0 and says how many there are.
func pack(trials []trial) (packed [][]packedFigure, errors int) {
	used := map[int]int{}
	var figures []figure
	for _, t := range trials {
		for _, f := range t.figures {
			if f.value-t.limit > beyond*f.u {
				continue
			}
			figures = append(figures, f)
			for _, term := range f.terms {
				if _, ok := used[term.Source]; !ok {
					used[term.Source] = len(used)
				}
			}
		}
	}
	if len(figures) < len(used) {
		figures, errors = jointly(figures), len(figures)
	} else {
		errors = len(used)
		for i, f := range figures {
			terms := make([]survey.Term, len(f.terms))
			for k, term := range f.terms {
				terms[k] = survey.Term{Source: used[term.Source], By: term.By}
			}
			figures[i].terms = terms
		}
	}
	packed = make([][]packedFigure, len(trials))
	for i, t := range trials {
		for _, f := range t.figures {
			if f.value-t.limit > beyond*f.u {
				continue
			}
			packed[i] = append(packed[i], packFigure(figures[0], t.limit))
			figures = figures[1:]
		}
	}
	return packed, errors
}

func packFigure(f figure, limit float64) packedFigure {
	p := packedFigure{least: limit - reach - f.value}
	for _, term := range f.terms {
		p.at = append(p.at, int32(term.Source))
		p.by = append(p.by, term.By)
	}
	if n := len(p.at); n > 0 && int(p.at[0]) == 0 && int(p.at[n-1]) == n-1 {
		p.at = nil // all of the first n
	}
	p.near = heldWithin(p.by, p.least)
	return p
}

// jointly gives figures with the same joint covariance over as many errors as
// there are figures: the rows of its Cholesky factor. The covariance may be
// singular (figures that hang on the same errors): a pivot that is nothing but
// rounding, against the figure's own variance, ends its row.
func jointly(figures []figure) []figure {
	const rounding = 1e-12 // a thousand times the rounding of a sum of ten terms
	n := len(figures)
	rows := make([][]float64, n)
	out := make([]figure, n)
	for i, f := range figures {
		rows[i] = make([]float64, i+1)
		left := survey.Dot(f.terms, f.terms)
		whole := left
		for j := 0; j < i; j++ {
			if rows[j][j] == 0 {
				continue
			}
			sum := survey.Dot(f.terms, figures[j].terms)
			for k := 0; k < j; k++ {
				sum -= rows[i][k] * rows[j][k]
			}
			rows[i][j] = sum / rows[j][j]
			left -= rows[i][j] * rows[i][j]
		}
		if left > rounding*whole {
			rows[i][i] = math.Sqrt(left)
		}
		out[i] = figure{value: f.value, u: f.u}
		for k, by := range rows[i] {
			if by != 0 {
				out[i].terms = append(out[i].terms, survey.Term{Source: k, By: by})
			}
		}
	}
	return out
}

// heldWithin is how large errors can be with the sum of their terms still at least least; a
// thousand millionth is left for rounding.
func heldWithin(by []float64, least float64) float64 {
	squares := 0.0
	for _, x := range by {
		squares += x * x
	}
	return (1 - 1e-9) * -least / math.Sqrt(squares)
}

func run(trials []trial, packed [][]packedFigure, sources int, chunk uint64) tally {
	random := rand.New(rand.NewPCG(seed, chunk))
	out := tally{held: make([]int, len(trials))}
	errors := make([]float64, sources)
	for n := 0; n < draws/chunks; n++ {
		squares := 0.0
		for i := range errors {
			errors[i] = random.NormFloat64()
			squares += errors[i] * errors[i]
		}
		norm, all, held := math.Sqrt(squares), true, false
		for i, figures := range packed {
			held = held && trials[i].again || holds(figures, errors, norm)
			if held {
				out.held[i]++
			} else {
				all = false
			}
		}
		if all {
			out.all++
		}
	}
	return out
}

func holds(figures []packedFigure, errors []float64, norm float64) bool {
	for i := range figures {
		f := &figures[i]
		if norm <= f.near {
			continue
		}
		sum := 0.0
		if f.at == nil {
			sum = floats.Dot(f.by, errors[:len(f.by)])
		}
		for k, at := range f.at {
			sum += f.by[k] * errors[at]
		}
		if sum < f.least {
			return false
		}
	}
	return true
}

// lowerBound is the share that is exceeded with 95 % confidence when held of
// draws held: the score bound of Wilson (1927), one-sided, z = 1.645.
func lowerBound(held int) float64 {
	const z = 1.6449
	n, p := float64(draws), float64(held)/draws
	middle := p + z*z/(2*n)
	half := z * math.Sqrt(p*(1-p)/n+z*z/(4*n*n))
	return math.Max(0, (middle-half)/(1+z*z/n))
}

// risky is from which chance on a rival can change a printed figure: the draws
// cannot see a tenth of their own resolution.
const risky = 0.1 / draws

// judge gives every draft its probabilities, with its rivals.
func (c *checker) judge(drafts []draft) {
	var trials []trial
	var back []int
	for i := range drafts {
		d := &drafts[i]
		d.line.Sure = d.main.probability(d.line.Gap)
		d.sureAtMost = d.main.probability(d.line.Gap - d.over)
		d.line.NotTouching = d.main.probability(-d.over)
		figures := append([]figure{d.main}, d.rivals...)
		for _, limit := range [2]float64{d.line.Gap, 0} {
			if len(d.rivals) > 0 && chance(d.rivals, limit) > risky && d.main.probability(limit) > risky {
				n := len(back)
				again := n > 0 && back[n-1] == i && trials[n-1].limit >= limit
				trials = append(trials, trial{figures, d.rest, limit, again})
				back = append(back, i)
			}
		}
	}
	if len(trials) == 0 {
		return
	}
	t := sample(trials)
	for k, i := range back {
		share := float64(t.held[k]) / draws
		d := &drafts[i]
		if trials[k].limit == d.line.Gap {
			// What was not drawn makes it less sure by no more than its risks.
			d.line.Sure = math.Min(d.line.Sure, math.Max(0, share-chance(d.rest, d.line.Gap)))
			if d.over == 0 {
				d.sureAtMost = math.Min(d.sureAtMost, share)
			}
		}
		if trials[k].limit == 0 && d.over == 0 {
			d.line.NotTouching = math.Min(d.line.NotTouching, share)
		}
	}
}

// chance bounds the chance that some of the figures fall below the limit.
func chance(figures []figure, limit float64) float64 {
	sum := 0.0
	for _, f := range figures {
		sum += 1 - f.probability(limit)
	}
	return sum
}

// joint is the probability that every line holds, all drawn together. The cheap
// bounds come first: the sum of the lines' risks, and the least sure line.
func joint(sures []float64, trials []trial, wanted float64) (sure float64, is string) {
	atLeast, least := jointBounds(sures)
	switch {
	case atLeast >= wanted:
		return atLeast, "at least"
	case least < wanted:
		return least, "at most"
	}
	var near []trial
	rest := 0.0
	for i, t := range trials {
		if risk := 1 - sures[i]; risk > risky/float64(len(trials)) {
			near = append(near, t)
			rest += chance(t.rest, t.limit)
		} else {
			rest += risk
		}
	}
	sampled := lowerBound(sample(near).all) - rest
	return math.Min(least, math.Max(atLeast, sampled)), "about"
}

// jointBounds are the cheap bounds of the joint probability.
func jointBounds(sures []float64) (atLeast, atMost float64) {
	risk, least := 0.0, 1.0
	for _, p := range sures {
		risk += 1 - p
		least = math.Min(least, p)
	}
	return math.Max(0, 1-risk), least
}

// trial is a draft in the draws.
func (d *draft) trial() trial {
	return trial{figures: append([]figure{d.main}, d.rivals...), rest: d.rest, limit: d.line.Gap}
}
