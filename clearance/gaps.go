package clearance

import (
	"elbowroom/survey"
)

// NamedGap is a clearance that goes by a name, mm.
type NamedGap struct {
	Name   string
	Gap    float64
	Origin string
}

// NamedGaps lists the named gaps, in the order in which they are explained.
// Common practice, no source, unless one is given.
func NamedGaps() []NamedGap {
	return []NamedGap{
		{"fixed", 6, "between parts that both stand still; common practice, no source"},
		{"hose", 10, "a hose to anything; common practice: a car maker's service manual asks 10 mm to fixed parts"},
		{"line", 13, "a brake or fuel line; common practice, no source"},
		{"moving", 25, "to something that moves by an unknown amount; common practice, no source; an engine maker accepts 24 mm each way at the mounts"},
		{"swept", 6, "to the room that a moving thing sweeps; common practice, no source; a harness handbook asks 7 mm from a moving envelope"},
		{"belt", 50, "a belt, a fan, a shaft; a harness handbook asks 50 mm to rotating parts"},
		{"hot", 75, "bare exhaust; common practice, no source; a truck maker asks 3 in (76 mm) unshielded"},
		{"hot-shielded", 50, "shielded exhaust; common practice, no source; a truck maker asks 2 in (51 mm) shielded"},
		{"lid", 15, "under a lid; common practice, no source"},
	}
}

// named finds a named gap with the job's override.
func (r Rules) named(name string) NamedGap {
	for _, g := range NamedGaps() {
		if g.Name != name {
			continue
		}
		if mm, ok := r.Gaps[name]; ok {
			return NamedGap{name, mm, "as the job says"}
		}
		return g
	}
	return NamedGap{Name: name}
}

// gapOf is the gap that a feature asks for.
func (c *checker) gapOf(f *survey.Feature) GapUsed {
	use := func(g NamedGap) GapUsed { return GapUsed{f.Spec.Name, g.Name, g.Gap, g.Origin} }
	ask, ok := c.rules.Asks[f.Spec.Name]
	switch {
	case !ok && f.Spec.Mount:
		return GapUsed{f.Spec.Name, "", 0, "the face that the box is bolted to"}
	case !ok:
		return use(c.rules.named("fixed"))
	case ask.Name == "":
		return GapUsed{f.Spec.Name, "", ask.Gap, "as the job says"}
	case ask.Name == "moving" && c.rules.moves(f.Spec.Name):
		return use(c.rules.named("swept"))
	}
	return use(c.rules.named(ask.Name))
}

// moves says whether a declared motion moves the feature.
func (r Rules) moves(feature string) bool {
	for _, m := range r.Motions {
		for _, name := range m.Moves {
			if name == feature {
				return true
			}
		}
	}
	return false
}
