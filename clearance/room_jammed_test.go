package clearance

import (
	"math"
	"testing"

	"github.com/golang/geo/s1"
	"github.com/stretchr/testify/assert"

	"elbowroom/solid"
)

// What a cell says without looking at everything must hold at every clock angle of it: with
// one way round jammed it is in something there; and a margin from 0 up is the exact one.
func TestCellsAgainstEveryClockAngle(t *testing.T) {
	spanner := solid.KeepOpen{Name: "spanner", Kind: solid.Spanner, Wide: 30, Handle: 160, Thick: 8, Sweep: s1.Angle(0.5)}
	for _, k := range []solid.KeepOpen{plainDriver(), spanner} {
		s := bench(k)
		s.feature(block("engine"), 0.5, corners(v(105, 20, 90), v(260, 140, 230))...)
		s.pole("pole", 200, 90, 4, 0.5)
		c := s.checkerOf()
		jammed, exact := 0, 0
		for _, part := range c.assembly.Parts {
			if part.Turning == nil {
				continue
			}
			u := c.turner(part)
			for _, cells := range []int{13, 24, 37, 96, 384} {
				width := 2 * math.Pi / float64(cells)
				for n := range cells {
					from := float64(n) * width
					for way := range part.Turning.Ways {
						if !u.jammed(way, s1.Angle(from+width/2), width) {
							continue
						}
						jammed++
						for i := range 5 {
							p := u.pose(way, s1.Angle(from+width*float64(i)/4))
							none := [2]float64{-1e9, -1e9}
							assert.Negative(t, u.margin(p, none, -1e9)[measured], "%s, cell %d of %d", k.Name, n, cells)
						}
					}
					v, whole := u.cell(from, width), u.at(s1.Angle(from+width/2))
					for kind := range v.margin {
						if whole.margin[kind] >= 0 || v.margin[kind] >= 0 {
							exact++
							assert.Equal(t, whole.margin[kind], v.margin[kind])
							assert.Equal(t, whole.way[kind], v.way[kind])
						}
					}
				}
			}
		}
		assert.Greater(t, jammed, 50, k.Name)
		assert.Greater(t, exact, 50, k.Name)
	}
}
