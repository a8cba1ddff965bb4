package report

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"elbowroom/clearance"
	"elbowroom/survey"
	"elbowroom/survey/length"
	"elbowroom/survey/table"
)

// Survey is what the readings of a job say. Space must not be nil.
type Survey struct {
	Title string
	Unit  length.Unit // in which lengths are worded
	Space *survey.Space
	// Without are the rows that were left out because someone asked for it, and
	// Unread the files that are not used yet.
	Without []table.Pos
	Unread  []string
	// Within is the half limit of a tape reading that states none, mm: what a
	// tape that is proposed is reckoned to be good to. 0: nothing is proposed.
	Within float64
}

// Sound says whether nothing is suspect and every mark has its place. What is
// only remarked on does not count.
func (v Survey) Sound() bool { return len(v.doubts(survey.Suspect)) == 0 && len(v.nowhere()) == 0 }

// doubts are those of a severity, worst first.
func (v Survey) doubts(s survey.Severity) []survey.Doubt {
	var out []survey.Doubt
	for _, d := range v.Space.Doubts {
		if d.Severity == s {
			out = append(out, d)
		}
	}
	return out
}

// nowhere lists the marks that no reading places.
func (v Survey) nowhere() []string {
	var out []string
	for _, m := range v.Space.Marks {
		if !m.Located {
			out = append(out, m.Name)
		}
	}
	return out
}

// Headline is the first line of the text.
func (v Survey) Headline() string {
	doubts := len(v.doubts(survey.Suspect))
	switch {
	case v.Sound():
		return "agrees - no reading is in doubt"
	case doubts == 0:
		return "open - not every mark has a place yet"
	}
	return "doubtful - " + fmt.Sprint(doubts) + chosen(doubts == 1, " thing", " things") + " to look at before you build on it"
}

// SurveyText writes what the readings say for people: a first screen of at most
// 12 lines with whether the readings agree, what is in doubt and what to do, then
// everything in words, then the figures. The error is that of w. Explain and Up
// have no effect.
func SurveyText(w io.Writer, v Survey, o Options) error {
	p := newSurveyPage(v, o)
	p.firstScreen()
	if v.Title != "" {
		p.head(Clean(v.Title))
	}
	p.doubts()
	p.next()
	p.alone()
	p.unseen()
	p.repeats()
	p.zeros()
	p.features()
	p.marks()
	p.readings()
	p.words()
	_, err := io.WriteString(w, p.text())
	return err
}

// surveyPage gathers the lines of what the readings say.
type surveyPage struct {
	*page
	v       Survey
	s       *survey.Space
	of      map[int][]string // the features of each mark
	spreads []survey.Spread  // of each mark
	moves   []float64        // of each mark, as Space.UnseenMoves
}

func newSurveyPage(v Survey, o Options) *surveyPage {
	p := newPage(&clearance.Report{Unit: v.Unit, Doubts: v.Space.Doubts}, o)
	spreads := make([]survey.Spread, len(v.Space.Marks))
	for m := range spreads {
		spreads[m] = v.Space.Spread(m)
	}
	return &surveyPage{page: p, v: v, s: v.Space, of: featuresOf(v.Space), spreads: spreads, moves: v.Space.UnseenMoves()}
}

// featuresOf lists the features that each mark stands under, in the job's order.
func featuresOf(s *survey.Space) map[int][]string {
	of := map[int][]string{}
	for _, f := range s.Features {
		marks := append([]int(nil), f.Missing...)
		for _, n := range f.Nodes {
			if !n.Planar {
				marks = append(marks, n.Mark)
			}
		}
		for _, m := range marks {
			of[m] = addNew(of[m], f.Spec.Name)
		}
	}
	return of
}

// firstScreen says whether the readings agree, what is in doubt, and what is
// known least.
func (p *surveyPage) firstScreen() {
	line := p.v.Headline()
	p.lines = append(p.lines, p.stressed(line))
	p.say(p.counts() + " " + p.agreement())
	tail := *p
	tail.page = newPage(p.r, p.o)
	tail.tail()
	p.items(p.toDo(), screenLines-len(p.lines)-len(tail.lines))
	p.lines = append(p.lines, tail.lines...)
}

// items adds the numbered lines, in at most room lines. The first is never lost:
// where it is too long it is cut, and stands whole below.
func (p *surveyPage) items(items []string, room int) {
	if len(items) == 0 {
		return
	}
	lines := p.wrap("  1  ", itemIndent, items[0])
	spare := room - chosenInt(len(items) > 1)
	if len(lines) <= spare {
		p.numbered(items, room)
		return
	}
	lines = lines[:max(1, spare)]
	last := len(lines) - 1
	for width(lines[last])+len(" ...") > p.o.Width {
		lines[last] = lines[last][:strings.LastIndexByte(lines[last], ' ')]
	}
	lines[last] += " ..."
	p.lines = append(p.lines, lines...)
	if len(items) > 1 {
		p.lines = append(p.lines, itemIndent+others(len(items)-1, 1))
	}
}

