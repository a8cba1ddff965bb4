package survey

import (
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r3"

	"elbowroom/survey/network"
)

// enoughTies complains of marks that no network could place: fewer than three
// tapes and coordinates, and no depth.
func (b *build) enoughTies() bool {
	ends := make([][]int, b.net.Marks) // no more than three: that is enough
	meet := func(k, o int) {
		if len(ends[k]) < 3 && !slices.Contains(ends[k], o) {
			ends[k] = append(ends[k], o)
		}
	}
	have := make([]int, b.net.Marks)
	for k, p := range b.net.Pinned {
		for axis := range p {
			if p[axis] {
				have[k]++
			}
		}
	}
	for l, t := range b.net.Ties {
		switch {
		case b.rows[l] < 0: // a pin, counted above
		case t.Kind == network.Distance:
			meet(t.Mark, t.From)
			meet(t.From, t.Mark)
		case t.Kind == network.Offset:
			have[t.Mark]++
		case t.Kind == network.Along:
			have[t.Mark] += 3
		}
	}
	for k := range ends {
		if have[k]+len(ends[k]) < 3 {
			b.tellShort(k, false)
		}
	}
	return len(b.problems) == 0
}

// allPlaced complains of marks that the start could not place.
func (b *build) allPlaced(start network.Start) bool {
	for k, placed := range start.Placed {
		if !placed {
			b.tellShort(k, false)
		}
	}
	return len(b.problems) == 0
}

// groups are the marks of the network that hang together.
func (b *build) groups() [][]int {
	next := make([][]int, b.net.Marks)
	for _, t := range b.net.Ties {
		if t.Kind == network.Common || t.From == network.None {
			continue
		}
		next[t.Mark] = append(next[t.Mark], t.From)
		next[t.From] = append(next[t.From], t.Mark)
		if t.Kind >= network.Along {
			next[t.Mark] = append(next[t.Mark], t.To)
			next[t.To] = append(next[t.To], t.Mark)
		}
	}
	seen := make([]bool, b.net.Marks)
	var out [][]int
	for first := range next {
		if seen[first] {
			continue
		}
		seen[first] = true
		group := []int{first}
		for i := 0; i < len(group); i++ {
			for _, k := range next[group[i]] {
				if !seen[k] {
					seen[k] = true
					group = append(group, k)
				}
			}
		}
		out = append(out, group)
	}
	return out
}

// motion is how a coordinate changes with the six motions of a rigid body:
// three shifts, and three turns times the size of the body.
type motion [6]float64

// motionOf is that of a mark's offset along dir, from the centre of the body for
// a shift; a difference of two marks does not change with a shift.
func motionOf(arm, dir r3.Vector, size float64, shifts bool) (m motion) {
	turn := arm.Cross(dir).Mul(1 / size)
	if shifts {
		m[0], m[1], m[2] = dir.X, dir.Y, dir.Z
	}
	m[3], m[4], m[5] = turn.X, turn.Y, turn.Z
	return m
}

// held is a basis of the motions that coordinates hold.
type held []motion

// left is what of a motion the basis does not hold, and its length.
func (h held) left(m motion) (motion, float64) {
	for range 2 { // the second time takes the rounding of the first off
		for _, b := range h {
			share := 0.0
			for i := range m {
				share += m[i] * b[i]
			}
			for i := range m {
				m[i] -= share * b[i]
			}
		}
	}
	sum := 0.0
	for _, v := range m {
		sum += v * v
	}
	return m, math.Sqrt(sum)
}

// hold adds a motion, if it is more than a hundredth new: axes held by less
// would turn with the least error.
func (h held) hold(m motion) held {
	left, size := h.left(m)
	if size < 0.01 {
		return h
	}
	for i := range left {
		left[i] /= size
	}
	return append(h, left)
}

