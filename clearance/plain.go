package clearance

import "math"

// plainBy is how many standard uncertainties over its gap a line must be for its rivals
// to be left aside: the chance of each is then under 1.3e-12, and of a million of them
// together not risky.
const plainBy = 7

// plain says, where a verdict is all that is asked for, that a line is so far over its gap
// that no rival can change it: none is nearer than the line's own witness, nor are its
// marks surer by less than the least sure of all.
func (c *checker) plain(d *draft, o *obstacle) bool {
	if !c.brief || d.line.Clearance-d.line.Gap <= plainBy*d.main.u {
		return false
	}
	most := 0.0
	for _, n := range o.feature.Nodes {
		most = math.Max(most, c.space.Uncertainty(n.Mark))
	}
	return d.line.Clearance-d.line.Gap > plainBy*(d.main.u+math.Sqrt(3)*most)
}
