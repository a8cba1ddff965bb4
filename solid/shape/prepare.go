package shape

// prepared is a hull with its faces found once.
type prepared struct {
	Hull
	core core
}

// Prepare returns the same shape with what Distance would otherwise work out
// each time it meets an overlap: the faces of a hull of four or more points. The
// points must not change afterwards. Other shapes come back as they are.
func Prepare(c Convex) Convex {
	h, ok := c.(Hull)
	if !ok || len(h.Points) < 4 {
		return c
	}
	p := &prepared{Hull: h, core: openHull(h)}
	p.core.size = p.core.sizeOf()
	found := enclose(h.Points)
	p.core.known = &found
	return p
}
