package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/golang/geo/s1"

	"elbowroom/clearance"
	"elbowroom/solid"
)

// levels says how the liquid stands in the box.
func (p *page) levels() {
	l := &p.r.Levels
	if !l.Asked {
		return
	}
	p.head("How the liquid stands, at rest: by the drawing, with no flow, no pump and no splashing; shares are of what the box holds")
	p.entry(p.fillStanding() + p.fillDetail() + " - " + verdictWords(l.Fill.Verdict, l.Fill.Because) + ".")
	if l.Outlet.Fitting != "" {
		text := p.outletStanding()
		if l.Outlet.Checked {
			text += " - " + verdictWords(l.Outlet.Verdict, l.Outlet.Because)
		}
		p.entry(text + ".")
		if l.Outlet.Checked {
			p.entry(p.uncovers())
		}
	}
	if l.Head.Known {
		text := p.headStanding()
		if l.Head.Asked {
			text += " - " + verdictWords(l.Head.Verdict, l.Head.Because)
		}
		p.entry(text + ".")
	}
	if p.leans() {
		p.entry("Pitch leans it toward its " + p.eitherWay(l.PitchTo) + ", roll toward its " + p.eitherWay(l.RollTo) + "; if the machine lies otherwise to the face, say so with forward under up.")
	}
}

// eitherWay names a side and the one across from it.
func (p *page) eitherWay(side solid.Side) string {
	for _, s := range solid.Sides() {
		if s.Axis() == side.Axis() && s.Far() != side.Far() {
			return p.sideName(s) + " and " + p.sideName(side)
		}
	}
	return p.sideName(side)
}

// portion words a share of the box, rounded up, with its litres where known.
func (p *page) portion(share float64) string {
	text := glued(up(100*share, 1) + " %")
	if whole := p.r.Levels.Litres; whole > 0 {
		text += " (" + glued(up(share*whole, 2)+" l") + ")"
	}
	return text
}

// nothing is what prints as no share.
func nothing(share float64) bool { return share < 5e-5 }

// fillStanding says what decides of the fill.
func (p *page) fillStanding() string {
	f, cold := p.r.Levels.Fill, p.r.Levels.Cold
	if f.Fitting == "" {
		return "it is not known which fitting the box is filled through"
	}
	who := name(f.Fitting)
	switch {
	case cold > 0 && f.Spare >= 0:
		return who + ": the cold level of " + exactPercent(cold) + " stands " + p.free(f.Spare) + p.unit() + " under the highest point of its rim" + p.take(f.U)
	case cold > 0:
		return who + ": the cold level of " + exactPercent(cold) + " stands " + p.need(-f.Spare) + p.unit() + " over its rim" + p.take(f.U) + ", where air cannot leave"
	case f.Highest:
		return who + ": the highest point of the inside"
	}
	return who + ": the inside rises " + p.need(f.Over) + p.unit() + " over its rim, and " + p.portion(f.Air) + " stays as air"
}

// take adds how far off a figure may be.
func (p *page) take(u float64) string {
	if take, ok := p.giveOrTake(u); ok {
		return ", give or take " + take
	}
	return ""
}

// fillDetail says where air stays.
func (p *page) fillDetail() string {
	f := p.r.Levels.Fill
	if f.Fitting == "" {
		return ""
	}
	var says []string
	if p.r.Levels.Cold > 0 {
		if f.Highest {
			says = append(says, "it is the highest point of the inside")
		} else {
			says = append(says, "the inside rises "+p.need(f.Over)+p.unit()+" over it, and filled to the neck "+p.portion(f.Air)+" stays as air")
		}
	}
	if len(f.Vents) > 0 {
		says = append(says, "air leaves by "+list(names(f.Vents), mostNames)+" too")
	}
	if p.leans() {
		switch text := p.leaned(f.ToPitch, f.ToRoll); {
		case nothing(f.Leaned):
			says = append(says, "no air stays, however the machine leans")
		case f.AirOn == solid.NoSide:
			says = append(says, text+", up to "+p.portion(f.Leaned)+" cannot be filled")
		default:
			says = append(says, text+", up to "+p.portion(f.Leaned)+" cannot be filled, as air stays under the "+p.sideName(p.upSide())+" toward the "+f.AirOn.String())
		}
	}
	if len(says) == 0 {
		return ""
	}
	return "; " + strings.Join(says, "; ")
}

// upSide is the side that is up.
func (p *page) upSide() solid.Side {
	axis, far := p.upAxis()
	for _, s := range solid.Sides() {
		if s.Axis() == axis && s.Far() == far {
			return s
		}
	}
	return solid.Top
}

// leans says whether the machine may lean at all.
func (p *page) leans() bool { return p.r.Levels.Pitch > 0 || p.r.Levels.Roll > 0 }

