package clearance

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"gonum.org/v1/gonum/stat/distuv"

	"elbowroom/solid"
	"elbowroom/solid/shape"
	"elbowroom/survey"
)

// Judge answers for boxes of any size and place, all turned alike, in one space:
// each line's clearance, u, gap, sure and witness, as Check would, without the
// sides, the joint and the advice. It is made once, so that a search over
// thousands of boxes turns no feature again.
//
// Its frame is the face's: the origin at the datum's foot on the face, x along
// the box's width, y along its height, z out of the face. All places and
// directions that it takes and gives are in that frame. It has scratch space:
// use one in each goroutine.
type Judge struct {
	c      *checker
	model  *solid.Assembly // the tank as drawn, that others follow
	turn   s1.Angle
	ex     r2.Point         // the frame's x on the unturned face
	foot   []r3.Vector      // of the mount: its marks
	ways   map[int]judgeWay // by the mark that holds the box off, see pose.proud
	parts  []solid.Part     // scratch
	sureK  float64
	alone  float64 // the same of the job's own sure, see Strict
	quick  bool    // see Quick
	bent   bool    // see Bent
	index  map[*survey.Feature]int
	spans  map[*survey.Feature]span
	most   map[*survey.Feature]float64 // of each feature: see mostU
	runs   [][]r3.Vector               // scratch: each hose's, its first point is its fitting
	base   *spreadBase                 // see Spreads
	rivals float64                     // how far these count: see far
}

// judgeWay is what hangs on the mark that holds the box off the face.
type judgeWay struct{ ways [3][]survey.Term }

// NewJudge makes a judge of boxes that are like t but for size, place and
// stand-off. The error is that of solid.Build.
func NewJudge(s *survey.Space, t solid.Tank, r Rules) (*Judge, error) {
	model, err := solid.Build(t)
	if err != nil {
		return nil, err
	}
	flat := solid.Tank{Place: solid.Place{Turn: t.Place.Turn, StandOff: math.Inf(1)}}
	pose := stand(s, flat)
	pose.corner = pose.datum
	empty := *model
	c := checkerIn(s, &empty, r.withDefaults(), pose)
	j := &Judge{c: c, model: model, turn: t.Place.Turn, ways: map[int]judgeWay{}}
	sin, cos := math.Sincos(t.Place.Turn.Radians())
	j.ex = r2.Point{X: cos, Y: sin}
	if pose.mount != nil {
		for _, m := range pose.mount.Fitted {
			j.foot = append(j.foot, pose.local(s.Marks[m].At))
		}
	}
	j.sureK = distuv.UnitNormal.Quantile(c.rules.Sure)
	j.alone = j.sureK
	j.index, j.spans, j.most = map[*survey.Feature]int{}, map[*survey.Feature]span{}, map[*survey.Feature]float64{}
	for i := range s.Features {
		j.index[&s.Features[i]] = i
	}
	for i := range c.features {
		o := &c.features[i]
		if len(o.pieces) > 0 {
			j.spans[o.feature] = spanOfAll(o.pieces)
		}
		j.most[o.feature] = j.mostU(o.feature)
	}
	return j, nil
}

// spanOfAll holds the spans of one piece or more.
func spanOfAll(pieces []piece) span {
	all := pieces[0].span
	for _, p := range pieces[1:] {
		all.Span = all.Join(p.span.Span)
	}
	return all
}

// Stand is a box of the judge's: its two extreme outside corners as drawn, and
// what its stand-off is to be.
type Stand struct {
	Lo, Hi   r3.Vector // Lo.Z is the stand-off or, where a mark stands proud by more, that
	StandOff float64
}

// Size is the box's outside size.
func (s Stand) Size() solid.Size {
	d := s.Hi.Sub(s.Lo)
	return solid.Size{Width: d.X, Height: d.Y, Depth: d.Z}
}

// Out is how far the back of a box over that rectangle of the face is out from
// it: the stand-off, or the most that a mark under it stands proud.
func (j *Judge) Out(lo, hi r2.Point, standOff float64) (out float64, proud int) {
	out, proud = standOff, -1
	for k, at := range j.foot {
		h := j.c.pose.mount.Plane.Residuals[k]
		if h > out && at.X >= lo.X && at.X <= hi.X && at.Y >= lo.Y && at.Y <= hi.Y {
			out, proud = h, k
		}
	}
	return out, proud
}

// Proud lists the marks of the face that stand out of it by more than the
// stand-off: where they are (X, Y), and by how much (Z).
func (j *Judge) Proud(standOff float64) []r3.Vector {
	var out []r3.Vector
	for k, at := range j.foot {
		if h := j.c.pose.mount.Plane.Residuals[k]; h > standOff {
			out = append(out, r3.Vector{X: at.X, Y: at.Y, Z: h})
		}
	}
	return out
}

