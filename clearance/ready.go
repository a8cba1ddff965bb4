package clearance

import "elbowroom/solid"

// readyParts are the parts of an assembly with the faces of their hulls found once; none
// where they are found when they are needed.
type readyParts struct {
	of    *solid.Assembly
	parts []solid.Part
}

// readied is a part of the assembly with the faces of its hulls found.
func (c *checker) readied(i int) solid.Part {
	if c.ready.of == c.assembly && i < len(c.ready.parts) {
		return c.ready.parts[i]
	}
	return prepared(c.assembly.Parts[i])
}

// makeReady finds the faces of all parts, for as long as the assembly is this one.
func (c *checker) makeReady() {
	parts := make([]solid.Part, len(c.assembly.Parts))
	for i, p := range c.assembly.Parts {
		parts[i] = prepared(p)
	}
	c.ready = readyParts{c.assembly, parts}
}
