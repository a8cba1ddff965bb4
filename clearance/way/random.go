package way

import (
	"math"
	"math/rand/v2"

	"github.com/golang/geo/r3"
	"gonum.org/v1/gonum/num/quat"
)

// seed of the random poses; any would do, a fixed one makes the answer repeatable.
const seed = 0x3a1

// atRandom grows a tree of poses from home toward random ones (LaValle and Kuffner
// 2001, Randomized kinodynamic planning), and leaves it straight from the first that
// it can.
func (f *finder) atRandom(budget int) []Pose {
	draw := rand.New(rand.NewPCG(seed, seed))
	tree, from := []Pose{{}}, []int{0}
	turns := []quat.Number{quatOf(r3.Vector{})}
	reach := f.farthest()
	step := 3 * f.pitch()
	for !f.over(budget) {
		goal := f.sample(draw, tree)
		near, least, aim := 0, math.Inf(1), quatOf(goal.Turn)
		for k := range tree {
			if far := tree[k].Shift.Sub(goal.Shift).Norm() + angle(turns[k], aim)*reach; far < least {
				near, least = k, far
			}
		}
		for !f.over(budget) {
			l := between(tree[near], goal)
			way := l.shift.Norm() + l.turn.Norm()*reach
			if way < crawl {
				break
			}
			next := l.pose(math.Min(1, step/way))
			if !f.free(tree[near], next) {
				break
			}
			tree, from, turns = append(tree, next), append(from, near), append(turns, quatOf(next.Turn))
			near = len(tree) - 1
			if out := f.leave(next); out != nil {
				return f.branch(near, tree, from, *out)
			}
		}
	}
	return nil
}

// sample is a random pose in and about the room, turned as a pose of the tree is, or
// by up to a quarter turn about any axis.
func (f *finder) sample(draw *rand.Rand, tree []Pose) Pose {
	home := f.span(Pose{})
	var shift [3]float64
	for axis := range 3 {
		low, high := f.Room.Low[axis]-home.High[axis], f.Room.High[axis]-home.Low[axis]
		if axis == 2 {
			low = 0
		}
		shift[axis] = low + draw.Float64()*(high-low)
	}
	p := Pose{Shift: f.along(r3.Vector{X: shift[0], Y: shift[1], Z: shift[2]})}
	if draw.IntN(2) == 0 {
		p.Turn = tree[draw.IntN(len(tree))].Turn
		return p
	}
	axis := r3.Vector{X: draw.NormFloat64(), Y: draw.NormFloat64(), Z: draw.NormFloat64()}.Normalize()
	p.Turn = axis.Mul(draw.Float64() * math.Pi / 2)
	return p
}

// branch is the way from home to a pose of the tree and out.
func (f *finder) branch(at int, tree []Pose, from []int, out Pose) []Pose {
	list := []Pose{out}
	for ; at != 0; at = from[at] {
		list = append(list, tree[at])
	}
	list = append(list, Pose{})
	for i, j := 0, len(list)-1; i < j; i, j = i+1, j-1 {
		list[i], list[j] = list[j], list[i]
	}
	return list
}
