package survey

import (
	"math"
	"slices"

	"elbowroom/survey/network"
	"elbowroom/survey/slip"
)

// The search for wrong readings. The readings are tested as a whole and one by
// one (Baarda 1968, data snooping). While a test fails, the reading is found
// whose slip explains it best: each suspect is taken out in turn, the rest is
// adjusted again, and what the suspect may have been meant to say, by the
// catalogue of slips, is held against what the rest makes of it. It is set
// aside, and the search goes on with the others; at the end all that was set
// aside is tried again.

const (
	// suspectShare is the share of the greatest |w| from which on a reading is a
	// suspect: a slip smears over the readings that check it, the more the fewer
	// they are.
	suspectShare = 0.3
	// gross is the |w| from which on a slip may bend the network so far that the
	// |w| of the wrong reading is not among the greatest: an inch at 1 mm.
	gross = 20
	// agrees is the probability of a misfit from which on the rest agrees well
	// enough not to look for a better place of its marks.
	agrees = 0.3
	// suspectsMost bounds the readings tried in one round.
	suspectsMost = 10
	// clear is how much lower the sum of squares must be without a reading than
	// without any other for that one to be the wrong one: twice a log-likelihood,
	// odds of twenty to one (e^3).
	clear = 6
	// alike is by how much the sums of squares of two places may differ that the
	// readings fit alike, as chance makes them (network.Start).
	alike = 9
	// alikeShare is how near two |w| are the same: with one reading to spare they
	// are equal, wherever the slip is.
	alikeShare = 0.98
	// unexplained is what twice the negative log-likelihood costs of a slip that
	// is in no catalogue: any value in a thousand, and one slip in fifty.
	unexplained = 2 * 10.8
	// setAside is how much the uncertainty of a reading is stretched that is set
	// aside: it counts for one in ten thousand million.
	setAside = 1e5
	// slipShare is the most readings that may be set aside: beyond one in four
	// the others are no majority to go by.
	slipShare = 0.25
)

// search is the state of one.
type search struct {
	*adjuster
	ties   []network.Tie // as read
	now    *network.Adjusted
	out    []int               // ties set aside
	styles []slip.Style        // how the readings are written, once they are asked for
	listed map[int][]slip.Slip // the slips of each, likewise
}

// found is a reading that looks wrong.
type found struct {
	tie     int
	w       float64
	rivals  []int // ties that it cannot be told from, itself among them
	fitted  float64
	u       float64 // of fitted, with the reading's own limit
	options []option
	drop    float64 // of the sum of squares without it
	freedom float64 // with it
}

// search looks for wrong readings in the network, and doubts them.
func (a *adjuster) search() {
	s := search{adjuster: a, ties: slices.Clone(a.space.net.adjusted.Net.Ties), now: a.space.net.adjusted}
	for _, f := range s.run() {
		s.tell(f)
		a.clean = s.now
	}
}

func (s *search) run() []found {
	if !s.fails(s.now) {
		return nil
	}
	other := *s
	one := *s.now
	other.now = &one
	all := s.snoop(nil)
	if len(all) < 2 && !s.fails(s.now) {
		return all
	}
	if many, ok := other.robust(); ok {
		if many = other.snoop(many); other.total(many) < s.total(all) {
			s.out, s.now = other.out, other.now
			return many
		}
	}
	return all
}

// snoop sets aside one reading after the other until what is left agrees.
func (s *search) snoop(all []found) []found {
	most := max(1, int(slipShare*float64(len(s.ties))))
	for len(s.out) < most && s.fails(s.now) {
		f, ok := s.next()
		if !ok {
			break
		}
		all = append(all, f)
	}
	return s.tryAgain(all)
}

// freedom is what is left to check with.
func (s *search) freedom() float64 {
	return float64(s.now.Freedom - len(s.out))
}

// fails says that the readings that are not set aside cannot all be right, or
// that one of them looks like a slip.
func (s *search) fails(adjusted *network.Adjusted) bool {
	if adjusted.Freedom-len(s.out) < 1 {
		return false
	}
	if _, w := s.greatest(adjusted); w > critical {
		return true
	}
	return s.misfits(adjusted, len(s.out)) || s.anyLikelySlip(adjusted)
}

