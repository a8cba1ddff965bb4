package report

import (
	"fmt"
	"math"
	"strings"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"elbowroom/clearance"
	"elbowroom/clearance/way"
	"elbowroom/solid"
	"elbowroom/survey"
	"elbowroom/survey/length"
	"elbowroom/survey/table"
)

// in is inches in mm.
func in(x float64) float64 { return x * 25.4 }

var (
	upward    = r3.Vector{Y: 1}
	rightward = r3.Vector{X: 1}
	outward   = r3.Vector{Z: 1}
)

func at(file string, line int) table.Pos { return table.Pos{File: file, Line: line, Column: 1} }

// plain is a report on a box of which everything clears, in inches.
func plain() *clearance.Report {
	return &clearance.Report{
		Title: "Header tank", Unit: length.Inch, Verdict: clearance.Clears,
		Sure: 0.99312, SureIs: "at least", Wanted: 0.975,
		Box: clearance.Box{
			Size:     solid.Size{Width: in(8.5), Height: in(5), Depth: in(3.75)},
			Capacity: 2.3149, DryKg: 0.6211, FullKg: 3.1189, Known: true, Filled: true, Corner: r3.Vector{X: in(2), Y: in(1.25)},
		},
		Lines: []clearance.Line{
			{Part: "body", Feature: "lip", When: "at rest", Clearance: in(0.70), U: in(0.0361), Gap: 6, GapName: "fixed",
				Sure: 0.99992, NotTouching: 1, Verdict: clearance.Clears, Toward: upward, Marks: []string{"L1", "L2"}},
			{Part: "body", Feature: "engine", When: "at rest", Clearance: in(2.1), U: in(0.0502), Gap: 25, GapName: "moving",
				Sure: 1, NotTouching: 1, Verdict: clearance.Clears, Toward: outward, Marks: []string{"E1"}},
		},
		OnPurpose: []clearance.Contact{{Part: "body", Feature: "bulkhead"}},
		Sides: []clearance.SideLine{
			{Side: solid.Left, LookedAt: true, Cover: 0.4, Verdict: clearance.Clears},
			{Side: solid.Right, Nearest: in(3.02), Found: true, Feature: "engine", Cover: 0.973, Hidden: in(1.1), HiddenOK: true, Verdict: clearance.Clears},
			{Side: solid.Top, Nearest: in(0.7), Found: true, Feature: "lip", Cover: 1, LookedAt: true, Verdict: clearance.Clears},
		},
		Flats: []clearance.Flat{{Feature: "bulkhead", Mount: true, Flatness: in(0.07), Tilt: 0.5 * math.Pi / 180, Marks: 6, Proud: "B3"}},
		Gaps: []clearance.GapUsed{
			{Feature: "bulkhead", Gap: 0, Origin: "the face that the box is bolted to"},
			{Feature: "engine", Name: "moving", Gap: 25, Origin: "to something that moves by an unknown amount; an engine maker accepts 24 mm each way at the mounts"},
			{Feature: "lip", Name: "fixed", Gap: 6, Origin: "between parts that both stand still; common practice, no source"},
		},
		Cautions: []clearance.Caution{{Trigger: "cap pressure"}, {Trigger: "motion"}, {Trigger: "sheet"}, {Trigger: "always"}},
	}
}

// nearCap is a fill cap too near a hatch to call.
func nearCap() clearance.Line {
	return clearance.Line{
		Part: "fill cap", Feature: "hatch", When: "at rest", Clearance: in(0.3249), U: in(0.0581), Gap: in(0.25),
		Sure: 0.83459, NotTouching: 1, Verdict: clearance.Unproven, Because: clearance.Near, Toward: upward,
		OnPart: r3.Vector{X: 100, Y: 200.25, Z: 30}, OnFeature: r3.Vector{X: 100, Y: 208.5, Z: 30}, Marks: []string{"H3", "H4"},
		Shares: []clearance.Share{
			{Mark: "H3", U: 1.1, Limit: in(1. / 16), Pos: at("points.csv", 12)}, {Mark: "H4", U: 0.8, Limit: in(1. / 16), Pos: at("points.csv", 13)},
			{Of: "the height as made", U: 0.5, Limit: in(1. / 16)}, {Of: "where the box is bolted", U: 0.4, Limit: in(1. / 16)},
			{Mark: "B1", U: 0.2, Limit: in(1. / 16)}, {Mark: "B2", U: 0.1, Limit: in(1. / 16)}, {Mark: "B3", U: 0.1, Limit: in(1. / 16)},
		},
	}
}