func chosenInt(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

// stressed makes the first word bold where the terminal shows it.
func (p *surveyPage) stressed(line string) string {
	if !p.o.Bold {
		return line
	}
	for i, r := range line {
		if r == ' ' {
			return "\x1b[1m" + line[:i] + "\x1b[0m" + line[i:]
		}
	}
	return line
}

// counts says how many readings of which kind there are.
func (p *surveyPage) counts() string {
	var n [survey.Scan + 1]int
	total := 0
	for _, r := range p.s.Rows {
		if !r.Shared {
			n[r.Kind]++
			total++
		}
	}
	var kinds []string
	add := func(n int, one, more string) {
		if n > 0 {
			kinds = append(kinds, count(n, one, more))
		}
	}
	add(n[survey.Points], "row of coordinates", "rows of coordinates")
	add(n[survey.Tapes], "tape", "tapes")
	add(n[survey.Depths], "depth", "depths")
	text := count(total, "reading", "readings") + " of " + count(len(p.s.Marks), "mark", "marks")
	if len(kinds) > 0 {
		text += ": " + list(kinds, 3)
	}
	return text + "."
}

// The chances beyond which the test of all readings at once speaks: under
// seldom it fails, as the single test does (one in a thousand, two-sided);
// under rare it is worth a word (the usual one in twenty). Over common the
// limits are wide: one in a thousand the other way.
const (
	seldom = 0.001
	rare   = 0.05
	common = 0.999
)

// agreement words the test of all readings at once.
func (p *surveyPage) agreement() string {
	a := p.s.Adjustment
	switch {
	case len(p.s.Rows) == 0:
		return "Nothing to hold against anything."
	case a.Redundancy < 1:
		return "No mark is measured more often than it takes, so little would show a slip."
	case a.Chance < seldom:
		return "They cannot all be right: by chance they would differ this much in less than one survey in 1,000."
	case a.Chance < rare:
		return "They agree less well than most: by chance they would differ this much in " + glued(fmt.Sprintf("one survey in %d", int(1/a.Chance))) + "."
	case a.Chance > common:
		return "They agree better than their limits ask for."
	}
	return "They agree as well as their limits say."
}

// toDo lists what is in doubt, worst first, the marks without a place, and what
// is remarked on.
func (p *surveyPage) toDo() []string {
	var items []string
	say := func(s survey.Severity) {
		for _, d := range p.v.doubts(s) {
			items = append(items, p.doubt(d, name(filepath.Base(d.Pos.File))))
		}
	}
	say(survey.Suspect)
	if marks := p.v.nowhere(); len(marks) > 0 {
		items = append(items, list(names(marks), mostNames)+chosen(len(marks) == 1, " has", " have")+" no place yet: give x, y and z, or pull tapes to "+chosen(len(marks) == 1, "it", "them"))
	}
	say(survey.Remark)
	return items
}

// doubt words a doubt: where, what, and what to write.
func (p *surveyPage) doubt(d survey.Doubt, file string) string {
	text := Clean(d.Says)
	if d.Pos.Line > 0 {
		text = glued(Clean(file)+fmt.Sprintf(" line %d", d.Pos.Line)) + ": " + text
	}
	if s := Clean(d.Suggests); s != "" && !strings.Contains(text, s) {
		text += "; was it " + glued(s) + "?"
	}
	return text
}

// tail says what is known least, what nothing checks, and what is left out.
func (p *surveyPage) tail() {
	if m, ok := p.weakest(); ok {
		spread := p.spreads[m]
		p.say("Known least: " + name(p.s.Marks[m].Name) + ", " + p.way(spread) + ", give or take " + p.need(2*spread.Worst) + p.unit() + ".")
	}
	p.anywhere()
	if n := len(p.v.Without); n > 0 {
		var at []string
		for _, w := range p.v.Without {
			at = append(at, glued(name(filepath.Base(w.File))+fmt.Sprintf(" line %d", w.Line)))
		}
		p.say("Left out, as you asked: " + list(at, 3) + ".")
	}
	if len(p.v.Unread) > 0 {
		var files []string
		for _, u := range p.v.Unread {
			files = append(files, name(filepath.Base(u)))
		}
		p.say("Not used yet: " + list(files, 3) + ".")
	}
}
