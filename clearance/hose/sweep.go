package hose

import (
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/clearance/motion"
)

// Hold is where a stretch of hose is held: by a fitting, a spigot or a tie.
type Hold struct {
	At r3.Vector // at rest
	// Way is the unit direction of travel there; zero: it may point anywhere.
	Way r3.Vector
	// Joints lists the joints that carry the hold along, innermost first; none: it stands
	// still.
	Joints []int
}

// Swing is a stretch of hose that nothing holds between its two holds, of which either
// may move.
type Swing struct {
	From, To Hold
	// Length is how long the stretch is along its middle, slack and all, mm. It does not
	// stretch.
	Length float64
	// Radius is the least bend radius to the centre line that it takes, mm.
	Radius float64
	// Off is how far each hold may be from where it is said to be, mm.
	Off float64
	// Joints are all the joints of the motion.
	Joints motion.Chain
}

// Sweep is the room that a swinging stretch can get to, in the whole of a motion, seen
// from something that may move too. In it lies every place from which the ways to both
// holds are together no longer than the stretch, wherever they are just then, each way
// bending no tighter than the hose does (see reach). However the hose hangs, bows or is
// pushed, its middle stays in there.
type Sweep struct {
	swing Swing
	cells []sweepCell
	root  *cube
}

// sweepCell is a stretch of the motion: how each hold is seen in it.
type sweepCell struct {
	from, to view
	middle   []float64 // the position of each joint
}

// view takes a place from the frame that is looked from to a hold's own, as at rest:
// by the frame's joints out to where both are carried alike, then back by the hold's.
type view struct {
	out, back motion.Pose
	axes      []axis
	still     bool
}

// axis is a joint of a view in the middle of a cell, and how far it goes from there.
type axis struct {
	on, dir r3.Vector
	turns   bool
	far     float64 // of a turn mm at 1 mm from the axis, of a slide mm
}

// see gives the place and how far it may be off, all through the cell. It goes no
// farther than each joint's 2 sin(half the turn) times its distance from the axis (see
// package motion on bounds).
func (v *view) see(at r3.Vector) (place r3.Vector, off float64) {
	if v.still {
		return at, 0
	}
	middle := v.out.Move(at)
	for _, a := range v.axes {
		if a.turns {
			off += a.far * middle.Sub(a.on).Cross(a.dir).Norm()
		} else {
			off += a.far
		}
	}
	return v.back.Back(middle), off
}

const (
	// sweepStep is how far a hold may go in one cell of a motion, mm, where the cells do
	// not get too many: it is added to what is not known.
	sweepStep = 2
	mostCells = 256
	// finestCube is the half edge of the smallest cubes that the room is cut into, mm: between
	// holds on a curve they make the bound less than need be as 1 mm of slack would.
	finestCube = 0.25
	// farOff is how far short of what is wanted a millimetre does not matter, mm.
	farOff = 10
)

// NewSweep is the room of a stretch as seen from what the joints named carry along; none:
// from what stands still.
func NewSweep(s Swing, seenFrom []int) *Sweep {
	w := &Sweep{swing: s}
	counts := s.counts()
	position := make([]int, len(s.Joints))
	var middle r3.Vector
	for first := true; ; first = false {
		mid, half := make([]float64, len(position)), make([]float64, len(position))
		for i, j := range s.Joints {
			from, to := rangeOf(j)
			half[i] = (to - from) / float64(counts[i]) / 2
			mid[i] = from + half[i]*float64(2*position[i]+1)
		}
		c := sweepCell{s.view(s.From, seenFrom, mid, half), s.view(s.To, seenFrom, mid, half), mid}
		w.cells = append(w.cells, c)
		if first {
			middle = c.from.place(s.From.At).Add(c.to.place(s.To.At)).Mul(0.5)
		}
		if !next(position, counts) {
			break
		}
	}
	w.root = &cube{at: middle, half: w.size(middle)}
	for i := range w.cells {
		w.root.cells = append(w.root.cells, int32(i))
	}
	return w
}

// next counts on; false where it is through.
func next(position, counts []int) bool {
	for i := range position {
		if position[i]++; position[i] < counts[i] {
			return true
		}
		position[i] = 0
	}
	return false
}

// size is the half edge of a cube about a place that holds all of the room: what lies on
// a line of that length between two places is within half of it from their middle.
func (w *Sweep) size(about r3.Vector) float64 {
	most := 0.0
	for i := range w.cells {
		c := &w.cells[i]
		middle := c.from.place(w.swing.From.At).Add(c.to.place(w.swing.To.At)).Mul(0.5)
		_, a := c.from.see(middle)
		_, b := c.to.see(middle)
		// The middle itself goes as far as what turns with it, and with half the holds' distance.
		apart := w.swing.Length * (c.from.turn() + c.to.turn())
		most = math.Max(most, middle.Sub(about).Norm()+a+b+apart)
	}
	return w.swing.Length/2 + w.swing.Off + most
}

