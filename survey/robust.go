package survey

import (
	"math"
	"slices"

	"elbowroom/survey/network"
)

// Several slips at once hide each other: together they bend the network until
// right readings stand out. Then a fit that follows the majority comes first:
// least squares with weights that fall with the residuals, from Huber's to all
// but the least sum of absolute residuals (Huber 1964, "Robust estimation of a
// location parameter", Ann. Math. Stat. 35; iteratively reweighted).

// bends are the residuals, in standard uncertainties, from which on a reading
// loses weight, round by round.
var bends = [...]float64{1.5, 1.5, 1, 0.7, 0.5, 0.5, 0.5, 0.5}

// robust finds what to set aside by a fit that follows the majority. ok is false
// where that sets nothing or too much aside.
func (s *search) robust() (all []found, ok bool) {
	net := s.now.Net
	at := s.now.At
	residuals := s.now.Residuals
	for _, bend := range bends {
		net.Ties = slices.Clone(s.ties)
		for l := range net.Ties {
			if t := &net.Ties[l]; t.Kind != network.Common {
				t.U *= math.Sqrt(math.Max(1, math.Abs(residuals[l])/(bend*t.U)))
			}
		}
		adjusted, err := net.Adjust(at)
		if err != nil {
			return nil, false
		}
		at, residuals = adjusted.At, adjusted.Residuals
	}
	s.now.At = at
	for l, t := range s.ties {
		if t.Kind != network.Common && t.Kind != network.Sideways && math.Abs(residuals[l]) > critical*t.U {
			s.out = append(s.out, l)
		}
	}
	if len(s.out) == 0 || float64(len(s.out)) > slipShare*float64(len(s.ties)) {
		return nil, false
	}
	adjusted, err := s.without(-1)
	if err != nil {
		return nil, false
	}
	s.now = adjusted
	if again, ok := s.afresh(s.out); ok && again.SumSquares < s.now.SumSquares {
		s.now = again
	}
	s.putBack()
	for _, l := range s.out {
		f := s.explain(l, s.now)
		f.w = math.Abs(s.ties[l].Value-f.fitted) / f.u
		f.freedom = s.freedom() + float64(len(s.out))
		all = append(all, f)
	}
	return all, true
}

// afresh adjusts without what is set aside, from start values that it had no
// part in: gross slips drag marks to the wrong side of others, from where no
// small step leads back. ok is false where there is no such start.
func (s *search) afresh(out []int) (*network.Adjusted, bool) {
	if s.nets.gauged {
		return nil, false // the axes hang on the start values
	}
	for k, p := range s.nets.net.Pinned {
		if (p[0] || p[1] || p[2]) && !s.nets.known.Placed[k] {
			return nil, false
		}
	}
	rest, net := s.now.Net, s.now.Net
	rest.Ties, net.Ties = nil, slices.Clone(s.ties)
	for l, t := range s.ties {
		if slices.Contains(out, l) {
			net.Ties[l].U *= setAside
		} else {
			rest.Ties = append(rest.Ties, t)
		}
	}
	start := rest.Start(s.nets.known, s.nets.side)
	if slices.Contains(start.Placed, false) {
		return nil, false
	}
	adjusted, err := net.Adjust(start.At)
	return adjusted, err == nil
}

// putBack takes in again what the rest does not contradict, the best first.
func (s *search) putBack() {
	for {
		order := slices.Clone(s.out)
		slices.SortStableFunc(order, func(i, j int) int { return compare(s.contradiction(i), s.contradiction(j)) })
		if !slices.ContainsFunc(order, s.backIn) {
			return
		}
	}
}

// contradiction is how far a tie that is set aside is from what the rest makes
// of it, in standard deviations.
func (s *search) contradiction(l int) float64 {
	value, u := s.now.Fitted(l)
	return math.Abs(s.ties[l].Value-value) / math.Hypot(u, s.ties[l].U)
}

// total is what a whole explanation costs: the misfit of what is left, and the
// slips.
func (s *search) total(all []found) float64 {
	sum := s.now.SumSquares
	for _, f := range all {
		sum += f.cost()
	}
	if s.fails(s.now) {
		sum += unexplained
	}
	return sum
}
