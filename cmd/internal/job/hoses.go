package job

import (
	"fmt"
	"slices"

	"github.com/golang/geo/s1"

	"elbowroom/clearance"
	"elbowroom/survey/table"
)

// hoses reads the hoses.
func (r *reader) hoses(s section) {
	s.each("hoses", func(n node) {
		h := clearance.HoseSpec{Pos: n.pos}
		u := r.section(n, "name", "from", "to", "arrives", "along", "outside", "bend_radius", "bend_radius_to", "straight", "slack")
		u.need(
			[2]string{"name", "tank to pump"}, [2]string{"from", "outlet, the fitting that it leaves"}, [2]string{"to", "pump-inlet, the mark where it ends"},
			[2]string{"outside", "1 1/16, its outside diameter"},
			[2]string{"bend_radius", "2 1/2, the least that its maker allows"},
		)
		if _, measured := u.value["along"]; !measured {
			// A measured run shows by itself how the hose arrives.
			u.need([2]string{"arrives", "-y, its direction of travel at the end"})
		}
		u.text("name", &h.Name)
		u.text("from", &h.From)
		r.knownFitting(u.value["from"], h.From)
		u.mark("to", &h.To)
		u.direction("arrives", &h.Arrives)
		r.run(u, &h)
		u.length("outside", overZero, &h.Outside)
		u.length("bend_radius", fromZero, &h.BendRadius)
		if _, i, ok := u.choice("bend_radius_to", "inside", "centre"); ok {
			h.ToCentre = i == 1
		}
		if h.ToCentre && h.Outside > 0 && h.BendRadius > 0 && h.BendRadius < h.Outside/2 {
			r.complain(u.value["bend_radius"], "to the centre, it is less than half the hose's outside", "check the figure, or take bend_radius_to out")
		}
		u.length("straight", fromZero, &h.Straight)
		u.percent("slack", &h.Slack)
		r.job.Rules.Hoses = append(r.job.Rules.Hoses, h)
	})
}

func (r *reader) knownFitting(n node, name string) {
	if name == "" {
		return
	}
	var names []string
	for _, f := range r.job.Tank.Fittings {
		names = append(names, f.Name)
	}
	if slices.Contains(names, name) {
		return
	}
	mend := "the job has no fittings; add it under fittings:"
	if len(names) > 0 {
		mend = likely(name, names, "the fittings are ")
	}
	r.complain(n, "there is no fitting "+table.Quote(name), mend)
}

// run reads the measured run that a hose follows.
func (r *reader) run(u section, h *clearance.HoseSpec) {
	n, ok := u.get("along")
	if !ok {
		return
	}
	h.Along = n.text
	var runs []string
	for _, f := range r.job.Readings.Features {
		if f.Run {
			runs = append(runs, f.Name)
		}
		if f.Name == h.Along && !f.Run {
			r.complain(n, fmt.Sprintf("the feature %s is no run", f.Name), "give it run: true if its marks are where the hose is wanted")
			return
		}
	}
	switch {
	case slices.Contains(runs, h.Along):
	case len(runs) == 0:
		r.complain(n, "there is no run "+table.Quote(h.Along), "add it under features:, as {shape: tube, run: true}")
	default:
		r.complain(n, "there is no run "+table.Quote(h.Along), likely(h.Along, runs, "the runs are "))
	}
}

// motions reads what moves.
func (r *reader) motions(s section) {
	s.each("motions", func(n node) {
		m := clearance.Motion{Pos: n.pos}
		u := r.section(n, "name", "moves", "about", "along", "from", "to", "with")
		u.need([2]string{"name", "hatch shuts"}, [2]string{"moves", "[hatch]"}, [2]string{"from", "-50deg, where it starts"}, [2]string{"to", "0deg, where it ends"})
		u.text("name", &m.Name)
		r.twice(r.motionAt, m.Name, u.value["name"], "motion")
		m.Moves = u.featureNames("moves")
		r.canMove(u.value["moves"], m.Moves)
		r.axisOf(u, &m)
		for _, w := range u.names("with") {
			m.With = append(m.With, w.text)
			r.withs = append(r.withs, with{m.Name, w})
		}
		r.job.Rules.Motions = append(r.job.Rules.Motions, m)
	})
	var names []string
	for _, m := range r.job.Rules.Motions {
		names = append(names, m.Name)
	}
	for _, w := range r.withs {
		switch {
		case w.node.text == w.motion:
			r.complain(w.node, "a motion cannot go with itself", "name another motion")
		case !slices.Contains(names, w.node.text):
			r.complain(w.node, "there is no motion "+table.Quote(w.node.text), likely(w.node.text, names, "the motions are "))
		}
	}
}