// turn is how far all the axes of a view may turn a unit vector in its cell.
func (v *view) turn() float64 {
	sum := 0.0
	for _, a := range v.axes {
		if a.turns {
			sum += a.far
		}
	}
	return sum
}

// place is where a place of the hold's own is seen in the middle of the cell.
func (v *view) place(at r3.Vector) r3.Vector {
	if v.still {
		return at
	}
	return v.out.Back(v.back.Move(at))
}

// rangeOf is a joint's range; of a turn a whole one will do.
func rangeOf(j motion.Joint) (from, to float64) {
	if j.Turns() && j.To-j.From > 2*math.Pi {
		return j.From, j.From + 2*math.Pi
	}
	return j.From, j.To
}

// counts is into how many parts each joint's range is cut.
func (s *Swing) counts() []int {
	counts, all := make([]int, len(s.Joints)), 1
	for i, j := range s.Joints {
		from, to := rangeOf(j)
		goes := to - from
		if j.Turns() {
			arm := math.Max(s.From.At.Sub(j.On).Cross(j.Axis).Norm(), s.To.At.Sub(j.On).Cross(j.Axis).Norm())
			goes *= arm
		}
		counts[i] = min(max(1, int(math.Ceil(goes/sweepStep))), max(1, mostCells/all))
		all *= counts[i]
	}
	return counts
}

// view works out how a hold is seen from what some joints carry along. Joints that carry
// both, outside of all others, do not count.
func (s *Swing) view(h Hold, seenFrom []int, mid, half []float64) view {
	own, frame := h.Joints, seenFrom
	for len(own) > 0 && len(frame) > 0 && own[len(own)-1] == frame[len(frame)-1] {
		own, frame = own[:len(own)-1], frame[:len(frame)-1]
	}
	v := view{still: len(own) == 0 && len(frame) == 0}
	v.out = s.carry(&v, frame, mid, half)
	v.back = s.carry(&v, own, mid, half)
	return v
}

// carry is the pose of some joints in the middle of a cell; their axes are added to the view.
func (s *Swing) carry(v *view, joints []int, mid, half []float64) motion.Pose {
	pose := motion.Rest()
	for i := len(joints) - 1; i >= 0; i-- {
		j := s.Joints[joints[i]]
		a := axis{on: pose.Move(j.On), turns: j.Turns(), far: half[joints[i]]}
		if a.turns {
			a.dir = pose.Turn(j.Axis)
			a.far = 2 * math.Sin(math.Min(a.far, math.Pi)/2)
		}
		v.axes = append(v.axes, a)
		pose = pose.After(j.At(mid[joints[i]]))
	}
	return pose
}

// cube is a part of space that the hose may get to, or not.
type cube struct {
	at       r3.Vector
	half     float64 // edge
	cells    []int32 // of the motion, in which it may; see asked
	asked    bool
	children []cube
}

// around is the radius of the ball about a cube.
func (q *cube) around() float64 { return q.half * math.Sqrt(3) }

// reached says whether the hose may get into a cube, and keeps the cells in which.
func (w *Sweep) reached(q *cube) bool {
	if q.asked {
		return len(q.cells) > 0
	}
	q.asked = true
	var left []int32
	for _, k := range q.cells {
		if c := &w.cells[k]; w.ways(c, q.at, q.around()) <= w.swing.Length {
			left = append(left, k)
		}
	}
	q.cells = left
	return len(left) > 0
}

// ways bounds from below how long the ways from both holds are together, to any place
// within a ball, in a cell.
func (w *Sweep) ways(c *sweepCell, at r3.Vector, around float64) float64 {
	s := &w.swing
	place, off := c.from.see(at)
	off += s.Off
	here := place.Sub(s.From.At)
	first := reach(here, s.From.Way, s.Radius, around+off)
	if first > s.Length {
		return first
	}
	place, offThere := c.to.see(at)
	offThere += s.Off
	there := place.Sub(s.To.At)
	all := first + reach(there, s.To.Way.Mul(-1), s.Radius, around+offThere)
	// Straight, both together are a convex function of the place: they fall no faster than
	// in its middle, which between the holds is hardly at all.
	slope := c.from.seen(here.Normalize()).Add(c.to.seen(there.Normalize())).Norm()
	return math.Max(all, here.Norm()+there.Norm()-off-offThere-around*slope)
}

// seen turns a direction of the hold's own to how it is seen.
func (v *view) seen(way r3.Vector) r3.Vector {
	if v.still {
		return way
	}
	return v.out.TurnBack(v.back.Turn(way))
}

func (q *cube) split() []cube {
	if q.children == nil {
		h := q.half / 2
		q.children = make([]cube, 8)
		for k := range q.children {
			d := r3.Vector{X: -h, Y: -h, Z: -h}
			if k&1 > 0 {
				d.X = h
			}
			if k&2 > 0 {
				d.Y = h
			}
			if k&4 > 0 {
				d.Z = h
			}
			q.children[k] = cube{at: q.at.Add(d), half: h, cells: q.cells}
		}
	}
	return q.children
}