// leaned words a lean.
func (p *page) leaned(both ...clearance.Leaning) string {
	var texts []string
	for _, l := range both {
		if l.Angle.Degrees() >= 0.05 {
			texts = append(texts, wholeDegrees(l.Angle)+" toward the "+l.Side.String())
		}
	}
	if len(texts) == 0 {
		return "level"
	}
	return "leaned " + strings.Join(texts, " and ")
}

// wholeDegrees is an angle to the nearest degree.
func wholeDegrees(a s1.Angle) string {
	return glued(count(int(math.Round(a.Degrees())), "degree", "degrees"))
}

// outletStanding says how the outlet stands.
func (p *page) outletStanding() string {
	o := p.r.Levels.Outlet
	text := name(o.Fitting) + ": "
	if o.Checked {
		switch {
		case o.Least >= 0:
			text += "stays under the cold level by " + p.free(o.Least) + p.unit() + p.take(o.U)
			if p.leans() {
				text += ", " + p.leaned(o.ToPitch, o.ToRoll) + " (" + p.free(o.Depth) + p.unit() + " level)"
			}
		default:
			text += "comes out of the cold liquid by " + p.need(-o.Least) + p.unit() + p.take(o.U) + " and would draw air, " + p.leaned(o.ToPitch, o.ToRoll)
		}
		text += "; "
	}
	if o.Lowest {
		text += "it is the lowest point of the inside"
	} else {
		text += "its lowest point is " + p.need(o.Over) + p.unit() + " over the bottom, so that " + p.portion(o.Left) + " stays in when it drains"
	}
	if p.leans() && !nothing(o.LeftLeaned-o.Left) {
		text += "; up to " + p.portion(o.LeftLeaned) + " leaned"
	}
	return text
}

// uncovers says at which lean the outlet draws air.
func (p *page) uncovers() string {
	var ways, never []string
	for _, l := range p.r.Levels.Outlet.Uncovers {
		if l.Angle < 0 {
			never = append(never, l.Side.String())
			continue
		}
		ways = append(ways, glued(down(l.Angle.Degrees(), 0)+" degrees")+" toward the "+l.Side.String())
	}
	text := name(p.r.Levels.Outlet.Fitting) + " comes out of the cold liquid at "
	if len(ways) == 0 {
		return name(p.r.Levels.Outlet.Fitting) + " stays under the cold liquid at any lean up to 90 degrees."
	}
	text += strings.Join(ways, ", ")
	if len(never) > 0 {
		text += ", never toward the " + either(never)
	}
	return text + "."
}

// shareLeft is what a percentage that someone wrote leaves of the whole, rounded down to
// a tenth once what the subtraction added is gone.
func shareLeft(share float64) string {
	return glued(strconv.FormatFloat(tenths(math.Round(share*1e6)/1e6)/10, 'f', 1, 64) + " %")
}

// either lists what none of is so.
func either(list []string) string {
	k := len(list) - 1
	if k == 0 {
		return list[0]
	}
	return strings.Join(list[:k], ", ") + " or " + list[k]
}

// headStanding says what room there is for the coolant to swell.
func (p *page) headStanding() string {
	h := p.r.Levels.Head
	text := "head room: " + shareLeft(h.Share)
	if h.Litres > 0 {
		text += " (" + glued(down(h.Litres, 2)+" l") + ")"
	}
	if h.Because == clearance.NotChecked && h.Expansion == 0 {
		return text + "; no density is known for these temperatures"
	}
	text += fmt.Sprintf("; from %.4g C to %.4g C the coolant swells by ", h.Cold, h.Hot) + glued(up(100*h.Expansion, 1)+" %") + " (" + h.Source + ")"
	switch {
	case h.System > 0 && h.Litres > 0:
		text += "; that is enough for " + glued(down(h.Takes, 1)+" litres") + " in all, and there are " + glued(up(h.System, 1)+" litres")
	case h.Asked:
		text += "; that is not even enough for the box's own coolant"
	case h.Litres > 0:
		text += "; that is enough for " + glued(down(h.Takes, 1)+" litres") + " in all: say how much there is (system)"
	default:
		text += "; that is enough for " + glued(down(h.TakesOwn, 1)+" times") + " what the box itself holds cold"
	}
	return text
}

// levelsThat words the levels that decide, with what to do.
func (p *page) levelsThat(v clearance.Verdict) []string {
	l := &p.r.Levels
	var items []string
	if !l.Asked {
		return nil
	}
	if f := l.Fill; f.Verdict == v {
		what := "move the neck to a higher place, or add a vent (use: vent)"
		if f.Fitting == "" {
			what = "say so, with use: fill"
		}
		items = append(items, p.fillStanding()+": "+what)
	}
	if o := l.Outlet; o.Checked && o.Verdict == v {
		items = append(items, p.outletStanding()+": move it lower or toward the middle, or fill higher")
	}
	if h := l.Head; h.Asked && h.Verdict == v {
		items = append(items, p.headStanding()+": fill less, or make the box larger")
	}
	return items
}
