package survey

import (
	"fmt"
	"math"
	"sort"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"elbowroom/survey/length"
	"elbowroom/survey/network"
	"elbowroom/survey/table"
)

// Ball is one reading of a feature with a ball tip: where the ball's centre was.
type Ball struct {
	Mark   string
	Centre r3.Vector // mm, in the mounting frame
	Tip    float64   // radius of the ball, mm; 0: Centre is the touched spot itself
	U      float64   // standard uncertainty of Centre along each axis, mm; 0: exact
	Pos    table.Pos
}

// Touch is where a ball touched, as far as can be told.
type Touch struct {
	At r3.Vector // mm, in the mounting frame
	// Moved says that At is off the ball's centre by its radius, along the
	// feature's normal; else At is the centre, since the normal is not safe.
	Moved bool
	// Widen is what to add to the reading's limit, each way along each axis, mm:
	// the radius itself where At was not moved, else what the doubt about the
	// normal makes of it.
	Widen float64
}

// How safe a normal must be. Both are angles: a normal that is off by an angle
// puts the touched spot off by the radius times its sine, to the side, and a
// disagreement of more than 20 degrees means an edge or a curve that the marks
// are too far apart for (own judgement: at 20 degrees a third of the radius).
const (
	disagree = 20 * math.Pi / 180
	// nearest is how many neighbours decide a normal, with all that are as near
	// as the last of them within a tenth (asNear): in a grid they come in rings.
	// fewestNear is how few may: three and the mark itself are one more than a
	// plane needs, so that they can disagree.
	nearest    = 6
	asNear     = 1.1
	fewestNear = 3
)

// Touches moves the readings of one feature from the balls' centres to the
// spots that they touched: along the normal, by the radius. A face has the
// normal of the plane through all its centres; of a skin, a block and dots each
// reading has that of its nearest neighbours. The free side is the one away from
// the feature's Behind, else +z. Edges and tubes have no normal to speak of.
//
// Where the normal is not safe the reading keeps its place, its limit is to be
// widened by the radius, and a doubt says so. Each error of a ball is counted
// along the true normal: moved along the way of approach instead, a ball of
// radius r leaves r (1/cos a - 1) on a face that leans by a.
func Touches(f FeatureSpec, balls []Ball, style length.Style) ([]Touch, []Doubt) {
	touches := make([]Touch, len(balls))
	var doubts []Doubt
	t := toucher{feature: f, balls: balls}
	t.decide()
	for i, b := range balls {
		touches[i] = Touch{At: b.Centre}
		if b.Tip <= 0 {
			continue
		}
		n := t.normals[i]
		if n.why == "" {
			touches[i] = Touch{At: b.Centre.Sub(n.out.Mul(b.Tip)), Moved: true, Widen: b.Tip * math.Sin(n.off)}
			continue
		}
		touches[i].Widen = b.Tip
		doubts = append(doubts, Doubt{Pos: b.Pos, Weight: tipWeight, Severity: Remark, Says: fmt.Sprintf(
			"%s was touched with a ball of %s radius, and which way it was touched cannot be told: %s; it is only good to that radius",
			b.Mark, style.Print(length.Needed(b.Tip)), n.why)})
	}
	return touches, doubts
}

// tipWeight puts a touch that may be off by a tip's radius beside doubts about
// shapes, behind readings that contradict each other.
const tipWeight = 2

// normal is a feature's outward normal at a ball, length 1, how far it may be
// off, in radians, and why there is none.
type normal struct {
	out r3.Vector
	off float64
	why string
}

type toucher struct {
	feature FeatureSpec
	balls   []Ball
	normals []normal
}

// decide finds all normals.
func (t *toucher) decide() {
	t.normals = make([]normal, len(t.balls))
	switch t.feature.Shape {
	case Face:
		all := make([]int, len(t.balls))
		for i := range all {
			all[i] = i
		}
		for i, one := 0, t.plane(all); i < len(t.normals); i++ {
			t.normals[i] = one
		}
	case Skin, Block, Dots:
		near := make([][]int, len(t.balls))
		for i := range t.balls {
			near[i] = t.near(i)
			t.normals[i] = t.local(i, near[i])
		}
		t.agree(near)
	default:
		for i := range t.normals {
			t.normals[i].why = "a " + t.feature.Shape.String() + " may be touched from any side"
			if t.feature.Shape == Edge {
				t.normals[i].why = "an edge may be touched from any side"
			}
		}
	}
}

