package clearance

import (
	"github.com/golang/geo/r3"

	"elbowroom/solid"
	"elbowroom/solid/shape"
	"elbowroom/survey"
)

// hoseAgainstParts drafts a hose against the body, the brackets, other fittings and
// the room that hands and tools need. Its own fitting it touches on purpose; of its
// own fitting's room it is part. The body, out of which it comes, it keeps away from
// where it has left it: after its first straight, and as far along as half its
// thickness and the gap; its own fitting, where it turns back.
func (c *checker) hoseAgainstParts(h *hoseThing) (drafts []draft, meant []Contact) {
	own := -1
	for i, part := range c.assembly.Parts {
		if part.Fitting >= 0 && part.Fitting == h.fitting {
			if part.Kind == solid.ElementPart {
				own = i
				drafts = append(drafts, c.hoseBackOnto(h, part)...)
			}
			continue
		}
		drafts = append(drafts, c.hoseAgainstPart(h, part)...)
	}
	if own >= 0 {
		meant = append(meant, Contact{h.spec.Name, c.assembly.Parts[own].Name})
	}
	return drafts, meant
}

// hoseAgainstPart drafts a hose against a part that is not of its own fitting; nothing
// where nothing of the hose counts.
func (c *checker) hoseAgainstPart(h *hoseThing, part solid.Part) []draft {
	gap, name := c.partGap(part)
	if part.Kind == solid.Body {
		first, _ := h.whole.Legs()
		h.tube = h.whole.Between(max(first, h.spec.Outside/2+gap), h.whole.Length())
	}
	defer func() { h.tube = h.whole }()
	if len(h.tube.Pieces) == 0 {
		return nil
	}
	return []draft{c.hoseToPart(h, part, gap, name)}
}

// partGap is what a hose keeps from a part of the box.
func (c *checker) partGap(p solid.Part) (mm float64, name string) {
	if p.Kind == solid.KeepOpenPart {
		return 0, ""
	}
	g := c.rules.named("hose")
	return g.Gap, g.Name
}

func (c *checker) hoseToPart(h *hoseThing, part solid.Part, gap float64, name string) draft {
	n, spot := h.distance(part.Solid)
	g := h.carry(c, nil, spot, n.OnA, n.Normal.Mul(-1))
	c.carried(n.OnB, n.Normal, part.Share(n.OnB, c.assembly.Tank.Size), part.Fitting)
	d := draft{main: c.newFigure(n.Signed, g)}
	d.line = c.ownLine(h.spec.Name, part.Name, n, d.main, gap, name)
	return d
}

// hosesApart drafts a hose against another.
func (c *checker) hosesApart(h, o *hoseThing) draft {
	n, spot, other := h.tube.DistanceTube(o.tube)
	g := h.carry(c, nil, spot, n.OnA, n.Normal.Mul(-1))
	g = o.carry(c, g, other, n.OnB, n.Normal)
	d := draft{main: c.newFigure(n.Signed, g)}
	gap := c.rules.named("hose")
	d.line = c.ownLine(h.spec.Name, o.spec.Name, n, d.main, gap.Gap, gap.Name)
	return d
}

// ownLine is a line between two things that the user brings.
func (c *checker) ownLine(part, other string, n shape.Nearest, f figure, gap float64, name string) Line {
	return Line{
		Part: part, Feature: other, When: "at rest", Own: true,
		Clearance: n.Signed, U: f.u, Gap: gap, GapName: name,
		OnPart: c.pose.world(n.OnA), OnFeature: c.pose.world(n.OnB), Toward: c.pose.turnOut(n.Normal),
		AtLeast: n.Signed < 0,
	}
}

// carryLed moves a place on a found run with its two ends: a run that is led again
// between ends that moved moves with each by its share of the length.
func (h *hoseThing) carryLed(c *checker, g survey.Gradient, which int, at, by r3.Vector) survey.Gradient {
	p := h.tube.Pieces[which]
	before, after := at.Sub(p.Arc.From).Norm(), at.Sub(p.Arc.To).Norm()
	along := p.Start
	if before+after > 0 {
		along += p.Length * before / (before + after)
	}
	share := 0.0
	if whole := h.whole.Length(); whole > 0 { // ends in one place: all of it goes with the box
		share = along / whole
	}
	port := c.assembly.Ports[h.fitting]
	c.carried(port.At, by.Mul(1-share), h.follow, h.fitting)
	return append(g, survey.Pull{Mark: h.end, By: c.pose.turnOut(by.Mul(share))})
}