// canMove checks that something moves, and that it is not the mount.
func (r *reader) canMove(n node, moves []string) {
	if n.kind == list && len(n.items) == 0 {
		r.complain(n, "nothing moves", "name the features that move, or take the motion out")
	}
	for _, f := range r.job.Readings.Features {
		if f.Mount && slices.Contains(moves, f.Name) {
			r.complain(n, "the mount cannot move: the box would move with it", "leave "+f.Name+" out, and let the others move the other way")
		}
	}
}

// with is the name of a motion that another goes with.
type with struct {
	motion string
	node   node
}

// axisOf reads what a motion goes about or along, and its range.
func (r *reader) axisOf(u section, m *clearance.Motion) {
	about, turns := u.get("about")
	along, slides := u.get("along")
	switch {
	case turns && slides:
		r.complain(along, "a motion goes about an axis or along a direction, not both", "take one out")
		return
	case turns:
		r.hinge(about, m)
		r.turnRange(u, m)
	case slides:
		u.direction("along", &m.Along)
		from := u.length("from", unlimited, &m.From)
		if to := u.length("to", unlimited, &m.To); from && to {
			r.holdsRest(u, m)
		}
	case u.node.kind == mapping:
		r.complain(u.node, "it is not said how it moves", "add about: with two marks on the hinge, or along: +x")
	}
}

func (r *reader) turnRange(u section, m *clearance.Motion) {
	var from, to s1.Angle
	okFrom := u.angle("from", unlimited, &from)
	okTo := u.angle("to", unlimited, &to)
	m.From, m.To = from.Radians(), to.Radians()
	if okFrom && okTo {
		r.holdsRest(u, m)
	}
}

// hinge reads the two marks of an axis.
func (r *reader) hinge(n node, m *clearance.Motion) {
	if n.kind != list || len(n.items) != 2 {
		r.complain(n, "an axis is two marks", "write it as [hinge-left, hinge-right]")
		return
	}
	for i, item := range n.items {
		if t, ok := r.word(item, "a mark"); ok {
			m.About[i] = t
			r.marks = append(r.marks, item)
		}
	}
	if m.About[0] != "" && m.About[0] == m.About[1] {
		r.complain(n, fmt.Sprintf("%s twice makes no axis", m.About[0]), "name two marks on the hinge, well apart")
	}
}

// holdsRest checks that the range is one and holds the position that was measured.
func (r *reader) holdsRest(u section, m *clearance.Motion) {
	from, to := u.value["from"], u.value["to"]
	switch {
	case m.From > m.To:
		r.complain(from, fmt.Sprintf("the range runs from %s down to %s", from.text, to.text), "write the lesser at from, the greater at to")
	case m.From == m.To:
		r.complain(from, "from and to are the same, so nothing moves", "write how far it goes, or take the motion out")
	case m.From > 0 || m.To < 0:
		r.complain(from, fmt.Sprintf("the range from %s to %s does not hold 0, the position that was measured", from.text, to.text), "count the range from where it stood when it was measured")
	}
}

// wayIn reads how the box goes in.
func (r *reader) wayIn(s section) {
	n, ok := s.get("way_in")
	if !ok {
		return
	}
	way := &r.job.Rules.WayIn
	way.Asked, way.Pos = true, n.pos
	for i, span := range r.job.Later.Room {
		way.Room[i] = clearance.Extent(span)
	}
	u := r.section(n, "path", "aside")
	way.Aside = u.featureNames("aside")
	path, ok := u.get("path")
	if !ok || path.kind == scalar && path.text == "find" {
		return
	}
	if path.kind != list || len(path.items) == 0 {
		r.complain(path, "this is no path", "write find, or the box's offsets from home, as in [[0, 0, 12], [0, 0, 0]]")
		return
	}
	way.Path = r.path(path)
}
