package job

import (
	"fmt"
	"slices"
	"strings"

	"github.com/golang/geo/r3"

	"elbowroom/clearance"
	"elbowroom/survey"
	"elbowroom/survey/table"
)

// gapNames are the named gaps.
func gapNames() []string {
	var names []string
	for _, g := range clearance.NamedGaps() {
		names = append(names, g.Name)
	}
	return names
}

// gaps reads the overrides of the named gaps.
func (r *reader) gaps(s section) {
	n, ok := s.get("gaps")
	if !ok {
		return
	}
	u := r.section(n, gapNames()...)
	r.job.Rules.Gaps = map[string]float64{}
	for _, name := range gapNames() {
		var mm float64
		if u.length(name, fromZero, &mm) {
			r.job.Rules.Gaps[name] = mm
		}
	}
}

// readFeatures reads what was measured.
func (r *reader) readFeatures(s section) {
	n, ok := s.get("features")
	if !ok {
		return
	}
	if n.kind != mapping {
		r.complain(n, "features with their names belong here", "write each as a name and its shape, as in wall: {shape: face, mount: true}")
		return
	}
	r.job.Rules.Asks = map[string]clearance.Ask{}
	var mount string
	seen := map[string]node{}
	for _, k := range n.keys {
		at := node{pos: k.pos, path: n.path, text: k.name}
		if first, twice := seen[k.name]; twice {
			r.complain(at, fmt.Sprintf("the feature %s stands twice, first in line %d", k.name, first.pos.Line), "give one of them another name")
			continue
		}
		seen[k.name] = at
		f := r.feature(k)
		if f.Mount && mount != "" {
			r.complain(at, fmt.Sprintf("%s and %s are both the mount", mount, k.name), "the box is bolted to one face; leave mount: true at that one")
		}
		if f.Mount {
			mount = k.name
		}
		r.job.Readings.Features = append(r.job.Readings.Features, f)
	}
}

// feature reads one feature.
func (r *reader) feature(k entry) survey.FeatureSpec {
	f := survey.FeatureSpec{Name: k.name, Pos: k.pos}
	if k.value.kind == nothing {
		r.complain(k.value, "nothing is said of it", "say what its marks stand for, as in {shape: face}")
		return f
	}
	s := r.section(k.value, "shape", "mount", "behind", "round", "diameter", "touched", "run", "gap")
	s.need([2]string{"shape", strings.Join(survey.ShapeNames(), ", ") + " (what its marks stand for)"})
	if _, i, ok := s.choice("shape", survey.ShapeNames()...); ok {
		f.Shape, _ = survey.ParseShape(survey.ShapeNames()[i])
	}
	s.yes("mount", &f.Mount)
	s.axis("behind", &f.Behind)
	s.length("round", fromZero, &f.Round)
	s.length("diameter", overZero, &f.Diameter)
	s.axis("touched", &f.Touched)
	s.yes("run", &f.Run)
	r.gap(s, f.Name)
	r.fits(s, f)
	return f
}

// shapesOf are the shapes that a key of a feature goes with; none: with any.
func shapesOf(key string) []survey.Shape {
	switch key {
	case "mount":
		return []survey.Shape{survey.Face}
	case "behind":
		return []survey.Shape{survey.Face, survey.Edge, survey.Skin, survey.Dots}
	case "round":
		return []survey.Shape{survey.Edge, survey.Dots}
	case "diameter", "touched", "run":
		return []survey.Shape{survey.Tube}
	}
	return nil
}

// fits checks that a feature's keys go with its shape and each other.
func (r *reader) fits(s section, f survey.FeatureSpec) {
	if f.Shape == survey.NoShape {
		return
	}
	for _, k := range s.node.keys {
		if shapes := shapesOf(k.name); len(shapes) > 0 && !slices.Contains(shapes, f.Shape) {
			at := node{pos: k.pos, path: k.value.path}
			r.complain(at, fmt.Sprintf("%s goes with the shape %s, not with %s", k.name, shapeList(shapes), f.Shape), "take it out, or check the shape")
		}
	}
	_, hasDiameter := s.value["diameter"]
	switch {
	case f.Shape == survey.Tube && !f.Run && !hasDiameter:
		r.complain(s.node, "diameter is missing", "add diameter: 3/4, the outside diameter of the pipe or hose")
	case f.Touched != (r3.Vector{}) && !hasDiameter:
		r.complain(s.value["touched"], "the marks were taken on the skin, but the diameter is missing", "add diameter: 3/4")
	}
	if n, asks := s.value["gap"]; asks && f.Run {
		r.complain(n, "a run is no obstacle, so no gap is asked of it", "take the gap out")
	}
	if n := s.value["behind"]; f.Mount && f.Behind != (r3.Vector{}) && f.Behind.Z >= 0 {
		r.complain(n, "the mount is solid behind itself, toward -z", "take behind out")
	}
}

func shapeList(shapes []survey.Shape) string {
	var names []string
	for _, s := range shapes {
		names = append(names, s.String())
	}
	return strings.Join(names, " or ")
}

// gap reads the gap that a feature asks for: a name or a length.
func (r *reader) gap(s section, feature string) {
	n, ok := s.get("gap")
	if !ok {
		return
	}
	t, ok := r.word(n, "a gap")
	if !ok {
		return
	}
	ask := clearance.Ask{Pos: n.pos}
	switch {
	case slices.Contains(gapNames(), t):
		ask.Name = t
	case strings.ContainsAny(t[:1], "+-.0123456789¼½¾⅛⅜⅝⅞"):
		if ask.Gap, ok = r.length(n, fromZero); !ok {
			return
		}
	default:
		r.complain(n, table.Quote(t)+" is not a gap", likely(t, gapNames(), "write a length, or one of "))
		return
	}
	r.job.Rules.Asks[feature] = ask
}
