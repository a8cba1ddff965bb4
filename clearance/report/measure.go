package report

import (
	"fmt"
	"math"
	"strings"

	"elbowroom/clearance"
)

// remedy says what would settle a line that is too close to call; shared says
// that it is a round of readings or of making, which may settle others too.
func (p *page) remedy(l clearance.Line) (what string, shared bool) {
	if open(l) {
		return p.hangs(l) + "; " + p.tie(l), false
	}
	for _, m := range p.r.MeasureNext {
		for _, pair := range m.For {
			if pair.Part == l.Part && pair.Feature == l.Feature && m.Kind != clearance.TakeOnceMore && m.Mark == "" {
				return p.measure(m), true
			}
		}
	}
	return "it needs about " + p.need(p.moreRoom(l)) + p.unit() + " more room to be sure", false
}

// measure words something to do, with the limit that it needs.
func (p *page) measure(m clearance.Measure) string {
	text := toDo(m, mostNames, p.sideName(m.Side), func(mm float64) string { return p.place(mm) + p.unit() })
	switch m.Kind {
	case clearance.Look:
		return text + ", or probe at " + p.at(m.At.X, m.At.Y, m.At.Z)
	case clearance.NeedsTape:
		return text
	}
	if m.Within > 0 {
		return text + ", to " + p.limit(m.Within)
	}
	return text
}

// toTake names the marks and the tapes to take.
func toTake(m clearance.Measure) []string {
	out := names(m.Marks)
	for _, t := range m.Tapes {
		out = append(out, "the tape from "+name(t[0])+" to "+name(t[1]))
	}
	return out
}

// toDo words something to do; most is how many readings are named, and place
// words a length.
func toDo(m clearance.Measure, most int, side string, place func(mm float64) string) string {
	switch all := list(toTake(m), most); m.Kind {
	case clearance.NewTape:
		return "pull " + all
	case clearance.NewDepth:
		return lay(m.Depth, place)
	case clearance.TakeAgain:
		return "take " + all + " again"
	case clearance.TakeOnceMore:
		return "take " + all + " once more"
	case clearance.MakeCloser:
		return "hold " + list(cleanAll(m.Making), most) + " closer"
	case clearance.NeedsTape:
		return "give " + all + " all of x, y and z"
	case clearance.Look:
		return "look at the " + side + " side"
	}
	return ""
}

// pairs words the lines that something settles.
func pairs(list []clearance.Pair) []string {
	var out []string
	for _, p := range list {
		out = addNew(out, p.Part+" against "+p.Feature)
	}
	return out
}

// measureNext lists what would settle most.
func (p *page) measureNext() {
	if len(p.r.MeasureNext) == 0 {
		return
	}
	p.head("Measure next")
	for _, m := range p.r.MeasureNext {
		text := p.measure(m)
		switch lines := list(cleanAll(pairs(m.For)), 3); {
		case m.Mark != "":
			text += ": " + standing(m, func(u float64) string { return p.need(2*u) + p.unit() }) + "; " + lines + chosen(len(m.For) == 1, " hangs", " hang") + chosen(len(m.Marks) > 1, " on them", " on it")
		case len(m.For) > 0:
			text += ": for " + lines
		}
		p.entry(text + ".")
	}
}

// standing says what is wrong with the mark that a reading is for. print words
// the give or take of a standard uncertainty.
func standing(m clearance.Measure, print func(u float64) string) string {
	if m.U == 0 {
		marks := []string{m.Mark}
		if len(m.Marks) > 0 {
			marks = m.Marks
		}
		return "nothing checks all that places " + list(names(marks), mostNames)
	}
	known := name(m.Mark) + " is known to give or take " + print(m.U) + " at worst, and " + print(m.Left) + " with it"
	if m.Unchecked {
		return "nothing checks all that places it, and " + known
	}
	return known
}

func cleanAll(texts []string) []string {
	out := make([]string, len(texts))
	for i, t := range texts {
		out[i] = Clean(t)
	}
	return out
}

// measureKeys is how a reading to take stands in JSON.
type measureKeys struct {
	What   string  `json:"what"`
	Why    string  `json:"why"`
	Within *number `json:"within_mm"`
}

func measuresJSON(list []clearance.Measure) []measureKeys {
	var out []measureKeys
	for _, m := range list {
		why := strings.Join(pairs(m.For), "; ")
		if m.Mark != "" {
			hanging := why
			if why = standing(m, func(u float64) string { return fmt.Sprintf("%.1f mm", 2*u) }); hanging != "" {
				why += "; hanging on it: " + hanging
			}
		}
		if m.Kind == clearance.Look {
			why = "nothing was measured near enough to it"
			if m.HiddenOK {
				why = fmt.Sprintf("a thing %.0f mm across could be there unseen, about x %.0f, y %.0f, z %.0f", math.Ceil(m.Hidden), m.At.X, m.At.Y, m.At.Z)
			}
		}
		out = append(out, measureKeys{toDo(m, len(m.Marks)+len(m.Tapes), m.Side.String(), inMM), why, known(m.Within, m.Within > 0)})
	}
	return out
}