// single is a line that would clear but hangs on a reading taken once.
func single(part, feature string, marks ...string) clearance.Line {
	l := clearance.Line{
		Part: part, Feature: feature, When: "at rest", Clearance: in(1.2), U: in(0.04), Gap: 6, GapName: "fixed",
		Sure: 1, NotTouching: 1, Verdict: clearance.Unproven, Because: clearance.OneReading, Toward: rightward, Marks: marks,
		Shares: []clearance.Share{{Mark: marks[0], U: 0.9, Limit: in(1. / 16)}},
	}
	for i, m := range marks {
		l.Single = append(l.Single, clearance.Reading{Mark: m, Pos: at("points.csv", 5+i)})
	}
	return l
}

// unproven is a report with a line before those of plain.
func unproven(reasons []clearance.Because, lines ...clearance.Line) *clearance.Report {
	r := plain()
	r.Verdict, r.Because = clearance.Unproven, reasons
	r.Sure, r.SureIs = 0.41, "about"
	r.Lines = append(lines, r.Lines...)
	return r
}

// design is the first screen that the tool was drawn up with.
func design() *clearance.Report {
	second := nearCap()
	second.Part, second.Clearance, second.Marks, second.Shares = "fill neck", in(0.4), []string{"H3"}, nil
	r := unproven([]clearance.Because{clearance.Near, clearance.Unmeasured}, nearCap(), second)
	r.Sides[0] = clearance.SideLine{Side: solid.Left, Cover: 0.6, Hidden: in(3.25), HiddenOK: true, HiddenAt: r3.Vector{X: in(-1), Y: in(3), Z: in(2)}, Because: clearance.Unmeasured}
	r.MeasureNext = []clearance.Measure{
		{Kind: clearance.TakeAgain, For: []clearance.Pair{{Part: "fill cap", Feature: "hatch"}, {Part: "fill neck", Feature: "hatch"}}, Within: in(1. / 32), Marks: []string{"H3", "H4"}},
		{Kind: clearance.Look, Side: solid.Left, At: r3.Vector{X: in(-1), Y: in(3), Z: in(2)}},
	}
	r.Move = &clearance.Move{By: r2.Point{X: -in(3. / 16)}}
	r.TakenOnce = 7
	return r
}

func fouls() *clearance.Report {
	r := unproven(nil,
		clearance.Line{Part: "body", Feature: "beam", When: "at rest", Clearance: -in(0.41), U: in(0.05), Gap: 6, GapName: "fixed",
			Verdict: clearance.Fouls, Toward: rightward, Marks: []string{"M1"}, AtLeast: true, Shares: []clearance.Share{{Mark: "M1", U: 1, Limit: in(0.0625)}}},
		clearance.Line{Part: "outlet barb", Feature: "fuel line", When: "at rest", Clearance: in(0.2), U: in(0.03), Gap: 13, GapName: "line",
			NotTouching: 1, Verdict: clearance.Tight, Toward: outward, Marks: []string{"F1", "F2"}},
		nearCap())
	r.Verdict, r.Because = clearance.Fouls, []clearance.Because{clearance.Near}
	r.Sure, r.SureIs, r.Overlaps = 0, "at most", true
	r.Move = &clearance.Move{By: r2.Point{X: in(0.5), Y: -in(0.0625)}, Clears: true}
	r.Cautions = append([]clearance.Caution{{Trigger: "line"}}, r.Cautions...)
	return r
}

func tight() *clearance.Report {
	r := unproven(nil, clearance.Line{Part: "body", Feature: "engine", When: "at rest", Clearance: in(0.5), U: in(0.05), Gap: 25, GapName: "moving",
		Sure: 1e-9, NotTouching: 1, Verdict: clearance.Tight, Toward: outward, Marks: []string{"E1"}})
	r.Verdict, r.Because, r.Sure, r.SureIs = clearance.Tight, nil, 1e-9, "at most"
	r.Hoses = []clearance.Hose{{Name: "tank to pump", Length: in(14.3), Cut: in(15.02), Least: in(1.9), Bent: true, U: in(0.06), Wanted: in(2.5),
		LeastAt: "R2", Verdict: clearance.Tight, Checked: true}}
	return r
}

// metric is a floor box, in mm: what is up is not its top.
func metric() *clearance.Report {
	l := nearCap()
	l.Toward = outward
	r := unproven([]clearance.Because{clearance.Near}, l)
	r.Unit, r.Title = length.MM, "Box on the floor"
	r.Sides = []clearance.SideLine{
		{Side: solid.Front, Cover: 0.2, HiddenAt: r3.Vector{X: 12, Y: 30, Z: 140}, Because: clearance.Unmeasured},
		{Side: solid.Top, Cover: 0.95, Hidden: 30, HiddenOK: true, Verdict: clearance.Clears},
	}
	r.Move = &clearance.Move{By: r2.Point{X: 3.175, Y: -1.5875}}
	return r
}