// motionsHeld are those that the coordinates of a group hold.
func (b *build) motionsHeld(group []int, at []r3.Vector) (h held, centre r3.Vector, size float64) {
	in := map[int]bool{}
	var fixed []int // those with coordinates, which say how large it is
	for _, k := range group {
		in[k] = true
		if p := b.net.Pinned[k]; len(b.points[b.marks[k]]) > 0 || p[0] || p[1] || p[2] {
			fixed = append(fixed, k)
		}
	}
	if len(fixed) < 2 {
		fixed = group
	}
	for _, k := range fixed {
		centre = centre.Add(at[k].Mul(1 / float64(len(fixed))))
	}
	size = 1e-9
	for _, k := range fixed {
		size = math.Max(size, at[k].Sub(centre).Norm())
	}
	for _, k := range group {
		for axis := range 3 {
			if b.net.Pinned[k][axis] {
				h = h.hold(motionOf(at[k].Sub(centre), unit(axis), size, true))
			}
		}
	}
	for _, t := range b.net.Ties {
		switch {
		case t.Kind != network.Offset || !in[t.Mark]:
		case t.From == network.None:
			h = h.hold(motionOf(at[t.Mark].Sub(centre), t.Dir, size, true))
		default:
			h = h.hold(motionOf(at[t.Mark].Sub(at[t.From]), t.Dir, size, false))
		}
	}
	return h, centre, size
}

// motions says how many of the six motions nothing holds.
func (b *build) motions(group []int, at []r3.Vector) int {
	h, _, _ := b.motionsHeld(group, at)
	return 6 - len(h)
}

// pin holds what is free by coordinates of the group's marks as they start:
// those of the frame's own marks that hold most, and others only where these
// hold too little. A mark that only a depth places does not move with the rest
// while its probe's direction stands.
func (b *build) pin(group []int, at []r3.Vector) {
	h, centre, size := b.motionsHeld(group, at)
	own := map[int]bool{}
	for _, m := range b.frameMarks() {
		own[b.of[m]] = true
	}
	for _, frames := range [2]bool{true, false} {
		for len(h) < 6 {
			best, axis, most := -1, 0, 0.0
			for _, k := range group {
				for c := range 3 {
					if own[k] != frames || b.net.Pinned[k][c] || len(b.neighbours(k)) == 0 {
						continue // what only a depth places does not turn with the tapes: its probe keeps its direction
					}
					if _, left := h.left(motionOf(at[k].Sub(centre), unit(c), size, true)); left > 1.0001*most {
						best, axis, most = k, c, left
					}
				}
			}
			if most < 0.01 {
				break
			}
			h = h.hold(motionOf(at[best].Sub(centre), unit(axis), size, true))
			b.net.Pinned[best][axis] = true
		}
	}
}

// hasFrame says whether the frame's marks are in the group.
func (b *build) hasFrame(group []int) bool {
	f := b.readings.Frame
	found := 0
	for _, name := range [3]string{f.Origin, f.XToward, f.OutToward} {
		m, ok := b.byName[name]
		for _, k := range group {
			if ok && b.of[m] == k {
				found++
				break
			}
		}
	}
	return found == 3
}

// tellNoAxes says that nothing fixes where a group of marks is.
func (b *build) tellNoAxes(group []int) {
	m := b.marks[group[0]]
	pos, field := b.tieOf(m)
	names := b.space.Marks[m].Name
	if len(group) > 1 {
		names = b.names([]int{m, b.marks[group[1]]})
		if len(group) > 2 {
			names += fmt.Sprintf(" and %d more", len(group)-2)
		}
	}
	what := fmt.Sprintf("%s hang together by tape, but nothing says where they are", names)
	mend := "give three of the marks coordinates, or the job a frame: {origin: .., x_toward: .., out_toward: ..}"
	if b.readings.Frame != nil {
		mend = "tape them from marks of the frame, or give three of them coordinates"
	}
	b.complain(pos, field, b.space.Marks[m].Name, what, mend)
}

// tellTurns says that a group can turn about a line of known marks.
func (b *build) tellTurns(group []int) {
	var line, rest []int
	for _, k := range group {
		if _, ok := b.given(b.marks[k]); ok {
			line = append(line, b.marks[k])
		} else {
			rest = append(rest, b.marks[k])
		}
	}
	if len(rest) == 0 {
		return
	}
	pos, field := b.tieOf(rest[0])
	b.complain(pos, field, b.space.Marks[rest[0]].Name, fmt.Sprintf("the marks that are known, %s, lie on one line, and %s can turn about it", b.names(line), b.names(rest)), "give coordinates to a mark to one side of that line")
}

