package largest

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"elbowroom/solid"
)

type vec = r3.Vector

func point(x, y float64) r2.Point { return r2.Point{X: x, Y: y} }

// aspected is the largest size within another that keeps the aspect.
func (s *search) aspected(size solid.Size) solid.Size {
	a := s.task.limits.Aspect
	if a == (r3.Vector{}) {
		return size
	}
	t := math.Min(size.Width/a.X, math.Min(size.Height/a.Y, size.Depth/a.Z))
	return solid.Size{Width: t * a.X, Height: t * a.Y, Depth: t * a.Z}
}

// frames makes the frame of each turn once.
type frames struct {
	task task
	made map[float64]*frame
}

// at is the frame of a turn.
func (f *frames) at(turn float64) (*frame, error) {
	if made, ok := f.made[turn]; ok {
		return made, nil
	}
	t := f.task.tank
	t.Place.Turn = s1.Angle(turn)
	if r := f.task.limits.StandOff; r.Given {
		t.Place.StandOff = r.From // marks that stand out by more may hold it off
	}
	made, err := newFrame(f.task, t)
	if err == nil {
		f.made[turn] = made
	}
	return made, err
}

// strict is the frame with more asked of every line, each by itself.
func (f *frame) strict(sure float64) *frame {
	s := *f
	s.places = nil // what is needed differs
	s.judge = f.judge.Strict(sure, nil).Quick().Bent()
	s.k = s.judge.K()
	return &s
}

// cell is a range of turns; the tank that it is made of was built before.
func (f *frames) cell(from, to float64) *cell {
	made, err := f.at((from + to) / 2)
	if err != nil {
		panic(err) // it is built alike at any turn
	}
	return &cell{from: from, to: to, frame: made}
}

// halves are the two halves of a cell.
func (f *frames) halves(c *cell) [2]*cell {
	if c.parts[0] == nil {
		middle := (c.from + c.to) / 2
		c.parts = [2]*cell{f.cell(c.from, middle), f.cell(middle, c.to)}
	}
	return c.parts
}
