package clearance

import (
	"math"

	"github.com/golang/geo/r3"
	"gonum.org/v1/gonum/stat/distuv"
)

// short is how many mm more of clearance a draft's places need, each by itself, to
// reach sure; unless single readings are accepted also with an inch misread in one.
func (c *checker) short(d *draft) float64 {
	k := distuv.UnitNormal.Quantile(c.rules.Sure)
	most := math.Inf(-1)
	for i := range len(d.rivals) + 1 {
		f := d.main
		if i > 0 {
			f = d.rivals[i-1]
		}
		most = math.Max(most, d.line.Gap+k*f.u-f.value)
		if c.rules.AcceptSingle || d.main.settled(d.line.Gap) {
			continue
		}
		for _, s := range c.slipsOf(f, nil) {
			most = math.Max(most, d.line.Gap+k*s.u-s.value+s.by*aSlip)
		}
	}
	return most
}

// TurnedIn takes a direction from the mounting frame to the judge's.
func (j *Judge) TurnedIn(dir r3.Vector) r3.Vector { return j.c.pose.turnIn(dir) }
