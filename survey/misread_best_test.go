package survey

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/stretchr/testify/assert"

	"elbowroom/survey/slip"
)

// What the best possible test sees of a mix: one that knows how the slips are
// drawn and tests by the ratio of the likelihoods of a slip and of none, summed
// over all that may have been meant (Neyman and Pearson 1933, "On the problem of
// the most efficient tests of statistical hypotheses", Phil. Trans. A 231), with
// false alarms of one mark in two hundred. It puts right by the likeliest. It
// shares nothing with the search but the trials.

// tick is the least part of the inch that the tapes are read to, mm.
const tick = 25.4 / 16

// meant is what a mix makes of right readings: for each text, the probability
// that a right reading in ticks becomes it, and of each mark for another.
type meant struct {
	texts map[string]map[int]float64
	marks map[string]map[string]float64
}

var markNames = []string{"K1", "K2", "K3", "K4", "K5", "K6"}

// meantBy draws from a mix for every right reading.
func meantBy(m mix, draws int) meant {
	out := meant{map[string]map[int]float64{}, map[string]map[string]float64{}}
	r := rand.New(rand.NewPCG(1, 1))
	for n := 16; n < 50*16; n++ {
		right := inchCell(sixteenths(float64(n) * tick))
		from := markNames[n%len(markNames)]
		var others []wrongEnd
		for _, like := range slip.WrongMarks(from, markNames) {
			others = append(others, wrongEnd{like.Name, right.Value + 100, like.Weight})
		}
		for range draws {
			text, mend, kind, ok := m(r, right, others)
			switch {
			case !ok || text == right.Text:
			case kind == wrongMarkKind:
				countIn(out.marks, from, mend, float64(len(markNames))/float64(draws*(50*16-16)))
			default:
				countIn(out.texts, text, n, 1/float64(draws))
			}
		}
	}
	return out
}

func countIn[K comparable](in map[string]map[K]float64, text string, key K, p float64) {
	if in[text] == nil {
		in[text] = map[K]float64{}
	}
	in[text][key] += p
}

// placed is a mark by its tapes but one: where it is, the sum of squares, and
// the covariance, all tapes with u = 1 mm.
type placed struct {
	at         r3.Vector
	sum        float64
	covariance [3][3]float64
}

// from is the distance from a point, and its variance.
func (p placed) from(q r3.Vector) (away, variance float64) {
	e := p.at.Sub(q)
	away = e.Norm()
	d := [3]float64{e.X / away, e.Y / away, e.Z / away}
	for i := range d {
		for j := range d {
			variance += d[i] * p.covariance[i][j] * d[j]
		}
	}
	return away, variance
}

// placeBy is Gauss and Newton from several starts in front of the wall; the
// least sum counts.
func placeBy(from []r3.Vector, tapes []float64, but int) (best placed) {
	best.sum = math.Inf(1)
	for _, start := range []r3.Vector{{X: 260, Y: 165, Z: 160}, {X: 100, Y: 80, Z: 100}, {X: 400, Y: 80, Z: 100}, {X: 100, Y: 250, Z: 220}, {X: 400, Y: 250, Z: 220}} {
		p := placed{at: start}
		for range 30 {
			p.sum = 0
			var normal [3][3]float64
			var g [3]float64
			for i, b := range from {
				if i == but {
					continue
				}
				e := p.at.Sub(b)
				miss := tapes[i] - e.Norm()
				p.sum += miss * miss
				d := [3]float64{e.X / e.Norm(), e.Y / e.Norm(), e.Z / e.Norm()}
				for j := range d {
					g[j] += d[j] * miss
					for k := range d {
						normal[j][k] += d[j] * d[k]
					}
				}
			}
			p.covariance = inverse3(normal)
			var step [3]float64
			for j := range step {
				for k := range g {
					step[j] += p.covariance[j][k] * g[k]
				}
			}
			move := r3.Vector{X: step[0], Y: step[1], Z: step[2]}
			if move.Norm() < 1e-6 {
				break
			}
			p.at = p.at.Add(move.Mul(math.Min(1, 60/move.Norm())))
		}
		if p.sum < best.sum && p.at.Z > 30 { // none is nearer the wall than 60
			best = p
		}
		if best.sum < float64(len(from)) {
			break
		}
	}
	return best
}

func inverse3(m [3][3]float64) (out [3][3]float64) {
	minor := func(i, j int) float64 {
		a, b, c, d := (i+1)%3, (i+2)%3, (j+1)%3, (j+2)%3
		return m[a][c]*m[b][d] - m[a][d]*m[b][c]
	}
	det := m[0][0]*minor(0, 0) + m[0][1]*minor(0, 1) + m[0][2]*minor(0, 2)
	for i := range 3 {
		for j := range 3 {
			out[j][i] = minor(i, j) / det
		}
	}
	return out
}