// taped says whether tapes or depths hold a group together. What only
// coordinates do does not turn.
func (b *build) taped(group []int) bool {
	in := map[int]bool{}
	for _, k := range group {
		in[k] = true
	}
	for _, t := range b.net.Ties {
		if t.Kind != network.Offset && t.Kind != network.Common && in[t.Mark] {
			return true
		}
	}
	return false
}

// orient turns a group that only tapes hold into the mounting frame, the right
// way round: tapes fit a survey and its mirror image alike. The frame says which
// way is out and which way is x; where a depth tells y it decides, else the
// face's marks, which lie above the line from the origin to x_toward.
func (b *build) orient(group []int, at []r3.Vector) bool {
	for k, m := range b.marks {
		b.space.Marks[m].At, b.space.Marks[m].Located = at[k], true
	}
	fix, ok := b.findFrame()
	if !ok {
		return false
	}
	origin := at[b.of[fix.origin]]
	for _, k := range group {
		at[k] = fix.turn(at[k].Sub(origin))
	}
	b.turnProbes(nil)
	flip, ok := b.mirrored(group, at)
	if !ok {
		return false
	}
	if flip {
		for _, k := range group {
			at[k].Y = -at[k].Y
		}
	}
	return true
}

// mirrored says whether the group's picture is the mirror image of the right one.
func (b *build) mirrored(group []int, at []r3.Vector) (flip, ok bool) {
	if b.hasDepths() {
		miss := [2]float64{}
		for side, y := range [2]float64{1, -1} {
			p := append([]r3.Vector(nil), at...)
			for _, k := range group {
				p[k].Y *= y
			}
			miss[side] = b.missAt(group, p)
		}
		// As alike as chance makes them (network.Start).
		if math.Abs(miss[0]-miss[1]) > 9 {
			return miss[1] < miss[0], true
		}
	}
	// A mark that only a depth places goes with the picture either way.
	up, all := 0.0, 0.0
	var above []int
	for _, spec := range b.readings.Features {
		if !spec.Mount {
			continue
		}
		for _, m := range b.members[spec.Name] {
			if k := b.of[m]; k != network.None && len(b.neighbours(k)) > 0 {
				up += at[k].Y
				all += math.Abs(at[k].Y)
				above = append(above, m)
			}
		}
	}
	f := b.readings.Frame
	// The face's marks must lie mostly on one side of the line to show it.
	if all == 0 || math.Abs(up) < 0.8*all {
		b.complain(f.Pos, "frame.x_toward", f.XToward, fmt.Sprintf("tapes alone fit this survey and its mirror image alike, and the face's marks lie on both sides of the line from %s to %s", f.Origin, f.XToward), "name an origin and x_toward along the foot of the face, with its other marks above, or give a depth toward +y or -y")
		return false, false
	}
	b.doubt(Doubt{Pos: f.Pos, Weight: mirrorWeight, Severity: Remark, Says: fmt.Sprintf("tapes alone fit this survey and its mirror image alike: it is taken that %s lie above the line from %s to %s (y up)", b.names(b.offLine(above)), f.Origin, f.XToward)})
	return up < 0, true
}

// mirrorWeight puts the word on the mirror image last: it is seldom wrong.
const mirrorWeight = 0.5

// offLine leaves the frame's own two marks out.
func (b *build) offLine(marks []int) []int {
	var out []int
	for _, m := range marks {
		if name := b.space.Marks[m].Name; name != b.readings.Frame.Origin && name != b.readings.Frame.XToward {
			out = append(out, m)
		}
	}
	return out
}

// missAt is the sum of squares that the depths leave with the marks at p, the
// marks that only a depth places put where it says.
func (b *build) missAt(group []int, p []r3.Vector) float64 {
	try := *b
	try.problems = nil
	try.net.Pinned = append([][3]bool(nil), b.net.Pinned...)
	try.pin(group, p)
	adjusted, err := try.net.Adjust(p)
	if err != nil {
		return math.Inf(1)
	}
	return adjusted.SumSquares
}
