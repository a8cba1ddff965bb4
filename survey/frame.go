package survey

import (
	"fmt"
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/survey/network"
)

// frameFix is the move from the file's axes into the mounting frame, and how
// that move itself depends on the marks that it hangs on.
type frameFix struct {
	origin, toward int       // marks
	x, y, z        r3.Vector // the frame's axes in the file's
	reach          r3.Vector // the mark toward, in the frame
	from           r3.Vector // the origin, in the file's axes
	plane          network.Plane
	fitted         []int
}

// toFrame moves all marks into the frame that the job asks for.
func (a *adjuster) toFrame() {
	fix, ok := a.findFrame()
	if !ok {
		return
	}
	origin := a.space.Marks[fix.origin].At
	for i := range a.space.Marks {
		a.space.Marks[i].At = fix.turn(a.space.Marks[i].At.Sub(origin))
	}
	fix.from = origin
	fix.reach = a.space.Marks[fix.toward].At
	a.space.frame = &fix
}

// findFrame finds the frame by its marks as they are now.
func (a *adjuster) findFrame() (fix frameFix, ok bool) {
	want := a.readings.Frame
	var marks [3]int
	for k, name := range [3]string{want.Origin, want.XToward, want.OutToward} {
		m, ok := a.byName[name]
		field := "frame." + [3]string{"origin", "x_toward", "out_toward"}[k]
		switch {
		case !ok:
			a.complain(want.Pos, field, name, fmt.Sprintf("no reading gives the mark %s", name), "measure it, or name a mark that is there")
			return fix, false
		case !a.space.Marks[m].Located:
			a.complain(want.Pos, field, name, fmt.Sprintf("%s has no place yet: a coordinate is blank", name), "give all three coordinates")
			return fix, false
		}
		marks[k] = m
	}
	return a.fix(marks)
}

// fix finds the frame's axes.
func (a *adjuster) fix(marks [3]int) (frameFix, bool) {
	want := a.readings.Frame
	fix := frameFix{origin: marks[0], toward: marks[1]}
	mount := Feature{}
	for _, spec := range a.readings.Features {
		if spec.Mount {
			mount.Spec = spec
		}
	}
	if !mount.Spec.Mount {
		a.complain(want.Pos, "frame", "", "a frame needs the face that the box is bolted to", "give one feature mount: true")
		return fix, false
	}
	for _, m := range a.members[mount.Spec.Name] {
		if a.space.Marks[m].Located {
			mount.Nodes = append(mount.Nodes, Node{Mark: m, At: a.space.Marks[m].At})
		}
	}
	plane, err := a.fit(&mount)
	if err != nil {
		a.degenerate(&mount, err)
		return fix, false
	}
	at := func(k int) r3.Vector { return a.space.Marks[marks[k]].At }
	fix.plane, fix.fitted = plane.Facing(at(2)), mount.Fitted
	fix.z = fix.plane.Normal
	along := at(1).Sub(at(0))
	inPlane := along.Sub(fix.z.Mul(along.Dot(fix.z)))
	// x must be fixed by a line of some length along the face: under a tenth of
	// the marks' distance it would turn with the least error.
	if inPlane.Norm() < along.Norm()/10 || along.Norm() == 0 {
		a.complain(want.Pos, "frame.x_toward", want.XToward, fmt.Sprintf("%s lies straight out from %s: it does not show which way x goes", want.XToward, want.Origin), "name a mark to the right of it along the face")
		return fix, false
	}
	if math.Abs(fix.plane.Height(at(2))) < 1e-6 { // on the plane: the shop's limit of reaching, mm
		a.complain(want.Pos, "frame.out_toward", want.OutToward, fmt.Sprintf("%s lies on the face: it does not show which side is out", want.OutToward), "name a mark in front of the face")
		return fix, false
	}
	fix.x = inPlane.Normalize()
	fix.y = fix.z.Cross(fix.x)
	fix.reach = fix.turn(along)
	return fix, true
}

// turn takes a vector from the file's axes to the frame's.
func (f *frameFix) turn(v r3.Vector) r3.Vector {
	return r3.Vector{X: v.Dot(f.x), Y: v.Dot(f.y), Z: v.Dot(f.z)}
}

// back takes a vector from the frame's axes to the file's.
func (f *frameFix) back(v r3.Vector) r3.Vector {
	return f.x.Mul(v.X).Add(f.y.Mul(v.Y)).Add(f.z.Mul(v.Z))
}

// raw takes a gradient over marks in the frame to one over marks in the file's
// axes, the frame's own dependence on its marks included.
//
// A mark in the frame is p = R(m - o). Small changes give
// dp = R(dm - do) + t x p with t the small turn of the frame: t.x and t.y undo
// the tilt of the fitted plane, and t.z keeps the mark toward x at y = 0:
// t.z = (t.x q.z - (R(dq - do)).y) / q.x with q the mark toward.
func (s *Space) raw(g Gradient) Gradient {
	f := s.frame
	if f == nil {
		return g
	}
	out := make(Gradient, 0, len(g)+len(f.fitted)+4)
	var force, twist r3.Vector
	for _, pull := range g {
		by := f.back(pull.By)
		out = append(out, Pull{pull.Mark, by})
		force = force.Add(by)
		twist = twist.Add(s.Marks[pull.Mark].At.Cross(pull.By))
	}
	out = append(out, Pull{f.origin, force.Mul(-1)})
	swing := twist.Z / f.reach.X
	twist.X += swing * f.reach.Z
	out = append(out, Pull{f.toward, f.y.Mul(-swing)}, Pull{f.origin, f.y.Mul(swing)})
	for j, m := range f.fitted {
		tilt := f.turn(f.plane.Tilt(j))
		by := -(twist.X*tilt.X + twist.Y*tilt.Y)
		out = append(out, Pull{m, f.z.Mul(by)})
	}
	return out
}

// frameTurn is the small turn of the frame's axes, in the file's, for each mm
// that a mark moves.
type frameTurn struct {
	mark int
	by   [3]r3.Vector
}

// turns are those of all marks that the frame hangs on: minus t of raw.
func (f *frameFix) turns() []frameTurn {
	var out []frameTurn
	add := func(mark int, tilt, by r3.Vector) { // t along the frame's axes: tilt times by·dm
		w := f.back(tilt).Mul(-1)
		out = append(out, frameTurn{mark, [3]r3.Vector{by.Mul(w.X), by.Mul(w.Y), by.Mul(w.Z)}})
	}
	for j, m := range f.fitted {
		tilt := f.turn(f.plane.Tilt(j)).Mul(-1)
		tilt.Z = tilt.X * f.reach.Z / f.reach.X
		add(m, tilt, f.z)
	}
	swing := r3.Vector{Z: -1 / f.reach.X}
	add(f.toward, swing, f.y)
	add(f.origin, swing.Mul(-1), f.y)
	return out
}

// inFile takes a direction from the mounting frame to the file's axes.
func (s *Space) inFile(v r3.Vector) r3.Vector {
	if s.frame == nil {
		return v
	}
	return s.frame.back(v)
}
