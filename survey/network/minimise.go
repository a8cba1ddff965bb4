package network

import "math"

// Model is a non-linear least-squares problem: n unknowns x, and m residuals
// (fitted minus measured) over their standard uncertainty.
type Model interface {
	// Residuals writes the m residuals at x.
	Residuals(x, into []float64)
	// Linearise takes the derivatives J at x, where the residuals are r, and
	// writes Jᵀr and the diagonal of JᵀJ.
	Linearise(x, r, gradient, diagonal []float64)
	// Step writes the d that solves (JᵀJ + diag(damp)) d = -Jᵀr of the last
	// Linearise. It is false where that has no solution.
	Step(damp, d []float64) bool
}

// Minimum is where Minimise stopped.
type Minimum struct {
	SumSquares float64 // of the residuals, without unit
	Steps      int     // linearisations
	Settled    bool    // no step lowers the sum any more; false: out of steps
}

// maxSteps bounds the iteration. The hardest of the reference problems takes
// under a hundred; a network a handful.
const maxSteps = 400

// settled is the promised fall of the sum of squares, of its own size, at which
// the iteration stops: steps of 1e-10 of the root of the sum, far inside the
// standard deviation of any unknown. restful is the same where the sum itself
// is nothing: steps of a thousand-millionth of a standard deviation.
const (
	settled = 1e-20
	restful = 1e-18
)

// Minimise moves x from its start to where the sum of squares of m residuals is
// least nearby. The method is that of Levenberg and Marquardt: the damping is
// the greatest diagonal of JᵀJ so far (Moré 1978, "The Levenberg-Marquardt
// algorithm: implementation and theory", Lecture Notes in Mathematics 630)
// times a factor that follows the gain of each step (Nielsen 1999, "Damping
// parameter in Marquardt's method", IMM-REP-1999-05). A start far away may lead
// to another minimum than the least.
func Minimise(model Model, x []float64, m int) Minimum { return minimise(model, x, m, wary) }

func minimise(model Model, x []float64, m int, factor float64) Minimum {
	s := newDescent(model, x, m)
	s.factor, s.wary = factor, factor == wary
	return s.run()
}

// descend takes no more than so many steps from a start that is near.
func descend(model Model, x []float64, m, steps int) Minimum {
	s := newDescent(model, x, m)
	s.factor, s.most = near, steps
	return s.run()
}

func newDescent(model Model, x []float64, m int) *descent {
	s := &descent{model: model, x: x, most: maxSteps, r: make([]float64, m), trial: make([]float64, m)}
	n := len(x)
	s.gradient, s.diagonal = make([]float64, n), make([]float64, n)
	s.scale, s.damp, s.d, s.next = make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	return s
}

type descent struct {
	most               int  // steps
	wary               bool // the start may be far off
	model              Model
	x, next, d         []float64
	r, trial           []float64
	gradient, diagonal []float64
	scale, damp        []float64
	factor, growth     float64
}

// stride is the longest step of a start that may be far off, over x itself, both
// in the scale of the diagonal: a problem whose scale changes by orders on the
// way must not leap into a region where nothing depends on x any more (Moré
// 1978, section 6, the first trust region; 100 there, and too much for a model
// that saturates).
const stride = 1

// wary and near are the damping of the first step over the diagonal: as much as
// the diagonal itself where the start may be far off, next to none where it is
// near (Nielsen 1999, section 2, tau).
const (
	wary = 1
	near = 1e-4
)

func (s *descent) run() Minimum {
	s.growth = 2
	s.model.Residuals(s.x, s.r)
	out := Minimum{SumSquares: dot(s.r, s.r)}
	for out.Steps < s.most {
		s.linearise()
		out.Steps++
		fell, rest := s.lower(&out.SumSquares)
		if rest || !fell {
			out.Settled = rest
			return out
		}
	}
	return out
}

func (s *descent) linearise() {
	s.model.Linearise(s.x, s.r, s.gradient, s.diagonal)
	for j, d := range s.diagonal {
		s.scale[j] = math.Max(s.scale[j], d)
	}
}

// lower tries steps with more and more damping until one lowers the sum. rest
// says that there is nothing left to gain.
func (s *descent) lower(sum *float64) (fell, rest bool) {
	// 2^(1+2+..+10) is past any float64's use: 40 tries never run out for a
	// sum that can be lowered.
	for range 40 {
		for j, scale := range s.scale {
			s.damp[j] = s.factor * scale
			if scale == 0 { // nothing hangs on it
				s.damp[j] = 1
			}
		}
		if !s.model.Step(s.damp, s.d) {
			s.raise()
			continue
		}
		if s.leaps() {
			s.raise()
			continue
		}
		promised := s.promise()
		for j := range s.x {
			s.next[j] = s.x[j] + s.d[j]
		}
		s.model.Residuals(s.next, s.trial)
		after := dot(s.trial, s.trial)
		done := promised <= math.Max(settled**sum, restful)
		if after <= *sum && finite(after) {
			gain := (*sum - after) / math.Max(promised, math.SmallestNonzeroFloat64)
			copy(s.x, s.next)
			s.r, s.trial = s.trial, s.r
			*sum = after
			s.ease(gain)
			return true, done
		}
		if done {
			return false, true
		}
		s.raise()
	}
	return false, true
}

// leaps says that the step is longer than a start that may be far off allows.
func (s *descent) leaps() bool {
	if !s.wary {
		return false
	}
	var step, size float64
	for j, scale := range s.scale {
		step += scale * s.d[j] * s.d[j]
		size += scale * s.x[j] * s.x[j]
	}
	return size > 0 && step > stride*stride*size
}

// promise is how far the linear model lets the sum of squares fall:
// -2 dᵀg - dᵀJᵀJ d = -dᵀg + dᵀ diag(damp) d.
func (s *descent) promise() float64 {
	sum := -dot(s.d, s.gradient)
	for j, d := range s.d {
		sum += d * d * s.damp[j]
	}
	return math.Max(0, sum)
}

func (s *descent) ease(gain float64) {
	s.factor *= math.Max(1./10, 1-math.Pow(2*math.Min(gain, 1)-1, 3))
	s.growth = 2
}

func (s *descent) raise() {
	s.factor = math.Max(s.factor, epsilon) * s.growth
	s.growth *= 2
}