// guess is one slip that may have been: its log-likelihood over that of none.
type guess struct {
	tape  int
	mends string
	log   float64
}

// guesses are all of a trial, and the log of the mean of their likelihoods.
func (m meant) guesses(t trial) (all []guess, ratio float64) {
	var from []r3.Vector
	var read []float64
	for _, tape := range t.readings.Tapes {
		from = append(from, trialBase[slices.Index(markNames, tape.From)])
		read = append(read, tape.Length.Value)
	}
	none := math.Min(placeBy(from, read, -1).sum, 1e6) // no place at all is seen as well
	for i, tape := range t.readings.Tapes {
		rest := placeBy(from, read, i)
		if math.IsInf(rest.sum, 1) {
			continue
		}
		away, v := rest.from(from[i])
		for n, p := range m.texts[tape.Length.Text] {
			miss := float64(n)*tick - away
			all = append(all, guess{i, sixteenths(float64(n) * tick), math.Log(p) + (none-rest.sum-miss*miss/(1+v))/2})
		}
		for mark, p := range m.marks[tape.From] {
			other, u := rest.from(trialBase[slices.Index(markNames, mark)])
			miss := read[i] - other
			all = append(all, guess{i, mark, math.Log(p) + (none-rest.sum-miss*miss/(1+u)+math.Log((1+v)/(1+u)))/2})
		}
	}
	most := math.Inf(-1)
	for _, g := range all {
		most = math.Max(most, g.log)
	}
	sum := 0.0
	for _, g := range all {
		sum += math.Exp(g.log - most)
	}
	return all, most + math.Log(sum)
}

// best is the share that the best possible test sees and puts right.
func best(tapes, clean, n int, of mix) (seen, mended float64) {
	m := meantBy(of, 600)
	var ratios []float64
	r := rand.New(rand.NewPCG(uint64(tapes), 133))
	for range clean {
		_, ratio := m.guesses(newTrial(r, tapes, nil))
		ratios = append(ratios, ratio)
	}
	slices.Sort(ratios)
	alarm := ratios[int(0.995*float64(clean))]
	r = rand.New(rand.NewPCG(uint64(tapes), 131)) // the trials of TestMisreadTapes
	for range n {
		t := newTrial(r, tapes, of)
		all, ratio := m.guesses(t)
		if !(ratio > alarm) {
			continue
		}
		seen++
		top := guess{log: math.Inf(-1)}
		for _, g := range all {
			if g.log > top.log {
				top = g
			}
		}
		if top.tape == t.wrong && t.mends(top.mends) {
			mended++
		}
	}
	return seen / float64(n), mended / float64(n)
}

// The targets of TestMisreadTapes are within what is possible only where slips
// within the reading's limit do not count, and where not too many are just
// beyond it.
func TestBestPossible(t *testing.T) {
	if !*long {
		t.Skip("with -long")
	}
	for _, c := range []struct {
		name         string
		mix          mix
		tapes        int
		seen, mended float64
	}{
		{"told of, beyond the limit", beyond(of(toldKinds)), 5, 0.975, 0.938},
		{"told of, beyond the limit", beyond(of(toldKinds)), 6, 0.980, 0.963},
		{"listed, beyond the limit", beyond(of(listedKinds)), 5, 0.973, 0.939},
		{"listed, beyond the limit", beyond(of(listedKinds)), 6, 0.980, 0.968},
		{"told of", of(toldKinds), 5, 0.961, 0.924},
		{"told of", of(toldKinds), 6, 0.967, 0.948},
		{"listed", of(listedKinds), 5, 0.955, 0.920},
		{"listed", of(listedKinds), 6, 0.968, 0.958},
		{"by hand", byHand, 5, 0.943, 0.863},
		{"by hand", byHand, 6, 0.960, 0.912},
		{"by catalogue", byCatalogue, 5, 0.932, 0.840},
		{"by catalogue", byCatalogue, 6, 0.952, 0.900},
		{"equally", equally, 5, 0.939, 0.896},
		{"equally", equally, 6, 0.951, 0.924},
	} {
		seen, mended := best(c.tapes, 10000, 2000, c.mix)
		t.Logf("%d tapes, %s: seen %.4f, mended %.4f", c.tapes, c.name, seen, mended)
		assert.InDelta(t, c.seen, seen, 0.015, "%d tapes, %s", c.tapes, c.name)
		assert.InDelta(t, c.mended, mended, 0.02, "%d tapes, %s", c.tapes, c.name)
	}
}