// misfits says that the readings as a whole, but for so many that are set aside,
// cannot all be right: with the same probability as of the single test.
func (s *search) misfits(adjusted *network.Adjusted, out int) bool {
	f := float64(adjusted.Freedom - out)
	return f >= 1 && chiSquared(f, adjusted.SumSquares) < 0.001
}

// greatest is the tie with the greatest |w|.
func (s *search) greatest(adjusted *network.Adjusted) (tie int, w float64) {
	tie = -1
	for l := range s.ties {
		if v := s.w(adjusted, l); v > w {
			tie, w = l, v
		}
	}
	return tie, w
}

// w is |w| of a tie; 0 for one that is set aside, that nothing checks, or that
// nobody read.
func (s *search) w(adjusted *network.Adjusted, l int) float64 {
	if k := s.ties[l].Kind; k == network.Common || k == network.Sideways || slices.Contains(s.out, l) {
		return 0
	}
	w, ok := adjusted.Standardised(l)
	if !ok || adjusted.Redundancy[l] < leastChecked {
		return 0
	}
	return math.Abs(w)
}

// leastChecked is the redundancy under which the other readings say nothing of
// one: a slip of an inch would show as a quarter of a millimetre.
const leastChecked = 0.01

// without adjusts with the ties set aside and one more. Where the rest still
// does not agree, the marks of that one are placed anew: a gross slip may have
// dragged them out of reach.
func (s *search) without(l int) (*network.Adjusted, error) {
	net := s.now.Net
	net.Ties = slices.Clone(s.ties)
	out := slices.Clone(s.out)
	if l >= 0 {
		out = append(out, l)
	}
	for _, o := range out {
		net.Ties[o].U *= setAside
	}
	adjusted, err := net.Adjust(s.now.At)
	if f := float64(adjusted.Freedom - len(out)); l < 0 || err == nil && f >= 1 && chiSquared(f, adjusted.SumSquares) > agrees {
		return adjusted, err
	}
	known := network.Start{At: s.now.At, Placed: make([]bool, net.Marks)}
	for k := range known.Placed {
		known.Placed[k] = true
	}
	for _, k := range [2]int{s.ties[l].Mark, s.ties[l].From} {
		if k != network.None && !s.complete(s.nets.marks[k]) {
			known.Placed[k] = false
		}
	}
	rest := net
	rest.Ties = slices.Delete(slices.Clone(net.Ties), l, l+1)
	start := rest.Start(known, s.nets.side)
	if slices.Contains(start.Placed, false) {
		return adjusted, err
	}
	again, wrong := net.Adjust(start.At)
	if err != nil || wrong == nil && again.SumSquares < adjusted.SumSquares {
		return again, wrong
	}
	return adjusted, err
}

// mirrored are the networks in which a mark of a reading that is taken out is
// somewhere else that the others fit as well: only that reading said which side
// of their plane it is on, and a slip may have put it on the wrong one.
func (s *search) mirrored(l int, adjusted *network.Adjusted) (others []*network.Adjusted) {
	rest := *adjusted
	rest.Net.Ties = slices.Delete(slices.Clone(rest.Net.Ties), l, l+1)
	elsewhere := rest.Elsewhere()
	for _, k := range [2]int{s.ties[l].Mark, s.ties[l].From} {
		if k == network.None || s.complete(s.nets.marks[k]) {
			continue
		}
		at, worse, ok := elsewhere.Of(k)
		if !ok || worse > alike {
			continue
		}
		if right, decided := s.nets.side(k, at, adjusted.At[k]); decided && !right {
			continue
		}
		start := slices.Clone(adjusted.At)
		start[k] = at
		if other, err := adjusted.Net.Adjust(start); err == nil {
			others = append(others, other)
		}
	}
	return others
}