// hosed has a hose of each kind of trouble.
func hosed() *clearance.Report {
	r := unproven([]clearance.Because{clearance.Near, clearance.NotChecked})
	hose := clearance.Hose{Name: "tank to pump", Length: in(14.3), Cut: in(15.02), Least: in(2.6), Bent: true, U: in(0.06), Wanted: in(2.5),
		LeastAt: "R2", Because: clearance.Near, Checked: true}
	kinked, coarse, straight, lost := hose, hose, hose, hose
	kinked.Name, kinked.Ports, kinked.Because = "vent", "it leaves vent 12 degrees off its axis", clearance.NotChecked
	coarse.Name, coarse.Spacing = "bypass", in(3.01)
	straight.Name, straight.Bent, straight.Verdict = "drain", false, clearance.Clears
	lost.Name, lost.Checked, lost.Because = "return", false, clearance.NotChecked
	r.Hoses = []clearance.Hose{hose, kinked, coarse, straight, lost}
	return r
}

// asked is a report on things that nobody checked.
func asked() *clearance.Report {
	r := unproven([]clearance.Because{clearance.NotChecked})
	r.Unchecked = []clearance.Unchecked{
		{What: "engine rocks", Kind: clearance.UncheckedMotion, Pos: at("job.yaml", 14)},
		{What: "hatch shuts", Kind: clearance.UncheckedMotion, Pos: at("job.yaml", 15)},
		{What: "tape.csv", Kind: clearance.UncheckedFile, Pos: at("job.yaml", 2)},
		{Part: "body", What: "hatch", Mark: "H5", Kind: clearance.UncheckedMark, Pos: at("points.csv", 9)},
	}
	r.WayIn = &clearance.WayIn{Outside: true, Because: clearance.NotChecked, Stuck: way.Stuck{
		At: way.Pose{Shift: r3.Vector{Z: in(2.5)}}, Left: in(4.5), Toward: r3.Vector{Z: 1}, Part: "fill neck", Thing: "lip", Clearance: in(0.1), Needs: in(0.099),
	}}
	return r
}

// entered is a report on a way in that was found.
func entered() *clearance.Report {
	r := plain()
	r.WayIn = &clearance.WayIn{
		Found: true, Outside: true, Aside: []string{"hatch"}, Least: in(0.3), U: in(0.05), Part: "fill neck", Feature: "lip", Verdict: clearance.Clears,
		At: clearance.Step{Shift: r3.Vector{Y: in(-2)}, Turn: r3.Vector{X: math.Pi / 9}}, Marks: []string{"L1", "L2"},
		Hidden: in(3.2), HiddenAt: r3.Vector{X: in(4), Y: in(2.5), Z: in(8)}, HiddenOK: true,
		Steps: []clearance.Step{
			{Shift: r3.Vector{X: in(0.01), Y: in(-2), Z: in(9)}, Turn: r3.Vector{X: math.Pi / 6}},
			{Shift: r3.Vector{Y: in(-2)}, Turn: r3.Vector{X: math.Pi / 6}},
			{Shift: r3.Vector{Y: in(-2)}}, {},
		},
	}
	return r
}

// together is sure enough line by line, and not as a whole.
func together() *clearance.Report {
	r := plain()
	r.Verdict, r.Because, r.Sure, r.SureIs = clearance.Unproven, []clearance.Because{clearance.Together}, 0.97499, "about"
	return r
}

// doubted has readings that look wrong, and no sheet.
func doubted() *clearance.Report {
	r := unproven([]clearance.Because{clearance.OneReading}, single("body", "lip", "L2"))
	r.TakenOnce = 1
	r.Box.Known = false
	r.Doubts = []survey.Doubt{
		{Pos: at("points.csv", 7), Says: "H3 y: 12 1/4 here and 11 1/4 in line 9; they should agree within 1/8", Suggests: "11 1/4", Weight: 9},
		{Pos: at("job.yaml", 8), Says: "how far does engine move? no motion says, so the gap for a thing that moves by an unknown amount is asked", Weight: 1},
	}
	return r
}

