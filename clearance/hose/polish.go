package hose

import (
	"math"
	"math/rand/v2"

	"github.com/golang/geo/r3"
)

// polish shortens a run of straight legs rounded at the least radius: how far it goes
// straight out of its ends, and the corners between, are free. It keeps room by the
// grid's field, with a spare that makes up for what the grid does not show.
type polish struct {
	field *field
	x     []float64 // the two straights, then the corners' coordinates
	spare float64   // mm of room beyond the gap
	size  float64   // of the first steps, mm
	rng   *rand.Rand
}

// mostCorners between the ends: with those at the ends' own axes a run of up to six
// bends, more than anyone leads a hose in.
const mostCorners = 4

func newPolish(f *field, path []r3.Vector) *polish {
	l := f.wish.Limits
	p := &polish{field: f, x: []float64{l.Straight + l.Radius, l.Straight + l.Radius}, size: l.Radius / 2, rng: rand.New(rand.NewPCG(1, 2))}
	for _, at := range f.corners(path) {
		p.x = append(p.x, at.X, at.Y, at.Z)
	}
	return p
}

// corners cuts a path down to the few places at which it must turn: as far along as
// the straight line has room, then on from there. A path with none gets its middle.
func (f *field) corners(path []r3.Vector) []r3.Vector {
	var out []r3.Vector
	for i := 0; i < len(path)-1; {
		j := len(path) - 1
		for ; j > i+1 && !f.free(path[i], path[j]); j-- {
		}
		if i = j; i < len(path)-1 {
			out = append(out, path[i])
		}
	}
	for len(out) > mostCorners { // drop the corner that turns the line least
		least, at := math.Inf(1), 0
		line := append(append([]r3.Vector{path[0]}, out...), path[len(path)-1])
		for i := range out {
			if by := line[i+1].Sub(line[i]).Norm() + line[i+2].Sub(line[i+1]).Norm() - line[i+2].Sub(line[i]).Norm(); by < least {
				least, at = by, i
			}
		}
		out = append(out[:at], out[at+1:]...)
	}
	if len(out) == 0 {
		out = []r3.Vector{path[0].Add(path[len(path)-1]).Mul(0.5)}
	}
	return out
}

// free says whether there is room all along a straight line.
func (f *field) free(a, b r3.Vector) bool {
	n := int(math.Ceil(b.Sub(a).Norm() / f.step))
	for k := 1; k < n; k++ {
		if f.at(a.Add(b.Sub(a).Mul(float64(k)/float64(n))), false, false) < 0 {
			return false
		}
	}
	return true
}

// line is the polyline of the present figures.
func (p *polish) line(x []float64) []r3.Vector {
	e := p.field.wish.Ends
	line := []r3.Vector{e.From, e.From.Add(e.Leave.Mul(x[0]))}
	for i := 2; i < len(x); i += 3 {
		line = append(line, r3.Vector{X: x[i], Y: x[i+1], Z: x[i+2]})
	}
	return append(line, e.To.Sub(e.Arrive.Mul(x[1])), e.To)
}

// rounded rounds a line at one radius. over is by how much the legs are too short for
// it, summed; such bends are drawn as if they fitted.
func rounded(line []r3.Vector, l Limits) (run Run, over float64) {
	run = Run{Points: line, Bends: make([]Bend, len(line))}
	for i := range line {
		b := &run.Bends[i]
		b.From, b.To = line[i], line[i]
		if i == 0 || i == len(line)-1 {
			continue
		}
		in, out := line[i].Sub(line[i-1]).Normalize(), line[i+1].Sub(line[i]).Normalize()
		if b.Turn = in.Angle(out).Radians(); b.Turn <= straightTurn {
			b.Turn = 0
			continue
		}
		if b.Turn > widest {
			over += l.Radius * (b.Turn - widest)
		}
		b.Radius = l.Radius
		b.Back = l.Radius * math.Tan(math.Min(b.Turn, widest)/2)
		b.From, b.To = line[i].Sub(in.Mul(b.Back)), line[i].Add(out.Mul(b.Back))
	}
	for i := 1; i < len(line); i++ {
		left := line[i].Sub(line[i-1]).Norm() - run.Bends[i-1].Back - run.Bends[i].Back
		if i == 1 || i == len(line)-1 {
			left -= l.Straight
		}
		over += math.Max(0, -left)
	}
	return run, over
}

