package survey

import (
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/survey/network"
)

// netted is the network of a space.
type netted struct {
	adjusted *network.Adjusted
	of       []int     // the network's number of each mark, or network.None
	marks    []int     // and back
	source   []int     // the source of each tie
	gauged   bool      // nothing gave the axes: six coordinates are pinned
	inner    []float64 // then the marks' uncertainties (innerAll)
}

// at is the network's number of a mark.
func (n *netted) at(mark int) (k int, ok bool) {
	if n == nil || n.of[mark] == network.None {
		return 0, false
	}
	return n.of[mark], true
}

// build turns readings into a network.
type build struct {
	*adjuster
	net    network.Net
	of     []int
	marks  []int
	rows   []int // the row of each tie
	axes   []int // the axis of each tie, as in Source
	dirs   []r3.Vector
	known  network.Start
	shared map[string]int // file -> shared error, from 1
	gauged bool           // nothing gave the axes
	face   *face          // once it is asked for
}

// exactShare is the standard uncertainty, over the least of the others, that an
// exact reading counts with where it cannot settle a coordinate alone: a hundred
// times as good as the best of them, as in floored.
const exactShare = 0.01

// newBuild gathers all ties of the network.
func (a *adjuster) newBuild() *build {
	b := &build{adjuster: a, of: make([]int, len(a.space.Marks)), shared: map[string]int{}}
	for m := range b.of {
		b.of[m] = network.None
		if a.netMarks[m] {
			b.of[m] = len(b.marks)
			b.marks = append(b.marks, m)
		}
	}
	b.net.Marks = len(b.marks)
	b.net.Pinned = make([][3]bool, b.net.Marks)
	b.known = network.Start{At: make([]r3.Vector, b.net.Marks), Placed: make([]bool, b.net.Marks)}
	b.grow()
	for _, m := range b.marks {
		b.coordinates(m)
	}
	for _, t := range a.ties {
		if t.kind == Tapes {
			b.tape(t)
		} else {
			b.depth(t)
		}
	}
	b.floor()
	return b
}

// grow makes room for three numbers of each point and depth, and one of a tape.
func (b *build) grow() {
	n := 3*len(b.readings.Depths) + len(b.readings.Tapes)
	for _, m := range b.marks {
		n += 3 * len(b.points[m])
	}
	b.net.Ties = make([]network.Tie, 0, n)
	b.rows, b.axes, b.dirs = make([]int, 0, n), make([]int, 0, n), make([]r3.Vector, 0, n)
}

func (b *build) add(t network.Tie, row, axis int) {
	b.net.Ties = append(b.net.Ties, t)
	b.rows = append(b.rows, row)
	b.axes = append(b.axes, axis)
	b.dirs = append(b.dirs, t.Dir)
}

// coordinates adds a mark's coordinates. One that is exact, from the datum, is
// pinned, and the others of that coordinate count for nothing.
func (b *build) coordinates(m int) {
	k := b.of[m]
	for axis := range 3 {
		for _, i := range b.points[m] {
			p := b.readings.Points[i]
			if p.At[axis].Given && p.Base == "" && p.Limit.U() == 0 {
				b.net.Pinned[k][axis] = true
				setAlong(&b.known.At[k], axis, p.At[axis].Value)
			}
		}
	}
	for _, i := range b.points[m] {
		p := b.readings.Points[i]
		from := network.None
		if p.Base != "" {
			if from = b.of[b.byName[p.Base]]; from == network.None {
				continue // the base has no place
			}
		}
		for axis := range 3 {
			if p.At[axis].Given && !b.net.Pinned[k][axis] {
				b.add(network.Tie{Kind: network.Offset, Mark: k, From: from, Dir: unit(axis), Value: p.At[axis].Value + p.Limit.Shift(), U: p.Limit.U()}, b.rowOf[i], axis)
			}
		}
	}
}

func unit(axis int) r3.Vector { return [3]r3.Vector{{X: 1}, {Y: 1}, {Z: 1}}[axis] }

func setAlong(v *r3.Vector, axis int, value float64) {
	*[3]*float64{&v.X, &v.Y, &v.Z}[axis] = value
}

func (b *build) tape(t tieRow) {
	reading := b.readings.Tapes[t.of]
	tie := network.Tie{Kind: network.Distance, Mark: b.of[t.mark], From: b.of[t.from], To: b.of[t.from],
		Value: reading.Length.Value + reading.Limit.Shift(), U: b.tapeU(reading)}
	if zero := b.readings.TapeFacts.Zero; zero > 0 {
		file := reading.Pos.File
		k, ok := b.shared[file]
		if !ok {
			b.net.Shared++
			k = b.net.Shared
			b.shared[file] = k
			row := b.row(Row{Kind: Tapes, Mark: t.mark, Pos: reading.Pos, Redundancy: 1, Widest: zero, Shared: true})
			b.add(network.Tie{Kind: network.Common, Shared: k, U: zero / math.Sqrt(3)}, row, 0)
		}
		tie.Shared = k
	}
	b.add(tie, t.row, 0)
}

func (b *build) depth(t tieRow) {
	d := b.readings.Depths[t.of]
	tie := network.Tie{Mark: b.of[t.mark], From: b.of[t.from], To: b.of[t.to], Dir: d.Toward, U: d.Limit.U()}
	for axis, value := range [3]float64{d.Along.Value, d.Probe.Value + d.Limit.Shift(), 0} {
		tie.Kind, tie.Value = network.Along+network.TieKind(axis), value
		b.add(tie, t.row, axis)
	}
}

// floor gives exact readings an uncertainty that the network can weigh.
func (b *build) floor() {
	least := math.Inf(1)
	for _, t := range b.net.Ties {
		if t.U > 0 {
			least = math.Min(least, t.U)
		}
	}
	if math.IsInf(least, 1) {
		least = 1 // all are exact, and count alike: a hundredth of a mm
	}
	for l := range b.net.Ties {
		b.net.Ties[l].U = math.Max(b.net.Ties[l].U, exactShare*least)
	}
}

// turnProbes gives the depths their directions in the file's axes. f is nil
// where those are the mounting frame.
func (b *build) turnProbes(f *frameFix) {
	for l, t := range b.net.Ties {
		if t.Kind >= network.Along && t.Kind <= network.Sideways {
			b.net.Ties[l].Dir, b.net.Ties[l].Leans = b.dirs[l], nil
			if f != nil {
				b.net.Ties[l].Dir = f.back(b.dirs[l])
			}
		}
	}
}

// leanProbes lets those directions turn with the frame's marks, so that the
// depths' share in the frame is theirs in the adjustment and in its uncertainty.
func (b *build) leanProbes(f *frameFix) {
	var leans []network.Lean
	for _, t := range f.turns() {
		if k := b.of[t.mark]; k != network.None {
			leans = append(leans, network.Lean{Mark: k, At: b.space.Marks[t.mark].At, By: t.by})
		}
	}
	for l, t := range b.net.Ties {
		if t.Kind == network.Probe || t.Kind == network.Sideways {
			b.net.Ties[l].Leans = leans
		}
	}
}

// hasDepths says whether any depth is in the network.
func (b *build) hasDepths() bool {
	for _, t := range b.net.Ties {
		if t.Kind == network.Along {
			return true
		}
	}
	return false
}

// withoutDepths is the network without its depths.
func (b *build) withoutDepths() network.Net {
	net := b.net
	net.Ties = nil
	for _, t := range b.net.Ties {
		if t.Kind < network.Along || t.Kind > network.Sideways {
			net.Ties = append(net.Ties, t)
		}
	}
	return net
}
