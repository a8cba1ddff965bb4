package job

import (
	"fmt"
	"path/filepath"
	"strings"

	"elbowroom/clearance"
	"elbowroom/solid"
	"elbowroom/survey"
	"elbowroom/survey/length"
	"elbowroom/survey/table"
)

// The defaults of a job, in mm where they are lengths.
const (
	defaultSure   = 0.975
	leastSure     = 0.95
	defaultSeen   = 2 * 25.4
	defaultHidden = 2 * 25.4
	defaultWithin = 25.4 / 16
)

// topKeys are all keys of a job.
var topKeys = []string{
	"title", "units", "readings", "within", "tape", "sure", "accept_single", "seen_within", "hidden_at_most",
	"looked_at", "tried", "room", "frame", "up", "gaps", "features", "motions", "box", "brackets", "fittings", "hoses", "way_in",
}

// read reads the whole job.
func (r *reader) read(root node) {
	if root.kind != mapping {
		root.pos = table.Pos{File: r.job.File, Line: 1, Column: 1}
		r.complain(root, "this is no job", "start it with the units, as in units: in")
		return
	}
	s := r.section(root, topKeys...)
	s.need(
		[2]string{"units", "in, or mm, cm, m or ft"},
		[2]string{"readings", "[points.csv]"},
		[2]string{"features", "and under it what was measured, as in wall: {shape: face, mount: true}"},
		[2]string{"box", "{width: 8 1/2, height: 5, depth: 3 3/4, at: [2, 1 1/4]}"},
	)
	r.units(s)
	r.evidence(s)
	r.scalars(s)
	r.gaps(s)
	r.readFeatures(s)
	r.motions(s)
	r.box(s)
	r.brackets(s)
	r.fittings(s)
	r.hoses(s)
	r.clamps()
	r.wayIn(s)
	r.roomHoldsBox(s)
	r.frame(s)
	r.readings(s)
	r.partNames()
	r.uses()
}

// units comes first: all other lengths need it.
func (r *reader) units(s section) {
	n, ok := s.get("units")
	if !ok {
		return
	}
	if unit, ok := r.unitOf(n); ok {
		r.unit, r.job.Unit, r.job.Rules.Unit = unit, unit, unit
		r.job.Readings.Style = length.Style{Unit: unit}
	}
}

func (r *reader) unitOf(n node) (length.Unit, bool) {
	t, ok := r.word(n, "a unit")
	if !ok {
		return 0, false
	}
	unit, ok := length.ParseUnit(t)
	if !ok {
		r.complain(n, table.Quote(t)+" is not a unit that is known here", "write mm, cm, m, in or ft")
	}
	return unit, ok
}

// scalars reads the settings that are one value each.
func (r *reader) scalars(s section) {
	j := r.job
	j.Title = folderName(j.Folder)
	s.text("title", &j.Title)
	rules := &j.Rules
	rules.Title = j.Title
	rules.Sure, rules.SeenWithin, rules.HiddenAtMost = defaultSure, defaultSeen, defaultHidden
	if n, ok := s.percent("sure", &rules.Sure); ok {
		r.sure(n, rules.Sure)
	}
	s.yes("accept_single", &rules.AcceptSingle)
	s.length("seen_within", overZero, &rules.SeenWithin)
	s.length("hidden_at_most", overZero, &rules.HiddenAtMost)
	for _, n := range s.names("looked_at") {
		if side, ok := r.side(n); ok {
			rules.LookedAt = append(rules.LookedAt, side)
		}
	}
	r.up(s)
}

func (r *reader) sure(n node, sure float64) {
	switch {
	case sure < leastSure:
		r.complain(n, fmt.Sprintf("%s is refused: with less than 95%%, more than one box in twenty called good would not fit", n.text), "write 95% or more, or leave it out for 97.5%")
	case sure >= 1:
		r.complain(n, "no measurement makes anything 100% sure", "write less, as in 99.9%")
	}
}

// folderName is the name of the folder that a job is in.
func folderName(folder string) string {
	if abs, err := filepath.Abs(folder); err == nil {
		folder = abs
	}
	return filepath.Base(folder)
}

func (r *reader) side(n node) (solid.Side, bool) {
	t, ok := r.word(n, "a side")
	if !ok {
		return solid.NoSide, false
	}
	side, ok := solid.ParseSide(strings.ToLower(t))
	if !ok {
		r.complain(n, table.Quote(n.text)+" is not a side", likely(n.text, sideNames(), "the sides are "))
	}
	return side, ok
}

func sideNames() []string {
	var names []string
	for _, s := range solid.Sides() {
		names = append(names, s.String())
	}
	return names
}

// up reads which way is up, and how far the machine may lean.
func (r *reader) up(s section) {
	j := r.job
	j.Up = "+y"
	levels := &j.Rules.Levels
	defer func() { levels.Up = upOf(j.Up) }()
	n, ok := s.get("up")
	if !ok {
		return
	}
	r.upGiven = true
	if n.kind == scalar {
		if _, ok := r.axis(n); ok {
			j.Up = n.text
		}
		return
	}
	u := r.section(n, "level", "forward", "pitch", "roll")
	if m, ok := u.get("level"); ok {
		if _, ok := r.axis(m); ok {
			j.Up = m.text
		}
	}
	r.forward(u)
	r.lean(u, "pitch", &levels.Pitch)
	r.lean(u, "roll", &levels.Roll)
}

// unchecked notes something that nobody checks yet.
func (r *reader) unchecked(kind clearance.UncheckedKind, part, what string, n node) {
	rules := &r.job.Rules
	rules.Unchecked = append(rules.Unchecked, clearance.Unchecked{Part: part, What: what, Kind: kind, Pos: n.pos})
}

// frame reads how the readings are moved into the mounting frame.
func (r *reader) frame(s section) {
	n, ok := s.get("frame")
	if !ok {
		return
	}
	f := survey.Frame{Pos: n.pos}
	u := r.section(n, "origin", "x_toward", "out_toward")
	u.need([2]string{"origin", "B1, the mark that is to be the datum"}, [2]string{"x_toward", "B2, a mark to the right of it"}, [2]string{"out_toward", "E1, a mark out from the face"})
	u.mark("origin", &f.Origin)
	u.mark("x_toward", &f.XToward)
	u.mark("out_toward", &f.OutToward)
	if f.Origin != "" && (f.Origin == f.XToward || f.Origin == f.OutToward) {
		r.complain(n, "the frame names one mark twice", "name three marks: the origin, one to the right of it, and one out from the face")
	}
	r.job.Readings.Frame = &f
}
