package hose

import (
	"math"
	"slices"

	"github.com/golang/geo/r3"
)

// Ends is where a run begins and ends: places in mm, and unit directions of
// travel there.
type Ends struct {
	From, Leave r3.Vector
	To, Arrive  r3.Vector
}

// Limits is what a run must keep, mm.
type Limits struct {
	// Radius is the least bend radius to the centre line, over 0.
	Radius float64
	// Straight is how far the run goes straight at each end [0].
	Straight float64
}

// reversed is the same run seen from its other end.
func (e Ends) reversed() Ends {
	return Ends{From: e.To, Leave: e.Arrive.Mul(-1), To: e.From, Arrive: e.Leave.Mul(-1)}
}

// drawnIn moves both ends in by the straight that they keep.
func (e Ends) drawnIn(straight float64) Ends {
	e.From = e.From.Add(e.Leave.Mul(straight))
	e.To = e.To.Sub(e.Arrive.Mul(straight))
	return e
}

// Shortest gives the runs that turn at each end by an arc of the least radius and go
// straight between, in space, shortest first: those whose arcs are half a circle at
// most; only where there is none, those with a longer arc, which loop. Among them is
// the shortest run of all that keeps the limits, but where its ends lie so close that
// it is of three arcs (Sussmann, Shortest 3-dimensional paths with a prescribed
// curvature bound, 1995; see Loops). There may be none.
//
// Each arc has two unknowns, its angle as a vector square to its port's direction,
// and the straight one: five, for six equations that agree where there is an answer
// (the arcs' ends lie on one line, along it both ways). They are solved by damped
// Gauss-Newton steps from directions all about; a vector of half a turn is as smooth
// an unknown as any, so a plain return bend is found too.
func Shortest(e Ends, l Limits) []Run {
	in := e.drawnIn(l.Straight)
	p := link{from: newPort(in.From, in.Leave, l.Radius), to: newPort(in.To, in.Arrive.Mul(-1), l.Radius), radius: l.Radius}
	found := p.all(nil, math.Pi, func(j joint) joint { return j })
	if len(found) == 0 {
		for k := 1; k <= 3; k++ {
			found = p.all(found, 2*math.Pi, func(j joint) joint { return j.theLongWay(k&1 > 0, k&2 > 0) })
		}
	}
	var runs []Run
	for _, j := range found {
		runs = append(runs, p.run(j, e))
	}
	slices.SortStableFunc(runs, byLength)
	return runs
}

// all adds the answers with arcs up to most that the starts all about lead to.
func (p *link) all(found []joint, most float64, from func(joint) joint) []joint {
	try := func(way r3.Vector) {
		j, ok := p.solve(from(p.start(way)), most)
		if ok && !slices.ContainsFunc(found, func(o joint) bool { return p.same(o, j) }) {
			found = append(found, j)
		}
	}
	if apart := p.to.at.Sub(p.from.at); apart != (r3.Vector{}) {
		try(apart.Normalize())
	}
	for _, way := range ways {
		try(way)
	}
	return found
}

// theLongWay turns the arcs into their directions the other way round.
func (j joint) theLongWay(first, last bool) joint {
	if first {
		j.first = j.first.scaled(j.first.angle() - 2*math.Pi)
	}
	if last {
		j.last = j.last.scaled(j.last.angle() - 2*math.Pi)
	}
	return j
}

func byLength(a, b Run) int {
	switch la, lb := a.Length(), b.Length(); {
	case la < lb:
		return -1
	case la > lb:
		return 1
	}
	return 0
}

// startWays is how many directions of the straight are tried besides that from end
// to end. What 1,200 starts find, these found too in 1,050 random pairs of ends, 1 to
// 15 radii apart; of the runs that loop some may be missed.
const startWays = 24

// ways are directions spread evenly about the sphere (the golden spiral).
var ways = spiral(startWays)

func spiral(n int) []r3.Vector {
	out := make([]r3.Vector, n)
	turn := math.Pi * (3 - math.Sqrt(5))
	for i := range out {
		z := 1 - (2*float64(i)+1)/float64(n)
		sin, cos := math.Sincos(turn * float64(i))
		out[i] = r3.Vector{X: math.Sqrt(1-z*z) * cos, Y: math.Sqrt(1-z*z) * sin, Z: z}
	}
	return out
}

// port is one end seen from itself: out along ahead, with two directions square to
// that. The far end is a port too, whose run comes out of it backward.
type port struct {
	at, ahead r3.Vector
	axes      [2]r3.Vector
	radius    float64
}

