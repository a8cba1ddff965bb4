package survey

import (
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r3"

	"elbowroom/survey/network"
)

// netDoubts says what is weak in the network, and what looks wrong.
func (a *adjuster) netDoubts() {
	if a.space.net == nil {
		return
	}
	for k, u := range a.tapedTo() {
		a.weak(k, u)
	}
	a.oneSided()
	a.search()
}

// checkSides complains of marks that could as well be elsewhere, where the
// face's side does not decide.
func (b *build) checkSides(adjusted *network.Adjusted) {
	elsewhere := adjusted.Elsewhere()
	for k, m := range b.marks {
		if b.complete(m) || b.gauged && len(b.marks) < 5 {
			continue
		}
		at, worse, ok := elsewhere.Of(k)
		// As alike as chance makes them (network.Start).
		if !ok || worse > 9 {
			continue
		}
		if _, decided := b.side(k, adjusted.At[k], at); decided {
			continue
		}
		if apart := at.Sub(adjusted.At[k]); apart.Norm() < sidesApart*worstOf(adjusted.Block(k, k)) {
			continue // near the plane of its marks: weak, not two places
		}
		pos, field := b.tieOf(m)
		what := fmt.Sprintf("the tapes of %s fit two places alike, on either side of %s, and nothing says which side is right", b.space.Marks[m].Name, b.names(b.neighbours(k)))
		if adjusted.Freedom > 0 && chiSquared(float64(adjusted.Freedom), adjusted.SumSquares) < 0.001 {
			// A wrong reading comes first: it may be all that is alike about them.
			b.doubt(Doubt{Pos: pos, Weight: 12, Says: what + "; " + b.mendSide()})
			continue
		}
		b.complain(pos, field, b.space.Marks[m].Name, what, b.mendSide())
	}
}

// sidesApart is how many standard uncertainties two places of a mark are apart
// before they are two: where it is less, the mark is only weak.
const sidesApart = 6

func worstOf(b [9]float64) float64 {
	values, _ := network.Eigen3([3][3]float64{{b[0], b[1], b[2]}, {b[3], b[4], b[5]}, {b[6], b[7], b[8]}})
	return math.Sqrt(math.Max(0, values[0]))
}

func (b *build) mendSide() string {
	if b.readings.Frame == nil {
		return "tape it from a mark off their plane, give a depth, or name the side with frame: {out_toward: ..}"
	}
	return "tape it from a mark off their plane, or give a depth"
}

// neighbours are the marks that a mark is taped from.
func (b *build) neighbours(k int) []int {
	var out []int
	for l := range b.net.Ties {
		t, o := &b.net.Ties[l], network.None
		switch {
		case t.Kind != network.Distance:
		case t.Mark == k:
			o = t.From
		case t.From == k:
			o = t.Mark
		}
		if o != network.None && !slices.Contains(out, b.marks[o]) {
			out = append(out, b.marks[o])
		}
	}
	return out
}

// weakBy is from how many times the uncertainty of the readings that a mark
// hangs on its own worst one is worth a word: a mark well inside its tapes has
// about as much as they, one that is a fifth of their length off their plane
// three or four times.
const weakBy = 5

// tapedTo is, of each mark of the network, the mean standard uncertainty of the
// tapes to it, mm; 0 where there is none.
func (a *adjuster) tapedTo() []float64 {
	u, n := make([]float64, a.nets.net.Marks), make([]float64, a.nets.net.Marks)
	for l := range a.nets.net.Ties {
		if t := &a.nets.net.Ties[l]; t.Kind == network.Distance {
			u[t.Mark], u[t.From] = u[t.Mark]+t.U, u[t.From]+t.U
			n[t.Mark], n[t.From] = n[t.Mark]+1, n[t.From]+1
		}
	}
	for k := range u {
		u[k] /= math.Max(1, n[k])
	}
	return u
}