// draw is the run of the present figures; ok says that its bends fit its legs.
func (p *polish) draw() (Run, bool) {
	run, over := rounded(p.line(p.x), p.field.wish.Limits)
	return run.withoutCorners(), over == 0
}

// withoutCorners leaves out corners that do not turn.
func (r Run) withoutCorners() Run {
	var out Run
	for i, b := range r.Bends {
		if i == 0 || i == len(r.Bends)-1 || b.Turn > 0 {
			out.Points, out.Bends = append(out.Points, r.Points[i]), append(out.Bends, b)
		}
	}
	return out
}

// The cost of a millimetre that a leg is too short by, and of one of room that is
// wanting, at the worst place and over the length of it, in millimetres of hose: so
// dear that no shorter run is worth it.
const (
	shortLeg  = 20
	worstRoom = 20
	allRoom   = 1
)

// cost of the figures; where it is no less than upTo any more is left out.
func (p *polish) cost(x []float64, upTo float64) float64 {
	run, over := rounded(p.line(x), p.field.wish.Limits)
	least := run.Length() + shortLeg*over
	if least >= upTo {
		return least
	}
	worst, sum := 0.0, 0.0
	p.samples(run, func(at r3.Vector, first, last bool) bool {
		want := math.Max(0, p.spare-p.field.at(at, first, last))
		worst = math.Max(worst, want)
		sum += want
		return least+worstRoom*worst+allRoom*sum < upTo
	})
	return least + worstRoom*worst + allRoom*sum
}

// samples goes along a run in steps of the mesh, for as long as do says so.
func (p *polish) samples(run Run, do func(at r3.Vector, first, last bool) bool) {
	step := p.field.step
	n := len(run.Points)
	for i := 1; i < n; i++ {
		a, b := run.Bends[i-1].To, run.Bends[i].From
		k := max(1, int(b.Sub(a).Norm()/step))
		for j := 0; j <= k; j++ {
			if !do(a.Add(b.Sub(a).Mul(float64(j)/float64(k))), i == 1, i == n-1) {
				return
			}
		}
		if bend := run.Bends[i]; bend.Back > 0 {
			k := max(1, int(bend.Radius*bend.Turn/step))
			for j := 1; j < k; j++ {
				if !do(bend.At(run.Points[i], float64(j)/float64(k)), false, false) {
					return
				}
			}
		}
	}
}

// pinch is the place with the least room.
func (p *polish) pinch() (at r3.Vector) {
	run, _ := rounded(p.line(p.x), p.field.wish.Limits)
	least := math.Inf(1)
	p.samples(run, func(q r3.Vector, first, last bool) bool {
		if room := p.field.at(q, first, last); room < least {
			least, at = room, q
		}
		return true
	})
	return at
}

// shorten goes downhill by trying each figure both ways, and a few ways across, with
// steps that halve where nothing helps (pattern search: it needs no slopes, which
// the room between obstacles does not have).
func (p *polish) shorten() {
	now := p.cost(p.x, math.Inf(1))
	try := append([]float64(nil), p.x...)
	const finest = 0.25 // mm: finer than anyone leads a hose
	size := p.size
	p.size = p.field.wish.Limits.Radius / 8 // the next time it is nearly there
	for sweeps := 0; size > finest && sweeps < 60; sweeps++ {
		before := now
		for k := range p.x {
			for _, by := range [2]float64{size, -size} {
				copy(try, p.x)
				try[k] += by
				now = p.keep(try, now)
			}
		}
		for range 4 {
			copy(try, p.x)
			for k := range try {
				try[k] += size * p.rng.NormFloat64() / 2
			}
			now = p.keep(try, now)
		}
		if before-now < size/20 {
			size /= 2
		}
	}
}

// keep takes figures that cost less.
func (p *polish) keep(try []float64, now float64) float64 {
	least := p.field.wish.Limits.Straight
	if try[0] < least || try[1] < least {
		return now
	}
	if c := p.cost(try, now); c < now {
		copy(p.x, try)
		return c
	}
	return now
}