func newPort(at, ahead r3.Vector, radius float64) port {
	u := ahead.Ortho()
	return port{at, ahead, [2]r3.Vector{u, ahead.Cross(u)}, radius}
}

// bow is an arc's angle as a vector along a port's two axes: its length is the
// angle, its direction the side to which the arc turns.
type bow [2]float64

func (b bow) angle() float64 { return math.Hypot(b[0], b[1]) }

// swung is where an arc out of a port ends, and how that moves with its bow.
type swung struct {
	at, way    r3.Vector
	dAt, dWay  [2]r3.Vector // per radian along the bow, and square to it
	along, off [2]float64   // those two directions, on the port's axes
}

func (p *port) swing(b bow) swung {
	angle := b.angle()
	s := swung{along: [2]float64{1, 0}}
	if angle > 0 {
		s.along = [2]float64{b[0] / angle, b[1] / angle}
	}
	s.off = [2]float64{-s.along[1], s.along[0]}
	side := p.axes[0].Mul(s.along[0]).Add(p.axes[1].Mul(s.along[1]))
	across := p.axes[0].Mul(s.off[0]).Add(p.axes[1].Mul(s.off[1]))
	sin, cos := math.Sincos(angle)
	half := math.Sin(angle / 2)
	versed := 2 * half * half // 1 - cos
	s.at = p.at.Add(p.ahead.Mul(p.radius * sin)).Add(side.Mul(p.radius * versed))
	s.way = p.ahead.Mul(cos).Add(side.Mul(sin))
	s.dAt[0], s.dWay[0] = s.way.Mul(p.radius), side.Mul(cos).Sub(p.ahead.Mul(sin))
	if angle > 0 {
		s.dAt[1], s.dWay[1] = across.Mul(p.radius*versed/angle), across.Mul(sin/angle)
	} else {
		s.dWay[1] = across
	}
	return s
}

// bowTo is the bow of the arc that turns a port's run into a direction.
func (p *port) bowTo(way r3.Vector) bow {
	x, y := way.Dot(p.axes[0]), way.Dot(p.axes[1])
	angle, off := math.Atan2(math.Hypot(x, y), way.Dot(p.ahead)), math.Hypot(x, y)
	if off == 0 {
		return bow{angle, 0}
	}
	return bow{angle * x / off, angle * y / off}
}

// link is two ports to be joined.
type link struct {
	from, to port
	radius   float64
}

// joint is a candidate: the two arcs and the straight between, in radii.
type joint struct {
	first, last bow
	straight    float64
}

func (p *link) start(way r3.Vector) joint {
	apart := p.to.at.Sub(p.from.at).Norm() / p.radius
	return joint{p.from.bowTo(way), p.to.bowTo(way.Mul(-1)), apart}
}

// misfit is the six equations: the far arc's end is on the straight (in radii), and
// comes out against its direction; and how each moves with the five unknowns.
func (p *link) misfit(j joint) (r [6]float64, d [6][5]float64, a, b swung) {
	a, b = p.from.swing(j.first), p.to.swing(j.last)
	gap := a.at.Sub(b.at).Mul(1 / p.radius).Add(a.way.Mul(j.straight))
	turn := a.way.Add(b.way)
	put := func(row int, v r3.Vector, column int, to *[6][5]float64) {
		to[row][column], to[row+1][column], to[row+2][column] = v.X, v.Y, v.Z
	}
	r = [6]float64{gap.X, gap.Y, gap.Z, turn.X, turn.Y, turn.Z}
	for k := range 2 {
		put(0, a.dAt[k].Mul(1/p.radius).Add(a.dWay[k].Mul(j.straight)), k, &d)
		put(3, a.dWay[k], k, &d)
		put(0, b.dAt[k].Mul(-1/p.radius), 2+k, &d)
		put(3, b.dWay[k], 2+k, &d)
	}
	put(0, a.way, 4, &d)
	return r, d, a, b
}

const (
	// mostSteps of one start. Those that end in an answer take 5 to 15.
	mostSteps = 30
	// joined is the misfit, squared and in radii, at which ends count as joined:
	// 1e-9 of a radius, a ten-thousandth of a micrometre.
	joined = 1e-18
)