// near lists the other balls that lie nearest to ball i, nearest first.
func (t *toucher) near(i int) []int {
	var others []int
	for j := range t.balls {
		if j != i {
			others = append(others, j)
		}
	}
	away := func(j int) float64 { return t.balls[j].Centre.Sub(t.balls[i].Centre).Norm() }
	sort.SliceStable(others, func(a, b int) bool { return away(others[a]) < away(others[b]) })
	n := min(len(others), nearest)
	for n > 0 && n < len(others) && away(others[n]) <= asNear*away(others[nearest-1]) {
		n++
	}
	return others[:n]
}

// local is the normal at ball i from its neighbours.
func (t *toucher) local(i int, near []int) normal {
	if len(near) < fewestNear {
		return normal{why: fmt.Sprintf("it has %d of the %d neighbours that it takes", len(near), fewestNear)}
	}
	return t.plane(append([]int{i}, near...))
}

// plane is the normal of the best plane through some balls' centres.
func (t *toucher) plane(of []int) normal {
	points := make([]r3.Vector, len(of))
	for k, j := range of {
		points[k] = t.balls[j].Centre
	}
	p, err := network.FitPlane(points, nil)
	switch {
	case len(points) < 3:
		return normal{why: "it takes three marks or more"}
	case err != nil:
		return normal{why: "the marks around it lie in one line"}
	}
	n := normal{off: math.Max(t.tilt(p, of), steepest(p, points))}
	var onSide bool
	n.out, onSide = t.outward(p.Normal)
	switch {
	case n.off > disagree:
		n.why = disagreement(n.off)
	case !onSide:
		n.why = "its sides are neither out of the mounting face nor into it; say what is behind it"
	}
	return n
}

// tilt is twice the standard uncertainty of a plane's normal, in radians, by the
// centres' own.
func (t *toucher) tilt(p network.Plane, of []int) float64 {
	sum := 0.0
	for k, j := range of {
		sum += p.Tilt(k).Norm2() * t.balls[j].U * t.balls[j].U
	}
	return 2 * math.Sqrt(sum)
}

// steepest is the angle, in radians, of the farthest point from a plane, seen
// from the plane's centre at the points' mean distance. What rounding makes of
// points in one plane is none.
func steepest(p network.Plane, points []r3.Vector) float64 {
	height, away := 0.0, 0.0
	for _, at := range points {
		height = math.Max(height, math.Abs(p.Height(at))-network.Rounding(points))
		away += at.Sub(p.Centre).Norm() / float64(len(points))
	}
	return math.Atan2(height, away)
}

// outward turns a normal to the free side. ok is false where the side that
// decides lies so nearly along the feature that the next error would turn it
// over.
func (t *toucher) outward(n r3.Vector) (out r3.Vector, ok bool) {
	free := t.feature.Behind.Mul(-1)
	if free.Norm2() == 0 {
		free = r3.Vector{Z: 1}
	}
	free = free.Normalize()
	if n.Dot(free) < 0 {
		n = n.Mul(-1)
	}
	return n, n.Dot(free) > math.Sin(disagree)
}

// agree holds each normal against those of its neighbours. At the rim of a curve
// all neighbours lie on one side, so what they disagree by is added to what the
// normal may be off by itself.
func (t *toucher) agree(near [][]int) {
	was := append([]normal(nil), t.normals...)
	for i, n := range was {
		most := 0.0
		for _, j := range near[i] {
			if n.why == "" && was[j].out.Norm2() > 0 {
				most = math.Max(most, n.out.Angle(was[j].out).Radians())
			}
		}
		t.normals[i].off += most
		if n.why == "" && most > disagree {
			t.normals[i].why = disagreement(most)
		}
	}
}

func disagreement(angle float64) string {
	return fmt.Sprintf("the marks around it disagree by %.0f degrees", math.Ceil(s1.Angle(angle).Degrees()))
}
