package shape

import "github.com/golang/geo/r3"

// prepared is a hull with its faces and its ball found once.
type prepared struct {
	Hull
	core   core
	middle r3.Vector
	radius float64
}

// Prepare returns the same shape with what would otherwise be worked out each time:
// for Distance, the faces of a hull of four or more points, which it needs where
// shapes overlap; for Gap, the ball around it. The points must not change
// afterwards. Other shapes come back as they are.
func Prepare(c Convex) Convex {
	h, ok := c.(Hull)
	if !ok || len(h.Points) < 4 {
		return c
	}
	p := &prepared{Hull: h, core: openHull(h)}
	p.core.size = p.core.sizeOf()
	found := enclose(h.Points)
	p.core.known = &found
	p.middle, p.radius = h.Bounds()
	return p
}

func (p *prepared) Bounds() (middle r3.Vector, radius float64) { return p.middle, p.radius }