// singles is a whole survey taken once.
func allSingle() *clearance.Report {
	r := unproven([]clearance.Because{clearance.OneReading, clearance.Unmeasured},
		single("body", "lip", "L2"), single("fill cap", "lip", "L2", "L3"), single("fill neck", "hatch", "H1", "H2", "H3"), single("body", "engine", "E1"))
	for i := range r.Sides {
		r.Sides[i] = clearance.SideLine{Side: r.Sides[i].Side, Cover: 0.1, Because: clearance.Unmeasured}
	}
	r.TakenOnce = 7
	r.MeasureNext = []clearance.Measure{
		{Kind: clearance.TakeOnceMore, Marks: []string{"L2"}, For: []clearance.Pair{{Part: "body", Feature: "lip"}}},
		{Kind: clearance.NeedsTape, Marks: []string{"H5"}, For: []clearance.Pair{{Part: "body", Feature: "hatch"}}},
	}
	return r
}

// accepted is the same with accept_single.
func accepted() *clearance.Report {
	r := plain()
	l := single("body", "hatch", "H1")
	l.Verdict, l.Because = clearance.Clears, clearance.NoReason
	r.Lines = append([]clearance.Line{l}, r.Lines...)
	r.TakenOnce = 1
	return r
}

// nasty has names that steer terminals, run on, or hold markup.
func nasty() *clearance.Report {
	l := nearCap()
	l.Part, l.Feature = "fill \x1b[31mcap\x1b[0m", "<b>hatch</b>\u202e & \"lid\""
	l.Marks = []string{"H3\n", "日本語の名前", strings.Repeat("Ö", 60), "e\u0301", "\u009b2J", ""}
	r := unproven([]clearance.Because{clearance.Near}, l)
	r.Title = "Tank\r\nclears - it goes in"
	r.Doubts = []survey.Doubt{{Pos: at("pts\x07.csv", 3), Says: "z: \x1b]0;x\x07 is odd", Suggests: "\u202e7"}}
	return r
}

// own has a keep-open volume that fouls a part of the box itself, and contact.
func own() *clearance.Report {
	r := unproven(nil,
		clearance.Line{Part: "fill lift the cap", Feature: "left tab", When: "at rest", Own: true, Clearance: -in(0.1), Verdict: clearance.Fouls, AtLeast: true},
		clearance.Line{Part: "outlet hand", Feature: "left tab", When: "at rest", Own: true, Clearance: 0, U: in(0.03), Sure: 0.5, NotTouching: 0.5, Because: clearance.Near,
			Shares: []clearance.Share{{Of: "where outlet is on the box", U: 0.8, Limit: in(1. / 16)}}},
		clearance.Line{Part: "outlet hand", Feature: "engine", When: "at rest", Clearance: 0.01, U: in(0.03), Sure: 0.5, NotTouching: 0.5, Because: clearance.Near, Toward: upward.Mul(-1)})
	r.Verdict, r.Because, r.Overlaps = clearance.Fouls, []clearance.Because{clearance.Near}, true
	return r
}

// many has twenty lines that are too close to call.
func many() *clearance.Report {
	var lines []clearance.Line
	for i := range 20 {
		l := nearCap()
		l.Feature, l.Marks = fmt.Sprintf("obstacle number %d", i+1), []string{fmt.Sprintf("M%d", i+1)}
		lines = append(lines, l)
	}
	r := unproven([]clearance.Because{clearance.Near}, lines...)
	r.MeasureNext = []clearance.Measure{
		{Kind: clearance.TakeAgain, Within: in(1. / 64), Marks: []string{"M1"}, For: []clearance.Pair{{Part: "fill cap", Feature: "obstacle number 1"}}},
		{Kind: clearance.MakeCloser, Within: in(1. / 32), Making: []string{"the height as made", "where the box is bolted"}, For: []clearance.Pair{
			{Part: "fill cap", Feature: "obstacle number 2"}, {Part: "fill cap", Feature: "obstacle number 3"}}},
	}
	return r
}

type situation struct {
	name   string
	report *clearance.Report
	o      Options
}

func situations() []situation {
	inches := length.Style{Unit: length.Inch}
	return []situation{
		{"clears", plain(), Options{Style: inches}},
		{"design", design(), Options{Style: inches, Explain: true}},
		{"fouls", fouls(), Options{Style: inches}},
		{"tight", tight(), Options{Style: inches}},
		{"metric-floor", metric(), Options{Up: "+z"}},
		{"hoses", hosed(), Options{}},
		{"motions", moved(), Options{}},
		{"not-checked", asked(), Options{}},
		{"way-in", entered(), Options{}},
		{"together", together(), Options{}},
		{"doubts", doubted(), Options{}},
		{"all-single", allSingle(), Options{}},
		{"accepted", accepted(), Options{}},
		{"nasty-names", nasty(), Options{}},
		{"own-parts", own(), Options{Style: length.Style{Decimal: true}}},
		{"many", many(), Options{}},
		{"nothing", &clearance.Report{}, Options{}},
	}
}
