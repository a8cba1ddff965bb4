package survey

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r3"

	"elbowroom/survey/network"
)

// network adjusts the marks that hang together by more than coordinates from
// one base.
func (a *adjuster) network() {
	b := a.newBuild()
	if len(b.marks) == 0 {
		return
	}
	a.nets = b
	b.pinnedPlaced()
	if !b.enoughTies() {
		return
	}
	start := b.begin()
	if !b.probesStand(start) || !b.allPlaced(start) || !b.fixAxes(start.At) {
		return
	}
	adjusted, err := b.adjust(start.At)
	if err != nil {
		b.tellFree(err)
		return
	}
	b.checkSides(adjusted)
	b.settle(adjusted)
}

// settle hands the network to the space.
func (b *build) settle(adjusted *network.Adjusted) {
	adjusted.Strengths()
	n := b.netted(adjusted)
	n.source = make([]int, len(b.net.Ties))
	b.space.sources = slices.Grow(b.space.sources, len(b.net.Ties))
	for l := range b.net.Ties {
		n.source[l] = len(b.space.sources)
		b.space.sources = append(b.space.sources, Source{b.rows[l], b.axes[l], b.net.Ties[l].U})
	}
	for k, m := range b.marks {
		b.space.Marks[m].At = adjusted.At[k]
		b.space.Marks[m].Located = true
	}
	b.space.net = n
	seen := make([]bool, len(b.space.Rows))
	for l, row := range b.rows {
		r := &b.space.Rows[row]
		if r.Shared || (r.Kind == Depths && b.axes[l] == 2) { // nobody reads sideways
			continue
		}
		if got := adjusted.Redundancy[l]; !seen[row] || got < r.Redundancy {
			r.Redundancy = got
		}
		seen[row] = true
	}
	for m := range b.points { // what an exact coordinate leaves out is checked by it
		for _, i := range b.points[m] {
			if row := b.rowOf[i]; b.netMarks[m] && !seen[row] && b.readings.Points[i].Limit.U() > 0 {
				b.space.Rows[row].Redundancy = 1
			}
		}
	}
}

// adjust solves the network. Where probes point along the mounting frame and
// the frame follows from the marks, the two are settled in turn.
func (b *build) adjust(start []r3.Vector) (*network.Adjusted, error) {
	adjusted, err := b.net.Adjust(start)
	if err != nil || b.readings.Frame == nil || !b.hasDepths() {
		return adjusted, err
	}
	var last *frameFix
	// Each turn moves the frame by the change of the one before times the tilt
	// over the probe's length: three are more than enough, ten never run.
	for range 10 {
		fix, ok := b.frameAt(adjusted)
		if !ok {
			return adjusted, nil // toFrame will say why
		}
		if last != nil && fix.x.Sub(last.x).Norm()+fix.z.Sub(last.z).Norm() < 1e-9 {
			break
		}
		last = &fix
		b.turnProbes(&fix)
		b.leanProbes(&fix)
		if adjusted, err = b.net.Adjust(adjusted.At); err != nil {
			break
		}
	}
	return adjusted, err
}

func (b *build) netted(adjusted *network.Adjusted) *netted {
	n := &netted{adjusted: adjusted, of: b.of, marks: b.marks, gauged: b.gauged}
	if n.gauged {
		n.inner = n.innerAll()
	}
	return n
}

// frameAt finds the frame with the network's marks as adjusted, with their
// uncertainty as the weights of its plane; complaints are left for later.
func (b *build) frameAt(adjusted *network.Adjusted) (frameFix, bool) {
	for k, m := range b.marks {
		b.space.Marks[m].At, b.space.Marks[m].Located = adjusted.At[k], true
	}
	b.space.net = b.netted(adjusted)
	defer func() { b.space.net = nil }()
	before := len(b.problems)
	fix, ok := b.findFrame()
	b.problems = b.problems[:before]
	return fix, ok
}

// pinnedPlaced marks as placed what is exact all three ways.
func (b *build) pinnedPlaced() {
	for k, p := range b.net.Pinned {
		b.known.Placed[k] = p[0] && p[1] && p[2]
	}
	for k := range b.net.Pinned { // a start takes a pin as a good offset
		if !b.known.Placed[k] {
			for axis := range 3 {
				if b.net.Pinned[k][axis] {
					b.add(network.Tie{Kind: network.Offset, Mark: k, From: network.None, Dir: unit(axis), Value: along(b.known.At[k], axis), U: 1}, -1, axis)
				}
			}
		}
	}
}

// begin finds the start values: without the depths where those wait for the
// frame, then all.
func (b *build) begin() network.Start {
	if b.readings.Frame != nil && b.hasDepths() {
		first := b.withoutDepths().Start(b.known, b.side)
		for k, placed := range first.Placed {
			b.space.Marks[b.marks[k]].Located = placed
			b.space.Marks[b.marks[k]].At = first.At[k]
		}
		before := len(b.problems)
		fix, ok := b.findFrame()
		b.problems = b.problems[:before]
		if ok {
			b.turnProbes(&fix)
			b.known = first
		}
	}
	start := b.net.Start(b.known, b.side)
	for l := len(b.rows) - 1; l >= 0 && b.rows[l] < 0; l-- { // the pins stand for themselves
		b.net.Ties, b.rows, b.axes, b.dirs = b.net.Ties[:l], b.rows[:l], b.axes[:l], b.dirs[:l]
	}
	for k := range b.net.Pinned {
		for axis := range 3 {
			if b.net.Pinned[k][axis] {
				setAlong(&start.At[k], axis, along(b.known.At[k], axis))
			}
		}
	}
	return start
}

