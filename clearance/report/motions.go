package report

import (
	"math"
	"sort"
	"strconv"
	"strings"

	"github.com/golang/geo/r3"

	"elbowroom/clearance"
)

// during names the motion of a line, if any, and where in it the line stands, as in
// " (hatch shuts, at -42 degrees)".
func (p *page) during(l clearance.Line) string {
	if l.When == "" || l.When == "at rest" {
		return ""
	}
	text := name(l.When)
	for i, at := range l.At {
		text += ", "
		if i > 0 {
			text += name(at.Motion) + " "
		}
		text += "at " + p.position(at)
	}
	return " (" + text + ")"
}

// position words a position in a motion, to the nearest.
func (p *page) position(at clearance.Position) string {
	if !at.Turns {
		return p.place(at.At) + p.unit()
	}
	tenths := math.Round(degrees(at.At)*10)/10 + 0 // not -0
	return glued(strconv.FormatFloat(tenths, 'f', -1, 64) + " " + chosen(math.Abs(tenths) == 1, "degree", "degrees"))
}

func degrees(radians float64) float64 { return radians * 180 / math.Pi }

// motions says how far and which way each motion takes what it moves: a lid that is
// swung the wrong way would clear.
func (p *page) motions() {
	if len(p.r.Travels) == 0 {
		return
	}
	p.head("Motions, from where it was measured (is that the way it goes?)")
	for i := 0; i < len(p.r.Travels); {
		motion := p.r.Travels[i].Motion
		var ends []string
		for ; i < len(p.r.Travels) && p.r.Travels[i].Motion == motion; i++ {
			t := p.r.Travels[i]
			ends = append(ends, "at "+p.position(t.Position)+" "+name(t.Mark)+" goes "+p.need(t.Goes)+p.unit()+" "+p.way(t.Toward))
		}
		p.entry(name(motion) + ": " + strings.Join(ends, "; ") + ".")
	}
	p.entry("What comes nearest where it was measured stands above as at rest alone.")
}

// way words a direction by the axes that it goes along within 67.5 degrees, the
// steepest first: "down", "up and to the left".
func (p *page) way(v r3.Vector) string {
	least := math.Sin(math.Pi / 8)
	parts := [3]float64{v.X, v.Y, v.Z}
	order := []int{0, 1, 2}
	sort.SliceStable(order, func(i, j int) bool { return math.Abs(parts[order[i]]) > math.Abs(parts[order[j]]) })
	var words []string
	for _, axis := range order {
		if math.Abs(parts[axis]) >= least {
			words = append(words, p.along(axis, parts[axis] > 0))
		}
	}
	return list(words, len(words))
}

// along words a direction along an axis of the mounting frame.
func (p *page) along(axis int, far bool) string {
	if up, _ := p.upAxis(); axis == 2 && up != 2 {
		return chosen(far, "away from the face", "toward the face")
	}
	return p.toward(axis, far)
}

type motionKeys struct {
	Name     string       `json:"name"`
	Farthest farthestKeys `json:"farthest"`
}

type farthestKeys struct {
	Mark   string  `json:"mark"`
	Goes   number  `json:"goes_mm"`
	Toward *place  `json:"toward"`
	Deg    *number `json:"at_deg"`
	MM     *number `json:"at_mm"`
}

// motionsJSON has for each motion the end of its range where its marks go farthest.
func motionsJSON(list []clearance.Travel) []motionKeys {
	var out []motionKeys
	for i, t := range list {
		if i > 0 && list[i-1].Motion == t.Motion {
			continue
		}
		out = append(out, motionKeys{t.Motion, farthestKeys{
			Mark: t.Mark, Goes: number(t.Goes), Toward: placeOf(t.Toward),
			Deg: known(degrees(t.At), t.Turns), MM: known(t.At, !t.Turns),
		}})
	}
	return out
}

// withKeys is where another motion stands that a line's motion goes with.
type withKeys struct {
	Name string  `json:"name"`
	Deg  *number `json:"at_deg"`
	MM   *number `json:"at_mm"`
}

// stands fills in where in its motion a line is.
func (k *lineKeys) stands(at []clearance.Position) {
	for i, p := range at {
		deg, mm := known(degrees(p.At), p.Turns), known(p.At, !p.Turns)
		if i == 0 {
			k.At, k.AtMM = deg, mm
		} else {
			k.With = append(k.With, withKeys{p.Motion, deg, mm})
		}
	}
}
