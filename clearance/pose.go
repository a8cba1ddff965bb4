package clearance

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"elbowroom/solid"
	"elbowroom/survey"
)

// pose is where the box stands in the mounting frame, and what that hangs on.
type pose struct {
	corner  r3.Vector // the lower left back corner
	x, y, z r3.Vector // the box's axes, right-handed unit vectors
	datum   r3.Vector // the datum's foot on the face: tilts of the face turn about it
	mount   *survey.Feature
	proud   int // index into mount.Fitted of the mark that holds the box off, or -1
}

// stand puts the tank on its face: the back parallel to the plane fitted to the
// mount, StandOff out from it, or farther where a mark under the footprint
// stands proud by more; x as near the frame's x as it can be.
func stand(s *survey.Space, t solid.Tank) pose {
	p := pose{x: r3.Vector{X: 1}, y: r3.Vector{Y: 1}, z: r3.Vector{Z: 1}, proud: -1}
	if s.Mount >= 0 && s.Features[s.Mount].Plane != nil {
		p.mount = &s.Features[s.Mount]
		p.z = p.mount.Plane.Normal
		p.x = p.x.Sub(p.z.Mul(p.x.Dot(p.z))).Normalize()
		p.y = p.z.Cross(p.x)
		p.datum = p.z.Mul(-p.mount.Plane.Height(r3.Vector{}))
	}
	ex, ey := p.x, p.y
	sin, cos := math.Sincos(t.Place.Turn.Radians())
	p.x, p.y = ex.Mul(cos).Add(ey.Mul(sin)), ey.Mul(cos).Sub(ex.Mul(sin))
	// The footprint's middle stays where it is; the corner turns about it. Not
	// turned, the corner does not hang on the size, to the last bit.
	half := r2.Point{X: t.Size.Width / 2, Y: t.Size.Height / 2}
	p.corner = p.datum.Add(ex.Mul(t.Place.At.X)).Add(ey.Mul(t.Place.At.Y))
	p.corner = p.corner.Add(ex.Sub(p.x).Mul(half.X)).Add(ey.Sub(p.y).Mul(half.Y))
	p.corner = p.corner.Add(p.z.Mul(p.out(s, t)))
	return p
}

// out is how far the back is out from the plane.
func (p *pose) out(s *survey.Space, t solid.Tank) float64 {
	out := t.Place.StandOff
	if p.mount == nil {
		return out
	}
	for j, m := range p.mount.Fitted {
		at := p.local(s.Marks[m].At)
		under := at.X >= 0 && at.X <= t.Size.Width && at.Y >= 0 && at.Y <= t.Size.Height
		if height := p.mount.Plane.Residuals[j]; under && height > out {
			out, p.proud = height, j
		}
	}
	return out
}

// local takes a place from the mounting frame to the box's.
func (p *pose) local(at r3.Vector) r3.Vector { return p.turnIn(at.Sub(p.corner)) }

// turnIn takes a direction from the mounting frame to the box's.
func (p *pose) turnIn(v r3.Vector) r3.Vector {
	return r3.Vector{X: v.Dot(p.x), Y: v.Dot(p.y), Z: v.Dot(p.z)}
}

// world takes a place from the box's frame to the mounting frame.
func (p *pose) world(at r3.Vector) r3.Vector { return p.corner.Add(p.turnOut(at)) }

// turnOut takes a direction from the box's frame to the mounting frame.
func (p *pose) turnOut(v r3.Vector) r3.Vector {
	return p.x.Mul(v.X).Add(p.y.Mul(v.Y)).Add(p.z.Mul(v.Z))
}

// hold says how a figure moves with the marks of the mount, for each of the
// three ways in which the face can move the box: out along z by 1 mm, and a
// tilt of one radian about x and about y through the datum's foot.
func (p *pose) hold(s *survey.Space, spread *survey.Spreader) (ways [3][]survey.Term) {
	if p.mount == nil {
		return ways
	}
	out := p.mount.MovePlane(nil, p.datum, 1)
	if p.proud >= 0 {
		m := p.mount.Fitted[p.proud]
		out = append(out, survey.Pull{Mark: m, By: p.z})
		out = p.mount.MovePlane(out, s.Marks[m].At, -1)
	}
	ways[0] = spread.Terms(out)
	ways[1] = spread.Terms(p.mount.TiltPlane(nil, p.x))
	ways[2] = spread.Terms(p.mount.TiltPlane(nil, p.y))
	return ways
}

// push says how much of each of hold's ways a figure feels that changes by
// by·(move of the box at a place), both in the box's frame.
func (p *pose) push(at, by r3.Vector) [3]float64 {
	twist := at.Sub(p.local(p.datum)).Cross(by)
	return [3]float64{by.Z, twist.X, twist.Y}
}