// side chooses between two places of a mark: the one out of the mounting face,
// where they are on either side of it.
func (b *build) side(k int, p, q r3.Vector) (first, ok bool) {
	if b.face == nil { // what has coordinates does not change
		plane, out, ok := b.facePlane()
		b.face = &face{plane, out, ok}
	}
	if !b.face.ok {
		return false, false
	}
	hp, hq := b.face.plane.Height(p)*b.face.out, b.face.plane.Height(q)*b.face.out
	return hp > hq, (hp > 0) != (hq > 0)
}

// face is what facePlane finds.
type face struct {
	plane network.Plane
	out   float64
	ok    bool
}

// facePlane is the plane of the mounting face through those of its marks that
// the coordinates place, and which way along its normal is out: as the frame
// says, else toward z.
func (b *build) facePlane() (plane network.Plane, out float64, ok bool) {
	var at []r3.Vector
	for _, spec := range b.readings.Features {
		if !spec.Mount {
			continue
		}
		for _, m := range b.members[spec.Name] {
			if p, ok := b.given(m); ok {
				at = append(at, p)
			}
		}
	}
	plane, err := network.FitPlane(at, nil)
	if err != nil {
		return plane, 0, false
	}
	if b.readings.Frame == nil {
		return plane, math.Copysign(1, plane.Normal.Z), true
	}
	m, ok := b.byName[b.readings.Frame.OutToward]
	if !ok {
		return plane, 0, false
	}
	p, ok := b.given(m)
	return plane, math.Copysign(1, plane.Height(p)), ok
}

// given is where a mark's own coordinates put it, its base's added.
func (b *build) given(m int) (p r3.Vector, ok bool) {
	if !b.netMarks[m] {
		return b.space.Marks[m].At, b.space.Marks[m].Located
	}
	var have [3]bool
	for _, i := range b.points[m] {
		reading := b.readings.Points[i]
		var from r3.Vector
		if reading.Base != "" {
			if from, ok = b.given(b.byName[reading.Base]); !ok {
				continue
			}
		}
		for axis := range 3 {
			if reading.At[axis].Given {
				setAlong(&p, axis, along(from, axis)+reading.At[axis].Value)
				have[axis] = true
			}
		}
	}
	return p, have[0] && have[1] && have[2]
}

// fixAxes holds what nothing fixes: where no coordinates give the axes and the
// job has a frame, six coordinates or fewer are pinned where they start.
func (b *build) fixAxes(at []r3.Vector) bool {
	for _, group := range b.groups() {
		free := b.motions(group, at)
		if free == 0 || !b.taped(group) {
			continue
		}
		if free == 1 && b.readings.Frame == nil {
			b.tellTurns(group)
			continue
		}
		if b.readings.Frame == nil || !b.hasFrame(group) {
			b.tellNoAxes(group)
			continue
		}
		b.gauged = free == 6
		if b.gauged && !b.orient(group, at) {
			continue
		}
		b.pin(group, at)
	}
	return len(b.problems) == 0
}

// tellFree names the marks that the ties leave free.
func (b *build) tellFree(err error) {
	var free *network.Undetermined
	if !errors.As(err, &free) {
		b.complain(b.space.Rows[0].Pos, "", "", "the readings cannot be adjusted: "+err.Error(), "look for a length of nothing")
		return
	}
	for _, k := range free.Columns {
		b.tellShort(k, true)
	}
	if len(free.Columns) == 0 {
		b.complain(b.readings.Tapes[0].Pos, "", "", "the tapes hang together too loosely to give one shape", "add tapes between marks that have none yet")
	}
}

// tellShort says what a mark has and what it needs.
func (b *build) tellShort(k int, moves bool) {
	m := b.marks[k]
	name := b.space.Marks[m].Name
	pos, field := b.tieOf(m)
	ends, given := map[int]bool{}, 0
	for _, t := range b.net.Ties {
		switch {
		case t.Kind == network.Distance && t.Mark == k:
			ends[t.From] = true
		case t.Kind == network.Distance && t.From == k:
			ends[t.Mark] = true
		case t.Kind == network.Offset && t.Mark == k:
			given++
		}
	}
	need := 3 - given
	has := fmt.Sprintf("mark %s has %s", name, count(len(ends), "tape"))
	if given > 0 {
		has += fmt.Sprintf(" and %s", count(given, "coordinate"))
	}
	switch {
	case len(ends) < need:
		b.complain(pos, field, name, has, "it needs "+wanted(need))
	case moves:
		b.complain(pos, field, name, fmt.Sprintf("%s, and can still move: the marks that it is taped from lie on one line, or are free themselves", has), "tape it from a mark to one side of them, or give a depth")
	default:
		b.complain(pos, field, name, fmt.Sprintf("%s, but from marks that have no place themselves", has), "tape those from marks that are known")
	}
}

func wanted(n int) string {
	return map[int]string{3: "three, or a depth", 2: "two, or a depth", 1: "one, or a depth"}[n]
}

func count(n int, what string) string {
	words := [...]string{"no", "one", "two", "three", "four", "five", "six"}
	s := fmt.Sprint(n)
	if n < len(words) {
		s = words[n]
	}
	if n != 1 {
		what += "s"
	}
	return s + " " + what
}