// weak doubts a mark that is known badly in one direction, and says why. u is
// that of the tapes to it.
func (a *adjuster) weak(k int, u float64) {
	m := a.space.net.marks[k]
	block := a.space.net.adjusted.Block(k, k)
	// In the axes of the network, which are as good a guide. The trace is never
	// less than the greatest variance.
	if u == 0 || math.Sqrt(block[0]+block[4]+block[8]) < weakBy*u || worstOf(block) < weakBy*u {
		return
	}
	near := a.nets.neighbours(k)
	spread := a.space.Spread(m)
	if spread.Worst < weakBy*u {
		return
	}
	name := a.space.Marks[m].Name
	good := a.length(spread.Worst)
	says := fmt.Sprintf("%s of %s is only good to %s", a.direction(spread.Toward), name, good)
	mend := "add a tape from a mark to another side, or a depth"
	if a.flat(near) {
		says = fmt.Sprintf("marks %s lie in one plane: %s", a.names(near), says)
		mend = "add a tape from a mark off the plane, or a depth"
	}
	pos, _ := a.tieOf(m)
	a.doubt(Doubt{Pos: pos, Weight: 3 + math.Min(spread.Worst/u, 1000)/1000, Severity: Remark, Says: says + "; " + mend})
}

// direction names a direction: an axis where it is within 25 degrees of one
// (cos 25 = 0.9), else its parts.
func (a *adjuster) direction(v r3.Vector) string {
	for axis := range 3 {
		if math.Abs(along(v, axis)) > 0.9 {
			return axisName(axis)
		}
	}
	if v.Z < 0 || v.Z == 0 && v.Y < 0 {
		v = v.Mul(-1)
	}
	return fmt.Sprintf("the place along (%.1f, %.1f, %.1f)", v.X, v.Y, v.Z)
}

// flat says whether marks lie in one plane to a tenth of their spread.
func (a *adjuster) flat(marks []int) bool {
	if len(marks) <= 3 {
		return true
	}
	at := make([]r3.Vector, len(marks))
	for i, m := range marks {
		at[i] = a.space.Marks[m].At
	}
	plane, err := network.FitPlane(at, nil)
	return err != nil || plane.SpreadN < 0.1*plane.SpreadT
}

// oneSided doubts tapes that read long on the whole: slant, sag and bends only
// ever add. The mean of the standardised residuals of tapes is held against
// what chance makes of it: fitted less read is below nothing for a tape that
// reads long.
func (a *adjuster) oneSided() {
	n := a.space.net
	checked, u := 0, 0.0 // u is the first one's
	sum, variance := 0.0, 0.0
	tied := make([]float64, len(n.adjusted.Net.Ties))
	load := make([]float64, len(n.adjusted.Net.Ties))
	for l := range n.adjusted.Net.Ties {
		t := &n.adjusted.Net.Ties[l]
		if t.Kind == network.Distance && n.adjusted.Redundancy[l] >= LeastRedundancy {
			if checked++; checked == 1 {
				u = t.U
			}
			sum += n.adjusted.Residuals[l] / t.U
			load[l] = 1
		}
	}
	// At least eight checked tapes show a habit.
	if checked < 8 || a.readings.TapeFacts.Zero > 0 {
		return
	}
	// The residuals are -(I - H) e: the variance of their sum is sᵀ(I - H)s.
	n.adjusted.Spreader().Hat(load, tied)
	for l := range load {
		variance += load[l] * (load[l] - tied[l])
	}
	if variance < 1 || sum > -critical*math.Sqrt(variance) {
		return
	}
	long := -sum / float64(checked) * u
	a.doubt(Doubt{Pos: a.readings.Tapes[0].Pos, Weight: 4, Severity: Remark, Says: fmt.Sprintf("the tapes read long on the whole, by about %s more than the marks allow: slant, sag and bends only ever add; pull them straight, or write those limits one-sided, as in +0 -1/4", a.length(long))})
}