// next finds the reading whose slip explains most, and sets it aside.
func (s *search) next() (found, bool) {
	suspects, more := s.suspects()
	var best found
	var left *network.Adjusted
	least := math.Inf(1)
	misfit := map[int]float64{}
	try := func(l int) {
		adjusted, err := s.without(l)
		if err != nil {
			return // it alone holds something
		}
		misfit[l] = math.Inf(1)
		for _, rest := range append(s.mirrored(l, adjusted), adjusted) {
			f := s.explain(l, rest)
			misfit[l] = math.Min(misfit[l], rest.SumSquares)
			if cost := rest.SumSquares + f.cost(); cost < least {
				least, best, left = cost, f, rest
			}
		}
	}
	for _, l := range suspects {
		try(l)
	}
	if left == nil || s.misfits(left, len(s.out)+1) {
		for _, l := range more {
			try(l)
		}
	}
	if left == nil {
		return found{}, false
	}
	best.w = s.w(s.now, best.tie)
	best.drop = s.now.SumSquares - left.SumSquares
	best.freedom = s.freedom()
	// It is named by the figures where the others agree without it and with no
	// other left out: then a slip that fits is no chance.
	_, top := s.greatest(s.now)
	for l, sum := range misfit {
		if sum < left.SumSquares+clear || s.w(s.now, l) >= alikeShare*top {
			best.rivals = append(best.rivals, l)
		}
	}
	if top <= critical && !s.misfits(s.now, len(s.out)) {
		best.rivals = []int{best.tie} // all may be chance but for the slip that it looks like
	}
	slices.Sort(best.rivals)
	best.rivals = s.oneARow(best.rivals, best.tie)
	s.out = append(s.out, best.tie)
	s.now = left
	return best, true
}

// oneARow leaves one number of each reading among rivals: a row is taken again
// as a whole. first is the one that stands for its row.
func (s *search) oneARow(rivals []int, first int) (out []int) {
	seen := map[int]bool{}
	for _, l := range rivals {
		row := s.nets.rows[l]
		if seen[row] {
			continue
		}
		seen[row] = true
		if row == s.nets.rows[first] {
			l = first
		}
		out = append(out, l)
	}
	return out
}

func compare(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// tryAgain puts back what the rest does not contradict, and tells the others'
// slips once more from the readings that are right.
func (s *search) tryAgain(all []found) []found {
	for i := 0; i < len(all); i++ {
		if s.backIn(all[i].tie) {
			all = slices.Delete(all, i, i+1)
			i = -1
		}
	}
	if len(all) > 1 {
		all = s.acquit(all)
		for i, f := range all {
			again := s.explain(f.tie, s.now)
			again.w, again.rivals, again.drop, again.freedom = f.w, f.rivals, f.drop, f.freedom
			all[i] = again
		}
	}
	return all
}

// backIn puts a tie back if the rest does not contradict it: neither by what it
// makes of its value, nor by what becomes of the whole.
func (s *search) backIn(l int) bool {
	value, u := s.now.Fitted(l)
	off := math.Hypot(u, s.ties[l].U)
	if math.Abs(s.ties[l].Value-value) > critical*off || s.likelySlip(l, value, off) {
		return false
	}
	keep := s.out
	s.out = slices.DeleteFunc(slices.Clone(s.out), func(o int) bool { return o == l })
	adjusted, err := s.without(-1)
	if err != nil || adjusted.SumSquares > s.now.SumSquares+critical*critical {
		s.out = keep
		return false
	}
	s.now = adjusted
	return true
}

// acquit puts back readings that were set aside only because others had dragged
// the marks to the wrong side: with a fresh start they fit.
func (s *search) acquit(all []found) []found {
	for i := 0; i < len(all); i++ {
		l := all[i].tie
		out := slices.DeleteFunc(slices.Clone(s.out), func(o int) bool { return o == l })
		adjusted, ok := s.afresh(out)
		if !ok {
			continue
		}
		if adjusted.SumSquares > s.now.SumSquares+critical*critical {
			continue
		}
		s.out, s.now = out, adjusted
		all = slices.Delete(all, i, i+1)
		i--
	}
	return all
}