func (p *link) solve(j joint, most float64) (joint, bool) {
	damp := 1e-3 // of the normal matrix's diagonal: the first step is nearly a whole one
	r, d, a, b := p.misfit(j)
	now := squares(r)
	for step := 0; step < mostSteps && now > joined*1e-6; step++ {
		move, ok := leastSquares(r, d, damp)
		if !ok {
			return j, false
		}
		next := joint{j.first.moved(a, move[0], move[1]), j.last.moved(b, move[2], move[3]), j.straight + move[4]}
		r2, d2, a2, b2 := p.misfit(next)
		if then := squares(r2); then < now {
			j, r, d, a, b = next, r2, d2, a2, b2
			now, damp = then, damp/10
			continue
		}
		if damp *= 8; damp > 1e6 {
			break
		}
	}
	// Half a turn and a straight of nothing may come out beyond themselves by rounding.
	const slack = 1e-7
	if !(now < joined) || j.straight < -slack || j.first.angle() > most+slack || j.last.angle() > most+slack {
		return j, false
	}
	return j, true
}

// moved steps a bow along itself and square to it.
func (b bow) moved(s swung, along, off float64) bow {
	return bow{b[0] + along*s.along[0] + off*s.off[0], b[1] + along*s.along[1] + off*s.off[1]}
}

func squares(r [6]float64) float64 {
	sum := 0.0
	for _, x := range r {
		sum += x * x
	}
	return sum
}

// leastSquares is the damped Gauss-Newton step: Cholesky on the normal matrix.
func leastSquares(r [6]float64, d [6][5]float64, damp float64) (x [5]float64, ok bool) {
	var n [5][5]float64
	for i := range 5 {
		for k := range 6 {
			x[i] -= d[k][i] * r[k]
		}
		for j := 0; j <= i; j++ {
			for k := range 6 {
				n[i][j] += d[k][i] * d[k][j]
			}
		}
		n[i][i] += damp * (n[i][i] + 1e-6) // the second part: an unknown that nothing depends on
	}
	for i := range 5 {
		for j := 0; j <= i; j++ {
			s := n[i][j]
			for k := range j {
				s -= n[i][k] * n[j][k]
			}
			if i > j {
				n[i][j] = s / n[j][j]
			} else if s > 0 {
				n[i][i] = math.Sqrt(s)
			} else {
				return x, false
			}
		}
	}
	for i := range 5 {
		for k := range i {
			x[i] -= n[i][k] * x[k]
		}
		x[i] /= n[i][i]
	}
	for i := 4; i >= 0; i-- {
		for k := i + 1; k < 5; k++ {
			x[i] -= n[k][i] * x[k]
		}
		x[i] /= n[i][i]
	}
	return x, true
}

// same says whether two candidates are one run: their arcs end in the same places,
// or, where nothing lies straight between, they share one length in the same way
// (an arc may then be cut anywhere).
func (p *link) same(x, y joint) bool {
	const near = 1e-5 // radii: far over what joined leaves, far under any difference that counts
	close := func(a, b r3.Vector) bool { return a.Sub(b).Norm() < near*p.radius }
	xa, xb, ya, yb := p.from.swing(x.first), p.to.swing(x.last), p.from.swing(y.first), p.to.swing(y.last)
	if close(xa.at, ya.at) && close(xb.at, yb.at) {
		return true
	}
	if math.Max(x.straight, y.straight) > near {
		return false
	}
	whole := func(j joint) float64 { return j.first.angle() + j.last.angle() }
	return math.Abs(whole(x)-whole(y)) < near && close(p.from.swing(x.first.half()).at, p.from.swing(y.first.scaled(x.first.angle()/2)).at)
}

func (b bow) half() bow { return b.scaled(b.angle() / 2) }

// scaled is a bow of another angle to the same side.
func (b bow) scaled(angle float64) bow {
	now := b.angle()
	if now == 0 {
		return bow{angle, 0}
	}
	return bow{b[0] * angle / now, b[1] * angle / now}
}

// run draws a candidate.
func (p *link) run(j joint, e Ends) Run {
	t := newTracer(e.From)
	t.arc(p.from.at, p.from.ahead, j.first.angle(), p.radius, p.from.side(j.first))
	b := p.to.swing(j.last)
	t.arc(b.at, b.way.Mul(-1), j.last.angle(), p.radius, p.to.backSide(j.last))
	return t.end(e.To)
}

// side is the unit direction to which an arc turns.
func (p *port) side(b bow) r3.Vector {
	s := b.scaled(1)
	return p.axes[0].Mul(s[0]).Add(p.axes[1].Mul(s[1]))
}

// backSide is the direction to which the arc turns where it comes in, backward.
func (p *port) backSide(b bow) r3.Vector {
	sin, cos := math.Sincos(b.angle())
	return p.side(b).Mul(cos).Sub(p.ahead.Mul(sin))
}
