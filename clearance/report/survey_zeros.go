package report

import (
	"fmt"
	"math"
	"path/filepath"
)

// zeros says what the readings make of the tapes' shared errors.
func (p *surveyPage) zeros() {
	for i, z := range p.s.Zeros() {
		if i == 0 {
			p.head("What the tapes of a file have in common, taken off them")
		}
		take, ok := p.giveOrTake(z.U)
		text := name(filepath.Base(z.File)) + ": they read "
		switch by := p.place(math.Abs(z.Long)); {
		case by == "0":
			text += "neither long nor short"
		default:
			text += by + p.unit() + chosen(z.Long > 0, " long", " short")
		}
		if ok {
			text += ", give or take " + take
		}
		p.entry(text + ".")
	}
}

// repeats holds how far repeats are apart against their limits.
func (p *surveyPage) repeats() {
	r := p.s.Adjustment.Repeats
	if r.N == 0 {
		return
	}
	p.head("Readings taken again")
	p.entry(count(r.N, "repeat", "repeats") + "; they differ by " + fmt.Sprintf("%.1f", r.Share) + " of what their limits lead one to expect" + chosen(r.N < fewRepeats, "; too few to judge the limits by", "") + ".")
}

// fewRepeats is how many repeats it takes to say anything of limits: the share of
// eight numbers is good to a quarter (1/sqrt(2 n)).
const fewRepeats = 8
