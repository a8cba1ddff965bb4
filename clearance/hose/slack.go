package hose

import "math"

// SlackRadius is the least bend radius of a hose of that length between two ends that
// face each other on one line, where it is longer than their distance by the share
// slack of its length: length / (4 pi sqrt(slack)), the clamped column's first bow,
// a cosine. Good to 2 % up to a slack of 10 %.
func SlackRadius(length, slack float64) float64 {
	return length / (4 * math.Pi * math.Sqrt(slack))
}

// EasyLength is the least length, of some that are longer and longer, at which a hose
// left to itself between its ends bends no tighter than radius; ok is false where none
// does up to a quarter longer. It is right to the steps, 2 % and more.
func EasyLength(e Ends, length, radius float64, parts int) (easy float64, ok bool) {
	bows := e.bows()[:2] // straight on, and to the side to which the ends turn
	for _, more := range [...]float64{0.02, 0.04, 0.06, 0.08, 0.1, 0.13, 0.16, 0.2, 0.25} {
		easy = length * (1 + more)
		var least Elastic
		for _, bow := range bows {
			r := newRod(e, easy, parts, bow)
			if !r.settle() {
				continue
			}
			if s := r.shape(); least.Points == nil || s.Energy < least.Energy {
				least = s
			}
		}
		if least.Radius >= radius {
			return easy, true
		}
	}
	return 0, false
}
