package survey

import "gonum.org/v1/gonum/stat/distuv"

// chiSquared is the probability that a sum of squares of so many degrees of
// freedom is as great as this or greater, by chance.
func chiSquared(freedom, sum float64) float64 {
	return distuv.ChiSquared{K: freedom}.Survival(sum)
}