// Tank is the judge's tank at a stand, as Check takes it.
func (j *Judge) Tank(s Stand) solid.Tank {
	size := s.Size()
	t := j.model.Tank.Resized(size)
	middle := r2.Point{X: (s.Lo.X + s.Hi.X) / 2, Y: (s.Lo.Y + s.Hi.Y) / 2}
	on := r2.Point{X: middle.X*j.ex.X - middle.Y*j.ex.Y, Y: middle.X*j.ex.Y + middle.Y*j.ex.X}
	t.Place.At = on.Sub(r2.Point{X: size.Width / 2, Y: size.Height / 2})
	if j.ex.Y == 0 {
		t.Place.At = r2.Point{X: s.Lo.X, Y: s.Lo.Y} // to the last bit
	}
	t.Place.StandOff = s.StandOff
	return t
}

// Model is the tank as drawn that the judge's boxes follow.
func (j *Judge) Model() *solid.Assembly { return j.model }

// Turned takes a place on the face as drawn to the judge's frame.
func (j *Judge) Turned(on r2.Point) r2.Point {
	return r2.Point{X: on.X*j.ex.X + on.Y*j.ex.Y, Y: on.Y*j.ex.X - on.X*j.ex.Y}
}

// place puts the checker's assembly where the stand is.
func (j *Judge) place(s Stand) {
	c := j.c
	_, proud := j.Out(r2.Point{X: s.Lo.X, Y: s.Lo.Y}, r2.Point{X: s.Hi.X, Y: s.Hi.Y}, s.StandOff)
	way, ok := j.ways[proud]
	if !ok {
		p := c.pose
		p.proud = proud
		way = judgeWay{p.hold(c.space, c.spread)}
		j.ways[proud] = way
	}
	c.ways, c.pose.proud = way.ways, proud
	c.origin = s.Lo
	size := s.Size()
	a := c.assembly
	a.Tank = j.model.Tank
	a.Tank.Size, a.Tank.Place.StandOff = size, s.StandOff
	grown := size.Vector().Sub(j.model.Tank.Size.Vector())
	j.parts = append(j.parts[:0], j.model.Parts...)
	for i := range j.parts {
		p := &j.parts[i]
		if p.Kind == solid.Body {
			coat := r3.Vector{X: a.Tank.Coat, Y: a.Tank.Coat, Z: a.Tank.Coat}
			d := s.Hi.Sub(s.Lo).Add(coat.Mul(2))
			p.Solid = shape.Box{Corner: s.Lo.Sub(coat), Edges: [3]r3.Vector{{X: d.X}, {Y: d.Y}, {Z: d.Z}}}
			continue
		}
		p.Solid = moved(p.Solid, s.Lo.Add(times(p.Follow, grown)))
	}
	a.Parts = j.parts
	a.Ports = a.Ports[:0:0]
	for _, p := range j.model.Ports {
		p.At = p.At.Add(s.Lo).Add(times(p.Follow, grown))
		a.Ports = append(a.Ports, p)
	}
}

func times(a, b r3.Vector) r3.Vector { return r3.Vector{X: a.X * b.X, Y: a.Y * b.Y, Z: a.Z * b.Z} }

// moved is a part's solid elsewhere.
func moved(s shape.Convex, by r3.Vector) shape.Convex {
	switch s := s.(type) {
	case shape.Box:
		s.Corner = s.Corner.Add(by)
		return s
	case shape.Cylinder:
		s.Foot = s.Foot.Add(by)
		return s
	case shape.Hull:
		s.Points = slices.Clone(s.Points)
		for i := range s.Points {
			s.Points[i] = s.Points[i].Add(by)
		}
		return s
	}
	return elsewhere{s, by}
}

// elsewhere is a solid of another make, moved.
type elsewhere struct {
	shape.Convex
	by r3.Vector
}

// Support is that of the solid, moved.
func (e elsewhere) Support(dir r3.Vector) r3.Vector { return e.Convex.Support(dir).Add(e.by) }

// Bounds is that of the solid, moved.
func (e elsewhere) Bounds() (middle r3.Vector, radius float64) {
	middle, radius = e.Convex.Bounds()
	return middle.Add(e.by), radius
}

// Unturned takes a place from the judge's frame to that of a box that is not turned.
func (j *Judge) Unturned(at r3.Vector) r3.Vector {
	return r3.Vector{X: at.X*j.ex.X - at.Y*j.ex.Y, Y: at.X*j.ex.Y + at.Y*j.ex.X, Z: at.Z}
}
