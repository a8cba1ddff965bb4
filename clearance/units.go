package clearance

import (
	"github.com/golang/geo/r3"

	"elbowroom/survey"
)

// units are the terms of marks that move by 1 mm along x, y and z of the
// mounting frame, worked out once for each mark. Terms are linear in the moves,
// so that those of any figure are sums of these: worth it where many figures
// hang on few marks. Use one in each goroutine.
type units map[int]*[3][]survey.Term

// of gives those of a mark.
func (u units) of(mark int, spread *survey.Spreader) *[3][]survey.Term {
	if terms, ok := u[mark]; ok {
		return terms
	}
	terms := new([3][]survey.Term)
	for axis, by := range [3]r3.Vector{{X: 1}, {Y: 1}, {Z: 1}} {
		terms[axis] = spread.Terms(survey.Gradient{{Mark: mark, By: by}})
	}
	u[mark] = terms
	return terms
}

// spreadOut adds a gradient over marks to the sum.
func (c *checker) spreadOut(g survey.Gradient) {
	if c.units == nil {
		c.sum.add(c.spread.Terms(g), 1)
		return
	}
	for _, pull := range g {
		by := c.units.of(pull.Mark, c.spread)
		c.sum.add(by[0], pull.By.X)
		c.sum.add(by[1], pull.By.Y)
		c.sum.add(by[2], pull.By.Z)
	}
}
