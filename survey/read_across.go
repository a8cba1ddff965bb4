package survey

import (
	"fmt"
	"math"
	"strings"

	"elbowroom/survey/length"
	"elbowroom/survey/table"
)

// onLimit is how near a limit counts as reaching it: the project's tolerance, mm.
const onLimit = 1e-6

// longestEdge is the longest straightedge that is commonly sold: 96 in (common
// practice, no source).
const longestEdge = 96 * 25.4

// reachWeight puts a probe that seems to have stood beyond its straightedge
// beside readings that look like a slip: the two of them cannot both be right.
const reachWeight = 20

// straightedges checks that the ends of each straightedge are marks: a name
// that stands nowhere else cannot be placed, whatever the tapes say.
func (v *validator) straightedges() {
	if v.readings.Lost() {
		return
	}
	given := v.placedElsewhere()
	for _, d := range v.readings.Depths {
		v.end(d.FromPos, "from", d.From, given)
		v.end(d.ToPos, "to", d.To, given)
	}
}

// placedElsewhere lists the marks that anything but the ends of straightedges
// names.
func (v *validator) placedElsewhere() []string {
	but := v.readings
	but.Depths = nil
	for _, d := range v.readings.Depths {
		but.Depths = append(but.Depths, Depth{Mark: d.Mark})
	}
	return but.MarkNames()
}

func (v *validator) end(pos table.Pos, field, name string, given []string) {
	for _, known := range given {
		if name == known {
			return
		}
	}
	mend := "measure that mark, or lay the straightedge from one that is measured"
	if near, ok := table.Nearest(name, given); ok {
		mend = "did you mean " + near + "?"
	}
	v.complain(pos, field, name, "no reading gives the mark "+table.Quote(name), mend)
}

// once doubts a mark that a single tape names and nothing else does, where its
// name is like that of another mark: one tape places nothing, so it is likely
// mistyped.
func (r Readings) once() []Doubt {
	var doubts []Doubt
	count := map[string]int{}
	for _, n := range r.named() {
		count[n.name]++
	}
	for _, p := range r.LeftOut {
		count[p.Mark]++
	}
	var others []string
	for _, name := range r.MarkNames() {
		if count[name] > 1 {
			others = append(others, name)
		}
	}
	doubt := func(name string, pos table.Pos) {
		if count[name] != 1 {
			return
		}
		if near, ok := table.Nearest(name, others); ok && !strings.EqualFold(name, near) {
			doubts = append(doubts, Doubt{Pos: pos, Weight: alikeWeight, Suggests: near,
				Says: fmt.Sprintf("the mark %s stands in one tape and nowhere else: is it %s?", name, near)})
		}
	}
	for _, t := range r.Tapes {
		doubt(t.From, t.FromPos)
		doubt(t.To, t.ToPos)
	}
	return doubts
}

// reach doubts probes that stood beyond their straightedge: before its start, or
// farther along it than its other mark, where a tape between the two or their
// coordinates tell; else farther than any straightedge reaches.
func (r Readings) reach() []Doubt {
	var doubts []Doubt
	span := r.spans()
	for _, d := range r.Depths {
		far, known := span[pair(d.From, d.To)]
		says := ""
		switch {
		case d.Along.Value+d.Limit.Plus < -onLimit:
			says = fmt.Sprintf("the probe stood before %s, where the straightedge starts", d.From)
		case known && d.Along.Value-d.Limit.Minus > far+onLimit:
			says = fmt.Sprintf("the probe stood beyond %s, where the straightedge ends", d.To)
		case !known && d.Along.Value > longestEdge+onLimit:
			says = "no straightedge is that long"
		default:
			continue
		}
		doubts = append(doubts, Doubt{Pos: d.Along.Pos, Weight: reachWeight,
			Says: fmt.Sprintf("along reads %s, but %s: a slip, or the two marks the other way round?", d.Along.Text, says)})
	}
	return doubts
}

// pair is the key of two marks, whichever stands first.
func pair(a, b string) [2]string {
	if a > b {
		a, b = b, a
	}
	return [2]string{a, b}
}

// spans lists the greatest distance, mm, that is plausible between two marks
// that a straightedge lay between, from tapes and from coordinates.
func (r Readings) spans() map[[2]string]float64 {
	wanted := map[[2]string]bool{}
	for _, d := range r.Depths {
		wanted[pair(d.From, d.To)] = true
	}
	out := map[[2]string]float64{}
	for _, t := range r.Tapes {
		if key := pair(t.From, t.To); wanted[key] {
			out[key] = math.Max(out[key], t.Length.Value+t.Limit.Plus)
		}
	}
	at := map[string]Point{}
	for _, p := range r.Points {
		if p.At[0].Given && p.At[1].Given && p.At[2].Given && p.Mark != "" {
			at[p.Mark] = p
		}
	}
	for key := range wanted {
		a, okA := at[key[0]]
		b, okB := at[key[1]]
		if _, taped := out[key]; !taped && okA && okB && a.Base == b.Base {
			out[key] = apart(a, b)
		}
	}
	return out
}

// apart is the greatest distance between two points within their limits, mm.
func apart(a, b Point) float64 {
	sum := 0.0
	for i := range a.At {
		d := math.Abs(a.At[i].Value-b.At[i].Value) + widest(a.Limit) + widest(b.Limit)
		sum += d * d
	}
	return math.Sqrt(sum)
}

// widest is the wider side of a limit, mm.
func widest(l length.Limit) float64 { return math.Max(l.Plus, l.Minus) }
